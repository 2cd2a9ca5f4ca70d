//! The search for the springs in contact under a frame that bends: Newton, with the exact line search of
//! the rigid frame.
//!
//! Unknowns, in units in which the weight and the stiffest spring are 1: how far the frame is below its
//! datum, `q` as for the rigid frame, and how far each further support is bent below the plane, `e`. The
//! function is that of the rigid frame and `1/2 e'Se - p'e`, with p the load downward at the further supports.

use super::super::iteration::Springs;

const PIVOT_LEAST: f64 = 1e-12;
const PIVOT_LIFTED: f64 = 1e-11;
const STEPS_MOST: usize = 200;

/// Dense LDL' in place: below the diagonal L, on it the pivots. Gives whether no pivot had to be lifted.
fn factor(a: &mut [f64], n: usize) -> bool {
    let mut full = true;
    for i in 0..n {
        let diagonal = a[i * n + i];
        for j in 0..i {
            let mut entry = a[i * n + j];
            for k in 0..j {
                entry -= a[i * n + k] * a[j * n + k];
            }
            a[i * n + j] = entry;
        }
        let mut pivot = diagonal;
        for j in 0..i {
            let entry = a[i * n + j];
            let scaled = entry / a[j * n + j];
            a[i * n + j] = scaled;
            pivot -= entry * scaled;
        }
        let firm = pivot > PIVOT_LEAST * diagonal && pivot > 1e-30;
        if !firm {
            full = false;
            pivot = PIVOT_LIFTED * if diagonal > 1e-18 { diagonal } else { 1.0 };
        }
        a[i * n + i] = pivot;
    }
    full
}

fn substitute(a: &[f64], n: usize, b: &mut [f64]) {
    for i in 0..n {
        for k in 0..i {
            b[i] -= a[i * n + k] * b[k];
        }
    }
    for i in 0..n {
        b[i] /= a[i * n + i];
    }
    for i in (0..n).rev() {
        for k in 0..i {
            b[k] -= a[i * n + k] * b[i];
        }
    }
}

/// Solves one small positive definite system.
pub(super) fn solve_once(matrix: &[f64], n: usize, b: &[f64]) -> Vec<f64> {
    let (mut a, mut x) = (matrix.to_vec(), b.to_vec());
    factor(&mut a, n);
    substitute(&a, n, &mut x);
    x
}

/// The springs under a frame that bends, in the units above.
#[derive(Clone, Debug, Default)]
pub(super) struct Contact {
    pub springs: Springs,
    /// The support of each further height.
    pub free: Vec<usize>,
    /// Condensed stiffness, row by row, and the load downward at the further supports.
    pub s: Vec<f64>,
    pub p: Vec<f64>,
    /// Where the search is: the bending first, then the plane.
    pub at: Vec<f64>,
    matrix: Vec<f64>,
    out: Vec<f64>,
    step: Vec<f64>,
    /// The stiffness times the bending of the step.
    turned: Vec<f64>,
}

impl Contact {
    pub fn plane(&self) -> [f64; 3] {
        let m = self.free.len();
        [self.at[m], self.at[m + 1], self.at[m + 2]]
    }

    pub fn bending(&self) -> &[f64] {
        &self.at[..self.free.len()]
    }

    fn compress(&mut self) {
        self.springs.compress(self.plane());
        for (j, &i) in self.free.iter().enumerate() {
            self.springs.c[i] += self.at[j];
        }
    }

