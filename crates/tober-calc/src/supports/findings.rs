//! What is found of the loads on the supports, with the working.

use super::band::{Asked, Band, BandAnswer, SupportBand, Witness, band_of, on_one_line};
use super::bearing::Bearing;
use super::error::SupportsError;
use super::influence::{Influence, Input, influences_of};
use super::reading::{Disagreement, Reading, disagreement};
use super::tipping::{Tipping, tipping};
use super::uncertain::{Between, Burden, Place, Spot, UncertainLoad, UncertainSupport};
use crate::finding::{Basis, Finding, Proof, Standing, Subject};
use crate::working::{Provenance, Working, sum};
use tober_quantity::{Acceleration, Amount, Force, Mass, Moment, Quantity, Shown, UnitSet, significant};

/// What the maker means a leg for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// It carries.
    Carries,
    /// It only steadies: the ride must stand without it.
    OnlySteadies,
}

/// One leg as a finding speaks of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Its name by corner: "front left".
    pub name: String,
    /// What it is meant for.
    pub role: Role,
    /// What it may carry, where the book says.
    pub rated: Option<Mass>,
    /// Place, stiffness, gap and what was seen.
    pub support: UncertainSupport,
    /// Where its stiffness comes from.
    pub stiffness_from: Provenance,
    /// Where its gap comes from.
    pub gap_from: Provenance,
}

/// One burden as a finding speaks of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// Its name: "turntable".
    pub name: String,
    /// Force and place.
    pub burden: Burden,
    /// Where its mass comes from.
    pub from: Provenance,
}

/// A frame on its legs in one situation, such as open and full in a wind.
#[derive(Clone, Debug)]
pub struct Situation {
    /// The legs.
    pub legs: Vec<Leg>,
    /// What rests on the frame.
    pub weights: Vec<Weight>,
    /// The couple about the x axis, as of wind from either side.
    pub moment_x: Between<Moment>,
    /// The couple about the y axis, as of wind from either end.
    pub moment_y: Between<Moment>,
    /// Where the couples come from.
    pub moments_from: Provenance,
    /// To what a printed load is rounded: the low end down to it and the high end up to it.
    pub step: Mass,
    /// Where the load bears on a frame that bends; none for a rigid frame.
    pub bearing: Option<Bearing>,
    /// What was read of the feet, be it under another load.
    pub reading: Option<Reading>,
}

impl Situation {
    fn supports(&self) -> Vec<UncertainSupport> {
        self.legs.iter().map(|l| l.support).collect()
    }
    fn load(&self) -> UncertainLoad {
        let burdens = self.weights.iter().map(|w| w.burden).collect();
        UncertainLoad { burdens, moment_x: self.moment_x, moment_y: self.moment_y }
    }
}

/// The findings on the supports of one situation: whether it stands, and for each leg its load against its
/// rated load and whether it may carry nothing.
///
/// The share is taken from the high end as it is printed. Whether the frame stands is a matter of statics
/// alone here; the factors for stability are the business of [`stability`](crate::stability).
///
/// # Errors
/// As [`band`]; also refuses a rounding step that is not above nothing.
pub fn findings(situation: &Situation) -> Result<Vec<Finding>, SupportsError> {
    Ok(found(situation)?.0)
}

