#!/usr/bin/env bash
# Builds the core for WebAssembly into crates/tober-phone/core/core.wasm.gz.b64, and writes down the hash of its sources.
#
# With the rustup target wasm32-wasip1 where it is installed. On Debian-like systems without it, from the
# distribution's own compiler and standard-library sources (packages rustc-web, rust-web-src, libllvm22, wasi-libc
# and lld-19), unpacked into target/web. The streams of WASI are all that the core is given: no unsafe code, and no
# generated bindings.
set -eu
cd "$(dirname "$0")/../../.."
out=crates/tober-phone/core
build() { cargo build --profile core -p tober-phone --example tober-core --target wasm32-wasip1 "$@"; }
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-target}"
if command -v rustup >/dev/null 2>&1 && rustup target list --installed 2>/dev/null | grep -qx wasm32-wasip1; then
  build
else
  web=$(realpath -m target/web)
  if [ ! -x "$web/usr/bin/rustc" ]; then
    mkdir -p "$web/packages"
    [ -f /usr/lib/wasm32-wasi/libc.a ] && command -v wasm-ld-19 >/dev/null 2>&1 || apt-get install -y -qq wasi-libc lld-19 >/dev/null
    # The compiler loads its own library, whose package has the version in its name.
    std=$(apt-cache depends libstd-rust-web-dev | grep -oE 'libstd-rust-web-[0-9.]+' | head -n 1)
    (cd "$web/packages" && apt-get download rustc-web rust-web-src libllvm22 libstd-rust-web-dev "$std" 2>/dev/null)
    for package in "$web"/packages/*.deb; do dpkg -x "$package" "$web"; done
    library=$(ls -d "$web"/usr/src/rustc-*/library)
    mkdir -p "$web/usr/lib/rustlib/src/rust"
    ln -sfn "$library" "$web/usr/lib/rustlib/src/rust/library"
  fi
  export LD_LIBRARY_PATH="$web/usr/lib/x86_64-linux-gnu" RUSTC="$web/usr/bin/rustc" RUSTC_BOOTSTRAP=1
  export CARGO_TARGET_WASM32_WASIP1_RUSTFLAGS="-Clinker=wasm-ld-19 -Clinker-flavor=wasm-ld -Clink-self-contained=no -Clink-arg=-L/usr/lib/wasm32-wasi -Clink-arg=/usr/lib/wasm32-wasi/crt1-command.o --remap-path-prefix=$web=rust --remap-path-prefix=$PWD=tober --remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}=crates"
  build -Zbuild-std=std,panic_abort
fi
gzip -9 -n -c "$CARGO_TARGET_DIR/wasm32-wasip1/core/examples/tober-core.wasm" | base64 -w 0 > "$out/core.wasm.gz.b64"
unset RUSTC RUSTC_BOOTSTRAP LD_LIBRARY_PATH CARGO_TARGET_WASM32_WASIP1_RUSTFLAGS
# The module does not depend on the hash beside it, so it is written last.
cargo run --release --quiet -p tober-phone --example sources > "$out/sources.sha256"
ls -l "$out/core.wasm.gz.b64"
