//! A proof that changing a few legs of a lowered frame does not bring it in.
//!
//! A lowered frame stands with a *top* at every support: the height at which it would lie on that leg. A leg that does not
//! change keeps its top; one that does may come to any height that a hole or screw and a stack give, or keep its own. As in
//! the module above, the heights are divided into cases; a case is closed by a fact between whole numbers. With `p` the height of the
//! plane at the first support, `a` and `b` its slopes in tenths a metre and `z_i` the tops, the rows are, in this order:
//!
//! - for each support, `10000 p + a x_i + b y_i - 10000 z_i >= -10000 planarity`, then the other way about, places counted in tenths
//!   of a millimetre from the first support;
//! - for each point that must be clear, `10000 p + a x + b y >= 10000 least`, then that it is at most so high, where asked;
//! - where the frame was read with a level, that its slope of least squares `w.z / over` is at most what is allowed, then at
//!   least its negative, along and then across, with `w` and `over` without a common factor.
//!
//! *Beyond*: multipliers `m_r >= 0`. For any plane and tops that keep every row, `sum m_r row_r` is at least `sum m_r least_r`; and it is at
//! most what the two ends of each unknown allow. If that is below, there are none: the lemma of Farkas with ends, which needs
//! no multipliers that cancel, so that they may be rounded.
//!
//! # Range of validity
//! As above. The tolerances of the question are those that are left once what the reading may be off by is taken off.
//!
//! # Not covered
//! That what stands is not in as it was read, before anything changes; fewest boards handled and least far among changes of as
//! many legs; a set that only the stock of boards or the order of layers rules out has no proof here.

use super::super::plane::TENTHS_PER_M;
use super::options::{Options, Span};
use super::{Flaw, Question, door, split};
use tober_quantity::TenthMm;

/// A lowered frame.
#[derive(Clone, Copy, Debug)]
pub struct Lowered<'a> {
    /// What can stand, on the ground as it bears, and the tolerances.
    pub question: &'a Question,
    /// The top of each support now.
    pub tops: &'a [TenthMm],
    /// Whether it was read with a level, so that what a level will show must be inside too.
    pub by_level: bool,
    /// What must be clear of the ground.
    pub clear: &'a [Clear],
}

/// A point at which the height of the plane is bounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clear {
    /// Its place along and across the frame.
    pub at: (TenthMm, TenthMm),
    /// The least height.
    pub least: Option<TenthMm>,
    /// The greatest.
    pub most: Option<TenthMm>,
}

/// One step of a proof.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// First the case that this top is at `height` or below, then the case that it is higher.
    Split {
        /// Which support.
        support: usize,
        /// The greatest height of the first case.
        height: TenthMm,
    },
    /// Nothing reaches the case's heights at this support.
    Bare {
        /// Which support.
        support: usize,
    },
    /// No plane and tops of the case keep every row.
    Beyond {
        /// One for each row.
        multipliers: Vec<i128>,
    },
}

/// The proof for one set of legs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set {
    /// Those that may change, lowest first.
    pub changing: Vec<usize>,
    /// The steps.
    pub steps: Vec<Step>,
}

struct Row {
    columns: Vec<i128>,
    least: i128,
}

/// Checks that no change of so many legs or fewer brings the frame in: every set of that many must be there, each with its proof.
/// Returns in how many cases.
///
/// # Errors
/// The first flaw, with the step it is in.
pub fn check(lowered: &Lowered<'_>, legs: usize, sets: &[Set]) -> Result<usize, Flaw> {
    let question = lowered.question;
    let refusals = door::question(question);
    if !refusals.is_empty() {
        return Err(Flaw::Question { refusals });
    }
    let supports = question.supports.len();
    let far = |top: &&TenthMm| top.0.abs() > TenthMm::GREATEST;
    if lowered.tops.len() != supports || lowered.tops.iter().find(far).is_some() || supports > 24 {
        return Err(Flaw::NoSuchSupport { step: 0, support: lowered.tops.len() });
    }
    // Each in its turn: as many legs as asked, in the order of numbers whose bits they are.
    let mut wanted = (0_u32..1 << supports).filter(|set| set.count_ones() as usize == legs);
    let bits = |set: &Set| {
        set.changing.iter().fold(0, |bits: u32, &leg| bits | 1_u32.checked_shl(leg as u32).unwrap_or(0))
    };
    let mut given = sets.iter().map(bits);
    if let Some(missing) = wanted.by_ref().find(|&set| given.next() != Some(set)) {
        let legs = (0..supports).filter(|leg| missing >> leg & 1 == 1);
        return Err(Flaw::SetLeftOut { legs: legs.collect() });
    }
    let rows = rows(lowered)?;
    let mut options = Options::of(question)?;
    let mut cases = 0;
    for set in sets {
        cases += one(lowered, &rows, &mut options, set)?;
    }
    Ok(cases)
}

