//! The three sets of units and the two sets of trade words that a visit chooses from.

use core::fmt;
use core::str::FromStr;

/// Which units a sheet is printed in. Chosen by the visit, one set for one sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum UnitSet {
    /// Millimetres, kilogrammes and tonnes, metres a second.
    #[default]
    Metric,
    /// Millimetres, tonnes, miles an hour.
    Gb,
    /// Inches to the nearest quarter, pounds, miles an hour.
    Us,
}

/// Which side's words a sheet uses. Chosen by the visit, apart from the units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum WordSet {
    /// Build-up, pull-down, packing, chief, arm, turntable centre, car.
    #[default]
    Gb,
    /// Set-up, tear-down, blocking, foreman, sweep, center, tub.
    Us,
}

/// A name that is none of the sets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownSet {
    /// What was asked for, shortened to 40 characters.
    pub name: String,
    /// Of what there is a choice.
    pub choice: &'static str,
    /// The names that are known.
    pub known: &'static [&'static str],
}

impl fmt::Display for UnknownSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\" is no set of {}; write ", self.name, self.choice)?;
        for (i, name) in self.known.iter().enumerate() {
            let before = match i {
                0 => "",
                _ if i + 1 == self.known.len() => " or ",
                _ => ", ",
            };
            write!(f, "{before}\"{name}\"")?;
        }
        f.write_str(".")
    }
}

impl core::error::Error for UnknownSet {}

fn unknown(name: &str, choice: &'static str, known: &'static [&'static str]) -> UnknownSet {
    UnknownSet { name: name.chars().take(40).collect(), choice, known }
}

impl UnitSet {
    /// Every set, in the order in which a choice is offered.
    pub const ALL: [Self; 3] = [Self::Metric, Self::Gb, Self::Us];

    /// How the set is named in a file and on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Gb => "gb",
            Self::Us => "us",
        }
    }
}

impl FromStr for UnitSet {
    type Err = UnknownSet;
    /// Reads the name of a set, exactly as it is written.
    ///
    /// # Errors
    /// If there is no set of that name.
    fn from_str(name: &str) -> Result<Self, UnknownSet> {
        let found = Self::ALL.into_iter().find(|set| set.name() == name);
        found.ok_or_else(|| unknown(name, "units", &["metric", "gb", "us"]))
    }
}

impl fmt::Display for UnitSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl WordSet {
    /// Both sets, in the order in which a choice is offered.
    pub const ALL: [Self; 2] = [Self::Gb, Self::Us];

    /// How the set is named in a file and on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Gb => "gb",
            Self::Us => "us",
        }
    }
}

impl FromStr for WordSet {
    type Err = UnknownSet;
    /// Reads the name of a set, exactly as it is written.
    ///
    /// # Errors
    /// If there is no set of that name.
    fn from_str(name: &str) -> Result<Self, UnknownSet> {
        let found = Self::ALL.into_iter().find(|set| set.name() == name);
        found.ok_or_else(|| unknown(name, "words", &["gb", "us"]))
    }
}

impl fmt::Display for WordSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
