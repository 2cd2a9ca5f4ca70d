//! Why a claim is refused: one variant for each reason, with the numbers that govern.

use core::fmt;
use tober_quantity::TenthMm;

/// One reason why a claimed choice is not believed. Layers are counted from 1 at the bottom.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Refusal {
    /// A number of the question is outside what any pitch or kit can have.
    QuestionAbsurd { what: &'static str, at: String, value: i64, least: i64, most: i64 },
    /// Two supports stand in one place.
    SupportsCoincide { first: String, second: String },
    /// The supports do not span a plane, so that level across their line would mean nothing.
    SupportsInLine { supports: usize },
    /// The claim has not one entry for each thing asked.
    Shape { what: &'static str, at: String, expected: usize, found: usize },
    /// A number of the claim is outside what any choice can have.
    ClaimAbsurd { what: &'static str, at: String, value: i64, least: i64, most: i64 },
    /// A foot does not lie in its surveyed triangle, or its ground is not what the triangle gives.
    NotOnSurvey { support: String, ground: TenthMm },
    /// The feet do not lie to each other as they do on the frame.
    NotTheFrame { support: String },
    /// A hole is claimed for a screw, or an extension for a leg with holes.
    SettingMismatch { support: String },
    /// The hole does not exist.
    HoleOutOfRange { support: String, hole: i64, count: i64 },
    /// Another hole is laid down for this support.
    HoleNotForced { support: String, hole: i64, forced: i64 },
    /// The screw does not reach so far, or is claimed shorter than its shortest.
    ExtensionOutOfRange { support: String, extension: TenthMm, most: TenthMm },
    /// More boards of a kind are used than the kit holds.
    StockExceeded { kind: String, used: i64, held: i64 },
    /// A stack is higher than any may be.
    StackTooHigh { support: String, height: TenthMm, most: TenthMm },
    /// A stack is higher than it may be at this support.
    StackTooHighHere { support: String, height: TenthMm, most: TenthMm },
    /// A stack has too few boards.
    TooFewBoards { support: String, boards: i64, least: i64 },
    /// A stack has too many boards.
    TooManyBoards { support: String, boards: i64, most: i64 },
    /// A stack is too high for its narrowest board.
    StackTooSlender { support: String, height: TenthMm, width: TenthMm, for_height: i64, for_width: i64 },
    /// No timber lies under the foot.
    FootWithoutBoard { support: String },
    /// The order of a stack is asked for and not claimed.
    LayersMissing { support: String },
    /// The layers are not the boards that are counted.
    LayersMismatch { support: String, kind: String, in_layers: i64, counted: i64 },
    /// Plywood or wedges lie on the ground.
    ShimAtBottom { support: String, kind: String },
    /// Plywood or wedges lie under the foot.
    ShimOnTop { support: String, kind: String },
    /// Plywood or wedges lie against something that is not a timber.
    ShimNotBetweenTimbers { support: String, kind: String, layer: usize },
    /// Metal lies on metal.
    MetalOnMetal { support: String, kind: String, layer: usize },
    /// A timber lies the same way as the timber below it.
    NotCrossed { support: String, layer: usize, below: usize },
    /// The foot reaches over the top board.
    FootBeyondBoard { support: String, direction: &'static str, foot: TenthMm, board: TenthMm },
    /// A board is wider than the one it lies on.
    WiderAbove { support: String, layer: usize, width: TenthMm, below: TenthMm },
    /// A corner is not lifted enough.
    LiftTooLow { support: String, lift: TenthMm, least: TenthMm },
    /// The plane slopes too much along the frame. The slope is a fraction, in tenths of a millimetre a metre.
    NotLevelAlong { slope: i64, denominator: i64, most: TenthMm },
    /// The plane slopes too much across the frame. The slope is a fraction, in tenths of a millimetre a metre.
    NotLevelAcross { slope: i64, denominator: i64, most: TenthMm },
    /// A support is too far from the plane. The distance is a fraction, in tenths of a millimetre, positive above.
    NotPlanar { support: String, off: i128, denominator: i128, most: TenthMm },
    /// The greatest lift is not as stated.
    LiftMisstated { claimed: TenthMm, found: TenthMm },
    /// The number of boards is not as stated.
    BoardsMisstated { claimed: i64, found: i64 },
}

impl Refusal {
    /// A short name for the reason, which never changes.
    pub fn code(&self) -> &'static str {
        match self {
            Self::QuestionAbsurd { .. } => "question-absurd",
            Self::SupportsCoincide { .. } => "supports-coincide",
            Self::SupportsInLine { .. } => "supports-in-line",
            Self::Shape { .. } => "shape",
            Self::ClaimAbsurd { .. } => "claim-absurd",
            Self::NotOnSurvey { .. } => "not-on-survey",
            Self::NotTheFrame { .. } => "not-the-frame",
            Self::SettingMismatch { .. } => "setting-mismatch",
            Self::HoleOutOfRange { .. } => "hole-out-of-range",
            Self::HoleNotForced { .. } => "hole-not-forced",
            Self::ExtensionOutOfRange { .. } => "extension-out-of-range",
            Self::StockExceeded { .. } => "stock-exceeded",
            Self::StackTooHigh { .. } => "stack-too-high",
            Self::StackTooHighHere { .. } => "stack-too-high-here",
            Self::TooFewBoards { .. } => "too-few-boards",
            Self::TooManyBoards { .. } => "too-many-boards",
            Self::StackTooSlender { .. } => "stack-too-slender",
            Self::FootWithoutBoard { .. } => "foot-without-board",
            Self::LayersMissing { .. } => "layers-missing",
            Self::LayersMismatch { .. } => "layers-mismatch",
            Self::ShimAtBottom { .. } => "shim-at-bottom",
            Self::ShimOnTop { .. } => "shim-on-top",
            Self::ShimNotBetweenTimbers { .. } => "shim-not-between-timbers",
            Self::MetalOnMetal { .. } => "metal-on-metal",
            Self::NotCrossed { .. } => "not-crossed",
            Self::FootBeyondBoard { .. } => "foot-beyond-board",
            Self::WiderAbove { .. } => "wider-above",
            Self::LiftTooLow { .. } => "lift-too-low",
            Self::NotLevelAlong { .. } => "not-level-along",
            Self::NotLevelAcross { .. } => "not-level-across",
            Self::NotPlanar { .. } => "not-planar",
            Self::LiftMisstated { .. } => "lift-misstated",
            Self::BoardsMisstated { .. } => "boards-misstated",
        }
    }
}

/// Tenths of a millimetre printed as millimetres, exactly.
struct Mm(TenthMm);

impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = self.0.0.unsigned_abs();
        let sign = if self.0.0 < 0 { "-" } else { "" };
        write!(f, "{sign}{}.{} mm", tenths / 10, tenths % 10)
    }
}

