//! How riders get off when the ride stops where it should not: what the book's ways come to, for any ride.
//!
//! Kept apart from [`crate::plan()`], as [`crate::every_order()`] is: it rests on the ride book alone.

use crate::aboard::riders;
use crate::turning::own_out_of_balance;
use crate::wheel::{Wheel, wheel};
use tober_book::{Ride, Role, Visit, WayOff};
use tober_calc::finding::{Finding, Subject};
use tober_calc::riders_off::{
    Access, Allowed, Answer, Off, Seat, Stopped, WhyLeft, answered, findings, findings_of, followed,
};
use tober_fit::riders_off as fit;
use tober_quantity::{Acceleration, Angle, Mass, Moment, Quantity, Time, maths};

/// Standard gravity, m/s², 3rd CGPM (1901).
const GRAVITY: f64 = 9.80665;
/// The first words of every finding's name here.
const CODE: &str = "riders-off.way";

/// One way of getting riders off, with every seat full and the riders as heavy as the maker allows.
#[derive(Clone, Debug)]
pub struct OffBy {
    /// The way, as the book calls it.
    pub way: String,
    /// What the book says to do.
    pub instruction: Option<String>,
    /// Who may do it.
    pub who: Vec<Role>,
    /// How many people it takes.
    pub people: Option<usize>,
    /// Whether the ride is turned by hand for it.
    pub turned: bool,
    /// How long it takes for all of the order.
    pub time: Option<Time>,
    /// Whether riders of one seat leave at different times.
    pub one_by_one: bool,
    /// The seats of the ride, by name, as the order counts them.
    pub seats: Vec<String>,
    /// The order.
    pub answer: Answer,
    /// What the order may come to, both limits together; none where they are not told.
    pub allowed: Option<Moment>,
    /// The order seat by seat round from the place, and the first after which it is past what is allowed.
    pub naive: Option<(Answer, Option<Off>)>,
    /// The findings of the naive order.
    pub naive_findings: Vec<Finding>,
    /// With one seat jammed, for each of them: the order, and who stays with it.
    pub jammed: Vec<Answer>,
}

/// What is found of a stopped ride.
#[derive(Clone, Debug)]
pub struct RidersOff {
    /// The ways that could be worked.
    pub ways: Vec<OffBy>,
    /// The findings.
    pub findings: Vec<Finding>,
    /// What the maker says of the brake.
    pub brake_release: Option<String>,
    /// Energy that is still stored.
    pub stored_energy: Vec<String>,
}

/// How riders get off a ride. `None` where it has no seats.
pub fn riders_off(ride: &Ride, visit: &Visit) -> Option<RidersOff> {
    if ride.seats.is_empty() {
        return None;
    }
    let told = ride.stopped.as_ref();
    let mut all = RidersOff {
        ways: Vec::new(),
        findings: Vec::new(),
        brake_release: told.and_then(|stopped| stopped.brake_release.clone()),
        stored_energy: told.map(|stopped| stopped.stored_energy.clone()).unwrap_or_default(),
    };
    let ways = told.map_or(&[][..], |stopped| &stopped.ways);
    let missing = |all: &mut RidersOff, way: &str, why: String| all.findings.push(not_known(way, &why));
    if ways.is_empty() {
        missing(&mut all, "stopped", "How riders get off: `[[stopped.way]]`.".to_owned());
        return Some(all);
    }
    for way in ways {
        match worked(ride, visit, way) {
            Ok(worked) => {
                // A way that reaches only some is for where the ride cannot be turned; its findings are in its order.
                let whole = worked.0.answer.left.is_empty();
                if whole {
                    all.findings.extend(worked.1);
                }
                all.ways.push(worked.0);
            }
            Err(why) => missing(&mut all, &way.name, why),
        }
    }
    if all.findings.is_empty() {
        let title = "some way of getting riders off serves every seat";
        all.findings.push(Finding::statement(CODE, Subject::Ride, title, false).never_overridden());
    }
    Some(all)
}

fn not_known(way: &str, why: &str) -> Finding {
    let title = "getting riders off, with every seat full";
    Finding::not_known(CODE, Subject::Case(way.to_owned()), title, why).never_overridden()
}

