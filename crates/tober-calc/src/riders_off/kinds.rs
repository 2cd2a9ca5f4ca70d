//! Seats as kinds: what is alike counts together, and a stage is how many of each kind are off.

use super::{RidersError, SEATS_MOST, Stopped, WhyLeft};
use std::collections::{BTreeMap, BTreeSet};
use tober_quantity::{Angle, Quantity, maths};

/// How near two directions count as one, degrees: less than a book can write.
const ONE_DIRECTION_DEG: f64 = 1e-6;
/// In which steps moments and directions of two seats are compared to be of one kind: a thousandth of a newton metre.
const ALIKE: f64 = 1e3;

/// A moment as a plane vector, N m.
pub(super) type Vector = (f64, f64);

/// Riders alike: of one moment, reached at the same turns of the ride.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// Which seats and which of their riders, one entry for each removal, in the order of the question.
    pub seats: Vec<(usize, usize)>,
    /// The middle of the moment of one removal.
    pub middle: Vector,
    /// Half the band of the moment of one removal.
    pub half: Vector,
    /// The stops at which it is reached.
    pub stops: Vec<usize>,
}

/// The question as the search wants it.
#[derive(Clone, Debug)]
pub(super) struct Kinds {
    /// The kinds.
    pub kinds: Vec<Kind>,
    /// The number by which the count of a kind counts in a stage's number.
    pub radix: Vec<u64>,
    /// What stays aboard whatever is done: jammed, not reached, and the ride's own.
    base: Vector,
    /// Half the bands of what stays aboard.
    base_halves: Vec<Vector>,
    /// Which kinds have a band, in the order of the directions of their halves.
    around: Vec<(usize, Vector)>,
    /// The turns of the ride at which it may stand, degrees; the one at which it stands first.
    pub turned_deg: Vec<f64>,
    /// Who stays aboard.
    pub left: Vec<(usize, WhyLeft)>,
}

fn within(
    field: impl Fn() -> String,
    what: &'static str,
    given: f64,
    least: f64,
    greatest: f64,
) -> Result<(), RidersError> {
    // Written so that an undefined number, which compares as false, is refused.
    if given >= least && given <= greatest {
        return Ok(());
    }
    Err(RidersError::OutOfRange { field: field(), what, given, least, greatest })
}

fn checked(question: &Stopped) -> Result<(), RidersError> {
    let Stopped { seats, access, .. } = question;
    if seats.is_empty() || seats.len() > SEATS_MOST {
        return Err(RidersError::TooManySeats { given: seats.len() });
    }
    let mut names = BTreeSet::new();
    for (i, seat) in seats.iter().enumerate() {
        if !names.insert(&seat.name) {
            return Err(RidersError::NameTwice {
                field: format!("seats[{i}].name"),
                name: seat.name.clone(),
            });
        }
        within(
            || format!("seats[{i}].radius_m"),
            "distance of the riders from the axis in metres",
            seat.radius.as_m(),
            0.0,
            60.0,
        )?;
        within(
            || format!("seats[{i}].angle_deg"),
            "direction of the seat in degrees",
            seat.angle.as_deg(),
            -3600.0,
            3600.0,
        )?;
        within(
            || format!("seats[{i}].riders_kg"),
            "number of riders in the seat",
            seat.riders.len() as f64,
            0.0,
            16.0,
        )?;
        for (k, (least, greatest)) in seat.riders.iter().enumerate() {
            let field = || format!("seats[{i}].riders_kg[{k}]");
            within(field, "least mass of a rider in kilograms", least.as_kg(), 0.0, 1000.0)?;
            within(field, "greatest mass of a rider in kilograms", greatest.as_kg(), least.as_kg(), 1000.0)?;
        }
    }
    for (i, place) in access.iter().enumerate() {
        within(
            || format!("access[{i}].angle_deg"),
            "direction of the place in degrees",
            place.angle.as_deg(),
            -3600.0,
            3600.0,
        )?;
        within(
            || format!("access[{i}].within_deg"),
            "reach to either side in degrees",
            place.within.as_deg(),
            0.0,
            180.0,
        )?;
    }
    within(
        || "turned_deg".to_owned(),
        "angle by which the ride is turned in degrees",
        question.turned.as_deg(),
        -3600.0,
        3600.0,
    )?;
    within(|| "lean_deg".to_owned(), "lean of the axis in degrees", question.lean.as_deg(), -180.0, 180.0)?;
    within(|| "g_m_s2".to_owned(), "gravity in metres per second squared", question.gravity.si(), 1.0, 20.0)?;
    for (value, axis) in [(question.own_kg_m.0, 0), (question.own_kg_m.1, 1)] {
        within(
            || format!("own_kg_m[{axis}]"),
            "part of what is out of balance without riders in kilogram metres",
            value,
            -1e6,
            1e6,
        )?;
    }
    Ok(())
}

