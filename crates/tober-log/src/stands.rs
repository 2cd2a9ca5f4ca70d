//! What stands: entries not replaced by another, by subject. Never a silent winner.

use crate::canonical::{encoded, text_or_null};
use crate::hash::{Hash, Of};
use crate::{Entry, EntryId, Log, Named};
use std::collections::{BTreeMap, BTreeSet};

/// For each entry, by place, the places of the entries that replace it.
pub(crate) type Replaced = Vec<Vec<usize>>;

/// Works out what replaces what.
///
/// A name without a mark that a fork bears replaces neither side: nobody can tell which was meant, so both stand and are
/// shown until an entry names one by its mark. Entries that replace each other in a circle do not replace one another:
/// all of them stand.
pub(crate) fn replaced(entries: &[Entry], by_id: &BTreeMap<EntryId, Vec<usize>>) -> Replaced {
    let mut replaces: Vec<Vec<usize>> = vec![Vec::new(); entries.len()];
    let mut by: Replaced = vec![Vec::new(); entries.len()];
    for (index, entry) in entries.iter().enumerate() {
        for named in &entry.replaces {
            if let Some(target) = target(entries, by_id, named) {
                replaces[index].push(target);
                by[target].push(index);
            }
        }
    }
    let circling = circling(&replaces, &by);
    for (index, replacers) in by.iter_mut().enumerate() {
        replacers.retain(|replacer| !(circling[index] && circling[*replacer]));
        replacers.dedup();
    }
    by
}

fn target(entries: &[Entry], by_id: &BTreeMap<EntryId, Vec<usize>>, named: &Named) -> Option<usize> {
    let there = by_id.get(&named.id)?;
    match &named.mark {
        Some(mark) => there.iter().copied().find(|index| entries[*index].hash().bytes()[..8] == mark[..]),
        None if there.len() == 1 => there.first().copied(),
        None => None,
    }
}

/// The places that are part of a circle or lie between two: what is left when those at either end are taken away.
fn circling(forward: &[Vec<usize>], backward: &[Vec<usize>]) -> Vec<bool> {
    let mut left = vec![true; forward.len()];
    for (ahead, behind) in [(forward, backward), (backward, forward)] {
        let mut waiting: Vec<usize> = behind
            .iter()
            .enumerate()
            .map(|(i, from)| from.iter().filter(|j| left[**j]).count() + usize::from(!left[i]))
            .collect();
        let mut free: Vec<usize> = (0..waiting.len()).filter(|index| waiting[*index] == 0).collect();
        while let Some(index) = free.pop() {
            left[index] = false;
            for &next in ahead[index].iter().filter(|next| left[**next]) {
                waiting[next] -= 1;
                if waiting[next] == 0 {
                    free.push(next);
                }
            }
        }
    }
    left
}

/// What stands for one subject.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stands<'a> {
    /// Every entry was replaced by one about something else: nothing stands.
    Nothing,
    /// One entry stands.
    One(&'a Entry),
    /// Several stand, and say the same.
    Agree(Vec<&'a Entry>),
    /// Several stand, and do not say the same. None of them is the value until one entry replaces them.
    Disagree(Vec<&'a Entry>),
}

impl<'a> Stands<'a> {
    /// The entry to read the value from: only where one stands, or all say the same.
    pub fn entry(&self) -> Option<&'a Entry> {
        match self {
            Self::One(entry) => Some(entry),
            Self::Agree(entries) => entries.first().copied(),
            Self::Nothing | Self::Disagree(_) => None,
        }
    }

    /// One key of the value: only where one stands, or all say the same.
    pub fn value(&self, key: &str) -> Option<&'a str> {
        self.entry().and_then(|entry| entry.body.get(key)).map(String::as_str)
    }
}

/// All entries about one subject of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Subject<'a> {
    /// What stands: the entries that none replaced, in order.
    pub heads: Vec<&'a Entry>,
    /// What was replaced, in order, each with the entries that replaced it.
    pub before: Vec<(&'a Entry, Vec<&'a Entry>)>,
}

impl<'a> Subject<'a> {
    /// What stands. Entries say the same if their bodies are the same but for `why`.
    pub fn stands(&self) -> Stands<'a> {
        match self.heads.as_slice() {
            [] => Stands::Nothing,
            [one] => Stands::One(one),
            [first, others @ ..] if others.iter().all(|other| other.value() == first.value()) => {
                Stands::Agree(self.heads.clone())
            }
            _ => Stands::Disagree(self.heads.clone()),
        }
    }
}

impl Log {
    /// The entries that replaced one, in order; none if it stands. One that is not of this log is replaced by none.
    pub fn replaced_by(&self, entry: &Entry) -> Vec<&Entry> {
        let place = self.entries().iter().position(|other| other.hash() == entry.hash());
        let by = place.and_then(|place| self.replaced.get(place));
        by.into_iter().flatten().map(|index| &self.entries()[*index]).collect()
    }

    /// The names that an entry about a subject has to replace so that it alone stands.
    pub fn to_replace(&self, kind: &str, what: &str) -> BTreeSet<Named> {
        let subjects = self.what_stands(kind);
        let heads = subjects.get(what).map(|subject| subject.heads.as_slice()).unwrap_or_default();
        let name =
            |entry: &&Entry| if self.get(&entry.id()).len() > 1 { entry.marked() } else { entry.id().into() };
        heads.iter().map(name).collect()
    }

    /// What stands among the entries of a kind, by subject (the key `what` of the body). Those that name no subject are
    /// read by [`Log::of_kind`].
    pub fn what_stands(&self, kind: &str) -> BTreeMap<String, Subject<'_>> {
        let mut subjects: BTreeMap<String, Subject<'_>> = BTreeMap::new();
        for (entry, by) in self.entries().iter().zip(&self.replaced) {
            let (true, Some(what)) = (entry.kind == kind, entry.subject()) else { continue };
            let subject = subjects
                .entry(what.to_owned())
                .or_insert_with(|| Subject { heads: Vec::new(), before: Vec::new() });
            if by.is_empty() {
                subject.heads.push(entry);
            } else {
                subject.before.push((entry, by.iter().map(|index| &self.entries()[*index]).collect()));
            }
        }
        subjects
    }

    /// The hash of all that stands: SHA-256(0x03 ‖ deterministic CBOR of the list of `[kind, subject or null, hash]` of
    /// every entry that none replaced, in that order). Two logs with one state hash say the same now, whatever each
    /// remembers.
    pub fn state_hash(&self) -> Hash {
        let standing = self.entries().iter().zip(&self.replaced).filter(|(_, by)| by.is_empty());
        let rows: BTreeSet<(&str, Option<&str>, Hash)> =
            standing.map(|(entry, _)| (entry.kind.as_str(), entry.subject(), entry.hash())).collect();
        let bytes = encoded(|cbor| {
            cbor.array(rows.len() as u64)?;
            rows.iter().try_for_each(|(kind, subject, hash)| {
                cbor.array(3)?.str(kind)?;
                text_or_null(cbor, *subject)?;
                cbor.bytes(hash.bytes()).map(|_| ())
            })
        });
        Hash::of(Of::State, &bytes)
    }
}
