//! One entry, and how the next one is made.

use crate::clock::{Hlc, Now, is_wall, wall_text};
use crate::hash::{Hash, Of, hex, unhex};
use crate::{Refused, canonical_bytes};
use core::fmt;
use core::ops::Deref;
use core::str::FromStr;
use std::collections::{BTreeMap, BTreeSet};

/// What an entry says, in texts. The key `what` names its subject and `why` its reason; the others are its value.
pub type Body = BTreeMap<String, String>;

/// The longest text, in bytes.
pub(crate) const TEXT_MAX: usize = 4096;
/// The longest entry, in canonical bytes.
const ENTRY_BYTES_MAX: usize = 16 << 10;
/// The longest name (device, role, tag, kind, key), in bytes.
const NAME_MAX: usize = 40;
/// The most keys of a body, and the most entries that one entry replaces.
pub(crate) const LIST_MAX: usize = 64;
/// The longest signature, in bytes. Ed25519 has 64.
const SIG_MAX: usize = 64;
/// The greatest number in a chain: what every program reads as a whole number.
const SEQ_MAX: u64 = 1 << 53;

/// The name of an entry: "k7q2m9-3:12" is the twelfth of the writer k7q2m9-3.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct EntryId {
    /// The writer.
    pub device: String,
    /// Its number there, from 1.
    pub seq: u64,
}

impl fmt::Display for EntryId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.device, self.seq)
    }
}

impl FromStr for EntryId {
    type Err = Refused;

    fn from_str(text: &str) -> Result<Self, Refused> {
        let wrong = || {
            Refused::new(
                "the name of an entry",
                text,
                "a writer, a colon and a number from 1, such as k7q2m9-3:12",
            )
        };
        let (device, seq) = text.split_once(':').ok_or_else(wrong)?;
        let number: u64 = seq.parse().map_err(|_| wrong())?;
        if !is_device(device) || number == 0 || number > SEQ_MAX || number.to_string() != seq {
            return Err(wrong());
        }
        Ok(Self { device: device.to_owned(), seq: number })
    }
}

/// An entry as another one names it. Where two different entries bear one number (a fork), the mark, the first eight
/// bytes of its hash, says which: "k7q2m9-3:12#0123456789abcdef".
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Named {
    /// The name.
    pub id: EntryId,
    /// Which one of a fork.
    pub mark: Option<[u8; 8]>,
}

impl fmt::Display for Named {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.mark {
            Some(mark) => write!(f, "{}#{}", self.id, hex(mark)),
            None => write!(f, "{}", self.id),
        }
    }
}

impl FromStr for Named {
    type Err = Refused;

    fn from_str(text: &str) -> Result<Self, Refused> {
        let Some((id, mark)) = text.split_once('#') else {
            return Ok(Self { id: text.parse()?, mark: None });
        };
        let mark = unhex(mark).and_then(|bytes| bytes.try_into().ok());
        let right = "a writer, a colon, a number, a # and 16 hexadecimal digits in small letters";
        let mark = mark.ok_or_else(|| Refused::new("the name of an entry", text, right))?;
        Ok(Self { id: id.parse()?, mark: Some(mark) })
    }
}

impl From<EntryId> for Named {
    fn from(id: EntryId) -> Self {
        Self { id, mark: None }
    }
}

/// Everything an entry says. As part of an [`Entry`] it can be read and not changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fields {
    /// The writer: letters, digits, `-`, `_` and `.`, at most 40.
    pub device: String,
    /// Its number in the writer's chain, from 1.
    pub seq: u64,
    /// The hash of the writer's entry before it; nothing for the first.
    pub prev: Option<Hash>,
    /// Where it stands among the entries of all writers.
    pub hlc: Hlc,
    /// What the clock said, RFC 3339 with offset. Shown, never sorted by.
    pub wall: String,
    /// What the author is: chief, hand, trainer.
    pub role: String,
    /// Who the author is, by tag. Names are kept elsewhere, so that a name can be erased.
    pub person_tag: Option<String>,
    /// What kind of thing it says.
    pub kind: String,
    /// What it says.
    pub body: Body,
    /// The entries it takes the place of.
    pub replaces: BTreeSet<Named>,
    /// The plan it was made under.
    pub plan_hash: Option<String>,
    /// A signature over the hash. Carried, and not checked yet.
    pub sig: Option<Vec<u8>>,
}

