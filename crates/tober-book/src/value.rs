//! The kinds of value a key can have, and how each is read.

use crate::report::{Node, Report, kind_of, short};
use crate::table::{Bounds, Key, Kind};
use crate::{Code, Span};
use core::fmt;
use tober_quantity::{
    Amount, Angle, Area, Current, Density, Force, FrequencyOfTurning, Length, Mass, Moment, Power, Pressure,
    Quantity, QuantityError, Ratio, SecondMoment, Slope, Speed, Stiffness, Temperature, Time, Toleranced,
    Voltage,
};
use toml::de::DeValue;

/// No list of a file has more items; it bounds the work that a file can ask for.
pub(crate) const MOST_ITEMS: usize = 2_000;

/// A value of a key.
pub(crate) trait Value: Sized {
    const KIND: Kind;
    const REQUIRED: bool = true;
    /// Reads it, reporting what is wrong with it.
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self>;
    /// What it is when the key is not there.
    fn absent() -> Option<Self> {
        None
    }
}

impl<T: Value> Value for Option<T> {
    const KIND: Kind = T::KIND;
    const REQUIRED: bool = false;
    /// A wrong value is reported and then taken as absent, so that what surrounds it is still checked.
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        Some(T::read(value, key, report))
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Value> Value for Vec<T> {
    const KIND: Kind = Kind::List(&T::KIND);
    const REQUIRED: bool = false;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let DeValue::Array(items) = value.value else {
            report.wrong_kind(value, key);
            return Some(Vec::new());
        };
        report.lists.insert(value.span, items.len());
        if items.len() > MOST_ITEMS {
            let message = format!("`{}` has {} items, and no ride has so many.", key.name, items.len());
            let help = format!("At most {MOST_ITEMS} are read.");
            report.error(value.span, Code::OutOfRange, message, help);
            return Some(Vec::new());
        }
        let nodes = items.iter().map(|item| Node { value: item.get_ref(), span: item.span().into() });
        Some(nodes.filter_map(|node| T::read(node, key, report)).collect())
    }
    fn absent() -> Option<Self> {
        Some(Vec::new())
    }
}

/// A list that must be written, be it as an empty one: leaving it out would say more than is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed<T>(pub Vec<T>);

impl<T: Value> Value for Listed<T> {
    const KIND: Kind = Kind::List(&T::KIND);
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        Vec::<T>::read(value, key, report).map(Self)
    }
}

/// What was read once or several times: one value, or a list of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeated<T>(pub Vec<T>);

impl<T: Value> Value for Repeated<T> {
    const KIND: Kind = Kind::Repeated(&T::KIND);
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let DeValue::Array(items) = value.value else {
            return T::read(value, key, report).map(|one| Self(vec![one]));
        };
        if items.is_empty() {
            report.wrong_kind(value, key);
            return None;
        }
        Vec::<T>::read(value, key, report).map(Self)
    }
}

impl Value for String {
    const KIND: Kind = Kind::Text;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let DeValue::String(text) = value.value else {
            report.wrong_kind(value, key);
            return None;
        };
        if text.trim().is_empty() {
            let message = format!("`{}` is empty.", key.name);
            report.error(value.span, Code::OutOfRange, message, "Write something, or leave the key out.");
            return None;
        }
        if key.link != crate::Link::None && (text.trim() != text.as_ref() || text.contains(char::is_control))
        {
            let message = format!("\"{}\" is not a name.", short(text));
            let help = "A name is one line and neither begins nor ends with a space.";
            report.error(value.span, Code::OutOfRange, message, help);
            return None;
        }
        report.link(key.link, text, value.span);
        Some(text.to_string())
    }
}

impl Value for bool {
    const KIND: Kind = Kind::Flag;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        if let DeValue::Boolean(flag) = value.value {
            return Some(*flag);
        }
        report.wrong_kind(value, key);
        None
    }
}

impl Value for usize {
    const KIND: Kind = Kind::Count;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let DeValue::Integer(written) = value.value else {
            report.wrong_kind(value, key);
            return None;
        };
        let (low, high) = match key.bounds {
            Bounds::Any => (0, 1_000_000),
            Bounds::From(low, high) => (low.parse().unwrap_or(0), high.parse().unwrap_or(1_000_000)),
            Bounds::Above(low, high) => {
                (low.parse().map_or(1, |l: i64| l + 1), high.parse().unwrap_or(1_000_000))
            }
        };
        let number = i64::from_str_radix(&written.as_str().replace('_', ""), written.radix()).ok();
        match number.filter(|n| (low..=high).contains(n)).and_then(|n| usize::try_from(n).ok()) {
            Some(count) => Some(count),
            None => {
                let message = format!("`{}` cannot be {}.", key.name, short(written.as_str()));
                let help = format!("It is a whole number from {low} to {high}.");
                report.error(value.span, Code::OutOfRange, message, help);
                None
            }
        }
    }
}

