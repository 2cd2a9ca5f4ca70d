//! The core as a program: one question on standard input, one answer on standard output.
//!
//! Built for WebAssembly it is what a phone runs. The two streams are all it has of the world, so that a page can
//! give it both, and the same program runs on a laptop, where its bytes are compared with the phone's.

use std::io::{Read, Write};

fn main() {
    let mut question = String::new();
    let answer = match std::io::stdin().lock().read_to_string(&mut question) {
        Ok(_) => tober_phone::core::answer(&question),
        Err(error) => tober_phone::core::refused(&format!("The question cannot be read: {error}.")),
    };
    let _ = std::io::stdout().lock().write_all(answer.as_bytes());
}
