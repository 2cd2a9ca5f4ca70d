//! Friction between what lies on what, as data; the lowest published figure of each pair.

use tober_quantity::Ratio;

/// A surface in a stack, from the foot down to the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// Sawn timber.
    Timber,
    /// Plywood with a rough face.
    Plywood,
    /// Steel.
    Steel,
    /// Concrete.
    Concrete,
    /// A rubber mat.
    Rubber,
    /// Clay.
    Clay,
    /// Loam.
    Loam,
    /// Sand or gravel.
    SandOrGravel,
    /// Turf, asphalt, fill, or something else for which no figure is held.
    Other,
    /// Ground over which a loaded board was drawn sideways: so many hundredths of its weight were needed, in the
    /// state in which the ground is.
    Drawn(u8),
}

/// How the surfaces are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Swept, and neither ice nor grease possible.
    Clean,
    /// Not swept, or wet with mud: at most 0.20, and at most half.
    NotClean,
    /// Ice, frost, snow or grease possible: no friction is counted.
    Icy,
}

/// Two surfaces that touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Interface {
    /// What lies above.
    pub upper: Surface,
    /// What lies below.
    pub lower: Surface,
    /// How they are.
    pub condition: Condition,
}

/// One published figure.
struct Row(Surface, Surface, f64, &'static str);

const MEMORY: &str = "DIN 4112, EN 13814 and EN 13782 friction table, from memory";
const CARGO: &str = "EN 12195-1";
const FALSEWORK: &str = "EN 12812, Annex B, lower bound";
const MEASURED: &str = "Health and Safety Executive Research Report 071 (2003), lowest measured";

/// Every figure held. Those of timber on soil are too weak a source to prove anything, and are left out.
const DRAWN: &str = "a loaded board drawn sideways over this ground";

const ROWS: &[Row] = &[
    Row(Surface::Timber, Surface::Timber, 0.4, MEMORY),
    Row(Surface::Timber, Surface::Steel, 0.4, MEMORY),
    Row(Surface::Timber, Surface::Steel, 0.30, CARGO),
    Row(Surface::Timber, Surface::Plywood, 0.45, CARGO),
    Row(Surface::Timber, Surface::Concrete, 0.6, MEMORY),
    Row(Surface::Timber, Surface::Concrete, 0.8, FALSEWORK),
    Row(Surface::Timber, Surface::Concrete, 0.7, MEASURED),
    Row(Surface::Steel, Surface::Steel, 0.1, MEMORY),
    Row(Surface::Steel, Surface::Concrete, 0.2, MEMORY),
    Row(Surface::Steel, Surface::Concrete, 0.3, FALSEWORK),
    Row(Surface::Steel, Surface::Concrete, 0.1, MEASURED),
    Row(Surface::Concrete, Surface::Concrete, 0.5, FALSEWORK),
    Row(Surface::Concrete, Surface::Concrete, 0.4, MEASURED),
    Row(Surface::Rubber, Surface::Timber, 0.60, CARGO),
    Row(Surface::Rubber, Surface::Steel, 0.60, CARGO),
    Row(Surface::Rubber, Surface::Plywood, 0.60, CARGO),
];

/// A friction and where it came from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    /// The coefficient.
    pub coefficient: Ratio,
    /// Where it was published.
    pub source: &'static str,
}

/// The friction of two surfaces: the lowest of what is published for the pair, lowered for their condition.
///
/// None where no figure is held that is fit to prove anything: then a pull test is needed. What is not clean
/// counts half, and at most 0.20 (EN 12195-1); where ice or grease is possible nothing counts.
pub fn friction(interface: Interface) -> Option<Friction> {
    let Interface { upper, lower, condition } = interface;
    if let (_, Surface::Drawn(hundredths)) | (Surface::Drawn(hundredths), _) = (upper, lower) {
        let coefficient = if condition == Condition::Icy { 0.0 } else { f64::from(hundredths) / 100.0 };
        return Some(Friction { coefficient: Ratio::one(coefficient), source: DRAWN });
    }
    let of_pair = |Row(a, b, _, _): &&Row| (*a, *b) == (upper, lower) || (*a, *b) == (lower, upper);
    let Row(_, _, lowest, source) = ROWS.iter().filter(of_pair).min_by(|a, b| a.2.total_cmp(&b.2))?;
    let coefficient = match condition {
        Condition::Clean => *lowest,
        Condition::NotClean => (lowest / 2.0).min(0.20),
        Condition::Icy => 0.0,
    };
    Some(Friction { coefficient: Ratio::one(coefficient), source })
}