/// As [`findings`], with the bands that they speak of, where the frame stands: what a checker asks for.
///
/// A reading is compared only where every load has a place and the legs are not on one line; otherwise whether it
/// agrees is not known, and it cuts nothing.
///
/// # Errors
/// As [`findings`].
pub fn found(situation: &Situation) -> Result<(Vec<Finding>, Option<Band>), SupportsError> {
    let step = situation.step;
    if !(step.si() > 0.0 && step.is_finite()) {
        let limit = super::error::limit::<Mass>(1.0, 1e6, Shown::Mass);
        return Err(SupportsError::LoadOutOfRange { what: "rounding step", given: step.amount(), limit });
    }
    let (supports, load) = (situation.supports(), situation.load());
    let mut list = Vec::new();
    let (bearing, reading) = (situation.bearing.as_ref(), situation.reading.as_ref());
    if let Some(reading) = reading {
        let spots: Vec<Spot> = supports.iter().map(|s| s.spot).collect();
        let missing = if !(load.placed() && reading.load.placed()) {
            Some("Where part of the load acts; give each body its centre of gravity.")
        } else if on_one_line(&spots) {
            Some("Legs that are not all on one line.")
        } else {
            None
        };
        if let Some(missing) = missing {
            return without_reading(situation, missing);
        }
    }
    let asked = Asked { supports: &supports, load: &load, bearing, reading };
    let answer = band_of(&asked)?;
    if let (Some(_), BandAnswer::Stands(_)) = (reading, &answer) {
        list.push(readings(true));
    }
    match answer {
        BandAnswer::ReadingsDisagree if reading.is_some() => {
            let apart = reading.map(|reading| disagreement(&supports, reading)).transpose()?.flatten();
            let Some(apart) = apart else {
                // No miss that could be told: the search did not get there, so the reading is left out and said to be.
                let missing = "Whether the readings can be under the load the frame had when it was read.";
                return without_reading(situation, missing);
            };
            list.push(disagrees(situation, &apart));
        }
        BandAnswer::ReadingsDisagree => {
            let advice =
                "Stop. Something that was measured or assumed is wrong: read the frame and the feet again.";
            let finding = readings(false).advice(advice);
            list.push(finding);
        }
        BandAnswer::Tips(tipping) => list.push(stands(tipping, situation)),
        BandAnswer::Stands(band) => {
            list.push(stands(band.tipping, situation));
            list.extend(stands_on_what_carries(situation, &load));
            // With a reading every figure takes two frames at once, so what it would be worth to know is left out.
            let influences = if reading.is_some() { Vec::new() } else { influences_of(&asked)? };
            for (i, leg) in situation.legs.iter().enumerate() {
                list.push(leg_load(situation, &band, &influences, i));
                if leg.role == Role::Carries {
                    list.push(leg_light(&band.supports[i], leg));
                }
            }
            return Ok((list, Some(band)));
        }
    }
    Ok((list, None))
}

/// The findings with the reading left out, and that it is.
fn without_reading(
    situation: &Situation,
    missing: &str,
) -> Result<(Vec<Finding>, Option<Band>), SupportsError> {
    let (mut list, band) = found(&Situation { reading: None, ..situation.clone() })?;
    list.push(readings_not_known(missing));
    Ok((list, band))
}

/// That nobody can tell whether what was read of the feet can be, and what is missing for it.
pub fn readings_not_known(missing: &str) -> Finding {
    Finding::not_known("supports.readings", Subject::Frame, READINGS, missing).never_overridden()
}

const READINGS: &str = "what was read of the feet agrees with the gaps, stiffnesses and loads";

fn readings(agree: bool) -> Finding {
    Finding::statement("supports.readings", Subject::Frame, READINGS, agree)
        .never_overridden()
        .basis(Basis::Mechanics)
}

/// What makes a foot carry other than was worked out, the likeliest first. Common practice, no source.
const LOOK_FOR: &str = "Look for ground that has sunk, a board that is not as planned, a pin in another hole, a part \
                        that is aboard and should not be, and a gauge that stuck.";

