//! Published examples of the greatest closure, and the two-dimensional method of Lerchs and Grossmann, which has no cut in it.

use crate::enumeration::Chance;
use tober_calc::orders::{Precedence, StepSet, Tally, greatest};

/// Net values of the blocks of a vertical section, level by level from the surface. From published lecture notes on the
/// Lerchs-Grossmann method (7 levels, 11 columns; after the SME Mining Engineering Handbook, 2nd edition, from memory).
const SECTION: [[i64; 11]; 7] = [
    [-2, -2, -4, -2, -2, -1, -2, -3, -4, -4, -3],
    [-5, -4, -6, -3, -2, -2, -3, -2, -4, -5, -5],
    [-6, -5, -7, 6, 13, -2, -5, -4, -7, -4, -6],
    [-6, -6, -8, -8, 17, 8, 5, -6, -8, -9, -7],
    [-7, -7, -8, -8, 6, 21, 5, -8, -8, -9, -7],
    [-7, -9, -9, -8, -5, 22, -8, -8, -8, -9, -8],
    [-8, -9, -9, -9, -8, 10, -9, -9, -9, -9, -9],
];

/// The best pit as a closure: a block only after the three above it, where there are so many.
fn by_closure(section: &[Vec<i64>]) -> i64 {
    let (levels, columns) = (section.len(), section[0].len());
    let after: Vec<Vec<usize>> = (0..levels * columns)
        .map(|block| {
            let (level, column) = (block / columns, block % columns);
            let above = column.saturating_sub(1)..(column + 2).min(columns);
            if level == 0 { Vec::new() } else { above.map(|c| (level - 1) * columns + c).collect() }
        })
        .collect();
    let change: Vec<i64> = section.concat();
    // A block at the edge would need one outside the section: it is never taken.
    let edge = (columns..levels * columns)
        .filter(|block| matches!(block % columns, c if c == 0 || c == columns - 1));
    let (none, open) = (StepSet::none(change.len()), StepSet::from(change.len(), edge));
    let p = Precedence::new(&after).expect("no circle");
    greatest(&p, &Tally { start: 0, change, peak: Vec::new() }, &none, &open).expect("no pit is a pit").value
}

/// The best pit column by column: the depth changes by one level at most from a column to the next, and is at most one
/// level at the edge of the section. H. Lerchs and I. F. Grossmann, Optimum design of open-pit mines, CIM 1965.
fn by_columns(section: &[Vec<i64>]) -> i64 {
    let levels = section.len();
    let far = i64::MIN / 2;
    let mut best = vec![far; levels + 1];
    best[0] = 0;
    for column in 0..section[0].len() {
        let depth = |d: usize| {
            let before =
                (d.saturating_sub(1)..=(d + 1).min(levels)).map(|from| best[from]).max().unwrap_or(far);
            before + section[..d].iter().map(|level| level[column]).sum::<i64>()
        };
        best = (0..=levels).map(depth).collect();
    }
    best[0].max(best[1])
}

#[test]
fn truth_a_published_section_of_an_open_pit() {
    let section: Vec<Vec<i64>> = SECTION.iter().map(|level| level.to_vec()).collect();
    // The table of the method for this section ends at 13.
    assert_eq!(by_columns(&section), 13);
    assert_eq!(by_closure(&section), 13);
}

#[test]
fn law_random_sections_agree_with_the_method_of_columns() {
    let mut chance = Chance(0x0BDE_0506);
    let mut worth_digging = 0;
    for _ in 0..200 {
        let (levels, columns) = (chance.between(1, 8) as usize, chance.between(2, 14) as usize);
        let mut level = || (0..columns).map(|_| chance.between(-20, 19)).collect();
        let section: Vec<Vec<i64>> = (0..levels).map(|_| level()).collect();
        let value = by_columns(&section);
        assert_eq!(by_closure(&section), value);
        worth_digging += usize::from(value > 0);
    }
    assert!(worth_digging > 100, "{worth_digging} of 200 are worth digging");
}

#[test]
fn truth_published_gems_of_which_all_multiples_go_together() {
    // AtCoder Regular Contest 085, problem E, samples 1 to 4 (2017; from memory): gems 1 to n are worth a; whoever smashes gem i smashes all
    // multiples of i; what is the rest worth at most? The gems smashed are a stage: i after 2 i, 3 i, ...
    let cases: [(&[i64], i64); 4] = [
        (&[1, 2, -6, 4, 5, 3], 12),
        (&[100, -100, -100, -100, 100, -100], 200),
        (&[-1, -2, -3, -4, -5], 0),
        (&[-1000, 100_000], 99_000),
    ];
    for (gems, answer) in cases {
        let n = gems.len();
        let after: Vec<Vec<usize>> = (1..=n).map(|i| (2..=n / i).map(|k| k * i - 1).collect()).collect();
        let p = Precedence::new(&after).expect("no circle");
        let t =
            Tally { start: gems.iter().sum(), change: gems.iter().map(|a| -a).collect(), peak: Vec::new() };
        let none = StepSet::none(n);
        assert_eq!(greatest(&p, &t, &none, &none).expect("none smashed").value, answer, "{gems:?}");
    }
}
