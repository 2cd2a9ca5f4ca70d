//! Packed entries as texts, each for one code.

use super::base45;
use super::columns::{ENTRIES_MAX, in_runs, pack, unpack};
use crate::hash::{Hash, Of};
use crate::{Entry, Refused};
use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec_with_limit;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// The most letters of a part: what a QR code of version 13 (69 modules a side) holds of its tightest letters at error
/// correction M, by ISO/IEC 18004. On a phone's screen that is five pixels a module and more; larger codes were tried
/// and are read badly from photos.
pub const PART_LETTERS_MAX: usize = 483;

/// The most parts of a set.
const PARTS_MAX: usize = 99;

/// The beginning of every part, and of those of other formats but for the digit.
const MARK: &str = "TOBER";
const FORMAT: &str = "0";

/// The letters of a part before its data: `TOBER0/99/99/01234567/`.
const HEAD_LETTERS: usize = 22;

/// The bytes of a part besides its share: a mask and a check.
const PART_EXTRA: usize = 3;

/// The share of a part: two bytes are three letters.
const SHARE_MAX: usize = (PART_LETTERS_MAX - HEAD_LETTERS) / 3 * 2 - PART_EXTRA;

/// The most bytes that a set unpacks to.
const UNPACKED_MAX: usize = 4 << 20;

/// The name of a set: the first eight digits of SHA-256(0x04 ‖ the hashes of all its entries, in order).
fn name(entries: &[&Entry]) -> String {
    let hashes: Vec<u8> = entries.iter().flat_map(|entry| *entry.hash().bytes()).collect();
    Hash::of(Of::Codes, &hashes).short().to_uppercase()
}

/// Entries of a visit as texts, each for one QR code; as few as there can be, and about equally long.
///
/// # Errors
/// No entries, more than 2000 or more than 99 codes would hold: hand those over as a file.
pub fn codes(visit: &str, entries: &[Entry]) -> Result<Vec<String>, Refused> {
    let entries = in_runs(entries);
    if entries.is_empty() || entries.len() > ENTRIES_MAX {
        let right = "1 to 2000 for codes; hand more over as a file";
        return Err(Refused::new("the number of entries", &entries.len().to_string(), right));
    }
    // Level 10 is the tightest; a few hundred bytes cost nothing.
    let bytes = compress_to_vec(&pack(visit, &entries), 10);
    let count = bytes.len().div_ceil(SHARE_MAX).max(1);
    if count > PARTS_MAX {
        return Err(Refused::new(
            "the number of codes",
            &count.to_string(),
            "at most 99; hand these entries over as a file",
        ));
    }
    let share = bytes.len().div_ceil(count).max(1);
    let name = name(&entries);
    let part = |(index, share): (usize, &[u8])| {
        format!("{MARK}{FORMAT}/{}/{count}/{name}/{}", index + 1, spelt(share))
    };
    Ok(bytes.chunks(share).enumerate().map(part).collect())
}

/// Two bytes that a share is checked by: the first of SHA-256(mask ‖ share). The mask is part of it so that another mask
/// spells these bytes otherwise too.
fn check(mask: u8, share: &[u8]) -> [u8; 2] {
    let digest = Sha256::new().chain_update([mask]).chain_update(share).finalize();
    [digest[0], digest[1]]
}

/// A share under a mask: byte i is exclusive-or'ed with the high byte of mask · (2i + 1) · 40503 modulo 2^16.
fn masked(mask: u8, bytes: &[u8]) -> Vec<u8> {
    let one = |(index, byte): (usize, &u8)| {
        let odd = (index as u16).wrapping_mul(2).wrapping_add(1);
        byte ^ (u16::from(mask).wrapping_mul(odd).wrapping_mul(40_503) >> 8) as u8
    };
    bytes.iter().enumerate().map(one).collect()
}

/// A share as letters. A space at an end or two together would be lost where people copy and paste, so it is spelt under
/// the first mask that gives neither, or the last one tried.
fn spelt(share: &[u8]) -> String {
    let mut text = String::new();
    for mask in 0..=u8::MAX {
        let mut bytes = vec![mask];
        bytes.extend(masked(mask, share));
        bytes.extend(check(mask, share));
        text = base45::encode(&bytes);
        if !text.starts_with(' ') && !text.ends_with(' ') && !text.contains("  ") {
            break;
        }
    }
    text
}

/// The share that letters spell; nothing where its check does not fit.
fn share_of(text: &str) -> Option<Vec<u8>> {
    let bytes = base45::decode(text)?;
    let (mask, bytes) = bytes.split_first()?;
    let (bytes, sum) = bytes.split_last_chunk::<2>()?;
    let share = masked(*mask, bytes);
    (check(*mask, &share) == *sum).then_some(share)
}

/// What came of a pasted text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Collected {
    /// The visit, once every part is there and fits.
    pub visit: Option<String>,
    /// Its entries, once every part is there and fits.
    pub entries: Vec<Entry>,
    /// How many parts the set has; 0 where no part was found.
    pub count: usize,
    /// The numbers of the parts that are not there yet.
    pub missing: Vec<usize>,
    /// What to tell the person, in order.
    pub sentences: Vec<String>,
}

/// The set that a part belongs to: how many parts, and its name.
type Set = (usize, String);

/// One part as it was found in a text.
struct Found {
    set: Set,
    number: usize,
    share: Option<Vec<u8>>,
}

