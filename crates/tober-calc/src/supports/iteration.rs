//! The search for the resting position: Newton steps on a convex function, each with an exact line search.
//!
//! With `c_i(q) = q0 + s_i*q1 + t_i*q2 - g_i` the resting position minimises
//! `f(q) = 1/2 sum k_i*max(0, c_i)^2 - q0`, where the weight is 1 and acts at s = t = 0. f is convex and
//! made of quadratic pieces, one for each set of supports in contact. A Newton step goes to the lowest
//! point of the present piece; the line search goes to the lowest point of f on the way, over the
//! sorted places where a support comes in or goes light. f falls at every step and no piece comes
//! twice, so the search ends.

/// Supports in scaled numbers, so that weight, greatest stiffness and extent are all 1.
#[derive(Clone, Debug, Default)]
pub(super) struct Springs {
    pub s: Vec<f64>,
    pub t: Vec<f64>,
    pub k: Vec<f64>,
    pub g: Vec<f64>,
    /// Compression at the position found; a reaction is `k*max(0, c)`.
    pub c: Vec<f64>,
    /// How fast each compression grows along a step.
    pub rate: Vec<f64>,
    breaks: Vec<(f64, usize)>,
}

/// A symmetric 3 by 3 matrix: the diagonal, then 01, 02, 12.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Matrix {
    pub d: [f64; 3],
    pub o: [f64; 3],
}

/// A matrix split into `L D L^T`, with pivots that vanish lifted to a small number.
#[derive(Clone, Copy, Debug)]
pub(super) struct Factors {
    pivot: [f64; 3],
    l: [f64; 3],
    /// Whether no pivot had to be lifted, so that the supports in contact are not on one line.
    pub full: bool,
}

/// A pivot below this share of its diagonal entry is nothing but rounding.
const PIVOT_LEAST: f64 = 1e-12;
/// What such a pivot is lifted to. The line search makes the length of the step good.
const PIVOT_LIFTED: f64 = 1e-11;
/// No case has been seen to need more than 12 steps; the certificate judges what is found.
const STEPS_MOST: usize = 200;

impl Matrix {
    pub fn add(&mut self, k: f64, s: f64, t: f64) {
        let (ks, kt) = (k * s, k * t);
        self.d[0] += k;
        self.d[1] += ks * s;
        self.d[2] += kt * t;
        self.o[0] += ks;
        self.o[1] += kt;
        self.o[2] += ks * t;
    }

    pub fn factors(&self) -> Factors {
        let mut full = true;
        let mut settle = |pivot: f64, diagonal: f64| {
            if pivot > PIVOT_LEAST * diagonal && pivot > 1e-30 {
                return pivot;
            }
            full = false;
            PIVOT_LIFTED * if diagonal > 1e-18 { diagonal } else { 1.0 }
        };
        let p0 = settle(self.d[0], self.d[0]);
        let (l10, l20) = (self.o[0] / p0, self.o[1] / p0);
        let p1 = settle(self.d[1] - l10 * self.o[0], self.d[1]);
        let m21 = self.o[2] - l20 * self.o[0];
        let l21 = m21 / p1;
        let p2 = settle(self.d[2] - l20 * self.o[1] - l21 * m21, self.d[2]);
        Factors { pivot: [p0, p1, p2], l: [l10, l20, l21], full }
    }
}

impl Factors {
    pub fn solve(&self, b: [f64; 3]) -> [f64; 3] {
        let [l10, l20, l21] = self.l;
        let y0 = b[0];
        let y1 = b[1] - l10 * y0;
        let y2 = b[2] - l20 * y0 - l21 * y1;
        let x2 = y2 / self.pivot[2];
        let x1 = y1 / self.pivot[1] - l21 * x2;
        let x0 = y0 / self.pivot[0] - l10 * x1 - l20 * x2;
        [x0, x1, x2]
    }
}

/// Where the search ended.
#[derive(Clone, Copy, Debug)]
pub(super) struct Resting {
    pub q: [f64; 3],
    pub factors: Factors,
}

impl Springs {
    pub fn clear(&mut self) {
        self.s.clear();
        self.t.clear();
        self.k.clear();
        self.g.clear();
    }

