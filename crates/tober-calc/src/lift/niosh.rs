//! The revised NIOSH lifting equation: what one person may lift, and how far a task is past it.
//!
//! `RWL = LC HM VM DM AM FM CM`, evaluated where the lift begins and, where the load is put down with care, where it ends.
//!
//! | factor | is | nothing (no lift) where |
//! | --- | --- | --- |
//! | `LC` | 23 kg, or 51 lb | |
//! | `HM` | `H0 / H`; `H` hands from the ankles, level, at least `H0` | `H` over 63 cm, 25 in |
//! | `VM` | `1 - 0.225 abs(V - V0) / V0`; `V` height of the hands | `V` over 175 cm, 70 in |
//! | `DM` | `0.82 + 0.18 D0 / D`; `D` how far up or down, at least `D0` | `D` over 175 cm, 70 in |
//! | `AM` | `1 - 0.432 A / 135 deg`; `A` twist | `A` over 135 deg |
//! | `FM` | by table: lifts a minute, how long, height | beyond the table |
//! | `CM` | by table: how the hands hold it, height | |
//!
//! `H0 = D0 =` 25 cm or 10 in, `V0 =` 75 cm or 30 in. `0.225 / V0` is the manual's 0.003 each cm, and 0.0075 each in, and so on.
//! The two systems are not exact conversions of each other, so a task is worked in one of them.
//!
//! Source: NIOSH 94-110, Applications Manual for the Revised NIOSH Lifting Equation, 1994, revised 9/2021: p. 7 (equation), pp. 8
//! to 15 (bounds), Table 5 p. 15 (`FM`), Table 7 p. 18 (`CM`), pp. 13 to 14 (how long; the rest wanted after an hour's work is
//! 1.0 of it, where the edition of 1994 had 1.2). Between rows of Table 5 the next one down is taken, on the safe side.
//!
//! # Validity
//! [`OUTSIDE`] lists where the equation does not apply (manual, p. 6). Most lifts of a build-up are outdoors, and so outside.

use super::LiftError;
use super::error::within;
use crate::working::{Provenance, Term, Working, greatest, number};
use tober_quantity::{Angle, Length, Mass, Quantity, Ratio, Shown, Time};

/// Where the equation does not apply: NIOSH 94-110, p. 6.
pub const OUTSIDE: &[&str] = &[
    "one hand",
    "over 8 hours",
    "seated or kneeling",
    "little room",
    "unstable load",
    "carrying, pushing or pulling",
    "wheelbarrow or shovel",
    "fast",
    "slippery",
    "hot, cold, damp or dry",
];

/// The system of measures in which the equation is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measures {
    /// Centimetres and kilogrammes.
    Metric,
    /// Inches and pounds.
    Us,
}

/// How the hands hold the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grip {
    /// Handles or a shape that a hand goes round.
    Good,
    /// Handles that are not good, or fingers bent under it.
    Fair,
    /// Neither.
    Poor,
}

/// For how long lifting goes on, with the rest that follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lasting {
    /// An hour at most, then rest for at least as long.
    Short,
    /// Two hours at most, then rest for at least three tenths of it.
    Moderate,
    /// Eight hours at most.
    Long,
}

impl Lasting {
    /// The class of work that goes on for a time and is followed by a rest. Rest that is not told counts as none. `None`
    /// over eight hours.
    pub fn of(during: Time, rest: Option<Time>) -> Option<Self> {
        let rested = |share: f64| rest.is_some_and(|rest| rest >= during * share);
        match during.as_h() {
            hours if hours <= 1.0 && rested(1.0) => Some(Self::Short),
            hours if hours <= 2.0 && rested(0.3) => Some(Self::Moderate),
            hours if hours <= 8.0 => Some(Self::Long),
            _ => None,
        }
    }
}

/// Where the hands are at one end of a lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hands {
    /// From the middle between the ankles, level.
    pub reach: Length,
    /// Above the ground.
    pub height: Length,
    /// How far the body twists.
    pub twist: Angle,
}

/// A lift by one person's two hands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Task {
    /// Where it begins.
    pub first: Hands,
    /// Where it ends, if the load is put down with care there.
    pub last: Option<Hands>,
    /// How far up or down.
    pub travel: Length,
    /// How many in a minute.
    pub each_minute: f64,
    /// For how long.
    pub lasting: Lasting,
    /// How it is held.
    pub grip: Grip,
    /// In which measures.
    pub measures: Measures,
}

/// The factors at one end, and the mass recommended as the most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recommended {
    /// For the reach.
    pub hm: f64,
    /// For the height.
    pub vm: f64,
    /// For the travel.
    pub dm: f64,
    /// For the twist.
    pub am: f64,
    /// For how often and how long.
    pub fm: f64,
    /// For the grip.
    pub cm: f64,
    /// The most that one person should lift.
    pub mass: Mass,
}

