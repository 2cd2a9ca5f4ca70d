//! One number without its sign: `12`, `12.5`, `1,500`, `2.1e11`, `1/2`, `11 1/2`.

use crate::fraction::Reading;
use crate::parse::Cursor;
use crate::{Kind, QuantityError, Refusal};

/// A number and where it stands.
pub(crate) struct Number {
    pub(crate) reading: Reading,
    pub(crate) start: usize,
    pub(crate) end: usize,
}

/// What was scanned of a decimal number.
struct Decimal {
    start: usize,
    end: usize,
    /// Only digits and groups: it may be the whole number or the numerator before a fraction.
    plain: bool,
}

/// A whole number or numerator has at most so many digits, and a denominator at most [`DENOMINATOR`].
const WHOLE: usize = 15;
const DENOMINATOR: usize = 4;

pub(crate) fn number(cursor: &mut Cursor<'_>, wanted: Kind) -> Result<Number, QuantityError> {
    let Some(decimal) = scan(cursor)? else { return Err(no_number(cursor, wanted)) };
    if decimal.plain
        && let Some(number) = with_fraction(cursor, &decimal)?
    {
        return Ok(number);
    }
    refuse_second_number(cursor, &decimal)?;
    let reading = read(cursor.slice(decimal.start, decimal.end));
    Ok(Number { reading, start: decimal.start, end: decimal.end })
}

fn no_number(cursor: &Cursor<'_>, wanted: Kind) -> QuantityError {
    let rest = cursor.rest();
    let word_end = rest.find(|c: char| !(c.is_alphabetic() || c == '∞')).unwrap_or(rest.len());
    let word = &rest[..word_end];
    let not_finite = ["inf", "infinity", "infinite", "nan", "∞"].iter().any(|w| word.eq_ignore_ascii_case(w));
    if not_finite {
        return cursor.refuse(cursor.at, cursor.at + word_end, Refusal::NotFinite { word: word.to_owned() });
    }
    let found = rest.trim_end().to_owned();
    let kind = if found.is_empty() { Refusal::Empty { wanted } } else { Refusal::NoNumber { found, wanted } };
    cursor.refuse(cursor.at, cursor.text.trim_end().len().max(cursor.at), kind)
}

/// Takes digits, groups, a point and a power of ten, and refuses what can be read in two ways.
fn scan(cursor: &mut Cursor<'_>) -> Result<Option<Decimal>, QuantityError> {
    let start = cursor.at;
    let (mut points, mut commas, mut gaps) = (0_u32, 0_u32, 0_u32);
    loop {
        match cursor.peek() {
            Some('0'..='9') => cursor.at += 1,
            Some(c @ ('.' | ',')) if cursor.digits_from(cursor.at + 1) > 0 => {
                points += u32::from(c == '.');
                commas += u32::from(c == ',');
                cursor.at += 1;
            }
            // The sheets print 12 500 with a no-break space, so that has to be read back.
            Some(c @ ('\u{a0}' | '\u{202f}'))
                if cursor.at > start && cursor.group_of_three(cursor.at + c.len_utf8()) =>
            {
                gaps += 1;
                cursor.at += c.len_utf8();
            }
            _ => break,
        }
    }
    if cursor.at == start {
        return Ok(None);
    }
    let digits_end = cursor.at;
    if let Some(c @ ('.' | ',')) = cursor.peek() {
        let end = cursor.at + c.len_utf8();
        return Err(cursor.malformed(start, end));
    }
    if commas + gaps > 0 {
        check_groups(cursor, start, digits_end, points)?;
    }
    if points > 1 {
        return Err(cursor.malformed(start, digits_end));
    }
    let plain = points == 0 && !power_of_ten(cursor);
    if points > 0 {
        power_of_ten(cursor);
    }
    Ok(Some(Decimal { start, end: cursor.at, plain }))
}

/// Takes `e11`, `E-3`.
fn power_of_ten(cursor: &mut Cursor<'_>) -> bool {
    if !matches!(cursor.peek(), Some('e' | 'E')) {
        return false;
    }
    let sign = usize::from(matches!(cursor.text.as_bytes().get(cursor.at + 1), Some(b'+' | b'-')));
    let digits = cursor.digits_from(cursor.at + 1 + sign);
    if digits > 0 {
        cursor.at += 1 + sign + digits;
    }
    digits > 0
}

/// Groups are of three digits, by one kind of mark, before the point, and the first is no lone zero.
fn check_groups(cursor: &Cursor<'_>, start: usize, end: usize, points: u32) -> Result<(), QuantityError> {
    let text = cursor.slice(start, end);
    let whole = text.split('.').next().unwrap_or(text);
    let is_mark = |c: char| !c.is_ascii_digit();
    let mut groups = whole.split(is_mark);
    let first = groups.next().unwrap_or("");
    let threes = groups.all(|group| group.len() == 3);
    let mut marks = whole.chars().filter(|c| is_mark(*c));
    let mark = marks.next();
    let one_mark = mark.is_some() && marks.all(|m| Some(m) == mark);
    let in_whole = text[whole.len()..].chars().all(|c| c.is_ascii_digit() || c == '.');
    if (1..=3).contains(&first.len()) && !first.starts_with('0') && threes && one_mark && in_whole {
        return Ok(());
    }
    let lone_comma = points == 0 && text.matches(is_mark).count() == 1 && mark == Some(',');
    let number = text.to_owned();
    let kind = if lone_comma {
        let lead = if first.is_empty() { "0" } else { "" };
        Refusal::DecimalComma { instead: format!("{lead}{}", text.replace(',', ".")), number }
    } else if points > 1 {
        Refusal::Malformed { number }
    } else {
        Refusal::Grouping { instead: text.replace(|c: char| is_mark(c) && c != '.', ""), number }
    };
    Err(cursor.refuse(start, end, kind))
}

