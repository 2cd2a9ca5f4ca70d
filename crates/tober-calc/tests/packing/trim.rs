//! Lower, read, trim: small random frames against every change there is, and cases worked by hand.

use crate::check::faults;
use crate::enumeration::{Chance, Way, could_share, plane_serves, random, ways};
use tober_calc::finding::Standing;
use tober_calc::packing::trim::{
    Foot, Frame, HundredthMmPerM, Missing, Outcome, Question, Reading, Stands, findings, misses, solve,
};
use tober_calc::packing::{
    BoardKind, Budget, Leg, Problem, Setting, StackRules, Stage, Support, TenthMmPerM,
};
use tober_quantity::TenthMm;

/// A random frame as it stands: on any hole and stack there is, in any order, with stock left over or none.
fn random_question(chance: &mut Chance, n: usize, kinds: usize, by_level: bool) -> Option<Question> {
    let mut problem = random(chance, n, kinds, 4);
    problem.level_tol_x = TenthMmPerM(chance.pick(&[10, 20, 50]));
    problem.level_tol_y = TenthMmPerM(chance.pick(&[10, 20, 50]));
    let mut left: Vec<i64> = problem.boards.iter().map(|board| i64::from(board.count)).collect();
    let mut stands = Vec::new();
    for support in &problem.supports {
        let all: Vec<Way> = ways(&problem, support);
        if all.is_empty() {
            return None;
        }
        let way = &all[chance.between(0, all.len() as i64 - 1) as usize];
        for (left, used) in left.iter_mut().zip(&way.kinds) {
            *left -= used;
        }
        let mut laid: Vec<usize> =
            way.kinds.iter().enumerate().flat_map(|(kind, &n)| vec![kind; n as usize]).collect();
        if chance.between(0, 1) == 1 {
            laid.reverse();
        }
        stands.push(Stands { setting: Setting::Hole(way.hole as u32), laid });
    }
    let feet = (0..n)
        .map(|_| match chance.between(0, 3) {
            0 => Some(Foot::Light { gap: Some(TenthMm(chance.between(0, 200))) }),
            _ => Some(Foot::Snug),
        })
        .collect();
    let frame = if by_level {
        let slope = |chance: &mut Chance| HundredthMmPerM(chance.between(-800, 800));
        Frame::Level { along: slope(chance), across: slope(chance), off_by: Some(HundredthMmPerM(0)) }
    } else {
        let rough = chance.pick(&[20, 100, 400]);
        let at = (0..n).map(|_| Some(TenthMm(6000 + chance.between(-rough, rough)))).collect();
        Frame::Heights { at, off_by: Some(TenthMm(0)) }
    };
    Some(Question { problem, stands, reading: Reading { frame, feet } })
}

/// The tops, straight from their definition.
fn tops(question: &Question) -> Vec<i64> {
    let supports = question.problem.supports.iter().enumerate();
    let top = supports.map(|(place, support)| {
        let gap = match question.reading.feet[place] {
            Some(Foot::Light { gap: Some(gap) }) => gap.0,
            _ => 0,
        };
        let height = match &question.reading.frame {
            Frame::Heights { at, .. } => at[place].expect("all are read").0,
            Frame::Level { along, across, .. } => {
                let rise = (along.0 * support.x_mm + across.0 * support.y_mm) as f64 / 10_000.0;
                (rise + 0.5).floor() as i64
            }
        };
        height - gap
    });
    top.collect()
}

/// Whether the plane of least squares is inside the level tolerances: by Cramer's rule on the normal equations.
fn level_of_all(problem: &Problem, seats: &[i64]) -> bool {
    let mut m = [[0_i128; 4]; 3];
    for (support, &seat) in problem.supports.iter().zip(seats) {
        let row = [1, i128::from(support.x_mm), i128::from(support.y_mm), i128::from(seat)];
        for i in 0..3 {
            for j in 0..4 {
                m[i][j] += row[i] * row[j];
            }
        }
    }
    let det = |c: [usize; 3]| {
        m[0][c[0]] * (m[1][c[1]] * m[2][c[2]] - m[1][c[2]] * m[2][c[1]])
            - m[0][c[1]] * (m[1][c[0]] * m[2][c[2]] - m[1][c[2]] * m[2][c[0]])
            + m[0][c[2]] * (m[1][c[0]] * m[2][c[1]] - m[1][c[1]] * m[2][c[0]])
    };
    let over = det([0, 1, 2]);
    if over <= 0 {
        return true;
    }
    let inside = |up: i128, most: i64| 1000 * up.abs() <= i128::from(most) * over;
    inside(det([0, 3, 2]), problem.level_tol_x.0) && inside(det([0, 1, 3]), problem.level_tol_y.0)
}

