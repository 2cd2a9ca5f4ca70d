//! Stock prices: whole-number certificates that the stock cannot serve.
//!
//! For prices `m >= 0` on the rows of the stock, every choice costs at least the sum over supports of
//! the least `m . q`, and the stock is worth `m . count`. If the first passes the second, no choice is
//! within stock (weak duality). Prices are found in floating point and used as whole numbers only.

use super::table::{Option_, ROWS_MOST, Rows, Tables};

/// The most prices kept: beyond it the one least used goes.
const POOL_MOST: usize = 48;
/// The greatest price after scaling to whole numbers.
const PRICE_MOST: f64 = 65_536.0;
/// Steps of one improvement of the prices.
const STEPS: usize = 15;
/// Above this many options in the ranges of a node, improving the prices costs more than it saves.
const OPTIONS_TO_PRICE: usize = 6_000;

/// The whole-number cost of an option under some prices.
pub(super) fn cost(prices: &Rows<i64>, option: &Option_, rows: usize) -> i64 {
    prices[..rows].iter().zip(&option.rows[..rows]).map(|(price, &count)| price * i64::from(count)).sum()
}

/// What the stock is worth under some prices; a row without limit must bear no price.
pub(super) fn worth(prices: &Rows<i64>, stock: &Rows<i64>, rows: usize) -> i64 {
    prices[..rows].iter().zip(&stock[..rows]).map(|(price, count)| price * count).sum()
}

/// Prices with their least cost over every range of lifts, for each table.
#[derive(Clone, Debug)]
pub(super) struct Priced {
    pub prices: Rows<i64>,
    /// For each table, for each power of two, the least cost over that many lifts from here on.
    least: Vec<Vec<Vec<i64>>>,
    used: u64,
}

impl Priced {
    fn new(prices: Rows<i64>, tables: &Tables, rows: usize) -> Self {
        let least = tables.tables.iter().map(|table| {
            let of_lift = |lift: usize| {
                let options = &table.options[table.range((lift as u32, lift as u32 + 1))];
                options.iter().map(|option| cost(&prices, option, rows)).min().unwrap_or(0)
            };
            let mut levels = vec![(0..table.lifts.len()).map(of_lift).collect::<Vec<i64>>()];
            let mut span = 1;
            while 2 * span <= table.lifts.len() {
                let last = &levels[levels.len() - 1];
                let next = (0..=table.lifts.len() - 2 * span).map(|i| last[i].min(last[i + span])).collect();
                levels.push(next);
                span *= 2;
            }
            levels
        });
        Self { prices, least: least.collect(), used: 0 }
    }

    /// The least cost over a range of lifts that is not empty.
    pub fn least(&self, table: usize, lifts: (u32, u32)) -> i64 {
        let level = (lifts.1 - lifts.0).ilog2();
        let costs = &self.least[table][level as usize];
        costs[lifts.0 as usize].min(costs[lifts.1 as usize - (1 << level)])
    }
}

/// The prices that closed a node before, most useful first.
#[derive(Clone, Debug, Default)]
pub(super) struct Pool {
    pub priced: Vec<Priced>,
}

impl Pool {
    /// One price for each kind, all kinds alike, and prices by thickness.
    pub fn start(&mut self, thickness: &[i64], tables: &Tables, rows: usize) {
        let kinds = thickness.len();
        for kind in 0..kinds {
            let mut prices = [0; ROWS_MOST];
            prices[kind] = 1;
            self.add(prices, tables, rows);
        }
        let mut alike = [0; ROWS_MOST];
        alike[..kinds].fill(1);
        self.add(alike, tables, rows);
        let mut by_thickness = [0; ROWS_MOST];
        by_thickness[..kinds].copy_from_slice(thickness);
        self.add(by_thickness, tables, rows);
        for row in kinds..rows {
            let mut prices = [0; ROWS_MOST];
            prices[row] = 1;
            self.add(prices, tables, rows);
        }
    }

    /// The same prices over larger tables.
    pub fn rebuild(&mut self, tables: &Tables, rows: usize) {
        for priced in &mut self.priced {
            *priced = Priced::new(priced.prices, tables, rows);
        }
    }

    fn add(&mut self, prices: Rows<i64>, tables: &Tables, rows: usize) {
        if self.priced.len() >= POOL_MOST {
            let least_used = (0..self.priced.len()).rev().min_by_key(|&place| self.priced[place].used);
            if let Some(place) = least_used {
                self.priced.remove(place);
            }
        }
        self.priced.push(Priced::new(prices, tables, rows));
    }