/// What a quantity of a kind is called, and how it is written.
pub(crate) trait Measured: Quantity {
    const WHAT: &'static str;
    const EXAMPLES: &'static str;
}

macro_rules! measured {
    ($($name:ident, $what:literal, $examples:literal;)*) => { $(
        impl Measured for $name {
            const WHAT: &'static str = $what;
            const EXAMPLES: &'static str = $examples;
        }
        impl Value for $name {
            const KIND: Kind = Kind::Quantity { what: $what, examples: $examples, toleranced: false };
            fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
                let read = quantity::<$name>(value, key, report)?;
                within(read, value.span, key, report).then_some(read.value)
            }
        }
        impl Value for Toleranced<$name> {
            const KIND: Kind = Kind::Quantity { what: $what, examples: $examples, toleranced: true };
            fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
                let read = toleranced::<$name>(value, key, report)?;
                within(read, value.span, key, report).then_some(read)
            }
        }
    )* };
}

measured! {
    Length, "a length", "\"640 mm\", \"1.82 m\", \"25 1/4 in\" or \"5 ft 11 1/2 in\"";
    Area, "an area", "\"1.4 m2\", \"16 mm2\" or \"15 ft2\"";
    Mass, "a mass", "\"180 kg\", \"3.4 t\" or \"400 lb\"";
    Force, "a force", "\"12 kN\" or \"2700 lbf\"";
    Moment, "a moment", "\"35 kN m\" or \"26 kip ft\"";
    Pressure, "a pressure", "\"150 kPa\", \"12 N/mm2\" or \"1500 psf\"";
    Density, "a density", "\"1.9 t/m3\" or \"115 lb/ft3\"";
    Time, "a time", "\"90 s\", \"15 min\" or \"2 h\"";
    Speed, "a speed", "\"12 m/s\", \"30 mph\" or \"40 km/h\"";
    Angle, "an angle", "\"45 deg\"";
    Slope, "a slope", "\"4 mm/m\", \"1.5 %\" or \"1/8 in/ft\"";
    Stiffness, "a stiffness", "\"20 kN/mm\"";
    SecondMoment, "a second moment of area", "\"2840 cm4\" or \"68 in4\"";
    FrequencyOfTurning, "a speed of turning", "\"11 rpm\"";
    Power, "a power", "\"7.5 kW\"";
    Current, "a current", "\"63 A\"";
    Voltage, "a voltage", "\"400 V\"";
    Temperature, "a temperature", "\"-5 °C\" or \"23 °F\"";
}

/// A load somebody rated: a force, or the mass whose weight it is (`4.6 t` is 45.1 kN).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Load(pub Force);

impl Value for Load {
    const KIND: Kind = Kind::Quantity {
        what: "a load",
        examples: "\"45 kN\", \"4.6 t\" or \"10000 lb\"",
        toleranced: false,
    };
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let text = quantity_text(value, key, report)?;
        match Force::parse_load(text) {
            Ok(load) if load.off_by == Force::ZERO => {
                within(load, value.span, key, report).then_some(Self(load.value))
            }
            Ok(_) => {
                unreadable(value.span, key, "A rated or measured load is written without ±.", report);
                None
            }
            Err(why) => {
                refused(value.span, key, &why, report);
                None
            }
        }
    }
}

/// A plain ratio between 0 and 1 or a little more, such as a power factor.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Share(pub Ratio);

/// A load that somebody measured, with what it may be off by: a force, or the mass whose weight it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredLoad(pub Toleranced<Force>);

impl Value for MeasuredLoad {
    const KIND: Kind = Kind::Quantity {
        what: "a load",
        examples: "\"1.8 t ± 5 %\", \"18 kN ± 0.5 kN\" or \"4000 lb ± 100 lb\"",
        toleranced: true,
    };
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        match Force::parse_load(quantity_text(value, key, report)?) {
            Ok(load) => within(load, value.span, key, report).then_some(Self(load)),
            Err(why) => {
                refused(value.span, key, &why, report);
                None
            }
        }
    }
}

impl Value for Share {
    const KIND: Kind = Kind::Share;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let number = match value.value {
            DeValue::Float(float) => float.as_str().replace('_', "").parse().ok().map(Ratio::one),
            DeValue::Integer(whole) => whole.as_str().replace('_', "").parse().ok().map(Ratio::one),
            DeValue::String(text) => Ratio::parse(text).ok(),
            _ => {
                report.wrong_kind(value, key);
                return None;
            }
        };
        match number.filter(|ratio| ratio.is_finite()) {
            Some(ratio) => within(Toleranced::exact(ratio), value.span, key, report).then_some(Self(ratio)),
            None => {
                unreadable(value.span, key, "This is not a ratio.", report);
                None
            }
        }
    }
}

