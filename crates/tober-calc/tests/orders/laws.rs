//! Laws of sets, rules and extremes, and an example from outside.

use crate::enumeration::Chance;
use tober_calc::orders::{Precedence, StepSet, Tally, greatest, least};

fn plain(start: i64, change: &[i64]) -> Tally {
    Tally { start, change: change.to_vec(), peak: Vec::new() }
}

#[test]
fn law_a_set_of_steps_holds_what_was_put_in() {
    let mut set = StepSet::from(130, [0, 63, 64, 129, 129]);
    assert_eq!(set.iter().collect::<Vec<_>>(), [0, 63, 64, 129]);
    assert_eq!((set.count(), set.len()), (4, 130));
    set.remove(64);
    assert!(!set.contains(64) && set.contains(63) && !set.contains(1000));
    set.insert(1000);
    assert_eq!(set.count(), 3);
    assert_eq!(StepSet::all(130).count(), 130);
    assert!(StepSet::all(130).contains_all(&set) && !set.contains_all(&StepSet::all(130)));
    assert!(set.intersects(&StepSet::from(130, [129])) && !set.intersects(&StepSet::from(130, [128])));
    assert_eq!(set.union(&StepSet::from(130, [5])).count(), 4);
    assert!(StepSet::none(130).is_empty() && !set.is_empty());
}

#[test]
fn hand_rules_follow_through_and_what_follows_is_left_out() {
    // 0 before 1 before 2, and 0 before 2 said again; 3 stands alone.
    let p = Precedence::new(&[vec![], vec![0], vec![1, 0], vec![]]).expect("no circle");
    assert!(p.is_before(0, 2) && !p.is_before(2, 0) && p.unordered(3, 2) && !p.unordered(1, 1));
    assert_eq!(p.direct(2), [1]);
    assert_eq!(p.before(2).iter().collect::<Vec<_>>(), [0, 1]);
    assert_eq!(p.later(0).iter().collect::<Vec<_>>(), [1, 2]);
    assert!(p.is_stage(&StepSet::from(4, [0, 3])) && !p.is_stage(&StepSet::from(4, [0, 2])));
    assert_eq!(p.an_order(&StepSet::all(4)), [0, 1, 2, 3]);
    // With 3 first, the rest follows it; a rule the other way round as well closes a circle.
    let more = p.with(&[(3, 0)]).expect("no circle");
    assert_eq!(more.an_order(&StepSet::all(4)), [3, 0, 1, 2]);
    assert!(
        p.with(&[(3, 0), (2, 3)]).is_none() && p.with(&[(9, 0)]).is_none() && p.with(&[(0, 9)]).is_none()
    );
}

#[test]
fn refuse_a_circle_is_named_and_is_a_shortest_one() {
    // 0 -> 1 -> 2 -> 3 -> 0 and, shorter, 4 -> 5 -> 4.
    let after = [vec![3], vec![0], vec![1], vec![2], vec![5, 0], vec![4]];
    assert_eq!(Precedence::new(&after), Err(vec![4, 5]));
    assert_eq!(Precedence::new(&after[..4]), Err(vec![0, 1, 2, 3]));
    assert_eq!(Precedence::new(&[vec![], vec![1]]), Err(vec![1]));
    assert_eq!(Precedence::new(&[vec![], vec![7]]), Err(vec![7, 1]));
}

#[test]
fn law_every_order_given_is_admitted() {
    let mut chance = Chance(0x0BDE_0504);
    for _ in 0..200 {
        let steps = chance.between(1, 90) as usize;
        let after = chance.rules(steps, 5);
        let p = Precedence::new(&after).expect("no circle");
        let mut stage = StepSet::from(steps, chance.some(steps, 50));
        for step in stage.clone().iter() {
            stage = stage.union(p.before(step));
        }
        let order = p.an_order(&stage);
        assert_eq!(order.len(), stage.count());
        let mut done = StepSet::none(steps);
        for step in order {
            assert!(after[step].iter().all(|&first| done.contains(first)));
            done.insert(step);
        }
        assert_eq!(done, stage);
    }
}

#[test]
fn law_a_rule_more_never_makes_an_extreme_worse_and_scale_and_sign_carry_through() {
    let mut chance = Chance(0x0BDE_0505);
    for round in 0..200 {
        let steps = chance.between(2, 60) as usize;
        let p = Precedence::new(&chance.rules(steps, 5)).expect("no circle");
        let t = chance.tally(steps, [0, 40][round % 2]);
        let none = StepSet::none(steps);
        let most =
            |p: &Precedence, t: &Tally| greatest(p, t, &none, &none).expect("the empty stage is there");
        let fewest = |p: &Precedence, t: &Tally| least(p, t, &none, &none).expect("the empty stage is there");
        let (a, b) = (chance.between(0, steps as i64 - 1), chance.between(0, steps as i64 - 1));
        if let Some(stricter) = p.with(&[(a as usize, b as usize)]) {
            assert!(most(&stricter, &t).value <= most(&p, &t).value);
            assert!(fewest(&stricter, &t).value >= fewest(&p, &t).value);
        }
        let times = |by: i64| Tally {
            start: t.start * by,
            change: t.change.iter().map(|c| c * by).collect(),
            peak: t.peak.iter().map(|p| p.map(|p| p * by)).collect(),
        };
        assert_eq!(most(&p, &times(1000)).value, most(&p, &t).value * 1000);
        assert_eq!(most(&p, &times(1000)).stage, most(&p, &t).stage);
        assert_eq!(most(&p, &times(-1)).value, -fewest(&p, &t).value);
        assert!(fewest(&p, &t).value <= t.start && t.start <= most(&p, &t).value);
    }
}

#[test]
fn hand_a_part_in_hand_is_worse_than_before_or_after() {
    // Lifted off at 0 (change −5) and set down at 1 (change +5); while step 1 is under way it hangs far out: +9.
    let p = Precedence::new(&[vec![], vec![0]]).expect("no circle");
    let t = Tally { start: 10, change: vec![-5, 5], peak: vec![None, Some(9)] };
    let none = StepSet::none(2);
    let found = greatest(&p, &t, &none, &none).expect("there is a stage");
    // 10 − 5 + 9.
    assert_eq!(found.value, 14);
    assert_eq!(found.stage, StepSet::from(2, [0]));
    assert_eq!(found.under_way, StepSet::from(2, [1]));
    // Not begun, the best is before anything is done.
    assert_eq!(greatest(&p, &t, &none, &StepSet::from(2, [1])).expect("there is a stage").value, 10);
}

#[test]
fn law_a_long_chain_needs_no_deep_stack() {
    let steps = 3000;
    let after: Vec<Vec<usize>> = (0..steps).map(|s| if s == 0 { vec![] } else { vec![s - 1] }).collect();
    let p = Precedence::new(&after).expect("no circle");
    let mut change = vec![-1; steps];
    change[steps - 1] = steps as i64;
    let none = StepSet::none(steps);
    let found = greatest(&p, &plain(0, &change), &none, &none).expect("there is a stage");
    assert_eq!((found.value, found.stage.count()), (1, steps));
}
