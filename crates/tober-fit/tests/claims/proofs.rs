//! Proofs that there is no choice, or no better one: true ones pass, and none passes where there is a choice.

use crate::prover::{prove, stacks};
use crate::reading::{claim, file, folder, list, question, text};
use crate::slowly::{Chance, a_plane_meets};
use tober_fit::packing::none::{self, Best, Ceiling, Flaw, NotBest, Step, Weight};
use tober_fit::packing::{Claim, Leg, Question};
use tober_quantity::TenthMm;

/// Enough for the longest of the shared cases, which takes about eleven thousand.
const NODES: usize = 20_000;

/// The shared cases with a claim: the claim is the optimum that two general solvers proved.
fn optima() -> Vec<(String, Question, Claim)> {
    let shared = file(&folder("sound/shared_packing.json"));
    let cases = list(&shared, "cases").iter();
    cases
        .filter_map(|case| {
            Some((text(case, "id").to_owned(), question(&case["question"]), claim(case.get("claim")?)))
        })
        .collect()
}

fn below(claim: &Claim) -> (Ceiling, Ceiling) {
    let lower = Ceiling { lift: Some(claim.lift_greatest - TenthMm(1)), boards: None };
    (lower, Ceiling { lift: Some(claim.lift_greatest), boards: Some(claim.boards_total - 1) })
}

/// Proved by two general solvers, see the `source` in the file; here by a proof of whole numbers for each.
#[test]
fn truth_the_optima_of_two_solvers_are_shown_to_be_the_best() {
    let optima = optima();
    assert_eq!(optima.len(), 20);
    for (id, question, claim) in optima {
        let (lower, fewer) = below(&claim);
        let best = Best {
            none_lower: prove(&question, lower, NODES)
                .unwrap_or_else(|| panic!("{id}: no proof of the lift")),
            none_fewer: prove(&question, fewer, NODES)
                .unwrap_or_else(|| panic!("{id}: no proof of the boards")),
        };
        let verdict =
            none::check_best(&question, &claim, &best).unwrap_or_else(|flaw| panic!("{id}: {flaw}"));
        assert_eq!(verdict.lift_greatest, claim.lift_greatest, "{id}");
        // The same proofs one step short of what they prove would say that the optimum itself is not there.
        let there = Ceiling { lift: Some(claim.lift_greatest), boards: Some(claim.boards_total) };
        for proof in [&best.none_lower, &best.none_fewer] {
            assert!(
                none::check(&question, there, proof).is_err(),
                "{id}: a choice that is there was proved away"
            );
        }
        let turned = Best { none_lower: Vec::new(), none_fewer: best.none_fewer.clone() };
        let refused = none::check_best(&question, &claim, &turned);
        assert_eq!(refused, Err(NotBest::Lower(Flaw::CasesLeftOpen { open: 1 })), "{id}");
    }
}

/// Proved infeasible by two general solvers, see the `source` in the file.
#[test]
fn truth_the_infeasible_questions_of_two_solvers_are_shown_to_be_so() {
    let shared = file(&folder("sound/shared_packing.json"));
    let mut shown = 0;
    for case in list(&shared, "cases").iter().filter(|case| case.get("claim").is_none()) {
        let question = question(&case["question"]);
        let proof = prove(&question, Ceiling::OPEN, NODES).expect("a proof");
        let verdict = none::check(&question, Ceiling::OPEN, &proof);
        assert!(verdict.is_ok(), "{}: {verdict:?}", text(case, "id"));
        shown += 1;
    }
    assert_eq!(shown, 4);
}

/// True proofs changed by chance and held against a ceiling under which the optimum itself fits: none may pass.
#[test]
fn refuse_every_changed_proof_where_there_is_a_choice() {
    let mut chance = Chance(4);
    let mut tried = 0;
    for (id, question, claim) in optima().into_iter().take(16) {
        let there = Ceiling { lift: Some(claim.lift_greatest), boards: Some(claim.boards_total) };
        let (_, fewer) = below(&claim);
        let proof = prove(&question, fewer, NODES).expect("a proof");
        for _ in 0..100 {
            let mut changed = proof.clone();
            for _ in 0..chance.pick(0, 3) {
                change(&mut chance, &question, &mut changed);
            }
            let verdict = none::check(&question, there, &changed);
            let flaw = verdict.expect_err(&format!("{id}: a choice that is there was proved away"));
            assert!(flaw.to_string().ends_with('.'), "{flaw}");
            tried += 1;
        }
    }
    assert_eq!(tried, 1_600);
}

