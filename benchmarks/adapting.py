"""Versions of every sheet in the tests: breaches, counts, footwork, mirror, idempotence, reading back, time, and what
was given up most. Run: ``python benchmarks/adapting.py [every_nth [read_back_nth]]`` (all sheets: some minutes; writing
and reading back every fifth version takes most of them, 0 leaves it out).
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from adapt.event_checker import broken  # noqa: E402
from adapt.made_dances import WISHES, as_json, mixes, wished  # noqa: E402
from softshoe.adapt.adapt import adapt  # noqa: E402
from softshoe.adapt.costs import cost_of  # noqa: E402
from softshoe.wording.read import read  # noqa: E402
from softshoe.wording.source import sheet_text  # noqa: E402
from softshoe.wording.write import write  # noqa: E402

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SHEETS = ROOT / "tests" / "sheets"
READ_BACK_EACH = 5


def main(every: int, read_back_each: int) -> int:
    """Print the worst values over every ``every``-th sheet; return 1 when anything is broken."""
    paths = sorted(SHEETS.glob("*/sound/*.txt"))[::every]
    wishes = [(wish,) for wish in WISHES] + mixes(100)
    bad: list[str] = []
    slowest, given_up, versions, read_back = (0.0, ""), [], 0, 0
    parts: Counter[str] = Counter()
    for number, path in enumerate(paths):
        dance = read(sheet_text(path))
        before = as_json(dance)
        if broken(before, before, frozenset()):
            print(f"not judged, unsound as written: {path.name}: {broken(before, before, frozenset())[:1]}")
            continue
        for mix in (*wishes[: len(WISHES)], *wishes[len(WISHES) + number :: max(1, len(paths))]):
            given, words = wished(*mix)
            since = time.process_time()
            version = adapt(dance, given)
            took = time.process_time() - since
            slowest = max(slowest, (took, f"{path.name} {mix}"))
            versions += 1
            wrong = broken(before, as_json(version.dance), words)
            wrong += [str(one) for one in version.breaches]
            if adapt(version.dance, given).dance != version.dance:
                wrong.append("made over again, it changes")
            if read_back_each and versions % read_back_each == 0:
                read_back += 1
                wrong += _read_back(version.dance)
            bad += [f"{path.name} {mix}: {one}" for one in wrong[:2]]
            parts.update(version.costs or {})
            given_up.append((cost_of(version.costs or {}) / dance.counts, f"{path.name} {mix}"))
    print(f"{len(paths)} sheets, {versions} versions, {len(bad)} broken; {read_back} read back")
    print(f"slowest: {slowest[0]:.2f} s of one core: {slowest[1]}")
    print("given up most a count:", *(f"  {cost:.1f}  {what}" for cost, what in sorted(given_up)[-5:][::-1]), sep="\n")
    print("parts given up:", ", ".join(f"{part} {times:.0f}" for part, times in parts.most_common()))
    print(*bad[:40], sep="\n")
    return int(bool(bad))


def _read_back(dance: Dance) -> list[str]:
    """Return what differs after writing and reading a version."""
    again = read(write(dance))
    if replace(again, tempo_bpm=None).actions == dance.actions:
        return []
    for one, two in zip(dance.actions, again.actions, strict=False):
        if one != two:
            return [f"read back otherwise: {one} became {two}"]
    return ["read back with another number of actions"]


if __name__ == "__main__":
    given = [int(word) for word in sys.argv[1:]]
    sys.exit(main(*(given + [1, READ_BACK_EACH][len(given) :])))