/// Boards handled from one stack to another where any order stands: what lies above the longest part that can stay
/// comes off, and the rest goes on.
fn handled(laid: &[usize], kinds: &[i64]) -> i64 {
    let mut left = kinds.to_vec();
    let mut stay = 0;
    for &kind in laid {
        left[kind] -= 1;
        if left[kind] < 0 {
            break;
        }
        stay += 1;
    }
    laid.len() as i64 + kinds.iter().sum::<i64>() - 2 * stay
}

struct Search<'a> {
    question: &'a Question,
    problem: Problem,
    all: Vec<Vec<(Way, i64, i64)>>,
    tops: Vec<i64>,
    by_level: bool,
    best: Option<(i64, i64, i64)>,
}

/// Fewest legs, then fewest boards handled, then least far, over every change there is; `(0, 0, 0)` where what stands
/// is inside already.
fn best(question: &Question) -> Option<(i64, i64, i64)> {
    let mut problem = question.problem.clone();
    for (kind, board) in problem.boards.iter_mut().enumerate() {
        let stand = question.stands.iter().flat_map(|s| &s.laid).filter(|&&k| k == kind).count() as u32;
        board.count = board.count.max(stand);
    }
    let tops = tops(question);
    let mut all = Vec::new();
    for (support, stands) in problem.supports.iter().zip(&question.stands) {
        let Setting::Hole(hole) = stands.setting else { panic!("holes only here") };
        let Leg::Holes { pin_pitch, .. } = support.leg else { panic!("holes only here") };
        let packing: i64 = stands.laid.iter().map(|&kind| problem.boards[kind].thickness.0).sum();
        let lift = packing + pin_pitch.0 * i64::from(hole);
        let list = ways(&problem, support).into_iter().map(|way| {
            let (up, moved) = (way.lift - lift, handled(&stands.laid, &way.kinds));
            (way, up, moved)
        });
        all.push(list.collect());
    }
    let by_level = matches!(question.reading.frame, Frame::Level { .. });
    let mut search = Search { question, problem, all, tops, by_level, best: None };
    let stock: Vec<i64> = search.problem.boards.iter().map(|board| i64::from(board.count)).collect();
    search.descend(&mut Vec::new(), (0, 0, 0), &stock);
    search.best
}

impl Search<'_> {
    fn serves(&self, seats: &[i64], changed: i64) -> bool {
        if !plane_serves(&self.problem, seats) {
            return false;
        }
        if !self.by_level {
            return true;
        }
        if changed > 0 {
            return level_of_all(&self.problem, seats);
        }
        // What stands is judged by what was read of it.
        let Frame::Level { along, across, .. } = &self.question.reading.frame else { return false };
        let gap = |foot: &Option<Foot>| match foot {
            Some(Foot::Light { gap: Some(gap) }) => gap.0,
            _ => 0,
        };
        along.0.abs() <= 10 * self.problem.level_tol_x.0
            && across.0.abs() <= 10 * self.problem.level_tol_y.0
            && self.question.reading.feet.iter().all(|foot| gap(foot) <= self.problem.planarity_tol.0)
    }

    fn descend(&mut self, seats: &mut Vec<i64>, so_far: (i64, i64, i64), stock: &[i64]) {
        if self.best.is_some_and(|best| so_far >= best) {
            return;
        }
        let place = seats.len();
        if place == self.tops.len() {
            if self.serves(seats, so_far.0) {
                self.best = Some(so_far);
            }
            return;
        }
        for index in 0..self.all[place].len() {
            let (way, up, moved) = &self.all[place][index];
            let left: Vec<i64> = stock.iter().zip(&way.kinds).map(|(have, used)| have - used).collect();
            let seat = self.tops[place] + up;
            if left.iter().any(|&n| n < 0) || !could_share(&self.problem, seats, seat) {
                continue;
            }
            let same = *moved == 0
                && Setting::Hole(u32::try_from(way.hole).expect("a hole"))
                    == self.question.stands[place].setting;
            let next = if same { so_far } else { (so_far.0 + 1, so_far.1 + moved, so_far.2.max(up.abs())) };
            seats.push(seat);
            self.descend(seats, next, &left);
            seats.pop();
        }
    }
}