fn change(chance: &mut Chance, question: &Question, proof: &mut Vec<Step>) {
    let (at, other) = (chance.index(proof.len()), chance.index(proof.len()));
    let support = chance.index(question.supports.len());
    match chance.pick(0, 4) {
        0 => proof.swap(at, other),
        1 => proof[at] = proof[other].clone(),
        2 => proof[at] = Step::Bare { support },
        3 if proof.len() > 1 => {
            proof.remove(at);
        }
        _ => match &mut proof[at] {
            Step::Split { height, .. } => height.0 += chance.pick(-50, 50),
            Step::Bare { support: bare } => *bare = support,
            Step::Stock { prices, price_of_any } => {
                let kind = chance.index(prices.len());
                prices[kind] += chance.pick(-2, 2);
                *price_of_any += chance.pick(-2, 2);
            }
            Step::Plane { weights } => {
                let weight = chance.index(weights.len());
                weights[weight].times += chance.pick(-2, 2);
            }
        },
    }
}

fn small(chance: &mut Chance) -> Question {
    let shared = file(&folder("sound/shared_packing.json"));
    let mut question = question(&list(&shared, "cases")[0]["question"]);
    question.boards.truncate(2);
    for board in &mut question.boards {
        board.thickness = TenthMm(chance.pick(100, 500));
        board.count = chance.pick(1, 4);
    }
    for support in &mut question.supports {
        support.ground = TenthMm(chance.pick(-400, 400));
        let pitch = TenthMm(chance.pick(200, 500));
        support.leg = Leg::Holes { first: TenthMm(2_500), pitch, count: chance.pick(1, 2) };
    }
    question.stack.boards_most = 2;
    question.stack.boards_least = chance.pick(0, 1);
    question.lift_least = TenthMm(chance.pick(0, 300));
    question.planarity = TenthMm(chance.pick(5, 60));
    question
}

/// Tries every hole and stack at every support.
fn some_choice(question: &Question) -> bool {
    let stacks = stacks(question);
    let fits = |boards: &[i64]| {
        let height: i64 = question.boards.iter().zip(boards).map(|(b, n)| b.thickness.0 * n).sum();
        (boards.iter().sum::<i64>() >= question.stack.boards_least && height <= question.stack.height_most.0)
            .then_some(height)
    };
    let mut partial: Vec<(Vec<i64>, Vec<i64>)> = vec![(Vec::new(), vec![0; question.boards.len()])];
    for support in &question.supports {
        let Leg::Holes { first, pitch, count } = support.leg else { panic!("only legs with holes") };
        let mut longer = Vec::new();
        for (heights, used) in &partial {
            for boards in &stacks {
                let Some(height) = fits(boards) else { continue };
                let used: Vec<i64> = used.iter().zip(boards).map(|(used, n)| used + n).collect();
                if used.iter().zip(&question.boards).any(|(used, board)| *used > board.count) {
                    continue;
                }
                for hole in 0..count {
                    let lift = height + hole * pitch.0;
                    if lift >= question.lift_least.0 {
                        let mut heights = heights.clone();
                        heights.push(support.ground.0 + first.0 + lift);
                        longer.push((heights, used.clone()));
                    }
                }
            }
        }
        partial = longer;
    }
    partial.iter().any(|(heights, _)| a_plane_meets(question, heights))
}

