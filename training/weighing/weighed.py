"""Sheets that neither rules nor networks have met, and the same with a slip: what is weighed when they are told whole.

    python training/weighing/weighed.py OUT.jsonl [SHEETS.txt …]
    python training/weighing/weighed.py OUT.jsonl --own

A row for each sheet kept apart (every sixth of training/sorting/sheets), and for each slip put into one that was read
without error: the traits of every way in which the network may tell it, and whether that way is right. ``--own``: the sheets of the tests instead, and
slips planted in them beside those by which it is tested: hands that the rules know.
"""

from __future__ import annotations

import json
import random
import re
import sys
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.append(str(Path(__file__).parents[1] / "retelling"))
sys.path.append(str(Path(__file__).parents[2] / "benchmarks"))
sys.path.append(str(Path(__file__).parents[2]))

from collect import NO_LINE
from sheets_apart import SEATED, SHEETS, marked_in, meant
from slips import planted
from tests.planted import test_planted
from tests.planted.pool import pool

from softshoe.errors import WorkbenchError
from softshoe.wording import read as reader
from softshoe.wording import read_ways
from softshoe.wording.retell_weigh import events_between, shade
from softshoe.wording.retold import by_rules_alone
from softshoe.wording.whole_case import Case, traits

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.dance.dance import Dance
    from softshoe.wording.reading import Reading

    Row = dict[str, Any]
    Judge = Callable[[Reading], Row]

HERE = Path(__file__).parents[2]
SLIPS, TRIES = 4, 30  # of a sheet
OWN = 40  # planted slips of a kind
WHOLE = 10**6  # counts
NEAR = 1  # lines
FAR = {"section-length": 8, "free-foot": WHOLE, "walls": WHOLE}  # lines: told of a section, of the dance


class Listener:
    """Hears what is weighed while a sheet is read."""

    def __init__(self) -> None:
        self.found: Reading | None = None
        self.cases: list[tuple[Case, Reading]] = []
        self.by_whole, self.case_of = read_ways.by_whole, read_ways.case_of
        reader.by_whole, read_ways.case_of = self._by_whole, self._case_of  # type: ignore[assignment]

    def _by_whole(self, text: str, found: Reading | None, *more: Any) -> Reading | None:
        self.found = found
        return self.by_whole(text, found, *more)

    def _case_of(self, found: Reading, way: Any, other: Reading, *more: Any) -> Case:
        case = self.case_of(found, way, other, *more)
        self.cases.append((case, other))
        return case

    def row(self, text: str, judged: Judge) -> Row | None:
        """What was weighed of a text; None where nothing was."""
        self.found, self.cases = None, []
        try:
            reader.reading(text)
        except WorkbenchError:
            return None
        if self.found is None:
            return None
        ways = [{"traits": traits(case), **judged(other)} for case, other in self.cases]
        return {"found": judged(self.found), "ways": ways}


def own_rows(listener: Listener) -> Iterator[Row]:
    """The sheets of the tests, which rules read as they are meant, and slips planted in them beyond those that are tested."""
    with by_rules_alone():
        pool()
    for sheet in pool():
        events = _danced(sheet.dance)
        row = listener.row(sheet.text, as_meant(events))
        if row is not None:
            yield {"of": sheet.name.replace("/", ":"), "slip": "", **row}
    for kind, slips in test_planted.slips().items():
        for slip in slips[test_planted.MOST : test_planted.MOST + OWN]:
            row = listener.row(slip.text, as_planted(slip))
            if row is not None:
                yield {"of": f"planted {slip.sheet.split('/')[0]}:{slip.sheet}", "slip": kind, **row}


def as_planted(slip: test_planted.Slip) -> Judge:
    """How a reading of a sheet with a planted slip is judged: as the tests judge it."""

    def judged(reading: Reading) -> Row:
        findings = reading.dance.findings
        told, more = test_planted.found(slip, findings), len(test_planted.accused(slip, findings))
        return {
            "told": told,
            "words": slip.kind == "word" and told,
            "more": more,
            "errors": sorted({kind for kind, _ in _errors(reading)}),
        }

    return judged


def as_meant(events: list[str]) -> Judge:
    """How a reading is judged whose events are known: are they those, and what is told amiss."""

    def judged(reading: Reading) -> Row:
        return {"right": _danced(reading.dance) == events, "errors": sorted({kind for kind, _ in _errors(reading)})}

    return judged


def _danced(dance: Dance) -> list[str]:
    return sorted(str(shade(e)) for e in events_between(dance, Fraction(1), Fraction(WHOLE)))


def with_slip(line: int) -> Judge:
    """How a reading of a sheet with a slip is judged: is it told near its line, or of the whole, and is more told."""

    def judged(reading: Reading) -> Row:
        errors = _errors(reading)
        near = [kind for kind, at in errors if at is not None and abs(at - line) <= FAR.get(kind, NEAR)]
        words = [f.line for f in reading.dance.findings if f.kind == "word" and f.line and abs(f.line - line) <= NEAR]
        return {
            "told": bool(near or words),
            "words": bool(words),
            "more": len(errors) - len(near),
            "errors": sorted({kind for kind, _ in errors}),
        }

    return judged


def _errors(reading: Reading) -> list[tuple[str, int | None]]:
    """Kind and line of each error."""
    return [(f.kind, f.line) for f in reading.dance.findings if f.severity == "error"]


def rows(path: Path, listener: Listener) -> Iterator[Row]:
    for number, sheet in enumerate(marked_in(path)):
        plain = [re.sub(r"^S:\s*", "", words) for words in sheet.marked("P")]
        with by_rules_alone():
            events = meant(plain, seated=SEATED in sheet.rows) if sheet.apart else None
        name, lines = f"{path.stem}:{number}", [(mark, words) for mark, words in sheet.rows if mark not in NO_LINE]
        row = listener.row(_text(lines), as_meant(events)) if events is not None else None
        if row is None:
            continue
        yield {"of": name, "slip": "", **row}
        if any(one["right"] and not one["errors"] for one in (row["found"], *row["ways"][:1])):
            yield from ({"of": name, **one} for one in _slips(lines, listener, random.Random(name)))


def _slips(lines: list[tuple[str, str]], listener: Listener, rnd: random.Random) -> Iterator[Row]:
    many = 0
    for _ in range(TRIES):
        slip = planted(rnd, lines)
        row = listener.row(_text(slip[2]), with_slip(slip[1] + 1)) if slip else None
        if slip is None or row is None:
            continue
        many += 1
        if any(one["told"] for one in (row["found"], *row["ways"])):
            yield {"slip": slip[0], **row}
        if many == SLIPS:
            return


def _text(lines: list[tuple[str, str]]) -> str:
    return "\n".join(words for _, words in lines) + "\n"


def main() -> None:
    out, *names = sys.argv[1:]
    listener = Listener()
    paths = [Path(name) for name in names] or sorted(SHEETS.glob("*.txt"))
    found = own_rows(listener) if names == ["--own"] else (row for path in paths for row in rows(path, listener))
    with Path(out).open("w", encoding="utf-8") as file:
        for row in found:
            file.write(json.dumps(row) + "\n")
            file.flush()


if __name__ == "__main__":
    main()
