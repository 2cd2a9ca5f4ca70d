//! Chains brought together, and what is wrong with them.

use crate::clock::{AHEAD_MS_MAX, Hlc};
use crate::stands::{self, Replaced};
use crate::{Entry, EntryId, Hash, Trouble};
use std::collections::{BTreeMap, BTreeSet};

/// The end of a chain: how many entries it has, and the hash of the last. It is what shows that an end was cut off,
/// and only if it came another way than the entries.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Head {
    /// The writer.
    pub device: String,
    /// The number of the last entry.
    pub count: u64,
    /// Its hash.
    pub hash: Hash,
}

/// Entries of any number of writers, each once, in their one order: the hybrid clock, then device, then number. Within
/// a device the number rules, whatever the clocks say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    entries: Vec<Entry>,
    by_id: BTreeMap<EntryId, Vec<usize>>,
    pub(crate) replaced: Replaced,
}

/// One writer's entries by number; more than one at a number is a fork.
type Chain = BTreeMap<u64, Vec<Entry>>;

/// The most broken places among which a swap is looked for. Past it they are named one by one.
const SWAP_PLACES_MAX: usize = 16;

impl Log {
    /// Brings entries together: any chains, any order, any repetitions give the same log and the same troubles.
    ///
    /// Nothing is left out: of a fork all sides are kept, and entries around a break or a gap too. Of two copies of one
    /// entry the signed one is kept.
    pub fn gather(entries: Vec<Entry>) -> (Self, Vec<Trouble>) {
        let mut troubles = BTreeSet::new();
        let mut chains: BTreeMap<String, Chain> = BTreeMap::new();
        for entry in entries {
            let chain = chains.entry(entry.device.clone()).or_default();
            let here = chain.entry(entry.seq).or_default();
            let Some(copy) = here.iter_mut().find(|copy| copy.hash() == entry.hash()) else {
                here.push(entry);
                continue;
            };
            match (&copy.sig, &entry.sig) {
                (None, Some(_)) => *copy = entry,
                (Some(kept), Some(other)) if kept != other => {
                    troubles.insert(Trouble::TwoSignatures { id: entry.id() });
                    if other < kept {
                        *copy = entry;
                    }
                }
                _ => {}
            }
        }
        for (device, chain) in &mut chains {
            for side in chain.values_mut() {
                side.sort_by_key(Entry::hash);
            }
            troubles.extend(breaks(device, chain));
        }
        (Self::in_order(chains), troubles.into_iter().collect())
    }

    fn in_order(chains: BTreeMap<String, Chain>) -> Self {
        let mut keyed = Vec::new();
        for chain in chains.into_values() {
            let mut last = None;
            for side in chain.into_values() {
                // A later number is later in order, even where a changed clock says otherwise.
                let at = side.iter().map(|entry| entry.hlc).max().unwrap_or_default();
                let at = match last {
                    Some(last) if at <= last => Hlc::tick(Some(last), Hlc::default(), 0),
                    _ => at,
                };
                last = Some(at);
                keyed.extend(
                    side.into_iter()
                        .map(|entry| ((at, entry.device.clone(), entry.seq, entry.hash()), entry)),
                );
            }
        }
        keyed.sort_by(|(one, _), (other, _)| one.cmp(other));
        let entries: Vec<Entry> = keyed.into_iter().map(|(_, entry)| entry).collect();
        let mut by_id: BTreeMap<EntryId, Vec<usize>> = BTreeMap::new();
        for (index, entry) in entries.iter().enumerate() {
            by_id.entry(entry.id()).or_default().push(index);
        }
        let replaced = stands::replaced(&entries, &by_id);
        Self { entries, by_id, replaced }
    }

    /// All entries in order.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entries that bear a name: none, one, or the sides of a fork.
    pub fn get(&self, id: &EntryId) -> Vec<&Entry> {
        self.by_id.get(id).into_iter().flatten().map(|index| &self.entries[*index]).collect()
    }

    /// The last entry of a writer, which its next one follows ([`crate::next`]).
    pub fn last_of(&self, device: &str) -> Option<&Entry> {
        self.entries.iter().filter(|entry| entry.device == device).max_by_key(|entry| entry.seq)
    }

    /// The entries of a kind, in order.
    pub fn of_kind(&self, kind: &str) -> Vec<&Entry> {
        self.entries.iter().filter(|entry| entry.kind == kind).collect()
    }

    /// The entries of kinds that are not among those known. They are kept, and stand as *not known*.
    pub fn not_known(&self, known: &[&str]) -> Vec<&Entry> {
        self.entries.iter().filter(|entry| !known.contains(&entry.kind.as_str())).collect()
    }

    /// The greatest time of all entries that are at most five minutes before this clock; the others are not followed.
    pub fn seen(&self, now_ms: i64) -> Hlc {
        let limit = follow_limit(now_ms);
        self.entries.iter().map(|entry| entry.hlc).filter(|hlc| hlc.l <= limit).max().unwrap_or_default()
    }

    /// The entries that are more than five minutes before this clock: theirs or this one is wrong.
    pub fn ahead(&self, now_ms: i64) -> Vec<&Entry> {
        let limit = follow_limit(now_ms);
        self.entries.iter().filter(|entry| entry.hlc.l > limit).collect()
    }

