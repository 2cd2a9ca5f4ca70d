//! Packing within stock: one option for each support out of its range, the plane left aside.

use super::prices::{NO_LIMIT, Pool, cost};
use super::table::{Rows, Tables};

/// How a packing search ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Packing {
    /// One option for each support, as places in its table.
    Found(Vec<u32>),
    /// Proved: nothing within stock.
    Nothing,
    /// The steps ran out.
    OutOfSteps,
}

/// The most prices used as suffix bounds.
const BOUNDS_MOST: usize = 3;

/// What a packing must keep.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stores<'a> {
    pub stock: &'a Rows<i64>,
    /// The most different stacks, where that is limited.
    pub stacks_most: Option<usize>,
    /// How many kinds of board there are.
    pub kinds: usize,
    /// How many rows the stock has.
    pub rows: usize,
}

struct Search<'a> {
    tables: &'a Tables,
    stores: Stores<'a>,
    ranges: &'a [(u32, u32)],
    order: Vec<usize>,
    /// Prices, and for each place in the order the least cost from there on.
    bounds: Vec<(Rows<i64>, Vec<i64>)>,
    chosen: Vec<u32>,
    steps_left: u64,
}

/// Searches for a packing within stock, at most `steps` options tried; returns also the steps used.
pub(super) fn pack(
    tables: &Tables,
    pool: &Pool,
    stores: Stores<'_>,
    ranges: &[(u32, u32)],
    steps: u64,
) -> (Packing, u64) {
    let size = |support: usize| tables.tables[tables.of_support[support]].range(ranges[support]).len();
    let mut order: Vec<usize> = (0..ranges.len()).collect();
    order.sort_by_key(|&support| (size(support), support));
    let bounds = suffix_bounds(tables, pool, stores, ranges, &order);
    let mut search =
        Search { tables, stores, ranges, order, bounds, chosen: vec![0; ranges.len()], steps_left: steps };
    let mut left = *stores.stock;
    let ended = search.place(0, &mut left, &mut Vec::new());
    let used = steps - search.steps_left;
    let packing = match ended {
        Some(true) => Packing::Found(search.chosen),
        Some(false) => Packing::Nothing,
        None => Packing::OutOfSteps,
    };
    (packing, used)
}

/// The prices that press hardest on these ranges, with their suffix sums.
fn suffix_bounds(
    tables: &Tables,
    pool: &Pool,
    stores: Stores<'_>,
    ranges: &[(u32, u32)],
    order: &[usize],
) -> Vec<(Rows<i64>, Vec<i64>)> {
    let mut pressing: Vec<(f64, usize)> = Vec::new();
    for (place, priced) in pool.priced.iter().enumerate() {
        if (0..stores.rows).any(|row| priced.prices[row] > 0 && stores.stock[row] >= NO_LIMIT) {
            continue;
        }
        let need: i64 =
            ranges.iter().zip(&tables.of_support).map(|(&lifts, &table)| priced.least(table, lifts)).sum();
        let have = super::prices::worth(&priced.prices, stores.stock, stores.rows);
        pressing.push((need as f64 / (have as f64).max(1.0), place));
    }
    pressing.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
    let with_sums = |&(_, place): &(f64, usize)| {
        let priced = &pool.priced[place];
        let mut sums = vec![0; order.len() + 1];
        for (at, &support) in order.iter().enumerate().rev() {
            sums[at] = sums[at + 1] + priced.least(tables.of_support[support], ranges[support]);
        }
        (priced.prices, sums)
    };
    pressing.iter().take(BOUNDS_MOST).map(with_sums).collect()
}

impl Search<'_> {
    /// `Some(true)` found, `Some(false)` proved none, `None` out of steps. Depth is the number of supports.
    fn place(&mut self, at: usize, left: &mut Rows<i64>, stacks: &mut Vec<u32>) -> Option<bool> {
        let Some(&support) = self.order.get(at) else { return Some(true) };
        let place = self.tables.of_support[support];
        let table = &self.tables.tables[place];
        let rows = self.stores.rows;
        for index in table.range(self.ranges[support]) {
            if self.steps_left == 0 {
                return None;
            }
            self.steps_left -= 1;
            let option = &table.options[index];
            if (0..rows).any(|row| i64::from(option.rows[row]) > left[row]) {
                continue;
            }
            let new_stack = match self.stores.stacks_most {
                None => false,
                Some(most) => {
                    let seen = stacks.iter().any(|&key| self.same_stack(key, place, index));
                    if !seen && stacks.len() >= most {
                        continue;
                    }
                    !seen
                }
            };
            for (have, &count) in left[..rows].iter_mut().zip(&option.rows) {
                *have -= i64::from(count);
            }
            let bounded = self
                .bounds
                .iter()
                .all(|(prices, sums)| super::prices::worth(prices, left, rows) >= sums[at + 1]);
            if bounded {
                self.chosen[support] = index as u32;
                if new_stack {
                    stacks.push(support as u32);
                }
                let below = self.place(at + 1, left, stacks);
                if below != Some(false) {
                    return below;
                }
                if new_stack {
                    stacks.pop();
                }
            }
            for (have, &count) in left[..rows].iter_mut().zip(&option.rows) {
                *have += i64::from(count);
            }
        }
        Some(false)
    }

    /// Whether a support placed earlier has the same boards as an option.
    fn same_stack(&self, earlier: u32, table: usize, index: usize) -> bool {
        let earlier = earlier as usize;
        let other =
            &self.tables.tables[self.tables.of_support[earlier]].options[self.chosen[earlier] as usize];
        let kinds = self.stores.kinds;
        other.rows[..kinds] == self.tables.tables[table].options[index].rows[..kinds]
    }
}

/// How many different stacks a packing uses.
pub(super) fn different_stacks(tables: &Tables, chosen: &[u32], kinds: usize) -> usize {
    let mut seen: Vec<&[u8]> = Vec::new();
    for (&place, &index) in tables.of_support.iter().zip(chosen) {
        let stack = &tables.tables[place].options[index as usize].rows[..kinds];
        if !seen.contains(&stack) {
            seen.push(stack);
        }
    }
    seen.len()
}

/// What a packing costs under some prices.
pub(super) fn total(tables: &Tables, chosen: &[u32], prices: &Rows<i64>, rows: usize) -> i64 {
    let one =
        |(&place, &index): (&usize, &u32)| cost(prices, &tables.tables[place].options[index as usize], rows);
    tables.of_support.iter().zip(chosen).map(one).sum()
}