#[test]
fn law_a_proof_passes_only_where_trying_everything_finds_no_choice() {
    let mut chance = Chance(24);
    let (mut with, mut without, mut shown) = (0, 0, 0);
    for _ in 0..400 {
        let question = small(&mut chance);
        let there = some_choice(&question);
        let proof = prove(&question, Ceiling::OPEN, 2_000);
        let passed = proof.is_some_and(|proof| none::check(&question, Ceiling::OPEN, &proof).is_ok());
        assert!(!(there && passed), "a choice that is there was proved away: {question:?}");
        with += usize::from(there);
        without += usize::from(!there);
        shown += usize::from(passed);
    }
    // Prices cannot show every shortage of whole boards, so a few without a choice may have no proof.
    assert!(
        with > 50 && without > 50 && shown * 10 >= without * 9,
        "{with} with, {without} without, {shown} shown"
    );
}

#[test]
fn refuse_each_flaw_by_its_name() {
    let (_, question, claim) = optima().swap_remove(0);
    let ceiling = Ceiling { lift: Some(claim.lift_greatest), boards: None };
    let kinds = question.boards.len();
    let stock = |prices: Vec<i64>, price_of_any| Step::Stock { prices, price_of_any };
    let plane = |weights: &[(usize, i64)]| Step::Plane {
        weights: weights.iter().map(|&(support, times)| Weight { support, times }).collect(),
    };
    let split = |support, height| Step::Split { support, height: TenthMm(height) };
    let cases = [
        (vec![Step::Bare { support: 9 }], "no-such-support"),
        (vec![split(9, 0)], "no-such-support"),
        (vec![plane(&[(9, 1)])], "no-such-support"),
        (vec![split(0, 1_000_000)], "split-outside"),
        (vec![split(0, i64::MIN)], "split-outside"),
        (vec![Step::Bare { support: 0 }], "not-bare"),
        (vec![stock(vec![1; kinds + 1], 0)], "prices-missing"),
        (vec![stock(vec![-1; kinds], 0)], "factor-out-of-range"),
        (vec![stock(vec![i64::MAX; kinds], 0)], "factor-out-of-range"),
        (vec![stock(vec![0; kinds], 1)], "no-ceiling-on-boards"),
        (vec![stock(vec![1; kinds], 0)], "stock-serves"),
        (vec![plane(&[(0, 1); 5])], "too-many-weights"),
        (vec![plane(&[(0, i64::MIN), (1, 1)])], "factor-out-of-range"),
        (vec![plane(&[(0, 1), (1, 1)])], "weights-do-not-cancel"),
        (vec![plane(&[(0, 1), (1, -1)])], "plane-serves"),
        (vec![plane(&[])], "plane-serves"),
        (vec![], "cases-left-open"),
        (vec![split(0, 4_000)], "cases-left-open"),
    ];
    for (proof, code) in cases {
        let flaw = none::check(&question, ceiling, &proof).expect_err("it passed");
        assert_eq!(flaw.code(), code, "{flaw:?}");
        assert!(flaw.to_string().ends_with('.'));
    }
    let (lower, _) = below(&claim);
    let mut long = prove(&question, lower, NODES).expect("a proof");
    long.push(Step::Bare { support: 0 });
    assert_eq!(none::check(&question, lower, &long).map_err(|flaw| flaw.code()), Err("steps-left-over"));
    let mut absurd = question.clone();
    absurd.planarity = TenthMm(-1);
    assert_eq!(none::check(&absurd, ceiling, &[]).map_err(|flaw| flaw.code()), Err("question"));
    let mut many = question.clone();
    many.boards = (0..12).map(|_| many.boards[0].clone()).collect();
    many.boards.iter_mut().for_each(|board| (board.thickness, board.count) = (TenthMm(1), 10));
    many.stack.boards_most = 100;
    assert_eq!(none::check(&many, ceiling, &[]).map_err(|flaw| flaw.code()), Err("too-many-stacks"));
    for extreme in [i64::MIN, i64::MAX] {
        let ceiling = Ceiling { lift: Some(TenthMm(extreme)), boards: Some(extreme) };
        let verdict = none::check(&question, ceiling, &[Step::Bare { support: 0 }]);
        assert_eq!(verdict.is_ok(), extreme == i64::MIN, "{verdict:?}");
    }
}

