//! Packing against outside answers, against full enumeration, and against its own laws.

mod asides;
mod cases;
mod chance;
mod check;
mod enumeration;
mod laws;
mod refused;
mod remedies;
mod rules;
mod trim;
mod trim_refused;
mod trim_screws;
