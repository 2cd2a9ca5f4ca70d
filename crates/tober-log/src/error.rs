//! Why a thing is not taken.

use core::fmt;

/// A value that is not taken: what it is, what was given, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    what: String,
    given: String,
    right: String,
}

/// As much of a value as a sentence can carry.
const SHOWN_MAX: usize = 40;

impl Refused {
    pub(crate) fn new(what: &str, given: &str, right: &str) -> Self {
        let shown: String = given.chars().filter(|letter| !letter.is_control()).take(SHOWN_MAX).collect();
        let more = if given.chars().count() > SHOWN_MAX { "…" } else { "" };
        Self { what: what.to_owned(), given: format!("{shown}{more}"), right: right.to_owned() }
    }

    /// What is not taken: "the role", "the hash".
    pub fn what(&self) -> &str {
        &self.what
    }
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut what = self.what.chars();
        let first = what.next().into_iter().flat_map(char::to_uppercase).collect::<String>();
        write!(f, "{first}{} is \"{}\". It must be {}.", what.as_str(), self.given, self.right)
    }
}

impl std::error::Error for Refused {}
