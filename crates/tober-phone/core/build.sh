#!/usr/bin/env bash
# Builds the core for WebAssembly, and writes the module, what it was built with, and the hash of its sources.
#
#     build.sh            into this folder, to be committed
#     build.sh FOLDER     into another one, to be compared; ends with 4 where no compiler for it can be had
#
# With the rustup target wasm32-wasip1 where it is installed. On Debian-like systems without it, from the
# distribution's own compiler and standard-library sources (packages rustc-web, rust-web-src, libllvm22, wasi-libc
# and lld-19), unpacked into target/web. The streams of WASI are all that the core is given: no unsafe code, and no
# generated bindings.
set -eu
out=$(realpath -m "${1:-$(dirname "$0")}")
cd "$(dirname "$0")/../../.."
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-target}"
# No path of the machine that builds stands in the module, so that another machine gets the same bytes.
plain="--remap-path-prefix=$PWD=tober --remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}=crates"
build() { cargo build --profile core -p tober-phone --example tober-core --target wasm32-wasip1 "$@"; }
no_compiler() { echo "No compiler for WebAssembly can be had here: $1" >&2; exit 4; }

# Fetches Debian's compiler into target/web, if it is not there whole.
fetch() {
  [ -f "$web/whole" ] && return 0
  command -v apt-get >/dev/null 2>&1 || no_compiler "rustup has no target wasm32-wasip1, and there is no apt-get."
  rm -rf "$web"
  mkdir -p "$web/packages"
  [ -n "$(apt-cache pkgnames rustc-web 2>/dev/null)" ] || apt-get update -qq || no_compiler "apt-get update failed."
  if [ ! -f /usr/lib/wasm32-wasi/libc.a ] || ! command -v wasm-ld-19 >/dev/null 2>&1; then
    apt-get install -y -qq wasi-libc lld-19 >/dev/null || no_compiler "the packages wasi-libc and lld-19 cannot be installed."
  fi
  # The compiler loads its own library, whose package has the version in its name.
  local std
  std=$(apt-cache depends libstd-rust-web-dev | grep -oE 'libstd-rust-web-[0-9.]+' | head -n 1) || true
  (cd "$web/packages" && apt-get download -qq rustc-web rust-web-src libllvm22 libstd-rust-web-dev ${std:+"$std"}) 2>/dev/null \
    || no_compiler "the package rustc-web and its fellows cannot be fetched."
  for package in "$web"/packages/*.deb; do dpkg -x "$package" "$web"; done
  rm -rf "$web/packages"
  local library
  library=$(ls -d "$web"/usr/src/rustc-*/library)
  mkdir -p "$web/usr/lib/rustlib/src/rust"
  ln -sfn "$library" "$web/usr/lib/rustlib/src/rust/library"
  touch "$web/whole"
}

mkdir -p "$out"
if command -v rustup >/dev/null 2>&1 && rustup target list --installed 2>/dev/null | grep -qx wasm32-wasip1; then
  with="$(rustc --version), the target of rustup"
  export CARGO_TARGET_WASM32_WASIP1_RUSTFLAGS="$plain"
  build
else
  web=$(realpath -m target/web)
  fetch
  export LD_LIBRARY_PATH="$web/usr/lib/x86_64-linux-gnu" RUSTC="$web/usr/bin/rustc" RUSTC_BOOTSTRAP=1
  with="$("$RUSTC" --version), $(wasm-ld-19 --version), wasi-libc $(dpkg-query -W -f='${Version}' wasi-libc)"
  export CARGO_TARGET_WASM32_WASIP1_RUSTFLAGS="-Zunstable-options -Cpanic=immediate-abort -Clinker=wasm-ld-19 -Clinker-flavor=wasm-ld -Clink-self-contained=no -Clink-arg=-L/usr/lib/wasm32-wasi -Clink-arg=/usr/lib/wasm32-wasi/crt1-command.o --remap-path-prefix=$web=rust $plain"
  # A fault of ours ends the program and the page says so in its own words, so the module carries none of its own: a
  # sixth of its weight.
  build -Zbuild-std=std,panic_abort -Zbuild-std-features=optimize_for_size
fi
printf '%s\n' "$with" > "$out/built-with"
unset RUSTC RUSTC_BOOTSTRAP LD_LIBRARY_PATH CARGO_TARGET_WASM32_WASIP1_RUSTFLAGS
cargo run --release --quiet -p tober-phone --example pack \
  < "$CARGO_TARGET_DIR/wasm32-wasip1/core/examples/tober-core.wasm" | base64 -w 0 > "$out/core.wasm.lzma.b64"
# The module does not depend on the hash beside it, so it is written last.
cargo run --release --quiet -p tober-phone --example sources > "$out/sources.sha256"
ls -l "$out/core.wasm.lzma.b64"
