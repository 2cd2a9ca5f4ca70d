//! Triangles over the surveyed points, and the height of the ground between them.

use super::{Covariance, PointHeight, Survey, SurveyError, placed, plane, within};
use std::collections::{BTreeMap, BTreeSet};
use tober_quantity::{Length, TenthMm};

/// The most points a surface is laid over.
const POINTS_MOST: usize = 2000;

/// A corner, in whole tenths of a millimetre on the plan, so that which side of a line it is on is exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Corner {
    x: i64,
    y: i64,
    /// Height in tenths, only to choose between two ways of laying a flat diagonal.
    z: i64,
}

/// Triangles over the surveyed points: Delaunay's, and the higher of two equal diagonals.
///
/// No surveyed point lies inside the circle through the corners of a triangle. Where four corners lie
/// on one circle, as the legs of a ride do, both diagonals are as good: the one that passes higher over
/// the ground is taken, so that the answer does not turn when the pitch is mirrored, and clearances are
/// judged by the higher ground. Places are rounded to the tenth of a millimetre once and every comparison
/// is then exact.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    corners: Vec<Corner>,
    heights_m: Vec<f64>,
    deviations_m: Vec<f64>,
    /// Corners counter-clockwise.
    triangles: Vec<[usize; 3]>,
    /// How the errors of the corners hang together, and which of its heights each corner is.
    hangs: Option<(Covariance, Vec<usize>)>,
    roughness: Option<Length>,
}

/// The ground at one place between surveyed points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// Its height.
    pub height: Length,
    /// One standard deviation of that, from the readings.
    pub readings: Length,
    /// What bumps between the points may add, as one standard deviation; `None` where the readings do not tell.
    pub bumps: Option<Length>,
}

impl Ground {
    /// One standard deviation of the height, √(readings² + bumps²); bumps that are not known add nothing.
    pub fn deviation(&self) -> Length {
        let (a, b) = (self.readings.as_m(), self.bumps.map_or(0.0, Length::as_m));
        Length::m((a * a + b * b).sqrt())
    }
}

/// So many points with others all round them are needed to tell how rough the ground is.
const ROUGH_LEAST: usize = 4;

impl Surface {
    /// Lays triangles over the points that have a place.
    ///
    /// # Errors
    /// Fewer than three such points, more than 2,000, two at one place, all on one line, or a number that is
    /// not one or out of range.
    pub fn over(points: &[PointHeight]) -> Result<Self, SurveyError> {
        Self::lay(points, None)
    }

    /// The same over the points of a survey, with how their errors hang together: the deviation between them is
    /// then that of the readings, and not the most that it can be.
    ///
    /// # Errors
    /// As [`Self::over`].
    pub fn over_survey(survey: &Survey) -> Result<Self, SurveyError> {
        Self::lay(&survey.heights, Some(&survey.covariance))
    }

