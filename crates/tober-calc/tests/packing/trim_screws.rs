//! Screws read with a level: the fewest legs to turn, against plain enumeration.

use crate::enumeration::Chance;
use tober_calc::packing::trim::{
    Foot, Frame, HundredthMmPerM, Outcome, Question, Reading, Stands, none_fewer, solve,
};
use tober_calc::packing::{
    BoardKind, Budget, Leg, Problem, Setting, StackRules, Stage, Support, TenthMmPerM,
};
use tober_quantity::TenthMm;

const ALONG: i64 = 4000;
const ACROSS: i64 = 2400;
const TRAVEL: i64 = 200;

/// One frame of four screws on a rectangle, each on one board that cannot change.
struct Four {
    /// How far each screw is out.
    out: [i64; 4],
    /// The top of each as it was read, in tenths.
    tops: [i64; 4],
    level: (i64, i64),
    planarity: i64,
}

impl Four {
    /// Whether tops are in: on a rectangle the plane of least squares misses each by a quarter of the twist, and no
    /// plane misses less; so with its slopes inside, the twist against four planarities is all there is to ask.
    fn inside(&self, z: [i64; 4]) -> bool {
        // Corners: 0 rear right, 1 rear left, 2 front right, 3 front left. Slopes in tenths a metre, times 2 L.
        let along = 1000 * (z[2] + z[3] - z[0] - z[1]);
        let across = 1000 * (z[1] + z[3] - z[0] - z[2]);
        let twist = z[0] - z[1] - z[2] + z[3];
        along.abs() <= 2 * ALONG * self.level.0
            && across.abs() <= 2 * ACROSS * self.level.1
            && twist.abs() <= 4 * self.planarity
    }

    /// Whether turning these legs, by whole tenths or by whole steps, brings it in.
    fn serves(&self, legs: &[usize], step: i64, z: [i64; 4]) -> bool {
        let Some((&leg, rest)) = legs.split_first() else { return self.inside(z) };
        (0..=TRAVEL / step).any(|out| {
            let mut turned = z;
            turned[leg] += out * step - self.out[leg];
            self.serves(rest, step, turned)
        })
    }

    /// The fewest legs; with three or four only steps of half a millimetre are tried, which is no less than the fewest.
    fn fewest(&self) -> Option<usize> {
        (0..=4).find(|&count| {
            let step = if count <= 2 { 1 } else { 5 };
            (0_u32..16).filter(|set| set.count_ones() as usize == count).any(|set| {
                let legs: Vec<usize> = (0..4).filter(|leg| set >> leg & 1 == 1).collect();
                self.serves(&legs, step, self.tops)
            })
        })
    }
}

fn question(four: &Four, along: i64, across: i64, gaps: [i64; 4]) -> Question {
    let leg = Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(3000 + TRAVEL) };
    let at = [(0, 0), (0, ACROSS), (ALONG, 0), (ALONG, ACROSS)];
    let supports =
        at.iter().enumerate().map(|(i, &(x, y))| Support::plain(format!("L{i}"), x, y, TenthMm(0), leg));
    let problem = Problem {
        supports: supports.collect(),
        boards: vec![BoardKind::plain("50", TenthMm(500), 4)],
        max_stack: TenthMm(500),
        min_boards_per_stack: 1,
        max_boards_per_stack: 1,
        min_lift: TenthMm(0),
        level_tol_x: TenthMmPerM(four.level.0),
        level_tol_y: TenthMmPerM(four.level.1),
        planarity_tol: TenthMm(four.planarity),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    };
    let stands = four.out.map(|out| Stands { setting: Setting::Screw(TenthMm(out)), laid: vec![0] });
    let foot = |gap: i64| if gap == 0 { Foot::Snug } else { Foot::Light { gap: Some(TenthMm(gap)) } };
    let frame = Frame::Level {
        along: HundredthMmPerM(10 * along),
        across: HundredthMmPerM(10 * across),
        off_by: Some(HundredthMmPerM(0)),
    };
    let reading = Reading { frame, feet: gaps.map(|gap| Some(foot(gap))).to_vec() };
    Question { problem, stands: stands.to_vec(), reading }
}

