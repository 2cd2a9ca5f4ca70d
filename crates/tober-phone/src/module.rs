//! The built core, and whether it is that of the sources it lies beside.

use sha2::{Digest, Sha256};

/// The core, built for WebAssembly by `core/build.sh`, packed by gzip and written in base64 as a page carries it.
pub const CORE: &str = include_str!("../core/core.wasm.gz.b64");

/// The hash of the sources that it was built from, as `core/build.sh` wrote it down.
pub const BUILT_FROM: &str = include_str!("../core/sources.sha256");

/// The hash of sources, given as names with their contents in the order of their names.
///
/// SHA-256 over each name, a zero byte, the length of the contents as decimal digits, a zero byte, and the contents.
pub fn hash_of<'a>(sources: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> String {
    let mut hash = Sha256::new();
    for (name, contents) in sources {
        hash.update(name.as_bytes());
        hash.update([0]);
        hash.update(contents.len().to_string().as_bytes());
        hash.update([0]);
        hash.update(contents);
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}
