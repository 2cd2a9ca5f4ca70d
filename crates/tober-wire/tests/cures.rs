//! More rules that cure an offence: against every set of rules there is, and through the checker that shares nothing with the search.

#[path = "../../tober-calc/tests/orders/enumeration.rs"]
#[allow(dead_code, unused_imports, reason = "the tests in this file belong to the test run of tober-calc")]
mod enumeration;

use enumeration::{Chance, stages, value};
use tober_calc::orders::{Cures, Precedence, Rule, StepSet, Tally, cures, greatest};
use tober_fit::orders::{Cure, Offence, check_cure};

/// More tries than any of these small questions takes.
const TRIES: usize = 400;

fn worst_over(tally: &Tally, limit: i64) -> impl Fn(&Precedence) -> Option<(StepSet, StepSet)> {
    move |p: &Precedence| {
        let none = StepSet::none(p.len());
        let found = greatest(p, tally, &none, &none).expect("nothing is held");
        (found.value > limit).then(|| (found.stage.clone(), found.stage.union(&found.under_way)))
    }
}

fn claim(rules: &[Rule], fewest: bool, offences: &[(StepSet, StepSet)]) -> Cure {
    let offence = |(done, begun): &(StepSet, StepSet)| Offence {
        done: done.iter().collect(),
        begun: begun.iter().collect(),
    };
    Cure { rules: rules.to_vec(), offences: offences.iter().map(offence).collect(), fewest }
}

/// The rules as they were with more.
fn with(after: &[Vec<usize>], rules: &[Rule]) -> Vec<Vec<usize>> {
    let mut after = after.to_vec();
    for &(first, then) in rules {
        after[then].push(first);
    }
    after
}

/// Nothing is worse than the limit, and all steps can still be done: found by going through every stage.
fn cured(after: &[Vec<usize>], tally: &Tally, limit: i64) -> bool {
    let all = stages(after, tally);
    let full = (1_u32 << after.len()) - 1;
    // Rules that close a circle leave no order of all steps: some stage then has no next one.
    let mut reached = vec![false; full as usize + 1];
    reached[0] = true;
    for &(done, _) in &all {
        reached[done as usize] |=
            (0..after.len()).any(|s| done >> s & 1 == 1 && reached[(done & !(1 << s)) as usize]);
    }
    reached[full as usize] && all.iter().all(|&stage| value(tally, stage) <= limit)
}

/// The size of the smallest set of rules up to three that cures, by trying every one.
fn smallest(after: &[Vec<usize>], tally: &Tally, limit: i64) -> Option<usize> {
    let n = after.len();
    let rules: Vec<Rule> = (0..n).flat_map(|u| (0..n).map(move |v| (u, v))).filter(|(u, v)| u != v).collect();
    if cured(after, tally, limit) {
        return Some(0);
    }
    if rules.iter().any(|&a| cured(&with(after, &[a]), tally, limit)) {
        return Some(1);
    }
    let pairs = || (0..rules.len()).flat_map(|i| (0..i).map(move |j| (i, j)));
    if pairs().any(|(i, j)| cured(&with(after, &[rules[i], rules[j]]), tally, limit)) {
        return Some(2);
    }
    let three = |(i, j): (usize, usize)| {
        (0..j).any(|k| cured(&with(after, &[rules[i], rules[j], rules[k]]), tally, limit))
    };
    pairs().any(three).then_some(3)
}