/// One entry: fields that are within their limits, and their hash. It cannot be changed.
///
/// ```
/// use tober_log::{Draft, Hlc, Now, next};
/// let body = [("what", "leg front left"), ("value", "697 mm")].map(|(key, text)| (key.to_owned(), text.to_owned()));
/// let draft = Draft { role: "chief".to_owned(), kind: "reading".to_owned(), body: body.into(), ..Draft::default() };
/// let now = Now { ms: 1_778_301_000_000, offset_min: 60 };
/// let entry = next(None, "k7q2m9-1", Hlc::default(), now, draft)?;
/// assert_eq!(entry.id().to_string(), "k7q2m9-1:1");
/// assert_eq!(entry.wall, "2026-05-09T05:30:00+01:00");
/// # Ok::<(), tober_log::Refused>(())
/// ```
///
/// Reading a field is all there is; this does not compile:
///
/// ```compile_fail,E0596
/// fn spoil(mut entry: tober_log::Entry) {
///     entry.body.insert("value".to_owned(), "1 mm".to_owned());
/// }
/// ```
#[derive(Clone, PartialEq, Eq)]
pub struct Entry {
    fields: Fields,
    hash: Hash,
}

impl Deref for Entry {
    type Target = Fields;

    fn deref(&self) -> &Fields {
        &self.fields
    }
}

impl fmt::Debug for Entry {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({}) {} {:?}", self.id(), self.hash.short(), self.kind, self.body)
    }
}

impl Entry {
    /// An entry of fields that came from elsewhere.
    ///
    /// # Errors
    /// A field outside its limits, a first entry that follows one, a later one that follows none.
    pub fn of(fields: Fields) -> Result<Self, Refused> {
        check(&fields)?;
        let bytes = canonical_bytes(&fields);
        if bytes.len() > ENTRY_BYTES_MAX {
            return Err(Refused::new(
                "the length of the entry",
                &bytes.len().to_string(),
                "at most 16384 bytes",
            ));
        }
        let hash = Hash::of(Of::Entry, &bytes);
        Ok(Self { fields, hash })
    }

    /// SHA-256(0x00 ‖ canonical bytes), without the signature.
    pub fn hash(&self) -> Hash {
        self.hash
    }

    /// Its name.
    pub fn id(&self) -> EntryId {
        EntryId { device: self.device.clone(), seq: self.seq }
    }

    /// Its name with its mark, which tells it from any other of the same number.
    pub fn marked(&self) -> Named {
        let mut mark = [0; 8];
        mark.copy_from_slice(&self.hash.bytes()[..8]);
        Named { id: self.id(), mark: Some(mark) }
    }

    /// Whether it bears a signature. Nothing is said about whether that is a good one.
    pub fn signed(&self) -> bool {
        self.sig.is_some()
    }

    /// Whether it counts as a record. No signature is checked in this version, so nothing counts: entries are proposals
    /// until an enrolled device takes them over.
    pub fn counts(&self) -> bool {
        false
    }

    /// What it is about: the key `what` of its body.
    pub fn subject(&self) -> Option<&str> {
        self.body.get("what").map(String::as_str)
    }

    /// Why it was made, where it says so.
    pub fn why(&self) -> Option<&str> {
        self.body.get("why").map(String::as_str)
    }

    /// What it says of its subject: the body without `what` and `why`.
    pub fn value(&self) -> Vec<(&str, &str)> {
        let pairs = self.body.iter().map(|(key, text)| (key.as_str(), text.as_str()));
        pairs.filter(|(key, _)| !matches!(*key, "what" | "why")).collect()
    }
}

/// What a writer says; the rest of an entry follows from the chain and the clock.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Draft {
    /// What the author is.
    pub role: String,
    /// Who the author is, by tag.
    pub person_tag: Option<String>,
    /// What kind of thing is said.
    pub kind: String,
    /// What is said.
    pub body: Body,
    /// What it takes the place of.
    pub replaces: BTreeSet<Named>,
    /// The plan it was made under.
    pub plan_hash: Option<String>,
}

