//! Any order: the worst value over every stage that a procedure admits.
//!
//! Steps are restricted only by "must be done before". A *stage* is a set of steps done that holds, with each
//! step, everything that must be done before it; every order of the steps runs through stages, and every stage
//! is met by some order. A quantity of the form
//!
//! `value(stage) = start + sum over the steps done of change(step)`
//!
//! has its greatest and least value over all stages by one minimum cut each ([`greatest`], [`least`]), in whole
//! numbers and so exactly. A step with a *peak* is split in two, begun and done, with `peak` while it is under way;
//! that covers several steps under way at once. Each answer carries a [`CutProof`], which another program can check
//! by additions alone.
//!
//! Source: maximum closure of a graph by a minimum cut; J.-C. Picard, *Maximal closure of a graph and applications
//! to combinatorial problems*, Management Science 22(11), 1976 (from memory).
//!
//! On that stand: bodies whose mass lies between two ends, as weights of steps ([`Loads`]); steps that change the weights of
//! others, such as turns to stated angles or a support set ([`greatest_by`]); a turntable at any angle, as a value that is met and a bound
//! close above it ([`greatest_turning`]); and the fewest more rules with which nothing offends ([`cures`]).
//!
//! Cost, for n steps and m direct rules: [`Precedence::new`] is O(n m / 64) in words; a cut is at most
//! O(n^2 (n + m)) (Dinic), and grows nearly as n + m on procedures, whose rules are few. `cargo bench -p tober-calc --bench orders`
//! measures it.
//!
//! # Not covered
//! Steps that exclude one another (run each branch), steps done more than once, and a quantity that depends on the
//! product of two steps' states. That the weights are right is for the one who made them.

mod bodies;
mod branches;
mod cures;
mod extreme;
mod flow;
mod precedence;
mod rotor;
mod set;
mod whole;

pub use bodies::{Arm, Body, Direction, Loads, LoadsError};
pub use branches::{Branch, branches, greatest_by};
pub use cures::{Cures, Offence, PROVED_MOST, Rule, WORK, cures, prevents};
pub use extreme::{
    CutProof, Extreme, Moved, Tally, WideExtreme, WideTally, greatest, greatest_wide, least, least_wide,
};
pub use precedence::Precedence;
pub use rotor::{Arc, Close, Turning, TurningProof, greatest_turning};
pub use set::StepSet;
pub use whole::{Floating, Whole};
