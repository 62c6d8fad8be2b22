"""Sections with the sections above them, which they may ask for: what the retelling network learns to look back from.

    python training/retelling/asking.py OUT.jsonl ASKS.txt … [--marked SHEETS.txt …]

A file of asks holds groups parted by "===": "D|" how it is danced; for each of one to three sections "P|" its plain words and
"1|", "2|", "3|" its lines; then "A|" plain words ("=1", "=1 mirrored", or written out) and "a|" ways to ask for them, " // "
between their lines. Of marked sheets (training/sorting) each section is taken with all that stands above it.
"""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from collect import APART, EVERY, MARK, NO_LINE, rebased, truth
from sides import UNFIT, other_side

from softshoe.wording.retell_codes import mirrored as mirrored_code
from softshoe.wording.retell_pieces import HERE

if TYPE_CHECKING:
    import random

Row = dict[str, Any]
Told = tuple[list[str], int]
AGAIN = re.compile(r"=\s*(\d+)\s*(mirror\w*)?")
LINE = re.compile(r"([A-Za-z1-9])\|\s?(.*)$")
LATEST = 6  # sections above that are looked back at
FEW = frozenset(
    [
        "again",
        "same",
        "with",
        "foot",
        "feet",
        "hand",
        "hands",
        "left",
        "right",
        "first",
        "second",
        "third",
        "this",
        "that",
        "then",
        "section",
        "part",
        "before",
        "once",
        "more",
        "time",
        "both",
        "other",
        "side",
        "repeat",
        "mirror",
        "dance",
        "start",
        "counts",
        "count",
        "eight",
        "four",
        "last",
        "above",
        "as",
        "the",
        "and",
        "but",
        "from",
        "like",
        "now",
        "all",
        "whole",
        "half",
        "everything",
        "begin",
        "beginning",
        "starting",
        "lead",
        "leading",
        "opposite",
        "exactly",
        "another",
        "round",
        "through",
    ]
)


def told(words: str, parts: list[Told], *, seated: bool) -> Told | None:
    """Return the codes of plain words, or of the section that they name."""
    again = AGAIN.match(words)
    if again is None:
        return truth(re.sub(r"^S:\s*", "", words), seated=seated)
    if int(again[1]) > len(parts):
        return None
    codes, counts = parts[int(again[1]) - 1]
    return ([mirrored_code(c) for c in codes] if again[2] else codes), counts


def of_asks(path: Path) -> list[Row]:
    rows: list[Row] = []
    for number, group in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2].strip()) for line in group.split("\n") if (m := LINE.match(line))]
        seated = ("D", "seated") in found
        parts: list[Told] = []
        lines: list[list[str]] = []
        wanted: tuple[Told | None, str] = (None, "")
        for mark, text in found:
            if mark == "P":
                one = told(text, parts, seated=seated)
                if one is None:
                    print("not plain:", path.name, number, text[:120], file=sys.stderr)
                    break
                parts.append(one)
                lines.append([])
            elif mark.isdigit() and 0 < int(mark) <= len(lines):
                lines[int(mark) - 1].append(text)
            elif mark == "A":
                wanted = told(text, parts, seated=seated), text
                if wanted[0] is None:
                    print("not plain:", path.name, number, text[:120], file=sys.stderr)
            elif mark == "a" and wanted[0] is not None:
                again = AGAIN.match(wanted[1])
                rows.append(
                    {"of": f"{path.stem}:{number}", "seated": seated, "above": [list(one) for one in lines],
                     "own": [t.strip() for t in text.split(" // ")], "codes": wanted[0][0], "counts": wanted[0][1],
                     "again": [int(again[1]) - 1, bool(again[2])] if again else None}
                )  # fmt: skip
    return rows


def of_marked(path: Path) -> list[Row]:
    rows: list[Row] = []
    for number, sheet in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2].strip()) for line in sheet.split("\n") if (m := MARK.match(line))]
        if number % EVERY == APART:
            continue
        seated = ("D", "seated") in found
        plain = [text for mark, text in found if mark == "P"]
        sections = sections_of([row for row in found if row[0] not in NO_LINE])
        if len(sections) != len(plain):
            continue
        parts: list[Told] = []
        at = 0
        for k, words in enumerate(plain):
            one = told(words, parts, seated=seated)
            if one is None:
                break
            parts.append(one)
            again = AGAIN.match(words)
            if k:
                own = rebased("\n".join(text for mark, text in sections[k] if mark in "SCRK"), at).split("\n")
                above = [[text for _, text in part] for part in sections[:k]]
                rows.append({"of": f"{path.stem}:{number}", "seated": seated, "above": above, "own": own,
                             "codes": one[0], "counts": one[1],
                             "again": [int(again[1]) - 1, bool(again[2])] if again else None})  # fmt: skip
            at += one[1]
    return rows