    fn lay(points: &[PointHeight], covariance: Option<&Covariance>) -> Result<Self, SurveyError> {
        let mut located = Vec::new();
        for (index, point) in points.iter().enumerate() {
            let Some(place) = point.place else { continue };
            placed(place, &point.name)?;
            within(point.height, Length::m(-1e4), Length::m(1e4), "height", &point.name)?;
            if point.deviation != Length::ZERO {
                // A deviation scaled up by readings that disagree may be large; it must be a number.
                within(point.deviation, Length::ZERO, Length::m(1e3), "deviation", &point.name)?;
            }
            let out = |what| SurveyError::NotANumber { what, at: point.name.clone() };
            let x = TenthMm::nearest(place.x).ok_or_else(|| out("place along x"))?.0;
            let y = TenthMm::nearest(place.y).ok_or_else(|| out("place along y"))?.0;
            #[expect(clippy::cast_possible_truncation, reason = "heights were held to 10 km above")]
            let z = (point.height.as_mm() * 10.0).round() as i64;
            located.push((Corner { x, y, z }, point, index));
        }
        if located.len() < 3 {
            return Err(SurveyError::TooFewPoints { have: located.len(), need: 3 });
        }
        if located.len() > POINTS_MOST {
            let count = located.len();
            return Err(SurveyError::TooMany { what: "points of a surface", count, most: POINTS_MOST });
        }
        located.sort_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.name.cmp(&b.1.name)));
        for pair in located.windows(2) {
            if (pair[0].0.x, pair[0].0.y) == (pair[1].0.x, pair[1].0.y) {
                return Err(SurveyError::SamePlace {
                    first: pair[0].1.name.clone(),
                    second: pair[1].1.name.clone(),
                });
            }
        }
        let corners: Vec<Corner> = located.iter().map(|l| l.0).collect();
        let triangles = triangulate(&corners).ok_or(SurveyError::OnOneLine { points: corners.len() })?;
        let heights_m: Vec<f64> = located.iter().map(|l| l.1.height.as_m()).collect();
        let roughness = roughness(&corners, &heights_m, &triangles);
        Ok(Self {
            corners,
            heights_m,
            deviations_m: located.iter().map(|l| l.1.deviation.as_m()).collect(),
            triangles,
            hangs: covariance.map(|c| (c.clone(), located.iter().map(|l| l.2).collect())),
            roughness,
        })
    }

    /// How rough the ground is between the points, as one standard deviation at the middle of a triangle; `None`
    /// where fewer than four points have others all round them.
    ///
    /// The root mean square of how far each such point lies off the nearest plane to the points it shares a
    /// triangle with. That plane reaches further than a triangle does, and the readings' own errors are in it, so it
    /// is rather too much than too little. Ours; no source.
    pub fn roughness(&self) -> Option<Length> {
        self.roughness
    }

    /// The ground at a place, or `None` outside the surveyed points.
    ///
    /// Height and errors are interpolated in the triangle there with the shares w of its corners. Bumps add
    /// q √(3/2 (1 − Σw²)), q the [`Self::roughness`]: nothing at a corner, all of it in the middle.
    pub fn ground_at(&self, x: Length, y: Length) -> Option<Ground> {
        let (triangle, shares) = self.shares_at(x, y)?;
        let mix = |of: &[f64]| -> f64 { triangle.iter().zip(shares).map(|(&i, share)| of[i] * share).sum() };
        let readings = match &self.hangs {
            Some((covariance, index)) => {
                let of: Vec<(usize, f64)> = triangle.iter().map(|&i| index[i]).zip(shares).collect();
                covariance.deviation_of(&of)
            }
            None => Length::m(mix(&self.deviations_m)),
        };
        let between = (1.5 * (1.0 - shares.iter().map(|w| w * w).sum::<f64>())).max(0.0).sqrt();
        let bumps = if between > 0.0 { self.roughness.map(|q| q * between) } else { Some(Length::ZERO) };
        Some(Ground { height: Length::m(mix(&self.heights_m)), readings, bumps })
    }

    /// The triangle at a place, and the share of each of its corners.
    fn shares_at(&self, x: Length, y: Length) -> Option<([usize; 3], [f64; 3])> {
        let at = Corner { x: TenthMm::nearest(x)?.0, y: TenthMm::nearest(y)?.0, z: 0 };
        for triangle in &self.triangles {
            let [a, b, c] = triangle.map(|i| self.corners[i]);
            let sides = [side(b, c, at), side(c, a, at), side(a, b, at)];
            if sides.iter().all(|side| *side >= 0) {
                let whole = side(a, b, c) as f64;
                return Some((*triangle, sides.map(|share| share as f64 / whole)));
            }
        }
        None
    }

    /// The height of the ground at a place and its standard deviation, or `None` outside the surveyed points.
    ///
    /// Both are interpolated in the triangle there. The deviation is the sum of its corners' deviations,
    /// each times its share: the most it can be however the corners' errors hang together. It does not
    /// speak of bumps between the points, which nobody measured.
    pub fn height_at(&self, x: Length, y: Length) -> Option<(Length, Length)> {
        let (triangle, shares) = self.shares_at(x, y)?;
        let mix = |of: &[f64]| -> f64 { triangle.iter().zip(shares).map(|(&i, share)| of[i] * share).sum() };
        Some((Length::m(mix(&self.heights_m)), Length::m(mix(&self.deviations_m))))
    }

    /// The highest that the ground is known to be at any corner, with that corner's deviation on top.
    pub fn highest_with_deviation(&self) -> Length {
        let highest = self
            .heights_m
            .iter()
            .zip(&self.deviations_m)
            .map(|(h, d)| h + d)
            .fold(f64::NEG_INFINITY, f64::max);
        Length::m(highest)
    }

    /// The triangles, each as three places with their heights, for drawing.
    pub fn triangles(&self) -> impl Iterator<Item = [(Length, Length, Length); 3]> + '_ {
        self.triangles.iter().map(|triangle| {
            triangle.map(|i| {
                let corner = self.corners[i];
                (TenthMm(corner.x).length(), TenthMm(corner.y).length(), Length::m(self.heights_m[i]))
            })
        })
    }
}