/// The next entry of a writer: after `previous`, its last one (nothing for its first), with `seen`, the greatest time of
/// the entries of others ([`crate::Log::seen`]), and what the clock says.
///
/// # Errors
/// What is said is outside its limits, or `previous` is of another writer.
pub fn next(
    previous: Option<&Entry>,
    device: &str,
    seen: Hlc,
    now: Now,
    draft: Draft,
) -> Result<Entry, Refused> {
    if let Some(other) = previous.filter(|previous| previous.device != device) {
        return Err(Refused::new(
            "the writer of the entry before",
            &other.device,
            &format!("{device}, the same"),
        ));
    }
    Entry::of(Fields {
        device: device.to_owned(),
        seq: previous.map_or(1, |previous| previous.seq.saturating_add(1)),
        prev: previous.map(Entry::hash),
        hlc: Hlc::tick(previous.map(|previous| previous.hlc), seen, now.ms),
        wall: wall_text(now),
        role: draft.role,
        person_tag: draft.person_tag,
        kind: draft.kind,
        body: draft.body,
        replaces: draft.replaces,
        plan_hash: draft.plan_hash,
        sig: None,
    })
}

/// Whether a text can name a writer.
pub(crate) fn is_device(text: &str) -> bool {
    let letter = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.');
    !text.is_empty() && text.len() <= NAME_MAX && text.bytes().all(letter)
}

fn check_name(what: &str, text: &str) -> Result<(), Refused> {
    if text.is_empty() || text.len() > NAME_MAX || text.chars().any(char::is_control) {
        return Err(Refused::new(what, text, "1 to 40 bytes of text on one line"));
    }
    Ok(())
}

fn check_text(what: &str, text: &str) -> Result<(), Refused> {
    if text.len() > TEXT_MAX {
        return Err(Refused::new(what, text, "at most 4096 bytes long"));
    }
    Ok(())
}

fn check(fields: &Fields) -> Result<(), Refused> {
    if !is_device(&fields.device) {
        return Err(Refused::new("the device", &fields.device, "1 to 40 letters, digits, -, _ and ."));
    }
    if fields.seq == 0 || fields.seq > SEQ_MAX {
        return Err(Refused::new("the number seq", &fields.seq.to_string(), "a whole number from 1 to 2^53"));
    }
    match (fields.seq, &fields.prev) {
        (1, Some(hash)) => {
            return Err(Refused::new("prev of entry 1", &hash.short(), "empty: nothing goes before it"));
        }
        (2.., None) => return Err(Refused::new("prev", "", "the hash of the entry before it")),
        _ => {}
    }
    fields.hlc.check()?;
    if !is_wall(&fields.wall) {
        let right = "a time with its offset, such as 2026-05-09T05:41:07+01:00";
        return Err(Refused::new("the wall time", &fields.wall, right));
    }
    check_name("the role", &fields.role)?;
    check_name("the kind", &fields.kind)?;
    if let Some(tag) = &fields.person_tag {
        check_name("the person tag", tag)?;
    }
    if let Some(hash) = &fields.plan_hash {
        check_name("the name of the plan", hash)?;
    }
    let (keys, names) = (fields.body.len(), fields.replaces.len());
    if keys > LIST_MAX {
        return Err(Refused::new("the number of keys of the body", &keys.to_string(), "at most 64"));
    }
    for (key, text) in &fields.body {
        check_name("a key of the body", key)?;
        check_text(&format!("the body's {key}"), text)?;
    }
    if names > LIST_MAX {
        return Err(Refused::new("the number of entries replaced", &names.to_string(), "at most 64"));
    }
    for named in &fields.replaces {
        // Through the reader, so that one name has one spelling.
        named.to_string().parse::<Named>()?;
        if named.id.device == fields.device && named.id.seq >= fields.seq {
            return Err(Refused::new("the entry replaced", &named.to_string(), "one before this entry"));
        }
    }
    match &fields.sig {
        Some(sig) if sig.is_empty() || sig.len() > SIG_MAX => {
            Err(Refused::new("the length of the signature", &sig.len().to_string(), "1 to 64 bytes"))
        }
        _ => Ok(()),
    }
}
