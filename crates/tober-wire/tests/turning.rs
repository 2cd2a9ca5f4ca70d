//! A turntable at any angle, turned to stated angles, and bodies whose mass is not sure: against every stage there is, with
//! the angle worked out for each, and through the checker that shares nothing with the search.

#[path = "../../tober-calc/tests/orders/enumeration.rs"]
#[allow(dead_code, unused_imports, reason = "the tests in this file belong to the test run of tober-calc")]
mod enumeration;

use enumeration::{Chance, stages};
use std::f64::consts::FRAC_PI_6;
use tober_calc::orders::{
    Arc, Arm, Body, Close, Direction, Loads, LoadsError, Precedence, StepSet, Tally, Turning, branches,
    greatest_by, greatest_turning, greatest_wide,
};
use tober_fit::orders as fit;
use tober_quantity::maths::{cos, sin};

/// Floating sums of whole numbers below 2^40, in units: far below the unit to which values are rounded.
const ROUNDING_UNITS: f64 = 1e-3;

/// Rules with a chain for each of so many bodies, and loads on them.
fn random(chance: &mut Chance, n: usize, turns: bool, hands: bool) -> (Vec<Vec<usize>>, Loads) {
    let mut after = chance.rules(n, 8);
    let p = Precedence::new(&after).expect("no circle");
    let order = p.an_order(&StepSet::all(n));
    let size = |chance: &mut Chance| chance.between(-1000, 1000);
    let arm = |chance: &mut Chance| Arm {
        fixed: size(chance),
        cos: if turns { size(chance) } else { 0 },
        sin: if turns { size(chance) } else { 0 },
    };
    // Every step moves one body; which, by chance.
    let count = chance.between(1, 4) as usize;
    let mut bodies: Vec<Body> = (0..count)
        .map(|_| {
            let low = chance.between(0, 50);
            let mass = (low, low + chance.between(0, 30));
            Body { mass, steps: Vec::new(), placements: vec![arm(chance)], in_hand: Vec::new() }
        })
        .collect();
    for step in order {
        let body = &mut bodies[chance.between(0, count as i64 - 1) as usize];
        if let Some(&before) = body.steps.last() {
            after[step].push(before);
        }
        body.steps.push(step);
        body.placements.push(arm(chance));
        let hand = (hands && chance.in_hundred(50)).then(|| arm(chance));
        body.in_hand.push(hand);
    }
    (after, Loads { base: arm(chance), bodies })
}

/// The sums C, A, B of a stage for each choice of masses at their ends.
fn sums(loads: &Loads, (done, begun): (u32, u32)) -> Vec<[f64; 3]> {
    let mut all = vec![[loads.base.fixed as f64, loads.base.cos as f64, loads.base.sin as f64]];
    for body in &loads.bodies {
        let mut at = body.placements[0];
        for (i, &step) in body.steps.iter().enumerate() {
            if done >> step & 1 == 1 {
                at = body.placements[i + 1];
            } else if begun >> step & 1 == 1 {
                at = body.in_hand[i].expect("only steps with a place in hand are under way");
            }
        }
        let with = |sums: &[f64; 3], mass: i64| {
            let mass = mass as f64;
            [sums[0] + mass * at.fixed as f64, sums[1] + mass * at.cos as f64, sums[2] + mass * at.sin as f64]
        };
        all = all.iter().flat_map(|sums| [with(sums, body.mass.0), with(sums, body.mass.1)]).collect();
    }
    all
}

/// Peaks at the steps that have a place in hand, so that the stages can be listed.
fn shape(n: usize, loads: &Loads) -> Tally {
    let mut peak = vec![None; n];
    for body in &loads.bodies {
        for (&step, hand) in body.steps.iter().zip(&body.in_hand) {
            peak[step] = hand.map(|_| 0);
        }
    }
    Tally { start: 0, change: vec![0; n], peak }
}

fn question(after: &[Vec<usize>], loads: &Loads, arc: Arc) -> fit::TurningQuestion {
    let arm = |arm: &Arm| fit::Arm { fixed: arm.fixed.into(), cos: arm.cos.into(), sin: arm.sin.into() };
    let body = |body: &Body| fit::Body {
        mass: (body.mass.0.into(), body.mass.1.into()),
        steps: body.steps.clone(),
        placements: body.placements.iter().map(arm).collect(),
        in_hand: body.in_hand.iter().map(|hand| hand.as_ref().map(arm)).collect(),
    };
    fit::TurningQuestion {
        after: after.to_vec(),
        base: arm(&loads.base),
        bodies: loads.bodies.iter().map(body).collect(),
        done: Vec::new(),
        open: Vec::new(),
        arc: match arc {
            Arc::Circle => None,
            Arc::Between(from, to) => Some((direction(from), direction(to))),
        },
    }
}

