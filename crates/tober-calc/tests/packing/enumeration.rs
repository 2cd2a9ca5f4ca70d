//! Small random problems against every choice there is.

use crate::check::faults;
use tober_calc::packing::{Answer, BoardKind, Budget, Leg, Problem, StackRules, Support, TenthMmPerM, solve};
use tober_quantity::TenthMm;

/// A small generator of numbers that look random and are the same on every machine (xorshift64*).
pub struct Chance(pub u64);

impl Chance {
    /// A whole number from `least` to `most`, both included.
    pub fn between(&mut self, least: i64, most: i64) -> i64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        least + (bits as i64) % (most - least + 1)
    }

    /// One of them.
    pub fn pick(&mut self, from: &[i64]) -> i64 {
        from[self.between(0, from.len() as i64 - 1) as usize]
    }
}

/// A frame of `n` legs over rough ground, with few boards.
pub fn random(chance: &mut Chance, n: usize, kinds: usize, stock_most: i64) -> Problem {
    let leg = Leg::Holes {
        pin_first: TenthMm(2500),
        pin_pitch: TenthMm(chance.pick(&[250, 380, 500])),
        pin_count: chance.between(2, 4) as u32,
    };
    let fall = (chance.between(-12, 12), chance.between(-12, 12));
    let supports = (0..n).map(|i| {
        let x = (i as i64 / 2) * 4000 + chance.between(-300, 300);
        let y = (i as i64 % 2) * 2400 + chance.between(-100, 100);
        let ground = (fall.0 * x + fall.1 * y) / 1000 * 4 + chance.between(-250, 250);
        Support::plain(format!("S{i}"), x, y, TenthMm(ground), leg)
    });
    let supports = supports.collect();
    let boards = (0..kinds).map(|k| {
        let thickness = chance.between(30, 900);
        BoardKind::plain(format!("K{k}"), TenthMm(thickness), chance.between(1, stock_most) as u32)
    });
    Problem {
        supports,
        boards: boards.collect(),
        max_stack: TenthMm(chance.pick(&[1200, 2000, 3000])),
        min_boards_per_stack: chance.between(0, 1) as u32,
        max_boards_per_stack: chance.between(2, 4) as u32,
        min_lift: TenthMm(chance.pick(&[0, 0, 300, 600])),
        level_tol_x: TenthMmPerM(chance.pick(&[0, 10, 20, 50])),
        level_tol_y: TenthMmPerM(chance.pick(&[0, 10, 20, 50])),
        planarity_tol: TenthMm(chance.pick(&[0, 10, 20, 50, 150])),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    }
}

/// A frame of `n` legs with an ordinary kit and ordinary tolerances: what a crew meets, and harder for a search.
pub fn random_kit(chance: &mut Chance, n: usize, kinds: usize) -> Problem {
    let mut problem = random(chance, n, kinds, 12);
    problem.max_stack = TenthMm(3000);
    problem.max_boards_per_stack = chance.between(4, 8) as u32;
    problem.level_tol_x = TenthMmPerM(chance.pick(&[10, 20, 50]));
    problem.level_tol_y = TenthMmPerM(chance.pick(&[10, 20, 50]));
    problem.planarity_tol = TenthMm(chance.pick(&[10, 15, 20, 30, 50]));
    problem
}

/// One hole with one stack.
pub struct Way {
    pub seat: i64,
    pub lift: i64,
    pub boards: i64,
    pub hole: i64,
    pub kinds: Vec<i64>,
}

/// Every hole and stack of a support.
pub fn ways(problem: &Problem, support: &Support) -> Vec<Way> {
    let Leg::Holes { pin_first, pin_pitch, pin_count } = support.leg else { panic!("holes only here") };
    let mut stacks = vec![vec![]];
    for board in &problem.boards {
        let longer = |stack: &Vec<i64>| {
            (0..=i64::from(board.count)).map(|n| [stack.clone(), vec![n]].concat()).collect::<Vec<_>>()
        };
        stacks = stacks.iter().flat_map(longer).collect();
    }
    let mut ways = Vec::new();
    for kinds in stacks {
        let boards: i64 = kinds.iter().sum();
        let height: i64 = kinds.iter().zip(&problem.boards).map(|(n, b)| n * b.thickness.0).sum();
        let most = i64::from(problem.max_boards_per_stack);
        if height > problem.max_stack.0 || !(i64::from(problem.min_boards_per_stack)..=most).contains(&boards)
        {
            continue;
        }
        for hole in 0..i64::from(pin_count) {
            let lift = height + hole * pin_pitch.0;
            if lift >= problem.min_lift.0 {
                let seat = support.ground.0 + pin_first.0 + lift;
                ways.push(Way { seat, lift, boards, hole, kinds: kinds.clone() });
            }
        }
    }
    ways
}

