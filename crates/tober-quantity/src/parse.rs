//! A text becomes a value in SI units, or is refused with the bytes that are at fault.
//!
//! ```text
//! quantity  = [sign] value [("±" | "+/-") value]
//! value     = number [unit] { number unit }        feet and inches, hours and minutes
//! number    = digits ["." digits] ["e" power] | [digits] digits "/" digits
//! ```

use crate::fraction::Reading;
use crate::number::{Number, number};
use crate::spelling::{self, Spelling};
use crate::{Kind, QuantityError, Refusal, Unit};

/// No quantity is longer, in bytes; it bounds the work and the length of a message.
const LONGEST: usize = 120;

/// A place in a text.
pub(crate) struct Cursor<'a> {
    pub(crate) text: &'a str,
    pub(crate) at: usize,
}

impl<'a> Cursor<'a> {
    pub(crate) fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }
    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }
    pub(crate) fn slice(&self, start: usize, end: usize) -> &'a str {
        &self.text[start..end]
    }
    pub(crate) fn skip_spaces(&mut self) {
        while let Some(c) = self.peek().filter(|c| c.is_whitespace()) {
            self.at += c.len_utf8();
        }
    }
    /// How many digits stand from a place on.
    pub(crate) fn digits_from(&self, at: usize) -> usize {
        self.text.as_bytes()[at.min(self.text.len())..].iter().take_while(|b| b.is_ascii_digit()).count()
    }
    /// Whether exactly three digits stand there, and no fraction.
    pub(crate) fn group_of_three(&self, at: usize) -> bool {
        self.digits_from(at) == 3 && self.text.as_bytes().get(at + 3) != Some(&b'/')
    }
    pub(crate) fn refuse(&self, start: usize, end: usize, kind: Refusal) -> QuantityError {
        QuantityError { kind, span: start..end }
    }
    pub(crate) fn malformed(&self, start: usize, end: usize) -> QuantityError {
        self.refuse(start, end, Refusal::Malformed { number: self.slice(start, end).to_owned() })
    }
    fn take(&mut self, word: &str) -> bool {
        let found = self.rest().starts_with(word);
        self.at += if found { word.len() } else { 0 };
        found
    }
    /// The sign that stands here: -1 or 1, or none.
    fn sign(&mut self) -> Option<f64> {
        // The hyphen on the keyboard, and the true minus that the sheets print.
        if self.take("-") || self.take("\u{2212}") {
            Some(-1.0)
        } else if !self.rest().starts_with("+/-") && self.take("+") {
            Some(1.0)
        } else {
            None
        }
    }
}

/// A value without its sign, in one unit.
struct Value {
    reading: Reading,
    unit: Option<&'static Unit>,
    start: usize,
    end: usize,
}

/// A value without a tolerance, in SI units.
pub(crate) fn plain(text: &str, wanted: Kind) -> Result<f64, QuantityError> {
    let (value, tolerance) = read(text, wanted)?;
    match tolerance {
        None => Ok(value),
        Some((_, start)) => {
            Err(QuantityError { kind: Refusal::ToleranceNotWanted, span: start..text.trim_end().len() })
        }
    }
}

/// A value and what it may be off by, in SI units.
pub(crate) fn toleranced(text: &str, wanted: Kind) -> Result<(f64, f64), QuantityError> {
    let (value, tolerance) = read(text, wanted)?;
    Ok((value, tolerance.map_or(0.0, |(off_by, _)| off_by)))
}