/// Whether a level will show these tops inside the tolerances: the plane of least squares through them.
pub fn reads_level(question: &Question, tops: &[TenthMm]) -> bool {
    let lowered = Lowered { question, tops, by_level: true, clear: &[] };
    let Ok(rows) = rows(&lowered) else { return false };
    let kept = |row: &Row| {
        let of = row.columns[3..].iter().zip(tops);
        of.map(|(column, top)| column * i128::from(top.0)).sum::<i128>() >= row.least
    };
    tops.len() == question.supports.len() && rows[2 * tops.len()..].iter().all(kept)
}

fn rows(lowered: &Lowered<'_>) -> Result<Vec<Row>, Flaw> {
    let question = lowered.question;
    let supports = &question.supports;
    let origin = &supports[0];
    let mut rows = Vec::new();
    let mut plane = |at: (TenthMm, TenthMm), top: Option<usize>, sign: i128, least: i64| {
        let mut columns = vec![0; 3 + supports.len()];
        columns[0] = sign * TENTHS_PER_M;
        columns[1] = sign * i128::from(at.0.0 - origin.x.0);
        columns[2] = sign * i128::from(at.1.0 - origin.y.0);
        if let Some(top) = top {
            columns[3 + top] = -sign * TENTHS_PER_M;
        }
        rows.push(Row { columns, least: TENTHS_PER_M * i128::from(least) });
    };
    for (place, support) in supports.iter().enumerate() {
        plane((support.x, support.y), Some(place), 1, -question.planarity.0);
        plane((support.x, support.y), Some(place), -1, -question.planarity.0);
    }
    for clear in lowered.clear {
        if let Some(least) = clear.least {
            plane(clear.at, None, 1, least.0);
        }
        if let Some(most) = clear.most {
            plane(clear.at, None, -1, -most.0);
        }
    }
    if lowered.by_level {
        level(question, &mut rows);
    }
    Ok(rows)
}

/// The rows of the slopes of least squares. With `n` supports, `X_i = n x_i - sum x` and likewise `Y`, the slope along is
/// `n (sum X z sum YY - sum Y z sum XY) / (sum XX sum YY - sum XY sum XY)`.
fn level(question: &Question, rows: &mut Vec<Row>) {
    let n = question.supports.len() as i128;
    let places: Vec<[i128; 2]> = question.supports.iter().map(|s| [s.x.0.into(), s.y.0.into()]).collect();
    let sum = |axis: usize| places.iter().map(|place| place[axis]).sum::<i128>();
    let middle = [sum(0), sum(1)];
    let about: Vec<[i128; 2]> = places.iter().map(|p| [n * p[0] - middle[0], n * p[1] - middle[1]]).collect();
    let product = |i: usize, j: usize| about.iter().map(|p| p[i] * p[j]).sum::<i128>();
    let over = product(0, 0) * product(1, 1) - product(0, 1) * product(0, 1);
    if over <= 0 {
        return;
    }
    for (axis, most) in [question.level.along_per_m, question.level.across_per_m].into_iter().enumerate() {
        let other = 1 - axis;
        let weight =
            |p: &[i128; 2]| TENTHS_PER_M * n * (p[axis] * product(other, other) - p[other] * product(0, 1));
        let weights: Vec<i128> = about.iter().map(weight).collect();
        let common = weights.iter().fold(over, |common, &weight| common_factor(common, weight.abs()));
        for sign in [-1, 1] {
            let tops = weights.iter().map(|weight| sign * weight / common);
            let columns = [0; 3].into_iter().chain(tops).collect();
            rows.push(Row { columns, least: -i128::from(most.0) * (over / common) });
        }
    }
}

