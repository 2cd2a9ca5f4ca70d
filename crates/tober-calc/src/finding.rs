//! Findings: one checked statement each.
//!
//! A finding says of what it speaks, what was demanded, what is allowed, how the two stand, on what
//! it rests, and how its number was obtained. There is one type for terminal, screens and paper.
//!
//! Invariant: a finding whose number is missing is [`Standing::NotKnown`], and says what would make
//! it known. There is no way to build one that is inside its limit without a demand and a limit.

use crate::working::Working;
use core::fmt;
use tober_quantity::{Amount, Band, Limit, UnitSet, share_percent};

/// Of what a finding speaks.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// The ride as a whole.
    Ride,
    /// The frame.
    Frame,
    /// A support, by its name.
    Support(String),
    /// A body, by its name.
    Body(String),
    /// A kind of board in the kit, by its name.
    Board(String),
    /// The pitch.
    Pitch,
    /// A step of the work, by its name.
    Step(String),
    /// A reading of the survey, by its point.
    Reading(String),
    /// A case that was worked by hand, outside any visit.
    Case(String),
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ride => f.write_str("ride"),
            Self::Frame => f.write_str("frame"),
            Self::Pitch => f.write_str("pitch"),
            Self::Support(name)
            | Self::Body(name)
            | Self::Board(name)
            | Self::Step(name)
            | Self::Reading(name)
            | Self::Case(name) => f.write_str(name),
        }
    }
}

/// How a finding stands. The order is from good to bad, with *not known* last: it is never good.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Inside its limit, with at least a fifth to spare.
    Inside,
    /// Inside its limit, from 80 % of it up.
    Close,
    /// Outside its limit.
    PastLimit,
    /// No figure, or not enough is known to judge one.
    NotKnown,
}

impl Standing {
    /// The word that stands beside the mark.
    pub fn word(self) -> &'static str {
        match self {
            Self::Inside => "Inside",
            Self::Close => "Close",
            Self::PastLimit => "Past limit",
            Self::NotKnown => "Not known",
        }
    }
    /// The standing of a share in whole per cent.
    pub fn of_share(percent: u32) -> Self {
        match percent {
            0..80 => Self::Inside,
            80..=100 => Self::Close,
            _ => Self::PastLimit,
        }
    }
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// What something that was searched or proved comes with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Shown to hold for every case there is.
    Proved,
    /// The true value lies between what was found and this bound.
    Bounded {
        /// The bound, in words with its number.
        bound: String,
    },
    /// Shown not to hold, by a case that can be followed.
    Refuted {
        /// The case.
        counterexample: String,
    },
    /// The work budget ended first.
    NotReached {
        /// The best that was found.
        best: String,
    },
}

/// On what a limit or a method rests.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// A published document that was seen.
    Document {
        /// Its name.
        name: String,
        /// Clause or table.
        clause: String,
        /// Year or edition.
        edition: String,
    },
    /// A published document, quoted from memory: to be confirmed before anything rests on it alone.
    FromMemory {
        /// Its name, clause and edition.
        document: String,
    },
    /// The maker's limit for this ride.
    MakersLimit,
    /// A limit the user set, stricter than the maker's.
    UsersLimit,
    /// Common practice of the trade; no source.
    CommonPractice,
    /// Statics or geometry alone.
    Mechanics,
    /// This tool's own rule, with its reason.
    Ours {
        /// The reason.
        reason: String,
    },
}

