//! Whether the ground takes a leg: its pressure against what was chosen, reported or tested.

use super::presumptive::{GroundClass, GroundKind, PresumptiveTable, water_factor};
use super::sink::{SinkTest, sink_under_load};
use super::spread::Spread;
use super::{Confidence, GroundError};
use crate::finding::{Basis, Finding, Sense, Standing, Subject};
use crate::ground::error::{load_within, within};
use crate::working::{Provenance, Term, Working};
use tober_quantity::{Amount, Force, Length, Pressure, Quantity, Ratio, Shown};

/// What lies under the foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// Ground from which turf and topsoil have been taken, or on which none was.
    BelowTopsoil,
    /// Topsoil without turf.
    Topsoil,
    /// Turf.
    Turf,
    /// Fill, or made ground.
    Fill,
    /// Paving, with what is below it not known.
    Paved,
}

/// How wet the ground is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wetness {
    /// Dry.
    Dry,
    /// Wet.
    Wet,
    /// Water stands on it.
    StandingWater,
}

/// What the ground is said to take.
#[derive(Clone, Debug, PartialEq)]
pub enum Allowed {
    /// A class of a presumptive table.
    Class {
        /// The table.
        table: &'static PresumptiveTable,
        /// The class.
        class: &'static GroundClass,
    },
    /// Worked from a vane or a penetrometer here.
    Tested {
        /// The pressure it allows.
        pressure: Pressure,
        /// By which test and rule.
        how: &'static str,
    },
    /// An engineer's report.
    Report {
        /// The pressure it allows.
        pressure: Pressure,
        /// Which report.
        reference: String,
    },
}

/// What is known of the ground under a foot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ground {
    /// What lies under the foot.
    pub surface: Option<Surface>,
    /// How wet it is.
    pub wet: Option<Wetness>,
    /// How deep below the base water stands.
    pub water_depth: Option<Length>,
    /// What it is said to take.
    pub allowed: Option<Allowed>,
}

const CODE: &str = "ground.pressure";
const TITLE: &str = "pressure on the ground";
const SINK_TEST: &str =
    "Make a sink test: load a foot on its board, wait 15 minutes, measure how far it sank.";

/// What a hand vane in clay allows: 5.14 cu over a safety factor of 3 (reference GS-19).
///
/// # Errors
/// A strength out of range.
pub fn allowed_by_vane(strength: Pressure) -> Result<Allowed, GroundError> {
    let pressure = super::undrained_allowed(strength, super::SAFETY)?;
    Ok(Allowed::Tested { pressure, how: "hand vane, 5.14 cu over 3" })
}

/// What a pushed cone allows in any soil: its resistance over 40, the rule for sand (Meyerhof 1956, from memory),
/// where clay would be granted three times as much: what it was pushed into is not told.
///
/// # Errors
/// A resistance out of range.
pub fn allowed_by_cone(resistance: Pressure) -> Result<Allowed, GroundError> {
    within("resistance of the cone", resistance.as_kpa(), (4.0, 1e5), "kPa")?;
    Ok(Allowed::Tested {
        pressure: resistance / 40.0,
        how: "pushed cone, its resistance over 40 (Meyerhof 1956)",
    })
}

/// The pressure of a leg on the ground against what the ground is said to take.
///
/// p = R/A with A by [`super::spread()`]. A table counts for ground below the topsoil that is dry (rule S4);
/// for anything else, or where it is not said, the figures stand and the finding is not known, but for a
/// pressure past what the table allows for good ground: that is past its limit whatever else is not
/// known. Gravel and sand lose up to half for water ([`water_factor`]), the whole half where its depth is
/// not known. A report counts as it stands. Nobody may override it (rule S2).
///
/// # Errors
/// A load, depth or reported pressure out of range.
///
/// # Not covered
/// Slopes and cuts near the foot, neighbouring feet closer than twice a base's width, buried pipes and drains.
pub fn ground_pressure(
    subject: Subject,
    load: (Force, Force),
    spread: &Spread,
    ground: &Ground,
) -> Result<Finding, GroundError> {
    load_within(load)?;
    let mut working = spread.working.clone();
    let carried = working.given("R", "load on the leg, greatest", load.1, Provenance::Computed);
    let pressure = working.line("p", TITLE, carried.clone() / spread.base_area.clone(), Shown::Pressure);
    let band = (load.0 / spread.base.area(), Pressure::from_si(pressure.value()));
    let band = (band.0.min(band.1).amount(), band.1.amount());
    let finding = match &ground.allowed {
        None => Finding::without_limit(CODE, subject, TITLE, band, "What the ground is was not chosen.")
            .working(working)
            .advice(SINK_TEST),
        Some(Allowed::Report { pressure, reference }) => {
            within("reported pressure", pressure.as_kpa(), (0.1, 1e6), "kPa")?;
            let source = Provenance::tabulated(reference);
            let limit = working.given("pa", "pressure allowed", *pressure, source);
            judged(subject, band, working, carried, limit)
                .basis(Basis::document(reference, "as reported", "for this pitch"))
                .note("The report is taken as it stands: see that the ground is as it found it.")
        }
        Some(Allowed::Tested { pressure, how }) => {
            within("tested pressure", pressure.as_kpa(), (0.1, 1e6), "kPa")?;
            let limit = working.given("pa", "pressure allowed", *pressure, Provenance::measured(how));
            let mut finding = judged(subject, band, working, carried, limit).basis(Basis::from_memory(how));
            for why in doubts(spread, ground, Length::ZERO) {
                finding = finding.doubted(why);
            }
            finding.advice(SINK_TEST)
        }
        Some(Allowed::Class { table, class }) => {
            by_class(subject, (band, carried), working, spread, ground, (table, class))?
        }
    };
    Ok(finding.never_overridden())
}