/// Puts parts together again, from a text with any number of them, in any order, with repetitions, and with other words
/// around them. Never fails: what is missing or wrong is said.
///
/// Where the parts belong to more than one set, the one with the most different parts is taken (of equals the one that
/// comes first), and the others are named.
pub fn collect(pasted: &str) -> Collected {
    let mut out = Collected::default();
    let mut sets: Vec<(Set, BTreeMap<usize, Vec<u8>>)> = Vec::new();
    for piece in pieces(pasted) {
        let found = match part(&piece) {
            Ok(found) => found,
            Err(sentence) => {
                out.sentences.push(sentence);
                continue;
            }
        };
        let at = sets.iter().position(|(set, _)| *set == found.set).unwrap_or_else(|| {
            sets.push((found.set.clone(), BTreeMap::new()));
            sets.len() - 1
        });
        let Some(share) = found.share else {
            let (count, name) = &found.set;
            out.sentences.push(format!(
                "Part {} of {count} of set {name} is damaged: letters are missing or changed. Read that code again.",
                found.number
            ));
            continue;
        };
        let parts = &mut sets[at].1;
        match parts.get(&found.number) {
            None => {
                parts.insert(found.number, share);
            }
            Some(same) if *same == share => {
                out.sentences.push(format!("Part {} is there twice. That does no harm.", found.number));
            }
            Some(_) => out.sentences.push(format!(
                "Part {} is there twice with different contents. The first is taken; if the whole does not fit, read that code again.",
                found.number
            )),
        }
    }
    let Some(most) = sets.iter().map(|(_, parts)| parts.len()).max() else {
        if out.sentences.is_empty() {
            out.sentences
                .push(format!("There is no code in this text. Each one begins with {MARK}{FORMAT}/."));
        }
        return out;
    };
    let Some(at) = sets.iter().position(|(_, parts)| parts.len() == most) else { return out };
    let ((count, name), parts) = sets.remove(at);
    for ((_, other), parts) in &sets {
        let numbers = listed(&parts.keys().copied().collect::<Vec<_>>());
        out.sentences.push(format!(
            "{numbers} of another set ({other}) {} left aside: this is set {name}.",
            if parts.len() == 1 { "was" } else { "were" }
        ));
    }
    out.count = count;
    out.missing = (1..=count).filter(|number| !parts.contains_key(number)).collect();
    if !out.missing.is_empty() {
        let show = if out.missing.len() == 1 { "Read that code too." } else { "Read those codes too." };
        let is = if out.missing.len() == 1 { "is" } else { "are" };
        out.sentences.push(format!(
            "{} of {count} {} here. {} {is} missing. {show}",
            count - out.missing.len(),
            if count - out.missing.len() == 1 { "is" } else { "are" },
            listed(&out.missing)
        ));
        return out;
    }
    let bytes: Vec<u8> = parts.into_values().flatten().collect();
    let unpacked = decompress_to_vec_with_limit(&bytes, UNPACKED_MAX).ok().and_then(|bytes| unpack(&bytes));
    match unpacked {
        Some(unpacked) if self::name(&in_runs(&unpacked.entries)) == name => {
            let entries = unpacked.entries.len();
            let all = if count == 1 { "The one part is here".to_owned() } else { format!("All {count} parts are here") };
            let noun = if entries == 1 { "entry" } else { "entries" };
            out.sentences.push(format!("{all}: {entries} {noun}."));
            out.visit = Some(unpacked.visit);
            out.entries = unpacked.entries;
        }
        _ => out.sentences.push(format!(
            "No part is missing, and together they are not the set {name}. Read all codes again, or take the file."
        )),
    }
    out
}

/// "Part 2", "Parts 1, 3 and 4".
fn listed(numbers: &[usize]) -> String {
    let texts: Vec<String> = numbers.iter().map(usize::to_string).collect();
    match texts.split_last() {
        None => "No part".to_owned(),
        Some((one, [])) => format!("Part {one}"),
        Some((last, others)) => format!("Parts {} and {last}", others.join(", ")),
    }
}

/// The pieces of a text that begin like a part. A piece ends with its line.
fn pieces(pasted: &str) -> Vec<String> {
    let mut out = Vec::new();
    for line in pasted.lines() {
        let line = line.to_ascii_uppercase();
        let starts: Vec<usize> = line
            .match_indices(MARK)
            .map(|(at, _)| at)
            .filter(|at| {
                let rest = &line[at + MARK.len()..];
                let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
                digits > 0 && rest[digits..].starts_with('/')
            })
            .collect();
        for (index, start) in starts.iter().enumerate() {
            let end = starts.get(index + 1).copied().unwrap_or(line.len());
            out.push(line[*start..end].trim_end().to_owned());
        }
    }
    out
}

fn part(piece: &str) -> Result<Found, String> {
    let fields: Vec<&str> = piece.splitn(5, '/').collect();
    let format = fields[0].trim_start_matches(MARK);
    if format != FORMAT {
        return Err(format!(
            "This code is of format {format}. This version reads format {FORMAT}: read it with a newer Tober."
        ));
    }
    let [_, number, count, name, data] = fields[..] else {
        return Err(format!(
            "A code is cut short after \"{}\". Read it again.",
            piece.chars().take(HEAD_LETTERS).collect::<String>()
        ));
    };
    let plain = |text: &str| text.parse::<usize>().ok().filter(|value| value.to_string() == text);
    let hexadecimal = name.len() == 8 && name.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'A'..=b'F'));
    match (plain(number), plain(count)) {
        (Some(number), Some(count)) if (1..=count).contains(&number) && count <= PARTS_MAX && hexadecimal => {
            let share = if data.len() > PART_LETTERS_MAX { None } else { share_of(data) };
            Ok(Found { set: (count, name.to_owned()), number, share })
        }
        _ => Err(format!(
            "A code says it is part {} of {} of set {}: that cannot be. Read it again.",
            shown(number),
            shown(count),
            shown(name)
        )),
    }
}

fn shown(text: &str) -> String {
    text.chars().take(12).collect()
}
