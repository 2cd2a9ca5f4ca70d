//! Assembles the grillage and eliminates, once, whatever is not the height of a support.
//!
//! Three supports that are well apart hold the frame; the heights of the further supports are kept. With
//! the unknowns in the order *eliminated, kept*, the LDL' factors of the stiffness matrix, stopped before
//! the kept ones, leave their condensed stiffness S. The profile of the matrix is kept narrow by numbering
//! nodes outward from one end.

use super::super::error::{FORCE, MOMENT, REACH, inside, limit};
use super::error::{BeamsError, Turn};
use super::{Beams, Spot};
use tober_quantity::{Force, Length, Moment, Pressure, Quantity, SecondMoment, Shown, maths::hypot};

const NODES_MOST: usize = 400;
const MEMBERS_MOST: usize = 1200;
const SUPPORTS_MOST: usize = 64;
/// A member shorter than this is a mistake, and its stiffness would drown all others.
const LENGTH_LEAST_M: f64 = 1e-3;
/// From rubber to ten times diamond.
const MODULUS_PA: (f64, f64) = (1e5, 1e13);
/// From a wire of 3 mm to a beam 3 m high.
const SECOND_MOMENT_M4: (f64, f64) = (1e-12, 1e2);
/// A pivot that is no more than this share of its diagonal entry is rounding.
const PIVOT_LEAST: f64 = 1e-13;
/// Supports whose triangle is no higher than this share of its longest side are on one line.
const FLAT: f64 = 1e-9;
/// In place of a number: held by the base.
pub(super) const HELD: usize = usize::MAX;

/// A force and two couples at a node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NodeLoad {
    /// The node.
    pub node: usize,
    /// The force, positive downward.
    pub down: Force,
    /// The couple about the x axis.
    pub moment_x: Moment,
    /// The couple about the y axis.
    pub moment_y: Moment,
}

/// A load in all the forms in which it is needed: at the nodes, as a resultant, at the kept heights, and
/// what the frame bends under it with all supports held. Loads add as columns do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// Force up and couples at each node, three numbers a node.
    pub(super) at_nodes: Vec<f64>,
    /// Weight down, and its moments: sum of weight times x, and times y, with the couples in them.
    pub(super) sums: [f64; 3],
    /// Force up at each kept height.
    pub(super) kept: Vec<f64>,
    /// The eliminated unknowns with the kept heights at nothing.
    pub(super) still: Vec<f64>,
}

impl Column {
    /// Adds another load `factor` times.
    pub fn add(&mut self, factor: f64, other: &Self) {
        let sum = |to: &mut Vec<f64>, from: &[f64]| {
            to.resize(from.len(), 0.0);
            to.iter_mut().zip(from).for_each(|(t, f)| *t += factor * f);
        };
        sum(&mut self.at_nodes, &other.at_nodes);
        sum(&mut self.kept, &other.kept);
        sum(&mut self.still, &other.still);
        self.sums.iter_mut().zip(other.sums).for_each(|(t, f)| *t += factor * f);
    }
}

/// A member in plain numbers.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub from: usize,
    pub to: usize,
    /// Direction.
    pub c: f64,
    pub s: f64,
    pub length: f64,
    /// EI/L and GJ/L.
    pub bend: f64,
    pub twist: f64,
}

impl Line {
    /// What its two ends slope against the chord and how much it twists, for each unknown of its two nodes.
    pub fn modes(&self) -> [[f64; 6]; 3] {
        let (c, s, chord) = (self.c, self.s, 1.0 / self.length);
        [[chord, s, -c, -chord, 0.0, 0.0], [chord, 0.0, 0.0, -chord, s, -c], [0.0, -c, -s, 0.0, c, s]]
    }
}

/// A frame of beams on supports at some of its nodes, ready for any springs and any loads.
#[derive(Clone, Debug)]
pub struct Condensed {
    pub(in super::super) x: Vec<f64>,
    pub(in super::super) y: Vec<f64>,
    pub(super) members: Vec<Line>,
    /// The node of each support.
    pub(in super::super) feet: Vec<usize>,
    /// The supports that are not of the base, in their order: the kept heights.
    pub(super) free: Vec<usize>,
    /// The number of each unknown of each node.
    pub(super) number: Vec<[usize; 3]>,
    pub(super) eliminated: usize,
    first: Vec<usize>,
    start: Vec<usize>,
    lower: Vec<f64>,
    pivot: Vec<f64>,
    /// The condensed stiffness, row by row.
    pub(super) stiffness: Vec<f64>,
    /// The eliminated unknowns for each kept height of one, one after another.
    pub(super) shapes: Vec<f64>,
}

