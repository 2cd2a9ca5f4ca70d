//! The declarative table: what each file may say.

/// One of the files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FileKind {
    /// `ride.toml`, the ride book.
    Ride,
    /// `kit.toml`.
    Kit,
    /// `crew.toml`.
    Crew,
    /// `pitch.toml`.
    Pitch,
    /// `visit.toml`.
    Visit,
    /// `frame.toml`, what was read of a lowered frame.
    Frame,
    /// `weighing.toml`, what was read on scales.
    Weighing,
}

impl FileKind {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Ride, Self::Kit, Self::Crew, Self::Pitch, Self::Visit, Self::Frame, Self::Weighing];

    /// What the file may say.
    pub fn section(self) -> &'static Section {
        use crate::section::Sectioned;
        match self {
            Self::Ride => crate::Ride::SECTION,
            Self::Kit => crate::Kit::SECTION,
            Self::Crew => crate::Crew::SECTION,
            Self::Pitch => crate::Pitch::SECTION,
            Self::Visit => crate::Visit::SECTION,
            Self::Frame => crate::LoweredFrame::SECTION,
            Self::Weighing => crate::Weighing::SECTION,
        }
    }
    /// What it is called where one is asked for.
    pub fn word(self) -> &'static str {
        self.file_name().strip_suffix(".toml").unwrap_or(self.file_name())
    }
    /// The usual name of the file.
    pub fn file_name(self) -> &'static str {
        match self {
            Self::Ride => "ride.toml",
            Self::Kit => "kit.toml",
            Self::Crew => "crew.toml",
            Self::Pitch => "pitch.toml",
            Self::Visit => "visit.toml",
            Self::Frame => "frame.toml",
            Self::Weighing => "weighing.toml",
        }
    }
}

/// A table of a file: its keys, and what they mean.
#[derive(Debug)]
pub struct Section {
    /// The name of the type of the model.
    pub name: &'static str,
    /// What it is.
    pub doc: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
}

/// One key of a section.
#[derive(Debug)]
pub struct Key {
    /// How it is written.
    pub name: &'static str,
    /// What it means.
    pub doc: &'static str,
    /// What its value must be.
    pub kind: Kind,
    /// Whether a section without it is refused.
    pub required: bool,
    /// What its value may be.
    pub bounds: Bounds,
    /// Whether it gives or uses a name.
    pub link: Link,
}

/// What a value must be.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// Any text.
    Text,
    /// `true` or `false`.
    Flag,
    /// A whole number.
    Count,
    /// A day, `2031-05-02`.
    Date,
    /// A time of day, `05:30`.
    TimeOfDay,
    /// A quantity in a string with its unit.
    Quantity {
        /// What is measured, with its article: `a length`.
        what: &'static str,
        /// Examples of how to write it.
        examples: &'static str,
        /// Whether `± 5 %` may follow.
        toleranced: bool,
    },
    /// A plain ratio: a number, or a percentage in a string.
    Share,
    /// A list of two or three lengths: along, across, up.
    Point {
        /// Two or three.
        axes: usize,
        /// Whether each may have `± 5 mm`.
        toleranced: bool,
    },
    /// One of a set of words.
    OneOf(&'static [Choice]),
    /// One value, or a list of them where it was read more than once.
    Repeated(&'static Kind),
    /// A list.
    List(&'static Kind),
    /// A table.
    Table(&'static Section),
    /// A table whose first key says which of several it is.
    Variants {
        /// The key that says which.
        tag: &'static str,
        /// Which there are.
        variants: &'static [Variant],
    },
}

/// One word of a set.
#[derive(Debug)]
pub struct Choice {
    /// How it is written.
    pub word: &'static str,
    /// What it means.
    pub doc: &'static str,
}

/// One of the tables that may stand in a place.
#[derive(Debug)]
pub struct Variant {
    /// The word that says it is this one.
    pub word: &'static str,
    /// What it means.
    pub doc: &'static str,
    /// Its other keys.
    pub section: &'static Section,
}

/// What a value may be, written as the user would write it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bounds {
    /// Anything of its kind.
    Any,
    /// More than the first and at most the second.
    Above(&'static str, &'static str),
    /// At least the first and at most the second.
    From(&'static str, &'static str),
}

/// More than the first and at most the second.
pub(crate) const fn above(low: &'static str, high: &'static str) -> Bounds {
    Bounds::Above(low, high)
}
/// At least the first and at most the second.
pub(crate) const fn from(low: &'static str, high: &'static str) -> Bounds {
    Bounds::From(low, high)
}

/// Whether a key gives a name to something, or uses one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Link {
    /// Neither.
    None,
    /// The name of something, which nothing else of its group may have.
    Defines(Group),
    /// The name of something that must be there.
    Refers(Group),
}

/// Things that have names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// A node of a frame's beams.
    Node,
    /// A support.
    Support,
    /// A body.
    Body,
    /// A placement of a body.
    Placement,
    /// A guy.
    Guy,
    /// A kind of fixing.
    Fixing,
    /// A home of a fixing.
    Home,
    /// A step.
    Step,
    /// A circuit.
    Circuit,
    /// Something switched that is no circuit.
    Switch,
    /// An inlet.
    Inlet,
    /// A rotation.
    Rotation,
    /// A seat.
    Seat,
    /// A check.
    Check,
    /// A board.
    Board,
    /// A cable.
    Cable,
    /// A winch.
    Winch,
    /// A jack.
    Jack,
    /// A tool.
    Tool,
    /// A generator.
    Generator,
    /// A person.
    Person,
    /// A set-up of an instrument.
    SetUp,
    /// An obstacle.
    Obstacle,
    /// A drain.
    Drain,
    /// A supply.
    Supply,
    /// A way in which the ride stood on scales.
    State,
}