/// A quantity of any kind, for what somebody reads off in a step or a check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnyQuantity(pub Amount);

impl Value for AnyQuantity {
    const KIND: Kind = Kind::Quantity {
        what: "a quantity",
        examples: "\"645 mm\", \"12 A\", \"11 rpm\" or \"90 s\"",
        toleranced: false,
    };
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let text = quantity_text(value, key, report)?;
        fn amount<Q: Quantity>(text: &str) -> Option<Amount> {
            Q::parse(text).ok().map(Quantity::amount)
        }
        let readers = [
            amount::<Length>,
            amount::<Mass>,
            amount::<Force>,
            amount::<Time>,
            amount::<Speed>,
            amount::<Angle>,
            amount::<Slope>,
            amount::<FrequencyOfTurning>,
            amount::<Current>,
            amount::<Voltage>,
            amount::<Power>,
            amount::<Pressure>,
            amount::<Moment>,
            amount::<Temperature>,
            amount::<Ratio>,
        ];
        let read = readers.iter().find_map(|reader| reader(text));
        if read.is_none() {
            let why = format!("\"{}\" is not a number with a unit.", short(text));
            unreadable(value.span, key, &why, report);
        }
        read.map(Self)
    }
}

/// A position on a plan: along the frame and across it, or along and across a pitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Along: x.
    pub along: Length,
    /// Across: y.
    pub across: Length,
}

/// A position in space, each part with what it may be off by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point3 {
    /// Along: x.
    pub along: Toleranced<Length>,
    /// Across: y.
    pub across: Toleranced<Length>,
    /// Up from the datum plane: z.
    pub up: Toleranced<Length>,
}

impl Value for Point {
    const KIND: Kind = Kind::Point { axes: 2, toleranced: false };
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let [along, across] = coordinates(value, key, report)?;
        let along = quantity::<Length>(along, key, report).filter(|c| near(*c, along.span, key, report));
        let across = quantity::<Length>(across, key, report).filter(|c| near(*c, across.span, key, report));
        Some(Self { along: along?.value, across: across?.value })
    }
}

impl Value for Point3 {
    const KIND: Kind = Kind::Point { axes: 3, toleranced: true };
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let nodes: [Node<'_, '_>; 3] = coordinates(value, key, report)?;
        let [along, across, up] = nodes
            .map(|node| toleranced::<Length>(node, key, report).filter(|c| near(*c, node.span, key, report)));
        Some(Self { along: along?, across: across?, up: up? })
    }
}

/// The parts of a point, if there are as many as it has axes.
fn coordinates<'a, 'i, const N: usize>(
    value: Node<'a, 'i>,
    key: &'static Key,
    report: &mut Report,
) -> Option<[Node<'a, 'i>; N]> {
    if let DeValue::Array(items) = value.value
        && items.len() == N
    {
        let parts: Vec<Node<'a, 'i>> =
            items.iter().map(|item| Node { value: item.get_ref(), span: item.span().into() }).collect();
        return parts.try_into().ok();
    }
    report.wrong_kind(value, key);
    None
}

/// Whether a coordinate is on any ride or pitch there could be: within 500 m of the origin.
fn near(read: Toleranced<Length>, span: Span, key: &Key, report: &mut Report) -> bool {
    let inside = read.low().as_m() >= -500.0 && read.high().as_m() <= 500.0;
    if !inside {
        let message = format!("A coordinate of `{}` is too far out.", key.name);
        report.error(span, Code::OutOfRange, message, "It lies from \"-500 m\" to \"500 m\".");
    }
    inside
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// The year, 1900 to 2999.
    pub year: u16,
    /// The month, 1 to 12.
    pub month: u8,
    /// The day of the month.
    pub day: u8,
}

impl Date {
    /// A day that exists.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            2 => 28 + u8::from(leap),
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => return None,
        };
        let exists = (1900..=2999).contains(&year) && (1..=days).contains(&day);
        exists.then_some(Self { year, month, day })
    }
    fn parse(text: &str) -> Option<Self> {
        let mut parts = text.splitn(3, '-');
        let mut part = |digits: usize| {
            parts.next().filter(|p| p.len() == digits && p.bytes().all(|b| b.is_ascii_digit()))
        };
        let (year, month, day) = (part(4)?, part(2)?, part(2)?);
        Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl Value for Date {
    const KIND: Kind = Kind::Date;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let text = day_or_time(value, key, report)?;
        let date = Self::parse(&text);
        if date.is_none() {
            let why = format!("\"{}\" is not a day of the calendar.", short(&text));
            unreadable(value.span, key, &why, report);
        }
        date
    }
}

