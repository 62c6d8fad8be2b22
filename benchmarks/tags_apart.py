"""How well strangers' tags, restarts and endings are read: by rules alone, and by rules and networks.

    python benchmarks/tags_apart.py [SHEETS.txt …]

Over the sheets of training/sorting/sheets that tell what is meant (lines marked A: kind; after which count; walls; how
many counts; what follows; plain words of the steps). Every sixth sheet is kept apart; rules may have learnt from the
others. One is right where all of that is as meant, the steps but for a shade; those told beyond their number are false.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

sys.path.append(str(Path(__file__).parents[1] / "training" / "retelling"))

from collect import truth
from sheets_apart import SEATED, SHEETS, judged_by, marked_in, shades, told

from softshoe.wording.retell_codes import events_of
from softshoe.wording.retold import by_rules_alone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sheets_apart import Marked

KINDS = {"tag": "tags", "restart": "restarts", "ending": "endings"}


class Extra(NamedTuple):
    """What a wall leaves out or adds; ``then`` is what follows a tag, ``events`` None where words are not plain."""

    kind: str
    after: int
    walls: tuple[str, ...]
    counts: int
    then: str
    events: tuple[str, ...] | None


def meant(sheet: Marked) -> Iterator[Extra]:
    """What the writer of a sheet says that its tags, restarts and endings mean."""
    for line in sheet.marked("A"):
        first, *rest = (part.strip() for part in line.split(";"))
        facts = dict(part.split("=", 1) for part in rest if "=" in part)
        kind = "tag" if first == "bridge" else first
        walls = facts.get("wall", "last") if kind == "ending" else facts.get("walls", "")
        events: tuple[str, ...] | None = ()
        if kind != "restart":
            found = truth(rest[-1], seated=SEATED in sheet.rows)
            events = tuple(shades(events_of(found[0]) or ())) if found else None
        yield Extra(
            kind,
            int(facts["after"]),
            tuple(sorted(re.findall(r"\w+", walls))),
            int(facts.get("counts", 0)),
            facts.get("then", ""),
            events,
        )


def said(dance: dict[str, Any]) -> Iterator[Extra]:
    """What the reader tells of a sheet's tags, restarts and endings."""
    for kind, key in KINDS.items():
        for one in dance[key]:
            walls = [one["wall"]] if kind == "ending" else one["walls"]
            yield Extra(
                kind,
                one["after_count"],
                tuple(sorted(map(str, walls))),
                one.get("counts", 0),
                one.get("then", ""),
                tuple(shades(one.get("events", ()))),
            )


def score(rows: list[tuple[str, list[Extra]]]) -> dict[str, list[int]]:
    """For each kind how many are meant, how many of these are read as meant, and how many others are told beyond."""
    out = {kind: [0, 0, 0] for kind in KINDS}
    for text, want in rows:
        got = list(said(told(text)))
        right = Counter(want) & Counter(got)
        for kind, row in out.items():
            asked, found = (sum(one.kind == kind for one in ones) for ones in (want, got))
            row[0] += asked
            row[1] += sum(many for one, many in right.items() if one.kind == kind)
            row[2] += max(0, found - asked)
    return out


def main() -> None:
    paths = [Path(name) for name in sys.argv[1:]] or sorted(SHEETS.glob("*.txt"))
    sheets = [sheet for path in paths for sheet in marked_in(path) if sheet.marked("A")]
    with by_rules_alone():
        rows = [(sheet.apart, sheet.text, list(meant(sheet))) for sheet in sheets]
    for half, apart in (("learnt from", False), ("kept apart", True)):
        own = [(text, want) for one, text, want in rows if one is apart]
        for name in ("rules", "both"):
            with judged_by(name):
                found = score(own)
            kinds = ", ".join(f"{right} of {asked} {KINDS[kind]}" for kind, (asked, right, _) in found.items())
            asked, right, false = (sum(column) for column in zip(*found.values(), strict=True))
            print(f"{half}, {name}: {right} of {asked} right ({kinds}), {false} false, {len(own)} sheets", flush=True)


if __name__ == "__main__":
    main()
