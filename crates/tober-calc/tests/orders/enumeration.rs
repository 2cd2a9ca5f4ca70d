//! Random small procedures against every stage there is. Nothing here uses a cut.

use tober_calc::orders::{Extreme, Precedence, StepSet, Tally, greatest, least};

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

    /// True this often in a hundred.
    pub fn in_hundred(&mut self, share: i64) -> bool {
        self.between(1, 100) <= share
    }

    /// Rules among so many steps, whose numbers are shuffled so that a rule may point either way.
    pub fn rules(&mut self, steps: usize, share: i64) -> Vec<Vec<usize>> {
        let mut names: Vec<usize> = (0..steps).collect();
        for i in (1..steps).rev() {
            names.swap(i, self.between(0, i as i64) as usize);
        }
        let mut after = vec![Vec::new(); steps];
        for later in 0..steps {
            for first in 0..later {
                if self.in_hundred(share) {
                    after[names[later]].push(names[first]);
                }
            }
        }
        after
    }

    /// Weights from −30 to 30, with peaks on so many steps in a hundred.
    pub fn tally(&mut self, steps: usize, peaks: i64) -> Tally {
        let change = (0..steps).map(|_| self.between(-30, 30)).collect();
        let peak = (0..steps).map(|_| self.in_hundred(peaks).then(|| self.between(-60, 60)));
        let peak: Vec<Option<i64>> = peak.collect();
        Tally { start: self.between(-50, 50), change, peak: if peaks == 0 { Vec::new() } else { peak } }
    }

    /// A few steps out of so many.
    pub fn some(&mut self, steps: usize, share: i64) -> Vec<usize> {
        (0..steps).filter(|_| self.in_hundred(share)).collect()
    }
}

/// Every (done, under way) that the rules admit, as bits; only steps with a peak may be under way.
pub fn stages(after: &[Vec<usize>], tally: &Tally) -> Vec<(u32, u32)> {
    let needs: Vec<u32> =
        after.iter().map(|firsts| firsts.iter().fold(0, |set, first| set | 1 << first)).collect();
    let mut all = Vec::new();
    for done in 0..1_u32 << after.len() {
        if (0..after.len()).any(|s| done >> s & 1 == 1 && needs[s] & !done != 0) {
            continue;
        }
        let may_begin = (0..after.len()).filter(|&s| {
            done >> s & 1 == 0 && needs[s] & !done == 0 && tally.peak.get(s).copied().flatten().is_some()
        });
        let may_begin = may_begin.fold(0_u32, |set, s| set | 1 << s);
        // Every subset of those that may begin.
        let mut begun = may_begin;
        loop {
            all.push((done, begun));
            if begun == 0 {
                break;
            }
            begun = (begun - 1) & may_begin;
        }
    }
    all
}

/// The value of a stage.
pub fn value(tally: &Tally, (done, begun): (u32, u32)) -> i64 {
    let mut value = tally.start;
    for (s, change) in tally.change.iter().enumerate() {
        if done >> s & 1 == 1 {
            value += change;
        }
        if begun >> s & 1 == 1 {
            value += tally.peak[s].expect("only steps with a peak are under way");
        }
    }
    value
}

fn bits(set: &StepSet) -> u32 {
    set.iter().fold(0, |bits, step| bits | 1 << step)
}

fn compare(after: &[Vec<usize>], tally: &Tally, done: &[usize], open: &[usize]) {
    let n = after.len();
    let precedence = Precedence::new(after).expect("no circle");
    let (must, never) = (StepSet::from(n, done.iter().copied()), StepSet::from(n, open.iter().copied()));
    let (must_bits, never_bits) = (bits(&must), bits(&never));
    let admitted: Vec<(u32, u32)> = stages(after, tally)
        .into_iter()
        .filter(|(done, begun)| must_bits & !done == 0 && never_bits & (done | begun) == 0)
        .collect();
    let check = |found: Option<Extreme>, better: fn(i64, i64) -> bool| {
        let Some(found) = found else {
            assert!(admitted.is_empty(), "a stage was there: {:?}", admitted.first());
            return;
        };
        let stage = (bits(&found.stage), bits(&found.under_way));
        assert!(admitted.contains(&stage), "{stage:?} is no stage");
        assert!(precedence.is_stage(&found.stage));
        assert_eq!(value(tally, stage), found.value, "the value of the stage named");
        for &other in &admitted {
            assert!(!better(value(tally, other), found.value), "{other:?} beats {stage:?}");
            // The least source side lies inside every other stage that meets the value.
            if value(tally, other) == found.value {
                assert_eq!(stage.0 & !other.0, 0, "{other:?} is shorter than {stage:?}");
            }
        }
    };
    check(greatest(&precedence, tally, &must, &never), |a, b| a > b);
    check(least(&precedence, tally, &must, &never), |a, b| a < b);
}

#[test]
fn law_extremes_of_random_procedures_are_those_of_every_stage_enumerated() {
    let mut chance = Chance(0x0BDE_0501);
    for round in 0..500 {
        let steps = chance.between(1, 14) as usize;
        let share = [3, 10, 20, 40][round % 4];
        let after = chance.rules(steps, share);
        let tally = chance.tally(steps, 0);
        compare(&after, &tally, &[], &[]);
    }
}

#[test]
fn law_extremes_with_peaks_are_those_of_every_stage_with_every_choice_of_steps_under_way() {
    let mut chance = Chance(0x0BDE_0502);
    for round in 0..500 {
        let steps = chance.between(1, 9) as usize;
        let share = [3, 10, 20, 40][round % 4];
        let after = chance.rules(steps, share);
        let tally = chance.tally(steps, [30, 70, 100][round % 3]);
        compare(&after, &tally, &[], &[]);
    }
}

#[test]
fn law_extremes_with_steps_held_done_or_open_are_those_enumerated() {
    let mut chance = Chance(0x0BDE_0503);
    let mut refused = 0;
    for round in 0..500 {
        let steps = chance.between(1, 9) as usize;
        let after = chance.rules(steps, [3, 10, 20][round % 3]);
        let tally = chance.tally(steps, [0, 50][round % 2]);
        let (done, open) = (chance.some(steps, 15), chance.some(steps, 15));
        compare(&after, &tally, &done, &open);
        let p = Precedence::new(&after).expect("no circle");
        let set = |of: &[usize]| StepSet::from(steps, of.iter().copied());
        refused += usize::from(greatest(&p, &tally, &set(&done), &set(&open)).is_none());
    }
    assert!(refused > 20 && refused < 400, "both kinds of question were asked: {refused} had no stage");
}