/// Whether a plane serves, by trying every corner that three bounds make (Cramer's rule), in whole numbers.
///
/// The planes that serve are bounded (the slopes are, and so is the height), so if there is one there is a
/// corner: three bounds met exactly whose normals are independent.
pub fn plane_serves(problem: &Problem, seats: &[i64]) -> bool {
    // Each bound: c + a x + b y (in 0.0001 mm, a and b in 0.1 mm a metre) at most a number.
    let mut bounds: Vec<[i128; 4]> = Vec::new();
    for (support, &seat) in problem.supports.iter().zip(seats) {
        let (x, y) = (i128::from(support.x_mm), i128::from(support.y_mm));
        let high = 1000 * i128::from(seat + problem.planarity_tol.0);
        let low = 1000 * i128::from(seat - problem.planarity_tol.0);
        bounds.push([1, x, y, high]);
        bounds.push([-1, -x, -y, -low]);
    }
    for (axis, tolerance) in [(1, problem.level_tol_x.0), (2, problem.level_tol_y.0)] {
        for sign in [1, -1] {
            let mut bound = [0, 0, 0, i128::from(tolerance)];
            bound[axis] = sign;
            bounds.push(bound);
        }
    }
    let n = bounds.len();
    (0..n).any(|i| (0..i).any(|j| (0..j).any(|k| corner_serves(&bounds, [i, j, k]))))
}

fn corner_serves(bounds: &[[i128; 4]], three: [usize; 3]) -> bool {
    let rows = three.map(|place| bounds[place]);
    let minor = |columns: [usize; 3]| {
        let [p, q, r] = rows.map(|row| columns.map(|column| row[column]));
        p[0] * (q[1] * r[2] - q[2] * r[1]) - p[1] * (q[0] * r[2] - q[2] * r[0])
            + p[2] * (q[0] * r[1] - q[1] * r[0])
    };
    let over = minor([0, 1, 2]);
    if over == 0 {
        return false;
    }
    let at = [minor([3, 1, 2]), minor([0, 3, 2]), minor([0, 1, 3])];
    bounds.iter().all(|bound| {
        let value = bound[0] * at[0] + bound[1] * at[1] + bound[2] * at[2];
        if over > 0 { value <= bound[3] * over } else { value >= bound[3] * over }
    })
}

/// Least greatest lift and fewest boards with it, over every choice.
fn best(problem: &Problem) -> Option<(i64, i64)> {
    let all: Vec<Vec<Way>> = problem.supports.iter().map(|support| ways(problem, support)).collect();
    let mut best = None;
    let stock: Vec<i64> = problem.boards.iter().map(|board| i64::from(board.count)).collect();
    descend(problem, &all, &mut Vec::new(), (i64::MIN, 0), &stock, &mut best);
    best
}

fn descend(
    problem: &Problem,
    all: &[Vec<Way>],
    seats: &mut Vec<i64>,
    so_far: (i64, i64),
    stock: &[i64],
    best: &mut Option<(i64, i64)>,
) {
    // Both totals only grow, so a branch that is no better already is left.
    if best.is_some_and(|best| so_far >= best) {
        return;
    }
    let Some(here) = all.get(seats.len()) else {
        if plane_serves(problem, seats) {
            *best = Some(so_far);
        }
        return;
    };
    for way in here {
        let left: Vec<i64> = stock.iter().zip(&way.kinds).map(|(have, use_)| have - use_).collect();
        if left.iter().all(|&n| n >= 0) && could_share(problem, seats, way.seat) {
            seats.push(way.seat);
            descend(problem, all, seats, (so_far.0.max(way.lift), so_far.1 + way.boards), &left, best);
            seats.pop();
        }
    }
}

/// Two seats whose difference no slope within the tolerances can make are left at once.
pub fn could_share(problem: &Problem, seats: &[i64], seat: i64) -> bool {
    let here = &problem.supports[seats.len()];
    problem.supports.iter().zip(seats).all(|(other, &height)| {
        let rise = problem.level_tol_x.0 * (here.x_mm - other.x_mm).abs()
            + problem.level_tol_y.0 * (here.y_mm - other.y_mm).abs();
        1000 * ((seat - height).abs() - 2 * problem.planarity_tol.0) <= rise
    })
}

#[test]
fn law_the_answer_is_the_best_of_every_choice() {
    let mut chance = Chance(0x70BE_0001);
    let mut infeasible = 0;
    for round in 0..300 {
        let n = chance.between(2, 4) as usize;
        let kinds = chance.between(1, 3) as usize;
        let problem = random(&mut chance, n, kinds, 4);
        let expected = best(&problem);
        match (solve(&problem, &Budget::usual()).expect("well formed"), expected) {
            (Answer::Optimal(choice), Some(best)) => {
                assert_eq!((choice.max_lift.0, i64::from(choice.boards)), best, "round {round}: {problem:?}");
                let faults = faults(&problem, &choice);
                assert!(faults.is_empty(), "round {round}: {faults:?}");
            }
            (Answer::Infeasible(_), None) => infeasible += 1,
            (answer, best) => panic!("round {round}: {answer:?} against {best:?} for {problem:?}"),
        }
    }
    assert!((30..=250).contains(&infeasible), "both kinds of answer are met: {infeasible} infeasible");
}
