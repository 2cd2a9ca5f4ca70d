//! The least and greatest load on each support over everything that is not known.
//!
//! With reactions and compressions as unknowns beside gaps and loads, "the stiffness lies between
//! k_low and k_high" is linear: `R/k_high <= c <= R/k_low`. So for a given set of supports in
//! contact the ends of a reaction over *all* gaps, loads and stiffnesses at once are a linear program.
//! Which supports are in contact is found by branch and bound: a support is first left undecided
//! (`R >= 0` and `c <= R/k_low`, which holds in contact and clear of it), and only where the best point
//! breaks the rule is it split into *in contact* and *clear*. Where the search ends the ends are exact,
//! and the point found is handed to [`solve`](super::solve), whose certificate proves that it is reached.

use super::Support;
use super::bearing::Bearing;
use super::error::SupportsError;
use super::reading::Reading;
use super::search::{SAME, Search};
use super::solver::Stands;
use super::statics::statics_bound;
use super::tipping::{Tipping, tipping};
use super::uncertain::{
    Between, Spot, UncertainLoad, UncertainSupport, check_uncertain, check_uncertain_load,
};
use tober_quantity::{Force, Length, Moment, Quantity};

/// One choice of everything that is not known, and what follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Witness {
    /// The supports, with a gap and a stiffness each.
    pub supports: Vec<Support>,
    /// Each burden, in the order given.
    pub burdens: Vec<Force>,
    /// The couple about the x axis.
    pub moment_x: Moment,
    /// The couple about the y axis.
    pub moment_y: Moment,
    /// The answer, with its certificate. Under a frame that bends its displacement is the plane from which the
    /// bending is counted.
    pub stands: Stands,
    /// How far each support is bent up from that plane; none for a rigid frame.
    pub bent: Option<Vec<Length>>,
}

/// What a band is asked for.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The supports.
    pub supports: &'a [UncertainSupport],
    /// What rests on the frame.
    pub load: &'a UncertainLoad,
    /// Where it bears, for a frame that bends; none for a rigid one.
    pub bearing: Option<&'a Bearing>,
    /// What was read of the feet when something else rested on the frame.
    pub reading: Option<&'a Reading>,
}

/// The load on one support.
#[derive(Clone, Debug, PartialEq)]
pub struct SupportBand {
    /// It carries no less than the low end and no more than the high end, whatever the unknowns are.
    pub load: Between<Force>,
    /// The least and greatest that were found with unknowns that can be named; none where none was
    /// looked for, or the one place that serves is the very edge of tipping.
    pub found: Option<Between<Force>>,
    /// What equilibrium alone allows.
    pub statics: Between<Force>,
    /// The unknowns with which it carries least, where they were found.
    pub lightest: Option<Witness>,
    /// The unknowns with which it carries most, where they were found.
    pub heaviest: Option<Witness>,
    /// Whether it may carry nothing, or under 1e-9 of the load.
    pub may_go_light: bool,
}

/// The loads on all supports.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// In the order given.
    pub supports: Vec<SupportBand>,
    /// Whether it stands for every load within its ends. Where it does not, the bands hold for those
    /// loads for which it does.
    pub tipping: Tipping,
    /// Whether every end was reached, so that the bands are as narrow as can be.
    pub tight: bool,
}

/// What can be said of the loads on the supports.
#[derive(Clone, Debug, PartialEq)]
pub enum BandAnswer {
    /// The bands.
    Stands(Band),
    /// The frame tips for every load within its ends.
    Tips(Tipping),
    /// No gaps, loads and stiffnesses within their ends give what was seen: something that was
    /// measured or assumed is wrong. Stop and look again.
    ReadingsDisagree,
}

/// The least and greatest load on each support over every gap, stiffness and load within its ends.
///
/// Every range is taken as independent of every other. The ends are exact, and `found` equals `load`,
/// unless the work budget ended; then `load` is still a bound. Wider ranges never give a narrower band.
/// What was [`Seen`] on kicking a foot narrows it.
///
/// Where part of the load has no place, or all supports are on one line, the band is what equilibrium
/// alone allows.
///
/// Valid as [`solve`](super::solve) is: rigid frame, small displacements, no friction. No published
/// example was found; it is held to [`solve`](super::solve) at the corners and at random points of the
/// ranges.
///
/// # Errors
/// Refuses numbers that are none or that no frame has, ranges turned round, and a load that nowhere
/// presses down.
///
/// # Not covered
/// Ranges that hang together, such as one scale that reads all masses too low: they make the band
/// wider than it need be, never too narrow.
pub fn band(supports: &[UncertainSupport], load: &UncertainLoad) -> Result<BandAnswer, SupportsError> {
    band_of(&Asked { supports, load, bearing: None, reading: None })
}