/// Table 5: lifts a minute; a share for an hour, two, eight, with the hands below `V0`; the same from `V0` up.
const FREQUENCY: [(f64, [f64; 3], [f64; 3]); 18] = [
    (0.2, [1.00, 0.95, 0.85], [1.00, 0.95, 0.85]),
    (0.5, [0.97, 0.92, 0.81], [0.97, 0.92, 0.81]),
    (1.0, [0.94, 0.88, 0.75], [0.94, 0.88, 0.75]),
    (2.0, [0.91, 0.84, 0.65], [0.91, 0.84, 0.65]),
    (3.0, [0.88, 0.79, 0.55], [0.88, 0.79, 0.55]),
    (4.0, [0.84, 0.72, 0.45], [0.84, 0.72, 0.45]),
    (5.0, [0.80, 0.60, 0.35], [0.80, 0.60, 0.35]),
    (6.0, [0.75, 0.50, 0.27], [0.75, 0.50, 0.27]),
    (7.0, [0.70, 0.42, 0.22], [0.70, 0.42, 0.22]),
    (8.0, [0.60, 0.35, 0.18], [0.60, 0.35, 0.18]),
    (9.0, [0.52, 0.30, 0.00], [0.52, 0.30, 0.15]),
    (10.0, [0.45, 0.26, 0.00], [0.45, 0.26, 0.13]),
    (11.0, [0.41, 0.00, 0.00], [0.41, 0.23, 0.00]),
    (12.0, [0.37, 0.00, 0.00], [0.37, 0.21, 0.00]),
    (13.0, [0.00, 0.00, 0.00], [0.34, 0.00, 0.00]),
    (14.0, [0.00, 0.00, 0.00], [0.31, 0.00, 0.00]),
    (15.0, [0.00, 0.00, 0.00], [0.28, 0.00, 0.00]),
    (f64::INFINITY, [0.0; 3], [0.0; 3]),
];

/// What a length or angle may be over a bound and still count as on it: binary noise of a conversion.
const NOISE: f64 = 1e-9;

impl Measures {
    /// `LC`.
    pub fn load(self) -> Mass {
        match self {
            Self::Metric => Mass::kg(23.0),
            Self::Us => Mass::lb(51.0),
        }
    }
    fn length(self, cm: f64, inches: f64) -> Length {
        match self {
            Self::Metric => Length::mm(cm * 10.0),
            Self::Us => Length::inches(inches),
        }
    }
    /// `H0` and `D0`.
    fn near(self) -> Length {
        self.length(25.0, 10.0)
    }
    /// `V0`.
    fn knuckle(self) -> Length {
        self.length(75.0, 30.0)
    }
    /// The most that `H` may be.
    fn reach_most(self) -> Length {
        self.length(63.0, 25.0)
    }
    /// The most that `V` and `D` may be.
    fn height_most(self) -> Length {
        self.length(175.0, 70.0)
    }
}

impl Task {
    fn check(&self) -> Result<(), LiftError> {
        for (hands, fields) in [
            (Some(self.first), ["reach_m", "height_m", "twist_deg"]),
            (self.last, ["reach_last_m", "height_last_m", "twist_last_deg"]),
        ] {
            let Some(hands) = hands else { continue };
            within(
                fields[0],
                "distance of the hands from the ankles in metres",
                hands.reach.as_m(),
                0.0,
                3.0,
            )?;
            within(fields[1], "height of the hands in metres", hands.height.as_m(), 0.0, 5.0)?;
            within(fields[2], "twist of the body in degrees", hands.twist.as_deg(), 0.0, 180.0)?;
        }
        within("travel_m", "way up or down in metres", self.travel.as_m(), 0.0, 5.0)?;
        within("lifts_per_minute", "number of lifts in a minute", self.each_minute, 0.0, 60.0)
    }

    /// Table 5, by the height at which the lift begins.
    fn frequency(&self) -> f64 {
        let row = FREQUENCY.iter().find(|row| self.each_minute <= row.0 + NOISE);
        let column = self.lasting as usize;
        row.map_or(0.0, |row| if self.low(self.first) { row.1[column] } else { row.2[column] })
    }

    fn low(&self, hands: Hands) -> bool {
        hands.height.as_m() < self.measures.knuckle().as_m() - NOISE
    }

    /// Table 7.
    fn coupling(&self, hands: Hands) -> f64 {
        match self.grip {
            Grip::Fair if self.low(hands) => 0.95,
            Grip::Good | Grip::Fair => 1.0,
            Grip::Poor => 0.9,
        }
    }