/// The stop, with which reading cannot be and by how much.
fn disagrees(situation: &Situation, apart: &Disagreement) -> Finding {
    let mut finding = readings(false);
    let mut working = Working::new();
    let name = |i: usize| situation.legs.get(i).map_or("?", |l| l.name.as_str());
    for one in &apart.alone {
        let (read, computed) = (one.read, one.computed);
        let most =
            if read.high.si() < 1e8 { format!(" to {}", tonnes(read.high)) } else { " or more".to_owned() };
        finding = finding.note(format!(
            "At {} the reading is {}{most}, and without readings {} to {} is computed: apart by {}.",
            name(one.support),
            tonnes(read.low),
            tonnes(computed.low),
            tonnes(computed.high),
            tonnes(one.by)
        ));
    }
    let shown = |force: Force| force.mass().amount().shown(Shown::Load);
    let advice = match (apart.alone.first(), apart.together) {
        (Some(first), _) => {
            let leg = name(first.support);
            let meaning = format!("by how much reading and computation miss each other at {leg}");
            working.given("d", &meaning, shown(first.by), Provenance::Computed);
            format!("Stop. Begin at {leg}: something there was measured or assumed wrong. {LOOK_FOR}")
        }
        (None, Some(together)) => {
            let meaning = "by how much all readings would have to be off beyond what they may";
            working.given("d", meaning, shown(together), Provenance::Computed);
            finding = finding.note("No reading is wrong by itself; all together they cannot be.");
            format!(
                "Stop. Something that was measured or assumed is wrong: read the frame and the feet again. {LOOK_FOR}"
            )
        }
        (None, None) => String::new(),
    };
    finding.working(working).advice(advice)
}

fn stands(tipping: Tipping, situation: &Situation) -> Finding {
    let title = "the frame stands on its legs for every load within its ends";
    let code = "supports.stands";
    let statement = |holds| Finding::statement(code, Subject::Frame, title, holds);
    let side = |edge: super::solver::Edge| {
        let name = |i: usize| situation.legs.get(i).map_or("?", |l| l.name.as_str());
        format!("over the side from {} to {}", name(edge.from), name(edge.to))
    };
    let finding = match tipping {
        Tipping::Nowhere { margin, .. } => {
            let mut working = Working::new();
            let meaning = "least distance of the resultant inside the hull of the legs";
            working.given("d", meaning, margin.amount().shown(Shown::Coarse), Provenance::Computed);
            statement(true).proof(Proof::Proved).working(working)
        }
        Tipping::Somewhere { over, .. } => statement(false)
            .proof(Proof::Refuted {
                counterexample: format!("It tips {} for some load within its ends.", side(over)),
            })
            .note("The loads on the legs hold only for those loads for which the frame stands."),
        Tipping::Everywhere { over } => statement(false).proof(Proof::Refuted {
            counterexample: format!("It tips {} for every load within its ends.", side(over)),
        }),
        Tipping::LiftsOff => statement(false)
            .proof(Proof::Refuted { counterexample: "The load may come to nothing, or pull up.".to_owned() }),
        Tipping::NotKnown => {
            let missing = "Where part of the load acts; give each body its centre of gravity.";
            Finding::not_known(code, Subject::Frame, title, missing)
        }
    };
    finding.never_overridden().basis(Basis::Mechanics)
}

/// A leg that only steadies may be taken away by a kick, so the frame must stand on the others.
fn stands_on_what_carries(situation: &Situation, load: &UncertainLoad) -> Option<Finding> {
    let carries = |l: &&Leg| l.role == Role::Carries;
    let spots: Vec<Spot> = situation.legs.iter().filter(carries).map(|l| l.support.spot).collect();
    if spots.len() == situation.legs.len() {
        return None;
    }
    let title = "the frame stands without the legs that only steady";
    let code = "supports.stands-without-steadies";
    let holds = match tipping(&spots, load) {
        _ if spots.is_empty() => false,
        Tipping::Nowhere { .. } => true,
        Tipping::Somewhere { .. } | Tipping::Everywhere { .. } | Tipping::LiftsOff => false,
        Tipping::NotKnown => {
            let missing = "Where part of the load acts; give each body its centre of gravity.";
            return Some(Finding::not_known(code, Subject::Frame, title, missing).never_overridden());
        }
    };
    let proof = if holds {
        Proof::Proved
    } else {
        Proof::Refuted { counterexample: "It tips for some load within its ends.".to_owned() }
    };
    let finding = Finding::statement(code, Subject::Frame, title, holds);
    Some(finding.never_overridden().basis(Basis::Mechanics).proof(proof))
}

