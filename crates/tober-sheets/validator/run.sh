#!/usr/bin/env bash
# Prints packs of the demo and validates them against PDF/UA-1 and PDF/A-2a.
#   run.sh --there      says what is missing, and fails if anything is
#   run.sh --fetch      fetches the archive that holds the validator, by its hash
#   run.sh PROGRAM      prints with PROGRAM and validates
set -u
here=$(cd "$(dirname "$0")" && pwd)
archive=$here/fetched/validator.jar
wanted=$here/requirements.txt

case ${1:-} in
  --there)
    [ "$archive" -nt "$wanted" ] && exit 0
    echo "missing: the validator of PDF (crates/tober-sheets/validator/run.sh --fetch; Debian: apt-get install python3-pip)"
    exit 1 ;;
  --fetch)
    folder=$(mktemp -d)
    trap 'rm -rf "$folder"' EXIT
    python3 -m pip --disable-pip-version-check download --quiet --no-deps --require-hashes --only-binary :all: \
      -r "$wanted" -d "$folder" || exit 1
    mkdir -p "$here/fetched"
    python3 - "$folder" "$archive" <<'PY' || exit 1
import pathlib, sys, zipfile
[package] = pathlib.Path(sys.argv[1]).glob("*.whl")
with zipfile.ZipFile(package) as held:
    [name] = [name for name in held.namelist() if name.endswith(".jar")]
    pathlib.Path(sys.argv[2]).write_bytes(held.read(name))
PY
    exit 0 ;;
  --* | "") echo "usage: run.sh --there | --fetch | PROGRAM"; exit 2 ;;
esac

program=$1
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
"$program" demo "$folder/demo" > /dev/null
# What each print brings that the others do not: every sheet; codes, the other paper, units and words; lifts; a visit
# without any reading. A print that warns of its plan ends with 1 to 3 and is printed all the same.
prints() {
  "$program" sheets "$folder/demo/quern-meadow" -o "$folder/whole.pdf"
  "$program" sheets "$folder/demo/kestrel-yard" -o "$folder/letter-us-codes.pdf" --for hand --paper letter --units us --words us \
    --at http://van.invalid/kestrel-yard
  "$program" sheets "$folder/demo/kestrel-yard" -o "$folder/lifts.pdf" --only lifts
  "$program" sheets "$folder/demo/plover-hard" -o "$folder/legs.pdf" --only legs --units metric
}
prints > "$folder/printed" 2>&1
for file in whole letter-us-codes lifts legs; do
  [ -s "$folder/$file.pdf" ] || { cat "$folder/printed"; echo "not printed: $file.pdf"; exit 1; }
done
java -cp "$archive" org.mozilla.javascript.tools.shell.Main "$here/validate.js" \
  "$folder"/whole.pdf "$folder"/letter-us-codes.pdf "$folder"/lifts.pdf "$folder"/legs.pdf