    pub fn push(&mut self, s: f64, t: f64, k: f64, g: f64) {
        self.s.push(s);
        self.t.push(t);
        self.k.push(k);
        self.g.push(g);
    }

    pub fn len(&self) -> usize {
        self.k.len()
    }

    pub fn compress(&mut self, q: [f64; 3]) {
        self.c.clear();
        let places = self.s.iter().zip(&self.t).zip(&self.g);
        self.c.extend(places.map(|((s, t), g)| q[0] + s * q[1] + t * q[2] - g));
    }

    /// Out-of-balance and stiffness of the supports in contact, or of all of them.
    fn balance(&self, all: bool) -> ([f64; 3], Matrix) {
        let mut out = [1.0, 0.0, 0.0];
        let mut matrix = Matrix::default();
        for i in 0..self.len() {
            let (s, t, k, c) = (self.s[i], self.t[i], self.k[i], self.c[i]);
            if all || c > 0.0 {
                let r = k * c;
                out[0] -= r;
                out[1] -= r * s;
                out[2] -= r * t;
                matrix.add(k, s, t);
            }
        }
        (out, matrix)
    }

    /// The resting position; the compressions are left in `c`.
    pub fn rest(&mut self) -> Resting {
        // The first step takes every support to be in contact: most often that is the answer.
        let mut q = [0.0; 3];
        self.compress(q);
        let (out, matrix) = self.balance(true);
        let mut factors = matrix.factors();
        q = factors.solve(out);
        self.compress(q);
        if factors.full && self.c.iter().all(|&c| c > 0.0) {
            return Resting { q, factors };
        }
        for _ in 0..STEPS_MOST {
            let (out, matrix) = self.balance(false);
            factors = matrix.factors();
            let noise = 4.0
                * f64::EPSILON
                * self.c.iter().zip(&self.g).fold(1.0, |m, (c, g)| m + (c.abs() + g.abs()));
            if out.iter().all(|r| r.abs() <= noise) {
                break;
            }
            let step = factors.solve(out);
            let ahead = [q[0] + step[0], q[1] + step[1], q[2] + step[2]];
            self.rates(step);
            let same_contact = self.c.iter().zip(&self.rate).all(|(&c, &e)| (c > 0.0) == (c + e > 0.0));
            if factors.full && same_contact {
                q = ahead;
                self.compress(q);
                break;
            }
            let length = self.lowest_on_the_way(-step[0], 0.0);
            if length <= 0.0 {
                break;
            }
            for (qi, si) in q.iter_mut().zip(step) {
                *qi += length * si;
            }
            self.compress(q);
        }
        Resting { q, factors }
    }

    /// How fast each support is pressed in for a step of the plane.
    pub fn rates(&mut self, step: [f64; 3]) {
        self.rate.clear();
        self.rate.extend(self.s.iter().zip(&self.t).map(|(s, t)| step[0] + s * step[1] + t * step[2]));
    }

    /// How many steps long the way to the lowest point of f is. The slope of f along the way is
    /// piecewise linear and rises; it changes its rate where a compression passes zero. Slope and rise are
    /// handed in as what everything but the springs makes them.
    pub fn lowest_on_the_way(&mut self, mut slope: f64, mut rise: f64) -> f64 {
        self.breaks.clear();
        for i in 0..self.len() {
            let (c, e, k) = (self.c[i], self.rate[i], self.k[i]);
            if c > 0.0 || (c >= 0.0 && e > 0.0) {
                slope += k * c * e;
                rise += k * e * e;
            }
            if (c > 0.0 && e < 0.0) || (c < 0.0 && e > 0.0) {
                self.breaks.push((-c / e, i));
            }
        }
        self.breaks.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let mut at = 0.0;
        for &(next, i) in &self.breaks {
            let there = slope + rise * (next - at);
            if there >= 0.0 {
                break;
            }
            slope = there;
            at = next;
            let e = self.rate[i];
            rise += if e < 0.0 { -self.k[i] * e * e } else { self.k[i] * e * e };
        }
        if slope >= 0.0 {
            return at;
        }
        if rise <= 0.0 {
            return at;
        }
        at - slope / rise
    }
}