/// What is called proved is the fewest by enumeration, and nothing is left unproved that enumeration settles.
#[test]
fn law_the_fewest_screws_are_those_of_plain_enumeration() {
    let mut lot = Chance(0x70BE_0402);
    let (mut by_count, mut best_found, mut none) = ([0; 5], 0, 0);
    for trial in 0..120 {
        // Slopes in whole tenths a metre that give whole tenths at the corners: multiples of 5.
        let (along, across) = (5 * lot.between(-8, 8), 5 * lot.between(-8, 8));
        let gaps: [i64; 4] = core::array::from_fn(|_| lot.pick(&[0, 0, 0, 10, 30, 60]));
        let corner =
            |i: usize| ((i / 2) as i64 * ALONG * along + (i % 2) as i64 * ACROSS * across) / 1000 - gaps[i];
        let four = Four {
            out: core::array::from_fn(|_| lot.between(0, TRAVEL)),
            tops: core::array::from_fn(corner),
            level: (lot.between(3, 20), lot.between(3, 20)),
            planarity: lot.between(3, 20),
        };
        let trim = solve(&question(&four, along, across, gaps), &Budget::usual()).expect("well formed");
        match &trim.outcome {
            Outcome::Inside { .. } => by_count[0] += 1,
            Outcome::Change { changed, proof, choice } => {
                let count = changed.len();
                let z: Vec<i64> = choice.supports.iter().map(|placed| placed.seat.0).collect();
                assert!(four.inside([z[0], z[1], z[2], z[3]]), "trial {trial}: {z:?}");
                let fewest = four.fewest();
                if *proof == Stage::Proved {
                    let fewest = fewest.unwrap_or(4);
                    // What was read may be out where its tops alone are in: then one leg at least changes.
                    let fewest = fewest.max(1);
                    assert!(
                        count <= fewest && (fewest > 2 && count > 2 || count == fewest),
                        "trial {trial}: {count} {fewest}"
                    );
                } else {
                    best_found += 1;
                    assert!(fewest.is_none_or(|fewest| fewest.max(1) <= count), "trial {trial}");
                }
                by_count[count] += 1;
            }
            Outcome::Nothing { .. } => {
                assert_eq!(four.fewest(), None, "trial {trial}: said to be impossible");
                none += 1;
            }
            other => {
                best_found += 1;
                assert!(matches!(other, Outcome::NotReached), "trial {trial}: {other:?}");
            }
        }
    }
    assert!(by_count[1] > 5 && by_count[2] > 5 && none > 5, "{by_count:?}, none {none}");
    assert_eq!(best_found, 0, "every one is proved");
}

/// Frames of four to eight screws at any places, with and without a choice of boards: all are proved within the work of
/// a plan. Prints how many, with how many proofs that fewer legs do not serve, and the most work.
#[test]
#[expect(clippy::print_stdout, reason = "what was counted is for whoever asks with --nocapture")]
fn law_no_frame_of_eight_screws_stays_open() {
    let mut lot = Chance(0x70BE_0407);
    let (mut changed, mut none, mut inside, mut open, mut shown, mut steps, mut nodes) =
        (0, 0, 0, 0, 0, 0, 0);
    for trial in 0..600 {
        let question = any_frame(&mut lot, 4 + trial % 5);
        let trim = solve(&question, &Budget::usual()).expect("well formed");
        nodes = nodes.max(trim.nodes);
        match &trim.outcome {
            Outcome::Inside { .. } => inside += 1,
            Outcome::Change { proof: Stage::Proved, .. } => changed += 1,
            // Proved that none serves once what the level may be off by is taken off, though some would were it exact.
            Outcome::TooCoarse | Outcome::Nothing { .. } => none += 1,
            _ => open += 1,
        }
        if let Some(proof) = none_fewer(&question, &trim) {
            shown += 1;
            steps = steps.max(proof.iter().map(|closed| closed.steps.len()).max().unwrap_or(0));
        }
    }
    println!(
        "inside {inside}, change proved {changed}, none proved {none}, open {open}; shown {shown}, most steps {steps}; most nodes {nodes}"
    );
    assert_eq!(open, 0);
    assert!(changed > 100 && none > 50 && shown > 500, "{changed} {none}");
}

fn any_frame(lot: &mut Chance, n: usize) -> Question {
    let four = Four {
        out: [0; 4],
        tops: [0; 4],
        level: (lot.between(3, 20), lot.between(3, 20)),
        planarity: lot.between(3, 30),
    };
    let mut question = question(&four, 0, 0, [0; 4]);
    let travel = lot.pick(&[60, 200, 1500]);
    let leg = Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(3000 + travel) };
    let at = |lot: &mut Chance, i: usize| {
        (3000 * (i as i64 / 2) + lot.between(-200, 200), (i as i64 % 2) * 2400 + lot.between(-150, 150))
    };
    question.problem.supports = (0..n)
        .map(|i| {
            let (x, y) = at(lot, i);
            Support::plain(format!("L{i}"), x, y, TenthMm(0), leg)
        })
        .collect();
    if lot.between(0, 2) == 0 {
        question.problem.boards.push(BoardKind::plain("20", TenthMm(200), 3));
        question.problem.max_boards_per_stack = 2;
        question.problem.max_stack = TenthMm(1000);
    }
    question.stands = (0..n)
        .map(|_| Stands { setting: Setting::Screw(TenthMm(lot.between(0, travel))), laid: vec![0] })
        .collect();
    for board in &mut question.problem.boards {
        board.count = board.count.max(n as u32);
    }
    let slope = lot.pick(&[40, 150, 500]);
    question.reading.frame = Frame::Level {
        along: HundredthMmPerM(lot.between(-slope, slope)),
        across: HundredthMmPerM(lot.between(-slope, slope)),
        off_by: Some(HundredthMmPerM(lot.pick(&[0, 10]))),
    };
    let foot = |lot: &mut Chance| match lot.pick(&[0, 0, 0, 10, 30, 80]) {
        0 => Foot::Snug,
        gap => Foot::Light { gap: Some(TenthMm(gap)) },
    };
    question.reading.feet = (0..n).map(|_| Some(foot(lot))).collect();
    question
}
