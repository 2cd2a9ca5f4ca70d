#!/usr/bin/env bash
# Makes the pictures of the README and the output printed in it, from the demo. Run it after a change that
# shows; a test fails while the output in the README differs from what the command prints.
set -eu
cd "$(dirname "$0")/.."
folder=$(mktemp -d)
cargo build --release --quiet
tober="${CARGO_TARGET_DIR:-target}/release/tober"
"$tober" demo "$folder" > /dev/null
"$tober" plan "$folder/quern-meadow" > "$folder/plan.txt" || true
"$tober" plan "$folder/quern-meadow" --drawings "$folder/drawings" --png > /dev/null || true
cp "$folder/drawings/plan-landscape.png" docs/ground-plan.png
cp "$folder"/drawings/stack-*-rear-right.png docs/stack.png
"$tober" picture "$folder/quern-meadow" --png -o "$folder/steps" > /dev/null
for step in raise-mast hoist-canopy arm-C; do
  cp "$folder"/steps/step-*-"$step".png "docs/step-$step.png"
done
python3 - "$folder/plan.txt" <<'PY'
import re, sys
plan = open(sys.argv[1], encoding="utf-8").read().rstrip("\n")
readme = open("README.md", encoding="utf-8").read()
new = re.sub(r"(<!-- plan -->\n```text\n).*?(\n```\n)", lambda m: m.group(1) + plan + m.group(2), readme, flags=re.S)
open("README.md", "w", encoding="utf-8").write(new)
PY
rm -rf "$folder"
# The pages of the printed pack, which a test keeps; so it is the test that draws them.
TOBER_GOLDEN=write cargo test --release --quiet -p tober -p tober-sheets --lib regress_the_pages_in_the_readme > /dev/null
