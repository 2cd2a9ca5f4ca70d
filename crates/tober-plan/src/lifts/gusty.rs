//! The wind on what is lifted, from the areas of the book and the step's own wind limit.

use super::raised::Plane;
use super::{LiftBooks, Lifting, checked};
use crate::gusts;
use tober_book::{Body, Placement, Point3, WindArea, WindLimit};
use tober_calc::finding::{Finding, Subject};
use tober_calc::lift::{
    Asked, Gust, Over, Pushed, between_two, carried, gust_not_known, gusts as of_gusts, gusts_hung, in_gust,
    pull_on_layer,
};
use tober_fit::lift as fit;
use tober_quantity::{Angle, Area, Force, Length, Pressure, Quantity, Ratio, Toleranced, maths};

/// Of what nothing is rated this much is claimed to hold, newtons: more than any lift.
const UNRATED_N: f64 = 1e12;

/// What turns or hangs, and where it is before the step.
type Turns<'a> = [(&'a Body, &'a Placement)];

/// The wind areas of a body before and after the step.
fn areas<'a>(
    lifting: Lifting<'_>,
    (body, at): (&'a Body, &'a Placement),
) -> Result<[(&'a Placement, &'a WindArea); 2], String> {
    let moved = lifting.step.moves.iter().find(|moved| moved.body == body.name);
    let to = moved.and_then(|moved| body.placement(&moved.to)).unwrap_or(at);
    let told = |place: &'a Placement| -> Result<(&'a Placement, &'a WindArea), String> {
        let missing = || format!("What the wind finds of \"{}\" in \"{}\" (`wind`).", body.name, place.name);
        Ok((place, place.wind.as_ref().ok_or_else(missing)?))
    };
    Ok([told(at)?, told(to)?])
}

/// The gust of the step's own limit, at the height of what is lifted.
fn gust(books: LiftBooks<'_>, limit: Option<&WindLimit>, highest: Length) -> Result<Gust, String> {
    let limit = limit.ok_or("The wind limit of this step (`wind-limit`).")?;
    let pitch = books.pitch.ok_or("The terrain of a pitch: the gust is stronger higher up.")?;
    let frame = &books.ride.frame;
    let most = frame.greatest_lift.ok_or(
        "How high the frame may stand (`greatest-lift` of the frame): the gust is stronger higher up.",
    )?;
    let legs = books.ride.supports.iter().map(|support| support.held.shortest());
    let stands = legs.reduce(Length::max).map_or(most, |shortest| shortest + most);
    let wind = gusts::action(Some(limit), Some(stands + highest), pitch)?;
    Ok(Gust { pressure: wind.pressure, speed: limit.speed })
}

fn highest(all: &[[(&Placement, &WindArea); 2]]) -> Length {
    let ups = all.iter().flatten().flat_map(|(place, wind)| [wind.up, place.cg.up.value]);
    ups.reduce(Length::max).unwrap_or(Length::ZERO)
}

/// The findings of a part that turns, and the check of them.
pub(super) fn turned(
    books: LiftBooks<'_>,
    lifting: Lifting<'_>,
    turns: &Turns<'_>,
    (plane, now): (&Plane, Angle),
    (over, asked): (&Over, &Asked),
    calm: &fit::Question,
) -> Vec<Finding> {
    let subject = Subject::Step(lifting.step.name.clone());
    let worked = || {
        let (pushed, at) = pushed(lifting, turns, plane, now)?;
        let gust = gust(books, lifting.step.wind_limit.as_ref(), at)?;
        let said = |error: tober_calc::lift::LiftError| error.to_string();
        let mut found = of_gusts(&subject, over, &pushed, &gust, asked).map_err(said)?;
        if !over.rows.is_empty() {
            let told = checks(over, &pushed, gust.pressure, asked, calm, (plane, now));
            let told = checked(&subject, told);
            found.push(Finding { code: "lift.fit-gust", ..told });
        }
        Ok(found)
    };
    let found: Result<Vec<Finding>, String> = worked();
    found.unwrap_or_else(|missing| gust_not_known(&subject, &missing))
}