fn against_every_change(by_level: bool, seed: u64, rounds: usize) -> [usize; 3] {
    let mut chance = Chance(seed);
    let mut met = [0; 3];
    for round in 0..rounds {
        let n = chance.between(if by_level { 3 } else { 2 }, 4) as usize;
        let kinds = chance.between(1, 2) as usize;
        let Some(question) = random_question(&mut chance, n, kinds, by_level) else { continue };
        let expected = best(&question);
        let trim = solve(&question, &Budget::usual()).expect("well formed");
        match (&trim.outcome, expected) {
            (Outcome::Inside { choice }, Some((0, 0, 0))) => {
                met[0] += 1;
                assert!(faults(&trim.problem, choice).is_empty(), "round {round}");
            }
            (Outcome::Change { choice, changed, proof }, Some(best)) => {
                met[1] += 1;
                assert_eq!(*proof, Stage::Proved);
                let handled = changed.iter().map(|c| i64::from(c.handled)).sum();
                let far = changed.iter().map(|c| c.up.0.abs()).max().unwrap_or(0);
                assert_eq!((changed.len() as i64, handled, far), best, "round {round}: {question:?}");
                let faults = faults(&trim.problem, choice);
                assert!(faults.is_empty(), "round {round}: {faults:?}");
            }
            (Outcome::Nothing { .. }, None) => met[2] += 1,
            (outcome, best) => panic!("round {round}: {outcome:?} against {best:?} for {question:?}"),
        }
    }
    met
}

#[test]
fn law_the_change_is_the_least_of_every_change_by_heights() {
    let met = against_every_change(false, 0x70BE_0017, 400);
    assert!(met.iter().all(|&count| count >= 15), "every kind of answer is met: {met:?}");
}

#[test]
fn law_the_change_is_the_least_of_every_change_by_level() {
    let met = against_every_change(true, 0x70BE_0018, 400);
    assert!(met.iter().all(|&count| count >= 15), "every kind of answer is met: {met:?}");
}

const NAMES: [&str; 6] =
    ["front left", "front right", "middle left", "middle right", "rear left", "rear right"];

/// Six legs 4 m apart along and 4 m across, holes of 40 from 740, boards of 75, 50, 25; 3 mm/m and 3 mm.
fn six(heights: [i64; 6], gaps: [Option<i64>; 6], stacks: [&[usize]; 6]) -> Question {
    let leg = Leg::Holes { pin_first: TenthMm(7400), pin_pitch: TenthMm(400), pin_count: 8 };
    let support = |(i, name): (usize, &&str)| {
        let (x, y) = (8000 - 4000 * (i as i64 / 2), if i % 2 == 0 { 2000 } else { -2000 });
        Support::plain(*name, x, y, TenthMm(0), leg)
    };
    let board = |name: &str, thickness| BoardKind::plain(name, TenthMm(thickness), 8);
    let problem = Problem {
        supports: NAMES.iter().enumerate().map(support).collect(),
        boards: vec![board("75", 750), board("50", 500), board("25", 250)],
        max_stack: TenthMm(2000),
        min_boards_per_stack: 1,
        max_boards_per_stack: 4,
        min_lift: TenthMm(400),
        level_tol_x: TenthMmPerM(30),
        level_tol_y: TenthMmPerM(30),
        planarity_tol: TenthMm(30),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    };
    let stands =
        stacks.iter().map(|laid| Stands { setting: Setting::Hole(2), laid: laid.to_vec() }).collect();
    let foot =
        |gap: &Option<i64>| Some(gap.map_or(Foot::Snug, |gap| Foot::Light { gap: Some(TenthMm(gap)) }));
    let reading = Reading {
        frame: Frame::Heights {
            at: heights.iter().map(|&h| Some(TenthMm(h))).collect(),
            off_by: Some(TenthMm(0)),
        },
        feet: gaps.iter().map(foot).collect(),
    };
    Question { problem, stands, reading }
}

const SNUG: [Option<i64>; 6] = [None; 6];
const ON_75: [&[usize]; 6] = [&[0]; 6];

