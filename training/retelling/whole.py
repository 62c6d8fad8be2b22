"""Whole sheets with the codes of all their sections: what the retelling network learns to read a sheet from at once.

    python training/retelling/whole.py OUT.jsonl SHEETS.txt … [--asks ASKS.txt …] [--apart] [--all]

Marked sheets (training/sorting) are taken as they are written; a group of asks is a sheet of the sections above and the one that asks.
With ``--apart`` only the sheets that are kept apart, with ``--all`` those too. Of a sheet with a slip, lines "Q|" tell the sections as they
stand: "same" as meant, "fault" where they are the author's to mend. BEGINS stands in the texts where a section begins,
as far as that is known, ADDS where a tag, a restart, an ending does; they are not read, but show where the network is to look when it
tells of them.
"""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any

from asking import AGAIN, LINE, told
from collect import APART, EVERY, MARK, NO_LINE, truth
from copies import leans, told_by_others
from ends import ends_of, facts_of
from faults import FAULT

from softshoe.wording.retell_codes import AS, MIRROR, SECTION

Row = dict[str, Any]
Lines = list[tuple[str, str]]
PROMISES = re.compile(r"\b(tags?|restarts?|bridges?|endings?)\b", re.IGNORECASE)
BEGINS, ADDS = "␞", "␟"
SAME = "same"
OF_SLIPS = ("weight", "side", "mirror", "arms", "seated", "direction-missing")  # told of a section as it stands


class Sheet:
    """What is told of one marked sheet."""

    def __init__(self, text: str) -> None:
        self.rows: Lines = [(m[1], m[2].rstrip()) for line in text.split("\n") if (m := MARK.match(line))]
        self.seated = ("D", "seated") in self.rows
        self.plain = [re.sub(r"^S:\s*", "", text.strip()) for mark, text in self.rows if mark == "P"]
        self.stands = [text.strip() for mark, text in self.rows if mark == "Q"]

    def sections(self) -> list[Row] | None:
        """The codes and counts of each section, and which it is danced as; None where one is not plain."""
        parts = sections_of(self.plain, seated=self.seated)
        if parts is None or not self.stands:
            return parts
        if len(self.stands) != len(parts):
            return None
        return as_they_stand(parts, self.stands, seated=self.seated)

    def ends(self, counts: int) -> list[str] | None:
        """The codes of tags, restarts, endings; None where they are there and nobody told what they mean."""
        lines = [text for mark, text in self.rows if mark == "A"]
        if not lines and any(mark == "G" for mark, _ in self.rows):
            return None
        stated = next((facts_of(text).get("counts", "") for mark, text in self.rows if mark == "F"), "")
        return ends_of(lines, int(stated) if stated.isdigit() else counts, seated=self.seated)


def sections_of(plain: list[str], *, seated: bool) -> list[Row] | None:
    parts: list[Row] = []
    for words in plain:
        one = told(words, [(part["codes"], part["counts"]) for part in parts], seated=seated)
        if one is None:
            return None
        again = AGAIN.match(words)
        parts.append(
            {
                "codes": one[0],
                "counts": one[1],
                "as": [f"{AS}{again[1]}", *([MIRROR] if again[2] else [])] if again else None,
            }
        )
    return parts or None


def as_they_stand(parts: list[Row], stands: list[str], *, seated: bool) -> list[Row] | None:
    """Sections with their slip: those danced as another one with a slip are the slip again."""
    out: list[Row] = []
    for part, words in zip(parts, stands, strict=True):
        if words == SAME:
            out.append(part)
        elif words == FAULT:
            out.append({**part, "codes": [FAULT, "end"], "as": None})
        elif (one := truth(words, seated=seated, also=OF_SLIPS)) is not None:
            out.append({**part, "codes": one[0], "counts": one[1], "as": None})
        else:
            return None
    return out


def whole_codes(sections: list[Row], ends: list[str] | None = None) -> list[str]:
    """The codes of all sections, a sign before each, and of what walls leave out or add."""
    out: list[str] = []
    for part in sections:
        out += [SECTION, *(part["as"] or part["codes"][:-1])]
    return [*out, *(ends or ()), "end"]


def of_marked(path: Path, *, apart: bool | None) -> list[Row]:
    """The sheets of a file: those that are taught, those kept apart, or (None) all."""
    rows: list[Row] = []
    for number, text in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        if apart is not None and (number % EVERY == APART) is not apart:
            continue
        sheet = Sheet(text)
        sections = sheet.sections() if sheet.plain else None
        if sections is None:
            print("not plain:", path.name, number, file=sys.stderr)
            continue
        ends = sheet.ends(sum(part["counts"] for part in sections))
        lines = [(mark, text) for mark, text in sheet.rows if mark not in NO_LINE]
        if ends is None and not apart:
            lines = [row for row in lines if row[0] != "G" and not PROMISES.search(row[1])]
        while lines and not lines[-1][1].strip():
            lines.pop()
        many = sum(mark == "A" for mark, _ in sheet.rows)
        lines, own = begun(lines, sections, many)
        sections = asked_for(sections, lines, own) if own else sections
        rows.append({"of": f"{path.stem}:{number}", "seated": sheet.seated, "whole": True, "lines": lines, "own": own, "sections": sections,
                     "ends": ends, "text": "\n".join(text for _, text in lines), "codes": whole_codes(sections, ends)})  # fmt: skip
    return rows


