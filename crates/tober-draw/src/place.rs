//! Where boxed notes and labels stand, so that none lies on another.
//!
//! Notes stand in banks outside the picture. A bank has columns; the first note of a column stands
//! nearest the picture, and the leader of each note behind it runs up a lane beside its column, so that
//! no leader passes under a note. Labels of single things take the first free place near them.

use crate::label::{Area, spread};

/// Something that wants a note: which one it is, and its place in the picture.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wish {
    pub index: usize,
    pub at: (f64, f64),
}

/// A note in its place with the path of its leader, from the thing to the note.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub index: usize,
    pub area: Area,
    pub leader: Vec<(f64, f64)>,
}

/// Where a bank stands to the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Above,
    Below,
}

/// The room and the measures of a bank.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bank {
    pub side: Side,
    pub left: f64,
    pub right: f64,
    /// The edge of the bank that faces the picture.
    pub edge: f64,
    pub columns: usize,
    pub widest: f64,
    pub height: f64,
}

/// Between two notes, and from a note to the first lane beside it.
const APART: f64 = 8.0;
/// From lane to lane.
const LANE: f64 = 6.0;

impl Bank {
    /// How many rows so many notes take.
    pub(crate) fn rows(&self, notes: usize) -> usize {
        let columns = self.columns.min(notes).max(1);
        notes.div_ceil(columns)
    }

    /// How deep a bank of so many rows is.
    pub(crate) fn depth(&self, rows: usize) -> f64 {
        if rows == 0 { 0.0 } else { rows as f64 * (self.height + APART) - APART }
    }

    /// The width of a note where so many are to be placed.
    pub(crate) fn note_width(&self, notes: usize) -> f64 {
        let columns = self.columns.min(notes).max(1);
        let spare = self.right - self.left - self.gap(notes) * (columns - 1) as f64;
        // A single column keeps a lane free beside it.
        let spare = if columns == 1 { spare - self.gap(notes) } else { spare };
        (spare / columns as f64).clamp(20.0, self.widest)
    }

    /// Between two columns there is room for the lanes of both.
    fn gap(&self, notes: usize) -> f64 {
        let behind = self.rows(notes).saturating_sub(1) as f64;
        APART + if behind > 0.0 { 4.0 + LANE * behind * 2.0 } else { 0.0 }
    }

    /// Places a note for each wish.
    pub(crate) fn place(&self, wishes: &[Wish]) -> Vec<Placed> {
        if wishes.is_empty() {
            return Vec::new();
        }
        let columns = self.columns.min(wishes.len()).max(1);
        let width = self.note_width(wishes.len());
        let mut sorted = wishes.to_vec();
        sorted.sort_by(|a, b| a.at.0.total_cmp(&b.at.0).then(a.index.cmp(&b.index)));
        let mut groups: Vec<Vec<Wish>> = Vec::new();
        let mut rest = sorted.as_slice();
        for column in 0..columns {
            let (group, after) = rest.split_at(rest.len().div_ceil(columns - column));
            groups.push(group.to_vec());
            rest = after;
        }
        let wanted: Vec<f64> = groups
            .iter()
            .map(|group| group.iter().map(|wish| wish.at.0).sum::<f64>() / group.len().max(1) as f64)
            .collect();
        let half = width / 2.0;
        let lane = if columns == 1 { self.gap(wishes.len()) } else { 0.0 };
        let step = width + self.gap(wishes.len());
        let middles = spread(&wanted, step, self.left + half, self.right - half - lane);
        let mut placed = Vec::new();
        for (column, (group, middle)) in groups.iter().zip(&middles).enumerate() {
            // The last column has its lanes on its left, as there is no room at the rim.
            let lanes_left = columns > 1 && column + 1 == columns;
            self.place_column(group, Column { left: middle - half, width, lanes_left }, &mut placed);
        }
        placed
    }

    fn place_column(&self, group: &[Wish], column: Column, placed: &mut Vec<Placed>) {
        let mut group = group.to_vec();
        // The lanes lead away from the near note, so what is nearest to it in place takes it; of things
        // in line, the one deepest in the picture.
        let deep = |wish: &Wish| match self.side {
            Side::Above => -wish.at.1,
            Side::Below => wish.at.1,
        };
        group.sort_by(|a, b| {
            let across =
                if column.lanes_left { b.at.0.total_cmp(&a.at.0) } else { a.at.0.total_cmp(&b.at.0) };
            let across = if (a.at.0 - b.at.0).abs() < 12.0 { core::cmp::Ordering::Equal } else { across };
            across.then(deep(a).total_cmp(&deep(b))).then(a.index.cmp(&b.index))
        });
        let alone = group.len() == 1;
        for (row, wish) in group.iter().enumerate() {
            let near = match self.side {
                Side::Above => self.edge - row as f64 * (self.height + APART),
                Side::Below => self.edge + row as f64 * (self.height + APART),
            };
            let top = if self.side == Side::Above { near - self.height } else { near };
            let area = Area { x: column.left, y: top, width: column.width, height: self.height };
            let mut leader = vec![wish.at];
            if row == 0 {
                let (least, greatest) = (area.x + 10.0, area.right() - 10.0);
                let x = if alone { wish.at.0.clamp(least, greatest.max(least)) } else { area.middle().0 };
                leader.push((x, near));
            } else {
                let out = APART / 2.0 + 2.0 + LANE * (row - 1) as f64;
                let (edge, lane) = if column.lanes_left {
                    (area.x, area.x - out)
                } else {
                    (area.right(), area.right() + out)
                };
                let y = area.middle().1;
                leader.extend([(lane, self.edge), (lane, y), (edge, y)]);
            }
            placed.push(Placed { index: wish.index, area, leader });
        }
    }
}

