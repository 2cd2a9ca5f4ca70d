//! The printed order, step by step: where every body was and is, which legs are set, what the winch line is on, and what
//! each leg carries then. It is what pictures of the steps are drawn from.

use crate::aboard::{Around, provenance};
use crate::beams::bearing;
use crate::carried::standing;
use crate::loads::{EitherWay, OpenLoad, on_frame};
use crate::model::LegPlan;
use crate::stand::ROAD;
use crate::underfoot::springs;
use crate::{Books, Plan};
use std::collections::BTreeMap;
use tober_book::{Body, Does, Phase, Placement, Ride, Step, Visit};
use tober_calc::finding::Standing;
use tober_calc::supports::{Asked, BandAnswer, Place, Spot, UncertainLoad, band_of};
use tober_quantity::{Angle, Force, Length, Mass, maths};

/// One step of the printed order.
#[derive(Clone, Debug)]
pub struct StepShown<'a> {
    /// The step.
    pub step: &'a Step,
    /// Its number in the book, from 1.
    pub number: usize,
    /// How many steps the book has.
    pub of: usize,
    /// Every body that came along.
    pub bodies: Vec<BodyShown<'a>>,
    /// The legs that are set when it is done, by name.
    pub legs: Vec<&'a str>,
    /// The body that the winch line is on while it is done.
    pub line: Option<&'a str>,
    /// The angle of the turntable before and after it.
    pub turned: [Angle; 2],
}

/// A body in a step.
#[derive(Clone, Copy, Debug)]
pub struct BodyShown<'a> {
    /// The body.
    pub body: &'a Body,
    /// Where it was before the step.
    pub was: &'a Placement,
    /// Where it is after it.
    pub is: &'a Placement,
}

impl BodyShown<'_> {
    /// Whether the step moves it.
    pub fn moves(&self) -> bool {
        self.was.name != self.is.name
    }
}

impl StepShown<'_> {
    /// Whether the ride stands on every leg that carries when it is done.
    pub fn on_legs(&self, ride: &Ride) -> bool {
        let mut carry = ride.supports.iter().filter(|support| support.does == Does::Carries);
        carry.all(|support| self.legs.contains(&support.name.as_str()))
    }

    /// Whether what the legs carry is other after it, on a ride that stands on all of them.
    pub fn is_stage(&self, ride: &Ride) -> bool {
        let carries = ride.supports.iter().any(|support| support.does == Does::Carries);
        let changes =
            !self.step.moves.is_empty() || !self.step.sets.is_empty() || self.turned[0] != self.turned[1];
        changes && carries && self.on_legs(ride)
    }
}

/// Every step in the order of the book, with where everything is.
///
/// The steps for a ride that has stopped follow the last step of the open phase, whatever stands between in the book. A
/// step for something that stays at home is left out.
///
/// # Errors
/// The sentence that says so where a body has no placement "road", or a step moves a body from where it is not.
pub fn steps_shown<'a>(ride: &'a Ride, visit: &Visit) -> Result<Vec<StepShown<'a>>, String> {
    let mut now = Now::on_the_road(ride, visit)?;
    let mut open: Option<Now<'a>> = None;
    let mut all = Vec::with_capacity(ride.steps.len());
    for (at, step) in ride.steps.iter().enumerate() {
        if step.only_with.iter().any(|body| visit.about.without.contains(body)) {
            continue;
        }
        let stopped = step.phase == Phase::Stopped;
        let before = if stopped { open.clone().unwrap_or_else(|| now.clone()) } else { now.clone() };
        let mut after = before.clone();
        let bodies = after.take(ride, step)?;
        all.push(StepShown {
            step,
            number: at + 1,
            of: ride.steps.len(),
            bodies,
            legs: after.legs.clone(),
            line: after.line.or(before.line).or(step.line_on.as_deref()),
            turned: [before.turned, after.turned],
        });
        if stopped || step.phase == Phase::Open {
            open = Some(after.clone());
        }
        if !stopped {
            now = after;
        }
    }
    Ok(all)
}

/// Where everything is between two steps.
#[derive(Clone)]
struct Now<'a> {
    places: BTreeMap<&'a str, &'a Placement>,
    legs: Vec<&'a str>,
    line: Option<&'a str>,
    turned: Angle,
}

