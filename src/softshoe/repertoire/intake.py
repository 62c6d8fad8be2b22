"""A folder of old sheets taken in: each becomes a dance with its original kept, and what became of each is told.

Reading is spread over the processors; keeping happens here, some sheets to a transaction. What was kept stays kept
when this is stopped, and the same folder again goes on where it ended, for the same file twice is one.
"""

from __future__ import annotations

import hashlib
import json
import os
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from softshoe.dance.document import dance_from_json
from softshoe.errors import Finding, SettingError
from softshoe.repertoire import originals
from softshoe.repertoire.dances import keep, now_iso
from softshoe.repertoire.difference import alike
from softshoe.repertoire.intake_read import ReadSheet, kind_of, reader
from softshoe.repertoire.plain import plain

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.base import Base
    from softshoe.repertoire.dances import Sheet
    from softshoe.repertoire.store import Repertoire

Outcome = Literal["kept", "another text", "same title", "known", "same words", "no dance", "unreadable", "scan", "left"]
TOGETHER = 20  # sheets to a transaction
ALIKE = 0.5  # share of the counts that two sheets of one title dance alike, to be two texts of one dance


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of one file. ``path`` is within the folder; ``dance`` the identity of what was kept, or is there
    already; ``why`` and ``mend`` say what stands in the way, if anything does. ``unread`` are lines kept as written.
    """

    path: str
    outcome: Outcome
    title: str = ""
    dance: str = ""
    counts: int = 0
    findings: tuple[Finding, ...] = ()
    unread: tuple[tuple[int, str], ...] = ()
    why: str = ""
    mend: str = ""


@dataclass(frozen=True, slots=True)
class Intake:
    """What became of a folder, file by file, and how long it took [s]."""

    folder: str
    files: tuple[Taken, ...]
    seconds: float


def take_in(
    repertoire: Repertoire,
    folder: Path,
    *,
    told: Callable[[int, int], None] | None = None,
    workers: int | None = None,
    journal: Path | None = None,
) -> Intake:
    """Take in every sheet of a folder and the folders in it, the oldest first.

    told : is called with how many files are done, of how many
    workers : processes that read; None for as many as there are processors
    journal : a file that remembers what became of each sheet, so that the report is whole after a kill
    Raises SettingError where there is no such folder.
    """
    if not folder.is_dir():
        raise SettingError(str(folder), "there is no such folder", "nothing of that name is a folder here",
                           "check the name; a single sheet is kept with “softshoe keep SHEET”")  # fmt: skip
    begun = time.monotonic()
    paths = _files(folder)
    with repertoire.reading() as base:
        known = {row["content"]: (row["dance"], row["title"]) for row in base.rows(
            "select f.content as content, d.uid as dance, d.title as title from file f join dance_text t on "
            "t.uid = f.about "
            "join dance d on d.n = t.dance")}  # fmt: skip
    taken, new = _sorted_out(folder, paths, known, noted(journal) if journal else {})
    with reader(workers or os.cpu_count() or 1, len(new)) as read:
        for batch in _batches(read(new)):
            with repertoire.writing() as base:
                done = [_kept(base, repertoire.folder, folder, path, sheet) for path, sheet in batch]
            taken += done  # only now they are on the disk
            if journal is not None:
                note(journal, done)
            if told is not None:
                told(len(taken), len(paths))
    taken.sort(key=lambda one: one.path.casefold())
    return Intake(str(folder), tuple(taken), time.monotonic() - begun)


def _files(folder: Path) -> list[Path]:
    """Every file, the oldest first, so that the newest text of a dance is the one that is listed."""
    found = []
    for place, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        found += [Path(place) / name for name in names if not name.startswith((".", "~$"))]
    return sorted(found, key=lambda path: (_age(path), path.as_posix()))


def _age(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def _sorted_out(
    folder: Path, paths: list[Path], known: dict[str, tuple[str, str]], before: dict[str, Taken]
) -> tuple[list[Taken], list[Path]]:
    """Part what needs no reading (pictures, other things, files taken in before) from what is to be read."""
    taken, new = [], []
    for path in paths:
        within, kind = path.relative_to(folder).as_posix(), kind_of(path)
        if kind == "picture":
            taken.append(Taken(within, "scan", why="it is a picture: a scan holds no words"))
        elif kind == "other":
            taken.append(Taken(within, "left"))
        elif found := known.get(_content(path)):
            taken.append(before.get(within) or Taken(within, "known", found[1], found[0]))
        else:
            new.append(path)
    return taken, new


def _content(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""


def _batches(sheets: Iterator[tuple[Path, ReadSheet]]) -> Iterator[list[tuple[Path, ReadSheet]]]:
    batch: list[tuple[Path, ReadSheet]] = []
    for pair in sheets:
        batch.append(pair)
        if len(batch) == TOGETHER:
            yield batch
            batch = []
    if batch:
        yield batch


def _kept(base: Base, home: Path, folder: Path, path: Path, read: ReadSheet) -> Taken:
    """Keep what was read of a file, with the file itself; or tell why not."""
    within = path.relative_to(folder).as_posix()
    if read.sheet is None:
        outcome: Outcome = "scan" if read.scan else "no dance" if read.stepless else "unreadable"
        return Taken(within, outcome, why=f"{read.what}: {read.why}", mend=read.mend)
    data = path.read_bytes()
    content = originals.put(home, data)
    uid, outcome = _belongs(base, read.sheet)
    put = keep(base, read.sheet, uid=uid, source=within, original=content)
    put_file(base, content, path.name, len(data), put.text)
    if put.how == "known":
        outcome = "same words"
    facts = read.sheet.facts
    return Taken(within, outcome, facts.title, put.dance, facts.counts, read.findings, read.unread)


def note(journal: Path, done: list[Taken]) -> None:
    """Add what became of some files to a journal."""
    with journal.open("a", encoding="utf-8") as file:
        for one in done:
            file.write(json.dumps(asdict(one), ensure_ascii=False) + "\n")


def noted(journal: Path) -> dict[str, Taken]:
    """Return what a journal remembers, by path; a last line that was cut short is passed over."""
    found = {}
    for line in journal.read_text(encoding="utf-8").splitlines() if journal.is_file() else ():
        try:
            row = json.loads(line)
        except ValueError:
            continue
        findings = tuple(Finding(**one) for one in row.pop("findings"))
        unread = tuple((number, words) for number, words in row.pop("unread"))
        found[row["path"]] = Taken(**row, findings=findings, unread=unread)
    return found


def put_file(base: Base, content: str, name: str, size: int, about: str) -> None:
    """Note a kept file: its name, its size in bytes, and the identity of what it belongs to."""
    base.run("insert into file (content, name, bytes, kept_at, about) values (:content, :name, :size, :now, :about) "
             "on conflict do nothing", content=content, name=name, size=size, now=now_iso(), about=about)  # fmt: skip


def _belongs(base: Base, sheet: Sheet) -> tuple[str, Outcome]:
    """The dance of that title which this one dances most like, or "new"."""
    rows = base.rows("select d.uid as uid, t.events as events from dance d join dance_text t on t.dance = d.n "
                     "and t.head = 1 "
                     "where d.title_key = :key", key=plain(sheet.facts.title))  # fmt: skip
    if not rows:
        return "new", "kept"
    mine = dance_from_json(json.loads(sheet.events))
    likest, uid = max((alike(dance_from_json(json.loads(row["events"])), mine), str(row["uid"])) for row in rows)
    return (uid, "another text") if likest >= ALIKE else ("new", "same title")