def asked_for(sections: list[Row], lines: Lines, own: list[tuple[int, int]]) -> list[Row]:
    """Sections that ask for earlier ones told by those, as far as that is short."""
    out: list[Row] = []
    headings = [lines[start - 1][1] if start and lines[start - 1][0] == "S" else "" for start, _ in own]
    for k, (part, (start, stop)) in enumerate(zip(sections, own, strict=True)):
        words = "\n".join(text for _, text in lines[start:stop]).replace(BEGINS, "")
        if part["as"] or not leans(words, part["codes"], headings[:k], part["counts"]):
            out.append(part)
        else:
            out.append(by_others(part, out))
    return out


def by_others(part: Row, above: list[Row]) -> Row:
    """A section told by those above, where that is short, and no other of them would do."""
    codes = [one["codes"][:-1] for one in above]
    found = told_by_others(part["codes"], codes) if FAULT not in part["codes"] else None
    return {**part, "as": found[0]} if found is not None and found[1] else part


def begun(lines: Lines, sections: list[Row], ends: int) -> tuple[Lines, list[tuple[int, int]] | None]:
    """The lines, with a sign where each section and each tag begins, and from which to which line each section's own words go.

    Only if headings, or lines of steps without any, are as many as sections, and lines of tags as many as those are.
    """
    first = "S" if any(mark == "S" for mark, _ in lines) else "CR"
    starts = [k for k, (mark, _) in enumerate(lines) if mark in first]
    if len(starts) != len(sections):
        return lines, None
    of_ends = [k for k, (mark, _) in enumerate(lines) if mark == "G"]
    if ends == 1:
        of_ends = of_ends[:1]
    if len(of_ends) != ends:
        of_ends = []
    own: list[tuple[int, int]] = []
    for k, start in enumerate(starts):
        stop = starts[k + 1] if k + 1 < len(starts) else len(lines)
        body = [n for n in range(start + (first == "S"), stop) if lines[n][0] in "CR"]
        own.append((body[0], body[-1] + 1) if body else (start, start))
    signs = {**dict.fromkeys(starts, BEGINS), **dict.fromkeys(of_ends, ADDS)}
    return [(mark, signs.get(k, "") + text) for k, (mark, text) in enumerate(lines)], own


def of_asks(path: Path) -> list[Row]:
    rows: list[Row] = []
    for number, group in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        found = [(m[1], m[2].strip()) for line in group.split("\n") if (m := LINE.match(line))]
        seated = ("D", "seated") in found
        parts = sections_of([text for mark, text in found if mark == "P"], seated=seated)
        numbers = [mark for mark, _ in found if mark.isdigit()]
        above: Lines = []
        for k, text in enumerate(text for mark, text in found if mark.isdigit()):
            above.append(("C", (BEGINS if numbers[k] not in numbers[:k] else "") + text))
        wanted: Row | None = None
        for mark, text in found if parts else ():
            if mark == "A":
                one = sections_of([*(text for mark, text in found if mark == "P"), text], seated=seated)
                wanted = one[-1] if one else None
                wanted = by_others(wanted, one[:-1]) if wanted and not wanted["as"] else wanted
            elif mark == "a" and wanted is not None:
                lines = [*above, *(("C", t.strip()) for t in (BEGINS + text).split(" // "))]
                sections = [*(parts or ()), wanted]
                rows.append({"of": f"{path.stem}:{number}", "seated": seated, "whole": True, "lines": lines, "own": owned(lines), "sections": sections,
                             "ends": [], "text": "\n".join(t for _, t in lines), "codes": whole_codes(sections)})  # fmt: skip
    return rows


def owned(lines: Lines) -> list[tuple[int, int]]:
    """From which to which line the words of each section of a group of asks go."""
    starts = [k for k, (_, text) in enumerate(lines) if text.startswith(BEGINS)]
    return list(zip(starts, [*starts[1:], len(lines)], strict=True))


def main() -> None:
    out, *rest = sys.argv[1:]
    flags = {name for name in rest if name in ("--apart", "--all")}
    rest = [name for name in rest if name not in flags]
    cut = rest.index("--asks") if "--asks" in rest else len(rest)
    apart = None if "--all" in flags else "--apart" in flags
    rows = [row for name in rest[:cut] for row in of_marked(Path(name), apart=apart)]
    rows += [row for name in rest[cut + 1 :] for row in of_asks(Path(name))]
    Path(out).write_text("\n".join(json.dumps(row, ensure_ascii=False) for row in rows), encoding="utf-8")
    print(len(rows), "whole sheets,", sum(any(p["as"] for p in r["sections"]) for r in rows), "with a section again,",
          sum(bool(r["ends"]) for r in rows), "with tags, restarts, endings")  # fmt: skip


if __name__ == "__main__":
    main()