/// As [`band`], for a frame that is rigid or bends, and with what was read of its feet.
///
/// A [`Reading`] is of the same gaps under another load. Both situations are kept in one program, each gap being one
/// unknown of both: so the band is cut to the gaps that agree with the reading, in all their combinations and
/// not one by one. Stiffnesses and loads of the two are taken as independent, which makes the band wider than
/// need be and never too narrow. A further reading that agrees never widens it.
///
/// # Errors
/// As [`band`]; also refuses a reading or a bearing that is not for these supports and loads.
pub fn band_of(asked: &Asked<'_>) -> Result<BandAnswer, SupportsError> {
    let Asked { supports, load, .. } = *asked;
    for (i, support) in supports.iter().enumerate() {
        check_uncertain(i, support)?;
    }
    let down = check_uncertain_load(load)?;
    let spots: Vec<Spot> = supports.iter().map(|s| s.spot).collect();
    let tipping = tipping(&spots, load);
    let Some(statics) = statics_bound(&spots, load)? else {
        return Ok(BandAnswer::Tips(tipping));
    };
    if !load.placed() || on_one_line(&spots) {
        let supports = statics.iter().map(|&ends| only_statics(ends, down.high)).collect();
        return Ok(BandAnswer::Stands(Band { supports, tipping, tight: false }));
    }
    check_bearing(asked.bearing, supports.len(), load)?;
    if let Some(reading) = asked.reading {
        reading.check(supports.len())?;
        check_bearing(reading.bearing.as_ref(), supports.len(), &reading.load)?;
    }
    let mut search = Search::new(asked, &spots, down.high.si());
    let seen = search.by_trial();
    let mut bands = Vec::with_capacity(supports.len());
    let mut tight = true;
    for (i, &statics) in statics.iter().enumerate() {
        let Some(low) = search.farthest(i, -1.0) else {
            return Ok(BandAnswer::ReadingsDisagree);
        };
        let Some(high) = search.farthest(i, 1.0) else {
            return Ok(BandAnswer::ReadingsDisagree);
        };
        let force = |share: f64| Force::n(share.clamp(0.0, 1.0) * down.high.si());
        // A bound that the solver can be shown to pass is none: the numbers are too far apart in size.
        if seen[i].low < -low.bound - SAME || seen[i].high > high.bound + SAME {
            tight = false;
            bands.push(only_statics(statics, down.high));
            continue;
        }
        tight &= low.bound - low.found <= SAME && high.bound - high.found <= SAME;
        let load =
            Between { low: force(-low.bound).max(statics.low), high: force(high.bound).min(statics.high) };
        let reached = low.found.is_finite() && high.found.is_finite();
        let found = reached.then(|| Between { low: force(-low.found), high: force(high.found) });
        bands.push(SupportBand {
            load,
            found,
            statics,
            lightest: low.witness,
            heaviest: high.witness,
            may_go_light: -low.bound <= SAME,
        });
    }
    if asked.reading.is_some() {
        let mut bare = Search::new(&Asked { reading: None, ..*asked }, &spots, down.high.si());
        for (i, band) in bands.iter_mut().enumerate() {
            cut_to(band, &mut bare, i, down.high);
        }
    }
    Ok(BandAnswer::Stands(Band { supports: bands, tipping, tight }))
}

/// Cuts a band to what is possible without the reading. With two loads in one program an end that rounding keeps from being
/// proved impossible is kept as a bound, and that may lie beyond what the one load alone allows.
fn cut_to(band: &mut SupportBand, bare: &mut Search<'_>, support: usize, weight: Force) {
    let force = |share: f64| Force::n(share.clamp(0.0, 1.0) * weight.si());
    if let Some(low) = bare.farthest(support, -1.0) {
        band.load.low = band.load.low.max(force(-low.bound)).min(band.load.high);
    }
    if let Some(high) = bare.farthest(support, 1.0) {
        band.load.high = band.load.high.min(force(high.bound)).max(band.load.low);
    }
    band.may_go_light = band.load.low.si() <= SAME * weight.si();
}

/// The band of a support of which nothing but equilibrium is known.
fn only_statics(statics: Between<Force>, weight: Force) -> SupportBand {
    let may_go_light = statics.low.si() <= SAME * weight.si();
    SupportBand { load: statics, found: None, statics, lightest: None, heaviest: None, may_go_light }
}

/// A bearing must be that of these supports and burdens.
fn check_bearing(
    bearing: Option<&Bearing>,
    supports: usize,
    load: &UncertainLoad,
) -> Result<(), SupportsError> {
    let Some(bearing) = bearing else { return Ok(()) };
    let (feet, columns) = (bearing.give.len(), bearing.columns.len());
    if feet != supports {
        return Err(SupportsError::SpringsMissing { given: supports, supports: feet });
    }
    if columns != load.burdens.len() + 2 {
        return Err(SupportsError::NotBorne { burdens: load.burdens.len(), borne: columns - 2 });
    }
    Ok(())
}

pub(super) fn on_one_line(spots: &[Spot]) -> bool {
    let (x, y): (Vec<f64>, Vec<f64>) = spots.iter().map(|s| (s.x.si(), s.y.si())).unzip();
    let mut hull = super::hull::Hull::default();
    hull.make(&x, &y);
    hull.is_flat()
}
