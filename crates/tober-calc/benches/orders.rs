//! How long the worst of every order takes: 12 quantities, greatest and least, on invented procedures; a free turntable;
//! the fewest rules of a cure; and, in the same run, listing every stage and a plain way to find the same cuts.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

#[path = "../tests/orders/enumeration.rs"]
#[allow(dead_code, unused_imports, reason = "the tests in this file belong to the test run")]
mod enumeration;

use enumeration::{Chance, stages, value};
use std::hint::black_box;
use std::time::Instant;
use tober_calc::orders::{
    Arc, Arm, Body, Close, Cures, Loads, Precedence, StepSet, Tally, cures, greatest, greatest_turning, least,
};

/// Milliseconds, the least of so many times.
fn ms<T>(times: u32, mut work: impl FnMut() -> T) -> f64 {
    let mut once = || {
        let start = Instant::now();
        black_box(work());
        start.elapsed().as_secs_f64() * 1e3
    };
    (0..times).map(|_| once()).fold(f64::INFINITY, f64::min)
}

fn print(what: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let at = |share: f64| times[((times.len() - 1) as f64 * share).round() as usize];
    println!(
        "{what}: median {:.3} ms, 90 % {:.3}, worst {:.3}, of {}",
        at(0.5),
        at(0.9),
        at(1.0),
        times.len()
    );
}

/// Steps as of a procedure: each after one or two of the twelve before it, sometimes after one far back, sometimes after none.
fn procedure(chance: &mut Chance, steps: usize) -> Vec<Vec<usize>> {
    let near = |chance: &mut Chance, s: usize| s - 1 - chance.between(0, 11.min(s as i64 - 1)) as usize;
    let rules = |s: usize, chance: &mut Chance| {
        let mut after = Vec::new();
        if s > 0 && !chance.in_hundred(8) {
            after.push(near(chance, s));
            if chance.in_hundred(60) {
                after.push(near(chance, s));
            }
            if chance.in_hundred(10) {
                after.push(chance.between(0, s as i64 - 1) as usize);
            }
        }
        after
    };
    (0..steps).map(|s| rules(s, chance)).collect()
}

/// As a load on a leg: most steps change it, by some kilonewtons in units of 0.01 N; a third of the steps have a peak.
fn load(chance: &mut Chance, steps: usize) -> Tally {
    let size = |chance: &mut Chance| chance.between(-500_000, 500_000);
    Tally {
        start: 2_000_000,
        change: (0..steps).map(|_| if chance.in_hundred(80) { size(chance) } else { 0 }).collect(),
        peak: (0..steps).map(|_| chance.in_hundred(33).then(|| size(chance))).collect(),
    }
}

fn body(chance: &mut Chance, steps: Vec<usize>) -> Body {
    let mut arm = || Arm {
        fixed: chance.between(-3000, 3000),
        cos: chance.between(-6000, 6000),
        sin: chance.between(-6000, 6000),
    };
    let placements = (0..=steps.len()).map(|_| arm()).collect();
    Body { mass: (950, 1050), steps, placements, in_hand: Vec::new() }
}

/// The same greatest value the plain way: an arc from each step to all before it, and one shortest path of flow after the other.
fn plain(p: &Precedence, t: &Tally) -> i64 {
    let n = p.len();
    let mut room = vec![vec![0_i64; n + 2]; n + 2];
    let (source, sink) = (n, n + 1);
    let mut gains = 0;
    #[allow(clippy::needless_range_loop, reason = "a step is an index of four things")]
    for s in 0..n {
        room[source][s] = t.change[s].max(0);
        room[s][sink] = (-t.change[s]).max(0);
        gains += t.change[s].max(0);
        for first in p.before(s).iter() {
            room[s][first] = i64::MAX / 4;
        }
    }
    loop {
        let mut from = vec![usize::MAX; n + 2];
        let mut queue = vec![source];
        let mut taken = 0;
        while let Some(&at) = queue.get(taken) {
            taken += 1;
            for to in (0..n + 2).filter(|&to| room[at][to] > 0) {
                if from[to] == usize::MAX && to != source {
                    from[to] = at;
                    queue.push(to);
                }
            }
        }
        if from[sink] == usize::MAX {
            return t.start + gains;
        }
        let (mut least, mut at) = (i64::MAX, sink);
        while at != source {
            least = least.min(room[from[at]][at]);
            at = from[at];
        }
        at = sink;
        while at != source {
            room[from[at]][at] -= least;
            room[at][from[at]] += least;
            at = from[at];
        }
        gains -= least;
    }
}