/// An angle from 0 to under 360 degrees.
pub(super) fn round_deg(deg: f64) -> f64 {
    let turn = deg % 360.0;
    let turn = if turn < 0.0 { turn + 360.0 } else { turn };
    if 360.0 - turn < ONE_DIRECTION_DEG { 0.0 } else { turn }
}

/// The least turn, either way, from one angle to another, degrees.
pub(super) fn apart_deg(a: f64, b: f64) -> f64 {
    let way = round_deg(a - b);
    way.min(360.0 - way)
}

/// At which places a seat is reached with the ride turned so far.
pub(super) fn reached_at(question: &Stopped, seat: usize, turned_deg: f64) -> Option<usize> {
    let angle = question.seats.get(seat)?.angle.as_deg() + turned_deg;
    let off = |at: &Angle| apart_deg(angle, at.as_deg());
    let near = question
        .access
        .iter()
        .enumerate()
        .filter(|(_, place)| off(&place.angle) <= place.within.as_deg() + ONE_DIRECTION_DEG);
    near.min_by(|(_, a), (_, b)| off(&a.angle).total_cmp(&off(&b.angle))).map(|(i, _)| i)
}

impl Kinds {
    /// Reads a question.
    pub fn new(question: &Stopped) -> Result<Self, RidersError> {
        checked(question)?;
        let here = round_deg(question.turned.as_deg());
        let mut turned_deg = vec![here];
        if question.turning {
            for place in &question.access {
                for seat in question.seats.iter().filter(|seat| !seat.riders.is_empty()) {
                    let stop = round_deg(place.angle.as_deg() - seat.angle.as_deg());
                    if turned_deg.iter().all(|&other| apart_deg(other, stop) > ONE_DIRECTION_DEG) {
                        turned_deg.push(stop);
                    }
                }
            }
        }
        let g = question.gravity.si();
        let (mut base, mut base_halves, mut left) =
            ((question.own_kg_m.0 * g, question.own_kg_m.1 * g), Vec::new(), Vec::new());
        let mut by_key: BTreeMap<(i64, i64, i64, i64, Vec<usize>), Kind> = BTreeMap::new();
        for (i, seat) in question.seats.iter().enumerate().filter(|(_, seat)| !seat.riders.is_empty()) {
            let stops: Vec<usize> = (0..turned_deg.len())
                .filter(|&stop| reached_at(question, i, turned_deg[stop]).is_some())
                .collect();
            let angle = seat.angle.as_rad();
            let (cos, sin) = (maths::cos(angle), maths::sin(angle));
            let arm = seat.radius.as_m() * g;
            let of = |kg: f64| (kg * arm * cos, kg * arm * sin);
            let mut parts: Vec<(f64, f64)> =
                seat.riders.iter().map(|(a, b)| (a.as_kg(), b.as_kg())).collect();
            if !question.one_by_one {
                parts = vec![parts.iter().fold((0.0, 0.0), |sum, part| (sum.0 + part.0, sum.1 + part.1))];
            }
            let why = match (seat.jammed, stops.is_empty()) {
                (true, _) => Some(WhyLeft::Jammed),
                (_, true) => Some(WhyLeft::NotReached),
                _ => None,
            };
            left.extend(why.map(|why| (i, why)));
            for (rider, (least, greatest)) in parts.into_iter().enumerate() {
                let (middle, half) = (of((least + greatest) / 2.0), of((greatest - least) / 2.0));
                if why.is_some() {
                    base = (base.0 + middle.0, base.1 + middle.1);
                    base_halves.push(half);
                    continue;
                }
                #[expect(
                    clippy::cast_possible_truncation,
                    reason = "moments of riders are far below the range"
                )]
                let whole = |x: f64| (x * ALIKE).round() as i64;
                let key = (whole(middle.0), whole(middle.1), whole(half.0), whole(half.1), stops.clone());
                let kind = by_key.entry(key).or_insert_with(|| Kind {
                    seats: Vec::new(),
                    middle,
                    half,
                    stops: stops.clone(),
                });
                kind.seats.push((i, rider));
            }
        }
        let mut kinds: Vec<Kind> = by_key.into_values().collect();
        // In the order of the question, so that ties are broken as the seats are named.
        kinds.sort_by_key(|kind| kind.seats.first().copied());
        let mut radix = Vec::with_capacity(kinds.len());
        let mut next = 1_u64;
        for kind in &kinds {
            radix.push(next);
            next = next
                .checked_mul(kind.seats.len() as u64 + 1)
                .ok_or(RidersError::TooManySeats { given: question.seats.len() })?;
        }
        let upward = |(x, y): Vector| if y < 0.0 || (y == 0.0 && x < 0.0) { (-x, -y) } else { (x, y) };
        let mut around: Vec<(usize, Vector)> = Vec::new();
        around.extend(kinds.iter().enumerate().map(|(k, kind)| (k, upward(kind.half))));
        around.extend(base_halves.iter().map(|&half| (usize::MAX, upward(half))));
        around.retain(|(_, (x, y))| maths::hypot(*x, *y) > 0.0);
        around.sort_by(|(_, a), (_, b)| maths::atan2(a.1, a.0).total_cmp(&maths::atan2(b.1, b.0)));
        Ok(Self { kinds, radix, base, base_halves, around, turned_deg, left })
    }

    /// The stage at which everybody who can be got off is off.
    pub fn all(&self) -> u64 {
        self.kinds.iter().zip(&self.radix).map(|(kind, radix)| kind.seats.len() as u64 * radix).sum()
    }

    /// How many of a kind are off.
    pub fn off(&self, stage: u64, kind: usize) -> usize {
        let count = self.kinds[kind].seats.len() as u64 + 1;
        usize::try_from(stage / self.radix[kind] % count).unwrap_or(0)
    }

    /// How many of a kind are aboard.
    pub fn aboard(&self, stage: u64, kind: usize) -> usize {
        self.kinds[kind].seats.len() - self.off(stage, kind)
    }

    /// The greatest that is out of balance at a stage, over every choice inside the bands, N m.
    pub fn moment_n_m(&self, stage: u64) -> f64 {
        let mut middle = self.base;
        for (k, kind) in self.kinds.iter().enumerate() {
            let aboard = self.aboard(stage, k) as f64;
            middle = (middle.0 + aboard * kind.middle.0, middle.1 + aboard * kind.middle.1);
        }
        let aboard = |k: usize| if k == usize::MAX { 1.0 } else { self.aboard(stage, k) as f64 };
        // From the corner with every half taken off, each in the order of its direction turns over to the other side: that
        // goes round half of the corners, and the other half lies opposite.
        let mut corner = (0.0, 0.0);
        for &(k, (x, y)) in &self.around {
            corner = (corner.0 - aboard(k) * x, corner.1 - aboard(k) * y);
        }
        let far = |c: Vector| {
            maths::hypot(middle.0 + c.0, middle.1 + c.1).max(maths::hypot(middle.0 - c.0, middle.1 - c.1))
        };
        let mut greatest = far(corner);
        for &(k, (x, y)) in &self.around {
            corner = (corner.0 + 2.0 * aboard(k) * x, corner.1 + 2.0 * aboard(k) * y);
            greatest = greatest.max(far(corner));
        }
        greatest
    }

    /// The greatest moment about an upright axis' level direction with the ride turned so far: what pulls the ride round, were the
    /// axis level. A wheel's angles are counted from its lowest point, so it pulls by the sine.
    pub fn felt_n_m(&self, stage: u64, turned: Angle) -> f64 {
        let (sin, cos) = (maths::sin(turned.as_rad()), maths::cos(turned.as_rad()));
        let pull = |(x, y): Vector| x * sin + y * cos;
        let mut sum = pull(self.base);
        let mut off: f64 = self.base_halves.iter().map(|&half| pull(half).abs()).sum();
        for (k, kind) in self.kinds.iter().enumerate() {
            let aboard = self.aboard(stage, k) as f64;
            sum += aboard * pull(kind.middle);
            off += aboard * pull(kind.half).abs();
        }
        sum.abs() + off
    }

    /// The same in whole newton metres, rounded up; a part in 10^9 of it is rounding of the sum and no moment.
    pub fn whole_n_m(&self, stage: u64) -> u64 {
        let moment = self.moment_n_m(stage);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a length, far below the range"
        )]
        let whole = (moment - 1e-6 - moment * 1e-9).ceil().max(0.0) as u64;
        whole
    }

    /// What the greatest moment is at least, in any order: at the start, at the end, at the first and the last step, and half of
    /// each rider's own.
    pub fn bound_n_m(&self) -> u64 {
        let (none, all) = (0, self.all());
        let mut bound = self.whole_n_m(none).max(self.whole_n_m(all));
        let next = |from: u64, on: bool| {
            let stages = self.radix.iter().map(|radix| if on { from + radix } else { from - radix });
            stages.map(|stage| self.whole_n_m(stage)).min()
        };
        bound = bound.max(next(none, true).unwrap_or(0)).max(next(all, false).unwrap_or(0));
        for kind in &self.kinds {
            let own = maths::hypot(kind.middle.0, kind.middle.1) + maths::hypot(kind.half.0, kind.half.1);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a length, far below the range"
            )]
            let half = (own / 2.0 - 1e-6 - own * 1e-9).ceil().max(0.0) as u64;
            bound = bound.max(half);
        }
        bound
    }
}