impl Condensed {
    /// Condenses a frame to the heights of its supports, given by their nodes.
    ///
    /// The work is that of one band elimination: about `nodes * width^2`.
    ///
    /// # Errors
    /// Refuses numbers that are none or that no frame has, members without length, nodes that nothing joins to
    /// the rest, mechanisms, and supports that are too few, on one line, or two at one node.
    pub fn new(beams: &Beams, supports: &[usize]) -> Result<Self, BeamsError> {
        let members = checked(beams)?;
        let (x, y): (Vec<f64>, Vec<f64>) = beams.nodes.iter().map(|n| (n.x.si(), n.y.si())).unzip();
        let base = base(&x, &y, supports)?;
        let order = outward(x.len(), &members, supports[base[0]])?;
        let free: Vec<usize> = (0..supports.len()).filter(|i| !base.contains(i)).collect();
        let mut number = vec![[HELD; 3]; x.len()];
        let mut next = 0;
        let mut take = |slot: &mut usize| {
            *slot = next;
            next += 1;
        };
        for &node in &order {
            let own = if supports.contains(&node) { 1 } else { 0 };
            number[node][own..].iter_mut().for_each(&mut take);
        }
        for &i in &free {
            take(&mut number[supports[i]][0]);
        }
        let eliminated = next - free.len();
        let mut frame = Self {
            x,
            y,
            members,
            feet: supports.to_vec(),
            free,
            number,
            eliminated,
            first: (0..next).collect(),
            start: Vec::new(),
            lower: Vec::new(),
            pivot: vec![0.0; next],
            stiffness: Vec::new(),
            shapes: Vec::new(),
        };
        frame.assemble();
        frame.eliminate()?;
        Ok(frame)
    }

    fn numbers(&self, line: &Line) -> [usize; 6] {
        let ([a, b, c], [d, e, f]) = (self.number[line.from], self.number[line.to]);
        [a, b, c, d, e, f]
    }

    fn assemble(&mut self) {
        for line in &self.members {
            let numbers = self.numbers(line);
            let least = numbers.into_iter().min().unwrap_or(0);
            for n in numbers.into_iter().filter(|n| *n != HELD) {
                self.first[n] = self.first[n].min(least);
            }
        }
        let mut room = 0;
        for (i, first) in self.first.iter().enumerate() {
            self.start.push(room);
            room += i - first;
        }
        self.lower = vec![0.0; room];
        for line in &self.members {
            let numbers = self.numbers(line);
            let [a, b, t] = line.modes();
            for (p, &row) in numbers.iter().enumerate() {
                for (q, &column) in numbers.iter().enumerate() {
                    if row == HELD || column == HELD || column > row {
                        continue;
                    }
                    let bend = a[p] * (4.0 * a[q] + 2.0 * b[q]) + b[p] * (2.0 * a[q] + 4.0 * b[q]);
                    let entry = line.bend * bend + line.twist * t[p] * t[q];
                    if row == column {
                        self.pivot[row] += entry;
                    } else {
                        self.lower[self.start[row] + column - self.first[row]] += entry;
                    }
                }
            }
        }
    }

    /// The entries of a row left of its diagonal, from its first column on.
    fn row(&self, i: usize) -> &[f64] {
        &self.lower[self.start[i]..self.start[i] + i - self.first[i]]
    }

    /// `sum over k below end of row_i[k]*row_j[k]`.
    fn dot(&self, i: usize, j: usize, end: usize) -> f64 {
        let from = self.first[i].max(self.first[j]);
        if from >= end {
            return 0.0;
        }
        let a = &self.row(i)[from - self.first[i]..end - self.first[i]];
        let b = &self.row(j)[from - self.first[j]..end - self.first[j]];
        a.iter().zip(b).map(|(a, b)| a * b).sum()
    }

