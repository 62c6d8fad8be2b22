"""Sections with a word or two changed, told as they then stand: slips are not mended, odd dances stay odd.

    python training/retelling/literal.py OUT.jsonl ROWS.jsonl [--seed 1] [--each 1]

Only sections that the rules read just as meant are changed, and only changes are kept that the rules read as that one change:
another foot, hand, way or step in one place, the rest untouched.
"""

from __future__ import annotations

import argparse
import json
import random
import re
from pathlib import Path
from typing import Any

from softshoe.dance.document import dance_json
from softshoe.errors import WorkbenchError
from softshoe.wording.read import read
from softshoe.wording.retell_codes import codes_of

Row = dict[str, Any]
SIDES = [("right", "left"), ("r", "l"), ("rf", "lf"), ("rh", "lh"), ("right's", "left's")]
WAYS = [
    ("forward", "back"),
    ("fwd", "back"),
    ("forwards", "backwards"),
    ("front", "back"),
    ("behind", "in front"),
    ("beside", "across"),
    ("up", "down"),
    ("across", "behind"),
    ("side", "forward"),
]
STEPS = [("touch", "kick", "step", "stomp", "hitch", "scuff", "point", "tap", "brush", "flick", "heel"), ("touches", "kicks", "steps", "stomps", "taps", "brushes"),
         ("clap", "snap", "hold", "pat"), ("push", "punch", "reach", "wave", "pull", "circle"), ("step", "touch", "hold"), ("1/4", "1/2"), ("quarter", "half"), ("together", "forward", "back")]  # fmt: skip
KIN: dict[str, list[str]] = {}
for table in (SIDES, WAYS, STEPS):
    for words in table:
        for word in words:
            KIN.setdefault(word, []).extend(w for w in words if w != word)
WORD = re.compile(
    r"(?<![\w/'’])(?:" + "|".join(sorted(map(re.escape, KIN), key=len, reverse=True)) + r")(?![\w/'’])", re.IGNORECASE
)
SIDE = {word for pair in SIDES for word in pair}


def told(row: Row) -> tuple[list[Any], bool] | None:
    """Return the events that the rules read in a section, and whether they hold a word for unread."""
    head = f"Kettle\n{row['counts']} counts, 1 wall, beginner{', seated' if row['seated'] else ''}\n\nSection 1\n"
    try:
        dance = dance_json(read(head + row["text"]))
    except WorkbenchError:
        return None
    return dance["events"], any(
        f["kind"] in ("word", "unread", "ambiguous", "section-length") for f in dance["findings"]
    )


def cased(word: str, like: str) -> str:
    return word.upper() if like.isupper() else word.capitalize() if like[0].isupper() else word


def changed(row: Row, rng: random.Random) -> Row | None:
    """The row with one word changed and its codes as the rules read them; None where that is not one change."""
    places = list(WORD.finditer(row["text"]))
    if not places:
        return None
    sides = [m for m in places if m[0].casefold() in SIDE]
    at = rng.choice(sides if sides and rng.random() < 0.5 else places)
    new = cased(rng.choice(KIN[at[0].casefold()]), at[0])
    text = row["text"][: at.start()] + new + row["text"][at.end() :]
    found = told({**row, "text": text})
    if found is None or found[1]:
        return None
    codes = codes_of(found[0])
    before, after = by_moment(row["codes"]), by_moment(codes)
    if before.keys() != after.keys() or not codes:
        return None
    other = [t for t in before if before[t] != after[t]]
    if len(other) != 1 or not is_literal(before[other[0]], after[other[0]], at[0].casefold() in SIDE):
        return None
    return {**row, "text": text, "codes": codes}


def is_literal(before: list[str], after: list[str], side: bool) -> bool:
    """Return whether one event became the other by the one word that changed."""
    if len(before) != len(after):
        return not side
    differ = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    if not side:
        return len(differ) <= 2
    return all(a.partition(":")[0] == b.partition(":")[0] in ("foot", "arm", "dir", "turn", "to") for a, b in differ)


def by_moment(codes: list[str]) -> dict[str, list[str]]:
    out: dict[str, list[str]] = {}
    at = ""
    for code in codes:
        if re.fullmatch(r"c\d+", code):
            at = code
        elif code in ("&", "e", "a"):
            at += code
        out.setdefault(at, []).append(code)
    return out


def main() -> None:
    ask = argparse.ArgumentParser()
    ask.add_argument("out")
    ask.add_argument("rows")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--each", type=int, default=1)
    ask.add_argument("--part", default="0/1")
    own = ask.parse_args()
    part, parts = map(int, own.part.split("/"))
    rng = random.Random(own.seed * 100 + part)
    rows = [json.loads(line) for line in Path(own.rows).read_text(encoding="utf-8").splitlines() if line]
    kept = tried = 0
    with Path(own.out).open("w", encoding="utf-8") as out:
        for row in rows[part::parts]:
            found = told(row)
            if found is None or found[1] or codes_of(found[0]) != row["codes"]:
                continue
            for _ in range(own.each):
                tried += 1
                new = changed(row, rng)
                if rng.random() < 0.3 and new is not None:
                    new = changed(new, rng) or new
                if new is not None:
                    kept += 1
                    out.write(json.dumps({**new, "literal": True}, ensure_ascii=False) + "\n")
    print(kept, "kept of", tried, "tried,", len(rows[part::parts]), "sections")


if __name__ == "__main__":
    main()
