//! The proof that goes with an answer.

/// What shows, by itself, that the reactions are right.
///
/// Reactions that balance the load, push only, and each follow from one position of the frame by
/// `R = k*max(0, c)`, are *the* reactions: these conditions are necessary and sufficient, and at most
/// one set of reactions meets them (the dual problem is strictly convex). So nothing needs to be
/// known of how they were found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Certificate {
    /// `|sum R - W| / W`.
    pub force_residual: f64,
    /// The greater of `|sum R*(x - x_r)|` and `|sum R*(y - y_r)|` about the resultant, over W times the extent.
    pub moment_residual: f64,
    /// The greatest `|R - k*max(0, c)| / W`, with c taken anew from the displacement.
    pub spring_residual: f64,
    /// The least reaction over W; never negative.
    pub least_reaction: f64,
}

impl Certificate {
    /// What a residual must not be above.
    pub const RESIDUAL_MOST: f64 = 1e-10;

    /// The greatest residual.
    pub fn residual(&self) -> f64 {
        self.force_residual.max(self.moment_residual).max(self.spring_residual).max(-self.least_reaction)
    }

    /// Whether the answer is proved to 1e-10 of the load.
    pub fn holds(&self) -> bool {
        // Written so that a residual that is not a number fails.
        self.residual() <= Self::RESIDUAL_MOST
            && self.force_residual.is_finite()
            && self.moment_residual.is_finite()
            && self.spring_residual.is_finite()
    }
}