/// The question of one way, and what it is held against.
fn question(ride: &Ride, visit: &Visit, way: &WayOff) -> Result<(Stopped, Allowed), String> {
    let motion = ride.motion.as_ref().ok_or("How it turns: `[motion]`.")?;
    let [rotation] = motion.rotations.as_slice() else {
        return Err("A ride that turns about exactly one axis: others are not worked here.".to_owned());
    };
    let turned = way.turned.ok_or("Whether the ride is turned by hand for it: `turned`.")?;
    let by_hand = ride.stopped.as_ref().and_then(|stopped| stopped.turning_by_hand);
    if turned && by_hand != Some(true) {
        return Err("That it may be turned by hand with riders aboard: `turning-by-hand = true`.".to_owned());
    }
    let reaches = way.reaches.ok_or("How high a seat it reaches: `reaches`.")?;
    let wheel = wheel(ride);
    let lean = rotation.lean.ok_or("How far the axis leans: `lean`.")?;
    let lean = match wheel {
        Some(_) => Angle::deg(90.0),
        None => {
            let (along, across) = (ride.frame.level_along, ride.frame.level_across);
            let along = along.ok_or("How far the frame may be off level: `level-along`.")?.si();
            let across = across.ok_or("How far the frame may be off level: `level-across`.")?.si();
            Angle::rad(lean.as_rad().abs() + maths::atan(maths::hypot(along, across)))
        }
    };
    let mut seats = Vec::new();
    for seat in &ride.seats {
        let heaviest =
            riders(ride, seat).ok_or_else(|| format!("How heavy riders in \"{}\" may be.", seat.name))?;
        let one = heaviest / seat.places as f64;
        if wheel.is_none() {
            let height = seat.height.ok_or_else(|| format!("How high \"{}\" is: `height`.", seat.name))?;
            if height > reaches {
                return Err(format!("A way that reaches \"{}\", which is higher than `reaches`.", seat.name));
            }
        }
        seats.push(Seat {
            name: seat.name.clone(),
            radius: seat.radius,
            angle: seat.angle,
            riders: vec![(one, one); seat.places],
            jammed: false,
        });
    }
    let (angle, within) = match (turned, wheel) {
        (true, _) => {
            let angle = way.angle.ok_or("Where a seat stands for it: `angle`.")?;
            (angle, way.within.unwrap_or(Angle::ZERO))
        }
        (false, Some(wheel)) => (Angle::ZERO, beside_lowest(ride, wheel, reaches.as_m())),
        // Steps that are carried from seat to seat: who moves round whom is one to the sums, and each move costs as a turn does.
        (false, None) => (Angle::ZERO, Angle::ZERO),
    };
    let moves = turned || wheel.is_none();
    let own = own_out_of_balance(ride, visit)?;
    let question = Stopped {
        // A wheel stops with a seat at its lowest point as often as not; the others turn about it.
        turned: if turned {
            angle - seats.first().map_or(Angle::ZERO, |seat| seat.angle)
        } else {
            Angle::ZERO
        },
        seats,
        access: vec![Access { name: way.name.clone(), angle, within }],
        turning: moves,
        one_by_one: false,
        lean,
        own_kg_m: (0.0, 0.0),
        gravity: Acceleration::m_s2(GRAVITY),
    };
    let allowed = Allowed {
        out_of_balance: ride.limits.as_ref().and_then(|limits| limits.out_of_balance_greatest),
        holds: ride.stopped.as_ref().and_then(|stopped| stopped.holds),
        own: Moment::nm(own.as_kg() * GRAVITY),
    };
    Ok((question, allowed))
}

/// How far to either side of the lowest point of a wheel seats are no higher than this: h − r cos a ≤ reach.
fn beside_lowest(ride: &Ride, wheel: Wheel<'_>, reaches_m: f64) -> Angle {
    let hub_m = wheel.hub().up.high().as_m();
    let radius_m = ride.seats.iter().map(|seat| seat.radius.as_m()).fold(0.0, f64::max);
    let cos = if radius_m > 0.0 { (hub_m - reaches_m) / radius_m } else { 1.0 };
    if cos > 1.0 { Angle::ZERO } else { Angle::rad(maths::acos(cos.max(-1.0))) }
}

