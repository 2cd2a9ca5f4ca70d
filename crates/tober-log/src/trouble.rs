//! What is wrong with a set of chains.

use crate::{EntryId, Hash};
use core::fmt;

/// One thing that is wrong with the chains of a log. Every one names the writer and the number.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trouble {
    /// Two or more different entries bear one number. All are kept.
    Forked {
        /// The number.
        id: EntryId,
        /// The hashes of the entries that bear it, in order.
        hashes: Vec<Hash>,
    },
    /// Numbers of which no entry is here.
    Missing {
        /// The writer.
        device: String,
        /// The first missing number.
        from: u64,
        /// The last missing number.
        to: u64,
    },
    /// An entry is not the one that the entry after it was written after: one of the two was changed.
    Changed {
        /// The entry before.
        id: EntryId,
        /// Its hash as it is here.
        here: Hash,
        /// Its hash as the entry after it has it.
        then: Hash,
    },
    /// Two entries have changed numbers: with them changed back the chain is whole.
    Swapped {
        /// The one that stands first.
        one: EntryId,
        /// The one that stands second.
        other: EntryId,
    },
    /// Fewer entries are here than a head says there were.
    Shortened {
        /// The writer.
        device: String,
        /// How many there were.
        count: u64,
        /// The number of the last one here, 0 for none.
        last: u64,
    },
    /// The entry that a head names is here with another content.
    OtherEnd {
        /// The entry.
        id: EntryId,
        /// Its hash as the head has it.
        then: Hash,
    },
    /// Two copies of one entry bear different signatures. The one that is first in order is kept.
    TwoSignatures {
        /// The entry.
        id: EntryId,
    },
}

impl Trouble {
    /// The writer concerned.
    pub fn device(&self) -> &str {
        match self {
            Self::Missing { device, .. } | Self::Shortened { device, .. } => device,
            Self::Swapped { one: id, .. }
            | Self::Forked { id, .. }
            | Self::Changed { id, .. }
            | Self::OtherEnd { id, .. }
            | Self::TwoSignatures { id } => &id.device,
        }
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Forked { id, hashes } => {
                let marks: Vec<String> = hashes.iter().map(Hash::short).collect();
                write!(
                    f,
                    "{id} is there {} times with different contents ({}). All are kept; \
                     the device wrote on from an old copy, or somebody made one up.",
                    hashes.len(),
                    marks.join(", ")
                )
            }
            Self::Missing { device, from, to } if from == to => {
                write!(f, "{device}:{from} is missing. Ask the device {device} for it.")
            }
            Self::Missing { device, from, to } => {
                write!(f, "{device}:{from} to {device}:{to} are missing. Ask the device {device} for them.")
            }
            Self::Changed { id, here, then } => write!(
                f,
                "{id} was changed, or the entry after it was: it is {} here and was {} when the next one was written.",
                here.short(),
                then.short()
            ),
            Self::Swapped { one, other } => {
                write!(f, "{one} and {other} were swapped: each bears the other's number.")
            }
            Self::Shortened { device, count, last } => {
                write!(f, "{device} had {count} entries and ends here at number {last}: the end was cut off.")
            }
            Self::OtherEnd { id, then } => {
                write!(f, "{id} is not the entry that was there: its hash was {}.", then.short())
            }
            Self::TwoSignatures { id } => write!(f, "{id} is there with two different signatures."),
        }
    }
}