/// Heights 643, 646, 645, 642, 645 and 637 with a gap of 6: rear right's top is at 631. It stands in hole 3 on
/// 75 + 25. One hole down and the 25 out is +40 - 25 = +15, to 646: one board handled. With none handled only
/// holes move it, by 40 at a time, to 671 or 591, which no level frame meets. Of those with one board handled: 25, 50 or
/// 75 on with holes up gives +25, +50 - 40 = +10, +75 - 80 = -5 ...; +10 takes it to 641, which is 5 below 646 but
/// inside: the plane through 643, 645, 645 on the left and 646, 642, 641 on the right needs no more than 3 either way.
/// So the least way up that serves is +10, and the answer puts a 50 on and goes one hole up.
#[test]
fn hand_rear_right_sunk() {
    let mut stacks = ON_75;
    stacks[5] = &[0, 2];
    let mut gaps = SNUG;
    gaps[5] = Some(60);
    let question = six([6430, 6460, 6450, 6420, 6450, 6370], gaps, stacks);
    let trim = solve(&question, &Budget::usual()).expect("well formed");
    let Outcome::Change { choice, changed, proof } = &trim.outcome else { panic!("{:?}", trim.outcome) };
    assert_eq!(*proof, Stage::Proved);
    assert_eq!((changed[0].support, changed[0].up, changed[0].handled), (5, TenthMm(100), 1));
    assert_eq!(choice.supports[5].setting, Setting::Hole(1));
    assert_eq!(choice.supports[5].laid, [0, 2, 1]);
    let found = findings(&question, &trim);
    let past: Vec<String> = found
        .now
        .iter()
        .filter(|f| f.standing == Standing::PastLimit)
        .map(|f| format!("{} {}", f.code, f.subject))
        .collect();
    assert_eq!(past, ["trim.plane rear right", "trim.foot rear right"], "one leg is named, and no other");
    assert!(found.after.iter().all(|f| f.standing <= Standing::Close));
}

/// All others at 645, rear right at 637 and light by 10: its top is at 627, in hole 3 on 75 + 25. With no tilt allowed it
/// must come to 639 at least and 651 at most, up by 12 to 24. No board handled: 40 up or down. One: 25, 50 or 75 on, or the
/// 25 out, with holes: +25 +10 +35 -5 +15 ..., of which 15 is the one between. One hole down (+40), take out the 25.
#[test]
fn hand_rear_right_one_hole_down_take_out_the_25() {
    let mut stacks = ON_75;
    stacks[5] = &[0, 2];
    let mut gaps = SNUG;
    gaps[5] = Some(100);
    let mut question = six([6450, 6450, 6450, 6450, 6450, 6370], gaps, stacks);
    question.problem.level_tol_x = TenthMmPerM(0);
    question.problem.level_tol_y = TenthMmPerM(0);
    let trim = solve(&question, &Budget::usual()).expect("well formed");
    let Outcome::Change { choice, changed, .. } = &trim.outcome else { panic!("{:?}", trim.outcome) };
    assert_eq!(
        (changed.len(), changed[0].support, changed[0].up, changed[0].handled),
        (1, 5, TenthMm(150), 1)
    );
    assert_eq!(
        (choice.supports[5].setting, choice.supports[5].laid.as_slice()),
        (Setting::Hole(3), &[0][..])
    );
    assert_eq!(choice.supports[5].seat, TenthMm(6420));
}

/// A level that reads 3.1 mm/m along is past 3 however much slack the feet have, and 3.0 is not.
#[test]
fn hand_what_a_level_shows_is_a_fact() {
    let read = |along| {
        let mut question = six([6450; 6], SNUG, ON_75);
        question.reading.frame = Frame::Level {
            along: HundredthMmPerM(along),
            across: HundredthMmPerM(0),
            off_by: Some(HundredthMmPerM(0)),
        };
        solve(&question, &Budget::usual()).expect("well formed").outcome
    };
    assert!(matches!(read(300), Outcome::Inside { .. }));
    assert!(matches!(read(310), Outcome::Change { .. }));
}

/// A height that may be off by 1 leaves 2 of 3, and one that may be off by 3.1 leaves nothing.
#[test]
fn law_what_a_reading_may_be_off_by_is_taken_off_the_tolerance() {
    let outcome = |off| {
        let mut question = six([6450, 6450, 6450, 6450, 6450, 6400], SNUG, ON_75);
        let Frame::Heights { off_by, .. } = &mut question.reading.frame else { panic!("heights") };
        *off_by = Some(TenthMm(off));
        question.problem.level_tol_x = TenthMmPerM(0);
        question.problem.level_tol_y = TenthMmPerM(0);
        solve(&question, &Budget::usual()).expect("well formed").outcome
    };
    // 645 and 640 are 2.5 either way of a level plane.
    assert!(matches!(outcome(0), Outcome::Inside { .. }));
    assert!(matches!(outcome(5), Outcome::Inside { .. }));
    assert!(!matches!(outcome(6), Outcome::Inside { .. }));
    assert_eq!(outcome(31), Outcome::TooCoarse);
}

