//! Packs what comes in as LZMA with its head of thirteen bytes, as small as can be: `core/build.sh` packs the module with it.
//!
//! A page has a limit to its size, and the smallest gzip member is a quarter larger. The page unpacks it by itself.

use lzma_rust2::{EncodeMode, LzmaOptions, LzmaWriter, MfType};
use std::io::{Error, Read, Write, stdin, stdout};

fn main() -> Result<(), Error> {
    let mut whole = Vec::new();
    stdin().lock().read_to_end(&mut whole)?;
    // By four bits of the letter before, whatever the place: a module is a row of bytes, in no groups.
    let options = LzmaOptions {
        dict_size: 1 << 23,
        lc: 4,
        lp: 0,
        pb: 0,
        mode: EncodeMode::Normal,
        nice_len: 273,
        mf: MfType::Bt4,
        depth_limit: 1000,
        preset_dict: None,
    };
    let mut packing = LzmaWriter::new_use_header(stdout().lock(), &options, Some(whole.len() as u64))?;
    packing.write_all(&whole)?;
    packing.finish()?.flush()
}
