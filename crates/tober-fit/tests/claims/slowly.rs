//! The same questions answered slowly: from the definitions, in fractions, by trying everything.

use tober_fit::packing::{Claim, FootBoard, Layering, Leg, Question, Setting};

/// Numbers that are the same on every machine and in every run (a linear congruential generator, Knuth's MMIX constants).
pub struct Chance(pub u64);

impl Chance {
    /// A number from `least` to `most`, both included.
    pub fn pick(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let span = u64::try_from(most - least + 1).expect("most is not below least");
        least + i64::try_from((self.0 >> 33) % span).expect("a small number")
    }
    pub fn index(&mut self, length: usize) -> usize {
        usize::try_from(self.pick(0, i64::try_from(length).expect("short") - 1)).expect("not negative")
    }
}

/// A fraction in lowest terms, its denominator above zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fraction(i128, i128);

impl Fraction {
    pub fn of(numerator: i128, denominator: i128) -> Self {
        let (mut a, mut b) = (numerator.abs(), denominator.abs());
        while b != 0 {
            (a, b) = (b, a % b);
        }
        let common = a.max(1) * denominator.signum();
        Self(numerator / common, denominator / common)
    }
    fn plus(self, o: Self) -> Self {
        Self::of(self.0 * o.1 + o.0 * self.1, self.1 * o.1)
    }
    fn times(self, o: Self) -> Self {
        Self::of(self.0 * o.0, self.1 * o.1)
    }
    /// Whether it lies within so many whole units of zero.
    fn within(self, most: i64) -> bool {
        self.0.abs() <= i128::from(most) * self.1
    }
}

/// Whether a claim without layers, for legs with holes, is sound by the definitions.
pub fn is_sound(question: &Question, claim: &Claim) -> bool {
    assert!(question.layering == Layering::NotAsked && question.foot_board == FootBoard::NotAsked);
    let plane = claim.plane;
    if plane.denominator < 1 {
        return false;
    }
    let over = |n: i64| Fraction::of(n.into(), plane.denominator.into());
    let (mut lifts, mut boards) = (Vec::new(), 0);
    let mut used = vec![0; question.boards.len()];
    for (support, placing) in question.supports.iter().zip(&claim.placings) {
        let (Leg::Holes { first, pitch, count }, Setting::Hole(hole)) = (support.leg, placing.setting) else {
            panic!("only legs with holes");
        };
        let mut stack: Vec<i64> = Vec::new();
        for (k, &n) in placing.boards.iter().enumerate() {
            if n < 0 {
                return false;
            }
            used[k] += n;
            // Board by board, where the checker multiplies.
            stack.extend((0..n).map(|_| question.boards[k].thickness.0));
        }
        let height: i64 = stack.iter().sum();
        let in_stack = i64::try_from(stack.len()).expect("a short stack");
        let top = support.ground.0 + height + first.0 + hole * pitch.0;
        let metres = |tenths: i64| Fraction::of(tenths.into(), 10_000);
        let frame = over(plane.height)
            .plus(over(plane.along).times(metres(support.x.0)))
            .plus(over(plane.across).times(metres(support.y.0)));
        let off = Fraction::of(top.into(), 1).plus(frame.times(Fraction::of(-1, 1)));
        lifts.push(top - support.ground.0 - first.0);
        boards += in_stack;
        if !(0..count).contains(&hole)
            || height > question.stack.height_most.0
            || in_stack < question.stack.boards_least
            || in_stack > question.stack.boards_most
            || lifts.last().is_some_and(|lift| *lift < question.lift_least.0)
            || !off.within(question.planarity.0)
        {
            return false;
        }
    }
    used.iter().zip(&question.boards).all(|(used, board)| *used <= board.count)
        && over(plane.along).within(question.level.along_per_m.0)
        && over(plane.across).within(question.level.across_per_m.0)
        && lifts.iter().max() == Some(&claim.lift_greatest.0)
        && boards == claim.boards_total
}

/// Whether some plane inside the tolerances meets these heights: some corner of the region of planes is in all of it.
///
/// The region is bounded, since the slopes are and the height over one support is; so it is empty or has a corner,
/// where three of its bounds meet.
pub fn a_plane_meets(question: &Question, heights: &[i64]) -> bool {
    // Each bound is `p c + q a + r b <= s`, in tenths of a millimetre times 10,000.
    let mut bounds: Vec<[i128; 4]> = Vec::new();
    for (support, z) in question.supports.iter().zip(heights) {
        let (x, y) = (i128::from(support.x.0), i128::from(support.y.0));
        let (z, off) = (i128::from(*z), i128::from(question.planarity.0));
        bounds.push([10_000, x, y, 10_000 * (z + off)]);
        bounds.push([-10_000, -x, -y, -10_000 * (z - off)]);
    }
    for sign in [1, -1] {
        bounds.push([0, sign, 0, question.level.along_per_m.0.into()]);
        bounds.push([0, 0, sign, question.level.across_per_m.0.into()]);
    }
    let determinant = |m: [[i128; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    for (i, a) in bounds.iter().enumerate() {
        for (j, b) in bounds.iter().enumerate().skip(i + 1) {
            for c in bounds.iter().skip(j + 1) {
                let rows = [a, b, c];
                let whole = determinant(rows.map(|r| [r[0], r[1], r[2]]));
                if whole == 0 {
                    continue;
                }
                let sign = whole.signum();
                let corner = [
                    sign * determinant(rows.map(|r| [r[3], r[1], r[2]])),
                    sign * determinant(rows.map(|r| [r[0], r[3], r[2]])),
                    sign * determinant(rows.map(|r| [r[0], r[1], r[3]])),
                ];
                let inside = |r: &[i128; 4]| {
                    r[0] * corner[0] + r[1] * corner[1] + r[2] * corner[2] <= r[3] * whole.abs()
                };
                if bounds.iter().all(inside) {
                    return true;
                }
            }
        }
    }
    false
}
