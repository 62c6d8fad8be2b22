"""The facts network, run by plain numpy: the lines of a sheet that are no steps in, the facts that they tell out.

Counts, walls, level and the like are chosen from lists; a tempo is pointed at, and read where it stands; of each
piece it says whether it belongs to the title. Names of weights are those of training/facts/train.py.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from softshoe.wording.numbers import number_spans
from softshoe.wording.text_net import TextNet, likely_of

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from softshoe.wording.retell_pieces import Piece

WEIGHTS = "facts.npz"
MOST_PIECES = 500  # of a head
CHOICES: dict[str, tuple[Any, ...]] = {
    "counts": (None, 4, 6, 8, 12, 16, 18, 20, 24, 28, 30, 32, 36, 40, 42, 44, 48, 52, 54, 56, 60, 64, 68, 72, 80, 96),
    "walls": (None, 1, 2, 4),
    "level": (None, "absolute beginner", "beginner", "improver", "intermediate", "advanced"),
    "seated": (None, True, False),
    "intro": (None, 0, 2, 4, 6, 8, 10, 12, 16, 18, 20, 24, 28, 30, 32, 36, 40, 48, 64),
    "start": (None, "L", "R"),
    "metre": (None, "3/4"),
}
POINTERS = ("tempo", "tempo to")
TITLE = "title"


class Fact(NamedTuple):
    """A fact and how likely it is, 0 to 1; None: the head does not say."""

    value: Any
    likely: float


def asked(lines: Sequence[str]) -> str:
    """Return the text that the network reads: its first piece, the end of a line, stands for all of it."""
    return "\n" + "\n".join(line.strip() for line in lines)


def cases_of(text: str, pieces: Sequence[Piece]) -> list[int]:
    """Return of each piece: 0 in small letters, 1 with a capital, 2 in capitals."""
    out = []
    for piece in pieces:
        word = text[piece.start : piece.end]
        out.append(2 if len(word) > 1 and word.isupper() else int(word[:1].isupper()))
    return out


class FactsNet(TextNet):
    """The network with its words."""

    def __init__(self, source: Path | str | None = None) -> None:
        super().__init__(WEIGHTS, source)

    def facts(self, lines: Sequence[str]) -> dict[str, Fact]:
        """Return what lines tell, by name: CHOICES, "tempo" (a number or a pair), "title" (words); {} if too long."""
        text = asked(lines)
        pieces = self.cutter.cut(text)
        if not 1 < len(pieces) <= MOST_PIECES:
            return {}
        x = np.array([self.cutter.numbers(pieces)], np.int64)
        y = self.w["pieces.weight"][x] + self.w["cases.weight"][np.array([cases_of(text, pieces)])]
        marks = self.linear(self.read_from(y, np.ones_like(x, dtype=bool)), "out")[0]
        out: dict[str, Fact] = {}
        at = 0
        for name, choices in CHOICES.items():
            likely = likely_of(marks[0, at : at + len(choices)])
            best = int(likely.argmax())
            out[name] = Fact(choices[best], float(likely[best]))
            at += len(choices)
        out["tempo"] = _tempo(text, pieces, likely_of(marks[:, at : at + len(POINTERS)].T))
        out[TITLE] = _title(text, pieces, 1 / (1 + np.exp(-marks[:, at + len(POINTERS)])))
        return out


def _tempo(text: str, pieces: Sequence[Piece], likely: Any) -> Fact:
    values = {start: value for start, _, value in number_spans(text)}
    best = likely.argmax(axis=-1)
    sure = float(min(row[k] for row, k in zip(likely, best, strict=True)))
    told = [values.get(pieces[k].start) if k else None for k in best]
    if any(k and value is None for k, value in zip(best, told, strict=True)):
        return Fact(None, 0.0)
    found = [value for value in told if value is not None]
    return Fact(tuple(sorted(found)) if len(found) > 1 else found[0] if found else None, sure)


def _title(text: str, pieces: Sequence[Piece], likely: Any) -> Fact:
    """Return the longest run of pieces that belong to the title, as it is written."""
    runs: list[list[int]] = []
    for k in np.flatnonzero(likely > 0.5):
        if runs and runs[-1][-1] == k - 1:
            runs[-1].append(int(k))
        else:
            runs.append([int(k)])
    if not runs:
        return Fact(None, float(1 - likely.max()))
    best = max(runs, key=lambda run: float(likely[run].sum()))
    words = text[pieces[best[0]].start : pieces[best[-1]].end]
    return Fact(" ".join(words.split()), float(likely[best].min()) if "\n" not in words.strip() else 0.0)


@cache
def net() -> FactsNet:
    """Return the network that comes with the package."""
    return FactsNet()