#[test]
fn law_not_saying_what_a_reading_may_be_off_by_is_never_inside() {
    let mut question = six([6450; 6], SNUG, ON_75);
    let Frame::Heights { off_by, .. } = &mut question.reading.frame else { panic!("heights") };
    *off_by = None;
    let trim = solve(&question, &Budget::usual()).expect("well formed");
    let found = findings(&question, &trim);
    let planes = found.now.iter().filter(|f| f.code == "trim.plane" || f.code.starts_with("trim.level"));
    assert!(planes.clone().count() == 8 && planes.clone().all(|f| f.standing == Standing::NotKnown));
}

#[test]
fn hand_what_is_not_read_is_named_and_the_rest_is_told() {
    let mut question = six([6450, 6450, 6450, 6450, 6450, 6300], SNUG, ON_75);
    question.reading.feet[1] = None;
    question.reading.feet[2] = Some(Foot::Light { gap: None });
    let Frame::Heights { at, .. } = &mut question.reading.frame else { panic!("heights") };
    at[3] = None;
    let trim = solve(&question, &Budget::usual()).expect("well formed");
    let missing = vec![Missing::Foot(1), Missing::Gap(2), Missing::Height(3)];
    assert_eq!(trim.outcome, Outcome::NotRead { missing });
    let misses = misses(&question, &trim);
    let known: Vec<bool> = misses.iter().map(Option::is_some).collect();
    assert_eq!(known, [true, false, false, false, true, true]);
    let found = findings(&question, &trim);
    let serves = found.now.iter().find(|f| f.code == "trim.serves").expect("it is there");
    assert_eq!(serves.standing, Standing::NotKnown);
    assert_eq!(
        serves.unknown,
        ["Whether front right is snug or light, the gap under middle left, the height at middle right."]
    );
}

/// A leg in its last hole on the highest stack, sunk by 100: nothing reaches, and it is said by how much.
///
/// Its top is at 545 and the others are at 645 and cannot go down: they stand in hole 1 on the one board there
/// is. Level and flat to 1 mm, it wants up by 98, and there is nothing.
#[test]
fn hand_nothing_serves_and_the_leg_is_named_with_what_it_is_short_of() {
    let mut question = six([6450, 6450, 6450, 6450, 6450, 5450], SNUG, ON_75);
    question.problem.boards = vec![BoardKind::plain("75", TenthMm(750), 6)];
    for stands in &mut question.stands {
        stands.setting = Setting::Hole(0);
    }
    for support in &mut question.problem.supports {
        support.leg = Leg::Holes { pin_first: TenthMm(7400), pin_pitch: TenthMm(400), pin_count: 1 };
    }
    question.problem.level_tol_x = TenthMmPerM(0);
    question.problem.level_tol_y = TenthMmPerM(0);
    question.problem.planarity_tol = TenthMm(10);
    let trim = solve(&question, &Budget::usual()).expect("well formed");
    // 1000 apart, 10 allowed at each end: 980 short.
    assert_eq!(trim.outcome, Outcome::Nothing { short: vec![(5, TenthMm(980))] });
    let found = findings(&question, &trim);
    let serves = found.now.iter().find(|f| f.code == "trim.serves").expect("it is there");
    assert_eq!(serves.standing, Standing::PastLimit);
    assert!(serves.notes[0].contains("98 mm short"), "{:?}", serves.notes);
}

/// A screw is set to the middle: four jacks at 645, the last at 631, go to a level frame.
#[test]
fn hand_a_screw_is_turned_to_the_middle() {
    let mut question = six([6450, 6450, 6450, 6450, 6450, 6310], SNUG, ON_75);
    for (support, stands) in question.problem.supports.iter_mut().zip(&mut question.stands) {
        support.leg = Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(6000) };
        stands.setting = Setting::Screw(TenthMm(1000));
    }
    let trim = solve(&question, &Budget::usual()).expect("well formed");
    let Outcome::Change { choice, changed, .. } = &trim.outcome else { panic!("{:?}", trim.outcome) };
    assert_eq!((changed.len(), changed[0].support, changed[0].handled), (1, 5, 0));
    assert!((choice.supports[5].seat.0 - 6450).abs() <= 1, "{:?}", choice.supports[5]);
    assert_eq!(choice.supports[5].setting, Setting::Screw(TenthMm(1000) + changed[0].up));
}

