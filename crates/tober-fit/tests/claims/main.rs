//! Sound claims pass; broken ones are refused for their stated reasons; the slow way agrees with the checker.

mod band_claims;
mod change_claims;
mod lifts;
mod moves;
mod mutations;
mod packing_claims;
mod procedure;
mod proofs;
mod prover;
mod reach_claims;
mod reading;
mod riders_claims;
mod slowly;
mod support_claims;