/// A fraction of tenths of a millimetre, printed in millimetres to four places, rounded away from zero.
///
/// Away from zero, so that what is past a limit is never printed as if it stood on it.
struct MmFraction(i128, i128);

impl fmt::Display for MmFraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Tenths of a millimetre times a thousand are ten-thousandths of a millimetre.
        // The whole part goes first, as the numerator of an absurd claim times a thousand would not fit.
        let (off, denominator) = (self.0.unsigned_abs(), self.1.unsigned_abs());
        let rounded = off / denominator * 1000 + (off % denominator * 1000).div_ceil(denominator);
        let sign = if self.0 < 0 { "-" } else { "" };
        write!(f, "{sign}{}.{:04} mm", rounded / 10_000, rounded % 10_000)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::QuestionAbsurd { what, at, value, least, most } => {
                write!(
                    f,
                    "In the question, the {what} of {at} is {value}; it must be from {least} to {most}."
                )
            }
            Self::SupportsCoincide { first, second } => {
                write!(f, "In the question, {first} and {second} stand in the same place.")
            }
            Self::SupportsInLine { supports } => write!(
                f,
                "In the question, the {supports} supports stand in one line; at least three that do not are needed to say what level means."
            ),
            Self::Shape { what, at, expected, found } => {
                write!(f, "The claim has {found} {what} for {at} where the question asks for {expected}.")
            }
            Self::ClaimAbsurd { what, at, value, least, most } => {
                write!(f, "In the claim, the {what} of {at} is {value}; it must be from {least} to {most}.")
            }
            Self::NotOnSurvey { support, ground } => write!(
                f,
                "Moved, {support} is said to stand on ground at {}; the surveyed triangle does not give that there.",
                Mm(*ground)
            ),
            Self::NotTheFrame { support } => {
                write!(f, "Moved, {support} does not lie to the other feet as it does on the frame.")
            }
            Self::SettingMismatch { support } => {
                write!(
                    f,
                    "The claim sets {support} in a way its leg does not have: a hole is for a pinned leg, an extension for a screw."
                )
            }
            Self::HoleOutOfRange { support, hole, count } => {
                write!(
                    f,
                    "The claim puts the pin of {support} in hole {hole}, counted from 0; the leg has {count} holes."
                )
            }
            Self::HoleNotForced { support, hole, forced } => {
                write!(
                    f,
                    "The claim puts the pin of {support} in hole {hole}, counted from 0; hole {forced} is laid down for it."
                )
            }
            Self::ExtensionOutOfRange { support, extension, most } => {
                write!(
                    f,
                    "The claim winds the screw of {support} out by {}; it may be out by 0.0 mm to {}.",
                    Mm(*extension),
                    Mm(*most)
                )
            }
            _ => self.fmt_stack(f),
        }
    }
}