/// The band as it is printed: the low end down and the high end up to the step.
fn printed(load: &Between<Force>, step: Mass) -> (Amount, Amount) {
    // So that a figure that is the step but for binary noise is not moved a whole step.
    const NOISE: f64 = 1e-7;
    let steps = |force: Force| force.mass() / step;
    let low = step * (steps(load.low) + NOISE).floor().max(0.0);
    let high = step * (steps(load.high) - NOISE).ceil().max(0.0);
    (low.amount().shown(Shown::Load), high.amount().shown(Shown::Load))
}

fn leg_load(situation: &Situation, band: &Band, influences: &[Influence], i: usize) -> Finding {
    let leg = &situation.legs[i];
    let found = &band.supports[i];
    let ends = printed(&found.load, situation.step);
    let (code, title, missing) = match leg.role {
        Role::Carries => {
            ("supports.load", "load on the leg", "The ride book gives no rated load for this leg.")
        }
        Role::OnlySteadies => (
            "supports.load-on-steady",
            "load on a leg that only steadies",
            "The ride book gives no load for this leg, which only steadies.",
        ),
    };
    let subject = Subject::Support(leg.name.clone());
    let finding = match leg.rated {
        Some(rated) => {
            let limit = rated.amount().shown(Shown::Load);
            let sense = crate::finding::Sense::AtMost;
            Finding::against_limit(code, subject, title, ends, limit, sense).basis(Basis::MakersLimit)
        }
        None => Finding::without_limit(code, subject, title, ends, missing),
    };
    let proof = match (&found.heaviest, band.tight) {
        (Some(_), true) => Proof::Proved,
        (Some(worst), false) => Proof::Bounded {
            bound: format!(
                "found up to {}, and it is not above {}",
                tonnes(worst.stands.reactions[i]),
                tonnes(found.load.high)
            ),
        },
        (None, _) if situation.reading.is_some() => Proof::Bounded {
            bound: format!("not above {} in any case that agrees with the reading", tonnes(found.load.high)),
        },
        (None, _) => {
            Proof::Bounded { bound: format!("not above {} by statics alone", tonnes(found.load.high)) }
        }
    };
    let mut finding = finding.basis(Basis::Mechanics).proof(proof);
    if matches!(band.tipping, Tipping::Somewhere { .. } | Tipping::LiftsOff) {
        finding = finding.note("It holds only for those loads for which the frame stands.");
    }
    if finding.standing == Standing::PastLimit {
        finding = finding.advice(match leg.role {
            Role::Carries => "Take load off this leg: lower it, or measure again what makes its band wide.",
            Role::OnlySteadies => "Set this leg last and hand tight, so that it carries little.",
        });
    }
    let mut working = match &found.heaviest {
        Some(worst) => worst_case(situation, worst, i),
        None => bound_alone(found, situation.reading.is_some()),
    };
    worth_knowing(situation, influences, i, &mut working);
    let model = match (&situation.bearing, &situation.reading) {
        (None, None) => "The frame is taken as rigid, and the ground as springing back.",
        (Some(_), None) => {
            "The frame is taken as beams that bend and twist, and the ground as springing back."
        }
        (None, Some(_)) => {
            "The frame is taken as rigid, and the ground as springing back; what was read of the feet cuts the band."
        }
        (Some(_), Some(_)) => {
            "The frame is taken as beams that bend and twist, and the ground as springing back; what was read of the \
             feet cuts the band."
        }
    };
    finding.working(working).note(model)
}

fn tonnes(force: Force) -> String {
    let unit = Shown::Load.unit(UnitSet::Metric);
    format!("{}\u{202f}{}", significant(force.mass().si() / unit.factor, 4), unit.symbol)
}

