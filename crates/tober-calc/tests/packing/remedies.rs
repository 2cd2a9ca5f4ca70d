//! Remedies: each serves once carried out, none is larger than needed, and none touches the maker's limits.

use crate::cases::{problem, shared};
use crate::check::faults;
use crate::enumeration::{Chance, random};
use tober_calc::packing::{
    Answer, BoardKind, Budget, Cure, Leg, Means, Problem, Remedy, Shift, StackRules, Support, TenthMmPerM,
    There, Wedges, WhyNot, least_shift, least_shift_dug, solve, why_not,
};
use tober_quantity::TenthMm;

fn means() -> Means {
    Means {
        wedges: Some(Wedges { least: TenthMm(150), most: TenthMm(300) }),
        wedge_pairs: 2,
        packers: vec![BoardKind::plain("ply 6", TenthMm(60), 8)],
        ..Means::usual()
    }
}

fn serves(problem: &Problem) -> bool {
    match solve(problem, &Budget::usual()).expect("well formed") {
        Answer::Optimal(_) => true,
        Answer::Infeasible(_) => false,
        other => panic!("small problems are proved: {other:?}"),
    }
}

/// The remedies with the least less of it, none of which may serve.
fn lesser(remedy: &Remedy) -> Vec<Remedy> {
    match remedy.clone() {
        Remedy::MoreBoards { kind, more } => vec![Remedy::MoreBoards { kind, more: more - 1 }],
        Remedy::Packers { packer, sheets } => vec![Remedy::Packers { packer, sheets: sheets - 1 }],
        Remedy::DigIn { feet, to } if feet.len() == 1 => {
            let (foot, depth) = feet[0];
            // Less digging is not one amount but many: each whole millimetre short of it, and 0.1 mm.
            let short = (1..=depth.0 / 10).map(|mm| 10 * mm).chain([1]).filter(|&short| short <= depth.0);
            short.map(|short| Remedy::DigIn { feet: vec![(foot, TenthMm(depth.0 - short))], to }).collect()
        }
        Remedy::DigIn { .. } => Vec::new(),
        // With the first carried out, less of the second.
        Remedy::Together(one, other) => {
            lesser(&other).into_iter().map(|less| Remedy::Together(one.clone(), Box::new(less))).collect()
        }
        Remedy::Wedges { supports, wedges } => (0..supports.len())
            .map(|out| {
                let kept = supports.iter().copied().enumerate().filter(|(at, _)| *at != out);
                Remedy::Wedges { supports: kept.map(|(_, support)| support).collect(), wedges }
            })
            .collect(),
    }
}

fn check(problem: &Problem, cures: &[Cure]) {
    for cure in cures {
        let applied = cure.remedy.applied(problem);
        assert_eq!(faults(&applied, &cure.choice), Vec::<String>::new(), "{:?}", cure.remedy);
        let limits = |p: &Problem| {
            (p.level_tol_x, p.level_tol_y, p.planarity_tol, p.min_lift, p.max_stack, p.rules.clone())
        };
        assert_eq!(limits(&applied), limits(problem), "the maker's limits stay");
        for less in lesser(&cure.remedy) {
            assert!(!serves(&less.applied(problem)), "{less:?} would have done, not only {:?}", cure.remedy);
        }
        let sentence = cure.sentence(problem);
        assert!(sentence.ends_with('.'), "{sentence}");
    }
}

/// The four shared infeasible cases, by what made them so. The file says only what was tightened; that boards
/// alone cure the short inventory, and boards never cure a leg too low, follows from the certificates.
#[test]
fn truth_infeasible_cases_get_the_remedies_that_fit_their_cause() {
    let mut seen = 0;
    for case in &shared() {
        let Some(cause) = case["infeasible_by"].as_str() else { continue };
        let problem = problem(case);
        let answer = why_not(&problem, &means(), &Budget::usual()).expect("well formed");
        let cures: &[Cure] = if let WhyNot::Cures { cures, undecided: 0 } = &answer { cures } else { &[] };
        check(&problem, cures);
        let boards = cures.iter().filter(|cure| matches!(cure.remedy, Remedy::MoreBoards { .. })).count();
        match cause {
            "inventory" => {
                assert!(boards > 0 && boards == cures.len(), "only boards: {answer:?}");
            }
            "drop" => assert!(matches!(answer, WhyNot::DoNotBuildHere), "{answer:?}"),
            _ => assert_eq!(boards, 0, "{cause} is not cured by boards"),
        }
        seen += 1;
    }
    assert_eq!(seen, 4);
}