impl Refusal {
    fn fmt_stack(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::StockExceeded { kind, used, held } => {
                write!(f, "The claim uses {used} of {kind}; the kit holds {held}.")
            }
            Self::StackTooHigh { support, height, most } => {
                write!(f, "The stack under {support} is {} high; a stack may be {}.", Mm(*height), Mm(*most))
            }
            Self::StackTooHighHere { support, height, most } => {
                write!(
                    f,
                    "The stack under {support} is {} high; at this support it may be {}.",
                    Mm(*height),
                    Mm(*most)
                )
            }
            Self::TooFewBoards { support, boards, least } => {
                write!(f, "The stack under {support} has {boards} boards; it needs at least {least}.")
            }
            Self::TooManyBoards { support, boards, most } => {
                write!(f, "The stack under {support} has {boards} boards; it may have {most}.")
            }
            Self::StackTooSlender { support, height, width, for_height, for_width } => write!(
                f,
                "The stack under {support} is {} high on a narrowest width of {}; it may be {for_height} high for each {for_width} of width.",
                Mm(*height),
                Mm(*width)
            ),
            Self::FootWithoutBoard { support } => {
                write!(
                    f,
                    "The foot of {support} does not stand on a timber; a board always lies under a foot."
                )
            }
            _ => self.fmt_layer(f),
        }
    }

    fn fmt_layer(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LayersMissing { support } => {
                write!(f, "The order of the boards under {support} is asked for and not claimed.")
            }
            Self::LayersMismatch { support, kind, in_layers, counted } => {
                write!(
                    f,
                    "Under {support} the layers have {in_layers} of {kind} and the count says {counted}."
                )
            }
            Self::ShimAtBottom { support, kind } => {
                write!(f, "Under {support}, {kind} lies at the bottom; it may lie only between timbers.")
            }
            Self::ShimOnTop { support, kind } => {
                write!(f, "Under {support}, {kind} lies on top; it may lie only between timbers.")
            }
            Self::ShimNotBetweenTimbers { support, kind, layer } => {
                write!(
                    f,
                    "Under {support}, {kind} in layer {layer} lies against something that is not a timber; it may lie only between timbers."
                )
            }
            Self::MetalOnMetal { support, kind, layer } => {
                write!(
                    f,
                    "Under {support}, {kind} in layer {layer} lies on metal; metal never lies on metal."
                )
            }
            Self::NotCrossed { support, layer, below } => {
                write!(
                    f,
                    "Under {support}, the timber in layer {layer} lies the same way as the timber in layer {below}; layers cross."
                )
            }
            Self::FootBeyondBoard { support, direction, foot, board } => write!(
                f,
                "The foot of {support} is {} {direction} and its top board {}; the foot must be inside the board.",
                Mm(*foot),
                Mm(*board)
            ),
            Self::WiderAbove { support, layer, width, below } => write!(
                f,
                "Under {support}, layer {layer} is {} wide and lies on one of {}; no board may be wider than the one it lies on.",
                Mm(*width),
                Mm(*below)
            ),
            _ => self.fmt_frame(f),
        }
    }

    fn fmt_frame(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LiftTooLow { support, lift, least } => {
                write!(
                    f,
                    "{support} is lifted by {}; it must be lifted by at least {}.",
                    Mm(*lift),
                    Mm(*least)
                )
            }
            Self::NotLevelAlong { slope, denominator, most } => write!(
                f,
                "The claimed plane slopes by {} a metre along the frame; it may slope by {} a metre either way.",
                MmFraction((*slope).into(), (*denominator).into()),
                Mm(*most)
            ),
            Self::NotLevelAcross { slope, denominator, most } => write!(
                f,
                "The claimed plane slopes by {} a metre across the frame; it may slope by {} a metre either way.",
                MmFraction((*slope).into(), (*denominator).into()),
                Mm(*most)
            ),
            Self::NotPlanar { support, off, denominator, most } => write!(
                f,
                "{support} stands {} off the claimed plane (positive above it); it may be {} off either way.",
                MmFraction(*off, *denominator),
                Mm(*most)
            ),
            Self::LiftMisstated { claimed, found } => {
                write!(
                    f,
                    "The claim states a greatest lift of {}; its choice gives {}.",
                    Mm(*claimed),
                    Mm(*found)
                )
            }
            Self::BoardsMisstated { claimed, found } => {
                write!(f, "The claim states {claimed} boards; its choice takes {found}.")
            }
            // Every other variant has been printed by one of the three functions that lead here.
            _ => f.write_str(self.code()),
        }
    }
}
