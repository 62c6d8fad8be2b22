"""Heads of sheets with the facts that they tell: what the facts network learns from.

    python training/facts/heads.py OUT.jsonl HEADS.txt … [--marked SHEETS.txt …]

A file of heads holds them parted by "===": a line "F| title=…; counts=…; walls=…; level=…; seated=…; metre=…; tempo=…; intro=…;
start=…" (none where the head doesn't say), then the head. Of marked sheets (training/sorting) with such a line the title, the
facts and the remarks are taken; what their F line tells of the dance and not of the head is left open there.
"""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any

from softshoe.wording.facts_net import CHOICES
from softshoe.wording.numbers import number_spans

Row = dict[str, Any]
LINE = re.compile(r"([A-Z])\|\s?(.*)$")
EVERY, APART = 6, 5  # every sixth is measured, not taught
OPEN = "?"  # not known whether the head says it


def facts_in(line: str) -> dict[str, str]:
    return {key.strip(): value.strip() for key, _, value in (part.partition("=") for part in line.split(";"))}


def settled(told: dict[str, str]) -> Row | None:
    """Return facts as values of the network's lists; None where one of them has no place there."""
    out: Row = {"title": told.get("title", "")}
    for name, choices in CHOICES.items():
        said: Any = told.get(name, "none")
        value = None if said in ("none", "") else int(said) if said.isdigit() else said
        value = {"yes": True, "no": False}.get(value, value) if name == "seated" else value
        value = None if name == "metre" and value == "4/4" else value
        if value not in choices:
            return None
        out[name] = value
    tempo = told.get("tempo", "none")
    found = re.findall(r"\d+", tempo)
    out["tempo"] = [int(n) for n in found[:2]]
    return out


def of_heads(path: Path) -> list[Row]:
    rows = []
    for number, head in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        lines = head.strip("\n").split("\n")
        first = next((k for k, line in enumerate(lines) if line.startswith("F|")), None)
        facts = settled(facts_in(lines[first][2:])) if first is not None else None
        if first is None or facts is None:
            continue
        rows.append(
            {"of": f"{path.stem}:{number}", "apart": number % EVERY == APART, "lines": lines[first + 1 :], **facts}
        )
    return rows


def of_marked(path: Path) -> list[Row]:
    rows = []
    for number, sheet in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2]) for line in sheet.split("\n") if (m := LINE.match(line))]
        told = next((facts_in(text) for mark, text in found if mark == "F"), None)
        lines = [text for mark, text in found if mark in "THN" and text.strip()]
        if told is None or not lines or ("X" in {mark for mark, _ in found}):
            continue
        told = {**told, "start": "none", "seated": "none"}
        facts = settled(told)
        if facts is None:
            continue
        text = "\n".join(lines)
        values = {value for _, _, value in number_spans(text)}
        for name in ("counts", "walls"):
            facts[name] = facts[name] if facts[name] in values else OPEN
        seated = ("D", "seated") in found
        facts["seated"], facts["danced"] = OPEN, seated
        facts["start"] = OPEN
        rows.append({"of": f"{path.stem}:{number}", "apart": number % EVERY == APART, "lines": lines, **facts})
    return rows


def main() -> None:
    out, *rest = sys.argv[1:]
    made, rows = of_heads, []
    for name in rest:
        if name == "--marked":
            made = of_marked
        else:
            rows += made(Path(name))
    Path(out).write_text("\n".join(json.dumps(row, ensure_ascii=False) for row in rows), encoding="utf-8")
    print(len(rows), "heads,", sum(row["apart"] for row in rows), "apart")


if __name__ == "__main__":
    main()
