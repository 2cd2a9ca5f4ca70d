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
    /// Hard plastic, as of a pallet.
    Plastic,
    /// Ribbed sheet of aluminium.
    RibbedAluminium,
    /// Sound clean rock.
    Rock,
    /// Gravel, or sandy gravel.
    Gravel,
    /// Sand, or silty or clayey sand or gravel.
    Sand,
    /// Silt.
    Silt,
    /// Clay.
    Clay,
    /// Loam.
    Loam,
    /// Turf, asphalt, fill, or something else for which no figure is held.
    Other,
    /// Ground over which a loaded board was drawn sideways: so many hundredths of its weight were needed, in the
    /// state in which the ground is.
    Drawn(u8),
}

impl Surface {
    fn word(self) -> &'static str {
        match self {
            Self::Timber => "timber",
            Self::Plywood => "plywood",
            Self::Steel => "steel",
            Self::Concrete => "concrete",
            Self::Rubber => "rubber",
            Self::Plastic => "plastic",
            Self::RibbedAluminium => "ribbed aluminium",
            Self::Rock => "rock",
            Self::Gravel => "gravel",
            Self::Sand => "sand",
            Self::Silt => "silt",
            Self::Clay => "clay",
            Self::Loam => "loam",
            Self::Other => "what no table has",
            Self::Drawn(_) => "the ground over which a board was drawn",
        }
    }
}

/// How the surfaces are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Swept, dry or wet, and neither ice nor grease possible.
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

impl Interface {
    /// The pair in words: "timber on steel, clean".
    pub fn words(self) -> String {
        let how = match self.condition {
            Condition::Clean => "clean",
            Condition::NotClean => "not clean",
            Condition::Icy => "ice or grease possible",
        };
        format!("{} on {}, {how}", self.upper.word(), self.lower.word())
    }
    /// Every figure published for the pair, clean, with its source, in the order of the table.
    pub fn published(self) -> impl Iterator<Item = (f64, &'static str)> {
        let pair = (self.upper, self.lower);
        let of_pair = move |Row(a, b, _, _): &&Row| (*a, *b) == pair || (*b, *a) == pair;
        ROWS.iter().filter(of_pair).map(|Row(_, _, coefficient, source)| (*coefficient, *source))
    }
    /// What is published for the pair, where sources differ: "concrete on steel: 0.3 (…), 0.1 (…)".
    pub(super) fn disagreement(self) -> Option<String> {
        let found: Vec<(f64, &str)> = self.published().collect();
        let differ = found.iter().any(|(figure, _)| figure.to_bits() != found[0].0.to_bits());
        let each: Vec<String> = found.iter().map(|(figure, source)| format!("{figure} ({source})")).collect();
        let pair = format!("{} on {}", self.upper.word(), self.lower.word());
        differ.then(|| format!("Sources differ for {pair}, and the lowest counts: {}.", each.join("; ")))
    }
}

/// One published figure.
struct Row(Surface, Surface, f64, &'static str);

const MEMORY: &str = "DIN 4112, EN 13814 and EN 13782 friction table, from memory";
const CARGO: &str = "EN 12195-1";
const FALSEWORK: &str = "EN 12812, Annex B, lower bound";
const MEASURED: &str = "Health and Safety Executive Research Report 071 (2003), lowest measured";

const FOOTING: &str = "International Building Code 2012, Table 1806.2";
const COHESION: &str = "International Building Code 2012, Table 1806.2: cohesion, and no friction";
const MASS_CONCRETE: &str = "US Navy DM 7.2 in FHWA GEC-6, Table 5-15, mass concrete, lower end";
const DRAWN: &str = "a loaded board drawn sideways over this ground";

/// Every figure held. Those of timber on soil are too weak a source to prove anything, and are left out; those of
/// concrete on ground are for a footing cast against it.
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
    Row(Surface::Concrete, Surface::Concrete, 0.5, MEMORY),
    Row(Surface::Concrete, Surface::Rock, 0.70, FOOTING),
    Row(Surface::Concrete, Surface::Rock, 0.70, MASS_CONCRETE),
    Row(Surface::Concrete, Surface::Gravel, 0.35, FOOTING),
    Row(Surface::Concrete, Surface::Gravel, 0.55, MASS_CONCRETE),
    Row(Surface::Concrete, Surface::Sand, 0.25, FOOTING),
    Row(Surface::Concrete, Surface::Sand, 0.35, MASS_CONCRETE),
    Row(Surface::Concrete, Surface::Silt, 0.0, COHESION),
    Row(Surface::Concrete, Surface::Silt, 0.30, MASS_CONCRETE),
    Row(Surface::Concrete, Surface::Clay, 0.0, COHESION),
    Row(Surface::Concrete, Surface::Clay, 0.30, MASS_CONCRETE),
    Row(Surface::Plastic, Surface::Plywood, 0.20, CARGO),
    Row(Surface::Timber, Surface::RibbedAluminium, 0.25, CARGO),
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
    let (lowest, source) = interface.published().min_by(|a, b| a.0.total_cmp(&b.0))?;
    let coefficient = match condition {
        Condition::Clean => lowest,
        Condition::NotClean => (lowest / 2.0).min(0.20),
        Condition::Icy => 0.0,
    };
    Some(Friction { coefficient: Ratio::one(coefficient), source })
}
