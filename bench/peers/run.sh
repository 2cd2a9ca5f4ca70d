#!/usr/bin/env bash
# Times Tober beside general solvers on the same cases in one run, and writes bench/RESULTS.md.
set -eu
cd "$(dirname "$0")/../.."
venv=bench/peers/venv
[ -x "$venv/bin/python" ] || python3 -m venv "$venv"
"$venv/bin/python" -m pip install --quiet highspy==1.16.0 numpy PyNiteFEA==3.2.0
cargo build --release --quiet
cargo bench -p tober-wire --bench figures 2>/dev/null | tail -n 1 > "$venv/figures.json"
"$venv/bin/python" bench/peers/peers.py "${CARGO_TARGET_DIR:-target}/release/tober" "$venv/figures.json"
