"""Old texts read anew: what is told of a dance is as good as the reader that read it, and the reader gets better.

The words stay as they are; what was read of them is replaced, and what is told of the dance with it. Each text knows by
its reader's fingerprint who read it.
"""

from __future__ import annotations

import hashlib
import json
import os
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.dance.document import dance_from_json
from softshoe.errors import WorkbenchError
from softshoe.repertoire.intake_read import ends_with_parent

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.base import Base, Row
    from softshoe.repertoire.dances import Sheet
    from softshoe.repertoire.store import Repertoire

READERS = ("wording", "dance", "data/wording", "data/dance")
TOGETHER = 50
Changed = list[tuple[str, int, tuple[str, ...]]]
FEW = 40  # so many texts are not worth other processes


@cache
def reader() -> str:
    """Return the fingerprint of the reader as it is now: its code and its tables."""
    digest, root = hashlib.sha256(), Path(str(files("softshoe")))
    for room in READERS:
        for path in sorted((root / room).rglob("*")):
            if path.suffix in (".py", ".csv"):
                digest.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()[:16]


@dataclass(frozen=True, slots=True)
class Anew:
    """What came of it: texts read; title, text and what changed in counts of those that dance otherwise now; title and
    text of those in which no dance is found any more, where the old reading stays.
    """

    texts: int
    changed: tuple[tuple[str, int, tuple[str, ...]], ...]
    lost: tuple[tuple[str, int], ...]


def old(base: Base) -> int:
    """Return how many texts another reader has read."""
    return int(base.value("select count(*) as many from dance_text where read_by <> :now", now=reader()))


def read_anew(
    repertoire: Repertoire, *, told: Callable[[int, int], None] | None = None, workers: int | None = None
) -> Anew:
    """Read every text anew that another reader has read, some to a transaction; stopped, it goes on where it was.

    told : is called with how many are done, of how many
    """
    with repertoire.reading() as base:
        left = [
            row["n"] for row in base.rows("select n from dance_text where read_by <> :now order by n", now=reader())
        ]
    changed: Changed = []
    lost: list[tuple[str, int]] = []
    alone = len(left) <= FEW
    with ProcessPoolExecutor(workers or os.cpu_count() or 1, initializer=ends_with_parent) as pool:
        for begin in range(0, len(left), TOGETHER):
            rows = _texts(repertoire, left[begin : begin + TOGETHER])
            said = [(row["words"], row["title"]) for row in rows]
            read = [_read(one) for one in said] if alone else list(pool.map(_read, said, chunksize=10))
            _kept(repertoire, rows, read, changed, lost)
            if told is not None:
                told(min(len(left), begin + TOGETHER), len(left))
    return Anew(len(left), tuple(changed), tuple(lost))


def _texts(repertoire: Repertoire, numbers: list[int]) -> list[Row]:
    with repertoire.reading() as base:
        return base.rows("select t.n as n, t.dance as dance, t.number as number, t.words as words, t.events as events, "
                         "d.title as title from dance_text t join dance d on d.n = t.dance "
                         f"where t.n in ({', '.join(map(str, numbers))}) order by t.n")  # fmt: skip


def _kept(
    repertoire: Repertoire, rows: list[Row], read: list[Sheet | None], changed: Changed, lost: list[tuple[str, int]]
) -> None:
    with repertoire.writing() as base:
        for row, sheet in zip(rows, read, strict=True):
            _put(base, row, sheet, changed, lost)


def _read(said: tuple[str, str]) -> Sheet | None:
    from softshoe.repertoire.dances import Sheet
    from softshoe.wording.read import read

    words, title = said
    try:
        return Sheet.of(words, read(words), title=title)
    except WorkbenchError:
        return None


def _put(base: Base, row: Row, sheet: Sheet | None, changed: Changed, lost: list[tuple[str, int]]) -> None:
    from softshoe.repertoire.dances import now_iso, told
    from softshoe.repertoire.difference import differences

    base.run("update dance_text set read_by = :now where n = :n", now=reader(), n=row["n"])
    if sheet is None:
        lost.append((row["title"], row["number"]))
        return
    if sheet.events == row["events"]:
        return
    before, after = (dance_from_json(json.loads(events)) for events in (row["events"], sheet.events))
    base.run("update dance_text set events = :events where n = :n", events=sheet.events, n=row["n"])
    if words := tuple(one.words for one in differences(before, after)):
        changed.append((row["title"], row["number"], words))
    newest = base.value("select max(n) as n from dance_text where dance = :dance and head = 1", dance=row["dance"])
    if newest == row["n"]:
        told(base, row["dance"], sheet.facts, now_iso())
