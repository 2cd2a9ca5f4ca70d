//! Text to entries, by line, with every complaint in its place.

use super::write::{entry_line, header_line};
use super::{FILE_BYTES_MAX, FORMAT, Header, LINE_BYTES_MAX, LINES_MAX, WHAT};
use crate::hash::unhex;
use crate::{Entry, EntryId, Fields, Hash, Head, Hlc, Refused};
use core::fmt;
use serde_json::{Map, Value};

/// The most complaints that are kept of one file; a last one says how many more there were.
const DAMAGE_MAX: usize = 500;

/// One line that is spoiled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Damage {
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1, of what is wrong.
    pub column: usize,
    /// The entry of that line, as far as it can still be read.
    pub entry: Option<EntryId>,
    /// What is wrong and what would be right.
    pub sentence: String,
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.entry {
            Some(id) => write!(f, "Line {}, column {} ({id}): {}", self.line, self.column, self.sentence),
            None => write!(f, "Line {}, column {}: {}", self.line, self.column, self.sentence),
        }
    }
}

/// What a file says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Read {
    /// The first line, if it is a good one.
    pub header: Option<Header>,
    /// The entry of every good line, in the order of the file.
    pub entries: Vec<Entry>,
    /// The lines that are spoiled.
    pub damage: Vec<Damage>,
}

/// A complaint about a line that has not got its number yet: a column and a sentence.
struct Complaint(usize, String);

/// Reads a file. Never fails: the good lines are kept, and each spoiled one is named.
///
/// A file of another format gives no entries, and one complaint that says which format it is. So does one past
/// [`FILE_BYTES_MAX`].
pub fn read(bytes: &[u8]) -> Read {
    let mut out = Read::default();
    let mut more = 0_usize;
    let mut complain =
        |out: &mut Read, line: usize, entry: Option<EntryId>, Complaint(column, sentence): Complaint| {
            if out.damage.len() < DAMAGE_MAX {
                out.damage.push(Damage { line, column, entry, sentence });
            } else {
                more += 1;
            }
        };
    if bytes.len() > FILE_BYTES_MAX {
        let sentence = format!("The file has {} bytes. At most {FILE_BYTES_MAX} are read.", bytes.len());
        complain(&mut out, 1, None, Complaint(1, sentence));
        return out;
    }
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    if bytes.is_empty() {
        complain(
            &mut out,
            1,
            None,
            Complaint(
                1,
                format!("The file is empty. A file of {WHAT} begins with a first line that says so."),
            ),
        );
        return out;
    }
    for (index, line) in bytes.strip_suffix(b"\n").unwrap_or(bytes).split(|byte| *byte == b'\n').enumerate() {
        let number = index + 1;
        if number > LINES_MAX {
            complain(
                &mut out,
                number,
                None,
                Complaint(1, format!("The file has more than {LINES_MAX} lines. The rest is not read.")),
            );
            break;
        }
        // A mail program may have ended the lines its own way.
        let line = line.strip_suffix(b"\r").unwrap_or(line);
        let object = match object(line) {
            Ok(object) => object,
            Err(complaint) => {
                complain(&mut out, number, named_in(line), complaint);
                continue;
            }
        };
        let text = core::str::from_utf8(line).unwrap_or_default();
        if number == 1 {
            match first(text, &object) {
                Ok(header) => {
                    out.header = Some(header);
                    continue;
                }
                Err(First::Other(complaint)) => {
                    complain(&mut out, number, None, complaint);
                    return out;
                }
                Err(First::Spoiled(complaint)) => {
                    complain(&mut out, number, None, complaint);
                    continue;
                }
                Err(First::Entry) => {
                    let sentence = format!(
                        "The first line is missing: this one is an entry. A file of {WHAT} begins with a line that says so."
                    );
                    complain(&mut out, number, named_in(line), Complaint(1, sentence));
                }
            }
        }
        match entry(text, &object) {
            Ok((entry, complaint)) => {
                if let Some(complaint) = complaint {
                    complain(&mut out, number, Some(entry.id()), complaint);
                }
                out.entries.push(entry);
            }
            Err(complaint) => complain(&mut out, number, named_in(line), complaint),
        }
    }
    if bytes.last() != Some(&b'\n') {
        let last = bytes.iter().filter(|byte| **byte == b'\n').count() + 1;
        let sentence = "The file does not end with the end of a line: it was cut short, or its last character was changed.";
        complain(&mut out, last, None, Complaint(1, sentence.to_owned()));
    }
    if more > 0 {
        let line = out.damage.last().map_or(1, |last| last.line);
        out.damage.push(Damage {
            line,
            column: 1,
            entry: None,
            sentence: format!("And {more} more complaints."),
        });
    }
    out
}

