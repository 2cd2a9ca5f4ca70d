//! Extremes over any order against every stage there is, and against their own laws.

mod enumeration;
mod laws;
mod outside;