#[test]
fn law_the_fewest_rules_are_those_of_trying_every_set() {
    let mut chance = Chance(0x0BDE_050A);
    let mut seen = [0; 6];
    for round in 0..160 {
        let n = chance.between(2, 5) as usize;
        let after = chance.rules(n, [0, 10, 25][round % 3]);
        let tally = chance.tally(n, [0, 60][round % 2]);
        // Somewhere between the worse of the two ends and the worst stage.
        let ends = tally.start.max(tally.start + tally.change.iter().sum::<i64>());
        let limit = ends + chance.between(-3, 30);
        let p = Precedence::new(&after).expect("no circle");
        let by_hand = smallest(&after, &tally, limit);
        match cures(&p, &worst_over(&tally, limit), TRIES) {
            Cures::NoneNeeded => {
                assert_eq!(by_hand, Some(0));
                seen[0] += 1;
            }
            Cures::Rules { rules, fewest, offences } => {
                assert!(cured(&with(&after, &rules), &tally, limit), "{rules:?} cure");
                assert_eq!(check_cure(&after, &claim(&rules, fewest, &offences)), Ok(()));
                assert_eq!(fewest, by_hand.is_some(), "{rules:?} against {by_hand:?}");
                assert!(!fewest || by_hand == Some(rules.len()), "{rules:?} against {by_hand:?}");
                seen[if fewest { rules.len() } else { 4 }] += 1;
            }
            Cures::NoRule { .. } => {
                assert_eq!(by_hand, None);
                seen[5] += 1;
            }
            // Offences that can each be prevented, and only by rules that close a circle.
            Cures::NotReached { none_up_to, .. } => {
                assert_eq!((none_up_to, by_hand), (3, None), "{TRIES} tries are enough for {n} steps");
                seen[5] += 1;
            }
        }
    }
    // None needed, one rule, two, three, more, no rule.
    assert!(seen.iter().take(4).all(|&times| times > 5) && seen[5] > 5, "each was met: {seen:?}");
}

#[test]
fn law_larger_cures_pass_the_checker_and_spoiled_ones_do_not() {
    let mut chance = Chance(0x0BDE_050B);
    let (mut proved, mut unproved, mut refused) = ([0; 4], 0, std::collections::BTreeMap::new());
    for round in 0..120 {
        let n = chance.between(10, 40) as usize;
        let after = chance.rules(n, [2, 5, 10][round % 3]);
        let tally = chance.tally(n, [0, 30][round % 2]);
        let p = Precedence::new(&after).expect("no circle");
        let none = StepSet::none(n);
        let worst = greatest(&p, &tally, &none, &none).expect("nothing is held").value;
        let limit = worst - chance.between(1, 90);
        let Cures::Rules { rules, fewest, offences } = cures(&p, &worst_over(&tally, limit), TRIES) else {
            continue;
        };
        let stricter = p.with(&rules).expect("no circle");
        assert!(worst_over(&tally, limit)(&stricter).is_none(), "nothing offends any more");
        let sound = claim(&rules, fewest, &offences);
        assert_eq!(check_cure(&after, &sound), Ok(()), "{rules:?}");
        *(if fewest { &mut proved[rules.len()] } else { &mut unproved }) += 1;
        let mut spoiled = vec![Cure { rules: rules[1..].to_vec(), ..sound.clone() }];
        spoiled.push(Cure { rules: [rules.clone(), vec![rules[0]]].concat(), ..sound.clone() });
        let mut back = sound.clone();
        back.rules.push((rules[0].1, rules[0].0));
        spoiled.push(back);
        let mut no_stage = sound.clone();
        let waits = |s: &usize| after[*s].iter().any(|first| !no_stage.offences[0].done.contains(first));
        if let Some(step) = (0..n).find(|s| waits(s) && !no_stage.offences[0].begun.contains(s)) {
            no_stage.offences[0].begun.push(step);
            spoiled.push(no_stage);
        }
        for cure in spoiled {
            let refusal = check_cure(&after, &cure).expect_err("it is spoiled");
            *refused.entry(refusal.code()).or_insert(0) += 1;
        }
    }
    assert!(
        proved[1] > 20 && proved[2] > 5 && unproved > 5,
        "proved the smallest, by size: {proved:?}; not proved: {unproved}"
    );
    for code in ["circle", "not-prevented", "rule-to-spare", "no-offence"] {
        assert!(refused.contains_key(code), "none was refused for {code}: {refused:?}");
    }
}