    /// The end of each chain, by device. Of a fork at the end, the first side in order.
    pub fn heads(&self) -> Vec<Head> {
        let mut heads: BTreeMap<&str, &Entry> = BTreeMap::new();
        for entry in &self.entries {
            let head = heads.entry(entry.device.as_str()).or_insert(entry);
            if entry.seq > head.seq || (entry.seq == head.seq && entry.hash() < head.hash()) {
                *head = entry;
            }
        }
        let head =
            |entry: &Entry| Head { device: entry.device.clone(), count: entry.seq, hash: entry.hash() };
        heads.into_values().map(head).collect()
    }

    /// What heads that came another way say against this log: an end cut off, or another end. More entries than a head
    /// knows of are no trouble.
    pub fn against(&self, heads: &[Head]) -> Vec<Trouble> {
        let mut troubles = BTreeSet::new();
        for head in heads {
            let last = self.last_of(&head.device).map_or(0, |entry| entry.seq);
            let id = EntryId { device: head.device.clone(), seq: head.count };
            let there = self.get(&id);
            if last < head.count {
                troubles.insert(Trouble::Shortened { device: head.device.clone(), count: head.count, last });
            } else if !there.is_empty() && there.iter().all(|entry| entry.hash() != head.hash) {
                troubles.insert(Trouble::OtherEnd { id, then: head.hash });
            }
        }
        troubles.into_iter().collect()
    }
}

/// The greatest time that is followed by a clock.
fn follow_limit(now_ms: i64) -> u64 {
    u64::try_from(now_ms).unwrap_or(0).saturating_add(AHEAD_MS_MAX)
}

/// What is wrong with one writer's chain.
fn breaks(device: &str, chain: &Chain) -> Vec<Trouble> {
    let id = |seq: u64| EntryId { device: device.to_owned(), seq };
    let mut troubles = Vec::new();
    let mut broken: BTreeMap<u64, Trouble> = BTreeMap::new();
    let mut expected = 1;
    for (&seq, side) in chain {
        if seq > expected {
            troubles.push(Trouble::Missing { device: device.to_owned(), from: expected, to: seq - 1 });
        }
        expected = seq + 1;
        if side.len() > 1 {
            troubles.push(Trouble::Forked { id: id(seq), hashes: side.iter().map(Entry::hash).collect() });
        }
        let Some(before) = chain.get(&(seq - 1)) else { continue };
        for then in side.iter().filter_map(|entry| entry.prev) {
            if before.iter().all(|entry| entry.hash() != then) {
                broken.insert(seq - 1, Trouble::Changed { id: id(seq - 1), here: before[0].hash(), then });
            }
        }
    }
    for (one, other) in swaps(chain, &broken) {
        for seq in [one.wrapping_sub(1), one, other - 1, other] {
            broken.remove(&seq);
        }
        troubles.push(Trouble::Swapped { one: id(one), other: id(other) });
    }
    troubles.extend(broken.into_values());
    troubles
}

/// The pairs of numbers that were exchanged, as far as exchanging them back makes every link around them whole.
fn swaps(chain: &Chain, broken: &BTreeMap<u64, Trouble>) -> Vec<(u64, u64)> {
    let places: BTreeSet<u64> = broken.keys().flat_map(|seq| [*seq, seq + 1]).collect();
    let places: Vec<u64> = places.into_iter().collect();
    if places.len() > SWAP_PLACES_MAX {
        return Vec::new();
    }
    let mut found: Vec<(u64, u64)> = Vec::new();
    for (at, &one) in places.iter().enumerate() {
        for &other in &places[at + 1..] {
            let taken =
                found.iter().any(|pair| [pair.0, pair.1].iter().any(|seq| *seq == one || *seq == other));
            if !taken && [false, true].into_iter().any(|with_prev| is_swap(chain, one, other, with_prev)) {
                found.push((one, other));
            }
        }
    }
    found
}

/// Whether the chain is whole around two numbers once they are exchanged back, with what they follow or without.
fn is_swap(chain: &Chain, one: u64, other: u64, with_prev: bool) -> bool {
    let only = |seq: u64| chain.get(&seq).filter(|side| side.len() == 1).map(|side| &side[0]);
    let (Some(first), Some(second)) = (only(one), only(other)) else { return false };
    let renumbered = |entry: &Entry, place: &Entry| {
        let mut fields = (**entry).clone();
        fields.seq = place.seq;
        if with_prev {
            fields.prev = place.prev;
        }
        Entry::of(fields).ok()
    };
    let (Some(to_second), Some(to_first)) = (renumbered(first, second), renumbered(second, first)) else {
        return false;
    };
    let at = |seq: u64| {
        if seq == one {
            Some(&to_first)
        } else if seq == other {
            Some(&to_second)
        } else {
            only(seq)
        }
    };
    let mut links = 0;
    for seq in BTreeSet::from([one, one + 1, other, other + 1]) {
        let (Some(before), Some(entry)) = (at(seq - 1), at(seq)) else { continue };
        if entry.prev != Some(before.hash()) {
            return false;
        }
        links += 1;
    }
    links >= 2
}
