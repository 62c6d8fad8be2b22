"""How well whole sheets are read that neither rules nor networks have met: by rules alone, and by rules and networks.

    python benchmarks/sheets_apart.py [SHEETS.txt …]

Every sixth sheet of training/sorting/sheets is kept apart. A sheet is right where all its events are those of the plain
words of its sections but for a shade (home in whatever word, hands at rest low); errors told of it are counted beside.
"""

from __future__ import annotations

import re
import sys
import time
from contextlib import nullcontext
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

sys.path.append(str(Path(__file__).parents[1] / "training" / "retelling"))

from collect import APART, EVERY, MARK, NO_LINE, truth

from softshoe.dance.document import dance_json
from softshoe.errors import WorkbenchError
from softshoe.wording.outlined import sections_of
from softshoe.wording.read import empty, read
from softshoe.wording.retell_codes import events_of, mirrored
from softshoe.wording.retell_weigh import shade
from softshoe.wording.retold import by_rules_alone, net
from softshoe.wording.whole_ask import whole_answer

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from contextlib import AbstractContextManager

SHEETS = Path(__file__).parents[1] / "training" / "sorting" / "sheets"
SEATED = ("D", "seated")


class Marked(NamedTuple):
    """A sheet with a mark before each line (mark, words); ``apart`` from what was learnt."""

    rows: list[tuple[str, str]]
    apart: bool

    @property
    def text(self) -> str:
        """The sheet as its leader wrote it."""
        return "\n".join(text for mark, text in self.rows if mark not in NO_LINE) + "\n"

    def marked(self, mark: str) -> list[str]:
        """The words of the lines so marked."""
        return [text.strip() for found, text in self.rows if found == mark]


def marked_in(path: Path) -> Iterator[Marked]:
    """The sheets of a file."""
    for number, sheet in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        rows = [(m[1], m[2]) for line in sheet.split("\n") if (m := MARK.match(line))]
        if rows:
            yield Marked(rows, number % EVERY == APART)


def sheets(path: Path) -> Iterator[tuple[str, list[str]]]:
    """Each sheet kept apart: its text, and the events of its sections' plain words."""
    for sheet in marked_in(path):
        if not sheet.apart:
            continue
        plain = [re.sub(r"^S:\s*", "", words) for words in sheet.marked("P")]
        with by_rules_alone():
            events = meant(plain, seated=SEATED in sheet.rows)
        if events is not None:
            yield sheet.text, events


def judged_by(name: str) -> AbstractContextManager[None]:
    """By "rules" alone, or by "both" them and the networks."""
    return by_rules_alone() if name == "rules" else nullcontext()


def shades(events: Iterable[dict[str, Any]], at: int = 0) -> list[str]:
    """What is compared of events that begin behind so many counts."""
    return sorted(str(shade({**event, "t": Fraction(event["t"]) + at})) for event in events)


def meant(plain: list[str], *, seated: bool) -> list[str] | None:
    """The events of plain words, section after section; "=2 mirrored" is the second one again, mirrored."""
    parts: list[tuple[list[str], int]] = []
    out: list[str] = []
    at = 0
    for words in plain:
        again = re.match(r"=\s*(\d+)\s*(mirror\w*)?", words)
        if again and int(again[1]) > len(parts):
            return None
        found = parts[int(again[1]) - 1] if again else truth(words, seated=seated)
        if found is None:
            return None
        codes = [mirrored(code) for code in found[0]] if again and again[2] else found[0]
        parts.append((codes, found[1]))
        out += shades(events_of(codes) or (), at)
        at += found[1]
    return sorted(out)


def told(text: str) -> dict[str, Any]:
    try:
        return dance_json(read(text))
    except WorkbenchError:
        return dance_json(empty(text))


def told_whole_alone(text: str) -> list[str]:
    """The events that the retelling network tells of a whole sheet by itself, no rule beside it."""
    parts = whole_answer(net(), text, [], seated=bool(sections_of(text)[1].seated)).parts
    out: list[str] = []
    at = 0
    for part in parts:
        out += shades(part.answer.events, at)
        at += part.answer.counts
    return sorted(out)


def main() -> None:
    paths = [Path(name) for name in sys.argv[1:]] or sorted(SHEETS.glob("*.txt"))
    rows = [row for path in paths for row in sheets(path)]
    for name in ("rules", "both"):
        start, right, errors = time.process_time(), 0, 0
        for text, events in rows:
            with judged_by(name):
                got = told(text)
            right += shades(got["events"]) == events
            errors += sum(f["severity"] == "error" for f in got["findings"])
        each = (time.process_time() - start) / max(1, len(rows))
        print(
            f"{name}: {right} of {len(rows)} sheets right, {errors} errors told, {1000 * each:.0f} ms each", flush=True
        )
    alone = sum(told_whole_alone(text) == events for text, events in rows)
    print(f"the network alone, told whole: {alone} of {len(rows)} right")


if __name__ == "__main__":
    main()
