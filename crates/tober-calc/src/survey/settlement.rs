//! Two surveys of the same points on different days: what moved, and by how much more than readings can explain.

use super::plane;
use super::{Place, Survey, SurveyError};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Working, number};
use std::collections::BTreeMap;
use tober_quantity::{Length, Quantity, Ratio, Shown, Slope, UnitSet, significant};

/// How many of its own deviations a change must be past to be more than readings can explain: the two-sided 5 %
/// point of the normal distribution (from memory). One change in twenty is past it with nothing moved; a stricter
/// figure would miss more that sank.
pub const MOVED_AT: f64 = 1.96;

/// What became of one point.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The point.
    pub point: String,
    /// How much it rose against what was taken as still; below zero where it sank.
    pub rise: Length,
    /// One standard deviation of that.
    pub deviation: Length,
    /// The rise over its deviation; `None` where it has none.
    pub standardised: Option<Ratio>,
    /// Whether that is more than readings can explain.
    pub moved: bool,
    /// Whether it was taken as still.
    pub still: bool,
    /// How much it rose off the plane of all the feet's changes, and one deviation of that.
    pub off_plane: Option<(Length, Length)>,
}

/// What moved between two surveys.
#[derive(Clone, Debug, PartialEq)]
pub struct Settlement {
    /// The points that were read both times, in order of their names.
    pub changes: Vec<Change>,
    /// Which points were taken as still.
    pub still: Vec<String>,
    /// Whether nobody said which point is still, so that the first one stands in for it.
    pub still_assumed: bool,
    /// How the plane of the feet tilted: rise along x and along y, each with one deviation.
    pub tilt: Option<[(Slope, Slope); 2]>,
    /// Points that were read only once.
    pub unmatched: Vec<String>,
}

/// Compares two surveys of the same points.
///
/// dᵢ = later − earlier height; the rise is dᵢ less the mean d of the points taken as still; its deviation comes
/// from both surveys' covariances. The tilt and how far each foot left the plane come from the nearest plane to the
/// feet's changes (as [`super::best_plane`]): a shift of the datum drops out of both, so they do not rest on what
/// was taken as still. `feet` gives the points of that plane and their places. Source: propagation of errors.
///
/// # Errors
/// No point in common; a point named as still that was not read both times.
///
/// # Not covered
/// A still point that moved, where it is the only one; the errors that both surveys share, which drop out in truth
/// and are counted twice here, to the safe side.
pub fn settlement(
    earlier: &Survey,
    later: &Survey,
    still: &[String],
    feet: &BTreeMap<String, Place>,
) -> Result<Settlement, SurveyError> {
    let at = |survey: &Survey, name: &str| survey.heights.iter().position(|h| h.name == name);
    let common: Vec<(&str, usize, usize)> = later
        .heights
        .iter()
        .enumerate()
        .filter_map(|(new, h)| Some((h.name.as_str(), at(earlier, &h.name)?, new)))
        .collect();
    if common.is_empty() {
        return Err(SurveyError::NothingInCommon);
    }
    let index = |name: &str| common.iter().position(|c| c.0 == name);
    if let Some(lost) = still.iter().find(|name| index(name).is_none()) {
        return Err(SurveyError::StillNotRead { point: lost.clone() });
    }
    let still_assumed = still.is_empty();
    let kept: Vec<usize> =
        if still_assumed { vec![0] } else { still.iter().filter_map(|name| index(name)).collect() };
    let rise_m: Vec<f64> = common
        .iter()
        .map(|&(_, old, new)| (later.heights[new].height - earlier.heights[old].height).as_m())
        .collect();
    // The deviation of a sum of changes, each with its share.
    let deviation_m = |shares: &[f64]| -> f64 {
        let of = |side: fn(&(&str, usize, usize)) -> usize| -> Vec<(usize, f64)> {
            common.iter().map(side).zip(shares.iter().copied()).filter(|(_, share)| *share != 0.0).collect()
        };
        let old = earlier.covariance.deviation_of(&of(|c| c.1)).as_m();
        let new = later.covariance.deviation_of(&of(|c| c.2)).as_m();
        (old * old + new * new).sqrt()
    };
    let times =
        |shares: &[f64]| -> f64 { shares.iter().zip(&rise_m).map(|(share, rise)| share * rise).sum() };
    let tilting = Plane::of(&common, feet);
    let change = |i: usize| {
        let mut shares = vec![0.0; common.len()];
        shares[i] = 1.0;
        for &datum in &kept {
            shares[datum] -= 1.0 / kept.len() as f64;
        }
        let (rise, deviation) = (times(&shares), deviation_m(&shares));
        let standardised = (deviation > 0.0).then(|| rise.abs() / deviation);
        Change {
            point: common[i].0.to_owned(),
            rise: Length::m(rise),
            deviation: Length::m(deviation),
            standardised: standardised.map(Ratio::one),
            moved: standardised.map_or(rise != 0.0, |size| size > MOVED_AT),
            still: kept.contains(&i),
            off_plane: tilting.as_ref().and_then(|plane| {
                let shares = plane.off(i)?;
                Some((Length::m(times(&shares)), Length::m(deviation_m(&shares))))
            }),
        }
    };
    let unmatched = |one: &Survey, other: &Survey| -> Vec<String> {
        one.heights.iter().filter(|h| at(other, &h.name).is_none()).map(|h| h.name.clone()).collect()
    };
    Ok(Settlement {
        changes: (0..common.len()).map(change).collect(),
        still: kept.iter().map(|&i| common[i].0.to_owned()).collect(),
        still_assumed,
        tilt: tilting.as_ref().map(|plane| {
            [0, 1].map(|axis| {
                let shares: Vec<f64> = plane.weights.iter().map(|w| w[axis]).collect();
                (Slope::ratio(times(&shares)), Slope::ratio(deviation_m(&shares)))
            })
        }),
        unmatched: [unmatched(earlier, later), unmatched(later, earlier)].concat(),
    })
}