    /// Whether some prices prove that the stock cannot serve these ranges; else the prices that come
    /// nearest to it, relative to their size.
    pub fn closes(
        &mut self,
        ranges: &[(u32, u32)],
        stock: &Rows<i64>,
        tables: &Tables,
        rows: usize,
    ) -> Closing {
        let mut nearest = (f64::NEG_INFINITY, 0);
        for place in 0..self.priced.len() {
            let priced = &self.priced[place];
            if (0..rows).any(|row| priced.prices[row] > 0 && stock[row] >= NO_LIMIT) {
                continue;
            }
            let need: i64 = ranges
                .iter()
                .zip(&tables.of_support)
                .map(|(&lifts, &table)| priced.least(table, lifts))
                .sum();
            let have = worth(&priced.prices, stock, rows);
            if need > have {
                self.priced[place].used += 1;
                if place > 0 && self.priced[place].used > self.priced[place - 1].used {
                    self.priced.swap(place, place - 1);
                }
                return Closing::Closed { prices: self.priced[place - usize::from(place > 0)].prices };
            }
            let share = need as f64 / (have as f64).max(1.0);
            if share > nearest.0 {
                nearest = (share, place);
            }
        }
        Closing::Open { nearest: nearest.1 }
    }

    /// Improves the nearest prices by steps along the shortage; keeps and reports them if they close the node.
    pub fn improve(
        &mut self,
        nearest: usize,
        ranges: &[(u32, u32)],
        stock: &Rows<i64>,
        tables: &Tables,
        rows: usize,
    ) -> bool {
        let options: usize = ranges
            .iter()
            .zip(&tables.of_support)
            .map(|(&lifts, &t)| tables.tables[t].range(lifts).len())
            .sum();
        if options > OPTIONS_TO_PRICE {
            return false;
        }
        let start = self.priced[nearest].prices;
        let scale = start.iter().copied().max().unwrap_or(1).max(1) as f64;
        let mut prices = start.map(|price| price as f64 / scale);
        for _ in 0..STEPS {
            let shortage = shortage(&prices, ranges, stock, tables, rows);
            let value: f64 = (0..rows).map(|row| prices[row] * shortage[row]).sum();
            if value > 1e-9 {
                let whole = to_whole(&prices, rows);
                if closes(&whole, ranges, stock, tables, rows) {
                    self.add(whole, tables, rows);
                    if let Some(last) = self.priced.last_mut() {
                        last.used = 1;
                    }
                    return true;
                }
            }
            let square: f64 = shortage[..rows].iter().map(|s| s * s).sum();
            if square < 1e-12 {
                return false;
            }
            let step = (0.1 - value).max(0.02) / square;
            for row in 0..rows {
                prices[row] =
                    if stock[row] >= NO_LIMIT { 0.0 } else { (prices[row] + step * shortage[row]).max(0.0) };
            }
        }
        false
    }
}

/// A row of the stock at or above this has no limit.
pub(super) const NO_LIMIT: i64 = 1 << 32;

/// What the pool says of a node.
pub(super) enum Closing {
    /// These prices prove that the stock cannot serve.
    Closed { prices: Rows<i64> },
    /// Nothing proved; which prices came nearest.
    Open { nearest: usize },
}

fn to_whole(prices: &Rows<f64>, rows: usize) -> Rows<i64> {
    let greatest = prices[..rows].iter().copied().fold(0.0, f64::max);
    let mut whole = [0; ROWS_MOST];
    if greatest > 0.0 {
        for row in 0..rows {
            whole[row] = (prices[row] / greatest * PRICE_MOST).round() as i64;
        }
    }
    whole
}

/// The test that decides, in whole numbers, straight from the options.
pub(super) fn closes(
    prices: &Rows<i64>,
    ranges: &[(u32, u32)],
    stock: &Rows<i64>,
    tables: &Tables,
    rows: usize,
) -> bool {
    let least = |(&lifts, &place): (&(u32, u32), &usize)| {
        let table = &tables.tables[place];
        table.options[table.range(lifts)].iter().map(|option| cost(prices, option, rows)).min().unwrap_or(0)
    };
    let need: i64 = ranges.iter().zip(&tables.of_support).map(least).sum();
    need > worth(prices, stock, rows)
}

/// What the cheapest options use beyond the stock: the direction in which prices should move.
fn shortage(
    prices: &Rows<f64>,
    ranges: &[(u32, u32)],
    stock: &Rows<i64>,
    tables: &Tables,
    rows: usize,
) -> Rows<f64> {
    let mut shortage = [0.0; ROWS_MOST];
    for row in 0..rows {
        shortage[row] = if stock[row] >= NO_LIMIT { 0.0 } else { -(stock[row] as f64) };
    }
    for (&lifts, &place) in ranges.iter().zip(&tables.of_support) {
        let table = &tables.tables[place];
        let price =
            |option: &Option_| (0..rows).map(|row| prices[row] * f64::from(option.rows[row])).sum::<f64>();
        let mut cheapest: Option<(f64, &Option_)> = None;
        for option in &table.options[table.range(lifts)] {
            let price = price(option);
            if cheapest.is_none_or(|(least, _)| price < least) {
                cheapest = Some((price, option));
            }
        }
        if let Some((_, option)) = cheapest {
            for row in 0..rows {
                if stock[row] < NO_LIMIT {
                    shortage[row] += f64::from(option.rows[row]);
                }
            }
        }
    }
    shortage
}
