//! Base45 (RFC 9285, August 2022): two bytes as three letters of the 45 that a QR code holds most tightly.

const LETTERS: &[u8; 45] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/// n = 256·a + b = e·45² + d·45 + c, written c d e; a last single byte as two letters.
pub(super) fn encode(bytes: &[u8]) -> String {
    let mut out = String::new();
    for pair in bytes.chunks(2) {
        let mut number = pair.iter().fold(0_usize, |number, byte| number * 256 + usize::from(*byte));
        for _ in 0..=pair.len() {
            out.push(char::from(LETTERS[number % 45]));
            number /= 45;
        }
    }
    out
}

/// The bytes of a text; nothing where a letter is not of the 45, a group is too short, or stands for too great a number.
pub(super) fn decode(text: &str) -> Option<Vec<u8>> {
    let digits: Option<Vec<usize>> =
        text.bytes().map(|letter| LETTERS.iter().position(|other| *other == letter)).collect();
    let mut out = Vec::new();
    for group in digits?.chunks(3) {
        let number = group.iter().rev().fold(0, |number, digit| number * 45 + digit);
        match group.len() {
            3 => out.extend(u16::try_from(number).ok()?.to_be_bytes()),
            2 => out.push(u8::try_from(number).ok()?),
            _ => return None,
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn truth_examples_of_rfc_9285() {
        // RFC 9285, sections 4.3 and 4.4: encoding examples 1 to 3 and the decoding example.
        for (bytes, text) in [
            (&b"AB"[..], "BB8"),
            (b"Hello!!", "%69 VD92EX0"),
            (b"base-45", "UJCLQE7W581"),
            (b"ietf!", "QED8WEX0"),
        ] {
            assert_eq!(encode(bytes), text);
            assert_eq!(decode(text).as_deref(), Some(bytes));
        }
    }

    #[test]
    fn truth_what_rfc_9285_says_is_refused() {
        // Section 6: "FGW" is 65535, the greatest; "GGW" is 65536 and must be refused, and "::" stands for 2024.
        assert_eq!(decode("FGW"), Some(vec![255, 255]));
        for odd in ["GGW", ":::", "::", "A", "BB8A", "bb8", "BB\u{e9}"] {
            assert_eq!(decode(odd), None, "{odd}");
        }
    }

    proptest::proptest! {
        #[test]
        fn law_what_is_encoded_is_decoded(bytes: Vec<u8>) {
            proptest::prop_assert_eq!(decode(&encode(&bytes)), Some(bytes));
        }

        #[test]
        fn law_one_value_has_one_spelling(text in "[0-9A-Z $%*+./:-]{0,12}") {
            if let Some(bytes) = decode(&text) {
                proptest::prop_assert_eq!(encode(&bytes), text);
            }
        }
    }
}