/// The root mean square of how far the points inside lie off the nearest plane to those they share a triangle with.
fn roughness(corners: &[Corner], heights_m: &[f64], triangles: &[[usize; 3]]) -> Option<Length> {
    let mut beside: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); corners.len()];
    let mut edges = BTreeSet::new();
    for triangle in triangles {
        for k in 0..3 {
            let (from, to) = (triangle[k], triangle[(k + 1) % 3]);
            edges.insert((from, to));
            beside[from].insert(to);
            beside[to].insert(from);
        }
    }
    // An edge with a triangle on one side only is the rim, and so are its ends.
    let rim: BTreeSet<usize> =
        edges.iter().filter(|(a, b)| !edges.contains(&(*b, *a))).flat_map(|&(a, b)| [a, b]).collect();
    let at = |i: usize| [corners[i].x as f64 * 1e-4, corners[i].y as f64 * 1e-4, heights_m[i]];
    let off: Vec<f64> = (0..corners.len())
        .filter(|i| !rim.contains(i))
        .filter_map(|i| {
            let around: Vec<[f64; 3]> = beside[i].iter().map(|&j| at(j)).collect();
            let [a, b, c] = plane::fit(&around)?;
            let [x, y, z] = at(i);
            Some(z - (a * x + b * y + c))
        })
        .collect();
    let squares: f64 = off.iter().map(|e| e * e).sum();
    (off.len() >= ROUGH_LEAST).then(|| Length::m((squares / off.len() as f64).sqrt()))
}

/// Twice the area of a triangle: above zero when it turns counter-clockwise. Exact.
///
/// Coordinates are within ±1,000,000, so the products stay below 8·10¹².
fn side(a: Corner, b: Corner, c: Corner) -> i64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

/// Whether the edge a-c of the counter-clockwise triangles a b c and a c d should rather be b-d.
///
/// It should when d lies inside the circle through a, b and c; or on it and the diagonal b-d passes
/// higher. Both are determinants of whole numbers: the circle's stays below 10³⁰, the height's below 10²².
fn should_flip(a: Corner, b: Corner, c: Corner, d: Corner) -> bool {
    let from_d = |p: Corner| {
        let (x, y) = (i128::from(p.x - d.x), i128::from(p.y - d.y));
        [x, y, x * x + y * y, i128::from(p.z - d.z)]
    };
    let (a, b, c) = (from_d(a), from_d(b), from_d(c));
    let determinant = |k: usize| {
        a[0] * (b[1] * c[k] - b[k] * c[1]) - a[1] * (b[0] * c[k] - b[k] * c[0])
            + a[k] * (b[0] * c[1] - b[1] * c[0])
    };
    match determinant(2) {
        0 => determinant(3) < 0,
        inside => inside > 0,
    }
}

