//! SHA-256 of canonical bytes.

use crate::Refused;
use core::fmt;
use sha2::{Digest, Sha256};

/// What goes before the bytes, so that the hash of one thing is never the hash of another.
#[derive(Clone, Copy)]
pub(crate) enum Of {
    /// An entry (the leaf prefix of RFC 9162).
    Entry = 0,
    /// The first line of a file.
    Header = 2,
    /// What stands.
    State = 3,
    /// What a set of codes carries.
    #[cfg(feature = "qr")]
    Codes = 4,
}

/// A SHA-256 hash (FIPS 180-4), printed as 64 lower-case hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hash([u8; 32]);

impl Hash {
    pub(crate) fn of(of: Of, bytes: &[u8]) -> Self {
        let mut hash = Sha256::new();
        hash.update([of as u8]);
        hash.update(bytes);
        Self(hash.finalize().into())
    }

    /// The 32 bytes.
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// A hash from its 32 bytes.
    pub fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// The first eight digits, for people.
    pub fn short(&self) -> String {
        hex(&self.0[..4])
    }

    /// Reads 64 lower-case hexadecimal digits.
    ///
    /// # Errors
    /// Another length, or another letter: one hash has one spelling.
    pub fn parse(text: &str) -> Result<Self, Refused> {
        unhex(text)
            .and_then(|bytes| bytes.try_into().ok())
            .map(Self)
            .ok_or_else(|| Refused::new("the hash", text, "64 hexadecimal digits in small letters"))
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&hex(&self.0))
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}")
    }
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Bytes from lower-case hexadecimal digits; nothing for any other text.
pub(crate) fn unhex(text: &str) -> Option<Vec<u8>> {
    let digit = |letter: u8| match letter {
        b'0'..=b'9' => Some(letter - b'0'),
        b'a'..=b'f' => Some(letter - b'a' + 10),
        _ => None,
    };
    let (pairs, rest) = text.as_bytes().as_chunks::<2>();
    if !rest.is_empty() {
        return None;
    }
    pairs.iter().map(|[high, low]| Some(digit(*high)? * 16 + digit(*low)?)).collect()
}