impl<'a> Now<'a> {
    fn on_the_road(ride: &'a Ride, visit: &Visit) -> Result<Self, String> {
        let mut places = BTreeMap::new();
        for body in ride.bodies.iter().filter(|body| !visit.about.without.contains(&body.name)) {
            let road = body.placement(ROAD).ok_or_else(|| {
                format!(
                    "Where \"{}\" is on the road: the ride book gives it no placement \"{ROAD}\".",
                    body.name
                )
            })?;
            places.insert(body.name.as_str(), road);
        }
        Ok(Self { places, legs: Vec::new(), line: None, turned: Angle::ZERO })
    }

    /// Does a step, and says where each body was and is.
    fn take(&mut self, ride: &'a Ride, step: &'a Step) -> Result<Vec<BodyShown<'a>>, String> {
        let before = self.places.clone();
        for moved in &step.moves {
            let Some(place) = self.places.get_mut(moved.body.as_str()) else { continue };
            if place.name != moved.from {
                return Err(format!(
                    "Where \"{}\" is before the step \"{}\": it moves from \"{}\", and would be in \"{}\".",
                    moved.body, step.name, moved.from, place.name
                ));
            }
            let to = ride.body(&moved.body).and_then(|body| body.placement(&moved.to));
            *place = to.ok_or_else(|| {
                format!(
                    "The step \"{}\" moves \"{}\" to \"{}\", which the book does not tell of.",
                    step.name, moved.body, moved.to
                )
            })?;
        }
        self.legs.extend(step.sets.iter().map(String::as_str));
        self.legs.retain(|name| !step.takes_away.iter().any(|taken| taken == name));
        // A line that is put on and taken off in one step is on during it.
        let during = step.line_on.as_deref().or(self.line);
        self.line = if step.line_off.is_some() { None } else { during };
        self.turned = step.turns_to.unwrap_or(self.turned);
        let bodies = ride.bodies.iter().filter_map(|body| {
            let name = body.name.as_str();
            Some(BodyShown { body, was: before.get(name)?, is: self.places.get(name)? })
        });
        Ok(bodies.collect())
    }
}

/// Where a body is in a placement once the turntable is turned: its centre of gravity, and the angle it has turned with it.
///
/// Right-handed about the axis: from the front to the left on a turntable, from the lowest point to the left on a wheel. On a
/// wheel only what is in its place there, "open" or "stowed", goes round; what still hangs folded stays as it hangs.
pub fn turned_with(
    ride: &Ride,
    body: &Body,
    place: &Placement,
    turned: Angle,
) -> ([Length; 3], Option<Turn>) {
    let cg = [place.cg.along.value, place.cg.across.value, place.cg.up.value];
    let still = (cg, None);
    let Some([rotation]) = ride.motion.as_ref().map(|motion| motion.rotations.as_slice()) else {
        return still;
    };
    let elsewhere = place.carried_by.as_deref().filter(|by| body.carried_by.as_deref() != Some(by));
    let carried = elsewhere.is_none_or(|by| ride.body(by).is_some_and(|by| by.on_turntable == Some(true)));
    let wheel = crate::wheel::wheel(ride).is_some();
    let in_place = !wheel || matches!(place.name.as_str(), "open" | "stowed");
    if body.on_turntable != Some(true) || !carried || !in_place || turned == Angle::ZERO {
        return still;
    }
    let about = [rotation.about.along.value, rotation.about.across.value, rotation.about.up.value];
    let (one, other) = if wheel { (1, 2) } else { (0, 1) };
    let hangs = wheel && ride.seats.iter().any(|seat| seat.body.as_deref() == Some(&*body.name));
    let (mut a, mut b) = ((cg[one] - about[one]).as_m(), (cg[other] - about[other]).as_m());
    // A car hangs from its pin: the pin goes round, and the car stays as far below it.
    let mut below = 0.0;
    if let Some(seat) = ride.seats.iter().find(|seat| hangs && seat.body.as_deref() == Some(&*body.name)) {
        let pin = seat.angle.as_rad();
        let (y, z) = (seat.radius.as_m() * maths::sin(pin), -seat.radius.as_m() * maths::cos(pin));
        below = b - z;
        (a, b) = (y, z);
    }
    let (sin, cos) = (maths::sin(turned.as_rad()), maths::cos(turned.as_rad()));
    let mut at = cg;
    at[one] = about[one] + Length::m(a * cos - b * sin);
    at[other] = about[other] + Length::m(a * sin + b * cos + below);
    let turn = Turn { about_the_frame: wheel, angle: turned };
    (at, (!hangs).then_some(turn))
}