/// A time of day on the clock of the pitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TimeOfDay {
    /// Minutes after midnight, below 1440.
    pub minutes: u16,
}

impl TimeOfDay {
    fn parse(text: &str) -> Option<Self> {
        let (hour, minute) = text.split_once(':')?;
        // TOML's own times have seconds; whole minutes are meant here.
        let minute = minute.strip_suffix(":00").unwrap_or(minute);
        let digits = |part: &str| {
            (part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit())).then(|| part.parse::<u16>().ok())?
        };
        let (hour, minute) = (digits(hour)?, digits(minute)?);
        (hour < 24 && minute < 60).then_some(Self { minutes: hour * 60 + minute })
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

impl Value for TimeOfDay {
    const KIND: Kind = Kind::TimeOfDay;
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let text = day_or_time(value, key, report)?;
        let time = Self::parse(&text);
        if time.is_none() {
            let why = format!("\"{}\" is not a time of day in whole minutes.", short(&text));
            unreadable(value.span, key, &why, report);
        }
        time
    }
}

fn day_or_time(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<String> {
    match value.value {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Datetime(written) => Some(written.to_string()),
        _ => {
            report.wrong_kind(value, key);
            None
        }
    }
}

/// The text of a quantity; a bare number is refused with the units that are accepted.
fn quantity_text<'a>(value: Node<'a, '_>, key: &'static Key, report: &mut Report) -> Option<&'a str> {
    match value.value {
        DeValue::String(text) => Some(text.as_ref()),
        other => {
            let (Kind::Quantity { .. } | Kind::Point { .. } | Kind::List(_) | Kind::Repeated(_)) = key.kind
            else {
                report.wrong_kind(value, key);
                return None;
            };
            let (what, examples) = key.kind.quantity();
            let message = format!(
                "`{}` needs {what} with its unit, in quotes, and this is {}.",
                key.name,
                kind_of(other)
            );
            report.error(value.span, Code::WrongKind, message, format!("Write it as {examples}."));
            None
        }
    }
}

fn quantity<Q: Measured>(
    value: Node<'_, '_>,
    key: &'static Key,
    report: &mut Report,
) -> Option<Toleranced<Q>> {
    let text = quantity_text(value, key, report)?;
    match Q::parse(text) {
        Ok(read) => Some(Toleranced::exact(read)),
        Err(why) => {
            refused(value.span, key, &why, report);
            None
        }
    }
}

fn toleranced<Q: Measured>(
    value: Node<'_, '_>,
    key: &'static Key,
    report: &mut Report,
) -> Option<Toleranced<Q>> {
    let text = quantity_text(value, key, report)?;
    match Q::parse_toleranced(text) {
        Ok(read) => Some(read),
        Err(why) => {
            refused(value.span, key, &why, report);
            None
        }
    }
}

/// Says why a quantity was refused, at the bytes at fault where the text has no escapes.
fn refused(span: Span, key: &Key, why: &QuantityError, report: &mut Report) {
    let span = report.inside(span, &why.span);
    report.error(span, Code::Unreadable, format!("`{}`: {why}", key.name), why.hint());
}

fn unreadable(span: Span, key: &Key, why: &str, report: &mut Report) {
    let help = format!("Write {}.", key.kind.example(key.name));
    report.error(span, Code::Unreadable, format!("`{}`: {why}", key.name), help);
}

/// Whether the whole of a value, with what it may be off by, lies inside the bounds of its key.
fn within<Q: Quantity>(read: Toleranced<Q>, span: Span, key: &Key, report: &mut Report) -> bool {
    let bound = |text: &str| bound::<Q>(text, key);
    let (inside, help) = match key.bounds {
        Bounds::Any => return true,
        Bounds::Above(low, high) => (
            bound(low).is_none_or(|l| read.low().si() > l)
                && bound(high).is_none_or(|h| read.high().si() <= h),
            format!("It is more than \"{low}\" and at most \"{high}\"."),
        ),
        Bounds::From(low, high) => (
            bound(low).is_none_or(|l| read.low().si() >= l)
                && bound(high).is_none_or(|h| read.high().si() <= h),
            format!("It is at least \"{low}\" and at most \"{high}\"."),
        ),
    };
    if !inside {
        let message = format!("`{}` is outside what it can be.", key.name);
        report.error(span, Code::OutOfRange, message, help);
    }
    inside
}

/// A bound of a key in SI units; a test reads every bound of the table.
pub(crate) fn bound<Q: Quantity>(text: &str, key: &Key) -> Option<f64> {
    let plain = matches!(key.kind, Kind::Share).then(|| text.parse::<f64>().ok()).flatten();
    plain.or_else(|| Q::parse(text).ok().map(Quantity::si))
}