#[test]
fn refuse_a_set_said_to_be_the_smallest_that_is_not() {
    // Four steps, none before another. Each of the offences alone is prevented by one rule.
    let after = vec![vec![], vec![], vec![], vec![]];
    let alone = Offence { done: vec![2], begun: vec![2] };
    let other = Offence { done: vec![2, 3], begun: vec![2, 3] };
    let early = Offence { done: vec![2, 0], begun: vec![2, 0] };
    let cure = Cure {
        rules: vec![(0, 2), (1, 2)],
        offences: vec![alone.clone(), other, early, Offence { done: vec![2, 1], begun: vec![2, 1] }],
        fewest: true,
    };
    // "2 after 3" leaves {2, 3}, "2 after 0" leaves {0, 2}, "2 after 1" leaves {1, 2}: no rule alone prevents all four.
    assert_eq!(check_cure(&after, &cure), Ok(()));
    let mut fewer = cure.clone();
    fewer.offences = vec![
        Offence { done: vec![2, 0], begun: vec![2, 0] },
        Offence { done: vec![2, 1], begun: vec![2, 1] },
    ];
    // Both are prevented by "2 after 3" alone.
    assert_eq!(check_cure(&after, &fewer).expect_err("one would do").code(), "fewer-rules");
    let four = Cure { rules: vec![(0, 1), (0, 2), (0, 3), (1, 2)], offences: Vec::new(), fewest: true };
    assert_eq!(check_cure(&after, &four).expect_err("nothing shows a need").code(), "rule-to-spare");
}

#[test]
fn hand_a_rule_that_leaves_most_freedom() {
    // Two arms swing out (steps 2 and 3, +5 each) and two props take load off (0 and 1, −5 each); more than 5 offends. Only {2, 3}
    // does, at 10; either arm after either prop prevents it, all alike, so the smallest numbers are taken.
    let p = Precedence::new(&[vec![], vec![], vec![], vec![]]).expect("no circle");
    let tally = Tally { start: 0, change: vec![-5, -5, 5, 5], peak: Vec::new() };
    let Cures::Rules { rules, fewest, offences } = cures(&p, &worst_over(&tally, 5), TRIES) else {
        panic!("a rule cures it")
    };
    assert_eq!((rules, fewest), (vec![(0, 2)], true));
    assert_eq!(offences, [(StepSet::from(4, [2, 3]), StepSet::from(4, [2, 3]))]);
    // With 4 and 5 before 0, "2 after 0" would bind 2 to three steps; "2 after 1" binds it to one.
    let p = Precedence::new(&[vec![4, 5], vec![], vec![], vec![], vec![], vec![]]).expect("no circle");
    let tally = Tally { start: 0, change: vec![-5, -5, 5, 5, 0, 0], peak: Vec::new() };
    let Cures::Rules { rules, .. } = cures(&p, &worst_over(&tally, 5), TRIES) else {
        panic!("a rule cures it")
    };
    assert_eq!(rules, [(1, 2)]);
}

#[test]
fn law_what_no_rule_prevents_is_said_and_too_few_tries_are_said() {
    // The end itself offends.
    let p = Precedence::new(&[vec![], vec![0]]).expect("no circle");
    let tally = Tally { start: 0, change: vec![1, 9], peak: Vec::new() };
    let end = StepSet::all(2);
    assert_eq!(cures(&p, &worst_over(&tally, 5), TRIES), Cures::NoRule { offence: (end.clone(), end) });
    let p = Precedence::new(&[vec![], vec![], vec![], vec![]]).expect("no circle");
    let tally = Tally { start: 0, change: vec![-5, -5, 5, 5], peak: Vec::new() };
    match cures(&p, &worst_over(&tally, 5), 1) {
        Cures::NotReached { none_up_to, best, offences } => {
            assert_eq!((none_up_to, best, offences.len()), (0, (0, 2), 1));
        }
        other => panic!("{other:?}"),
    }
    // A finder that names a stage which its rules do not admit is not asked for ever.
    let careless = |_: &Precedence| Some((StepSet::from(4, [2]), StepSet::from(4, [2])));
    assert!(matches!(cures(&p, &careless, TRIES), Cures::NotReached { .. }));
}
