//! Guys: ropes from the ride down to anchors in the ground. A guy only pulls.

use super::error::{StabilityError, within};
use super::ride::check_place;
use super::situation::StabilityInput;
use tober_quantity::{Force, Length, Quantity, maths};

/// A rope from a place on what does not turn, down to an anchor in the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Guy {
    /// Its name.
    pub name: String,
    /// Where it is made fast to the ride: along, across, up.
    pub from: (Length, Length, Length),
    /// Where its anchor is: along, across, up.
    pub anchor: (Length, Length, Length),
    /// How tight it is drawn beforehand; none where nobody says.
    pub pretension: Option<Force>,
    /// What rope and fittings may carry: breaking strength over its factor; none where nobody says.
    pub strength: Option<Force>,
    /// What its anchor may be pulled with, along the guy: what it was tested with over its factor; none where nobody
    /// tested it.
    pub anchor_strength: Option<Force>,
}

/// A guy in coherent SI units: where it is made fast, which way it pulls, how long and how strong it is.
#[derive(Clone, Copy)]
pub(super) struct Rope {
    pub from: (f64, f64, f64),
    pub towards: (f64, f64, f64),
    length_m: f64,
    pretension_n: f64,
    pub strength_n: f64,
}

impl Guy {
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        let name = &self.name;
        check_place(name, self.from.0, self.from.1, Some(self.from.2))?;
        check_place(name, self.anchor.0, self.anchor.1, Some(self.anchor.2))?;
        let above = self.from.2 - self.anchor.2;
        within("height above its anchor", name, above, Length::mm(10.0), Length::m(200.0))?;
        let most = Force::kn(10_000.0);
        for strength in [self.strength, self.anchor_strength].into_iter().flatten() {
            within("strength", name, strength, Force::ZERO, most)?;
        }
        let strength = self.strength.into_iter().chain(self.anchor_strength).fold(most, Force::min);
        within("pretension", name, self.pretension.unwrap_or(Force::ZERO), Force::ZERO, strength)
    }
    /// What is not known of it, as whole sentences.
    pub(super) fn missing(&self) -> impl Iterator<Item = String> + '_ {
        let wants = [
            (self.strength.is_none(), "what the rope may carry"),
            (self.anchor_strength.is_none(), "what the anchor holds, which a pull test tells"),
            (self.pretension.is_none(), "how tight it is drawn"),
        ];
        let said = move |what| format!("Not known of {}: {what}.", self.name);
        wants.into_iter().filter(|(missing, _)| *missing).map(move |(_, what)| said(what))
    }
    fn rope(&self) -> Rope {
        let of = |(x, y, z): (Length, Length, Length)| (x.si(), y.si(), z.si());
        let (from, to) = (of(self.from), of(self.anchor));
        let (x, y, z) = (to.0 - from.0, to.1 - from.1, to.2 - from.2);
        let length_m = maths::hypot(maths::hypot(x, y), z);
        let or_none = |force: Option<Force>| force.map_or(0.0, Quantity::si);
        Rope {
            from,
            towards: (x / length_m, y / length_m, z / length_m),
            length_m,
            pretension_n: or_none(self.pretension),
            strength_n: or_none(self.strength).min(or_none(self.anchor_strength)),
        }
    }
}

impl StabilityInput {
    /// The guys that act in the situation.
    pub(super) fn ropes(&self) -> Vec<Rope> {
        if !self.situation.guyed() {
            return Vec::new();
        }
        self.guys.iter().map(Guy::rope).collect()
    }
    pub(super) fn guys_missing(&self) -> Vec<String> {
        let guys = self.guys.iter().filter(|_| self.situation.guyed());
        guys.flat_map(Guy::missing).collect()
    }
}

