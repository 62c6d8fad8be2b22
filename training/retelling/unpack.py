"""Weights of the package made ready to go on from: a checkpoint, and its joints and pieces, with the words of more rows beside.

python training/retelling/unpack.py WEIGHTS.npz START.pt JOINTS.json [ROWS.jsonl …]
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from pathlib import Path

import numpy as np
import torch

from softshoe.wording.retell_pieces import SHEET, words_of
from softshoe.wording.text_net import TextNet


def main() -> None:
    source, out, joints, *rows = sys.argv[1:]
    net = TextNet(Path(source).name, source)
    with np.load(source) as arrays:
        words = json.loads(arrays["words"].tobytes().decode())
    torch.save(
        {"net": {name: torch.from_numpy(value.copy()).half() for name, value in net.w.items()}, "known": words["known"],
         "codes": words["codes"]}, out
    )  # fmt: skip
    texts = [json.loads(line)["text"] for name in rows for line in Path(name).read_text(encoding="utf-8").splitlines()]
    often = Counter(w.text for text in texts for w in words_of(text) if w.text[0].isalpha() and len(w.text) > 2)
    stood = sorted({*words.get("words", ()), *(word for word, n in often.items() if n > 1)})
    known = [*words["known"], *(sign for sign in (SHEET,) if rows and sign not in words["known"])]
    Path(joints).write_text(
        json.dumps({"words": stood, "joints": words["joints"], "known": known}, ensure_ascii=False), encoding="utf-8"
    )
    print(len(known), "pieces,", len(stood), "words")


if __name__ == "__main__":
    main()