fn direction(at: Direction) -> fit::Direction {
    fit::Direction { p: at.p, q: at.q, r: at.r }
}

fn claim(found: &Turning) -> fit::TurningClaim {
    let moved = |proofs: &[tober_calc::orders::CutProof]| {
        let each = |proof: &tober_calc::orders::CutProof| {
            proof.moved.iter().map(|m| fit::Moved { from: m.from, to: m.to, amount: m.amount }).collect()
        };
        proofs.iter().map(each).collect()
    };
    fit::TurningClaim {
        value: found.value,
        bound: found.bound,
        done: found.stage.iter().collect(),
        under_way: found.under_way.iter().collect(),
        masses: found.masses.iter().map(|&mass| mass.into()).collect(),
        directions: found.proof.directions.iter().map(|&at| direction(at)).collect(),
        touching: moved(&found.proof.touching),
        corners: moved(&found.proof.corners),
    }
}

/// Value and bound a hundred-thousandth of what there is apart, or a few units, in no more than 400 cuts.
fn close(greatest: f64) -> Close {
    Close { within: (greatest.abs() * 1e-5) as i128 + 3, cuts: 400 }
}

fn turning(after: &[Vec<usize>], loads: &Loads, arc: Arc, close: Close) -> Turning {
    let p = Precedence::new(after).expect("no circle");
    let none = StepSet::none(p.len());
    greatest_turning(&p, loads, (&none, &none), arc, close)
        .expect("the loads are sound")
        .expect("nothing is held")
}

#[test]
fn law_a_free_turntable_is_bounded_by_every_stage_at_its_worst_angle() {
    let mut chance = Chance(0x0BDE_050C);
    let mut cuts = Vec::new();
    for round in 0..300 {
        let n = chance.between(1, 8) as usize;
        let (after, loads) = random(&mut chance, n, true, round % 2 == 0);
        let all = stages(&after, &shape(n, &loads));
        let worst =
            all.iter().flat_map(|&stage| sums(&loads, stage)).map(|[c, a, b]| c + (a * a + b * b).sqrt());
        let worst = worst.fold(f64::NEG_INFINITY, f64::max);
        let close = close(worst);
        let found = turning(&after, &loads, Arc::Circle, close);
        assert!(found.value as f64 <= worst + ROUNDING_UNITS, "{} is met, {worst} is there", found.value);
        assert!(
            found.bound as f64 >= worst - ROUNDING_UNITS,
            "{} is the bound, {worst} is there",
            found.bound
        );
        assert!(
            found.bound - found.value <= close.within,
            "{} to {} after {}",
            found.value,
            found.bound,
            found.cuts
        );
        // The angle that is named gives the value.
        let done = (
            found.stage.iter().fold(0, |s, i| s | 1_u32 << i),
            found.under_way.iter().fold(0, |s, i| s | 1_u32 << i),
        );
        let angle = found.angle.as_rad();
        let there = sums(&loads, done).into_iter().map(|[c, a, b]| c + a * cos(angle) + b * sin(angle));
        assert!(there.fold(f64::NEG_INFINITY, f64::max) >= found.value as f64 - ROUNDING_UNITS);
        assert_eq!(fit::check_turning(&question(&after, &loads, Arc::Circle), &claim(&found)), Ok(()));
        cuts.push(found.cuts);
    }
    cuts.sort_unstable();
    assert!(cuts[150] < 60, "half of them take {} cuts or fewer", cuts[150]);
}

