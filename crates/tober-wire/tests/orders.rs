//! The door to any order: random procedures against every stage there is, what it refuses, and the checker that stands
//! behind it.
#![cfg(feature = "command")]

#[path = "../../tober-calc/tests/orders/enumeration.rs"]
#[allow(dead_code, unused_imports, reason = "the tests in this file belong to the test run of tober-calc")]
mod enumeration;

use enumeration::{Chance, stages};
use serde_json::{Value, json};
use tober_calc::orders::{Floating, Precedence, StepSet, Tally, WideExtreme, greatest_wide, least_wide};
use tober_fit::orders as fit;
use tober_quantity::UnitSet;
use tober_wire::calc::answer;

/// What a sum of a dozen floating numbers below 1000 may be off between two orders of adding: plain rounding.
const ROUNDING: f64 = 1e-11;

fn answered(question: &Value) -> Value {
    answer("orders", &question.to_string(), UnitSet::Metric).expect("the door opens").0
}

/// The question of issue and README: two steps and a quantity.
fn small() -> Value {
    json!({
        "steps": [{"id": "s0"}, {"id": "s1", "after": ["s0"]}, {"id": "s2", "after": []}],
        "quantities": [{"name": "q", "base": 0.25, "weights": {"s0": -0.5, "s1": 1.5, "s2": -2.0}}],
    })
}

#[test]
fn hand_two_steps_and_a_quantity() {
    // Stages: {} 0.25, {s0} −0.25, {s0 s1} 1.25, each with s2 2 less.
    let result = &answered(&small())["result"];
    assert_eq!(
        result,
        &json!({ "quantities": [{
            "name": "q", "max": 1.25, "max_stage": ["s0", "s1"], "min": -2.25, "min_stage": ["s0", "s2"],
        }] })
    );
}

#[test]
fn hand_a_peak_counts_while_a_step_is_under_way() {
    let mut question = small();
    question["quantities"][0]["peaks"] = json!({ "s1": 4, "s2": 0.125 });
    // 0.25 − 0.5 + 4 + 0.125, with s1 and s2 in hand together; the least stays, since both in hand add.
    let found = &answered(&question)["result"]["quantities"][0];
    assert_eq!(found["max"], 3.875);
    assert_eq!((&found["max_stage"], &found["max_under_way"]), (&json!(["s0"]), &json!(["s1", "s2"])));
    assert_eq!((&found["min"], &found["min_under_way"]), (&json!(-2.25), &json!([])));
}

#[test]
fn law_random_procedures_through_the_door_agree_with_every_stage_enumerated() {
    let mut chance = Chance(0x0BDE_0507);
    for round in 0..200 {
        let n = chance.between(1, 10) as usize;
        let after = chance.rules(n, [5, 15, 30][round % 3]);
        let ids: Vec<String> = (0..n).map(|i| format!("step {i}")).collect();
        let mut weight = || (chance.between(-999_999, 999_999) as f64) / 1024.0 / 3.0;
        let (base, weights) = (weight(), (0..n).map(|_| weight()).collect::<Vec<f64>>());
        let question = json!({
            "steps": (0..n).map(|i| json!({
                "id": ids[i], "after": after[i].iter().map(|&a| ids[a].clone()).collect::<Vec<_>>(),
            })).collect::<Value>(),
            "quantities": [{
                "name": "q", "base": base,
                "weights": (0..n).map(|i| (ids[i].clone(), json!(weights[i]))).collect::<serde_json::Map<_, _>>(),
            }],
        });
        let answer = answered(&question);
        let found = &answer["result"]["quantities"][0];
        let no_peaks = Tally { start: 0, change: vec![0; n], peak: Vec::new() };
        let value = |done: u32| base + (0..n).filter(|s| done >> s & 1 == 1).map(|s| weights[s]).sum::<f64>();
        let admitted: Vec<u32> = stages(&after, &no_peaks).into_iter().map(|(done, _)| done).collect();
        for (key, sign) in [("max", 1.0), ("min", -1.0)] {
            let stage = found[format!("{key}_stage")].as_array().expect("a list");
            let bits = stage.iter().fold(0, |bits, id| {
                bits | 1_u32 << ids.iter().position(|i| Some(i.as_str()) == id.as_str()).expect("a step")
            });
            assert!(admitted.contains(&bits), "{question}");
            let said = found[key].as_f64().expect("a number");
            let best = admitted.iter().map(|&done| sign * value(done)).fold(f64::NEG_INFINITY, f64::max);
            assert!((said - value(bits)).abs() <= ROUNDING, "{question}");
            assert!(
                (sign * said - best).abs() <= ROUNDING,
                "{key}: {said} said, {best} is there. {question}"
            );
        }
    }
}