fn main() {
    let mut chance = Chance(0x0BDE_0500);
    for (steps, goal) in [(100, ", goal 2 ms"), (300, ", goal 10 ms"), (1000, "")] {
        let mut rules = Vec::new();
        let times = (0..30).map(|_| {
            let after = procedure(&mut chance, steps);
            let p = Precedence::new(&after).expect("no circle");
            rules.push(ms(5, || Precedence::new(black_box(&after))));
            let loads: Vec<Tally> = (0..12).map(|_| load(&mut chance, steps)).collect();
            let none = StepSet::none(steps);
            ms(5, || {
                for tally in &loads {
                    black_box((greatest(&p, tally, &none, &none), least(&p, tally, &none, &none)));
                }
            })
        });
        let times = times.collect();
        print(&format!("{steps} steps, 12 quantities with peaks, greatest and least{goal}"), times);
        print(&format!("{steps} steps, reading the rules"), rules);
    }

    // The plain way, without peaks, in this run.
    for steps in [100, 300] {
        let mut ratios = Vec::new();
        for _ in 0..5 {
            let p = Precedence::new(&procedure(&mut chance, steps)).expect("no circle");
            let tally = Tally { peak: Vec::new(), ..load(&mut chance, steps) };
            let none = StepSet::none(steps);
            let ours = ms(5, || greatest(&p, &tally, &none, &none));
            let theirs = ms(1, || plain(&p, &tally));
            let found = greatest(&p, &tally, &none, &none).expect("nothing is held").value;
            assert_eq!(found, plain(&p, &tally), "both find the same");
            ratios.push(theirs / ours);
        }
        ratios.sort_by(f64::total_cmp);
        println!("{steps} steps, plain over Tober: median {:.0}, least {:.0}", ratios[2], ratios[0]);
    }

    // Listing every stage.
    let mut ratios = Vec::new();
    for _ in 0..5 {
        let after = procedure(&mut chance, 18);
        let p = Precedence::new(&after).expect("no circle");
        let tally = Tally { peak: Vec::new(), ..load(&mut chance, 18) };
        let none = StepSet::none(18);
        let ours = ms(5, || greatest(&p, &tally, &none, &none));
        let list = || stages(&after, &tally).into_iter().map(|stage| value(&tally, stage)).max();
        let theirs = ms(1, list);
        assert_eq!(list(), greatest(&p, &tally, &none, &none).map(|found| found.value), "both find the same");
        ratios.push(theirs / ours);
    }
    ratios.sort_by(f64::total_cmp);
    println!("18 steps, listing every stage over Tober: median {:.0}, least {:.0}", ratios[2], ratios[0]);

    // A free turntable: a third of the steps move bodies on it, to a ten-thousandth.
    for steps in [100, 300] {
        let mut cuts = 0;
        let times = (0..10).map(|_| {
            let mut after = procedure(&mut chance, steps);
            let mut bodies = Vec::new();
            for first in (0..steps - 2).step_by(9) {
                after[first + 2].push(first);
                bodies.push(body(&mut chance, vec![first, first + 2]));
            }
            let p = Precedence::new(&after).expect("no circle");
            let loads = Loads { base: Arm::default(), bodies };
            let none = StepSet::none(steps);
            // The radii come to some thousand thousand units a body.
            let close = Close { within: 10_000, cuts: 400 };
            let work = || greatest_turning(&p, &loads, (&none, &none), Arc::Circle, close);
            let found = work().expect("sound").expect("nothing is held");
            assert!(found.bound - found.value <= close.within, "{} to {}", found.value, found.bound);
            cuts += found.cuts;
            ms(3, work)
        });
        let times = times.collect();
        print(&format!("{steps} steps, free turntable, one quantity, goal 100 ms at 100"), times);
        println!("  {} cuts on average", cuts / 10);
    }

    // Cures, where the worst stage is a tenth to a half of the way too high.
    for steps in [40, 80, 100] {
        let mut sizes = [0; 8];
        let times = (0..60).map(|_| {
            let p = Precedence::new(&procedure(&mut chance, steps)).expect("no circle");
            let tally = Tally { peak: Vec::new(), ..load(&mut chance, steps) };
            let none = StepSet::none(steps);
            let worst = greatest(&p, &tally, &none, &none).expect("nothing is held").value;
            let end = tally.start.max(tally.start + tally.change.iter().sum::<i64>());
            let limit = worst - (worst - end) * chance.between(10, 50) / 100;
            let offends = |p: &Precedence| {
                let found = greatest(p, &tally, &none, &none)?;
                (found.value > limit).then(|| (found.stage.clone(), found.stage.union(&found.under_way)))
            };
            let mut result = None;
            let time = ms(1, || result = Some(cures(&p, &offends, 2000)));
            let kind = match result {
                Some(Cures::NoneNeeded) => 0,
                Some(Cures::Rules { fewest: true, rules, .. }) => rules.len(),
                Some(Cures::Rules { .. }) => 4,
                Some(Cures::NoRule { .. }) => 5,
                _ => 6,
            };
            sizes[kind] += 1;
            time
        });
        let times = times.collect();
        print(&format!("{steps} steps, cures"), times);
        println!(
            "  none needed {}, proved 1 to 3 rules {:?}, not proved {}, no rule {}, not reached {}",
            sizes[0],
            &sizes[1..4],
            sizes[4],
            sizes[5],
            sizes[6]
        );
    }
}