/// The object that a line holds.
fn object(line: &[u8]) -> Result<Map<String, Value>, Complaint> {
    if line.len() > LINE_BYTES_MAX {
        return Err(Complaint(
            1,
            format!("The line has {} bytes. At most {LINE_BYTES_MAX} are read.", line.len()),
        ));
    }
    let text = core::str::from_utf8(line).map_err(|error| {
        let column = String::from_utf8_lossy(&line[..error.valid_up_to()]).chars().count() + 1;
        Complaint(column, "These bytes are not text (UTF-8): they were changed.".to_owned())
    })?;
    if text.trim().is_empty() {
        return Err(Complaint(1, "The line is empty. Each line holds one entry.".to_owned()));
    }
    match serde_json::from_str::<Value>(text) {
        Ok(Value::Object(object)) => Ok(object),
        Ok(_) => {
            Err(Complaint(1, "The line is not an entry. An entry begins with { and ends with }.".to_owned()))
        }
        Err(error) => {
            let at = text.floor_char_boundary(error.column().saturating_sub(1));
            let sentence = if error.is_eof() {
                "The line ends too early: it was cut short, or a mark in it was changed."
            } else {
                "The line cannot be read from here on: a character was changed, or two lines ran together."
            };
            Err(Complaint(text[..at].chars().count() + 1, sentence.to_owned()))
        }
    }
}

/// The name of the entry of a line that need not be whole.
fn named_in(line: &[u8]) -> Option<EntryId> {
    let text = String::from_utf8_lossy(&line[..line.len().min(LINE_BYTES_MAX)]);
    let (_, rest) = text.split_once("\"device\":\"")?;
    let (device, rest) = rest.split_once('"')?;
    let (_, rest) = rest.split_once("\"seq\":")?;
    let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
    format!("{device}:{digits}").parse().ok()
}

/// Why a first line is not a header.
enum First {
    /// It is that of another file or format: nothing more is read.
    Other(Complaint),
    /// It is spoiled: the entries may still be good.
    Spoiled(Complaint),
    /// It is an entry.
    Entry,
}

fn first(text: &str, object: &Map<String, Value>) -> Result<Header, First> {
    if object.contains_key("device") && object.contains_key("seq") {
        return Err(First::Entry);
    }
    let spoiled =
        |key: &str, sentence: &str| First::Spoiled(Complaint(column_of(text, key), sentence.to_owned()));
    let other = |key: &str, sentence: String| First::Other(Complaint(column_of(text, key), sentence));
    match object.get("what").map(|what| what.as_str()) {
        Some(Some(WHAT)) => {}
        // A header whose hash is good in all but this word cannot be told from another file: nothing is lost by
        // reading on, since each entry has its own hash.
        Some(what) if object.contains_key("heads") => {
            let sentence = format!(
                "The file says it is \"{}\". A file of entries says \"{WHAT}\".",
                what.unwrap_or("?")
            );
            return Err(spoiled("what", &sentence));
        }
        _ => {
            let sentence = format!(
                "This is not a file of entries. One begins with a line that says \"what\":\"{WHAT}\"."
            );
            return Err(other("what", sentence));
        }
    }
    match object.get("format") {
        Some(format) if format.as_u64() == Some(FORMAT) => {}
        Some(format) if format.as_u64().is_some() => {
            let sentence = format!(
                "The file is of format {format}. This version reads format {FORMAT}: open the file with a newer Tober."
            );
            return Err(other("format", sentence));
        }
        _ => return Err(spoiled("format", "The number of the format cannot be read. It must be 0.")),
    }
    let heads =
        object.get("heads").and_then(Value::as_array).and_then(|heads| heads.iter().map(head).collect());
    let (Some(visit), Some(heads)) = (object.get("visit").and_then(Value::as_str), heads) else {
        return Err(spoiled(
            "heads",
            "The first line is spoiled: the visit or the ends of the chains cannot be read.",
        ));
    };
    let header = Header { visit: visit.to_owned(), heads };
    if header_line(&header) != text {
        let sentence = "The first line was changed after it was written: its hash does not fit. \
                        Whether entries are missing at an end cannot be told.";
        return Err(spoiled("hash", sentence));
    }
    Ok(header)
}