#[test]
fn law_every_remedy_serves_and_less_of_it_does_not() {
    let mut chance = Chance(0x70BE_0003);
    let (mut cured, mut hopeless, mut kinds) = (0, 0, [0; 5]);
    for _ in 0..150 {
        let problem = random(&mut chance, 4, 3, 4);
        match why_not(&problem, &means(), &Budget::usual()).expect("well formed") {
            WhyNot::Serves => assert!(serves(&problem)),
            WhyNot::Cures { cures, undecided } => {
                // With no planarity tolerance at all, no depth in whole tenths may settle a foot exactly.
                assert!(undecided == 0 || problem.planarity_tol.0 == 0, "{undecided} undecided: {problem:?}");
                check(&problem, &cures);
                cured += 1;
                for cure in &cures {
                    kinds[match cure.remedy {
                        Remedy::MoreBoards { .. } => 0,
                        Remedy::DigIn { .. } => 1,
                        Remedy::Wedges { .. } => 2,
                        Remedy::Packers { .. } => 3,
                        Remedy::Together(..) => 4,
                    }] += 1;
                }
            }
            WhyNot::DoNotBuildHere => hopeless += 1,
            WhyNot::NotReached { .. } => assert_eq!(problem.planarity_tol.0, 0, "small problems are decided"),
        }
    }
    assert!(cured > 10 && hopeless > 1, "{cured} cured, {hopeless} hopeless");
    assert!(kinds[..4].iter().all(|&n| n > 0), "every remedy alone is met: {kinds:?}");
}

/// Four legs with screws of no travel on a square: heights 0, 0, 0 and 37 mm, one board of 50 mm under each,
/// planarity 1 mm, no slope. The high foot must go down until its seat is 2 mm above the others: 35 mm. At
/// 39 mm it is 2 mm below them, so the band in steps of 1 mm is 35 to 39 mm.
#[test]
fn hand_a_foot_is_dug_in() {
    let leg = Leg::Holes { pin_first: TenthMm(3000), pin_pitch: TenthMm(500), pin_count: 1 };
    let at = [(0, 0, 0), (4000, 0, 0), (0, 4000, 0), (4000, 4000, 370)];
    let supports = at.iter().map(|&(x, y, h)| Support::plain(format!("{x} {y}"), x, y, TenthMm(h), leg));
    let problem = Problem {
        supports: supports.collect(),
        boards: vec![BoardKind::plain("50", TenthMm(500), 4)],
        max_stack: TenthMm(500),
        min_boards_per_stack: 1,
        max_boards_per_stack: 1,
        min_lift: TenthMm(0),
        level_tol_x: TenthMmPerM(0),
        level_tol_y: TenthMmPerM(0),
        planarity_tol: TenthMm(10),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    };
    let WhyNot::Cures { cures, undecided: 0 } =
        why_not(&problem, &Means::usual(), &Budget::usual()).expect("well formed")
    else {
        panic!("digging cures");
    };
    let remedies: Vec<&Remedy> = cures.iter().map(|cure| &cure.remedy).collect();
    assert_eq!(remedies, [&Remedy::DigIn { feet: vec![(3, TenthMm(350))], to: TenthMm(390) }]);
    assert_eq!(
        cures[0].sentence(&problem),
        "Dig 4000 4000 in by 35 mm to 39 mm, and read the ground again before packing."
    );
    // Two high feet: no one foot cures, both together do, each by 35 to 39 mm.
    let mut two = problem.clone();
    two.supports[2].ground = TenthMm(370);
    let WhyNot::Cures { cures, .. } = why_not(&two, &Means::usual(), &Budget::usual()).expect("well formed")
    else {
        panic!("digging two feet cures");
    };
    check(&two, &cures);
    assert!(matches!(&cures[0].remedy, Remedy::DigIn { feet, .. } if feet.iter().map(|f| f.0).eq([2, 3])));
    let shallow = Means { dig_most: TenthMm(340), ..Means::usual() };
    assert_eq!(why_not(&problem, &shallow, &Budget::usual()), Ok(WhyNot::DoNotBuildHere));
}