fn bound_alone(found: &SupportBand, read: bool) -> Working {
    let mut working = Working::new();
    let meaning = if read {
        "greatest load on this leg in any case that agrees with what was read"
    } else {
        "greatest load that equilibrium allows on this leg"
    };
    let most = working.given("R", meaning, found.load.high, Provenance::Computed);
    let g = gravity(&mut working);
    working.line("m", "as a load in the crew's units", most / g, Shown::Load);
    working
}

fn gravity(working: &mut Working) -> crate::working::Term {
    let source = "standard gravity, 3rd CGPM (1901)";
    working.given("g", "standard gravity", Acceleration::g(1.0), Provenance::tabulated(source))
}

/// The case in which the leg carries most, as lines: the spring of the leg, then the three sums, once over the
/// loads and once over the legs.
fn worst_case(situation: &Situation, worst: &Witness, i: usize) -> Working {
    let mut working = Working::new();
    let w = &mut working;
    let leg = &situation.legs[i];
    let support = &worst.supports[i];
    let moved = worst.stands.displacement;
    let turn = |angle: tober_quantity::Angle| angle.amount().shown(Shown::Slope);
    let x = w.given(
        "x",
        "place of the leg along the frame",
        support.x.amount().shown(Shown::Coarse),
        Provenance::Maker,
    );
    let y = w.given(
        "y",
        "place of the leg across the frame",
        support.y.amount().shown(Shown::Coarse),
        Provenance::Maker,
    );
    let k = w.given(
        "k",
        "stiffness of the leg in the worst case for it",
        support.stiffness,
        leg.stiffness_from.clone(),
    );
    let gap = w.given("gap", "gap to close in the worst case for it", support.gap, leg.gap_from.clone());
    let z = w.given("z", "how far the frame moves up at the datum", moved.z, Provenance::Computed);
    let theta_x =
        w.given("θx", "how far it turns about the x axis", turn(moved.theta_x), Provenance::Computed);
    let theta_y =
        w.given("θy", "how far it turns about the y axis", turn(moved.theta_y), Provenance::Computed);
    let mut up = z + theta_x * y - theta_y * x;
    if let Some(bent) = worst.bent.as_ref().and_then(|bent| bent.get(i)) {
        let meaning = "how far the frame is bent up there from the plane through three legs";
        up = up + w.given("b", meaning, *bent, Provenance::Computed);
    }
    let u = w.line("u", "how far the frame moves up at the leg", up, Shown::Fine);
    let c = w.line("c", "how far the leg is pressed in", -(u + gap), Shown::Fine);
    let r = w.line("R", "load on the leg", k * c, Shown::Force);
    let g = gravity(w);
    w.line("m", "the same in the crew's units", r / g, Shown::Load);

    let (mut down, mut along, mut across) = (Vec::new(), Vec::new(), Vec::new());
    for (b, (weight, force)) in situation.weights.iter().zip(&worst.burdens).enumerate() {
        let n = b + 1;
        let Place::At(spot) = weight.burden.place else { continue };
        let name = &weight.name;
        let q =
            w.given(&format!("Q{n}"), &format!("weight of {name} in that case"), *force, weight.from.clone());
        let a = spot.x.amount().shown(Shown::Coarse);
        let a = w.given(&format!("a{n}"), &format!("place of {name} along the frame"), a, Provenance::Maker);
        let e = spot.y.amount().shown(Shown::Coarse);
        let e = w.given(&format!("b{n}"), &format!("place of {name} across the frame"), e, Provenance::Maker);
        along.push(q.clone() * a);
        across.push(q.clone() * e);
        down.push(q);
    }
    let from = || situation.moments_from.clone();
    along.push(w.given("My", "couple about the y axis in that case", worst.moment_y, from()));
    let couple_x = w.given("Mx", "couple about the x axis in that case", worst.moment_x, from());
    w.line("W", "sum of the weights", sum(down), Shown::Force);
    w.line("WX", "their moment along the frame", sum(along), Shown::Moment);
    w.line("WY", "their moment across the frame", sum(across) - couple_x, Shown::Moment);

    let (mut up, mut along, mut across) = (Vec::new(), Vec::new(), Vec::new());
    for (j, (other, reaction)) in situation.legs.iter().zip(&worst.stands.reactions).enumerate() {
        let n = j + 1;
        let name = &other.name;
        let r = w.given(
            &format!("R{n}"),
            &format!("load on {name} in that case"),
            *reaction,
            Provenance::Computed,
        );
        let at = other.support.spot;
        let x = at.x.amount().shown(Shown::Coarse);
        let x = w.given(&format!("x{n}"), &format!("place of {name} along the frame"), x, Provenance::Maker);
        let y = at.y.amount().shown(Shown::Coarse);
        let y = w.given(&format!("y{n}"), &format!("place of {name} across the frame"), y, Provenance::Maker);
        along.push(r.clone() * x);
        across.push(r.clone() * y);
        up.push(r);
    }
    w.line("ΣR", "sum of the loads on the legs, which is W", sum(up), Shown::Force);
    w.line("ΣRx", "their moment along the frame, which is WX", sum(along), Shown::Moment);
    w.line("ΣRy", "their moment across the frame, which is WY", sum(across), Shown::Moment);
    working
}