fn worked(ride: &Ride, visit: &Visit, way: &WayOff) -> Result<(OffBy, Vec<Finding>), String> {
    let (mut question, allowed) = question(ride, visit, way)?;
    let cap = allowed.moment(question.lean);
    let refused = |error: tober_calc::riders_off::RidersError| error.to_string();
    let mut answer = answered(&question, cap).map_err(refused)?;
    // Whole seats where that stays inside; rider by rider where it does not and that helps.
    if answer.left.iter().any(|(_, why)| *why == WhyLeft::PastLimit) {
        question.one_by_one = true;
        let parted = answered(&question, cap).map_err(refused)?;
        if parted.left.len() < answer.left.len() {
            answer = parted;
        } else {
            question.one_by_one = false;
        }
    }
    let checked = |question: &Stopped, answer: &Answer| {
        riders_checked(question, answer).map(|_| ()).map_err(|refusal| {
            format!(
                "An order that stands its check; the one found does not, which is a fault of ours: {refusal}."
            )
        })
    };
    checked(&question, &answer)?;
    let about = Subject::Case(format!("riders off: {}", way.name));
    let mut found = findings(&about, &question, &answer, allowed);
    let mut jammed = Vec::new();
    for seat in 0..question.seats.len() {
        let mut stuck = question.clone();
        stuck.seats[seat].jammed = true;
        let answer = answered(&stuck, cap).map_err(refused)?;
        checked(&stuck, &answer)?;
        jammed.push(answer);
    }
    if let Some(worst) = jammed.iter().max_by(|a, b| a.greatest.si().total_cmp(&b.greatest.si())) {
        let about = Subject::Case(format!("riders off: {}, with any one seat jammed", way.name));
        found.extend(findings_of(&about, &question, worst, allowed).into_iter().map(|finding| {
            let keeps = worst.left.iter().any(|(_, why)| *why == WhyLeft::PastLimit);
            if keeps {
                finding.note("Riders opposite stay aboard until the jammed seat is freed.")
            } else {
                finding
            }
        }));
    }
    let round = round_from(&question);
    let naive = followed(&question, &round).ok().map(|naive| {
        let past = |off: &&Off| cap.is_some_and(|cap| off.out_of_balance > cap);
        let first = naive.order.iter().find(past).cloned();
        (naive, first)
    });
    let about = Subject::Case(format!("riders off: {}, seat by seat", way.name));
    let naive_findings =
        naive.as_ref().map(|(naive, _)| findings_of(&about, &question, naive, allowed)).unwrap_or_default();
    let stops = answer.order.len() as f64;
    Ok((
        OffBy {
            way: way.name.clone(),
            instruction: way.instruction.clone(),
            who: way.who.clone(),
            people: way.people,
            turned: way.turned == Some(true),
            time: way.time_a_seat.map(|time| time * stops),
            one_by_one: question.one_by_one,
            seats: question.seats.iter().map(|seat| seat.name.clone()).collect(),
            answer,
            allowed: cap,
            naive,
            naive_findings,
            jammed,
        },
        found,
    ))
}

/// The seats that can be reached, round from the one that stands at the place.
fn round_from(question: &Stopped) -> Vec<usize> {
    let place = question.access.first().map_or(Angle::ZERO, |place| place.angle);
    let round = |seat: &Seat| (seat.angle + question.turned - place).as_deg().rem_euclid(360.0);
    let reached: Vec<usize> = match answered(question, None) {
        Ok(answer) => answer.order.iter().map(|off| off.seat).collect(),
        Err(_) => Vec::new(),
    };
    let mut seats: Vec<usize> = (0..question.seats.len()).filter(|seat| reached.contains(seat)).collect();
    seats.sort_by(|a, b| round(&question.seats[*a]).total_cmp(&round(&question.seats[*b])));
    seats
}

/// Hands an order to the part that did not find it.
///
/// # Errors
/// What it refuses.
pub fn riders_checked(question: &Stopped, answer: &Answer) -> Result<fit::Verdict, fit::Refusal> {
    let kg = |(low, high): &(Mass, Mass)| (low.as_kg(), high.as_kg());
    let asked = fit::Question {
        seats: question
            .seats
            .iter()
            .map(|seat| fit::Seat {
                name: seat.name.clone(),
                radius_m: seat.radius.as_m(),
                angle_deg: seat.angle.as_deg(),
                riders_kg: seat.riders.iter().map(kg).collect(),
                jammed: seat.jammed,
            })
            .collect(),
        places_deg: question.access.iter().map(|at| (at.angle.as_deg(), at.within.as_deg())).collect(),
        turned_deg: question.turned.as_deg(),
        turning: question.turning,
        own_kg_m: question.own_kg_m,
        g_m_s2: question.gravity.si(),
    };
    let claim = fit::Claim {
        order: answer
            .order
            .iter()
            .map(|off| fit::Off {
                seat: off.seat,
                riders: off.riders.clone(),
                turned_deg: off.turned.as_deg(),
                out_of_balance_n_m: off.out_of_balance.as_nm(),
            })
            .collect(),
        greatest_n_m: answer.greatest.as_nm(),
        turns: answer.turns,
        left: answer.left.iter().map(|(seat, _)| *seat).collect(),
        least: answer.greatest <= answer.greatest_bound
            && answer.left.iter().all(|(_, why)| *why != WhyLeft::PastLimit),
    };
    fit::check(&asked, &claim)
}