/// The nearest plane to the changes of the feet, as a weight of each change in its three figures.
struct Plane {
    weights: Vec<[f64; 3]>,
    places_m: Vec<Option<(f64, f64)>>,
}

impl Plane {
    fn of(common: &[(&str, usize, usize)], feet: &BTreeMap<String, Place>) -> Option<Self> {
        let places_m: Vec<Option<(f64, f64)>> =
            common.iter().map(|c| feet.get(c.0).map(|at| (at.x.as_m(), at.y.as_m()))).collect();
        let placed: Vec<(usize, (f64, f64))> =
            places_m.iter().enumerate().filter_map(|(i, at)| Some((i, (*at)?))).collect();
        let mut weights = vec![[0.0; 3]; common.len()];
        if placed.len() < 3 {
            return None;
        }
        // The plane is linear in the changes: its answer to one change of one metre is the weight of that change.
        for &(i, _) in &placed {
            let unit = |&(j, (x, y)): &(usize, (f64, f64))| [x, y, if i == j { 1.0 } else { 0.0 }];
            weights[i] = plane::fit(&placed.iter().map(unit).collect::<Vec<_>>())?;
        }
        Some(Self { weights, places_m })
    }

    /// The share of each change in how far one foot left the plane.
    fn off(&self, foot: usize) -> Option<Vec<f64>> {
        let (x, y) = self.places_m[foot]?;
        let mut shares: Vec<f64> = self.weights.iter().map(|[a, b, c]| -(a * x + b * y + c)).collect();
        shares[foot] += 1.0;
        Some(shares)
    }
}

/// What a settlement is held against: the tolerances that the ride stands by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SettlementLimits {
    /// The level tolerance along, where the maker gives one.
    pub along: Option<Slope>,
    /// The level tolerance across.
    pub across: Option<Slope>,
    /// How far a foot may be off the plane of the frame.
    pub planarity: Option<Length>,
    /// Between which readings, in words: "since 2031-05-02".
    pub since: String,
}

/// The findings on a settlement: the tilt it made and how far each foot left the plane of the others, against the
/// level tolerance and the planarity of the maker, at the far end of what the readings allow.
///
/// Not known without a tolerance. What all feet sank together is not known unless a point was named as still.
pub fn settlement_findings(found: &Settlement, limits: &SettlementLimits) -> Vec<Finding> {
    let mut list = Vec::new();
    let since = &limits.since;
    let names = found.still.join(", ");
    let still =
        Finding::statement("settlement.still", Subject::Pitch, "what the settlement is measured from", true);
    list.push(if found.still_assumed {
        still.doubted(&format!(
            "No point was named as still: {names} stands in for one, so what all sank together is not known. The tilt \
             and how far each foot left the plane are not changed by it."
        ))
    } else {
        let many = found.changes.iter().filter(|c| c.still).count() > 1;
        match found.changes.iter().find(|c| c.still && c.moved && many) {
            Some(moved) => still.doubted(&format!(
                "{names} were named as still, and {} moved against the others by more than readings can explain.",
                moved.point
            )),
            None => still.note(format!("Taken as still: {names}.")),
        }
    });
    match found.tilt {
        Some([along, across]) => {
            list.push(tilt("tilt along since the earlier readings", along, limits.along, since));
            list.push(tilt("tilt across since the earlier readings", across, limits.across, since));
        }
        None => {
            let missing = "Three feet that were read both times and do not stand on one line.";
            let title = "tilt since the earlier readings";
            list.push(Finding::not_known("settlement.tilt", Subject::Frame, title, missing));
        }
    }
    list.extend(found.changes.iter().filter(|c| !c.still || found.still_assumed).map(|c| foot(c, limits)));
    if !found.unmatched.is_empty() {
        let title = "every point was read both times";
        let missing = format!("Read only once: {}.", found.unmatched.join(", "));
        list.push(Finding::not_known("settlement.unmatched", Subject::Pitch, title, &missing));
    }
    let by = Basis::from_memory("two-sided 5 % point of the normal distribution, 1.96");
    list.into_iter().map(|finding| finding.basis(by.clone())).collect()
}