impl Basis {
    /// A published document that was seen.
    pub fn document(name: &str, clause: &str, edition: &str) -> Self {
        Self::Document { name: name.to_owned(), clause: clause.to_owned(), edition: edition.to_owned() }
    }
    /// A published document, quoted from memory.
    pub fn from_memory(document: &str) -> Self {
        Self::FromMemory { document: document.to_owned() }
    }
    /// This tool's own rule.
    pub fn ours(reason: &str) -> Self {
        Self::Ours { reason: reason.to_owned() }
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Document { name, clause, edition } => write!(f, "{name} ({edition}), {clause}"),
            Self::FromMemory { document } => write!(f, "{document}, from memory"),
            Self::MakersLimit => f.write_str("maker's limit"),
            Self::UsersLimit => f.write_str("limit set for this visit, stricter than the maker's"),
            Self::CommonPractice => f.write_str("common practice, no source"),
            Self::Mechanics => f.write_str("statics and geometry"),
            Self::Ours { reason } => write!(f, "our rule: {reason}"),
        }
    }
}

/// Whether the chief may take a finding on although it is past its limit or not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Override {
    /// Nobody may (rule S2).
    Never,
    /// The chief may, with a reason that prints.
    ChiefWithReason,
}

/// Which side of the limit is the good one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// The demand may be at most the limit.
    AtMost,
    /// The demand must be at least the limit.
    AtLeast,
}

/// What a finding measured.
#[derive(Clone, Debug, PartialEq)]
pub enum Measure {
    /// A demand, which is a band where its inputs are, against a limit.
    AgainstLimit {
        /// The least the demand may be.
        low: Amount,
        /// The greatest the demand may be.
        high: Amount,
        /// The limit.
        limit: Amount,
        /// Which side is good.
        sense: Sense,
    },
    /// A figure with no limit to hold it against, or one whose limit is not known.
    Figure {
        /// The least it may be.
        low: Amount,
        /// The greatest it may be.
        high: Amount,
    },
    /// A statement that holds or does not.
    Statement {
        /// Whether it holds; `None` when that is not known.
        holds: Option<bool>,
    },
    /// Nothing could be measured.
    Nothing,
}

/// One checked statement.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What kind of finding it is, as a short dotted name: `ground.pressure`.
    pub code: &'static str,
    /// Of what it speaks.
    pub subject: Subject,
    /// What is stated, in plain words without figures: "pressure on the ground".
    pub title: String,
    /// What was measured.
    pub measure: Measure,
    /// How it stands.
    pub standing: Standing,
    /// What it comes with, where something was searched or proved.
    pub proof: Option<Proof>,
    /// Whether it may be taken on.
    pub overriding: Override,
    /// On what it rests.
    pub basis: Vec<Basis>,
    /// How its number was obtained; the inputs and where they came from are its given lines.
    pub working: Working,
    /// What is missing, or why the figure cannot be judged. Empty unless the standing is not known.
    pub unknown: Vec<String>,
    /// What would be right, as whole sentences.
    pub advice: Vec<String>,
    /// What belongs beside the figure, as whole sentences: assumptions and what is not covered.
    pub notes: Vec<String>,
}

