//! Crushing of timber across the grain.

use super::GroundError;
use super::error::{load_within, within};
use super::spread::{Grain, Spread, Stack};
use super::timber::{Timber, TimberStandard};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Term, Working, least, number};
use tober_quantity::{Area, Force, Length, Quantity, Ratio, Shown};

/// How long a load lasts, for timber checked by EN 1995-1-1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LoadDuration {
    /// Over ten years.
    Permanent,
    /// Half a year to ten years.
    Long,
    /// A week to half a year: a visit.
    Medium,
    /// Under a week.
    Short,
    /// A gust.
    Instantaneous,
}

/// Whether timber is wet in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Service {
    /// Under a roof: service class 1 or 2.
    Dry,
    /// In the open, on the ground: service class 3, wet service. What is not known counts as this.
    Wet,
}

/// The deformation at which bearing counts as failed, for timber checked by the NDS.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Crush {
    /// 0.04 in, what the tabulated value means.
    FourHundredths,
    /// 0.02 in: 0.73 of the tabulated value.
    TwoHundredths,
}

/// How a stack is used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimberUse {
    /// Wet or dry.
    pub service: Service,
    /// How long the load lasts.
    pub duration: LoadDuration,
    /// At which deformation it counts as failed.
    pub crush: Crush,
    /// By what the load is multiplied for EN 1995-1-1, whose strengths are design strengths. At least one.
    pub load_factor: Ratio,
}

/// NDS bearing area factor: Cb = (lb + 3/8 in)/lb for lb under 6 in, at least 3 in from the end; otherwise 1.
///
/// lb is the bearing's length along the grain. Source: NDS 3.10.4, reference TM-11.
///
/// # Errors
/// A length that is not a number or not above nothing.
pub fn bearing_area_factor(bearing: Length, from_end: Length) -> Result<f64, GroundError> {
    within("length of the bearing", bearing.as_m(), (0.001, 100.0), "m")?;
    within("distance from the end", from_end.as_m(), (0.0, 100.0), "m")?;
    // A reading of 6 in that rounding has left a hair short counts as 6 in.
    let short = bearing.as_in() < 6.0 - 1e-9 && from_end.as_in() >= 3.0;
    Ok(if short { (bearing.as_in() + 0.375) / bearing.as_in() } else { 1.0 })
}

/// k_mod of solid timber, EN 1995-1-1 Table 3.1 (from memory, reference TM-18).
pub fn modification_factor(service: Service, duration: LoadDuration) -> f64 {
    match (service, duration) {
        (Service::Dry, LoadDuration::Permanent) => 0.60,
        (Service::Dry, LoadDuration::Long) => 0.70,
        (Service::Dry, LoadDuration::Medium) => 0.80,
        (Service::Dry, LoadDuration::Short) => 0.90,
        (Service::Dry, LoadDuration::Instantaneous) => 1.10,
        (Service::Wet, LoadDuration::Permanent) => 0.50,
        (Service::Wet, LoadDuration::Long) => 0.55,
        (Service::Wet, LoadDuration::Medium) => 0.65,
        (Service::Wet, LoadDuration::Short) => 0.70,
        (Service::Wet, LoadDuration::Instantaneous) => 0.90,
    }
}

/// One bearing of timber across its grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// Its length along the grain of the timber that is checked.
    pub along_grain: Length,
    /// Its width across that grain.
    pub across_grain: Length,
    /// From its end to the end of the timber.
    pub from_end: Length,
}

