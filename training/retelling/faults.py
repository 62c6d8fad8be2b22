"""Sections with a slip that the author has to mend: the network learns to tell none of them (``fault``)."""

from __future__ import annotations

import itertools
import re
from typing import TYPE_CHECKING, Any

from compose import LABEL, between

if TYPE_CHECKING:
    import random

Row = dict[str, Any]
FAULT = "fault"
MORE = {"rest": ("rests on the {s} knee", "rests in the lap", "goes to the hip"), "pat": ("pats the {s} thigh", "taps the knee"),
        "push": ("pushes forward",), "wave": ("waves overhead", "waves to the neighbours"), "reach": ("reaches up", "reaches out to the side"),
        "punch": ("punches forward", "punches up")}  # fmt: skip
RANGE = re.compile(r"([1-8])(\s*(?:[-–—]|to)\s*)([1-8])")


def faulty(row: Row, rng: random.Random) -> Row | None:
    """The row with one slip, or None where it has no place for one."""
    lines = [line for line in row["text"].split("\n") if line.strip()]
    labels = [LABEL.match(line) for line in lines]
    if len(lines) < 2 or not all(labels):
        return None
    spans = [(int(m[1]), int(m[2] or m[1])) for m in labels if m]
    if spans[0][0] != 1 or any(b[0] != a[1] + 1 for a, b in itertools.pairwise(spans)):
        return None
    k = rng.randrange(len(lines))
    kind = rng.choice(("gone", "twice", "late", "early", "sign", "arms", "arms"))
    if kind == "gone" and k < len(lines) - 1:
        del lines[k]
    elif kind == "twice":
        lines.insert(k, lines[k])
    elif kind in ("late", "early") and k and (found := RANGE.search(lines[k][: labels[k].end()])):
        first = int(found[1]) + (1 if kind == "late" else -1)
        if first > int(found[3]):
            return None
        lines[k] = lines[k][: found.start()] + f"{first}{found[2]}{found[3]}" + lines[k][found.end() :]
    elif kind == "sign" and (found := re.search(r"\b([1-8])\s*&\s*([2-8])\b", row["text"])):
        text = row["text"][: found.start()] + f"{found[1]}-{found[2]}" + row["text"][found.end() :]
        return {**row, "text": text, "codes": [FAULT, "end"]}
    elif kind == "arms":
        codes = between(row["codes"], *spans[k])
        sides = [c[4:] for c in codes if c.startswith("arm:")]
        gesture = next((c[5:] for c in codes if c.startswith("hand:")), "")
        if spans[k][0] != spans[k][1] or len(sides) != 1 or sides[0] not in "LR":
            return None
        other = rng.choice([g for g in MORE if g != gesture])
        long = rng.random() < 0.5
        side = {"R": "right", "L": "left"}[sides[0]] if long else sides[0]
        glue = rng.choice((" and ", ", ", " while the "))
        lines[k] = lines[k].rstrip(". ") + f"{glue}{side} hand {rng.choice(MORE[other]).format(s=side)}"
    else:
        return None
    return {**row, "text": "\n".join(lines), "codes": [FAULT, "end"]}
