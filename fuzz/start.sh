#!/usr/bin/env bash
# Lays down real files for the targets to begin from: the demo's, the readers' tests', the shared cases.
set -euo pipefail
cd "$(dirname "$0")/.."
mkdir -p fuzz/corpus/{ride,kit,crew,pitch,visit,quantities,calculations,plan,entries,codes}
for kind in ride kit crew pitch visit; do
  find demo crates/tober-book/tests/data -name "*$kind.toml" | while read -r file; do
    name=$(tr '/' '-' <<< "$file")
    cp "$file" "fuzz/corpus/$kind/$name"
    case $kind in crew) ;; *) cp "$file" "fuzz/corpus/plan/$name" ;; esac
  done
done
cp crates/tober-log/tests/golden/*.jsonl fuzz/corpus/entries/
cp crates/tober-log/tests/golden/*.codes.txt fuzz/corpus/codes/
python3 - <<'END'
import json, pathlib, re
data = pathlib.Path("crates/tober-calc/tests/data")
for name in ("c_packing.json", "a_rigid.json"):
    for case in json.loads((data / name).read_text(encoding="utf-8"))["cases"]:
        pathlib.Path("fuzz/corpus/calculations", case["id"]).write_text(json.dumps(case), encoding="utf-8")
# Every quoted string of the demo that begins with a digit is a quantity of some kind.
texts = {q for p in pathlib.Path("demo").rglob("*.toml") for q in re.findall(r'"(-?\d[^"\n]*)"', p.read_text(encoding="utf-8"))}
for number, text in enumerate(sorted(texts)):
    pathlib.Path("fuzz/corpus/quantities", str(number)).write_text(text, encoding="utf-8")
END