#[test]
fn law_an_arc_is_bounded_by_its_own_angles_alone() {
    let mut chance = Chance(0x0BDE_050D);
    for round in 0..200 {
        let n = chance.between(1, 7) as usize;
        let (after, loads) = random(&mut chance, n, true, round % 2 == 0);
        let from = f64::from(chance.between(-180, 180) as i32).to_radians();
        let wide = f64::from(chance.between(1, 359) as i32).to_radians();
        let (first, last) = (Direction::near(from), Direction::near(from + wide));
        // The arc is the one between the two directions, which lie close to the angles.
        let (from, wide) = (first.angle(), (last.angle() - first.angle()).rem_euclid(std::f64::consts::TAU));
        let all = stages(&after, &shape(n, &loads));
        let at = |[c, a, b]: [f64; 3], angle: f64| c + a * cos(angle) + b * sin(angle);
        let worst = all.iter().flat_map(|&stage| sums(&loads, stage)).map(|sums| {
            let suits = tober_quantity::maths::atan2(sums[2], sums[1]);
            let on = (suits - from).rem_euclid(std::f64::consts::TAU) <= wide;
            let ends = at(sums, from).max(at(sums, from + wide));
            if on { ends.max(at(sums, suits)) } else { ends }
        });
        let worst = worst.fold(f64::NEG_INFINITY, f64::max);
        let arc = Arc::Between(first, last);
        // Within a thousandth of the radii: a stage may be worth little where its arms are long.
        let radii: i64 = loads.bodies.iter().map(|b| b.mass.1 * 2000).sum();
        let found = turning(&after, &loads, arc, Close { within: i128::from(radii) / 10_000 + 3, cuts: 400 });
        // An angle printed and read again is off by some 1e-16 rad, and the ends by as much of the radii.
        assert!(found.value as f64 <= worst + ROUNDING_UNITS, "{} is met, {worst} is there", found.value);
        assert!(
            found.bound as f64 >= worst - ROUNDING_UNITS,
            "{} is the bound, {worst} is there",
            found.bound
        );
        assert!(
            found.bound - found.value <= i128::from(radii) / 10_000 + 3,
            "{} to {}",
            found.value,
            found.bound
        );
        assert_eq!(fit::check_turning(&question(&after, &loads, arc), &claim(&found)), Ok(()));
    }
}

#[test]
fn law_masses_that_are_not_sure_are_those_of_every_choice() {
    // No angle: one cut with weights that are differences of h, against every stage with every choice of masses.
    let mut chance = Chance(0x0BDE_050E);
    for round in 0..300 {
        let n = chance.between(1, 9) as usize;
        let (after, loads) = random(&mut chance, n, false, round % 2 == 0);
        let p = Precedence::new(&after).expect("no circle");
        assert_eq!(loads.sound(&p), Ok(()));
        let none = StepSet::none(n);
        let all = stages(&after, &shape(n, &loads));
        for loads in [loads.clone(), loads.negated()] {
            let tally = loads.tally(n, Direction::ZERO);
            let found = greatest_wide(&p, &tally, &none, &none).expect("nothing is held");
            let worst = all.iter().flat_map(|&stage| sums(&loads, stage)).map(|[c, ..]| c);
            let worst = worst.fold(f64::NEG_INFINITY, f64::max);
            assert!(
                (found.value as f64 - worst).abs() < ROUNDING_UNITS,
                "{} found, {worst} there",
                found.value
            );
        }
    }
}

#[test]
fn law_a_wider_mass_a_mirror_and_a_turn_of_all_do_what_they_must() {
    let mut chance = Chance(0x0BDE_0511);
    for _ in 0..100 {
        let n = chance.between(2, 30) as usize;
        let (after, loads) = random(&mut chance, n, true, true);
        let p = Precedence::new(&after).expect("no circle");
        let none = StepSet::none(n);
        let at = Direction::near(f64::from(chance.between(-180, 180) as i32).to_radians());
        let value = |loads: &Loads, at: Direction| {
            greatest_wide(&p, &loads.tally(n, at), &none, &none).expect("nothing is held").value
        };
        // The worst is no better where a mass is less sure.
        let mut wider = loads.clone();
        for body in &mut wider.bodies {
            body.mass = (body.mass.0 - chance.between(0, 5), body.mass.1 + chance.between(0, 5));
        }
        assert!(value(&wider, at) >= value(&loads, at));
        // Seen in a mirror along the angle 0, and turned by a quarter.
        let changed = |change: &dyn Fn(&Arm) -> Arm| {
            let mut loads = loads.clone();
            loads.base = change(&loads.base);
            for body in &mut loads.bodies {
                for arm in body.placements.iter_mut().chain(body.in_hand.iter_mut().flatten()) {
                    *arm = change(arm);
                }
            }
            loads
        };
        let mirrored = changed(&|arm| Arm { sin: -arm.sin, ..*arm });
        assert_eq!(value(&mirrored, Direction { q: -at.q, ..at }), value(&loads, at));
        let turned = changed(&|arm| Arm { cos: -arm.sin, sin: arm.cos, ..*arm });
        assert_eq!(value(&turned, at.quarter_on()), value(&loads, at));
        // The two searches may halve other arcs: what the one meets is not above what the other proves.
        let close = Close { within: 3, cuts: 30 };
        let both = [&turned, &loads].map(|loads| turning(&after, loads, Arc::Circle, close));
        assert!(both[0].value <= both[1].bound && both[1].value <= both[0].bound);
    }
}

