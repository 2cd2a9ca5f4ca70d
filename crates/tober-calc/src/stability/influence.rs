//! How the load of each support depends on where a weight stands, while every support touches.

use super::error::{StabilityError, counted, within};
use super::hull;
use super::ride::Contact;
use tober_quantity::{Quantity, Stiffness};

/// The share of a weight at (x, y) that a support carries: constant + per_x · x + per_y · y, in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Influence {
    /// The share of a weight at the origin.
    pub constant: f64,
    /// The growth of the share for each metre along the frame.
    pub per_x: f64,
    /// The growth of the share for each metre across the frame.
    pub per_y: f64,
}

impl Influence {
    /// The share of a weight at a place.
    pub(super) fn at(self, x_m: f64, y_m: f64) -> f64 {
        self.constant + self.per_x * x_m + self.per_y * y_m
    }
}

/// The influence of each support of a rigid frame on springs, all of them in contact.
///
/// R_i = k_i (1, x_i, y_i) A⁻¹ (1, x, y)ᵀ W with A = Σ k (1, x, y)ᵀ(1, x, y); k in N/m, places in m. Equal to the
/// textbook form R_i = k_i (P/K + P x x_i / I_y + P y y_i / I_x) about the stiffness-weighted centroid and
/// principal axes. Holds while no load that results is below zero. Source: statics.
///
/// # Errors
/// Refuses fewer than three supports, two in one place, all on a line, and a stiffness outside 1 N/m to 10¹² N/m.
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
    let influence = |(contact, k): &(Contact, Stiffness)| {
        let (x, y) = (contact.x.si() - mid_x, contact.y.si() - mid_y);
        let per_x = k.si() * (yy * x - xy * y) / determinant;
        let per_y = k.si() * (xx * y - xy * x) / determinant;
        Influence { constant: k.si() / total_k - per_x * mid_x - per_y * mid_y, per_x, per_y }
    };
    let influences: Vec<Influence> = supports.iter().map(influence).collect();
    for (influence, (contact, k)) in influences.iter().zip(supports) {
        // Springs so unlike that one line of them carries all leave the frame free to turn about that line.
        if ![influence.constant, influence.per_x, influence.per_y].iter().all(|x| x.is_finite()) {
            within("stiffness", &contact.name, *k, Stiffness::n_per_m(1e3), Stiffness::n_per_m(1e10))?;
            return Err(StabilityError::Count {
                what: "supports that can be told apart by their stiffness",
                given: 0,
                fewest: 3,
                most: 1000,
            });
        }
    }
    Ok(influences)
}