def sections_of(rows: list[tuple[str, str]]) -> list[list[tuple[str, str]]]:
    """The lines of each section with its heading; each line of steps alone where there is no heading."""
    headed = any(mark == "S" for mark, _ in rows)
    out: list[list[tuple[str, str]]] = []
    for mark, text in rows:
        if mark == "S" or (not headed and mark in "CR"):
            out.append([])
        if out and text and mark in "SCRKN":
            out[-1].append((mark, text))
    return out


def joined(row: Row) -> Row:
    """Return a row with its text: what stands above, the sign, the section's own lines."""
    above = [line for part in row["above"][-LATEST:] for line in part]
    return {**row, "text": "\n".join([*above, HERE, *row["own"]]) if above else "\n".join(row["own"])}


class Asks:
    """Draws sections with others above them; ``bodies`` are rows of sections by themselves."""

    def __init__(self, rows: list[Row], bodies: list[Row]) -> None:
        self.rows = rows
        self.asking = [row for row in rows if row["again"]]
        self.bodies = {
            seated: [row for row in bodies if row["seated"] == seated and row["counts"] == 8]
            for seated in (True, False)
        }
        self.headings = sorted({part[0] for row in rows for part in row["above"] if heads(part)})

    def draw(self, rng: random.Random) -> Row:
        """Return a row: as written, one that asks for another section than it did, or one that asks for none."""
        kind = rng.random()
        if kind < 0.2:
            row = self.plain(rng)
        elif kind < 0.55:
            row = self.exchanged(rng.choice(self.asking), rng)
        else:
            row = rng.choice(self.rows)
        out = joined(row)
        if rng.random() < 0.5 and not UNFIT.search(out["text"]):
            out = {**out, "text": other_side(out["text"]), "codes": [mirrored_code(c) for c in out["codes"]]}
        return out

    def plain(self, rng: random.Random) -> Row:
        pool = self.bodies[rng.random() < 0.55]
        row = rng.choice(pool)
        many = rng.choice((1, 1, 2, 3))
        names = rng.sample(self.headings, many + 1)
        above = [[name, *rng.choice(pool)["text"].split("\n")] for name in names[:many]]
        own = [names[-1], *row["text"].split("\n")] if rng.random() < 0.7 else row["text"].split("\n")
        return {**row, "above": above, "own": own}

    def exchanged(self, row: Row, rng: random.Random) -> Row:
        """Another section under the same heading, where what asks for it names nothing of its steps."""
        which, mirror = row["again"]
        part = row["above"][which]
        head = part[:1] if heads(part) else []
        body = words_in(part[len(head) :]) - words_in(head)
        if body & words_in(row["own"]):
            return row
        other = rng.choice(self.bodies[row["seated"]])
        above = list(row["above"])
        above[which] = [*head, *other["text"].split("\n")]
        codes = [mirrored_code(c) for c in other["codes"]] if mirror else other["codes"]
        return {**row, "above": above, "codes": codes, "counts": other["counts"]}


def heads(part: list[str]) -> bool:
    """Return whether the first line of a section is its heading."""
    return (
        len(part) > 1 and len(part[0]) < 45 and not re.search(r"\b(right|left|r|l|rf|lf)\b|,", part[0], re.IGNORECASE)
    )


def words_in(lines: list[str]) -> set[str]:
    """Return the longer words of lines, without an ending, but those that any section has."""
    return {w.rstrip("s") for line in lines for w in re.findall(r"[a-z]{4,}", line.casefold())} - FEW


def main() -> None:
    out, *rest = sys.argv[1:]
    made, rows = of_asks, []
    for name in rest:
        if name == "--marked":
            made = of_marked
        else:
            rows += made(Path(name))
    Path(out).write_text("\n".join(json.dumps(row, ensure_ascii=False) for row in rows), encoding="utf-8")
    print(
        len(rows), "sections with others above,", sum(row["again"] is not None for row in rows), "ask for a whole one"
    )


if __name__ == "__main__":
    main()
