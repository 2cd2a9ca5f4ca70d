//! Prints the reference questions with this machine's answers, a pair a line: the tests in the browser compare with them.

#![expect(clippy::print_stdout, reason = "that is what it is for")]
#![expect(clippy::expect_used, reason = "it is a part of the tests")]

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../tests/questions/mod.rs"]
mod questions;

fn main() {
    for asked in questions::all() {
        let answered = tober_phone::core::answer(&asked);
        println!("{}", serde_json::json!([asked, answered]));
    }
}