/// Delaunay triangles over corners sorted by x then y, or `None` when all lie on one line.
///
/// First a sweep: each corner is joined to every edge of the outline that it sees. Then diagonals are
/// turned until none should be; each turn lowers a paraboloid lifted over the corners (with the ground's
/// own height as an infinitely small tie-break), so the turning ends.
fn triangulate(corners: &[Corner]) -> Option<Vec<[usize; 3]>> {
    // The first corners may lie on one line: they are joined to the first one that does not.
    let apex = (2..corners.len()).find(|&i| side(corners[0], corners[1], corners[i]) != 0)?;
    let left = side(corners[0], corners[1], corners[apex]) > 0;
    let mut triangles = Vec::new();
    for i in 0..apex - 1 {
        triangles.push(if left { [i, i + 1, apex] } else { [i + 1, i, apex] });
    }
    // The outline, counter-clockwise.
    let mut outline: Vec<usize> =
        if left { (0..=apex).collect() } else { (0..apex).rev().chain([apex]).collect() };
    for i in apex + 1..corners.len() {
        outline = join(corners, &outline, i, &mut triangles);
    }
    turn_diagonals(corners, &mut triangles);
    triangles.sort_unstable();
    Some(triangles)
}

/// Joins a corner beyond the outline to every edge that it sees, and gives the new outline.
fn join(corners: &[Corner], outline: &[usize], new: usize, triangles: &mut Vec<[usize; 3]>) -> Vec<usize> {
    let count = outline.len();
    let edge = |k: usize| (outline[k % count], outline[(k + 1) % count]);
    let sees = |k: usize| {
        let (from, to) = edge(k);
        side(corners[from], corners[to], corners[new]) < 0
    };
    // The corner is beyond all others in x (or in y on the same x), so it sees some edge and not all.
    let first = (0..count).find(|&k| sees(k) && !sees(k + count - 1)).unwrap_or(0);
    let seen = (0..count).take_while(|k| sees(first + k)).count();
    for k in first..first + seen {
        let (from, to) = edge(k);
        triangles.push([to, from, new]);
    }
    let kept = (first + seen..=first + count).map(|k| outline[k % count]);
    kept.chain([new]).collect()
}

/// Turns every diagonal that should be turned, lowest first, until none is left.
fn turn_diagonals(corners: &[Corner], triangles: &mut [[usize; 3]]) {
    let mut owners: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for (t, triangle) in triangles.iter().enumerate() {
        for k in 0..3 {
            owners.insert((triangle[k], triangle[(k + 1) % 3]), t);
        }
    }
    let mut waiting: Vec<(usize, usize)> = owners.keys().copied().filter(|(a, b)| a < b).collect();
    while let Some((c, a)) = waiting.pop() {
        let (Some(&first), Some(&second)) = (owners.get(&(c, a)), owners.get(&(a, c))) else { continue };
        let beyond = |t: usize| triangles[t].into_iter().find(|&i| i != a && i != c);
        let (Some(b), Some(d)) = (beyond(first), beyond(second)) else { continue };
        if !should_flip(corners[a], corners[b], corners[c], corners[d]) {
            continue;
        }
        owners.remove(&(c, a));
        owners.remove(&(a, c));
        for (t, triangle) in [(first, [a, b, d]), (second, [b, c, d])] {
            triangles[t] = triangle;
            for k in 0..3 {
                owners.insert((triangle[k], triangle[(k + 1) % 3]), t);
            }
        }
        waiting.extend([(a, b), (b, c), (c, d), (d, a)]);
    }
    for triangle in triangles.iter_mut() {
        let least = (0..3).min_by_key(|&k| triangle[k]).unwrap_or(0);
        triangle.rotate_left(least);
    }
}

#[cfg(test)]
#[path = "surface_tests.rs"]
mod tests;