#[test]
fn law_turns_to_stated_angles_are_those_of_every_stage_with_its_own_angle() {
    let mut chance = Chance(0x0BDE_050F);
    for _ in 0..200 {
        let n = chance.between(4, 9) as usize;
        let (mut after, loads) = random(&mut chance, n, true, false);
        // Two turns one after the other: steps that move nothing.
        let (first, second) = (n, n + 1);
        after.push(chance.some(n, 20));
        after.push(vec![first]);
        let p = Precedence::new(&after).expect("no circle");
        let special = StepSet::from(n + 2, [first, second]);
        let angles =
            [0, 1, 2].map(|_| Direction::near(f64::from(chance.between(-180, 180) as i32).to_radians()));
        // All to one measure: each cut is in units of 1 / r of its angle.
        let scale: i128 = angles.iter().map(|at| at.r).product();
        let weights = |done: &StepSet| {
            let at = angles[done.count()];
            let mut tally = loads.tally(n + 2, at);
            tally.start *= scale / at.r;
            for change in &mut tally.change {
                *change *= scale / at.r;
            }
            tally
        };
        let none = StepSet::none(n + 2);
        let each = greatest_by(&p, &special, &weights, (&none, &none), 10).expect("three branches");
        assert_eq!(each.len(), 3);
        let found =
            each.iter().filter_map(|b| b.found.as_ref()).map(|f| f.value).max().expect("the first is there");
        let shape = Tally { start: 0, change: vec![0; n + 2], peak: Vec::new() };
        let worst = stages(&after, &shape).into_iter().flat_map(|(done, begun)| {
            let at = angles[(done >> first & 1) as usize + (done >> second & 1) as usize];
            let (p, q) = (at.p as f64 / at.r as f64, at.q as f64 / at.r as f64);
            sums(&loads, (done, begun)).into_iter().map(move |[c, a, b]| c + a * p + b * q)
        });
        let worst = worst.fold(f64::NEG_INFINITY, f64::max);
        assert!(
            (found as f64 / scale as f64 - worst).abs() < ROUNDING_UNITS,
            "{found} of {scale}, {worst} there"
        );
        let listed: Vec<Vec<usize>> = each.iter().map(|b| b.done.iter().collect()).collect();
        assert_eq!(fit::check_branches(&after, &[first, second], &listed), Ok(()));
        let code = |listed: &[Vec<usize>]| {
            fit::check_branches(&after, &[first, second], listed).expect_err("spoiled").code()
        };
        assert_eq!(code(&listed[..2]), "branch-missing");
        assert_eq!(code(&listed[1..]), "branch-missing");
        assert_eq!(code(&[listed.clone(), vec![vec![second]]].concat()), "no-branch");
    }
}

#[test]
fn law_sets_of_special_steps_are_listed_once_and_capped() {
    // Four steps of which none is before another have 16 sets; a chain of four has 5.
    let free = Precedence::new(&vec![vec![]; 6]).expect("no circle");
    let special = StepSet::from(6, [1, 2, 4, 5]);
    let sets = branches(&free, &special, 16).expect("16 are few enough");
    assert_eq!(sets.len(), 16);
    assert!(sets.windows(2).all(|pair| pair[0].count() <= pair[1].count() && pair[0] != pair[1]));
    assert_eq!(branches(&free, &special, 15), None);
    // Through a step that is not special as well: 5 after 0 after 1.
    let chain = Precedence::new(&[vec![1], vec![], vec![1], vec![], vec![2], vec![0, 4]]).expect("no circle");
    let sets = branches(&chain, &special, 100).expect("five are few enough");
    assert_eq!(sets.len(), 5);
}

