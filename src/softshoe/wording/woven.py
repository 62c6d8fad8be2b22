"""Clauses with counts of their own that fill a stretch together: "On 1 and 3 pat the thighs, on 2 and 4 clap"."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import Label, label_at
from softshoe.wording.limbed import bare
from softshoe.wording.parts import Item
from softshoe.wording.ranges_behind import sentences

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.lex import Token


def interleaved(tokens: Sequence[Token]) -> Item | None:
    """Return one item for such clauses; None for others, or where a sentence beside them tells no count."""
    parts = sentences(tokens)
    if len(parts) > 1 and any(_moves(part) and not _counted(part) for part in parts):
        return None
    told: list[list[Fraction]] = []
    i = 0
    while i < len(tokens):
        read = label_at(tokens, i) if tokens[i].kind == "on" else None
        if read is None:
            i += 1
            continue
        places, i = list(read[0].places), read[1]
        while i + 1 < len(tokens) and tokens[i].low in ("and", "&", ",") and (more := label_at(tokens, i + 1)):
            if tokens[i + 1].kind != "num":
                break
            places += more[0].places
            i = more[1]
        told.append(places)
    counts = sorted(p for places in told for p in places)
    gaps = any(b - a > 1 for places in told for a, b in pairwise(places))
    if len(told) < 2 or not gaps or len(counts) < 3 or any(b - a != 1 for a, b in pairwise(counts)):
        return None
    label = Label(tuple(counts), True, tokens[0].start, tokens[0].start, tokens[0].line)
    return Item(label, bare(list(tokens)), 0)


def _moves(tokens: Sequence[Token]) -> bool:
    return any(t.kind in ("verb", "pattern", "gest", "dual", "draw", "footpart") for t in tokens)


def _counted(tokens: Sequence[Token]) -> bool:
    return any(t.kind == "on" and label_at(tokens, i) is not None for i, t in enumerate(tokens))