/// How a body has turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// About a line along the frame, as on a wheel; about the upright otherwise.
    pub about_the_frame: bool,
    /// By how much, right-handed.
    pub angle: Angle,
}

/// What a leg carries when a step is done.
#[derive(Clone, Debug, PartialEq)]
pub struct LegLoad {
    /// The leg's full name.
    pub name: String,
    /// Its short name.
    pub short: String,
    /// The least and the most of the weights of the parts; nothing where it is not known.
    pub load: Option<(Mass, Mass)>,
    /// What it is rated for.
    pub rated: Option<Mass>,
    /// The share of that which the most of it takes, in whole per cent, rounded up.
    pub percent: Option<u32>,
    /// How that stands.
    pub standing: Standing,
}

/// What each leg carries when a step is done, in the order of the plan; `Err` says why that is not known.
///
/// Weights of the parts where the step leaves them, as far as masses, places, gaps and stiffnesses are known: least and
/// greatest over all that they may be, by [`tober_calc::supports::band_of`]. Without wind, riders, crew and tools.
pub fn loads_after(books: Books<'_>, plan: &Plan, shown: &StepShown<'_>) -> Result<Vec<LegLoad>, String> {
    let Books { ride, kit, pitch, visit } = books;
    if plan.legs.is_empty() {
        return Err("A packing: without one nobody knows where the feet stand.".to_owned());
    }
    if let Some(missing) = plan.assumed.first() {
        return Err(missing.clone());
    }
    if !shown.on_legs(ride) {
        return Err("It does not stand on all its legs.".to_owned());
    }
    let around = Around { ride, pitch, visit, legs: &plan.legs };
    let layers = |name: &str| {
        let leg = plan.legs.iter().find(|leg| leg.name == name);
        leg.map_or([tober_calc::supports::Layer::NotKnown; 2], |leg| springs(leg, kit, pitch))
    };
    let legs = standing(&around, &layers, None);
    let (mut load, mut either) = (OpenLoad::default(), EitherWay::default());
    for there in &shown.bodies {
        let ([along, across, _], _) = turned_with(ride, there.body, there.is, shown.turned[1]);
        let off = |of: tober_quantity::Toleranced<Length>, value| tober_quantity::Toleranced { value, ..of };
        let cg = &there.is.cg;
        on_frame(there.body, off(cg.along, along), off(cg.across, across), &mut load, &mut either);
    }
    for ballast in crate::hold::ballast(ride, visit) {
        let at = Spot { x: ballast.at.along.value, y: ballast.at.across.value };
        let (low, high) = (ballast.mass.low(), ballast.mass.high());
        let weight = Force::weight;
        load.weights.push(tober_calc::supports::Weight {
            name: ballast.name.clone(),
            burden: tober_calc::supports::Burden {
                down: tober_calc::supports::Between { low: weight(low), high: weight(high) },
                place: Place::At(at),
            },
            from: provenance(ballast.mass_from),
        });
    }
    let (_, moment_x, moment_y) = either.ends();
    let places: Vec<(&str, Spot)> = legs.iter().map(|leg| (leg.name.as_str(), leg.support.spot)).collect();
    let bearing = bearing(ride, &places, &load.weights)?;
    let supports: Vec<_> = legs.iter().map(|leg| leg.support).collect();
    let load = UncertainLoad {
        burdens: load.weights.iter().map(|weight| weight.burden).collect(),
        moment_x,
        moment_y,
    };
    let asked = Asked { supports: &supports, load: &load, bearing: bearing.as_ref(), reading: None };
    let BandAnswer::Stands(band) = band_of(&asked).map_err(|error| error.to_string())? else {
        return Err("The weights alone would tip it.".to_owned());
    };
    let of = |leg: &LegPlan| {
        let at = legs.iter().position(|stands| stands.name == leg.name);
        let band = at.and_then(|at| band.supports.get(at));
        let load = band.map(|band| (band.load.low.max(Force::ZERO).mass(), band.load.high.mass()));
        let percent = load.zip(leg.rated.filter(|rated| *rated > Mass::ZERO)).map(|((_, high), rated)| {
            // As good as a whole number counts as it: a limit met to the last place is not past.
            ((high / rated) * 100.0 - 1e-9).ceil() as u32
        });
        LegLoad {
            name: leg.name.clone(),
            short: leg.short.clone(),
            load,
            rated: leg.rated,
            percent,
            standing: percent.map_or(Standing::NotKnown, Standing::of_share),
        }
    };
    Ok(plan.legs.iter().map(of).collect())
}
