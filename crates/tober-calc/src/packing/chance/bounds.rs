//! What is proved of the chance: no less than this, no more than that.

use super::normal::{normal, normal_of_two};

/// One way out of tolerance: a normal variable past its limit.
pub(super) struct Out {
    /// How many deviations its limit lies above its mean.
    pub margin: f64,
    /// Its direction among the independent causes, of length one.
    pub along: Vec<f64>,
}

/// The most ways of which pairs are weighed; the rest are added up.
const PAIRED_MOST: usize = 24;

/// The least and the greatest chance that none of the ways is met.
///
/// Let P be the chance that any is met, S1 the sum of the single chances, S2 that of the pairs. Then P is no more than
/// S1 less the chances of the pairs along any tree (Hunter 1976), and with `k = 1 + floor(2 S2 / S1)` no less than
/// `2 S1 / (k + 1) - 2 S2 / (k (k + 1))` (Dawson and Sankoff 1967), nor than the greatest single chance. Both from memory;
/// both hold whatever hangs together with what.
pub(super) fn proved(ways: &[Out]) -> (f64, f64) {
    let mut single: Vec<(f64, &Out)> = ways.iter().map(|out| (normal(-out.margin), out)).collect();
    single.sort_by(|a, b| b.0.total_cmp(&a.0));
    let paired = single.len().min(PAIRED_MOST);
    let (first, rest) = single.split_at(paired);
    let mut pairs = vec![vec![0.0; paired]; paired];
    for i in 0..paired {
        for j in 0..i {
            let (a, b) = (first[i].1, first[j].1);
            let correlation: f64 = a.along.iter().zip(&b.along).map(|(a, b)| a * b).sum();
            let both = normal_of_two(-a.margin, -b.margin, correlation.clamp(-1.0, 1.0));
            (pairs[i][j], pairs[j][i]) = (both, both);
        }
    }
    let sum_first: f64 = first.iter().map(|(chance, _)| chance).sum();
    let sum_rest: f64 = rest.iter().map(|(chance, _)| chance).sum();
    let most = (sum_first + sum_rest - greatest_tree(&pairs)).clamp(0.0, 1.0);
    let sum_pairs: f64 = pairs.iter().flatten().sum::<f64>() / 2.0;
    let mut least = first.first().map_or(0.0, |(chance, _)| *chance);
    if sum_first > 0.0 {
        let k = 1.0 + (2.0 * sum_pairs / sum_first).floor();
        least = least.max(2.0 * sum_first / (k + 1.0) - 2.0 * sum_pairs / (k * (k + 1.0)));
    }
    // What the sums may be off by, on the safe side of both.
    let rounding = 1e-9;
    ((1.0 - most - rounding).max(0.0), (1.0 - least + rounding).min(1.0))
}

/// The greatest sum of pairs along a tree over all (Prim).
fn greatest_tree(pairs: &[Vec<f64>]) -> f64 {
    let n = pairs.len();
    let mut best = vec![0.0_f64; n];
    let mut inside = vec![false; n];
    let mut sum = 0.0;
    for step in 0..n {
        let next =
            (0..n).filter(|&i| !inside[i]).max_by(|&a, &b| best[a].total_cmp(&best[b]).then(b.cmp(&a)));
        let Some(next) = next else { break };
        inside[next] = true;
        if step > 0 {
            sum += best[next];
        }
        for i in 0..n {
            best[i] = best[i].max(pairs[next][i]);
        }
    }
    sum
}
