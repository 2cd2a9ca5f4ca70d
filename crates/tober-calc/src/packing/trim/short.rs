//! Which support stands in the way where no change serves, and by how much.

use super::search::{Engine, Limits, Verdict};
use tober_quantity::TenthMm;

/// More than any top is off: 2 m.
const FAR_OFF: i64 = 20_000;

/// The supports that stand in the way alone, each with what its nearest setting is short of, least first.
///
/// A support stands in the way when all others can be brought in without it. What it is short of is found by
/// halving, since a wider allowance at one support never rules out what a narrower one admits.
pub(super) fn short(engine: &mut Engine<'_>, work: u64) -> Vec<(usize, TenthMm)> {
    let legs = engine.tops.len();
    let all = Limits { legs, handled: u32::MAX, far: i64::MAX };
    let mut found = Vec::new();
    engine.all_may_stay = true;
    for place in 0..legs {
        engine.work = 0;
        engine.work_most = work;
        engine.extra[place] = FAR_OFF;
        if let Verdict::Found(_) = engine.ask(&all) {
            // Invariant: not enough at `low`, enough at `high`.
            let (mut low, mut high) = (0, FAR_OFF);
            while high - low > 1 {
                engine.work = 0;
                engine.extra[place] = low + (high - low) / 2;
                match engine.ask(&all) {
                    Verdict::Found(_) => high = engine.extra[place],
                    Verdict::None | Verdict::OutOfWork => low = engine.extra[place],
                }
            }
            found.push((place, TenthMm(high)));
        }
        engine.extra[place] = 0;
    }
    found.sort_by_key(|&(place, short)| (short, place));
    found
}