/// Whether a timber is crushed where something bears on it across the grain.
///
/// NDS: R/A against Fc⊥ Cm Cb, with Cm = 0.67 when wet (from memory, TM-13), Cb by
/// [`bearing_area_factor`] and 0.73 for a crush of 0.02 in (NDS 4.2.6, TM-12); no factor for the
/// duration of load. EN 1995-1-1 6.1.5: γR/A_ef against kc,90 k_mod fc,90,k/γM with γM = 1.3, kc,90 =
/// 1.0 (the greater values need a spacing of bearings that a stack does not promise), and A_ef longer by
/// the least of 30 mm, the distance to the end and the bearing's own length at each end (TM-17).
/// The rule is that of the timber's own standard: values are never carried from one to the other.
///
/// # Errors
/// A load, size or factor out of range.
pub fn crushing(
    subject: Subject,
    load: (Force, Force),
    bearing: Bearing,
    timber: &Timber,
    used: &TimberUse,
) -> Result<Finding, GroundError> {
    load_within(load)?;
    within("length of the bearing", bearing.along_grain.as_m(), (0.001, 100.0), "m")?;
    within("width of the bearing", bearing.across_grain.as_m(), (0.001, 100.0), "m")?;
    within("load factor", used.load_factor.as_one(), (1.0, 10.0), "")?;
    let mut working = Working::new();
    let carried = working.given("R", "load on the leg, greatest", load.1, Provenance::Computed);
    let length = working.given("l", "bearing along the grain", bearing.along_grain, Provenance::Computed);
    let width = working.given("b", "bearing across the grain", bearing.across_grain, Provenance::Computed);
    let strength = working.given(
        "f",
        &format!("bearing strength across the grain, {}", timber.name),
        timber.across_grain().amount().shown(Shown::Stress),
        Provenance::tabulated(timber.source),
    );
    let (stress, limit, basis) = match timber.standard {
        TimberStandard::Nds => nds(&mut working, [carried, length, width, strength], bearing, used)?,
        TimberStandard::En338 => eurocode(&mut working, [carried, length, width, strength], bearing, used)?,
        TimberStandard::Steel | TimberStandard::Aluminium => {
            let title = "crushing of timber across the grain";
            let what = "A timber: a plate of metal is not crushed by what crushes timber.";
            return Ok(Finding::not_known("ground.crushing", subject, title, what));
        }
    };
    let high = tober_quantity::Amount { si: stress.value(), shown: Shown::Stress };
    let low = tober_quantity::Amount { si: stress.value() * share_of(load), shown: Shown::Stress };
    let limit = tober_quantity::Amount { si: limit.value(), shown: Shown::Stress };
    let title = "crushing of timber across the grain";
    let mut finding =
        Finding::against_limit("ground.crushing", subject, title, (low, high), limit, Sense::AtMost)
            .working(working)
            .advice("Put a wider board or a steel plate under the foot, or lay more timbers in the layer.");
    if timber.confidence == super::Confidence::FromMemory {
        finding = finding.basis(Basis::from_memory(timber.source));
    }
    for one in basis {
        finding = finding.basis(one);
    }
    Ok(finding)
}

/// Least load over greatest.
fn share_of((low, high): (Force, Force)) -> f64 {
    if high > Force::ZERO { (low.si() / high.si()).min(1.0) } else { 1.0 }
}

type Checked = (Term, Term, Vec<Basis>);

fn nds(
    working: &mut Working,
    [carried, length, width, strength]: [Term; 4],
    bearing: Bearing,
    used: &TimberUse,
) -> Result<Checked, GroundError> {
    let one = |factor: f64| Ratio::one(factor);
    let wet = if used.service == Service::Wet { 0.67 } else { 1.0 };
    let soft = if used.crush == Crush::TwoHundredths { 0.73 } else { 1.0 };
    let area_factor = bearing_area_factor(bearing.along_grain, bearing.from_end)?;
    let moist =
        working.given("Cm", "wet service", one(wet), Provenance::tabulated("NDS Supplement, from memory"));
    let longer = working.given("Cb", "bearing area", one(area_factor), Provenance::tabulated("NDS 3.10.4"));
    let crush = working.given("k", "crush allowed", one(soft), Provenance::tabulated("NDS 4.2.6"));
    let stress = working.line("fc", "bearing stress", carried / (length * width), Shown::Stress);
    let limit = working.line("F", "bearing stress allowed", strength * moist * longer * crush, Shown::Stress);
    let basis = vec![
        Basis::document("National Design Specification for Wood Construction", "3.10.4, 4.2.6", "2018"),
        Basis::from_memory("NDS Supplement, wet service factor 0.67"),
    ];
    Ok((stress, limit, basis))
}

