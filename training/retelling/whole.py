"""Whole sheets with the codes of all their sections: what the retelling network learns to read a sheet from at once.

    python training/retelling/whole.py OUT.jsonl SHEETS.txt … [--asks ASKS.txt …] [--apart]

Marked sheets (training/sorting) are taken as they are written; a group of asks is a sheet of the sections above and the one that asks.
With ``--apart`` only the sheets that are kept apart. BEGINS stands in the texts where a section begins, as far as that is known; it is
not read, but shows where the network is to look when it tells that a section begins.
"""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from asking import LINE, Told, told
from collect import APART, EVERY, MARK, NO_LINE
from sides import UNFIT, mirrored_code, other_side

from softshoe.wording.retell_codes import SECTION

if TYPE_CHECKING:
    import random

Row = dict[str, Any]
HEAD, END = ("T", "H", "N"), ("N", "G", "H")
BEGINS = "␞"
NUMBERED = ("{N} {n}", "{N} {n}:", "{n}.", "{n})", "({n})", "{L}.", "{L}:", "{N} {L}", "{r}.", "{O} {N}", "{O} {N}:", "The {o} {N}", "{a}-{b}", "Counts {a} to {b}:", "[{a}-{b}]",
            "{N} {n} ({a}-{b})", "{W}.", "{O},")  # fmt: skip
LENGTHS = (4, 6, 8, 16)
PLAIN = re.compile(r"1 [A-Z][^,]*, 2 [A-Z][^,]*, 3 [A-Z]")
NOUN = ("section", "part", "round", "block", "set", "verse", "phrase", "eight", "figure", "line", "stanza", "pattern")
ORDINAL = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
NUMBER = ("one", "two", "three", "four", "five", "six", "seven", "eight")
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII")
LEADS = ("Then ", "Next: ", "After that, ", "And then ", "Next eight: ", "Now ", "", "", "", "Second eight counts: ", "Following on, ", "From there ", "Next we go on: ", "The next part: ")  # fmt: skip


def whole_codes(parts: list[Told]) -> list[str]:
    """The codes of all sections, a sign before each."""
    return [*(code for codes, _ in parts for code in (SECTION, *codes[:-1])), "end"]


def parts_of(plain: list[str], *, seated: bool) -> list[Told] | None:
    """The codes of each section; None where one of them is not plain."""
    parts: list[Told] = []
    for words in plain:
        one = told(words, parts, seated=seated)
        if one is None:
            return None
        parts.append(one)
    return parts or None


def of_marked(path: Path, *, apart: bool) -> list[Row]:
    rows: list[Row] = []
    for number, sheet in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2].rstrip()) for line in sheet.split("\n") if (m := MARK.match(line))]
        if (number % EVERY == APART) is not apart:
            continue
        seated = ("D", "seated") in found
        plain = [re.sub(r"^S:\s*", "", text.strip()) for mark, text in found if mark == "P"]
        parts = parts_of(plain, seated=seated)
        if parts is None:
            print("not plain:", path.name, number, file=sys.stderr)
            continue
        lines = [(mark, text) for mark, text in found if mark not in NO_LINE]
        while lines and not lines[-1][1].strip():
            lines.pop()
        lines = begun(lines, len(plain))
        rows.append({"of": f"{path.stem}:{number}", "seated": seated, "whole": True, "lines": lines,
                     "text": "\n".join(text for _, text in lines), "codes": whole_codes(parts)})  # fmt: skip
    return rows


def begun(lines: list[tuple[str, str]], sections: int) -> list[tuple[str, str]]:
    """The lines, with a sign where each section begins, if headings, or lines of steps without any, are as many as sections."""
    first = "S" if any(mark == "S" for mark, _ in lines) else "CR"
    if sum(mark in first for mark, _ in lines) != sections:
        return lines
    return [(mark, BEGINS + text if mark in first else text) for mark, text in lines]