    /// What is out of balance with the springs that are pressed, or with all; and, where it is wanted, their matrix.
    /// Gives the size of the numbers that went into it.
    fn balance(&mut self, all: bool, with_matrix: bool) -> f64 {
        let m = self.free.len();
        let n = m + 3;
        self.out.clear();
        self.out.extend_from_slice(&self.p);
        self.out.extend_from_slice(&[1.0, 0.0, 0.0]);
        let mut size = 1.0;
        for a in 0..m {
            for b in 0..m {
                let part = self.s[a * m + b] * self.at[b];
                self.out[a] -= part;
                size += part.abs();
            }
        }
        if with_matrix {
            self.matrix.clear();
            self.matrix.resize(n * n, 0.0);
            for a in 0..m {
                self.matrix[a * n..a * n + m].copy_from_slice(&self.s[a * m..(a + 1) * m]);
            }
        }
        let springs = &self.springs;
        let mut further = 0;
        for i in 0..springs.len() {
            let own = (self.free.get(further) == Some(&i)).then_some(further);
            further += usize::from(own.is_some());
            let (k, c) = (springs.k[i], springs.c[i]);
            if !(all || c > 0.0) {
                continue;
            }
            let place = [1.0, springs.s[i], springs.t[i]];
            let r = k * c;
            size += r.abs() + (k * springs.g[i]).abs();
            for (p, share) in place.into_iter().enumerate() {
                self.out[m + p] -= r * share;
                if with_matrix {
                    for (q, other) in place.iter().take(p + 1).enumerate() {
                        self.matrix[(m + p) * n + m + q] += k * share * other;
                    }
                }
            }
            if let Some(a) = own {
                self.out[a] -= r;
                if with_matrix {
                    self.matrix[a * n + a] += k;
                    for (p, share) in place.into_iter().enumerate() {
                        self.matrix[(m + p) * n + a] += k * share;
                    }
                }
            }
        }
        size
    }

    /// The step from what is out of balance; the matrix is that of the last balance, factorised.
    fn take_step(&mut self) {
        self.step.clear();
        self.step.extend_from_slice(&self.out);
        let n = self.step.len();
        substitute(&self.matrix, n, &mut self.step);
    }

    fn go(&mut self, length: f64) {
        for (at, step) in self.at.iter_mut().zip(&self.step) {
            *at += length * step;
        }
        self.compress();
    }

    /// A full step, and another to take off what rounding left: both with the same springs.
    fn finish(&mut self, all: bool) {
        self.go(1.0);
        self.balance(all, false);
        self.take_step();
        self.go(1.0);
    }

    /// Finds the resting position; compressions are left in the springs. Gives whether it is the only one.
    pub fn rest(&mut self) -> bool {
        let m = self.free.len();
        let n = m + 3;
        self.at.clear();
        self.at.resize(n, 0.0);
        self.compress();
        self.balance(true, true);
        let mut full = factor(&mut self.matrix, n);
        self.take_step();
        self.finish(true);
        if full && self.springs.c.iter().all(|&c| c > 0.0) {
            return true;
        }
        for _ in 0..STEPS_MOST {
            let size = self.balance(false, true);
            full = factor(&mut self.matrix, n);
            let noise = 4.0 * f64::EPSILON * size;
            if self.out.iter().all(|r| r.abs() <= noise) {
                break;
            }
            self.take_step();
            self.springs.rates([self.step[m], self.step[m + 1], self.step[m + 2]]);
            for (j, &i) in self.free.iter().enumerate() {
                self.springs.rate[i] += self.step[j];
            }
            let springs = &self.springs;
            let same = springs.c.iter().zip(&springs.rate).all(|(&c, &e)| (c > 0.0) == (c + e > 0.0));
            if full && same {
                self.finish(false);
                break;
            }
            self.turned.clear();
            for a in 0..m {
                let row = &self.s[a * m..(a + 1) * m];
                self.turned.push(row.iter().zip(&self.step).map(|(s, d)| s * d).sum());
            }
            let (mut slope, mut rise) = (-self.step[m], 0.0);
            for a in 0..m {
                slope += self.turned[a] * self.at[a] - self.p[a] * self.step[a];
                rise += self.turned[a] * self.step[a];
            }
            let length = self.springs.lowest_on_the_way(slope, rise);
            if length <= 0.0 {
                break;
            }
            self.go(length);
        }
        full
    }
}