/// How long the worst of many takes; run by hand: `cargo test --release -p tober-calc --test packing measure -- --ignored --nocapture`.
#[test]
#[ignore = "a measurement, not a test"]
#[expect(clippy::print_stdout, reason = "a measurement prints what it measured")]
fn measure_random_frames_of_six_and_eight_legs() {
    for (n, seed) in [(6, 0x70BE_0021_u64), (8, 0x70BE_0022)] {
        let mut chance = Chance(seed);
        let (mut times, mut unproved, mut outcomes) = (Vec::new(), 0, [0; 4]);
        while times.len() < 300 {
            let mut problem = crate::enumeration::random_kit(&mut chance, n, 5);
            problem.max_boards_per_stack = 4;
            problem.max_stack = TenthMm(2000);
            problem.min_boards_per_stack = 1;
            let stands: Option<Vec<Stands>> = problem
                .supports
                .iter()
                .map(|support| {
                    let all = ways(&problem, support);
                    let way = all.get(chance.between(0, all.len() as i64 - 1) as usize)?;
                    let laid = way.kinds.iter().enumerate().flat_map(|(k, &n)| vec![k; n as usize]).collect();
                    Some(Stands { setting: Setting::Hole(way.hole as u32), laid })
                })
                .collect();
            let Some(stands) = stands else { continue };
            let rough = chance.pick(&[30, 100, 300, 600]);
            let at = (0..n).map(|_| Some(TenthMm(6000 + chance.between(-rough, rough)))).collect();
            let frame = Frame::Heights { at, off_by: Some(TenthMm(0)) };
            let reading = Reading { frame, feet: vec![Some(Foot::Snug); n] };
            let question = Question { problem, stands, reading };
            let begun = std::time::Instant::now();
            let trim = solve(&question, &Budget::usual()).expect("well formed");
            times.push((begun.elapsed(), trim.nodes));
            match &trim.outcome {
                Outcome::Inside { .. } => outcomes[0] += 1,
                Outcome::Change { proof, .. } => {
                    outcomes[1] += 1;
                    unproved += usize::from(*proof != Stage::Proved);
                }
                Outcome::Nothing { .. } => outcomes[2] += 1,
                _ => outcomes[3] += 1,
            }
        }
        times.sort();
        println!(
            "{n} legs: median {:?}, p90 {:?}, p99 {:?}, worst {:?}; {unproved} not proved; inside, change, nothing, other {outcomes:?}",
            times[150], times[270], times[297], times[299]
        );
    }
}

/// Wheels need the frame 800 over the survey's ground at the middle. Legs of 740 + 80 on a 75 stand 895 over it; the reading is
/// 645 over its own string, which is 250 lower. Sunk by 100 all alike shows in nothing. Sunk by 100 but for rear right, the
/// frame is carried by five legs at 545 and the sixth at 645: it is out, and the clearance counts from the one that has not sunk.
#[test]
fn hand_clearances_count_from_the_foot_that_sank_least() {
    use tober_calc::packing::Clearance;
    let with = |heights: [i64; 6], at_least: i64| {
        let mut question = six(heights, SNUG, ON_75);
        question.problem.clearances.push(Clearance {
            name: "wheels".to_owned(),
            x_mm: 4000,
            y_mm: 0,
            at_least: Some(TenthMm(at_least)),
            at_most: None,
        });
        solve(&question, &Budget::usual()).expect("well formed")
    };
    // 740 + 2 x 40 + 75 = 895.
    let level = with([6450; 6], 8950);
    assert!(matches!(level.outcome, Outcome::Inside { .. }) && !level.too_low);
    // 3 more than it stands, and the plane may be 3 over every leg; 0.1 more again is too low.
    assert!(matches!(with([6450; 6], 8980).outcome, Outcome::Inside { .. }));
    let low = with([6450; 6], 8981);
    assert!(low.too_low && matches!(low.outcome, Outcome::Change { .. }), "{:?}", low.outcome);
    // Five legs 5 lower than the sixth: in, but 5 lower than planned.
    let mut sunk = [6400; 6];
    sunk[5] = 6450;
    assert!(matches!(with(sunk, 8900).outcome, Outcome::Inside { .. }));
    assert!(with(sunk, 8950).too_low);
    // One leg 40 too high was set wrong, and measures no sinking: the others stand as planned.
    let mut wrong = [6450; 6];
    wrong[5] = 6850;
    let trim = with(wrong, 8950);
    let [changed] = trim.changed() else { panic!("one leg changes: {:?}", trim.outcome) };
    assert_eq!((changed.support, changed.up), (5, TenthMm(-400)));
}