fn head(value: &Value) -> Option<Head> {
    Some(Head {
        device: value["device"].as_str()?.to_owned(),
        count: value["count"].as_u64()?,
        hash: Hash::parse(value["hash"].as_str()?).ok()?,
    })
}

/// The column of a key, or 1. The hash of a line stands last, behind those of the heads and whatever a body says.
fn column_of(text: &str, key: &str) -> usize {
    let quoted = format!("\"{key}\"");
    let at = if key == "hash" { text.rfind(&quoted) } else { text.find(&quoted) }.unwrap_or(0);
    text[..at].chars().count() + 1
}

const KEYS: [&str; 14] = [
    "device",
    "seq",
    "prev",
    "l",
    "c",
    "wall",
    "role",
    "person_tag",
    "kind",
    "body",
    "replaces",
    "plan_hash",
    "sig",
    "hash",
];

/// The entry of a line; with a complaint where it is good but not written as it should be.
fn entry(line: &str, object: &Map<String, Value>) -> Result<(Entry, Option<Complaint>), Complaint> {
    let at = |key: &str, sentence: String| Complaint(column_of(line, key), sentence);
    if let Some(key) = object.keys().find(|key| !KEYS.contains(&key.as_str())) {
        let shown: String = key.chars().take(40).collect();
        return Err(at(key, format!("The key \"{shown}\" does not belong in an entry.")));
    }
    if let Some(key) = KEYS.iter().find(|key| !object.contains_key(**key)) {
        return Err(Complaint(1, format!("The key \"{key}\" is missing from the entry.")));
    }
    let wrong = |key: &str, right: &str| at(key, format!("The value of \"{key}\" must be {right}."));
    let get = |key: &str| object.get(key).unwrap_or(&Value::Null);
    let text = |key: &str| get(key).as_str().map(str::to_owned).ok_or_else(|| wrong(key, "a text"));
    let number = |key: &str| get(key).as_u64().ok_or_else(|| wrong(key, "a whole number from 0"));
    let text_or_null = |key: &str| match get(key) {
        Value::Null => Ok(None),
        Value::String(text) => Ok(Some(text.clone())),
        _ => Err(wrong(key, "a text or null")),
    };
    let prev = match text("prev")?.as_str() {
        "" => None,
        hash => Some(Hash::parse(hash).map_err(|refused| at("prev", refused.to_string()))?),
    };
    let body = get("body").as_object().ok_or_else(|| wrong("body", "an object of texts"))?;
    let body = body.iter().map(|(key, value)| Some((key.clone(), value.as_str()?.to_owned()))).collect();
    let replaces = get("replaces").as_array().ok_or_else(|| wrong("replaces", "a list of names"))?;
    let replaces: Result<_, Refused> =
        replaces.iter().map(|named| named.as_str().unwrap_or_default().parse()).collect();
    let sig = match text_or_null("sig")? {
        None => None,
        Some(digits) => {
            Some(unhex(&digits).ok_or_else(|| wrong("sig", "pairs of hexadecimal digits in small letters"))?)
        }
    };
    let fields = Fields {
        device: text("device")?,
        seq: number("seq")?,
        prev,
        hlc: Hlc { l: number("l")?, c: u32::try_from(number("c")?).map_err(|_| wrong("c", "below 2^32"))? },
        wall: text("wall")?,
        role: text("role")?,
        person_tag: text_or_null("person_tag")?,
        kind: text("kind")?,
        body: Option::ok_or_else(body, || wrong("body", "an object of texts"))?,
        replaces: replaces.map_err(|refused| at("replaces", refused.to_string()))?,
        plan_hash: text_or_null("plan_hash")?,
        sig,
    };
    let entry = Entry::of(fields).map_err(|refused| Complaint(1, refused.to_string()))?;
    let hash = Hash::parse(&text("hash")?).map_err(|refused| at("hash", refused.to_string()))?;
    if hash != entry.hash() {
        let sentence = format!(
            "The entry was changed after it was written: its hash says {}, its content gives {}.",
            hash.short(),
            entry.hash().short()
        );
        return Err(at("hash", sentence));
    }
    let written = entry_line(&entry);
    if written != line {
        let same = written.chars().zip(line.chars()).take_while(|(one, other)| one == other).count();
        let sentence =
            "The entry is good and kept, but the line is not spelt as it was written: something changed it.";
        return Ok((entry, Some(Complaint(same + 1, sentence.to_owned()))));
    }
    Ok((entry, None))
}