/// A fraction that the decimal begins: it is the numerator, or the whole number before it.
fn with_fraction(cursor: &mut Cursor<'_>, decimal: &Decimal) -> Result<Option<Number>, QuantityError> {
    let back = cursor.at;
    let slash_after = |at: usize, cursor: &Cursor<'_>| {
        cursor.text.as_bytes().get(at) == Some(&b'/') && cursor.digits_from(at + 1) > 0
    };
    let (whole, numerator_at) = if slash_after(cursor.at, cursor) {
        (None, decimal.start)
    } else {
        cursor.skip_spaces();
        // 11-1/2, as American drawings write it.
        if cursor.at == back && cursor.peek() == Some('-') {
            cursor.at += 1;
        }
        let digits = cursor.digits_from(cursor.at);
        let follows = cursor.at > back && digits > 0 && slash_after(cursor.at + digits, cursor);
        if !follows {
            cursor.at = back;
            return Ok(None);
        }
        let numerator_at = cursor.at;
        cursor.at += digits;
        (Some((decimal.start, decimal.end)), numerator_at)
    };
    let slash = cursor.at;
    cursor.at += 1 + cursor.digits_from(slash + 1);
    let end = cursor.at;
    if matches!(cursor.peek(), Some('/' | '.' | ',')) {
        return Err(cursor.malformed(decimal.start, end + 1));
    }
    let whole_value = match whole {
        Some((from, to)) => small(cursor.slice(from, to), WHOLE),
        None => Some(0),
    };
    let numerator = small(cursor.slice(numerator_at, slash), WHOLE);
    let denominator = small(cursor.slice(slash + 1, end), DENOMINATOR);
    let (Some(whole_value), Some(numerator), Some(denominator)) = (whole_value, numerator, denominator)
    else {
        return Err(cursor.malformed(decimal.start, end));
    };
    let fraction = cursor.slice(numerator_at, end).to_owned();
    if denominator == 0 {
        return Err(cursor.refuse(numerator_at, end, Refusal::ZeroDenominator { fraction }));
    }
    if whole.is_some() && numerator >= denominator {
        return Err(cursor.refuse(numerator_at, end, Refusal::ImproperFraction { fraction }));
    }
    let reading = Reading::fraction(whole_value * denominator + numerator, denominator);
    Ok(Some(Number { reading, start: decimal.start, end }))
}

/// A whole number of at most so many digits; groups are skipped.
fn small(text: &str, digits: usize) -> Option<u128> {
    let value = text.bytes().filter(u8::is_ascii_digit).fold((0_u128, 0), |(value, count), digit| {
        (if count < digits { value * 10 + u128::from(digit - b'0') } else { value }, count + 1)
    });
    (value.1 <= digits).then_some(value.0)
}

/// `12 500` with a plain space may be one number or two.
fn refuse_second_number(cursor: &Cursor<'_>, decimal: &Decimal) -> Result<(), QuantityError> {
    let mut ahead = Cursor { text: cursor.text, at: cursor.at };
    ahead.skip_spaces();
    let digits = ahead.digits_from(ahead.at);
    if ahead.at == cursor.at || digits == 0 {
        return Ok(());
    }
    let end = ahead.at + digits;
    if decimal.plain && digits == 3 {
        let number = cursor.slice(decimal.start, end).to_owned();
        let instead = number.replace(|c: char| !c.is_ascii_digit(), "");
        return Err(cursor.refuse(decimal.start, end, Refusal::Grouping { number, instead }));
    }
    Err(cursor.malformed(decimal.start, end))
}

/// The value of a decimal that was scanned.
fn read(text: &str) -> Reading {
    let (mut digits, mut count, mut places, mut after_point) = (0_u64, 0_u32, 0_u32, false);
    let mut power = 0_i32;
    let mut bytes = text.bytes();
    while let Some(byte) = bytes.next() {
        match byte {
            b'0'..=b'9' => {
                count += u32::from(count > 0 || byte != b'0');
                if count <= 19 {
                    digits = digits.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
                }
                places += u32::from(after_point);
            }
            b'.' => after_point = true,
            b'e' | b'E' => {
                // Seven digits of a power decide everything; more of them only keep it out of range.
                power = text[text.len() - bytes.len()..].parse().unwrap_or(i32::MAX);
                break;
            }
            _ => {}
        }
    }
    let exponent = i64::from(power) - i64::from(places);
    let scale = u32::try_from(exponent.unsigned_abs()).ok().and_then(|places| 10_u128.checked_pow(places));
    match scale {
        Some(scale) if count <= 19 && exponent < 0 => Reading::fraction(u128::from(digits), scale),
        Some(scale) if count <= 19 && u128::from(digits).checked_mul(scale).is_some() => {
            Reading::fraction(u128::from(digits) * scale, 1)
        }
        _ => {
            let cleaned: String = text.chars().filter(|c| c.is_ascii() && *c != ',').collect();
            Reading::Nearest(cleaned.parse().unwrap_or(f64::INFINITY))
        }
    }
}
