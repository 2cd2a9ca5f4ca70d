//! State marks: word, shape and colour, in that order of trust.
//!
//! Circles are unfinished, squares finished, triangles are figures against limits, a cross is a
//! person's decision. The shape alone tells the state in grey.

use tober_calc::finding::Standing;

/// A state mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Nobody has started: an open ring.
    NotBegun,
    /// A named role has taken it: a ring, left half filled.
    InHand,
    /// One person says so, or a figure is inside its limit: a solid square.
    Done,
    /// Done in time and written later: a square with a small clock cut out of its corner.
    DoneLate,
    /// A second person put a hand on it: a square in a square.
    Witnessed,
    /// Was done; something it rested on has changed: a square with a broken corner and a hook.
    DoAgain,
    /// Inside, from 80 % of the limit up: a triangle with a rim.
    Close,
    /// Outside the limit: a solid triangle standing on a bar.
    PastLimit,
    /// A person stopped it: a heavy cross.
    Stopped,
    /// Needs not met, the chief took it on: a square with a slot right through it.
    Overridden,
    /// No figure: a dashed ring with a query.
    NotKnown,
}

impl Mark {
    /// Every mark.
    pub const ALL: [Self; 11] = [
        Self::NotBegun,
        Self::InHand,
        Self::Done,
        Self::DoneLate,
        Self::Witnessed,
        Self::DoAgain,
        Self::Close,
        Self::PastLimit,
        Self::Stopped,
        Self::Overridden,
        Self::NotKnown,
    ];

    /// The mark of a standing.
    pub fn of(standing: Standing) -> Self {
        match standing {
            Standing::Inside => Self::Done,
            Standing::Close => Self::Close,
            Standing::PastLimit => Self::PastLimit,
            Standing::NotKnown => Self::NotKnown,
        }
    }

    /// The word that stands beside it where it marks a piece of work.
    pub fn word(self) -> &'static str {
        match self {
            Self::NotBegun => "Not begun",
            Self::InHand => "In hand",
            Self::Done => "Done",
            Self::DoneLate => "Done, late",
            Self::Witnessed => "Witnessed",
            Self::DoAgain => "Do again",
            Self::Close => "Close",
            Self::PastLimit => "Past limit",
            Self::Stopped => "Stopped",
            Self::Overridden => "Overridden",
            Self::NotKnown => "Not known",
        }
    }

    /// Its name in the identity of its symbol.
    pub fn name(self) -> &'static str {
        match self {
            Self::NotBegun => "ring",
            Self::InHand => "hand",
            Self::Done => "done",
            Self::DoneLate => "late",
            Self::Witnessed => "seen",
            Self::DoAgain => "again",
            Self::Close => "close",
            Self::PastLimit => "past",
            Self::Stopped => "stop",
            Self::Overridden => "taken",
            Self::NotKnown => "query",
        }
    }

    /// The class that gives it its colour.
    pub fn class(self) -> &'static str {
        match self {
            Self::Done | Self::DoneLate | Self::Witnessed => "mi",
            Self::InHand | Self::DoAgain | Self::Close => "mk",
            Self::PastLimit | Self::Stopped | Self::Overridden => "mo",
            Self::NotBegun | Self::NotKnown => "ms",
        }
    }

    /// Its shape on a field of 24 by 24, drawn in the current colour.
    pub fn shape(self) -> &'static str {
        match self {
            Self::NotBegun => {
                r#"<circle cx="12" cy="12" r="8.5" fill="none" stroke="currentColor" stroke-width="3"/>"#
            }
            Self::InHand => {
                r#"<circle cx="12" cy="12" r="8.5" fill="none" stroke="currentColor" stroke-width="3"/><path d="M12 3.5a8.5 8.5 0 0 0 0 17z" fill="currentColor"/>"#
            }
            Self::Done => r#"<path d="M3.5 3.5h17v17h-17z" fill="currentColor"/>"#,
            Self::DoneLate => {
                r#"<path d="M3.5 3.5h17v7a7.5 7.5 0 0 0-10 10h-7z" fill="currentColor"/><path d="M12.6 17.3a4.7 4.7 0 1 0 9.4 0a4.7 4.7 0 1 0-9.4 0zM17.3 14.6v2.9h2.3" fill="none" stroke="currentColor" stroke-width="1.8"/>"#
            }
            Self::Witnessed => {
                r#"<path d="M4.5 4.5h15v15h-15z" fill="none" stroke="currentColor" stroke-width="3"/><path d="M8.5 8.5h7v7h-7z" fill="currentColor"/>"#
            }
            Self::DoAgain => {
                r#"<path d="M20.5 9.5V4h-16.5v16.5h16.5v-5" fill="none" stroke="currentColor" stroke-width="3"/><path d="M16 9.5l4.4 4.2 3-5.2" fill="none" stroke="currentColor" stroke-width="2.6"/>"#
            }
            Self::Close => {
                r#"<path d="M12 3.5l9.5 17h-19z" class="tober-gilt"/><path d="M9 12.5l6.6 6.6M6.6 15.4l3.8 3.8" class="tober-hatch"/>"#
            }
            Self::PastLimit => r#"<path d="M12 2l10 15.2h-20zM2 19.6h20v3.2h-20z" fill="currentColor"/>"#,
            Self::Stopped => {
                r#"<path d="M4.8 4.8l14.4 14.4M19.2 4.8l-14.4 14.4" fill="none" stroke="currentColor" stroke-width="5.2" stroke-linecap="square"/>"#
            }
            Self::Overridden => {
                r#"<path d="M3.5 3.5h17v6h-17zM3.5 14.5h17v6h-17zM0 11.2h24v1.6h-24z" fill="currentColor"/>"#
            }
            Self::NotKnown => {
                r#"<circle cx="12" cy="12" r="9.6" fill="none" stroke="currentColor" stroke-width="2.6" stroke-dasharray="3.6 2.4"/><path d="M9.2 9.6c0-3.6 5.8-3.6 5.8-.2 0 2.3-2.9 2.2-2.9 4.4" fill="none" stroke="currentColor" stroke-width="2.3"/><circle cx="12.1" cy="16.8" r="1.5" fill="currentColor"/>"#
            }
        }
    }

    /// The mark as a symbol that `<use>` can place; `prefix` keeps drawings on one page apart.
    pub fn symbol(self, prefix: &str) -> String {
        format!(r#"<symbol id="{prefix}-{}" viewBox="0 0 24 24">{}</symbol>"#, self.name(), self.shape())
    }
}
