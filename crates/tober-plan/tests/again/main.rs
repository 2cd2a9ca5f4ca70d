//! Whether what is proved of a ride's steps stands when a second program checks it: over hundreds of small invented rides, and
//! that nothing false passes.

mod false_claims;
mod random;