/// Feet on a square, no slope, one leg length, one board of 50 mm each: the last foot stands 60 mm too high. Dug in by
/// 39 mm or moved by 150 mm it serves.
fn hump(height: i64) -> Problem {
    let leg = Leg::Holes { pin_first: TenthMm(3000), pin_pitch: TenthMm(500), pin_count: 1 };
    let at = [(0, 0, 0), (4000, 0, 0), (0, 4000, 0), (4000, 4000, height)];
    let supports = at.iter().map(|&(x, y, h)| Support::plain(format!("{x} {y}"), x, y, TenthMm(h), leg));
    Problem {
        supports: supports.collect(),
        boards: vec![BoardKind::plain("50", TenthMm(500), 4)],
        max_stack: TenthMm(1000),
        min_boards_per_stack: 1,
        max_boards_per_stack: 2,
        min_lift: TenthMm(0),
        level_tol_x: TenthMmPerM(0),
        level_tol_y: TenthMmPerM(0),
        planarity_tol: TenthMm(10),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    }
}

/// The trailer steps 50 mm at a time over a hump that ends 130 mm ahead of the foot and 220 mm behind it: three steps
/// forward are the fewest. Where the ground ahead was not read, five back are, and three places are not known.
#[test]
fn hand_the_fewest_steps_of_a_shift() {
    let at = |steps: i64| {
        let by = 50 * steps;
        There::Asks(Box::new(hump(if (-220..130).contains(&by) { 600 } else { 0 })))
    };
    let found = least_shift(&at, 40, &Budget::usual()).expect("well formed");
    assert!(matches!(found, Shift::Found { steps: 3, undecided: 0, not_known: 0, .. }), "{found:?}");
    if let Shift::Found { problem, choice, .. } = &found {
        assert_eq!(faults(problem, choice), Vec::<String>::new());
    }
    let half_read = |steps: i64| if steps > 0 { There::NotSurveyed } else { at(steps) };
    let found = least_shift(&half_read, 40, &Budget::usual()).expect("well formed");
    assert!(matches!(found, Shift::Found { steps: -5, undecided: 0, not_known: 5, .. }), "{found:?}");
    let none = least_shift(&half_read, 4, &Budget::usual()).expect("well formed");
    assert_eq!(none, Shift::None { undecided: 0, not_known: 4 });
}

/// The fewest steps found are those of trying every step one by one with the whole search.
#[test]
fn law_no_fewer_steps_serve() {
    let mut chance = Chance(0x70BE_0007);
    let mut met = 0;
    for _ in 0..150 {
        let problem = random(&mut chance, 4, 3, 4);
        let heights: Vec<i64> = (0..4 * 41).map(|_| chance.between(-400, 400)).collect();
        let at = |steps: i64| {
            let mut there = problem.clone();
            for (place, support) in there.supports.iter_mut().enumerate() {
                let index = 4 * usize::try_from(steps + 20).expect("within") + place;
                support.ground = support.ground + TenthMm(heights[index]);
            }
            There::Asks(Box::new(there))
        };
        let known = |n: i64| match at(n) {
            There::Asks(there) => *there,
            other => panic!("{other:?}"),
        };
        let Shift::Found { steps, choice, problem: there, .. } =
            least_shift(&at, 20, &Budget::usual()).expect("well formed")
        else {
            assert!((1..=20).flat_map(|n| [n, -n]).all(|n| !serves(&known(n))));
            continue;
        };
        assert_eq!(faults(&there, &choice), Vec::<String>::new());
        let nearer = (1..=20).flat_map(|n| [n, -n]).take_while(|&n| n != steps);
        assert!(nearer.into_iter().all(|n| !serves(&known(n))), "{steps}");
        met += usize::from(steps.abs() > 1);
    }
    assert!(met > 2, "{met} shifts of more than one step");
}