    fn eliminate(&mut self) -> Result<(), BeamsError> {
        let (ne, kept) = (self.eliminated, self.free.len());
        self.stiffness = vec![0.0; kept * kept];
        for i in 0..ne + kept {
            let diagonal = self.pivot[i];
            // First each entry times its pivot, so that a product with a finished row is one dot.
            for j in self.first[i]..i.min(ne) {
                let less = self.dot(i, j, j);
                self.lower[self.start[i] + j - self.first[i]] -= less;
            }
            for j in ne..i {
                let stored = if j >= self.first[i] { self.row(i)[j - self.first[i]] } else { 0.0 };
                let entry = stored - self.dot(i, j, ne);
                self.stiffness[(i - ne) * kept + j - ne] = entry;
                self.stiffness[(j - ne) * kept + i - ne] = entry;
            }
            for j in self.first[i]..i.min(ne) {
                let at = self.start[i] + j - self.first[i];
                let entry = self.lower[at];
                self.lower[at] = entry / self.pivot[j];
                self.pivot[i] -= entry * self.lower[at];
            }
            // Written so that a pivot that is not a number fails.
            let firm = self.pivot[i] > PIVOT_LEAST * diagonal;
            if !firm {
                return Err(self.mechanism(i));
            }
            if i >= ne {
                self.stiffness[(i - ne) * kept + i - ne] = self.pivot[i];
            }
        }
        for j in 0..kept {
            let row = ne + j;
            let mut shape = vec![0.0; ne];
            for (k, entry) in (self.first[row]..ne).zip(self.row(row)) {
                shape[k] = -entry;
            }
            self.backward(&mut shape);
            self.shapes.extend(shape);
        }
        Ok(())
    }

    fn mechanism(&self, unknown: usize) -> BeamsError {
        let found = self.number.iter().enumerate().find_map(|(node, numbers)| {
            let which = numbers.iter().position(|n| *n == unknown)?;
            Some((node, [Turn::UpAndDown, Turn::AboutX, Turn::AboutY][which]))
        });
        let (node, turn) = found.unwrap_or((0, Turn::UpAndDown));
        BeamsError::Mechanism { node, turn }
    }

    /// Solves L'z = v in place.
    fn backward(&self, v: &mut [f64]) {
        for i in (0..self.eliminated).rev() {
            let known = v[i];
            if known == 0.0 {
                continue;
            }
            let (before, _) = v.split_at_mut(i);
            for (to, entry) in before[self.first[i]..].iter_mut().zip(self.row(i)) {
                *to -= entry * known;
            }
        }
    }

    /// Makes the column of a load.
    ///
    /// # Errors
    /// Refuses numbers that are none or that no load has, and nodes that are not there.
    pub fn column(&self, loads: &[NodeLoad]) -> Result<Column, BeamsError> {
        let (ne, kept) = (self.eliminated, self.free.len());
        let mut column = Column {
            at_nodes: vec![0.0; 3 * self.x.len()],
            sums: [0.0; 3],
            kept: vec![0.0; kept],
            still: vec![0.0; ne],
        };
        for (i, load) in loads.iter().enumerate() {
            self.check_load(i, load)?;
            let parts = [-load.down.si(), load.moment_x.si(), load.moment_y.si()];
            for (k, part) in parts.into_iter().enumerate() {
                column.at_nodes[3 * load.node + k] += part;
                match self.number[load.node][k] {
                    HELD => {}
                    n if n < ne => column.still[n] += part,
                    n => column.kept[n - ne] += part,
                }
            }
            let down = load.down.si();
            column.sums[0] += down;
            column.sums[1] += down * self.x[load.node] + load.moment_y.si();
            column.sums[2] += down * self.y[load.node] - load.moment_x.si();
        }
        for (j, at_kept) in column.kept.iter_mut().enumerate() {
            let shape = &self.shapes[j * ne..(j + 1) * ne];
            *at_kept += shape.iter().zip(&column.still).map(|(a, b)| a * b).sum::<f64>();
        }
        for i in 0..ne {
            let row = self.row(i);
            let sum: f64 = row.iter().zip(&column.still[self.first[i]..i]).map(|(a, b)| a * b).sum();
            column.still[i] -= sum;
        }
        for (value, pivot) in column.still.iter_mut().zip(&self.pivot) {
            *value /= pivot;
        }
        self.backward(&mut column.still);
        Ok(column)
    }

    fn check_load(&self, which: usize, load: &NodeLoad) -> Result<(), BeamsError> {
        if load.node >= self.x.len() {
            return Err(BeamsError::UnknownNode { of: "Load", which, node: load.node, nodes: self.x.len() });
        }
        if !inside(load.down.si(), -FORCE.1, FORCE.1) {
            let limit = limit::<Force>(-FORCE.1, FORCE.1, Shown::Force);
            return Err(BeamsError::LoadOutOfRange {
                load: which,
                what: "force",
                given: load.down.amount(),
                limit,
            });
        }
        for (what, m) in [("couple about x", load.moment_x), ("couple about y", load.moment_y)] {
            if !inside(m.si(), -MOMENT, MOMENT) {
                let limit = limit::<Moment>(-MOMENT, MOMENT, Shown::Moment);
                return Err(BeamsError::LoadOutOfRange { load: which, what, given: m.amount(), limit });
            }
        }
        Ok(())
    }

