//! Is what people may lift what it is said to be? The NIOSH equation once more, in centimetres and from a table of its own.

use super::{Refusal, same};
use tober_quantity::Mass;

/// A lift by hand, in centimetres, degrees, lifts a minute; worked at both ends, of which the lower counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hand {
    /// The hands from the ankles.
    pub reach_cm: f64,
    /// The height of the hands where it begins, and where it ends.
    pub heights_cm: (f64, f64),
    /// How far the body twists.
    pub twist_deg: f64,
    /// How many a minute.
    pub each_minute: f64,
    /// Minutes of lifting, and of lighter work after it.
    pub minutes: (f64, f64),
    /// 0 good, 1 fair, 2 poor.
    pub grip: u8,
}

/// What is claimed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The most that one person may take by the equation; nothing where it is beyond it.
    pub one: Mass,
    /// How many lift.
    pub people: u32,
    /// What they may take together.
    pub together: Mass,
}

/// Hundredths by lifts a minute, 0.2, 0.5, 1, 2 ... 15, for an hour, two, eight: hands low, then from 75 cm up where that differs.
/// NIOSH 94-110, Table 5 (1994, revised 2021).
const LOW: [[u8; 17]; 3] = [
    [100, 97, 94, 91, 88, 84, 80, 75, 70, 60, 52, 45, 41, 37, 0, 0, 0],
    [95, 92, 88, 84, 79, 72, 60, 50, 42, 35, 30, 26, 0, 0, 0, 0, 0],
    [85, 81, 75, 65, 55, 45, 35, 27, 22, 18, 0, 0, 0, 0, 0, 0, 0],
];
const HIGH_TAIL: [[u8; 7]; 3] =
    [[52, 45, 41, 37, 34, 31, 28], [30, 26, 23, 21, 0, 0, 0], [15, 13, 0, 0, 0, 0, 0]];

fn frequency(hand: &Hand) -> Option<f64> {
    let (during, rest) = hand.minutes;
    let class = if during <= 60.0 && rest >= during {
        0
    } else if during <= 120.0 && rest >= 0.3 * during {
        1
    } else if during <= 480.0 {
        2
    } else {
        return None;
    };
    let rows = [0.2, 0.5].into_iter().chain((1..=15).map(f64::from));
    let row = rows.into_iter().position(|row| hand.each_minute <= row + 1e-9);
    let hundredths = row.map_or(0, |row| match row.checked_sub(10) {
        Some(tail) if hand.heights_cm.0 > 75.0 - 1e-7 => HIGH_TAIL[class][tail],
        _ => LOW[class][row],
    });
    Some(f64::from(hundredths) / 100.0)
}

fn at(hand: &Hand, height: f64, fm: f64) -> f64 {
    let way = (hand.heights_cm.0 - hand.heights_cm.1).abs();
    let beyond = hand.reach_cm > 63.0 + 1e-7
        || height > 175.0 + 1e-7
        || way > 175.0 + 1e-7
        || hand.twist_deg > 135.0 + 1e-9;
    if beyond {
        return 0.0;
    }
    let grip = match hand.grip {
        2 => 0.9,
        1 if height < 75.0 - 1e-7 => 0.95,
        _ => 1.0,
    };
    let reach = 25.0 / hand.reach_cm.max(25.0);
    let lift = 1.0 - 0.003 * (height - 75.0).abs();
    let way = 0.82 + 4.5 / way.max(25.0);
    23.0 * reach * lift * way * (1.0 - 0.0032 * hand.twist_deg) * fm * grip
}

/// Checks a claim on a lift by hand.
///
/// # Errors
/// Why it is refused.
pub fn by_hand(hand: &Hand, claim: &Held) -> Result<(), Refusal> {
    let fm = frequency(hand).ok_or(Refusal::NoQuestion("time of lifting"))?;
    let one = at(hand, hand.heights_cm.0, fm).min(at(hand, hand.heights_cm.1, fm));
    same("mass for one person in kilogrammes", one, claim.one.as_kg())?;
    together(claim)
}

/// Checks what a team may take, from what one may.
///
/// # Errors
/// Why it is refused.
pub fn together(claim: &Held) -> Result<(), Refusal> {
    // HSE L23: two take four thirds of what one does, three three halves; a fourth adds nothing.
    let sixths = match claim.people {
        1 => 6.0,
        2 => 8.0,
        3 | 4 => 9.0,
        _ => return Err(Refusal::NoQuestion("number of people")),
    };
    same("mass for all together in kilogrammes", claim.one.as_kg() * sixths / 6.0, claim.together.as_kg())
}