#[test]
fn refuse_with_the_place_and_what_would_be_right() {
    let wrong = |change: &dyn Fn(&mut Value), at: &str, says: &str| {
        let mut question = small();
        change(&mut question);
        let error = &answered(&question)["error"];
        assert_eq!(error["at"], at, "{error}");
        assert!(error["message"].as_str().is_some_and(|m| m.contains(says)), "{error}");
    };
    wrong(&|q| q["steps"][1]["after"][0] = json!("s9"), "steps[1].after[0]", "`s9` is the id of no step.");
    wrong(&|q| q["steps"][2]["id"] = json!("s0"), "steps[2].id", "`s0` is the id of steps[0] already");
    wrong(&|q| q["steps"][0]["after"] = json!(["s1"]), "steps", "a circle: `s0` before `s1` before `s0`.");
    wrong(&|q| q["steps"][0]["after"] = json!(["s0"]), "steps", "a circle: `s0` before `s0`.");
    wrong(
        &|q| q["quantities"][0]["weights"]["s3"] = json!(1),
        "quantities[0].weights.s3",
        "The steps are `s0`, `s1`, `s2`.",
    );
    wrong(
        &|q| q["quantities"][0]["weights"]["s1"] = json!("1e999"),
        "quantities[0].weights.s1",
        "a finite number",
    );
    wrong(&|q| q["quantities"][0]["base"] = json!("NaN"), "quantities[0].base", "a finite number");
    wrong(&|q| q["quantities"][0]["peaks"] = json!({"s7": 1}), "quantities[0].peaks.s7", "no step");
    wrong(&|q| q["quantities"][0]["weights"] = json!([]), "quantities[0].weights", "an object");
    wrong(
        &|q| q["quantities"][0]["weights"] = json!({"s0": 1e308, "s1": 1e308}),
        "quantities[0]",
        "more than a number can hold",
    );
    wrong(&|q| q["step"] = json!([]), "step", "Did you mean `steps`?");
    wrong(
        &|q| q["steps"] = (0..2001).map(|i| json!({"id": i.to_string()})).collect(),
        "steps",
        "2001 steps stand here; at most 2000 are worked.",
    );
}

#[test]
fn law_weights_of_any_size_are_worked_and_said_not_exact_where_they_lie_too_far_apart() {
    let mut question = small();
    question["quantities"][0]["weights"] = json!({"s0": -1e-300, "s1": 1.0, "s2": 1e-300});
    let found = &answered(&question)["result"]["quantities"][0];
    assert_eq!((&found["max"], &found["exact"]), (&json!(1.25), &json!(false)));
    // One more than the entries, in units of 2^-112 of 1: below 1e-32.
    assert!(found["within"].as_f64().is_some_and(|within| within > 0.0 && within < 1e-32), "{found}");
    // Far apart, and still exact: a tenth has 55 binary places, and a thousand million million 50 before the point.
    question["quantities"][0]["weights"] = json!({"s0": -0.1, "s1": 1e15, "s2": 0.3});
    let found = &answered(&question)["result"]["quantities"][0];
    assert!(found["exact"].is_null());
    assert_eq!(found["max_stage"], json!(["s0", "s1", "s2"]));
    // As small and as large as numbers go.
    for size in [5e-324, 1e-310, 1e307] {
        question["quantities"][0]["base"] = json!(0);
        question["quantities"][0]["weights"] = json!({"s0": -size, "s1": 2.0 * size, "s2": size});
        let found = &answered(&question)["result"]["quantities"][0];
        assert_eq!(found["max"], json!(2.0 * size), "{found}");
        assert_eq!(found["min"], json!(-size), "{found}");
    }
}

#[test]
fn law_numbers_made_whole_are_the_numbers() {
    let mut chance = Chance(0x0BDE_0508);
    for _ in 0..1000 {
        let mut number = || {
            f64::from_bits(
                0x3000_0000_0000_0000 + (chance.between(0, i64::from(u32::MAX)) as u64) * 0x0123_4567,
            )
        };
        let change = vec![number(), -number(), 0.0];
        let floating = Floating { start: 0.0, change: change.clone(), peak: Vec::new() };
        let whole = floating.whole();
        let unit = tober_quantity::maths::pow(2.0, f64::from(whole.exponent));
        for (number, whole_number) in change.iter().zip(&whole.tally.change) {
            let back = *whole_number as f64 * unit;
            assert!(
                whole.rounded || back.to_bits() == number.to_bits() || *number == 0.0,
                "{number} came back as {back}"
            );
            assert!((back - number).abs() <= unit, "{number} came back as {back}");
        }
    }
}

fn asked(after: &[Vec<usize>], t: &Tally, done: &[usize], open: &[usize], side: fit::Side) -> fit::Question {
    fit::Question {
        after: after.to_vec(),
        start: t.start.into(),
        change: t.change.iter().map(|&c| c.into()).collect(),
        peak: t.peak.iter().map(|p| p.map(i128::from)).collect(),
        done: done.to_vec(),
        open: open.to_vec(),
        side,
    }
}

fn claimed(found: &WideExtreme) -> fit::Claim {
    let moved = found.proof.moved.iter();
    fit::Claim {
        value: found.value,
        done: found.stage.iter().collect(),
        under_way: found.under_way.iter().collect(),
        moved: moved.map(|m| fit::Moved { from: m.from, to: m.to, amount: m.amount }).collect(),
    }
}