    /// Where each support stands, in the order given.
    pub fn spots(&self) -> Vec<Spot> {
        self.feet.iter().map(|&n| Spot { x: Length::m(self.x[n]), y: Length::m(self.y[n]) }).collect()
    }

    /// The condensed stiffness over all supports in N/m, row by row: the forces up at the supports that hold the
    /// frame in the shape given by their heights. Symmetric, of rank three less than its size.
    pub fn support_stiffness(&self) -> Vec<Vec<f64>> {
        let (n, kept) = (self.feet.len(), self.free.len());
        // How far each kept support is above the plane through the base, for each support raised by one.
        let above: Vec<Vec<f64>> = self.free.iter().map(|&i| self.above_base(i)).collect();
        let entry = |p: usize, q: usize| -> f64 {
            (0..kept)
                .flat_map(|a| (0..kept).map(move |b| (a, b)))
                .map(|(a, b)| above[a][p] * self.stiffness[a * kept + b] * above[b][q])
                .sum()
        };
        (0..n).map(|p| (0..n).map(|q| entry(p, q)).collect()).collect()
    }

    /// For support `i`: the share of each support's height in its height above the plane of the base.
    fn above_base(&self, i: usize) -> Vec<f64> {
        let base: Vec<usize> = (0..self.feet.len()).filter(|j| !self.free.contains(j)).collect();
        let at = |j: usize| (self.x[self.feet[j]], self.y[self.feet[j]]);
        let area = |p: (f64, f64), q: (f64, f64), r: (f64, f64)| {
            (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0)
        };
        let (a, b, c, here) = (at(base[0]), at(base[1]), at(base[2]), at(i));
        let whole = area(a, b, c);
        let mut shares = vec![0.0; self.feet.len()];
        shares[base[0]] = -area(here, b, c) / whole;
        shares[base[1]] = -area(a, here, c) / whole;
        shares[base[2]] = -area(a, b, here) / whole;
        shares[i] = 1.0;
        shares
    }

    /// How far each support goes up for a force of one at a kept height, the base held: the inverse of S,
    /// with nothing at the supports of the base. Row by row over the supports, in m/N.
    pub(in super::super) fn give(&self) -> Vec<Vec<f64>> {
        let (n, kept) = (self.feet.len(), self.free.len());
        let mut all = vec![vec![0.0; n]; n];
        let mut unit = vec![0.0; kept];
        for j in 0..kept {
            unit.fill(0.0);
            unit[j] = 1.0;
            let moved = super::contact::solve_once(&self.stiffness, kept, &unit);
            for (i, up) in moved.into_iter().enumerate() {
                all[self.free[i]][self.free[j]] = up;
            }
        }
        all
    }

    /// How far each support goes up under a load with the base held, in m.
    pub(in super::super) fn give_under(&self, column: &Column) -> Vec<f64> {
        let moved = super::contact::solve_once(&self.stiffness, self.free.len(), &column.kept);
        let mut all = vec![0.0; self.feet.len()];
        for (up, &i) in moved.into_iter().zip(&self.free) {
            all[i] = up;
        }
        all
    }
}