/// The three things that would lower the high end most, were they known.
fn worth_knowing(situation: &Situation, influences: &[Influence], i: usize, working: &mut Working) {
    let mut list: Vec<(&Influence, Force)> = influences.iter().map(|f| (f, f.takes_off[i])).collect();
    list.sort_by(|a, b| b.1.si().total_cmp(&a.1.si()).then(a.0.input.cmp(&b.0.input)));
    let worth = list.iter().filter(|(_, takes_off)| takes_off.mass().si() >= 0.5 * situation.step.si());
    for (n, (influence, takes_off)) in worth.take(3).enumerate() {
        let thing = match influence.input {
            Input::Gap(j) => format!("the gap at {}", situation.legs[j].name),
            Input::Stiffness(j) => format!("the stiffness under {}", situation.legs[j].name),
            Input::Burden(b) => format!("the weight of {}", situation.weights[b].name),
            Input::MomentX => "the couple about the x axis".to_owned(),
            Input::MomentY => "the couple about the y axis".to_owned(),
        };
        let meaning = format!("what {thing} would take off the high end, were it known");
        let amount = takes_off.mass().amount().shown(Shown::Load);
        working.given(&format!("Δ{}", n + 1), &meaning, amount, Provenance::Computed);
    }
}

/// A leg that may carry nothing breaks no limit, since the others' bands allow for it; but it wants looking at.
fn leg_light(found: &SupportBand, leg: &Leg) -> Finding {
    let title = if found.may_go_light { "foot may be light" } else { "foot carries in every case" };
    let subject = Subject::Support(leg.name.clone());
    let mut finding = Finding::statement("supports.light", subject, title, true);
    if found.may_go_light {
        finding.standing = Standing::Close;
        finding = finding
            .advice(
                "Kick this foot once the frame is down: if it moves, it is light; trim it before going on.",
            )
            .note("The bands of the other legs allow for it.");
    }
    let proof = match (&found.lightest, found.may_go_light) {
        (_, false) => Proof::Proved,
        (Some(_), true) => {
            let counterexample = "Gaps, stiffnesses and loads within their ends leave it with nothing.";
            Proof::Refuted { counterexample: counterexample.to_owned() }
        }
        (None, true) => Proof::Bounded { bound: "it is not ruled out that it carries nothing".to_owned() },
    };
    finding.basis(Basis::Mechanics).proof(proof)
}