fn pushed(
    lifting: Lifting<'_>,
    turns: &Turns<'_>,
    plane: &Plane,
    now: Angle,
) -> Result<(Vec<Pushed>, Length), String> {
    let theta = (plane.last - plane.first).abs();
    let then = if now == plane.first { plane.last } else { plane.first };
    let (mut all, mut told) = (Vec::new(), Vec::new());
    for one in turns {
        let ends = areas(lifting, *one)?;
        let shows = |wind: &WindArea| wind.along * plane.level.0.abs() + wind.across * plane.level.1.abs();
        let area = between_two(shows(ends[0].1), shows(ends[1].1), theta).ok_or(
            "What the wind finds of it on its way: the travel is 120 degrees or more, and only its ends are told.",
        )?;
        let at = |(place, wind): (&Placement, &WindArea), lies: Angle| {
            let acts = Point3 { up: Toleranced::exact(wind.up), ..place.cg };
            plane.on_part(&acts, lies).0
        };
        all.push(Pushed {
            name: one.0.name.clone(),
            area,
            lift: ends[0].1.lift.max(ends[1].1.lift),
            at: [at(ends[0], now), at(ends[1], then)],
        });
        told.push(ends);
    }
    Ok((all, highest(&told)))
}

/// The pull and the force at the hinge in the gust of the limit; and that the gust which is said to be carried is.
fn checks(
    over: &Over,
    pushed: &[Pushed],
    pressure: Pressure,
    asked: &Asked,
    calm: &fit::Question,
    (plane, now): (&Plane, Angle),
) -> Result<(), fit::Refusal> {
    let none = |_| fit::Refusal::NoQuestion("gust");
    let in_gust_of = |pressure: Pressure| {
        let push = |one: &Pushed| fit::Push {
            level: Force::n(one.area.si() * pressure.as_pa()),
            up: Force::n(one.lift.si() * pressure.as_pa()),
            at: one.at.map(|at| plane.of_part(at, now)),
        };
        fit::Question { pushes: pushed.iter().map(push).collect(), ..calm.clone() }
    };
    if let Some((pull, hinge)) = in_gust(over, pushed, pressure, asked).map_err(none)? {
        let claim = fit::Claim { pull: pull.max(Force::ZERO), hinge, never_slack: false };
        fit::raised(&in_gust_of(pressure), &claim)?;
    }
    let Some((pressure, _)) = carried(over, pushed, asked).map_err(none)? else { return Ok(()) };
    let rope = match (asked.winch_rated, &asked.drum) {
        (Some(first), Some(on)) => Some(pull_on_layer(first, on).map_err(none)?),
        (rated, _) => rated,
    };
    let times = over.raised.stated().advantage();
    let claim = fit::Claim {
        pull: rope.map_or(Force::n(UNRATED_N), |rope| rope * times),
        hinge: asked.hinge_rated.unwrap_or(Force::n(UNRATED_N)),
        never_slack: false,
    };
    fit::raised(&in_gust_of(pressure), &claim)
}

/// The findings of a part that hangs.
pub(super) fn hung(
    books: LiftBooks<'_>,
    lifting: Lifting<'_>,
    turns: &Turns<'_>,
    (falls, efficiency): (u32, Ratio),
    asked: &Asked,
) -> Vec<Finding> {
    let subject = Subject::Step(lifting.step.name.clone());
    let worked = || {
        let (mut pushed, mut told) = (Vec::new(), Vec::new());
        for one in turns {
            let ends = areas(lifting, *one)?;
            // It turns on its line as it likes: the most of any side.
            let any = |wind: &WindArea| Area::from_si(maths::hypot(wind.along.si(), wind.across.si()));
            let at = tober_calc::lift::OnPart { along: Length::ZERO, normal: Length::ZERO };
            let (area, lift) = (any(ends[0].1).max(any(ends[1].1)), ends[0].1.lift.max(ends[1].1.lift));
            pushed.push(Pushed { name: one.0.name.clone(), area, lift, at: [at; 2] });
            told.push(ends);
        }
        let gust = gust(books, lifting.step.wind_limit.as_ref(), highest(&told))?;
        let weight = |of: fn(Toleranced<tober_quantity::Mass>) -> tober_quantity::Mass| {
            turns.iter().fold(Force::ZERO, |sum, (body, _)| sum + Force::weight(of(body.mass)))
        };
        let weight = (weight(Toleranced::low), weight(Toleranced::high));
        let found = gusts_hung(&subject, weight, (falls, efficiency), &pushed, &gust, asked);
        found.map_err(|error| error.to_string())
    };
    let found: Result<Vec<Finding>, String> = worked();
    found.unwrap_or_else(|missing| gust_not_known(&subject, &missing))
}
