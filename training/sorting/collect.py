"""Sheets whose lines are sorted: what the sorting network learns from.

    python training/sorting/collect.py OUT.jsonl MARKED.txt … [--sheets FOLDER …]

A marked file holds whole sheets parted by "===", each line behind a letter: T title, H a fact of the header, S a heading, C steps,
R a section danced again, K names of columns, G what a wall adds or leaves out, N the rest. Of sheets with truths beside them the rules say
what their lines are, if they read them as meant.
"""

from __future__ import annotations

import json
import re
import sys
from collections import Counter
from pathlib import Path
from typing import Any

from softshoe.dance.document import dance_json
from softshoe.errors import WorkbenchError
from softshoe.wording import read as reader
from softshoe.wording.outlined import outlined

Row = dict[str, Any]
MARK = re.compile(r"([A-Z])\|\s?(.*)$")
BLANK = "-"
NO_LINE = (
    "DPQFXA"  # what is said of a sheet: how it is danced, plain words as meant and as they stand, facts, its slip, tags
)
EVERY, APART = 6, 5  # every sixth sheet of a file is measured, not taught
KINDS = ("T", "H", "S", "B", "C", "R", "K", "G", "N")  # B: steps that begin a section without a heading of their own
LEFT_OUT = "!"  # a line of which it is not known whether it asks for a section or for steps again
ASKS = re.compile(r"\b(repeat|rpt|again|same|as|mirror|everything|like)\b", re.IGNORECASE)
OF_ROLE = {"title": "T", "header": "H", "heading": "S", "place": "G", "count": "C", "event": "C", "note": "N", "filler": "-", "passed": "-", "kept": "N", "mark": "-"}  # fmt: skip


def of_marked(path: Path) -> list[Row]:
    rows = []
    for number, sheet in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [m for line in sheet.split("\n") if (m := MARK.match(line))]
        lines = [(m[1], m[2]) for m in found if m[1] not in NO_LINE]
        plain = sum(m[1] == "P" for m in found)
        if not lines or number % EVERY == APART:
            continue
        rows.append(
            {"of": f"{path.stem}:{number}", "lines": begun([(k if t.strip() else BLANK, t) for k, t in lines], plain)}
        )
    return rows


def begun(lines: list[tuple[str, str]], sections: int) -> list[tuple[str, str]]:
    """Tell steps that begin a section from those that go on; where that can't be known they are "?"."""
    headed = any(kind == "S" for kind, _ in lines)
    steps = sum(kind in "CR" for kind, _ in lines)
    out: list[tuple[str, str]] = []
    above = ""
    for kind, text in lines:
        new = kind
        if kind == "C":
            new = "C" if headed else "B" if steps == sections else "?"
            if headed and above not in ("S", "C", "R", "K", "N"):
                new = "B"
        if kind != BLANK:
            above = kind
        out.append((new, text))
    return out


def of_sheet(path: Path) -> Row | None:
    truth = json.loads(path.read_text(encoding="utf-8"))
    if "events" not in truth:
        return None
    text = path.with_suffix(".txt").read_text(encoding="utf-8")
    try:
        sheet = reader.reading(text)
    except WorkbenchError:
        return None
    dance = dance_json(sheet.dance)
    if [(e["t"], e["foot"], e["action"]) for e in dance["events"]] != [
        (e["t"], e["foot"], e["action"]) for e in truth["events"]
    ]:
        return None
    roles: dict[int, Counter[str]] = {}
    for piece in sheet.account.pieces:
        roles.setdefault(piece.line, Counter())[OF_ROLE[piece.role]] += piece.end - piece.start
    outline, _, _ = outlined(text)
    extra = {n for b in outline.blocks if b.kind != "section" for n in [b.line, *(i.line for i in b.items)]}
    begins = {b.line for b in outline.blocks if b.kind == "section"}
    lines = []
    for number, line in enumerate(text.rstrip("\n").split("\n"), 1):
        told = roles.get(number, Counter())
        told.pop(BLANK, None)
        kind = BLANK if not line.strip() else "N"
        if told:
            kind = "C" if told["C"] else told.most_common(1)[0][0]
        if line.strip() and (number in extra or (kind == "C" and told["G"] > told["C"])):
            kind = "G"
        if kind == "C" and number in begins:
            kind = "B"
        if kind in "BC" and ASKS.search(line):
            kind = LEFT_OUT if kind == "C" else kind
        lines.append((kind, line))
    return {"of": f"{path.parent.parent.name}:{path.stem}", "lines": lines}


def main() -> None:
    out, *rest = sys.argv[1:]
    cut = rest.index("--sheets") if "--sheets" in rest else len(rest)
    rows = [row for name in rest[:cut] for row in of_marked(Path(name))]
    for folder in rest[cut + 1 :]:
        rows += [row for path in sorted(Path(folder).glob("*.json")) if (row := of_sheet(path)) is not None]
    Path(out).write_text("\n".join(json.dumps(row, ensure_ascii=False) for row in rows), encoding="utf-8")
    print(len(rows), "sheets", Counter(kind for row in rows for kind, _ in row["lines"]))


if __name__ == "__main__":
    main()
