"""What a wall leaves out or adds, as codes: tags, bridges, restarts, endings, as their writers say that they are meant.

Marked sheets tell them on lines "A|"; files of ends hold them without the dance that they belong to: groups parted by
"===" with "F|" the counts of the dance and of its sections, "H|" what its head says of them, "I| 2 |" what stands behind
its second section, "G|" what stands below it.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from collect import truth

from softshoe.wording.retell_codes import AFTER, ALL, AS, COPIED, ENDING, HALF, MANY, RESTART, TAG, THEN, WALL

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

Row = dict[str, Any]
KINDS = {"tag": TAG, "bridge": TAG, "restart": RESTART, "ending": ENDING}
CODES = [TAG, RESTART, ENDING, *COPIED, f"{HALF}1", f"{HALF}2", f"{AFTER}{ALL}", *(f"{AS}{k}" for k in range(1, 13)), *(f"{AFTER}{k}" for k in range(1, 97)), *(f"{WALL}{k}" for k in range(1, 13)),
         f"{WALL}last", *(f"{MANY}{k}" for k in range(1, 17)), f"{THEN}start", f"{THEN}continue"]  # fmt: skip
LINE = re.compile(r"([A-Z])\|\s?(.*)$")


def facts_of(line: str) -> dict[str, str]:
    return {k.strip(): v.strip() for k, _, v in (part.partition("=") for part in line.split(";")) if v.strip()}


def codes_of_end(line: str, counts: int, *, seated: bool) -> list[str] | None:
    """The codes of one line "A|" of a dance of so many counts; None where it tells no such thing in plain words."""
    first, *rest = (part.strip() for part in line.split(";"))
    facts = facts_of(line)
    kind = KINDS.get(first.casefold())
    walls = re.findall(r"\w+", facts.get("wall" if kind == ENDING else "walls", "last" if kind == ENDING else ""))
    after = facts.get("after", "")
    if kind is None or not walls or not after.isdigit():
        return None
    after = ALL if int(after) == counts else after
    out = [kind, f"{AFTER}{after}", *(f"{WALL}{wall}" for wall in walls)]
    if kind == RESTART:
        return out
    found = truth(rest[-1], seated=seated) if rest and "=" not in rest[-1] else None
    if found is None:
        return None
    then = [f"{THEN}{facts.get('then', 'start')}"] if kind == TAG else []
    return [*out, *then, f"{MANY}{found[1]}", *found[0][:-1]]


def ends_of(lines: Iterable[str], counts: int, *, seated: bool) -> list[str] | None:
    """The codes of all lines "A|" of a sheet; None where one of them is not plain."""
    out: list[str] = []
    for line in lines:
        one = codes_of_end(line, counts, seated=seated)
        if one is None:
            return None
        out += one
    return out


def groups_of(path: Path) -> list[Row]:
    """The groups of a file of ends that are plain."""
    out: list[Row] = []
    for group in re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8")):
        found = [(m[1], m[2].rstrip()) for line in group.split("\n") if (m := LINE.match(line))]
        told = {mark: text for mark, text in found if mark in "DF"}
        facts = facts_of(told.get("F", ""))
        if not facts:
            continue
        seated, counts, length = told.get("D") == "seated", int(facts["counts"]), int(facts["length"])
        codes = ends_of([text for mark, text in found if mark == "A"], counts, seated=seated)
        inside = [re.match(r"\s*(\d+)\s*\|\s?(.*)", text) for mark, text in found if mark == "I"]
        if codes is None or counts % length or not all(inside):
            continue
        out.append({"seated": seated, "counts": counts, "length": length, "named": facts.get("named", "none"), "ends": codes,
                    "head": [text for mark, text in found if mark == "H"], "below": [text for mark, text in found if mark == "G"],
                    "inside": [(int(m[1]), m[2]) for m in inside if m]})  # fmt: skip
    return out