#[test]
fn hand_a_lamp_on_a_turntable() {
    // 10 kg swung out to 3 m by step 0 and propped back to 1 m by step 1, base 5: worst 5 + 30 along the arm, at 90 degrees.
    let arm = |sin| Arm { fixed: 0, cos: 0, sin };
    let body = Body {
        mass: (10, 10),
        steps: vec![0, 1],
        placements: vec![arm(0), arm(3), arm(1)],
        in_hand: Vec::new(),
    };
    let loads = Loads { base: Arm { fixed: 5, cos: 0, sin: 0 }, bodies: vec![body] };
    let after = [vec![], vec![0]];
    let found = turning(&after, &loads, Arc::Circle, Close { within: 0, cuts: 50 });
    assert_eq!((found.value, found.bound), (35, 35));
    assert_eq!((found.stage.iter().collect::<Vec<_>>(), found.masses.clone()), (vec![0], vec![10]));
    assert!((found.angle.as_deg() - 90.0).abs() < 1e-9, "{}", found.angle.as_deg());
    // With the turntable kept between −30 and 30 degrees: 5 + 30 sin 30 = 20, as near as directions go (2^-12 rad of 26 across).
    let arc = Arc::Between(Direction::near(-FRAC_PI_6), Direction::near(FRAC_PI_6));
    let kept = turning(&after, &loads, arc, Close { within: 0, cuts: 50 });
    assert!(
        (19..=20).contains(&kept.value) && (20..=21).contains(&kept.bound),
        "{} {}",
        kept.value,
        kept.bound
    );
    // With step 1 held done: 5 + 10.
    let p = Precedence::new(&after).expect("no circle");
    let (both, none) = (StepSet::from(2, [1]), StepSet::none(2));
    let close = Close { within: 0, cuts: 50 };
    let held =
        greatest_turning(&p, &loads, (&both, &none), Arc::Circle, close).expect("sound").expect("there");
    assert_eq!(held.bound, 15);
    assert_eq!(greatest_turning(&p, &loads, (&both, &both), Arc::Circle, close), Ok(None));
}

#[test]
fn refuse_loads_that_are_none_and_claims_that_are_spoiled() {
    let mut chance = Chance(0x0BDE_0510);
    let mut refused = std::collections::BTreeMap::new();
    for _ in 0..60 {
        let n = chance.between(3, 8) as usize;
        let (after, loads) = random(&mut chance, n, true, true);
        let found = turning(&after, &loads, Arc::Circle, Close { within: 3, cuts: 60 });
        let (asked, sound) = (question(&after, &loads, Arc::Circle), claim(&found));
        assert_eq!(fit::check_turning(&asked, &sound), Ok(()));
        let mut spoiled = Vec::new();
        let mut spoil = |change: &dyn Fn(&mut fit::TurningClaim)| {
            let mut claim = sound.clone();
            change(&mut claim);
            spoiled.push(claim);
        };
        spoil(&|c| c.value += 1 + c.bound.abs() / 1000);
        spoil(&|c| c.bound = c.value - 1);
        spoil(&|c| c.masses[0] = -1);
        spoil(&|c| c.directions[1].p += 1);
        spoil(&|c| {
            // A quarter is left out.
            let most = c.directions.len() - 1;
            c.directions.truncate(most);
            c.touching.truncate(most);
        });
        spoil(&|c| c.directions.swap(0, 2));
        spoil(&|c| {
            c.corners.pop();
        });
        for claim in spoiled {
            match fit::check_turning(&asked, &claim) {
                Ok(()) => panic!("takes {claim:?}"),
                Err(refusal) => *refused.entry(refusal.code()).or_insert(0) += 1,
            }
        }
    }
    for code in ["value", "bound", "mass", "off-the-circle", "gap"] {
        assert!(refused.contains_key(code), "none was refused for {code}: {refused:?}");
    }

    let p = Precedence::new(&[vec![], vec![0], vec![]]).expect("no circle");
    let one = Arm { fixed: 1, cos: 0, sin: 0 };
    let body = |steps: &[usize], in_hand: Vec<Option<Arm>>| Body {
        mass: (1, 2),
        steps: steps.to_vec(),
        placements: vec![one; steps.len() + 1],
        in_hand,
    };
    let error = |bodies: Vec<Body>| Loads { base: one, bodies }.sound(&p);
    assert_eq!(error(vec![body(&[0, 1], vec![]), body(&[2], vec![])]), Ok(()));
    assert_eq!(error(vec![body(&[0, 2], vec![])]), Err(LoadsError::NoChain { body: 0, step: 2 }));
    assert_eq!(error(vec![body(&[7], vec![])]), Err(LoadsError::Shape { body: 0 }));
    assert_eq!(error(vec![body(&[0], vec![None, None])]), Err(LoadsError::Shape { body: 0 }));
    assert_eq!(
        error(vec![body(&[0], vec![Some(one)]), body(&[0], vec![])]),
        Err(LoadsError::Uneven { step: 0 })
    );
    let heavy = Body { mass: (0, i64::MAX), ..body(&[0], vec![]) };
    assert_eq!(error(vec![heavy]), Err(LoadsError::TooLarge));
}