fn eurocode(
    working: &mut Working,
    [carried, length, width, strength]: [Term; 4],
    bearing: Bearing,
    used: &TimberUse,
) -> Result<Checked, GroundError> {
    within("distance from the end", bearing.from_end.as_m(), (0.0, 100.0), "m")?;
    let one = |factor: f64| Ratio::one(factor);
    let code = |what: &str| Provenance::tabulated(&format!("EN 1995-1-1 {what}"));
    let factor = working.given(
        "γ",
        "load factor",
        used.load_factor,
        Provenance::chosen("EN 1995-1-1 compares design loads with design strengths"),
    );
    let lasting = modification_factor(used.service, used.duration);
    let lasting = working.given("kmod", "wet and duration", one(lasting), code("Table 3.1, from memory"));
    let safe = working.given("γM", "solid timber", one(1.3), code("Table 2.3, from memory"));
    let confined = working.given("kc", "kind of bearing", one(1.0), code("6.1.5"));
    let end =
        working.given("a", "from the bearing to the timber's end", bearing.from_end, Provenance::Computed);
    let most = working.given("lm", "most that counts beyond each end", Length::mm(30.0), code("6.1.5"));
    let beyond = least(vec![most, end, length.clone()]);
    let effective = working.line("lef", "bearing that counts", length + number(2.0) * beyond, Shown::Fine);
    let stress = working.line("σ", "design stress", factor * carried / (effective * width), Shown::Stress);
    let limit = working.line("fd", "design strength", confined * lasting * strength / safe, Shown::Stress);
    let basis = vec![Basis::from_memory("EN 1995-1-1:2004 6.1.5 and Table 3.1")];
    Ok((stress, limit, basis))
}

/// Crushing at every bearing of a stack, from the foot down: each timber on the face that bears on it.
///
/// A layer of unknown timber gives a finding that is not known.
///
/// # Errors
/// As [`crushing`].
pub fn crushing_of_stack(
    subject: &Subject,
    load: (Force, Force),
    stack: &Stack,
    spread: &Spread,
    used: &TimberUse,
) -> Result<Vec<Finding>, GroundError> {
    let mut findings = Vec::new();
    for (i, contact) in spread.contacts.iter().enumerate() {
        // At the face between two layers both are crushed: the one above by what it stands on.
        for checked in [i.checked_sub(1), Some(i)].into_iter().flatten() {
            let layer = &stack.layers[checked];
            let Some(timber) = layer.timber else {
                let missing = format!("What layer {} from the top is made of is not known.", checked + 1);
                let title = "crushing of timber across the grain";
                findings.push(
                    Finding::not_known("ground.crushing", subject.clone(), title, &missing).advice(
                        "Say its class; or say \"softwood, unknown grade\" if it is surely softwood.",
                    ),
                );
                continue;
            };
            if timber.standard.is_metal() {
                // What bears on it is crushed first, and is looked at itself.
                continue;
            }
            let (along, across, off) = match layer.grain {
                Grain::Along => (contact.along, contact.across, layer.off_along),
                Grain::Across => (contact.across, contact.along, layer.off_across),
            };
            let from_end = ((layer.length - along) / 2.0 - off.abs()).max(Length::ZERO);
            let bearing = Bearing { along_grain: along, across_grain: across, from_end };
            let finding = crushing(subject.clone(), load, bearing, timber, used)?;
            findings.push(finding.note(format!(
                "Layer {} from the top, at the {}.",
                checked + 1,
                if checked == i { "face above it" } else { "face below it" }
            )));
        }
    }
    Ok(findings)
}

/// The area of a bearing.
impl Bearing {
    /// Length times width.
    pub fn area(&self) -> Area {
        self.along_grain * self.across_grain
    }
}