impl Group {
    /// What one of them is called in a sentence.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Node => "node",
            Self::Support => "support",
            Self::Body => "body",
            Self::Placement => "placement",
            Self::Guy => "guy",
            Self::Fixing => "fixing",
            Self::Home => "home",
            Self::Step => "step",
            Self::Circuit => "circuit",
            Self::Switch => "switch",
            Self::Inlet => "inlet",
            Self::Rotation => "rotation",
            Self::Seat => "seat",
            Self::Check => "check",
            Self::Board => "board",
            Self::Cable => "cable",
            Self::Winch => "winch",
            Self::Jack => "jack",
            Self::Tool => "tool",
            Self::Generator => "generator",
            Self::Person => "person",
            Self::SetUp => "set-up",
            Self::Obstacle => "obstacle",
            Self::Drain => "drain",
            Self::Supply => "supply",
            Self::State => "state",
        }
    }
}

/// Every optional key that a file of a kind may have, with the path to it: `support.rated-load`.
///
/// A list of tables and a single table are written alike; the keys of a variant follow the path of the
/// key that holds it. Left out are the keys whose loss does not make a file say less but something else.
pub fn optional_keys(file: FileKind) -> Vec<(String, &'static Key)> {
    let mut found = Vec::new();
    walk(file.section(), "", &mut found);
    found.retain(|(path, key)| {
        let top = path.split('.').next().unwrap_or("");
        !key.required && says_less(file, top, key.name)
    });
    found
}

/// Whether a file says less without a key, and not something else.
///
/// Two keys of a visit are the chief's choice and no knowledge: limits stricter than the maker's, and bodies
/// left at home. Without them the visit is another one.
pub(crate) fn says_less(file: FileKind, top: &str, key: &str) -> bool {
    file != FileKind::Visit || (top != "limits" && key != "without")
}

pub(crate) fn walk(section: &'static Section, prefix: &str, found: &mut Vec<(String, &'static Key)>) {
    for key in section.keys {
        let path = if prefix.is_empty() { key.name.to_owned() } else { format!("{prefix}.{}", key.name) };
        found.push((path.clone(), key));
        walk_kind(&key.kind, &path, found);
    }
}

fn walk_kind(kind: &'static Kind, path: &str, found: &mut Vec<(String, &'static Key)>) {
    match kind {
        Kind::List(inner) | Kind::Repeated(inner) => walk_kind(inner, path, found),
        Kind::Table(section) => walk(section, path, found),
        Kind::Variants { variants, .. } => {
            for variant in *variants {
                walk(variant.section, path, found);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::{Bounds, FileKind, walk};
    use crate::value::Measured;
    use tober_quantity::*;

    /// A bound in SI units, by what its key measures.
    fn bound_si(text: &str, kind: &super::Kind) -> Option<f64> {
        fn si<Q: Measured>(text: &str) -> (&'static str, Option<f64>) {
            (Q::WHAT, Q::parse(text).ok().map(Quantity::si))
        }
        let what = match kind {
            super::Kind::Count => return text.parse::<u32>().ok().map(f64::from),
            super::Kind::Share => return text.parse().ok(),
            super::Kind::List(inner) | super::Kind::Repeated(inner) => return bound_si(text, inner),
            super::Kind::Quantity { what: "a load", .. } => Force::WHAT,
            super::Kind::Quantity { what, .. } => what,
            _ => return None,
        };
        let all = [
            si::<Length>(text),
            si::<Area>(text),
            si::<Mass>(text),
            si::<Force>(text),
            si::<Moment>(text),
            si::<Pressure>(text),
            si::<Density>(text),
            si::<Time>(text),
            si::<Speed>(text),
            si::<Angle>(text),
            si::<Slope>(text),
            si::<Stiffness>(text),
            si::<SecondMoment>(text),
            si::<FrequencyOfTurning>(text),
            si::<Power>(text),
            si::<Current>(text),
            si::<Voltage>(text),
            si::<Temperature>(text),
        ];
        all.into_iter().find(|(name, _)| *name == what).and_then(|(_, si)| si)
    }

    #[test]
    fn law_every_bound_of_the_table_is_read_and_runs_upward() {
        let mut bounds = 0;
        for file in FileKind::ALL {
            let mut keys = Vec::new();
            walk(file.section(), "", &mut keys);
            for (path, key) in keys {
                let (Bounds::Above(low, high) | Bounds::From(low, high)) = key.bounds else { continue };
                let (low, high) = (bound_si(low, &key.kind), bound_si(high, &key.kind));
                let (Some(low), Some(high)) = (low, high) else { panic!("{path} has a bound nobody reads") };
                assert!(low <= high, "{path}");
                bounds += 1;
            }
        }
        assert!(bounds > 100, "{bounds}");
    }

    #[test]
    fn law_names_of_keys_are_plain_words() {
        for file in FileKind::ALL {
            let mut keys = Vec::new();
            walk(file.section(), "", &mut keys);
            for (path, key) in keys {
                let plain = |c: char| c.is_ascii_lowercase() || c == '-';
                assert!(key.name.chars().all(plain) && !key.name.starts_with('-'), "{path}");
            }
        }
    }
}