/// A value and, where there is one, its tolerance and where that begins.
fn read(text: &str, wanted: Kind) -> Result<(f64, Option<(f64, usize)>), QuantityError> {
    if text.len() > LONGEST {
        let kind = Refusal::TooLong { bytes: text.len(), limit: LONGEST };
        return Err(QuantityError { kind, span: 0..text.len() });
    }
    let mut cursor = Cursor { text, at: 0 };
    cursor.skip_spaces();
    let start = cursor.at;
    if cursor.rest().is_empty() {
        return Err(QuantityError { kind: Refusal::Empty { wanted }, span: 0..text.len() });
    }
    let sign = cursor.sign().unwrap_or(1.0);
    cursor.skip_spaces();
    let mut value = value(&mut cursor, wanted)?;
    cursor.skip_spaces();
    let mark = cursor.at;
    let spread = if cursor.take("±") || cursor.take("+/-") {
        Some(spread(&mut cursor, wanted, &mut value)?)
    } else {
        None
    };
    cursor.skip_spaces();
    if !cursor.rest().is_empty() {
        let text = cursor.rest().trim_end().to_owned();
        let end = cursor.at + text.len();
        return Err(cursor.refuse(cursor.at, end, Refusal::Trailing { text }));
    }
    let unit = unit_or_none_needed(&cursor, &value, wanted)?;
    let magnitude = scaled(value.reading, unit);
    let si = sign * magnitude + unit.to_si(0.0);
    in_range(&cursor, si, wanted, start, value.end)?;
    let Some(spread) = spread else { return Ok((si, None)) };
    let off_by = match spread {
        Spread::Of(spread) => {
            let unit = unit_or_none_needed(&cursor, &spread, wanted)?;
            let off_by = scaled(spread.reading, unit);
            in_range(&cursor, off_by, wanted, spread.start, spread.end)?;
            off_by
        }
        Spread::Percent(percent) => {
            if magnitude == 0.0 {
                return Err(cursor.refuse(mark, percent.end, Refusal::PercentOfNothing));
            }
            let off_by = share(value.reading, percent.reading, unit);
            in_range(&cursor, off_by, wanted, percent.start, percent.end)?;
            off_by
        }
    };
    Ok((si, Some((off_by, mark))))
}

/// A tolerance as it was read.
enum Spread {
    /// With a unit of the kind that is wanted.
    Of(Value),
    /// In per cent of the value.
    Percent(Number),
}

fn spread(cursor: &mut Cursor<'_>, wanted: Kind, value: &mut Value) -> Result<Spread, QuantityError> {
    cursor.skip_spaces();
    let start = cursor.at;
    if cursor.sign().is_some() {
        cursor.skip_spaces();
        let end = cursor.at + cursor.digits_from(cursor.at);
        let tolerance = cursor.slice(start, end).to_owned();
        return Err(cursor.refuse(start, end, Refusal::NegativeTolerance { tolerance }));
    }
    let back = cursor.at;
    let number = number(cursor, wanted)?;
    if let Spelling::Percent { end } = spelling::percent(cursor) {
        let span_start = back;
        if Unit::PERCENT.kinds.contains(&wanted) {
            return Err(cursor.refuse(span_start, end, Refusal::PercentHasTwoMeanings { wanted }));
        }
        if wanted == Kind::Temperature {
            return Err(cursor.refuse(span_start, end, Refusal::PercentOfTemperature));
        }
        cursor.at = end;
        return Ok(Spread::Percent(Number { end, ..number }));
    }
    cursor.at = back;
    let spread = self::value(cursor, wanted)?;
    // 645 ± 3 mm: one unit for both.
    if value.unit.is_none() && wanted != Kind::Ratio {
        value.unit = spread.unit;
    }
    Ok(Spread::Of(spread))
}

/// The unit of a value; a ratio needs none.
fn unit_or_none_needed(
    cursor: &Cursor<'_>,
    value: &Value,
    wanted: Kind,
) -> Result<&'static Unit, QuantityError> {
    match value.unit {
        Some(unit) => Ok(unit),
        None if wanted == Kind::Ratio => Ok(&Unit::ONE),
        None => {
            let number = cursor.slice(value.start, value.end).to_owned();
            Err(cursor.refuse(value.start, value.end, Refusal::NoUnit { number, wanted }))
        }
    }
}

