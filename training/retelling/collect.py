"""Sections in the words of many leaders, each with the events that it means: what the retelling network learns from.

    python training/retelling/collect.py OUT.json WAYS.txt … [--marked SHEETS.txt …] [--sheets FOLDER …]

A file of ways holds groups parted by an empty line: first the plain words, then other ways of saying them (``//`` ends a
line, ``S:`` a seated dance, ``?`` before a way that the rules do not read). A folder of sheets holds texts with truths in
the shape of the dance events beside them. Of whole sheets with marks (training/sorting) the sections are taken.
"""

from __future__ import annotations

import json
import re
import sys
from fractions import Fraction
from pathlib import Path
from typing import Any

from named import is_told

from softshoe.dance.document import dance_json
from softshoe.errors import WorkbenchError
from softshoe.wording.read import read
from softshoe.wording.retell_ask import NUMBER, from_one
from softshoe.wording.retell_codes import codes_of

Row = dict[str, Any]
NOT_OF_A_PART = ("free-foot", "walls", "total", "level", "crowded", "one-sided")
SAID = re.compile(r"\b(tag|restart|bridge|ending|walls?)\b", re.IGNORECASE)


def truth(plain: str, *, seated: bool, also: tuple[str, ...] = ()) -> tuple[list[str], int] | None:
    """Return the codes of plain words and the counts they fill; None where they are not plain, or hold a slip of a kind not among ``also``."""
    last = max((int(n) for n in re.findall(r"(?:^|[,/] ?)(?:\d+-)?(\d+) ", plain)), default=8)
    head = f"Kettle\n{last} counts, 1 wall, beginner{', seated' if seated else ''}\n\nSection 1\n"
    try:
        dance = dance_json(read(head + plain.replace(" // ", "\n")))
    except WorkbenchError:
        return None
    if any(f["severity"] != "note" and f["kind"] not in (*NOT_OF_A_PART, *also) for f in dance["findings"]):
        return None
    codes = codes_of(dance["events"])
    return (codes, last) if codes else None


def of_ways(path: Path) -> list[Row]:
    rows = []
    for number, group in enumerate(re.split(r"\n\s*\n", path.read_text(encoding="utf-8"))):
        lines = [line.strip() for line in group.splitlines() if line.strip() and not line.startswith("#")]
        if len(lines) < 2:
            continue
        seated = lines[0].startswith("S:")
        words = [re.sub(r"^S:\s*", "", line) for line in lines]
        found = truth(words[0], seated=seated)
        if found is None:
            print("not plain:", path.name, lines[0][:150], file=sys.stderr)
            continue
        codes, counts = found
        for way in words:
            text = re.sub(r"\s*//\s*", "\n", way.lstrip("? "))
            rows.append(
                {"of": f"{path.stem}:{number}", "seated": seated, "text": text, "codes": codes, "counts": counts}
            )
    return rows


MARK = re.compile(r"([A-Z])\|\s?(.*)$")
NO_LINE = (
    "DPQFXA"  # what is said of a sheet: how it is danced, plain words as meant and as they stand, facts, its slip, tags
)
EVERY, APART = 6, 5  # every sixth sheet of a file is measured, not taught


def of_marked(path: Path) -> list[Row]:
    """The sections of marked sheets whose headings are as many as their plain words."""
    rows = []
    for number, sheet in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2].strip()) for line in sheet.split("\n") if (m := MARK.match(line))]
        if number % EVERY == APART:
            continue
        seated = ("D", "seated") in found
        plain = [re.sub(r"^S:\s*", "", text) for mark, text in found if mark == "P"]
        parts = lines_of_sections([row for row in found if row[0] not in NO_LINE], len(plain))
        if len(parts) != len(plain):
            continue
        at = 0
        for words, lines in zip(plain, parts, strict=True):
            again = re.match(r"=\s*(\d+)", words)
            told = truth(words, seated=seated) if not again else None
            length = told[1] if told else 8
            text = rebased("\n".join(lines), at)
            if told and lines and is_told(text, told[0]):
                rows.append(
                    {"of": f"{path.stem}:{number}", "seated": seated, "text": text, "codes": told[0], "counts": told[1]}
                )
            at += length
    return rows


def lines_of_sections(rows: list[tuple[str, str]], many: int) -> list[list[str]]:
    """The lines of steps below each heading; each line of steps alone, where there is no heading."""
    if not any(mark == "S" for mark, _ in rows):
        lines = [[text] for mark, text in rows if mark in "CR"]
        return lines if len(lines) == many else []
    out: list[list[str]] = []
    for mark, text in rows:
        if mark == "S":
            out.append([])
        elif mark in "CK" and out and text:
            out[-1].append(text)
    return out


def rebased(text: str, base: int) -> str:
    """Return the words counted from one, where all their counts are beyond ``base``."""
    numbers = [int(n) for n in NUMBER.findall(text)]
    return from_one(text, base) if base and numbers and min(numbers) > base else text


def of_sheet(path: Path) -> list[Row]:
    dance = json.loads(path.read_text(encoding="utf-8"))
    if "events" not in dance:
        return []
    lines = path.with_suffix(".txt").read_text(encoding="utf-8").split("\n")
    rows, sections = [], dance["sections"]
    ends = [s["line"] for s in sections[1:]] + [10**6]
    for section, end in zip(sections, ends, strict=True):
        start = Fraction(section["start"])
        events = [e for e in dance["events"] if start <= Fraction(e["t"]) < start + Fraction(section["counts"])]
        own = {e["line"] for e in events}
        if not own or min(own) < section["line"] or max(own) >= end:
            continue
        text = "\n".join(line.strip() for line in lines[min(own) - 1 : max(own)] if line.strip())
        codes = codes_of([{**e, "t": str(Fraction(e["t"]) - start)} for e in events])
        if not codes or SAID.search(text) or len(text) > 900 or not is_told(text, codes):
            continue
        rows.append({"of": f"{path.parent.parent.name}:{path.stem}", "seated": dance["seated"], "text": text,
                     "codes": codes, "counts": int(section["counts"])})  # fmt: skip
    return rows


def of_folder(folder: Path) -> list[Row]:
    return [row for path in sorted(folder.glob("*.json")) for row in of_sheet(path)]


def main() -> None:
    out, *rest = sys.argv[1:]
    made, rows = of_ways, []
    for name in rest:
        if name == "--marked":
            made = of_marked
        elif name == "--sheets":
            made = of_folder
        else:
            rows += made(Path(name))
    Path(out).write_text("\n".join(json.dumps(row, ensure_ascii=False) for row in rows), encoding="utf-8")
    print(len(rows), "sections", len({row["of"] for row in rows}), "groups")


if __name__ == "__main__":
    main()
