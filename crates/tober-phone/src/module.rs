//! The built core, and whether it is that of the sources it lies beside.

use sha2::{Digest, Sha256};

/// The core, built for WebAssembly by `core/build.sh`, packed by LZMA and written in base64.
pub const CORE: &str = include_str!("../core/core.wasm.lzma.b64");

/// The hash of the sources that it was built from, as `core/build.sh` wrote it down.
pub const BUILT_FROM: &str = include_str!("../core/sources.sha256");

/// The packed core as a page carries it: how many bytes it is, and they in base 85.
pub fn core_for_a_page() -> (usize, String) {
    in_base_85(&from_base_64(CORE))
}

/// A text as a page carries it: packed as zlib does (RFC 1950), how many bytes that is, and they in base 85.
pub fn packed(text: &str) -> (usize, String) {
    in_base_85(&miniz_oxide::deflate::compress_to_vec_zlib(text.as_bytes(), 10))
}

/// How many bytes, and they in base 85.
///
/// Four bytes, the most significant first, make a number that is written in five letters; a last group that is short
/// is filled with zeros. The digit d is the letter 40 + d of ASCII, but `}` stands for `<`, which would end a script.
/// A sixteenth shorter than base64, and a page has a limit to its size.
fn in_base_85(packed: &[u8]) -> (usize, String) {
    let mut text = String::with_capacity(packed.len() / 4 * 5 + 5);
    for four in packed.chunks(4) {
        let mut group = [0; 4];
        group[..four.len()].copy_from_slice(four);
        let number = u32::from_be_bytes(group);
        for power in [52_200_625, 614_125, 7_225, 85, 1] {
            let digit = u8::try_from(number / power % 85).unwrap_or_default();
            text.push(char::from(if 40 + digit == b'<' { b'}' } else { 40 + digit }));
        }
    }
    (packed.len(), text)
}

/// The bytes of a text in base64 (RFC 4648, table 1); what is no letter of it is left out.
fn from_base_64(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    let (mut held, mut bits) = (0_u32, 0);
    for letter in text.bytes() {
        let digit = match letter {
            b'A'..=b'Z' => letter - b'A',
            b'a'..=b'z' => letter - b'a' + 26,
            b'0'..=b'9' => letter - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => continue,
        };
        held = (held & 0xff) << 6 | u32::from(digit);
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            bytes.push((held >> bits & 0xff) as u8);
        }
    }
    bytes
}

/// The hash of sources, given as names with their contents in the order of their names.
///
/// SHA-256 over each name, a zero byte, the length of the contents as decimal digits, a zero byte, and the contents.
pub fn hash_of<'a>(sources: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> String {
    let mut hash = Sha256::new();
    for (name, contents) in sources {
        hash.update(name.as_bytes());
        hash.update([0]);
        hash.update(contents.len().to_string().as_bytes());
        hash.update([0]);
        hash.update(contents);
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648 (2006), section 10.
    #[test]
    fn truth_base_64() {
        let printed = ["", "Zg==", "Zm8=", "Zm9v", "Zm9vYg==", "Zm9vYmE=", "Zm9vYmFy"].map(from_base_64);
        assert_eq!(
            printed.each_ref().map(Vec::as_slice),
            [&b""[..], b"f", b"fo", b"foo", b"foob", b"fooba", b"foobar"]
        );
    }

    /// Read back as the page reads it, the letters are the packed core, and none of them can end a script.
    #[test]
    fn law_base_85_is_read_back() {
        let (size, text) = core_for_a_page();
        assert!(!text.contains('<') && text.len() % 5 == 0);
        let mut bytes = Vec::new();
        for five in text.as_bytes().chunks(5) {
            let digit = |letter: u8| if letter == b'}' { 20 } else { u64::from(letter) - 40 };
            let four = five.iter().fold(0, |sum, &letter| sum * 85 + digit(letter));
            bytes.extend(u32::try_from(four).expect("four bytes").to_be_bytes());
        }
        bytes.truncate(size);
        assert_eq!(bytes, from_base_64(CORE));
        // What the page unpacks: the first byte says by how many bits places are told apart, the last eight of the head how
        // long the module is.
        assert_eq!(bytes[0], 4, "by four bits of the letter before, and nothing else");
        let long = bytes[5..13].iter().rev().fold(0, |sum, &byte| sum * 256 + u64::from(byte));
        assert!((1_000_000..10_000_000).contains(&long), "{long} bytes");
    }
}
