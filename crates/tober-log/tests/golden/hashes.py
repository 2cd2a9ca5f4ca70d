"""Hashes of the entries of golden logs by another encoder. Needs cbor2.

    python3 hashes.py north-meadow.jsonl forked.jsonl
"""
import hashlib
import json
import sys

import cbor2


def named(text):
    name, _, mark = text.partition("#")
    device, _, seq = name.rpartition(":")
    return [device, int(seq), bytes.fromhex(mark) if mark else None]


for path in sys.argv[1:]:
    with open(path, encoding="utf-8") as file:
        next(file)
        for line in file:
            e = json.loads(line)
            fields = [0, e["device"], e["seq"], bytes.fromhex(e["prev"]) or None, e["l"], e["c"], e["wall"], e["role"],
                      e["person_tag"], e["kind"], e["body"], [named(text) for text in e["replaces"]], e["plan_hash"]]
            data = cbor2.dumps(fields, canonical=True)
            digest = hashlib.sha256(b"\0" + data).hexdigest()
            print(path, f'{e["device"]}:{e["seq"]}', "same" if digest == e["hash"] else "DIFFERS", data.hex())
