//! Entries as a text file: a first line that says what it is, then a line an entry, in JSON.
//!
//! Every byte is held by something: an entry's content by its hash in the same line, and by `prev` in the next; the
//! first line by its own hash; the number of lines by the heads in the first line. A line that is spoiled is named and
//! left out, and every good line is kept.

mod read;
mod write;

pub use read::{Damage, Read, read};
pub use write::{entry_line, write};

use crate::canonical::encoded;
use crate::hash::{Hash, Of};
use crate::{Head, Log, Trouble};

/// The format that is written, and the only one so far.
pub const FORMAT: u64 = 0;

/// What the first line says that the file is.
pub const WHAT: &str = "tober entries";

/// The most bytes of a file.
pub const FILE_BYTES_MAX: usize = 16 << 20;

/// The most bytes of a line.
pub const LINE_BYTES_MAX: usize = 128 << 10;

/// The most lines of a file.
pub const LINES_MAX: usize = 50_000;

/// The first line of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// The visit that the entries belong to, as the writer names it.
    pub visit: String,
    /// The end of each chain, so that a file cut short shows.
    pub heads: Vec<Head>,
}

impl Header {
    /// SHA-256(0x02 ‖ deterministic CBOR of `[format, visit, [[device, count, hash], …]]`).
    fn hash(&self) -> Hash {
        let bytes = encoded(|cbor| {
            cbor.array(3)?.u64(FORMAT)?.str(&self.visit)?.array(self.heads.len() as u64)?;
            self.heads.iter().try_for_each(|head| {
                cbor.array(3)?.str(&head.device)?.u64(head.count)?.bytes(head.hash.bytes()).map(|_| ())
            })
        });
        Hash::of(Of::Header, &bytes)
    }
}

/// A file opened: its log, and all that is wrong with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    /// The first line, if it is a good one.
    pub header: Option<Header>,
    /// The entries of every good line.
    pub log: Log,
    /// The lines that are spoiled.
    pub damage: Vec<Damage>,
    /// What is wrong with the chains, with the heads of the first line held against them.
    pub troubles: Vec<Trouble>,
}

impl Opened {
    /// Whether nothing at all is wrong.
    pub fn whole(&self) -> bool {
        self.damage.is_empty() && self.troubles.is_empty()
    }
}

/// Reads a file and brings its entries together. Never fails: what is good is in the log, what is not is said.
pub fn open(bytes: &[u8]) -> Opened {
    let Read { header, entries, damage } = read(bytes);
    let (log, mut troubles) = Log::gather(entries);
    if let Some(header) = &header {
        troubles.extend(log.against(&header.heads));
    }
    Opened { header, log, damage, troubles }
}
