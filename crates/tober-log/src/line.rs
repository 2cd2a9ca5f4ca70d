//! An entry as one printed line.

use crate::{Entry, Log};

/// A text on one line: marks that steer a terminal or end a line become spaces.
fn on_one_line(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect()
}

/// The value of an entry in words: that of the key `value` first, then the others by name.
fn value(entry: &Entry) -> String {
    let (plain, named): (Vec<_>, Vec<_>) = entry.value().into_iter().partition(|(key, _)| *key == "value");
    let plain = plain.into_iter().map(|(_, text)| on_one_line(text));
    let named = named.into_iter().map(|(key, text)| format!("{} {}", on_one_line(key), on_one_line(text)));
    plain.chain(named).filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", ")
}

/// The hour and the minute of a wall time.
fn hour(entry: &Entry) -> &str {
    entry.wall.get(11..16).unwrap_or(&entry.wall)
}

impl Log {
    /// An entry as one line that says all of it: when (the wall time with its offset), what kind of thing of what with
    /// which value, by whom in which role on which device, under which plan, what it replaces and why, whether it is
    /// signed, and its name with the first eight digits of its hash.
    ///
    /// `2026-05-09 05:31:45+01:00 reading: leg front left: 697 mm, by Ch (chief) on k7q2m9-1; replaces 705 mm of 05:30
    /// (k7q2m9-1:2): misread; unsigned [k7q2m9-1:3 338982e2]`
    ///
    /// An entry that it replaces and that is not in this log is named alone.
    pub fn line(&self, entry: &Entry) -> String {
        let mut line = format!("{} {}", entry.wall.replacen('T', " ", 1), on_one_line(&entry.kind));
        for part in [entry.subject().map(on_one_line).unwrap_or_default(), value(entry)] {
            if !part.is_empty() {
                line.push_str(&format!(": {part}"));
            }
        }
        let role = on_one_line(&entry.role);
        line.push_str(&match &entry.person_tag {
            Some(tag) => format!(", by {} ({role}) on {}", on_one_line(tag), entry.device),
            None => format!(", by a {role} on {}", entry.device),
        });
        if let Some(plan) = &entry.plan_hash {
            line.push_str(&format!("; plan {}", on_one_line(plan)));
        }
        let old: Vec<String> = entry
            .replaces
            .iter()
            .map(|named| {
                let there = self.get(&named.id);
                match there.iter().find(|old| named.mark.is_none() || old.marked().mark == named.mark) {
                    Some(old) if there.len() == 1 || named.mark.is_some() => {
                        format!("{} of {} ({named})", value(old), hour(old))
                    }
                    _ => named.to_string(),
                }
            })
            .collect();
        if !old.is_empty() {
            line.push_str(&format!("; replaces {}", old.join(" and ")));
        }
        if let Some(why) = entry.why() {
            line.push_str(&format!("{} {}", if old.is_empty() { "; why:" } else { ":" }, on_one_line(why)));
        }
        line.push_str(if entry.signed() { "; signature not checked" } else { "; unsigned" });
        line.push_str(&format!(" [{} {}]", entry.id(), entry.hash().short()));
        line
    }
}