/// How far guys stretch, while the ride moves as one piece, until the first of them carries all it may.
///
/// A guy that a movement stretches by `share` for each unit of it carries T = max(0, T₀ + λ share / L): all guys are
/// ropes of one kind, so that they stretch alike for their length. λ is the greatest at which none carries more than
/// its strength; without a guy that stretches it has no end, and all are slack.
fn tensions(ropes: &[Rope], shares: &[f64], tight: bool) -> Vec<f64> {
    let pretension = |rope: &Rope| if tight { rope.pretension_n } else { 0.0 };
    let until = |(rope, share): (&Rope, &f64)| {
        (*share > 0.0).then(|| (rope.strength_n - pretension(rope)).max(0.0) * rope.length_m / share)
    };
    let Some(far) = ropes.iter().zip(shares).filter_map(until).reduce(f64::min) else {
        return vec![0.0; ropes.len()];
    };
    let pull = |(rope, share): (&Rope, &f64)| (pretension(rope) + far * share / rope.length_m).max(0.0);
    ropes.iter().zip(shares).map(pull).collect()
}

fn helped(tensions: &[f64], shares: &[f64]) -> f64 {
    tensions.iter().zip(shares).map(|(tension, share)| tension * share).sum()
}

/// The pull of each guy against a movement, whether what it was drawn to is still there or has gone: whichever helps less.
pub(super) fn pulls(ropes: &[Rope], shares: &[f64]) -> Vec<f64> {
    let (tight, slack) = (tensions(ropes, shares, true), tensions(ropes, shares, false));
    if helped(&slack, shares) < helped(&tight, shares) { slack } else { tight }
}

/// What guys add against lifting straight up, in N.
pub(super) fn against_lifting_n(ropes: &[Rope]) -> f64 {
    let shares: Vec<f64> = ropes.iter().map(|rope| -rope.towards.2).collect();
    helped(&pulls(ropes, &shares), &shares)
}

/// How many directions a full turn is cut into.
const SECTORS: u32 = 1440;

/// What guys add against sliding, in N, in the direction in which they help least; what they press down is not counted.
///
/// A lower bound: over each sector the share of a guy is bounded by its middle ± half the sector, the stretch by the
/// greatest shares and each pull by its least. It is below the least there is by under 1 % for guys all round.
pub(super) fn against_sliding_n(ropes: &[Rope]) -> f64 {
    if ropes.is_empty() {
        return 0.0;
    }
    let half = core::f64::consts::PI / f64::from(SECTORS);
    let sector = |index: u32| {
        let middle = f64::from(2 * index + 1) * half;
        let (x, y) = (maths::cos(middle), maths::sin(middle));
        let shares: Vec<(f64, f64)> = ropes
            .iter()
            .map(|rope| {
                let (share, off) = (
                    -(rope.towards.0 * x + rope.towards.1 * y),
                    half * maths::hypot(rope.towards.0, rope.towards.1),
                );
                (share - off, share + off)
            })
            .collect();
        [true, false].into_iter().map(|tight| least_in(ropes, &shares, tight)).fold(f64::INFINITY, f64::min)
    };
    (0..SECTORS).map(sector).fold(f64::INFINITY, f64::min)
}

fn least_in(ropes: &[Rope], shares: &[(f64, f64)], tight: bool) -> f64 {
    let pretension = |rope: &Rope| if tight { rope.pretension_n } else { 0.0 };
    let until = |(rope, (_, most)): (&Rope, &(f64, f64))| {
        (*most > 0.0).then(|| (rope.strength_n - pretension(rope)).max(0.0) * rope.length_m / most)
    };
    let Some(far) = ropes.iter().zip(shares).filter_map(until).reduce(f64::min) else { return 0.0 };
    let least = |(rope, &(low, high)): (&Rope, &(f64, f64))| {
        let (drawn, stretch) = (pretension(rope), far / rope.length_m);
        let at = |share: f64| share * (drawn + stretch * share).max(0.0);
        // On the slack side the product has its least half-way to slack.
        let dip = if stretch > 0.0 { -drawn / (2.0 * stretch) } else { low };
        at(low).min(at(high)).min(at(dip.clamp(low, high)))
    };
    ropes.iter().zip(shares).map(least).sum()
}
