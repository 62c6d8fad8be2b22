"""Learns which letters are joined to pieces of words, from the words of the training texts.

python training/retelling/joints.py OUT.json TALK.txt ROWS.jsonl …
"""

from __future__ import annotations

import itertools
import json
import sys
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.wording.retell_pieces import INSIDE, SHEET, UNKNOWN, Pair, words_of

if TYPE_CHECKING:
    from collections.abc import Iterable

FEWEST = 3


def learnt(texts: Iterable[str], most: int = 1300) -> tuple[list[Pair], list[str]]:
    """Return the joints in their order, and all pieces that may come of them (UNKNOWN first)."""
    words: Counter[str] = Counter()
    known: set[str] = set("abcdefghijklmnopqrstuvwxyz0123456789'&.,;:!?-()/*+\n\"½¼¾|")
    known |= {INSIDE + one for one in "abcdefghijklmnopqrstuvwxyz0123456789'"}
    for text in texts:
        for word in words_of(text):
            if len(word.text) > 1 and not word.text.startswith(INSIDE):
                words[word.text] += 1
    parts = {word: [word[0], *(INSIDE + c for c in word[1:])] for word in words}
    joints: list[Pair] = []
    while len(joints) < most:
        pairs: Counter[Pair] = Counter()
        for word, often in words.items():
            row = parts[word]
            for pair in itertools.pairwise(row):
                pairs[pair] += often
        if not pairs:
            break
        best, often = max(pairs.items(), key=lambda item: (item[1], item[0]))
        if often < FEWEST:
            break
        joints.append(best)
        whole = best[0] + best[1].removeprefix(INSIDE)
        known.add(whole)
        for row in parts.values():
            k = 0
            while k < len(row) - 1:
                if row[k] == best[0] and row[k + 1] == best[1]:
                    row[k : k + 2] = [whole]
                k += 1
    return joints, [UNKNOWN, *sorted(known)]


def main() -> None:
    out, talk, *rows = sys.argv[1:]
    texts = [json.loads(line)["text"] for name in rows for line in Path(name).read_text(encoding="utf-8").splitlines()]
    joints, known = learnt([*texts, *Path(talk).read_text(encoding="utf-8").splitlines()])
    often = Counter(w.text for text in texts for w in words_of(text) if w.text[0].isalpha() and len(w.text) > 2)
    stood = sorted(word for word, n in often.items() if n > 1)
    words = {"words": stood, "joints": joints, "known": [*known, "<seated>", "<standing>", SHEET]}
    Path(out).write_text(json.dumps(words, ensure_ascii=False), encoding="utf-8")


if __name__ == "__main__":
    main()