def of_asks(path: Path) -> list[Row]:
    rows: list[Row] = []
    for number, group in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2].strip()) for line in group.split("\n") if (m := LINE.match(line))]
        seated = ("D", "seated") in found
        plain = [text for mark, text in found if mark == "P"]
        parts = parts_of(plain, seated=seated)
        above, numbers = [], [mark for mark, _ in found if mark.isdigit()]
        for k, text in enumerate(text for mark, text in found if mark.isdigit()):
            above.append(("C", (BEGINS if numbers[k] not in numbers[:k] else "") + text))
        wanted: Told | None = None
        for mark, text in found if parts else ():
            if mark == "A":
                wanted = told(text, list(parts or ()), seated=seated)
            elif mark == "a" and wanted is not None:
                lines = [*above, *(("C", t.strip()) for t in (BEGINS + text).split(" // "))]
                rows.append({"of": f"{path.stem}:{number}", "seated": seated, "whole": True, "lines": lines,
                             "text": "\n".join(t for _, t in lines), "codes": whole_codes([*(parts or ()), wanted])})  # fmt: skip
    return rows


class Wholes:
    """Draws whole sheets; ``bodies`` are rows of sections by themselves."""

    def __init__(self, rows: list[Row], bodies: list[Row], talk: list[str]) -> None:
        self.sheets = [row for row in rows if any(mark != "C" for mark, _ in row["lines"])]
        self.asks = [row for row in rows if all(mark == "C" for mark, _ in row["lines"])]
        self.talk = talk
        self.bodies = {
            seated: [
                r for r in bodies if r["seated"] == seated and r["counts"] in LENGTHS and not PLAIN.match(r["text"])
            ]
            for seated in (True, False)
        }
        self.heads: dict[bool, list[list[str]]] = {True: [], False: []}
        self.ends: list[list[str]] = [[]]
        names: set[str] = set()
        for row in self.sheets:
            marks = [mark for mark, _ in row["lines"]]
            first = next((k for k, mark in enumerate(marks) if mark not in HEAD), 0)
            last = next((k for k in range(len(marks), 0, -1) if marks[k - 1] not in END), 0)
            self.heads[row["seated"]].append([text for _, text in row["lines"][:first]])
            self.ends.append([text for _, text in row["lines"][last:]])
            names |= {text.strip(BEGINS) for mark, text in row["lines"] if mark == "S" and not re.search(r"\d|first|second|third|[A-H]\b", text)}  # fmt: skip
        self.names = sorted(names)

    def draw(self, rng: random.Random) -> Row:
        """A sheet as it is written or with another head, one that asks, or one put together of sections."""
        kind = rng.random()
        if kind < 0.5 or not self.asks:
            row = self.headed(rng.choice(self.sheets), rng)
        elif kind < 0.62:
            row = rng.choice(self.asks)
            if rng.random() < 0.7:
                head = rng.choice(self.heads[row["seated"]])
                row = {**row, "text": "\n".join([*head, row["text"], *rng.choice(self.ends)])}
        else:
            row = self.put_together(rng)
        if rng.random() < 0.5 and not UNFIT.search(row["text"]):
            row = {**row, "text": other_side(row["text"]), "codes": [mirrored_code(c) for c in row["codes"]]}
        return {**row, "text": self.blanks(row["text"], rng)}

    def headed(self, row: Row, rng: random.Random) -> Row:
        if rng.random() < 0.65:
            return row
        lines = row["lines"]
        first = next((k for k, (mark, _) in enumerate(lines) if mark not in HEAD), 0)
        if not first:
            return row
        head = rng.choice(self.heads[row["seated"]])
        return {**row, "text": "\n".join([*head, *(text for _, text in lines[first:])])}

    def put_together(self, rng: random.Random) -> Row:
        seated = rng.random() < 0.55
        many = rng.choice((1, 2, 2, 3, 4, 4, 5))
        counts = rng.choice((8, 8, 8, 8, 8, 4, 16, 6))
        pool = self.bodies[seated]
        rows: list[Row] = []
        for _ in range(40 * many):
            one = rng.choice(pool)
            if one["counts"] == counts and len(rows) < many:
                rows.append(one)
        rows = rows or [rng.choice(pool)]
        parts = [(row["codes"], row["counts"]) for row in rows]
        head = list(rng.choice(self.heads[seated])) if rng.random() < 0.85 else []
        end = rng.choice(self.ends) if rng.random() < 0.4 else []
        body = self.flowing(rows, rng) if rng.random() < 0.45 else self.listed(rows, rng)
        return {"seated": seated, "whole": True, "text": "\n".join([*head, *body, *end]), "codes": whole_codes(parts)}

    def headings(self, rows: list[Row], rng: random.Random) -> list[str]:
        """Headings of one style, or none."""
        kind = rng.random()
        if kind < 0.15:
            return [""] * len(rows)
        if kind < 0.45 and self.names:
            mark = rng.choice(("{}", "{}", "{}:", "* {} *", "{} (8)", "-- {}", "{}."))
            return [mark.format(rng.choice(self.names)) for _ in rows]
        frame, noun = rng.choice(NUMBERED), rng.choice(NOUN)
        case = rng.choice((str, str.upper, str.capitalize))
        titled = rng.random() < 0.3 and bool(self.names)
        out, at = [], 0
        for k, row in enumerate(rows):
            holes = {"n": k + 1, "r": ROMAN[k], "o": ORDINAL[k], "O": ORDINAL[k].capitalize(), "L": "ABCDEFGH"[k], "N": noun, "W": NUMBER[k].capitalize(), "a": at + 1, "b": at + row["counts"]}  # fmt: skip
            at += row["counts"]
            out.append(case(frame.format(**holes)) + (f" {rng.choice(self.names)}" if titled else ""))
        return out

    def listed(self, rows: list[Row], rng: random.Random) -> list[str]:
        """Sections below each other, each on lines of its own."""
        names = self.headings(rows, rng)
        gap, joint = rng.random() < 0.6, rng.random() < 0.25
        out: list[str] = []
        for name, row in zip(names, rows, strict=True):
            lines = row["text"].split("\n")
            if joint and name:
                lines[0] = BEGINS + name + rng.choice((": ", " ", " - ")) + lines[0]
            else:
                lines = [name, *lines] if name else lines
                lines[0] = BEGINS + lines[0]
            if rng.random() < 0.15 and self.talk:
                lines.insert(rng.randrange(1, len(lines) + 1), rng.choice(self.talk))
            out += lines + ([""] if gap else [])
        return out

    def flowing(self, rows: list[Row], rng: random.Random) -> list[str]:
        """Sections as paragraphs, or several in one."""
        names = self.headings(rows, rng) if rng.random() < 0.4 else [""] * len(rows)
        out: list[str] = [""] if rng.random() < 0.5 else []
        said = ""
        for k, (name, row) in enumerate(zip(names, rows, strict=True)):
            words = " ".join(line.strip() for line in row["text"].split("\n"))
            words = re.sub(r"([^.!?;:,])\s*$", r"\1.", words)
            lead = f"{name.rstrip(':. ')}{rng.choice((': ', '. ', ', '))}" if name else rng.choice(LEADS) if k else ""
            if lead and lead[-2:] in ("n ", "w ", "e ", ", "):
                words = words[:1].lower() + words[1:]
            words = BEGINS + lead + words
            if rng.random() < 0.15 and self.talk:
                words += " " + rng.choice(self.talk)
            said = f"{said} {words}".strip()
            if rng.random() < 0.6:
                out += [said, *([""] if rng.random() < 0.5 else [])]
                said = ""
        return [*out, said] if said else out

    @staticmethod
    def blanks(text: str, rng: random.Random) -> str:
        """Blank lines left out, or lines parted by them, now and then; all in capitals or small letters."""
        kind = rng.random()
        if kind < 0.1:
            text = re.sub(r"\n\s*\n+", "\n", text)
        elif kind < 0.15:
            text = text.replace("\n", "\n\n")
        if kind > 0.95:
            return text.upper()
        return text.lower() if kind > 0.92 else text


def main() -> None:
    out, *rest = sys.argv[1:]
    only_apart = "--apart" in rest
    rest = [name for name in rest if name != "--apart"]
    cut = rest.index("--asks") if "--asks" in rest else len(rest)
    rows = [row for name in rest[:cut] for row in of_marked(Path(name), apart=only_apart)]
    rows += [row for name in rest[cut + 1 :] for row in of_asks(Path(name))]
    Path(out).write_text("\n".join(json.dumps(row, ensure_ascii=False) for row in rows), encoding="utf-8")
    print(len(rows), "whole sheets")


if __name__ == "__main__":
    main()
