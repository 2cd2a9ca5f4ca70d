//! The bytes an entry is hashed by.

use crate::Fields;
use core::convert::Infallible;
use minicbor::Encoder;
use minicbor::encode::Error;

/// The format of the canonical bytes. It is the first of them.
const FORMAT: u8 = 0;

/// An encoder into memory, which cannot fail.
pub(crate) type Cbor<'a> = Encoder<&'a mut Vec<u8>>;

/// What the encoder gives back: the only failure is that of the store, and memory has none.
pub(crate) type Done = Result<(), Error<Infallible>>;

/// Bytes by an encoder into memory. The encoder writes every length and number in its shortest form and never an
/// indefinite length, which is what RFC 8949, section 4.2.1, asks besides the order of keys.
pub(crate) fn encoded(write: impl FnOnce(&mut Cbor<'_>) -> Done) -> Vec<u8> {
    let mut bytes = Vec::new();
    let done = write(&mut Encoder::new(&mut bytes));
    debug_assert!(done.is_ok(), "memory takes what is written to it");
    bytes
}

/// The canonical bytes of an entry: deterministic CBOR (RFC 8949, section 4.2) of the list
/// `[0, device, seq, prev, l, c, wall, role, person tag, kind, body, replaces, plan hash]`.
///
/// `prev` is 32 bytes or null; person tag and plan hash are text or null; `body` is a map of texts with its keys in the
/// order of their encoded bytes, so a shorter key goes first; `replaces` is a list of `[device, seq, mark]` in order,
/// the mark eight bytes or null. The signature is not among them: it speaks of their hash.
pub fn canonical_bytes(fields: &Fields) -> Vec<u8> {
    encoded(|cbor| {
        cbor.array(13)?.u8(FORMAT)?.str(&fields.device)?.u64(fields.seq)?;
        match &fields.prev {
            Some(hash) => cbor.bytes(hash.bytes())?,
            None => cbor.null()?,
        };
        cbor.u64(fields.hlc.l)?.u32(fields.hlc.c)?.str(&fields.wall)?.str(&fields.role)?;
        text_or_null(cbor, fields.person_tag.as_deref())?;
        cbor.str(&fields.kind)?;
        body(cbor, &fields.body)?;
        cbor.array(fields.replaces.len() as u64)?;
        for named in &fields.replaces {
            cbor.array(3)?.str(&named.id.device)?.u64(named.id.seq)?;
            match &named.mark {
                Some(mark) => cbor.bytes(mark)?,
                None => cbor.null()?,
            };
        }
        text_or_null(cbor, fields.plan_hash.as_deref())
    })
}

pub(crate) fn text_or_null(cbor: &mut Cbor<'_>, text: Option<&str>) -> Done {
    match text {
        Some(text) => cbor.str(text)?,
        None => cbor.null()?,
    };
    Ok(())
}

/// A map of texts, keys in the order of their encoded bytes: the length comes first in them.
pub(crate) fn body(cbor: &mut Cbor<'_>, body: &crate::Body) -> Done {
    let mut keys: Vec<&String> = body.keys().collect();
    keys.sort_by(|one, other| (one.len(), *one).cmp(&(other.len(), *other)));
    cbor.map(keys.len() as u64)?;
    for key in keys {
        cbor.str(key)?.str(body.get(key).map_or("", String::as_str))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hash::hex;

    fn check(expected: &str, write: impl FnOnce(&mut Cbor<'_>) -> Done) {
        assert_eq!(hex(&encoded(write)), expected);
    }

    #[test]
    fn truth_cbor_is_that_of_rfc_8949_appendix_a() {
        // RFC 8949 (December 2020), Appendix A, table 6: the rows of the types used here.
        for (number, expected) in [
            (0, "00"),
            (1, "01"),
            (10, "0a"),
            (23, "17"),
            (24, "1818"),
            (25, "1819"),
            (100, "1864"),
            (1000, "1903e8"),
            (1_000_000, "1a000f4240"),
            (1_000_000_000_000, "1b000000e8d4a51000"),
            (u64::MAX, "1bffffffffffffffff"),
        ] {
            check(expected, |cbor| cbor.u64(number).map(|_| ()));
        }
        check("f6", |cbor| cbor.null().map(|_| ()));
        check("40", |cbor| cbor.bytes(&[]).map(|_| ()));
        check("4401020304", |cbor| cbor.bytes(&[1, 2, 3, 4]).map(|_| ()));
        for (text, expected) in [
            ("", "60"),
            ("a", "6161"),
            ("IETF", "6449455446"),
            ("\"\\", "62225c"),
            ("\u{fc}", "62c3bc"),
            ("\u{6c34}", "63e6b0b4"),
            ("\u{10151}", "64f0908591"),
        ] {
            check(expected, |cbor| cbor.str(text).map(|_| ()));
        }
        check("80", |cbor| cbor.array(0).map(|_| ()));
        check("83010203", |cbor| cbor.array(3)?.u8(1)?.u8(2)?.u8(3).map(|_| ()));
        check("8301820203820405", |cbor| {
            cbor.array(3)?.u8(1)?.array(2)?.u8(2)?.u8(3)?.array(2)?.u8(4)?.u8(5).map(|_| ())
        });
        let letters = [("a", "A"), ("b", "B"), ("c", "C"), ("d", "D"), ("e", "E")];
        let letters = letters.into_iter().map(|(k, v)| (k.to_owned(), v.to_owned())).collect();
        check("a56161614161626142616361436164614461656145", |cbor| body(cbor, &letters));
        check("a0", |cbor| body(cbor, &crate::Body::new()));
        // 25 numbers: the length of a list past 23 takes a byte of its own.
        check("98190102030405060708090a0b0c0d0e0f101112131415161718181819", |cbor| {
            cbor.array(25)?;
            (1..=25_u8).try_for_each(|number| cbor.u8(number).map(|_| ()))
        });
    }

    #[test]
    fn hand_a_shorter_key_goes_first() {
        // RFC 8949, section 4.2.1: keys by their encoded bytes. "b" is 61 62 and "aa" is 62 61 61, so "b" is first,
        // though "aa" is first in the order of texts.
        let two = [("aa", "x"), ("b", "y")].into_iter().map(|(k, v)| (k.to_owned(), v.to_owned())).collect();
        check("a2616261796261616178", |cbor| body(cbor, &two));
    }
}
