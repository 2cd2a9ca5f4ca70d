//! Bearing capacity of the soil under a leg, where a pitch gives its figures.

use tober_book::{Ground, GroundSoil};
use tober_calc::finding::{Finding, Subject};
use tober_calc::ground::Spread;
use tober_quantity::Force;

/// The pressure on the ground against what the soil takes, by the method named or the lowest of all.
///
/// Water counts as at the surface unless the ground is dry and the depth of the water is told. For anything but ground
/// below the topsoil the figures stand, and the finding is not known.
#[cfg(feature = "command")]
pub(crate) fn capacity(
    subject: &Subject,
    load: (Force, Force),
    spread: &Spread,
    ground: &Ground,
    soil: &GroundSoil,
) -> Finding {
    use tober_book::{Surface, Wetness};
    use tober_calc::ground::{Method, OnSoil, SAFETY, Soil, capacity_finding};
    use tober_quantity::Length;
    let refused = |what: &str| {
        Finding::not_known("ground.capacity", subject.clone(), "pressure against bearing capacity", what)
            .never_overridden()
    };
    let method = match soil.method.as_deref() {
        None => None,
        Some(name) => match Method::ALL.into_iter().find(|method| method.name() == name) {
            Some(method) => Some(method),
            None => {
                let all: Vec<String> =
                    Method::ALL.iter().map(|method| format!("\"{}\"", method.name())).collect();
                return refused(&format!("A method \"{name}\". There are {}.", all.join(", ")));
            }
        },
    };
    let dry = ground.wet == Some(Wetness::Dry);
    let of = Soil {
        friction: soil.friction_angle,
        cohesion: soil.cohesion,
        density: soil.density,
        water_depth: ground.water_depth.filter(|_| dry),
    };
    let on =
        OnSoil { base: spread.base, off_along: Length::ZERO, off_across: Length::ZERO, depth: Length::ZERO };
    let mut finding = match capacity_finding(subject.clone(), load, &of, &on, method, SAFETY) {
        Ok(finding) => finding,
        Err(error) => return refused(&error.to_string()),
    };
    finding = finding.note(format!("Figures of the soil: {}.", soil.reference));
    if ground.water_depth.is_some() && !dry {
        finding = finding.note("The ground is not dry: water counts as at the surface, whatever its depth.");
    }
    if ground.wet.is_none() {
        finding = finding.doubted("How wet the ground is.");
    }
    if ground.surface != Some(Surface::BelowTopsoil) {
        finding = finding
            .doubted("Ground below the topsoil under the foot: the soil's figures speak for no turf, topsoil, fill or paving.")
            .advice("Dig down to where the soil was tested, or make a sink test.");
    }
    finding
}

/// On a phone it is not worked out.
#[cfg(not(feature = "command"))]
pub(crate) fn capacity(
    subject: &Subject,
    _: (Force, Force),
    _: &Spread,
    _: &Ground,
    _: &GroundSoil,
) -> Finding {
    let what = "Bearing capacity of soil is not worked out here: see the plan of the command.";
    Finding::not_known("ground.capacity", subject.clone(), "pressure against bearing capacity", what)
        .never_overridden()
}
