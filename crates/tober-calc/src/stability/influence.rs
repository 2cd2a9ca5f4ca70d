//! How the load of each support depends on where a weight stands, while every support touches.

use super::error::{StabilityError, counted, within};
use super::hull;
use super::ride::Contact;
use tober_quantity::{Length, Quantity, Ratio, Stiffness};

/// The least width that the springs may span, as a radius of gyration about their own middle.
const WIDTH_LEAST_M: f64 = 0.001;

/// The share of a weight at (x, y) that a support carries: constant + per_x · x + per_y · y, in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Influence {
    pub(super) constant: f64,
    pub(super) per_x: f64,
    pub(super) per_y: f64,
}

impl Influence {
    /// The share of a weight at a place.
    pub fn share(self, x: Length, y: Length) -> Ratio {
        Ratio::one(self.constant + self.per_x * x.as_m() + self.per_y * y.as_m())
    }
}

/// The influence of each support of a rigid frame on springs, all of them in contact.
///
/// R_i = k_i (1, x_i, y_i) A⁻¹ (1, x, y)ᵀ W with A = Σ k (1, x, y)ᵀ(1, x, y); k in N/m, places in m. Equal to the
/// textbook form R_i = k_i (P/K + P x x_i / I_y + P y y_i / I_x) about the stiffness-weighted centroid and
/// principal axes. Holds while no load that results is below zero. Source: statics.
///
/// # Errors
/// Refuses fewer than three supports, two in one place, all on a line, and a stiffness outside
/// 1 N/m to 10¹² N/m, and stiffnesses so unlike that one line of supports carries all.
pub fn support_influences(supports: &[(Contact, Stiffness)]) -> Result<Vec<Influence>, StabilityError> {
    counted("supports", supports.len(), 3, 1000)?;
    let contacts: Vec<Contact> = supports.iter().map(|(contact, _)| contact.clone()).collect();
    hull::edges(&contacts)?;
    let mut total_k = 0.0;
    for (contact, stiffness) in supports {
        let name = &contact.name;
        within("stiffness", name, *stiffness, Stiffness::n_per_m(1.0), Stiffness::n_per_m(1e12))?;
        total_k += stiffness.si();
    }
    let weighted = |of: fn(&Contact) -> f64| {
        supports.iter().map(|(contact, k)| k.si() * of(contact)).sum::<f64>() / total_k
    };
    // About the weighted centroid the matrix falls apart into 1 + 2, which keeps its rounding small.
    let (mid_x, mid_y) = (weighted(|c| c.x.si()), weighted(|c| c.y.si()));
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (contact, k) in supports {
        let (x, y) = (contact.x.si() - mid_x, contact.y.si() - mid_y);
        xx += k.si() * x * x;
        xy += k.si() * x * y;
        yy += k.si() * y * y;
    }
    let determinant = xx * yy - xy * xy;
    // Springs so unlike that one line of them carries all leave the frame free to turn about that line.
    let width_m = (determinant.max(0.0) / ((xx + yy) * total_k)).sqrt();
    if width_m.is_nan() || width_m < WIDTH_LEAST_M {
        return Err(StabilityError::OneLine {
            width: Length::m(width_m).amount(),
            least: Length::m(WIDTH_LEAST_M).amount(),
        });
    }
    let influence = |(contact, k): &(Contact, Stiffness)| {
        let (x, y) = (contact.x.si() - mid_x, contact.y.si() - mid_y);
        let per_x = k.si() * (yy * x - xy * y) / determinant;
        let per_y = k.si() * (xx * y - xy * x) / determinant;
        Influence { constant: k.si() / total_k - per_x * mid_x - per_y * mid_y, per_x, per_y }
    };
    Ok(supports.iter().map(influence).collect())
}
