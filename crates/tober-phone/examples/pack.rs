//! Packs what comes in as a gzip member (RFC 1952), as small as can be: `core/build.sh` packs the module with it.
//!
//! A page has a limit to its size, and what gzip writes is a twentieth larger.

use std::io::{Error, stdin, stdout};

fn main() -> Result<(), Error> {
    zopfli::compress(zopfli::Options::default(), zopfli::Format::Gzip, stdin().lock(), stdout().lock())
}
