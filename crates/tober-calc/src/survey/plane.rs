//! The plane that lies nearest to a set of points.

use super::{PointHeight, SurveyError};
use tober_quantity::{Length, Slope};

/// The plane z = C + A x + B y, with heights measured upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// A: how much it rises towards greater x.
    pub rise_along_x: Slope,
    /// B: how much it rises towards greater y.
    pub rise_along_y: Slope,
    /// C: its height over x = 0, y = 0.
    pub height_at_origin: Length,
}

impl Plane {
    /// Its height over a place.
    pub fn height_at(&self, x: Length, y: Length) -> Length {
        self.height_at_origin + x * self.rise_along_x.as_ratio() + y * self.rise_along_y.as_ratio()
    }
}

/// The plane with the least sum of squared upright distances from the points that have a place.
///
/// With sums S about the means, D = Sxx Syy − Sxy²: A = (Sxz Syy − Syz Sxy) / D,
/// B = (Syz Sxx − Sxz Sxy) / D, C = mean z − A mean x − B mean y. Every point counts alike, whatever
/// its deviation. Source: the normal equations of least squares, reference SV-13; checked by WE-34.
///
/// # Errors
/// Fewer than three points with a place, or all of them on one line.
pub fn best_plane(points: &[PointHeight]) -> Result<Plane, SurveyError> {
    let xyz: Vec<[f64; 3]> =
        points.iter().filter_map(|p| p.place.map(|at| [at.x.as_m(), at.y.as_m(), p.height.as_m()])).collect();
    if xyz.len() < 3 {
        return Err(SurveyError::TooFewPoints { have: xyz.len(), need: 3 });
    }
    let [a, b, c] = fit(&xyz).ok_or(SurveyError::OnOneLine { points: xyz.len() })?;
    Ok(Plane { rise_along_x: Slope::ratio(a), rise_along_y: Slope::ratio(b), height_at_origin: Length::m(c) })
}

/// A, B and C in metres, or `None` where the points lie on one line or are not numbers.
pub(super) fn fit(xyz: &[[f64; 3]]) -> Option<[f64; 3]> {
    let count = xyz.len() as f64;
    let mean = |i: usize| xyz.iter().map(|p| p[i]).sum::<f64>() / count;
    let (x_mean, y_mean, z_mean) = (mean(0), mean(1), mean(2));
    let (mut sxx, mut syy, mut sxy, mut sxz, mut syz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for p in xyz {
        let (x, y, z) = (p[0] - x_mean, p[1] - y_mean, p[2] - z_mean);
        sxx += x * x;
        syy += y * y;
        sxy += x * y;
        sxz += x * z;
        syz += y * z;
    }
    let d = sxx * syy - sxy * sxy;
    // For points on one line D is nothing but rounding: about 1e-16 of Sxx Syy for each point.
    // (1e-10 stands for a strip a hundred thousand times longer than it is wide.)
    if !(d.is_finite() && d > 1e-10 * sxx * syy && d > 0.0) {
        return None;
    }
    let a = (sxz * syy - syz * sxy) / d;
    let b = (syz * sxx - sxz * sxy) / d;
    let c = z_mean - a * x_mean - b * y_mean;
    (a.is_finite() && b.is_finite() && c.is_finite()).then_some([a, b, c])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::Place;

    fn point(x: f64, y: f64, z: f64) -> PointHeight {
        PointHeight {
            name: format!("{x},{y}"),
            place: Some(Place { x: Length::m(x), y: Length::m(y) }),
            height: Length::m(z),
            deviation: Length::mm(1.0),
            checked: false,
        }
    }

    /// Reference WE-34 (a public page of mathematics problems; answer recomputed exactly):
    /// a = 158/15, b = -7/3, c = 56/15, sum of squared residuals 64/15.
    #[test]
    fn truth_plane_through_five_points() {
        let points =
            [[0.0, -3.0, 0.0], [4.0, 0.0, 0.0], [3.0, -1.0, 1.0], [1.0, -2.0, 1.0], [-1.0, -4.0, -3.0]]
                .map(|[x, y, z]| point(x, y, z));
        let plane = best_plane(&points).expect("five points not on a line");
        assert!((plane.height_at_origin.as_m() - 158.0 / 15.0).abs() < 1e-12);
        assert!((plane.rise_along_x.as_ratio() + 7.0 / 3.0).abs() < 1e-12);
        assert!((plane.rise_along_y.as_ratio() - 56.0 / 15.0).abs() < 1e-12);
        let squares: f64 = points
            .iter()
            .map(|p| {
                let at = p.place.expect("placed");
                let off = (p.height - plane.height_at(at.x, at.y)).as_m();
                off * off
            })
            .sum();
        assert!((squares - 64.0 / 15.0).abs() < 1e-12, "{squares}");
    }

    #[test]
    fn refuse_points_on_one_line_and_too_few() {
        let line = [point(0.0, 0.0, 1.0), point(0.1, 0.3, 2.0), point(0.2, 0.6, 5.0)];
        assert_eq!(best_plane(&line), Err(SurveyError::OnOneLine { points: 3 }));
        assert_eq!(best_plane(&line[..2]), Err(SurveyError::TooFewPoints { have: 2, need: 3 }));
        let repeated = [point(1.0, 1.0, 1.0), point(1.0, 1.0, 1.0), point(1.0, 1.0, 1.0)];
        assert_eq!(best_plane(&repeated), Err(SurveyError::OnOneLine { points: 3 }));
        let broken = [point(0.0, 0.0, f64::NAN), point(1.0, 0.0, 0.0), point(0.0, 1.0, 0.0)];
        assert!(best_plane(&broken).is_err());
    }
}