/// A magnitude in SI units, without the zero of its scale.
fn scaled(reading: Reading, unit: &Unit) -> f64 {
    match unit.fraction() {
        Some((times, over)) => reading.times(times, over).value(),
        None => unit.difference_to_si(reading.value()),
    }
}

/// So many per cent of a magnitude, in SI units.
fn share(reading: Reading, percent: Reading, unit: &Unit) -> f64 {
    match (percent, unit.fraction()) {
        (Reading::Exact(n, d), Some((times, over))) => {
            reading.times(times, over).times(n, d).times(1, 100).value()
        }
        _ => scaled(reading, unit) * percent.value() / 100.0,
    }
}

fn in_range(
    cursor: &Cursor<'_>,
    si: f64,
    wanted: Kind,
    start: usize,
    end: usize,
) -> Result<(), QuantityError> {
    let (greatest, unit) = wanted.greatest();
    let value = || cursor.slice(start, end).to_owned();
    if !si.is_finite() || si.abs() > unit.to_si(greatest) {
        return Err(cursor.refuse(start, end, Refusal::TooLarge { value: value(), wanted }));
    }
    if wanted == Kind::Temperature && si < 0.0 {
        return Err(cursor.refuse(start, end, Refusal::BelowAbsoluteZero { value: value() }));
    }
    Ok(())
}

/// How many of the smaller unit make one of the larger, where a value may have such parts.
fn parts(larger: &Unit) -> Option<(&'static Unit, u32)> {
    match larger.symbol {
        "ft" => Some((&Unit::INCH, 12)),
        "d" => Some((&Unit::HOUR, 24)),
        "h" => Some((&Unit::MINUTE, 60)),
        "min" => Some((&Unit::SECOND, 60)),
        _ => None,
    }
}

/// A number and its unit, with smaller parts behind it where there are any.
fn value(cursor: &mut Cursor<'_>, wanted: Kind) -> Result<Value, QuantityError> {
    let mut last = number(cursor, wanted)?;
    let Some(mut unit) = spelling::unit(cursor, wanted)? else {
        return Ok(Value { reading: last.reading, unit: None, start: last.start, end: last.end });
    };
    let start = last.start;
    let mut reading = last.reading;
    loop {
        let end = cursor.at;
        cursor.skip_spaces();
        // 2'-3 1/2", as American drawings write it.
        if unit.symbol == "ft" && cursor.at == end && cursor.slice(start, end).ends_with(['\'', '′', '’'])
        {
            let dash = cursor.rest().starts_with('-') && cursor.digits_from(cursor.at + 1) > 0;
            cursor.at += usize::from(dash);
        }
        if cursor.digits_from(cursor.at) == 0 {
            cursor.at = end;
            return Ok(Value { reading, unit: Some(unit), start, end });
        }
        let part = number(cursor, wanted)?;
        let Some(part_unit) = spelling::unit(cursor, wanted)? else {
            let number = cursor.slice(part.start, part.end).to_owned();
            return Err(cursor.refuse(part.start, part.end, Refusal::NoUnit { number, wanted }));
        };
        let makes = match parts(unit) {
            Some((smaller, makes)) if smaller.symbol == part_unit.symbol => makes,
            _ => {
                let kind = Refusal::WrongParts { first: unit.symbol, second: part_unit.symbol };
                return Err(cursor.refuse(last.start, cursor.at, kind));
            }
        };
        if !last.reading.is_whole() {
            let number = cursor.slice(last.start, last.end).to_owned();
            let kind = Refusal::PartNotWhole { number, unit: unit.symbol };
            return Err(cursor.refuse(last.start, last.end, kind));
        }
        if !part.reading.is_below(makes) {
            let number = cursor.slice(part.start, part.end).to_owned();
            let kind = Refusal::PartTooLarge { number, unit: part_unit.symbol, makes, larger: unit.symbol };
            return Err(cursor.refuse(part.start, part.end, kind));
        }
        reading = reading.times(u128::from(makes), 1).plus(part.reading);
        (unit, last) = (part_unit, part);
    }
}
