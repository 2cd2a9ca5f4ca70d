//! The name of a plan: the hash of what it says, so that two plans that differ have two names.

use crate::model::LegPlan;
use sha2::{Digest, Sha256};
use tober_calc::finding::Finding;

/// The first eight hexadecimal digits of the SHA-256 of the plan's legs and findings, as they are printed
/// for a programmer. Two plans with one name say the same.
pub(crate) fn name_of(legs: &[LegPlan], findings: &[Finding]) -> String {
    let mut hash = Sha256::new();
    hash.update(format!("{legs:?}{findings:?}").as_bytes());
    let digest = hash.finalize();
    digest.iter().take(4).map(|byte| format!("{byte:02x}")).collect()
}