/// A hump of 260 mm: dug in no deeper than 200 mm it is 60 mm too high still, and the others have one board of 50 mm
/// each and no more. With boards for all three others (two a stack) the foot must go down by 260 - 50 - 2 = 208 mm less
/// what two planarities give: boards and digging are needed together.
#[test]
fn hand_two_things_together() {
    let problem = hump(2600);
    let means = Means { dig_most: TenthMm(2200), dig_feet_most: 1, ..Means::usual() };
    let WhyNot::Cures { cures, undecided: 0 } =
        why_not(&problem, &means, &Budget::usual()).expect("well formed")
    else {
        panic!("boards and digging together cure");
    };
    check(&problem, &cures);
    // Three more boards lift three corners by 50 mm; 260 - 50 - 2 = 208 mm are left to dig.
    let [Cure { remedy: Remedy::Together(one, other), .. }] = &cures[..] else { panic!("a pair: {cures:?}") };
    assert_eq!(**one, Remedy::MoreBoards { kind: 0, more: 3 });
    assert!(matches!(&**other, Remedy::DigIn { feet, .. } if feet[..] == [(3, TenthMm(2080))]), "{other:?}");
    assert!(cures[0].sentence(&problem).starts_with("Get 3 more of \"50\". Dig 4000 4000 in by 208 mm"));
}

/// A hump of 260 mm that is 20 mm lower with every step: a foot may be dug in by 200 mm and the frame is to 1 mm, so three
/// steps are the fewest, forward; where that place is taken, three back.
#[test]
fn hand_a_shift_with_a_foot_dug_in() {
    let means = Means::usual();
    for (taken, expected) in [(0, 3), (3, -3)] {
        let at = |steps: i64| {
            if steps == taken { There::Taken } else { There::Asks(Box::new(hump(2600 - 200 * steps.abs()))) }
        };
        let alone = least_shift(&at, 6, &Budget::usual()).expect("well formed");
        assert_eq!(alone, Shift::None { undecided: 0, not_known: 0 });
        let found = least_shift_dug(&at, 6, &means, &Budget::usual()).expect("well formed").expect("serves");
        assert_eq!((found.steps, found.undecided, found.not_known), (expected, 0, 0));
        let Remedy::DigIn { feet, .. } = &found.cure.remedy else { panic!("{:?}", found.cure) };
        assert_eq!(feet.len(), 1);
        // 200 mm of hump, less what the planarity takes up: 1 mm either way.
        assert!(feet[0].0 == 3 && (1980..=2000).contains(&feet[0].1.0), "{feet:?}");
        assert_eq!(
            faults(&found.cure.remedy.applied(&found.problem), &found.cure.choice),
            Vec::<String>::new()
        );
    }
}

/// Humps of any height at every place: the place found is the first, one step, one back, two and so on, whose hump is no
/// more than the 200 mm that a foot may be dug in and the 2 mm that the planarity takes up.
#[test]
fn law_no_fewer_steps_serve_with_feet_dug_in() {
    let mut chance = Chance(0x70BE_0441);
    let (mut met, mut none) = (0, 0);
    for _ in 0..40 {
        let heights: Vec<i64> = (0..13).map(|_| chance.between(1900, 3200)).collect();
        let height = |steps: i64| heights[usize::try_from(steps + 6).expect("within")];
        let at = |steps: i64| There::Asks(Box::new(hump(height(steps))));
        let found = least_shift_dug(&at, 6, &Means::usual(), &Budget::usual()).expect("well formed");
        let first = (1..=6).flat_map(|n| [n, -n]).find(|&n| height(n) <= 2020);
        assert_eq!(found.map(|found| found.steps), first, "{heights:?}");
        met += usize::from(first.is_some());
        none += usize::from(first.is_none());
    }
    assert!(met > 5 && none > 5, "{met} met, {none} none");
}