    /// The ends at which it is evaluated, first and last.
    pub fn ends(&self) -> Vec<(&'static str, Hands)> {
        let last = self.last.map(|hands| ("where it ends", hands));
        [Some(("where it begins", self.first)), last].into_iter().flatten().collect()
    }

    /// What puts the lift beyond every mass at one end, in words.
    pub fn beyond(&self, hands: Hands) -> Option<&'static str> {
        let over = |length: Length, most: Length| length.as_m() > most.as_m() + NOISE;
        if over(hands.reach, self.measures.reach_most()) {
            return Some("the hands are more than 63 cm (25 in) out");
        }
        if over(hands.height, self.measures.height_most()) {
            return Some("the hands are higher than 175 cm (70 in)");
        }
        if over(self.travel, self.measures.height_most()) {
            return Some("it goes up or down by more than 175 cm (70 in)");
        }
        if hands.twist.as_deg() > 135.0 + NOISE {
            return Some("the body twists by more than 135 degrees");
        }
        (self.frequency() <= 0.0).then_some("it is done more often than the table of frequencies goes")
    }

    /// The equation at one end, as lines, and the mass it recommends as the most.
    pub(super) fn lines(&self, hands: Hands, w: &mut Working) -> (Recommended, Term) {
        let told = || Provenance::Maker;
        let table = |what: &str| Provenance::tabulated(&format!("NIOSH 94-110 (1994, rev. 2021), {what}"));
        let from = self.measures;
        let fine = |length: Length| length.amount().shown(Shown::Fine);
        let lc = w.given("LC", "load constant", from.load(), table("p. 7"));
        let h0 = w.given("H0", "least reach, and least way, counted", fine(from.near()), table("p. 7"));
        let v0 = w.given("V0", "height of the knuckles", fine(from.knuckle()), table("p. 7"));
        let reach = w.given("H", "hands from the ankles", fine(hands.reach), told());
        let height = w.given("V", "height of the hands", fine(hands.height), told());
        let way = w.given("D", "way up or down", fine(self.travel), told());
        let twist = w.given("A", "twist of the body", hands.twist, told());
        let most = w.given("A0", "twist at which nothing is lifted", Angle::deg(135.0), table("p. 7"));
        let fm = self.frequency();
        let fm_term = w.given("FM", "for how often and how long", Ratio::one(fm), table("Table 5"));
        let cm = self.coupling(hands);
        let cm_term = w.given("CM", "for the grip", Ratio::one(cm), table("Table 7"));
        let hm = h0.clone() / greatest(vec![reach, h0.clone()]);
        let hm = w.line("HM", "for the reach", hm, Shown::Ratio);
        let vm = number(1.0) - number(0.225) * (height - v0.clone()).abs() / v0;
        let vm = w.line("VM", "for the height", vm, Shown::Ratio);
        let dm = number(0.82) + number(0.18) * h0.clone() / greatest(vec![way, h0]);
        let dm = w.line("DM", "for the way", dm, Shown::Ratio);
        let am = w.line("AM", "for the twist", number(1.0) - number(0.432) * twist / most, Shown::Ratio);
        let values = [hm.value(), vm.value(), dm.value(), am.value()];
        let product = lc * hm * vm * dm * am * fm_term * cm_term;
        let one = w.line("RWL", "the most that one person should lift", product, Shown::Mass);
        let [hm, vm, dm, am] = values;
        (Recommended { hm, vm, dm, am, fm, cm, mass: Mass::kg(one.value()) }, one)
    }
}

/// The equation at each end of a lift: what one person should lift at the most. A factor is nothing beyond its bound.
///
/// # Errors
/// Refuses a reach outside 0 to 3 m, heights and way outside 0 to 5 m, a twist outside 0 to 180 degrees, and more than sixty
/// lifts a minute.
pub fn recommended(task: &Task) -> Result<Vec<Recommended>, LiftError> {
    task.check()?;
    let one = |(_, hands): (&str, Hands)| {
        let (mut found, _) = task.lines(hands, &mut Working::new());
        let over = |length: Length, most: Length| length.as_m() > most.as_m() + NOISE;
        let (reach_most, height_most) = (task.measures.reach_most(), task.measures.height_most());
        for (gone, factor) in [
            (over(hands.reach, reach_most), &mut found.hm),
            (over(hands.height, height_most), &mut found.vm),
            (over(task.travel, height_most), &mut found.dm),
            (hands.twist.as_deg() > 135.0 + NOISE, &mut found.am),
        ] {
            if gone {
                *factor = 0.0;
                found.mass = Mass::ZERO;
            }
        }
        found
    };
    Ok(task.ends().into_iter().map(one).collect())
}
