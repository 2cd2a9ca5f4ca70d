#!/usr/bin/env bash
# Times Tober beside general solvers on the same cases in one run, and writes bench/RESULTS.md.
set -euo pipefail
cd "$(dirname "$0")/../.."
venv=bench/peers/venv
[ -x "$venv/bin/python" ] || python3 -m venv "$venv"
"$venv/bin/python" -m pip install --quiet highspy==1.16.0 numpy==2.4.6 PyNiteFEA==3.2.0
cargo bench --quiet -p tober-wire --features command --bench figures > "$venv/figures.json"
cargo bench --quiet -p tober-calc --bench supports -- --json > "$venv/supports.json"
"$venv/bin/python" bench/peers/peers.py "$venv/figures.json" "$venv/supports.json"
