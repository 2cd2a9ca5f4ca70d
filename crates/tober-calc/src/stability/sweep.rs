//! The greatest value of a sum of parts while a turntable turns, by one sweep over its angle.
//!
//! Each part is a wave x(a) = p + q cos a + r sin a that counts with one weight while it is positive and
//! with another while it is negative. (A rider who may be absent counts with 1 and 0; a mass in a band with
//! its greatest and its least.) The weights change only where x crosses its own zero line, at two angles
//! a part: p + A cos(a − f) = 0, a = f ± acos(−p / A). Between two neighbouring crossings the sum is a single
//! wave, so its greatest value there is at an end or at that wave's own crest. Sorting the crossings
//! makes the whole O(n log n), and the answer is exact, where sampled angles would miss the crest.

use core::f64::consts::TAU;
use tober_quantity::maths;

/// p + q cos a + r sin a.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Wave {
    pub constant: f64,
    pub cosine: f64,
    pub sine: f64,
}

impl Wave {
    pub fn still(constant: f64) -> Self {
        Self { constant, cosine: 0.0, sine: 0.0 }
    }
    pub fn at(self, angle: f64) -> f64 {
        self.constant + self.cosine * maths::cos(angle) + self.sine * maths::sin(angle)
    }
    pub fn plus(self, other: Self, times: f64) -> Self {
        Self {
            constant: self.constant + times * other.constant,
            cosine: self.cosine + times * other.cosine,
            sine: self.sine + times * other.sine,
        }
    }
    pub fn times(self, factor: f64) -> Self {
        Self::default().plus(self, factor)
    }
    fn amplitude(self) -> f64 {
        maths::hypot(self.cosine, self.sine)
    }
    /// The angle at which the wave is greatest, from 0 to a full turn.
    fn crest(self) -> f64 {
        full_turn(maths::atan2(self.sine, self.cosine))
    }
}

/// A wave and the weight with which it counts on either side of zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Part {
    pub wave: Wave,
    pub when_positive: f64,
    pub when_negative: f64,
}

impl Part {
    /// A part that counts in full whatever its sign.
    pub fn always(wave: Wave) -> Self {
        Self { wave, when_positive: 1.0, when_negative: 1.0 }
    }
    /// What the part adds at an angle.
    pub fn at(&self, angle: f64) -> f64 {
        let value = self.wave.at(angle);
        value * if value > 0.0 { self.when_positive } else { self.when_negative }
    }
}

/// The angles at which the turntable may stand, in radians.
#[derive(Clone, Copy, Debug)]
pub(super) enum Angles<'a> {
    Any,
    Stated(&'a [f64]),
}

/// A greatest value and the angle at which it occurs, from 0 to a full turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Peak {
    pub value: f64,
    pub angle: f64,
}

/// Running sums are worked out afresh after so many crossings, so that rounding does not add up.
const AFRESH_AFTER: usize = 32;

/// The sum of all parts at one angle.
pub(super) fn sum_at(parts: &[Part], angle: f64) -> f64 {
    parts.iter().map(|part| part.at(angle)).sum()
}

/// The greatest sum of all parts over the angles. `Angles::Stated` holds at least one.
pub(super) fn greatest(parts: &[Part], angles: Angles<'_>) -> Peak {
    let found;
    let candidates = match angles {
        Angles::Stated(stated) => stated,
        Angles::Any => {
            found = [best_angle(parts)];
            &found
        }
    };
    // Whatever the sweep's running sums say, the value reported is summed afresh at its angle.
    let mut best = Peak { value: f64::NEG_INFINITY, angle: 0.0 };
    for &angle in candidates {
        let value = sum_at(parts, angle);
        if value > best.value {
            best = Peak { value, angle };
        }
    }
    best
}

struct Crossing {
    angle: f64,
    part: usize,
    rising: bool,
}

/// The best angle of the sweep, as far as the running sums can tell.
///
/// Which parts count as positive is kept in a list that only crossings change. It is never read off the
/// signs again: on a regular ring many crossings fall on one angle, where a sign is a matter of rounding.
fn best_angle(parts: &[Part]) -> f64 {
    let crossings = crossings(parts);
    let mut positive = positive_before(parts, &crossings);
    let mut sum = sum_of_waves(parts, &positive);
    let Some(first) = crossings.first() else { return sum.crest() };
    let mut best = Peak { value: f64::NEG_INFINITY, angle: 0.0 };
    let mut consider = |value: f64, angle: f64| {
        if value > best.value {
            best = Peak { value, angle };
        }
    };
    for (index, crossing) in crossings.iter().enumerate() {
        let next = crossings.get(index + 1).map_or(first.angle + TAU, |next| next.angle);
        positive[crossing.part] = crossing.rising;
        if index % AFRESH_AFTER == AFRESH_AFTER - 1 {
            sum = sum_of_waves(parts, &positive);
        } else {
            let part = &parts[crossing.part];
            let change = part.when_positive - part.when_negative;
            sum = sum.plus(part.wave, if crossing.rising { change } else { -change });
        }
        consider(sum.at(crossing.angle), crossing.angle);
        let crest = sum.crest();
        let crest = if crest < crossing.angle { crest + TAU } else { crest };
        if crest <= next {
            consider(sum.constant + sum.amplitude(), full_turn(crest));
        }
    }
    best.angle
}

/// Which parts are positive just before the first crossing: those whose own first crossing falls, and those
/// that never cross and are positive throughout.
fn positive_before(parts: &[Part], crossings: &[Crossing]) -> Vec<bool> {
    let mut positive: Vec<bool> = parts.iter().map(|part| part.wave.constant > 0.0).collect();
    for crossing in crossings.iter().rev() {
        positive[crossing.part] = !crossing.rising;
    }
    positive
}

/// Where parts change their weight, in order of angle. Parts that never cross zero are not among them.
fn crossings(parts: &[Part]) -> Vec<Crossing> {
    let mut crossings = Vec::with_capacity(2 * parts.len());
    for (part, Part { wave, when_positive, when_negative }) in parts.iter().enumerate() {
        let amplitude = wave.amplitude();
        let same_weight = when_positive.to_bits() == when_negative.to_bits();
        if same_weight || wave.constant.abs() >= amplitude {
            continue;
        }
        let half_arc = maths::acos(-wave.constant / amplitude);
        let crest = maths::atan2(wave.sine, wave.cosine);
        crossings.push(Crossing { angle: full_turn(crest - half_arc), part, rising: true });
        crossings.push(Crossing { angle: full_turn(crest + half_arc), part, rising: false });
    }
    crossings.sort_by(|a, b| a.angle.total_cmp(&b.angle).then(a.part.cmp(&b.part)));
    crossings
}

/// The wave that the sum is while these parts are positive.
fn sum_of_waves(parts: &[Part], positive: &[bool]) -> Wave {
    parts.iter().zip(positive).fold(Wave::default(), |sum, (part, positive)| {
        sum.plus(part.wave, if *positive { part.when_positive } else { part.when_negative })
    })
}

/// The same angle from 0 to a full turn.
pub(super) fn full_turn(angle: f64) -> f64 {
    let turned = angle - (angle / TAU).floor() * TAU;
    // A tiny negative angle rounds up to the full turn itself.
    if turned >= TAU { 0.0 } else { turned }
}
