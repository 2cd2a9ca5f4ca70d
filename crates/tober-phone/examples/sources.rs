//! Prints the hash of the sources of the core: `core/build.sh` writes it beside the module.

#![expect(clippy::print_stdout, reason = "that is what it is for")]

#[path = "../tests/sources/mod.rs"]
mod sources;

fn main() {
    println!("{}", sources::hash());
}
