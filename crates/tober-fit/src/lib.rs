//! Checks certificates without sharing code with the part that proposed them.

pub mod working;
