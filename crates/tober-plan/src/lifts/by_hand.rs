//! A lift by hand, from a step to its findings.

use super::checked;
use tober_book::{Grip as OfBook, HandLift, Outside};
use tober_calc::finding::{Finding, Measure, Subject};
use tober_calc::lift::{ByHand, Grip, Hands, Lasting, Measures, Scope, Task, by_hand, recommended, team};
use tober_calc::working::Provenance;
use tober_fit::lift as fit;
use tober_quantity::Mass;

pub(super) fn findings(subject: &Subject, lift: &HandLift) -> Vec<Finding> {
    let asked = ByHand {
        mass: lift.mass,
        mass_from: Provenance::Maker,
        people: lift.people.and_then(|people| u32::try_from(people).ok()),
        task: task(lift),
        scope: scope(&lift.outside),
        most_each: lift.most_each,
    };
    match by_hand(subject, &asked) {
        Ok(mut found) => {
            found.extend(check(subject, lift, &asked, &found));
            found
        }
        Err(error) => {
            let title = "mass, against what those who lift it together may take";
            vec![Finding::not_known("lift.hand", subject.clone(), title, &error.to_string())]
        }
    }
}

/// The same lift gone the other way: put down where it was picked up. The equation is worked at both ends, each with its own height,
/// and the frequency goes by that where it begins.
pub(super) fn back(lift: &HandLift) -> HandLift {
    HandLift { height_first: lift.height_last, height_last: lift.height_first, ..lift.clone() }
}

fn scope(outside: &[Outside]) -> Scope {
    match outside {
        [] => Scope::NotTold,
        all if all.iter().all(|one| *one == Outside::Nothing) => Scope::Inside,
        all => {
            let so = all.iter().filter(|one| **one != Outside::Nothing);
            Scope::Outside(so.map(|one| one.word().to_owned()).collect())
        }
    }
}

/// What the equation wants to know, or what is missing of it.
fn task(lift: &HandLift) -> Result<Task, String> {
    let mut missing = Vec::new();
    let mut want = |there: bool, what: &'static str| {
        if !there {
            missing.push(what);
        }
    };
    want(lift.reach.is_some(), "how far the hands are out (`reach`)");
    want(
        lift.height_first.is_some() && lift.height_last.is_some(),
        "how high (`height-first`, `height-last`)",
    );
    want(lift.twist.is_some(), "how far the body twists (`twist`)");
    want(lift.every.is_some(), "how often (`every`)");
    want(lift.during.is_some(), "for how long (`during`)");
    want(lift.grip.is_some(), "how it is held (`grip`)");
    let (Some(reach), Some(first), Some(last), Some(twist), Some(every), Some(during), Some(grip)) =
        (lift.reach, lift.height_first, lift.height_last, lift.twist, lift.every, lift.during, lift.grip)
    else {
        return Err(format!("What the lifting equation wants of it: {}.", missing.join(", ")));
    };
    let lasting = Lasting::of(during, lift.rest)
        .ok_or("Eight hours of lifting at the most: over that the equation does not apply.")?;
    let hands = |height| Hands { reach, height, twist };
    Ok(Task {
        first: hands(first),
        last: Some(hands(last)),
        travel: (last - first).abs(),
        each_minute: 60.0 / every.as_s(),
        lasting,
        grip: match grip {
            OfBook::Good => Grip::Good,
            OfBook::Fair => Grip::Fair,
            OfBook::Poor => Grip::Poor,
        },
        measures: Measures::Metric,
    })
}

/// The equation and the team, by the part that checks; nothing where no limit was found.
fn check(subject: &Subject, lift: &HandLift, asked: &ByHand, found: &[Finding]) -> Option<Finding> {
    let limit = found.iter().find_map(|finding| match finding.measure {
        Measure::AgainstLimit { limit, .. } => Some(Mass::kg(limit.si)),
        _ => None,
    })?;
    let people = asked.people?;
    let one = Mass::kg(limit.as_kg() / team(people)?);
    let claim = fit::Held { one, people, together: limit };
    // Where the maker's figure is what counts, there is no equation to work again.
    let by_equation = asked.task.as_ref().ok().and_then(|task| {
        let least = recommended(task).ok()?.iter().map(|at| at.mass).reduce(Mass::min)?;
        let same = (least.as_kg() - one.as_kg()).abs() <= 1e-9 * least.as_kg();
        same.then_some(task)
    });
    let said = match by_equation {
        Some(task) => fit::by_hand(
            &fit::Hand {
                reach_cm: lift.reach?.as_m() * 100.0,
                heights_cm: (lift.height_first?.as_m() * 100.0, lift.height_last?.as_m() * 100.0),
                twist_deg: lift.twist?.as_deg(),
                each_minute: 60.0 / lift.every?.as_s(),
                minutes: (lift.during?.as_min(), lift.rest.map_or(0.0, tober_quantity::Time::as_min)),
                grip: match task.grip {
                    Grip::Good => 0,
                    Grip::Fair => 1,
                    Grip::Poor => 2,
                },
            },
            &claim,
        ),
        None => fit::together(&claim),
    };
    Some(checked(subject, said))
}