/// A finding against a limit, with the area that would do.
fn judged(
    subject: Subject,
    band: (Amount, Amount),
    mut working: Working,
    carried: Term,
    limit: Term,
) -> Finding {
    let allowed = Amount { si: limit.value(), shown: Shown::Pressure };
    working.line("Aw", "area that would do", carried / limit, Shown::Area);
    Finding::against_limit(CODE, subject, TITLE, band, allowed, Sense::AtMost)
        .working(working)
        .advice("Lay larger or thicker boards, so that a larger area bears on the ground.")
}

fn by_class(
    subject: Subject,
    (band, carried): ((Amount, Amount), Term),
    mut working: Working,
    spread: &Spread,
    ground: &Ground,
    (table, class): (&PresumptiveTable, &GroundClass),
) -> Result<Finding, GroundError> {
    let basis = match table.confidence {
        Confidence::Read => Basis::document(table.document, table.table, table.edition),
        Confidence::FromMemory => {
            Basis::from_memory(&format!("{} ({}), {}", table.document, table.edition, table.table))
        }
    };
    let Some(presumed) = class.pressure() else {
        let missing = format!("{} gives no pressure for {}.", table.name, class.name);
        return Ok(Finding::without_limit(CODE, subject, TITLE, band, &missing)
            .working(working)
            .basis(basis)
            .advice(SINK_TEST));
    };
    let source = Provenance::tabulated(&format!("{}, {}: {}", table.document, table.table, class.name));
    let mut limit = working.given("pt", "pressure in the table", presumed, source);
    let mut water = None;
    if class.kind == GroundKind::Coarse {
        let factor = water_factor(ground.water_depth, spread.base.least_side())?;
        let reason = match ground.water_depth {
            Some(_) => "water at its measured depth, IS 1904:1961 Table 2.2 note 6",
            None => {
                "the depth of water is not known, so it counts as at the base; IS 1904:1961 Table 2.2 note 6"
            }
        };
        let left = working.given("kw", "left for water", Ratio::one(factor), Provenance::chosen(reason));
        limit = working.line("pa", "pressure allowed", limit * left, Shown::Pressure);
        water = Some(Basis::document("IS 1904", "Table 2.2 note 6", "1961"));
    }
    let mut finding = judged(subject, band, working, carried, limit).basis(basis);
    if let Some(water) = water {
        finding = finding.basis(water);
    }
    for why in doubts(spread, ground, table.width_least()) {
        finding = finding.doubted(why);
    }
    if finding.standing == Standing::NotKnown {
        finding = finding.advice(SINK_TEST);
    }
    Ok(finding)
}

/// Why a table does not settle it here.
fn doubts(spread: &Spread, ground: &Ground, width_least: Length) -> Vec<&'static str> {
    let mut doubts = Vec::new();
    match ground.surface {
        Some(Surface::BelowTopsoil) => {}
        Some(Surface::Topsoil | Surface::Turf) => {
            doubts.push("The table is for ground below the topsoil; the foot stands on topsoil or turf.");
        }
        Some(Surface::Fill) => doubts.push("The table is for ground as it grew; the foot stands on fill."),
        Some(Surface::Paved) => doubts.push("What lies below the paving is not known."),
        None => doubts.push("Whether the foot stands below the topsoil was not said."),
    }
    match ground.wet {
        Some(Wetness::Dry) => {}
        Some(Wetness::Wet | Wetness::StandingWater) => {
            doubts.push("The ground is wet, and wet ground is judged by a test.");
        }
        None => doubts.push("Whether the ground is wet was not said."),
    }
    if spread.base.least_side() < width_least {
        doubts.push("The table is for wider bases than this one.");
    }
    doubts
}

/// Everything that is said of the ground under one leg: pressure, and sink where it was tested.
///
/// A sink test on the same base stands in for a pressure whose limit is not known; where both can be
/// judged, both are. A pressure past its limit is never covered by a test.
///
/// # Errors
/// As [`ground_pressure`] and [`sink_under_load`].
pub fn ground_findings(
    subject: &Subject,
    load: (Force, Force),
    spread: &Spread,
    ground: &Ground,
    test: Option<&SinkTest>,
    sink_allowed: Option<Length>,
) -> Result<Vec<Finding>, GroundError> {
    let pressure = ground_pressure(subject.clone(), load, spread, ground)?;
    let Some(test) = test else { return Ok(vec![pressure]) };
    let sink = sink_under_load(subject.clone(), test, load, spread.base, sink_allowed)?;
    if pressure.standing == Standing::NotKnown && sink.standing != Standing::NotKnown {
        return Ok(vec![sink]);
    }
    Ok(vec![pressure, sink])
}
