//! The demo visits, planned whole: working that adds up, knowledge that never hurts when it is missing, and
//! the first answer a person would try.

#![expect(clippy::print_stdout, reason = "a test prints what it measured")]

mod books;
mod knowing_less;
mod moves;
mod naive;
mod random_books;
mod rehearsal;
mod riders;
mod wheel;
mod working;