fn checked(beams: &Beams) -> Result<Vec<Line>, BeamsError> {
    let (nodes, members) = (beams.nodes.len(), beams.members.len());
    for (what, given, most) in [("nodes", nodes, NODES_MOST), ("members", members, MEMBERS_MOST)] {
        if given > most {
            return Err(BeamsError::TooMany { what, given, most });
        }
    }
    for (node, at) in beams.nodes.iter().enumerate() {
        for (what, value) in [("place along the frame", at.x), ("place across the frame", at.y)] {
            if !inside(value.si(), -REACH, REACH) {
                let limit = limit::<Length>(-REACH, REACH, Shown::Coarse);
                let given = value.amount().shown(Shown::Coarse);
                return Err(BeamsError::NodeOutOfRange { node, what, given, limit });
            }
        }
    }
    let mut lines = Vec::with_capacity(members);
    for (member, beam) in beams.members.iter().enumerate() {
        for node in [beam.from, beam.to] {
            if node >= nodes {
                return Err(BeamsError::UnknownNode { of: "Member", which: member, node, nodes });
            }
        }
        let refuse = |what, given, limit| BeamsError::MemberOutOfRange { member, what, given, limit };
        for (what, value) in
            [("modulus of elasticity", beam.elasticity), ("shear modulus", beam.shear_modulus)]
        {
            if !inside(value.si(), MODULUS_PA.0, MODULUS_PA.1) {
                let limit = limit::<Pressure>(MODULUS_PA.0, MODULUS_PA.1, Pressure::SHOWN);
                return Err(refuse(what, value.amount(), limit));
            }
        }
        let least = [SECOND_MOMENT_M4.0, 0.0];
        let moments =
            [("second moment of area", beam.second_moment), ("torsion constant", beam.torsion_constant)];
        for ((what, value), least) in moments.into_iter().zip(least) {
            if !inside(value.si(), least, SECOND_MOMENT_M4.1) {
                let limit = limit::<SecondMoment>(least, SECOND_MOMENT_M4.1, SecondMoment::SHOWN);
                return Err(refuse(what, value.amount(), limit));
            }
        }
        let (a, b) = (beams.nodes[beam.from], beams.nodes[beam.to]);
        let (dx, dy) = ((b.x - a.x).si(), (b.y - a.y).si());
        let length = hypot(dx, dy);
        let long_enough = length >= LENGTH_LEAST_M;
        if !long_enough {
            return Err(BeamsError::MemberWithoutLength {
                member,
                length: Length::m(length),
                least: Length::m(LENGTH_LEAST_M),
            });
        }
        lines.push(Line {
            from: beam.from,
            to: beam.to,
            c: dx / length,
            s: dy / length,
            length,
            bend: beam.elasticity.si() * beam.second_moment.si() / length,
            twist: beam.shear_modulus.si() * beam.torsion_constant.si() / length,
        });
    }
    Ok(lines)
}

/// Three supports well apart: the two farthest from each other, and the one farthest from their line.
fn base(x: &[f64], y: &[f64], supports: &[usize]) -> Result<[usize; 3], BeamsError> {
    let n = supports.len();
    if n > SUPPORTS_MOST {
        return Err(BeamsError::TooMany { what: "supports", given: n, most: SUPPORTS_MOST });
    }
    for (which, &node) in supports.iter().enumerate() {
        if node >= x.len() {
            return Err(BeamsError::UnknownNode { of: "Support", which, node, nodes: x.len() });
        }
        if let Some(first) = supports[..which].iter().position(|s| *s == node) {
            return Err(BeamsError::SupportsAtOneNode { first, second: which });
        }
    }
    if n < 3 {
        return Err(BeamsError::TooFewSupports { given: n });
    }
    let to = |i: usize, j: usize| (x[supports[j]] - x[supports[i]], y[supports[j]] - y[supports[i]]);
    let (mut farthest, mut ends) = (-1.0, (0, 1));
    for i in 0..n {
        for j in i + 1..n {
            let (dx, dy) = to(i, j);
            if dx * dx + dy * dy > farthest {
                (farthest, ends) = (dx * dx + dy * dy, (i, j));
            }
        }
    }
    let (sx, sy) = to(ends.0, ends.1);
    let off = |i: usize| {
        let (dx, dy) = to(ends.0, i);
        (sx * dy - sy * dx).abs()
    };
    let third = (0..n).fold(0, |best, i| if off(i) > off(best) { i } else { best });
    let off_the_line = off(third) > FLAT * farthest;
    if !off_the_line {
        return Err(BeamsError::SupportsOnOneLine);
    }
    Ok([ends.0, ends.1, third])
}

/// The nodes in the order in which members reach them from one: neighbours get numbers near each other.
fn outward(nodes: usize, members: &[Line], from: usize) -> Result<Vec<usize>, BeamsError> {
    let mut joined = vec![Vec::new(); nodes];
    for line in members {
        joined[line.from].push(line.to);
        joined[line.to].push(line.from);
    }
    let mut order = vec![from];
    let mut seen = vec![false; nodes];
    seen[from] = true;
    let mut at = 0;
    while let Some(&node) = order.get(at) {
        at += 1;
        let begin = order.len();
        for &next in &joined[node] {
            if !seen[next] {
                seen[next] = true;
                order.push(next);
            }
        }
        order[begin..].sort_by_key(|&n| joined[n].len());
    }
    match seen.iter().position(|seen| !seen) {
        Some(node) => Err(BeamsError::NotConnected { node }),
        None => {
            // Numbered backward the rows reach less far to the left.
            order.reverse();
            Ok(order)
        }
    }
}
