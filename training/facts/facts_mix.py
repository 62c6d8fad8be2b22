"""More heads out of those at hand: other numbers, names, marks, capitals and lines, the facts changed with them."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.append(str(Path(__file__).parents[1] / "retelling"))
from sides import other_side

from softshoe.wording.numbers import TENS, UNITS, number_spans

if TYPE_CHECKING:
    import random

Row = dict[str, Any]
COUNTS = (16, 16, 24, 24, 32, 32, 32, 32, 40, 48, 48, 64, 8, 12, 20, 28, 36, 56, 18, 30)
INTROS = (0, 4, 8, 8, 12, 16, 16, 16, 16, 24, 32, 32, 32, 40, 48, 64, 20, 6)
MARKS = (" | ", " / ", " - ", " . ", ", ", "; ", "  ", " * ", " ~ ", " – ", " // ", " · ", " • ", " + ")
MARKED = re.compile(r"\s(?:[|/·•~*–-]|//|\.)\s|\s{2,}")


def in_words(n: int) -> str:
    """Return a number below two hundred in words."""
    if n >= 100:
        rest = n - 100
        return "a hundred" + (f" and {in_words(rest)}" if rest else "")
    if n < 20:
        return UNITS[n]
    return TENS[n // 10 - 2] + (f"-{UNITS[n % 10]}" if n % 10 else "")


class Heads:
    """Draws heads of sheets."""

    def __init__(self, rows: list[Row], talk: list[str], bodies: list[list[str]]) -> None:
        self.rows, self.talk, self.bodies = rows, talk, bodies
        self.titles = sorted({row["title"] for row in rows if 2 < len(row["title"]) < 40})

    def draw(self, rng: random.Random) -> Row:
        row = dict(rng.choice(self.rows))
        row["lines"] = [line for line in row["lines"] if line.strip() or rng.random() < 0.3]
        if rng.random() < 0.7:
            self.renamed(row, rng)
        if rng.random() < 0.7:
            self.renumbered(row, rng)
        if rng.random() < 0.5 and row["start"] in ("L", "R"):
            row["lines"] = other_side("\n".join(row["lines"])).split("\n")
            row["title"] = other_side(row["title"])
            row["start"] = {"L": "R", "R": "L"}[row["start"]]
        self.laid(row, rng)
        if rng.random() < 0.3:
            at = rng.randrange(len(row["lines"]) + 1)
            row["lines"].insert(at, rng.choice(self.talk))
        if rng.random() < 0.3:
            row["lines"] = [*row["lines"], *rng.choice(self.bodies)[: rng.randrange(1, 4)]]
        if rng.random() < 0.08:
            row["lines"] = [line.upper() for line in row["lines"]]
        elif rng.random() < 0.06:
            row["lines"] = [line.lower() for line in row["lines"]]
        return row

    def renamed(self, row: Row, rng: random.Random) -> None:
        text = "\n".join(row["lines"])
        found = list(re.finditer(re.escape(row["title"]), text, re.IGNORECASE)) if row["title"] else []
        if len(found) != 1:
            return
        new = rng.choice(self.titles)
        if number_spans(new) and rng.random() < 0.7:
            return
        shown = (
            new.upper()
            if found[0][0].isupper() or rng.random() < 0.15
            else new.lower()
            if found[0][0].islower()
            else new
        )
        row["title"] = new
        row["lines"] = (text[: found[0].start()] + shown + text[found[0].end() :]).split("\n")

    def renumbered(self, row: Row, rng: random.Random) -> None:
        """Another number where one fact alone has it."""
        for name in ("counts", "intro", "tempo"):
            if rng.random() < 0.4:
                continue
            told = row[name] if name == "tempo" else [row[name]]
            for k, old in enumerate(told):
                if not isinstance(old, int):
                    continue
                text = "\n".join(row["lines"])
                spans = [(a, b) for a, b, n in number_spans(text) if n == old]
                others = [*row["tempo"], row["counts"], row["intro"], row["walls"]]
                if len(spans) != 1 or sum(n == old for n in others if n is not None) != 1:
                    continue
                new = (
                    rng.choice(COUNTS if name == "counts" else INTROS)
                    if name != "tempo"
                    else max(40, old + rng.randrange(-25, 26))
                )
                if new in others or (name == "intro" and not new and old):
                    continue
                a, b = spans[0]
                word = text[a:b]
                shown = str(new) if word.isdigit() else in_words(new)
                shown = (
                    shown.upper()
                    if word.isupper() and not word.isdigit()
                    else shown.capitalize()
                    if word[0].isupper()
                    else shown
                )
                row["lines"] = (text[:a] + shown + text[b:]).split("\n")
                if name == "tempo":
                    row["tempo"] = [new if j == k else n for j, n in enumerate(row["tempo"])]
                else:
                    row[name] = new
        if len(row["tempo"]) == 2 and row["tempo"][0] > row["tempo"][1]:
            row["tempo"] = row["tempo"][::-1]

    def laid(self, row: Row, rng: random.Random) -> None:
        lines = row["lines"]
        if rng.random() < 0.25:
            mark = rng.choice(MARKS)
            lines = [MARKED.sub(mark, line) if len(MARKED.findall(line)) > 1 else line for line in lines]
        if rng.random() < 0.08:
            mark = rng.choice(MARKS)
            lines = [line.replace(", ", mark) if len(line) < 90 and line.count(", ") > 1 else line for line in lines]
        if rng.random() < 0.1 and len(lines) > 2:
            k = rng.randrange(1, len(lines) - 1)
            lines = [*lines[:k], lines[k] + rng.choice((" ", ". ", " / ", ", ", " - ")) + lines[k + 1], *lines[k + 2 :]]
        if rng.random() < 0.1:
            lines = [piece for line in lines for piece in MARKED.split(line)]
        if rng.random() < 0.06:
            lines = [rng.choice(("", "- ", "* ", "> ", "# ")) + line for line in lines]
        row["lines"] = lines