/// The size of a figure at the near and the far end of what readings allow, with its working.
fn ends<Q: Quantity>(symbol: &str, what: &str, figure: Q, deviation: Q, shown: Shown) -> (Working, f64, f64) {
    let mut working = Working::new();
    let read = || Provenance::measured("both surveys");
    let t = working.given(symbol, what, figure.amount().shown(shown), read());
    let s = working.given("s", "one deviation of it", deviation.amount().shown(shown), read());
    let far = working.line("w", "at the far end", t.abs() + number(MOVED_AT) * s, shown).value();
    let near = (figure.si().abs() - MOVED_AT * deviation.si()).max(0.0);
    (working, near, far)
}

fn tilt(title: &str, (slope, deviation): (Slope, Slope), limit: Option<Slope>, since: &str) -> Finding {
    let (working, near, far) = ends("t", title, slope, deviation, Shown::Slope);
    let band = (Slope::ratio(near).amount(), Slope::ratio(far).amount());
    let code = "settlement.tilt";
    let finding = match limit {
        Some(most) => Finding::against_limit(code, Subject::Frame, title, band, most.amount(), Sense::AtMost)
            .basis(Basis::MakersLimit)
            .advice("Read the frame, and trim it."),
        None => {
            let missing = "The level tolerance, from the maker's manual.";
            Finding::without_limit(code, Subject::Frame, title, band, missing)
        }
    };
    let mm_per_m = slope.as_mm_per_m();
    finding.working(working).note(format!(
        "{since}: {} mm/m, {}.",
        significant(mm_per_m, 2),
        explained(slope.as_ratio().abs(), deviation.as_ratio())
    ))
}

fn foot(change: &Change, limits: &SettlementLimits) -> Finding {
    const CODE: &str = "settlement.foot";
    const TITLE: &str = "foot off the plane that the feet sank to";
    let subject = Subject::Support(change.point.clone());
    let finding = match change.off_plane {
        None => {
            Finding::not_known(CODE, subject, TITLE, "Its place among three feet that were read both times.")
        }
        Some((off, deviation)) => {
            let (working, near, far) = ends("u", TITLE, off, deviation, Shown::Finest);
            let band = (near, far);
            let amount = |m: f64| Length::m(m).amount().shown(Shown::Finest);
            let band = (amount(band.0), amount(band.1));
            let made = match limits.planarity {
                Some(most) => {
                    let most = most.amount().shown(Shown::Finest);
                    Finding::against_limit(CODE, subject, TITLE, band, most, Sense::AtMost)
                        .basis(Basis::MakersLimit)
                        .advice("Kick every foot; read the frame, and trim it.")
                }
                None => {
                    let missing = "The planarity that the maker allows.";
                    Finding::without_limit(CODE, subject, TITLE, band, missing)
                }
            };
            made.working(working)
        }
    };
    if change.still {
        return finding.note(format!("{}: taken as still.", limits.since));
    }
    let way = if change.rise < Length::ZERO { "sank" } else { "rose" };
    let metric = Shown::Finest.unit(UnitSet::Metric);
    let mm = significant(change.rise.abs().si() / metric.factor, 2);
    finding.note(format!(
        "{}: it {way} {mm} mm, {}.",
        limits.since,
        explained(change.rise.abs().as_m(), change.deviation.as_m())
    ))
}

/// Whether a change is more than readings can explain, in words.
fn explained(size: f64, deviation: f64) -> String {
    if deviation <= 0.0 {
        return if size > 0.0 { "more than readings can explain" } else { "nothing" }.to_owned();
    }
    let times = size / deviation;
    let than = if times > MOVED_AT { "more than" } else { "no more than" };
    format!(
        "{than} readings can explain ({} deviations, and {MOVED_AT} could be chance)",
        significant(times, 2)
    )
}

#[cfg(test)]
#[path = "settlement_tests.rs"]
mod tests;