impl Finding {
    fn new(code: &'static str, subject: Subject, title: &str, measure: Measure, standing: Standing) -> Self {
        Self {
            code,
            subject,
            title: title.to_owned(),
            measure,
            standing,
            proof: None,
            overriding: Override::ChiefWithReason,
            basis: Vec::new(),
            working: Working::new(),
            unknown: Vec::new(),
            advice: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// A demand against a limit. The standing follows from the share, rounded to the unsafe side
    /// up to whole per cent: 79.96 % counts as 80 %. A demand or limit that is not finite is not known.
    pub fn against_limit(
        code: &'static str,
        subject: Subject,
        title: &str,
        band: (Amount, Amount),
        limit: Amount,
        sense: Sense,
    ) -> Self {
        let (low, high) = band;
        let measure = Measure::AgainstLimit { low, high, limit, sense };
        let Some(percent) = share(&measure) else {
            let mut finding = Self::new(code, subject, title, Measure::Nothing, Standing::NotKnown);
            finding.unknown.push("A figure that went into it is not a finite number.".to_owned());
            return finding;
        };
        Self::new(code, subject, title, measure, Standing::of_share(percent))
    }

    /// A statement that holds or does not.
    pub fn statement(code: &'static str, subject: Subject, title: &str, holds: bool) -> Self {
        let standing = if holds { Standing::Inside } else { Standing::PastLimit };
        Self::new(code, subject, title, Measure::Statement { holds: Some(holds) }, standing)
    }

    /// A finding about which not enough is known, with what is missing.
    pub fn not_known(code: &'static str, subject: Subject, title: &str, missing: &str) -> Self {
        let mut finding = Self::new(code, subject, title, Measure::Nothing, Standing::NotKnown);
        finding.unknown.push(missing.to_owned());
        finding
    }

    /// A figure whose limit is not known.
    pub fn without_limit(
        code: &'static str,
        subject: Subject,
        title: &str,
        band: (Amount, Amount),
        missing: &str,
    ) -> Self {
        let measure = Measure::Figure { low: band.0, high: band.1 };
        let mut finding = Self::new(code, subject, title, measure, Standing::NotKnown);
        finding.unknown.push(missing.to_owned());
        finding
    }

    /// The same finding with its standing taken down to *not known*, keeping its figures.
    ///
    /// For a figure that was computed on an assumption which the book or the pitch does not bear out.
    /// A finding past its limit stays past its limit: less knowledge does not clear it.
    #[must_use]
    pub fn doubted(mut self, why: &str) -> Self {
        if self.standing != Standing::PastLimit {
            self.standing = Standing::NotKnown;
        }
        self.unknown.push(why.to_owned());
        self
    }

    /// The same finding, which nobody may take on.
    #[must_use]
    pub fn never_overridden(mut self) -> Self {
        self.overriding = Override::Never;
        self
    }
    /// The same finding with a proof.
    #[must_use]
    pub fn proof(mut self, proof: Proof) -> Self {
        self.proof = Some(proof);
        self
    }
    /// The same finding resting on one more document or rule.
    #[must_use]
    pub fn basis(mut self, basis: Basis) -> Self {
        self.basis.push(basis);
        self
    }
    /// The same finding with its working.
    #[must_use]
    pub fn working(mut self, working: Working) -> Self {
        self.working = working;
        self
    }
    /// The same finding with a sentence that says what would be right.
    #[must_use]
    pub fn advice(mut self, sentence: impl Into<String>) -> Self {
        self.advice.push(sentence.into());
        self
    }
    /// The same finding with a sentence that belongs beside the figure.
    #[must_use]
    pub fn note(mut self, sentence: impl Into<String>) -> Self {
        self.notes.push(sentence.into());
        self
    }

    /// The share of the limit that is used, in whole per cent rounded to the unsafe side.
    pub fn share(&self) -> Option<u32> {
        share(&self.measure)
    }

    /// The figure against its limit with its share, as it is printed on every screen and sheet: "20 of 21 kg, 94 %". Empty for
    /// a statement. It never prints as past a limit that it does not pass: see [`Band::print`].
    pub fn figure(&self, units: UnitSet) -> String {
        match &self.measure {
            Measure::AgainstLimit { low, high, limit, sense } => {
                let limit = match sense {
                    Sense::AtMost => Limit::AtMost(*limit),
                    Sense::AtLeast => Limit::AtLeast(*limit),
                };
                let share = self.share().map_or(String::new(), |percent| format!(", {percent} %"));
                format!("{}{share}", Band { low: *low, high: *high, limit }.print_once(units))
            }
            Measure::Figure { low, high } => {
                Band { low: *low, high: *high, limit: Limit::None }.print_once(units)
            }
            Measure::Statement { .. } | Measure::Nothing => String::new(),
        }
    }
}

fn share(measure: &Measure) -> Option<u32> {
    match measure {
        Measure::AgainstLimit { high, limit, sense: Sense::AtMost, .. } => share_percent(high.si, limit.si),
        Measure::AgainstLimit { low, limit, sense: Sense::AtLeast, .. } => share_percent(limit.si, low.si),
        Measure::Figure { .. } | Measure::Statement { .. } | Measure::Nothing => None,
    }
}