#[test]
fn law_the_checker_takes_every_extreme_and_no_other_value_or_stage() {
    let mut chance = Chance(0x0BDE_0509);
    let (mut taken, mut refused) = (0, std::collections::BTreeMap::new());
    for round in 0..300 {
        let n = chance.between(2, 40) as usize;
        let after = chance.rules(n, [3, 8, 20][round % 3]);
        let tally = chance.tally(n, [0, 50][round % 2]);
        let (done, open) = (chance.some(n, 4), chance.some(n, 4));
        let p = Precedence::new(&after).expect("no circle");
        let set = |of: &[usize]| StepSet::from(n, of.iter().copied());
        let wide = tober_calc::orders::WideTally {
            start: tally.start.into(),
            change: tally.change.iter().map(|&c| c.into()).collect(),
            peak: tally.peak.iter().map(|p| p.map(i128::from)).collect(),
        };
        for (side, found) in [
            (fit::Side::Greatest, greatest_wide(&p, &wide, &set(&done), &set(&open))),
            (fit::Side::Least, least_wide(&p, &wide, &set(&done), &set(&open))),
        ] {
            let Some(found) = found else { continue };
            let question = asked(&after, &tally, &done, &open, side);
            let claim = claimed(&found);
            assert_eq!(fit::check(&question, &claim), Ok(()), "{question:?} {claim:?}");
            taken += 1;
            // Each spoiled claim is refused.
            let mut spoiled = Vec::new();
            spoiled.push(fit::Claim { value: claim.value + 1, ..claim.clone() });
            for step in 0..n {
                let mut other = claim.clone();
                match other.done.iter().position(|&d| d == step) {
                    Some(at) => drop(other.done.remove(at)),
                    None => {
                        other.done.push(step);
                        other.under_way.retain(|&u| u != step);
                    }
                }
                spoiled.push(other);
            }
            for at in 0..claim.moved.len() {
                let mut less = claim.clone();
                less.moved[at].amount -= 1;
                spoiled.push(less);
                let mut back = claim.clone();
                back.moved[at].amount = -1;
                spoiled.push(back);
            }
            for claim in spoiled {
                match fit::check(&question, &claim) {
                    Ok(()) => panic!("{question:?} takes {claim:?}"),
                    Err(refusal) => *refused.entry(refusal.code()).or_insert(0) += 1,
                }
            }
        }
    }
    assert!(taken > 300, "{taken} taken");
    for code in ["value", "not-a-stage", "held-done", "held-open", "move", "bound"] {
        assert!(refused.contains_key(code), "none was refused for {code}: {refused:?}");
    }
}

#[test]
fn law_procedures_of_hundreds_of_steps_pass_the_checker() {
    let mut chance = Chance(0x0BDE_0512);
    for (steps, share) in [(100, 2), (300, 1), (300, 3), (600, 1)] {
        let after = chance.rules(steps, share);
        let tally = chance.tally(steps, 30);
        let p = Precedence::new(&after).expect("no circle");
        let none = StepSet::none(steps);
        let question = asked(&after, &tally, &[], &[], fit::Side::Greatest);
        let wide = tober_calc::orders::WideTally {
            start: question.start,
            change: question.change.clone(),
            peak: question.peak.clone(),
        };
        let most = greatest_wide(&p, &wide, &none, &none).expect("nothing is held");
        assert!(most.value > question.start, "there is something to find");
        assert_eq!(fit::check(&question, &claimed(&most)), Ok(()));
        let fewest = least_wide(&p, &wide, &none, &none).expect("nothing is held");
        let question = fit::Question { side: fit::Side::Least, ..question };
        assert_eq!(fit::check(&question, &claimed(&fewest)), Ok(()));
    }
}

#[test]
fn refuse_a_stage_of_more_steps_than_it_takes_and_moves_that_prove_nothing() {
    // Step 1 weighs nothing, so a stage with it is as good, and longer.
    let after = vec![vec![], vec![]];
    let tally = Tally { start: 0, change: vec![5, 0], peak: Vec::new() };
    let question = asked(&after, &tally, &[], &[], fit::Side::Greatest);
    let claim = |done: &[usize], moved: &[fit::Moved]| fit::Claim {
        value: 5,
        done: done.to_vec(),
        under_way: Vec::new(),
        moved: moved.to_vec(),
    };
    assert_eq!(fit::check(&question, &claim(&[0], &[])), Ok(()));
    let code = |claim: &fit::Claim| fit::check(&question, claim).expect_err("it is wrong").code();
    assert_eq!(code(&claim(&[0, 1], &[])), "not-the-fewest");
    let free = fit::Moved { from: 0, to: 1, amount: 1 };
    assert_eq!(code(&claim(&[0], &[free])), "move", "0 does not need 1");
    assert_eq!(code(&claim(&[0, 2], &[])), "no-such-step");
    let mut huge = question.clone();
    huge.start = i128::MAX;
    assert_eq!(fit::check(&huge, &claim(&[0], &[])).expect_err("no room").code(), "too-large");
}