#[derive(Clone, Copy)]
struct Column {
    left: f64,
    width: f64,
    lanes_left: bool,
}

/// A free place for a label of this size near one of the anchors, no farther from it than so many
/// pixels, inside a region and clear of what is there; `None` where there is none.
pub(crate) fn near(
    anchors: &[(f64, f64)],
    (width, height): (f64, f64),
    region: Area,
    farthest: f64,
    taken: &[Area],
) -> Option<Area> {
    for distance in [7.0, 13.0, 21.0, 32.0, 46.0, 64.0].into_iter().filter(|distance| *distance <= farthest) {
        for &(x, y) in anchors {
            let places = [
                (x + distance, y - height / 2.0),
                (x - distance - width, y - height / 2.0),
                (x - width / 2.0, y - distance - height),
                (x - width / 2.0, y + distance),
                (x + distance * 0.7, y - distance * 0.7 - height),
                (x + distance * 0.7, y + distance * 0.7),
                (x - distance * 0.7 - width, y - distance * 0.7 - height),
                (x - distance * 0.7 - width, y + distance * 0.7),
            ];
            for (x, y) in places {
                let area = Area { x, y, width, height };
                if region.holds(area) && !taken.iter().any(|other| other.overlaps(area)) {
                    return Some(area);
                }
            }
        }
    }
    None
}

/// The stretch of a straight line as small areas, so that labels keep off it.
pub(crate) fn along(from: (f64, f64), to: (f64, f64)) -> Vec<Area> {
    let length = ((to.0 - from.0) * (to.0 - from.0) + (to.1 - from.1) * (to.1 - from.1)).sqrt();
    let steps = (length / 8.0).ceil().clamp(1.0, 200.0);
    let mut areas = Vec::new();
    let mut step = 0.0;
    while step <= steps {
        let share = step / steps;
        let (x, y) = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
        areas.push(Area { x: x - 2.0, y: y - 2.0, width: 4.0, height: 4.0 });
        step += 1.0;
    }
    areas
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bank(side: Side, columns: usize) -> Bank {
        Bank { side, left: 20.0, right: 740.0, edge: 300.0, columns, widest: 140.0, height: 80.0 }
    }

    fn row(count: usize) -> Vec<Wish> {
        (0..count).map(|index| Wish { index, at: (200.0 + 15.0 * index as f64, 400.0) }).collect()
    }

    #[test]
    fn law_no_two_notes_overlap_and_all_are_placed() {
        for count in 1..=32 {
            for columns in 1..=5 {
                for side in [Side::Above, Side::Below] {
                    let placed = bank(side, columns).place(&row(count));
                    assert_eq!(placed.len(), count);
                    for (i, one) in placed.iter().enumerate() {
                        assert!(one.area.x >= 20.0 - 1e-9 && one.area.right() <= 740.0 + 1e-9, "{one:?}");
                        for other in &placed[i + 1..] {
                            assert!(!one.area.overlaps(other.area), "{count}: {one:?} {other:?}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn law_no_leader_passes_under_a_note() {
        for count in 1..=32 {
            for columns in 2..=5 {
                let placed = bank(Side::Above, columns).place(&row(count));
                for one in &placed {
                    for pair in one.leader.windows(2) {
                        for spot in along(pair[0], pair[1]) {
                            let under =
                                placed.iter().find(|note| note.area.inset(0.5).holds_point(spot.middle()));
                            assert!(under.is_none(), "{count} in {columns}: {one:?} under {under:?}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn law_a_label_found_is_free_and_inside() {
        let region = Area { x: 0.0, y: 0.0, width: 200.0, height: 100.0 };
        let mut taken = Vec::new();
        while let Some(area) = near(&[(100.0, 50.0)], (40.0, 14.0), region, 64.0, &taken) {
            assert!(region.holds(area));
            assert!(taken.iter().all(|other: &Area| !other.overlaps(area)));
            taken.push(area);
        }
        assert!(taken.len() >= 8, "there is room for several: {}", taken.len());
    }
}
