"""How well sections are read that neither rules nor network have met, by rules alone and by both; and what it costs.

    python benchmarks/retelling.py [WAYS.txt …]

Without files: the writers kept apart in training/retelling/apart. A way is right where its events are those of the
plain words but for a shade (home in whatever word, a toe that points or touches); *alarm* is right with an error or a
warning, *told* wrong with one, *silent* wrong without.
"""

from __future__ import annotations

import re
import sys
import time
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.dance.document import dance_json
from softshoe.errors import WorkbenchError
from softshoe.wording.read import read
from softshoe.wording.retell_weigh import shade
from softshoe.wording.retold import by_rules_alone

if TYPE_CHECKING:
    from collections.abc import Iterator

APART = Path(__file__).parent.parent / "training" / "retelling" / "apart"
OF_A_PART = ("free-foot", "walls", "total", "level", "crowded", "one-sided")


def told(words: str, *, seated: bool, counts: int) -> tuple[list[str], bool]:
    """Events of a section, and whether an error or a warning was told."""
    head = f"Kettle\n{counts} counts, 1 wall, beginner{', seated' if seated else ''}\n\nSection 1\n"
    try:
        dance = dance_json(read(head + re.sub(r"\s*//\s*", "\n", words)))
    except WorkbenchError:
        return [], True
    amiss = any(f["severity"] != "note" and f["kind"] not in OF_A_PART for f in dance["findings"])
    return sorted(str(shade(event)) for event in dance["events"]), amiss


def ways(path: Path) -> Iterator[tuple[bool, int, list[str], str]]:
    """Each way with its seated form, its counts and the events of its plain words."""
    for group in re.split(r"\n\s*\n", path.read_text(encoding="utf-8")):
        lines = [line.strip() for line in group.splitlines() if line.strip() and not line.startswith("#")]
        if len(lines) < 2:
            continue
        seated, plain = lines[0].startswith("S:"), lines[0].removeprefix("S:").strip()
        counts = max((int(n) for n in re.findall(r"(?:^|[,/] ?)(?:\d+-)?(\d+) ", plain)), default=8)
        with by_rules_alone():
            truth, amiss = told(plain, seated=seated, counts=counts)
        if not amiss:
            yield from ((seated, counts, truth, way) for way in lines[1:])


def fate(found: list[str], truth: list[str], *, amiss: bool) -> str:
    if found == truth:
        return "alarm" if amiss else "right"
    return "told" if amiss else "silent"


def main(*asked: str) -> None:
    paths = [Path(name) for name in asked] or sorted(APART.glob("*.txt"))
    for path in paths:
        rows = list(ways(path))
        rules: Counter[str] = Counter()
        both: Counter[str] = Counter()
        spent = [0.0, 0.0]
        for seated, counts, truth, way in rows:
            began = time.process_time()
            with by_rules_alone():
                found, amiss = told(way, seated=seated, counts=counts)
            rules[fate(found, truth, amiss=amiss)] += 1
            then = time.process_time()
            found, amiss = told(way, seated=seated, counts=counts)
            both[fate(found, truth, amiss=amiss)] += 1
            spent = [spent[0] + then - began, spent[1] + time.process_time() - then]
        for name, got, took in (("rules", rules, spent[0]), ("both", both, spent[1])):
            shares: dict[str, Any] = {kind: got[kind] for kind in ("right", "alarm", "told", "silent")}
            print(f"{path.stem}, {name}: {shares} of {len(rows)}; {1000 * took / max(1, len(rows)):.0f} ms each")


if __name__ == "__main__":
    main(*sys.argv[1:])