fn common_factor(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { common_factor(b, a % b) }
}

fn one(lowered: &Lowered<'_>, rows: &[Row], options: &mut Options, set: &Set) -> Result<usize, Flaw> {
    let mut whole = options.whole(lowered.question, None);
    for (place, (span, top)) in whole.iter_mut().zip(lowered.tops).enumerate() {
        *span = if set.changing.contains(&place) {
            Span { low: span.low.min(top.0), high: span.high.max(top.0) }
        } else {
            Span { low: top.0, high: top.0 }
        };
    }
    let mut open = vec![whole];
    let mut cases = 0;
    for (at, step) in set.steps.iter().enumerate() {
        let case = open.pop().ok_or(Flaw::StepsLeftOver { step: at })?;
        match step {
            Step::Split { support, height } => {
                let (low, high) = split(at, case, *support, *height)?;
                open.push(high);
                open.push(low);
                continue;
            }
            Step::Bare { support } => {
                let span = *case.get(*support).ok_or(Flaw::NoSuchSupport { step: at, support: *support })?;
                if let Some(reached) = reached(lowered, options, *support, span)? {
                    return Err(Flaw::NotBare { step: at, support: *support, height: TenthMm(reached.low) });
                }
            }
            Step::Beyond { multipliers } => beyond(lowered, rows, options, at, multipliers, &case)?,
        }
        cases += 1;
    }
    if open.is_empty() { Ok(cases) } else { Err(Flaw::CasesLeftOpen { open: open.len() }) }
}

/// The ends of what a top can come to in the span: its own height, or what hole, screw and stack give.
fn reached(
    lowered: &Lowered<'_>,
    options: &mut Options,
    support: usize,
    span: Span,
) -> Result<Option<Span>, Flaw> {
    let top = lowered.tops[support].0;
    let stays = (span.low <= top && top <= span.high).then_some(Span { low: top, high: top });
    // A span of the one height is that of a leg that stays, which needs no hole.
    if stays == Some(span) {
        return Ok(stays);
    }
    let changed = options.reached(support, span)?;
    Ok(match (stays, changed) {
        (Some(a), Some(b)) => Some(Span { low: a.low.min(b.low), high: a.high.max(b.high) }),
        (one, other) => one.or(other),
    })
}

fn beyond(
    lowered: &Lowered<'_>,
    rows: &[Row],
    options: &mut Options,
    at: usize,
    multipliers: &[i128],
    case: &[Span],
) -> Result<(), Flaw> {
    if multipliers.len() != rows.len() {
        return Err(Flaw::MultipliersMissing { step: at, expected: rows.len(), found: multipliers.len() });
    }
    if let Some(row) = multipliers.iter().position(|&multiplier| multiplier < 0) {
        return Err(Flaw::MultiplierNegative { step: at, row });
    }
    let mut ends = Vec::new();
    for (support, span) in case.iter().enumerate() {
        // Where nothing reaches a top there is nothing left to exclude.
        let Some(reached) = reached(lowered, options, support, *span)? else { return Ok(()) };
        ends.push((reached.low, reached.high));
    }
    let level = lowered.question.level;
    let (along, across, slack) = (level.along_per_m.0, level.across_per_m.0, lowered.question.planarity.0);
    let plane = [(ends[0].0 - slack, ends[0].1 + slack), (-along, along), (-across, across)];
    let sum = |of: &dyn Fn(&Row) -> i128| {
        let mut sum: i128 = 0;
        for (multiplier, row) in multipliers.iter().zip(rows) {
            sum = sum.checked_add(multiplier.checked_mul(of(row))?)?;
        }
        Some(sum)
    };
    let most = |column: usize, (low, high): (i64, i64)| {
        let of = sum(&|row| row.columns[column])?;
        Some(of.checked_mul(low.into())?.max(of.checked_mul(high.into())?))
    };
    let all = plane.into_iter().chain(ends).enumerate();
    let most =
        all.map(|(column, ends)| most(column, ends)).try_fold(0_i128, |sum, one| sum.checked_add(one?));
    let (Some(most), Some(least)) = (most, sum(&|row| row.least)) else {
        return Err(Flaw::MultiplierTooLarge { step: at });
    };
    if most < least { Ok(()) } else { Err(Flaw::RowsServe { step: at, least, most }) }
}