/// One board of 50 mm under a leg of one hole gives one height, 50.0 mm over the bare leg: a division just below it and
/// one just at it must both leave it in one of the two cases.
#[test]
fn hand_no_height_is_lost_between_the_two_cases() {
    let (_, mut question, _) = optima().swap_remove(0);
    question.boards.truncate(1);
    (question.boards[0].thickness, question.boards[0].count) = (TenthMm(500), 4);
    (question.stack.boards_least, question.stack.boards_most) = (1, 1);
    question.lift_least = TenthMm(0);
    let support = &mut question.supports[0];
    support.leg = Leg::Holes { first: TenthMm(2_500), pitch: TenthMm(500), count: 1 };
    let height = support.ground + TenthMm(2_500 + 500);
    for (at, step) in [(height - TenthMm(1), 2), (height, 1)] {
        let bare = Step::Bare { support: 0 };
        let proof = [Step::Split { support: 0, height: at }, bare.clone(), bare];
        let flaw = none::check(&question, Ceiling::OPEN, &proof);
        assert_eq!(flaw, Err(Flaw::NotBare { step, support: 0, height }));
    }
}

/// A screw of 40.0 mm travel on a board of 50 mm: every tenth from 50.0 to 90.0 mm over the bare leg, and nothing else.
#[test]
fn hand_a_screw_reaches_its_travel_and_no_more() {
    let (_, mut question, _) = optima().swap_remove(0);
    question.boards.truncate(1);
    (question.boards[0].thickness, question.boards[0].count) = (TenthMm(500), 4);
    (question.stack.boards_least, question.stack.boards_most) = (1, 1);
    question.lift_least = TenthMm(0);
    let support = &mut question.supports[0];
    support.leg = Leg::Screw { shortest: TenthMm(2_500), longest: TenthMm(2_900) };
    let bare = support.ground + TenthMm(2_500);
    let nothing = || Step::Bare { support: 0 };
    let split = |over| Step::Split { support: 0, height: bare + TenthMm(over) };
    for (over, flaw_at) in [(499, None), (500, Some((1, 500)))] {
        let flaw =
            none::check(&question, Ceiling::OPEN, &[split(over), nothing()]).expect_err("a case is open");
        match flaw_at {
            None => assert_eq!(flaw, Flaw::CasesLeftOpen { open: 1 }),
            Some((step, over)) => {
                assert_eq!(flaw, Flaw::NotBare { step, support: 0, height: bare + TenthMm(over) });
            }
        }
    }
    // With a least lift above the travel nothing is left; at its very end one height is.
    question.lift_least = TenthMm(901);
    assert!(none::check(&question, Ceiling::OPEN, &[nothing()]).is_ok());
    question.lift_least = TenthMm(900);
    let flaw = none::check(&question, Ceiling::OPEN, &[nothing()]);
    assert_eq!(flaw, Err(Flaw::NotBare { step: 0, support: 0, height: bare + TenthMm(900) }));
}

/// One height at the front left, a screw at the front right, no tolerance: a level plane meets both as long as the screw,
/// wound right out, reaches that height, and from a tenth of a millimetre more on there is none.
#[test]
fn hand_a_plane_step_counts_the_whole_travel_of_a_screw() {
    let (_, mut question, _) = optima().swap_remove(0);
    question.boards.truncate(1);
    (question.boards[0].thickness, question.boards[0].count) = (TenthMm(500), 4);
    (question.stack.boards_least, question.stack.boards_most) = (1, 1);
    (question.lift_least, question.planarity) = (TenthMm(0), TenthMm(0));
    (question.level.along_per_m, question.level.across_per_m) = (TenthMm(0), TenthMm(0));
    question.supports[0].leg = Leg::Holes { first: TenthMm(2_500), pitch: TenthMm(500), count: 1 };
    question.supports[1].leg = Leg::Screw { shortest: TenthMm(2_500), longest: TenthMm(2_900) };
    let weights = vec![Weight { support: 0, times: 1 }, Weight { support: 1, times: -1 }];
    for (higher, none) in [(400, false), (401, true)] {
        question.supports[0].ground = question.supports[1].ground + TenthMm(higher);
        let verdict = none::check(&question, Ceiling::OPEN, &[Step::Plane { weights: weights.clone() }]);
        assert_eq!(verdict.is_ok(), none, "{higher}: {verdict:?}");
    }
}
