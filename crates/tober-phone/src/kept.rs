//! The entries that a phone keeps, gathered and folded to what stands.

use crate::stands::{Stand, Stands};
use std::collections::BTreeMap;
use tober_log::{Draft, Entry, Log, Now, Subject};

/// The kinds of entry that the page makes.
const KINDS: [&str; 9] = ["reading", "tick", "hold", "adopt", "begun", "change", "note", "stop", "pitch"];

/// The kinds whose entries are of one plan, and begin anew with another (rule S3).
const OF_A_PLAN: [&str; 3] = ["tick", "hold", "change"];

/// The entries of one visit.
pub(crate) struct Kept {
    log: Log,
    /// What is wrong with them, in words.
    pub troubles: Vec<String>,
}

impl Kept {
    /// Gathers entries from their lines. A line that cannot be read is named, and hides no other.
    pub(crate) fn of<'a>(lines: impl IntoIterator<Item = &'a str>) -> Self {
        let mut file = tober_log::text::write("", &Log::default());
        for line in lines {
            // A line in the store that is not one is still one thing that is spoiled.
            file.push_str(&line.replace('\n', " "));
            file.push('\n');
        }
        let opened = tober_log::text::open(file.as_bytes());
        let mut troubles: Vec<String> = opened
            .damage
            .iter()
            .map(|damage| {
                format!(
                    "An entry kept on this phone cannot be read, and is left as it is. {}",
                    damage.sentence
                )
            })
            .collect();
        troubles.extend(opened.troubles.iter().map(ToString::to_string));
        Self { log: opened.log, troubles }
    }

    /// What stands.
    pub(crate) fn stands(&self) -> Stands {
        stands(&self.log)
    }

    /// What stood when an entry was made, by its name.
    pub(crate) fn as_of(&self, entry: &str) -> Option<Stands> {
        let place = self.log.entries().iter().position(|other| other.id().to_string() == entry)?;
        let (then, _) = Log::gather(self.log.entries()[..=place].to_vec());
        Some(stands(&then))
    }

    /// Every entry in words, newest first, with whether it still stands.
    pub(crate) fn lines(&self) -> Vec<(String, bool)> {
        let all = self.log.entries().iter().rev();
        all.map(|entry| (in_words(entry, &self.log), self.log.replaced_by(entry).is_empty())).collect()
    }

    /// The entries themselves.
    pub(crate) fn log(&self) -> &Log {
        &self.log
    }

    /// The entry that says a thing, after all that are kept. Nothing where that already stands.
    ///
    /// # Errors
    /// What is said is past what an entry can hold.
    pub(crate) fn next(&self, device: &str, now: Now, said: &Said) -> Result<Option<Entry>, String> {
        let subjects = self.log.what_stands(&said.kind);
        let subject = subjects.get(&said.what);
        if subject.is_some_and(|subject| stands_already(subject, said)) {
            return Ok(None);
        }
        let mut body = said.more.clone();
        body.insert("what".to_owned(), said.what.clone());
        body.insert("value".to_owned(), said.value.clone());
        let draft = Draft {
            role: said.role.clone(),
            person_tag: said.by.clone(),
            kind: said.kind.clone(),
            body,
            replaces: self.log.to_replace(&said.kind, &said.what),
            plan_hash: said.plan.clone(),
        };
        tober_log::next(self.log.last_of(device), device, self.log.seen(now.ms), now, draft)
            .map(Some)
            .map_err(|why| why.to_string())
    }
}

/// What somebody says.
#[derive(Clone, Debug, Default)]
pub(crate) struct Said {
    pub kind: String,
    pub what: String,
    pub value: String,
    pub role: String,
    pub by: Option<String>,
    pub plan: Option<String>,
    /// What else belongs to it.
    pub more: BTreeMap<String, String>,
}

impl Said {
    /// Whether entries of this kind are of one plan.
    pub(crate) fn of_a_plan(&self) -> bool {
        OF_A_PLAN.contains(&self.kind.as_str())
    }
    /// Whether this is a kind that the page makes.
    pub(crate) fn known(&self) -> bool {
        KINDS.contains(&self.kind.as_str())
    }
}

fn stands_already(subject: &Subject<'_>, said: &Said) -> bool {
    match subject.heads.as_slice() {
        [one] => {
            one.body.get("value") == Some(&said.value)
                && one.plan_hash == said.plan
                // A wait that begins anew is another beginning, and so is each stop.
                && !matches!(said.kind.as_str(), "begun" | "stop")
        }
        // A field that was left blank is no entry.
        [] => said.value.is_empty(),
        _ => false,
    }
}

fn stands(log: &Log) -> Stands {
    let mut things = BTreeMap::new();
    for kind in KINDS {
        for (what, subject) in log.what_stands(kind) {
            let Some(newest) = subject.heads.last() else { continue };
            let mut values: Vec<String> =
                subject.heads.iter().map(|entry| value_of(entry).to_owned()).collect();
            values.dedup();
            let value = values.pop().unwrap_or_default();
            things.insert(
                what,
                Stand {
                    value,
                    entry: newest.id().to_string(),
                    plan: newest.plan_hash.clone(),
                    at: clock(&newest.wall).to_owned(),
                    at_ms: newest.hlc.l,
                    by: newest.person_tag.clone().unwrap_or_default(),
                    more: newest.body.clone(),
                    others: values,
                },
            );
        }
    }
    Stands::of(things)
}

fn value_of(entry: &Entry) -> &str {
    entry.body.get("value").map_or("", String::as_str)
}

/// Hours and minutes of a wall time: "05:41".
fn clock(wall: &str) -> &str {
    wall.get(11..16).unwrap_or(wall)
}

/// An entry in words: "05:41 front left 697, by Ch. Takes the place of 705 of 05:39."
fn in_words(entry: &Entry, log: &Log) -> String {
    let what = entry.subject().unwrap_or(&entry.kind);
    let what = if what.ends_with(" reason") { "reason" } else { what };
    let of_frame = crate::frame::in_words(what);
    let what = of_frame.as_deref().unwrap_or_else(|| what.strip_prefix("leg ").unwrap_or(what));
    let value = value_of(entry);
    let said = match (entry.kind.as_str(), value) {
        (kind, _) if !KINDS.contains(&kind) => format!("{kind}: not known to this version, kept as it is"),
        (_, "") => format!("{what}: taken back"),
        ("tick" | "hold" | "begun", _) => what.to_owned(),
        _ => format!("{what}: {value}"),
    };
    let by = entry.person_tag.as_ref().map_or(String::new(), |tag| format!(", by {tag}"));
    let plan = entry.plan_hash.as_ref().map_or(String::new(), |plan| format!(", plan {plan}"));
    let mut line = format!("{} {said}{by}{plan}.", clock(&entry.wall));
    for named in &entry.replaces {
        for older in log.get(&named.id) {
            line.push_str(&format!(" Takes the place of {} of {}.", value_of(older), clock(&older.wall)));
        }
    }
    // What was written on paper and typed in later says so, with when it was looked at.
    if let Some(why) = entry.why().filter(|why| !why.is_empty()) {
        line.push_str(&format!(" {}.", why.trim_end_matches('.')));
    }
    line
}
