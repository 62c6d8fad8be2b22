"""Every kind of long work: what is asked of it, and the steps that do it.

A kind is a row of ``data/jobs/kinds.csv``; the row names the function that tells its steps, so that a kind may live in
any room. The function takes what was asked and the place to work in, and is called where the steps are done.
"""

from __future__ import annotations

import csv
import hashlib
import json
from dataclasses import dataclass, fields
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, cast

from softshoe.errors import SettingError, UnreadableError, nearest
from softshoe.files import content_hash
from softshoe.jobs import values
from softshoe.jobs.step import Step
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    JSON = str | int | float | bool | None | Sequence["JSON"] | Mapping[str, "JSON"]

Queue = Literal["quick", "long"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a job works: the home, its own folder for what it leaves, the database of an association ("" for none)."""

    home: Path
    folder: Path
    database: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """The steps of a job, the folder whose ledger remembers them, and what is shown of what they leave."""

    steps: tuple[Step, ...]
    folder: Path
    made: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Kind:
    """``reads`` names what of the asked are files, folders or lists of them."""

    name: str
    heading: str
    steps: str
    reads: tuple[str, ...]
    queue: Queue

    def plan(self, asked: Mapping[str, Any], place: Place) -> Plan:
        """Return the steps of what was asked; raises WorkbenchError where it can't be done."""
        module, _, name = self.steps.partition(":")
        plan: Plan = getattr(import_module(module), name)(asked, place)
        return plan

    def name_of(self, asked: Mapping[str, JSON]) -> str:
        """Return the name of the job: the same for the same asked, while the files it reads are the same."""
        read = {name: [_content(Path(path)) for path in _paths(asked.get(name))] for name in self.reads}
        told = json.dumps([self.name, asked, read], sort_keys=True)
        return hashlib.sha256(told.encode()).hexdigest()[:32]


def kind_named(name: str, more: Path | None = None) -> Kind:
    """Return a kind by its name, of the table and of one ``more``; raises SettingError where there is none."""
    rows = {row["kind"]: row for row in _rows(more)}
    if name not in rows:
        near = nearest(name, rows)
        raise SettingError(f"“{name}”", "this is no kind of long work", "no row of jobs/kinds.csv has that name",
                           f"did you mean “{near}”?" if near else f"there are {', '.join(rows)}")  # fmt: skip
    row = rows[name]
    return Kind(name, row["heading"], row["steps"], tuple(row["reads"].split()), cast("Queue", row["queue"]))


def _rows(more: Path | None) -> list[dict[str, str]]:
    rows = list(table("jobs/kinds"))
    if more is not None:
        with more.open(encoding="utf-8", newline="") as file:
            rows += csv.DictReader(file)
    return rows


def queues() -> tuple[str, ...]:
    """Return the queues in which jobs wait."""
    return tuple(dict.fromkeys(row["queue"] for row in table("jobs/kinds")))


def _paths(said: JSON) -> list[str]:
    if said is None:
        return []
    return [said] if isinstance(said, str) else [str(one) for one in said] if isinstance(said, (list, tuple)) else []


def _content(path: Path) -> str:
    """The content of a file; of a folder the names, sizes and days of what is in it."""
    if path.is_dir():
        rows = sorted((str(one.relative_to(path)), one.stat().st_size, one.stat().st_mtime_ns)
                      for one in path.rglob("*") if one.is_file())  # fmt: skip
        return hashlib.sha256(json.dumps(rows).encode()).hexdigest()
    if not path.is_file():
        raise UnreadableError(str(path), "there is no such file", "nothing is where you said", "check the name")
    return content_hash(path)


def make(asked: Mapping[str, Any], place: Place) -> Plan:
    """Tell the steps of the main job.

    asked : "sheet" and "song" (files), and, where wished, "folder" and whatever else a ``Wish`` holds
    """
    from softshoe.jobs.making import Wish, steps

    folder = Path(asked["folder"]) if asked.get("folder") else place.folder
    how = {one.name: _as_wished(one.name, asked[one.name]) for one in fields(Wish) if asked.get(one.name)}
    wish = Wish(**(how | {"folder": folder}))
    return Plan(steps(wish), folder, (folder / "index.html", folder))


def _as_wished(name: str, said: Any) -> Any:
    """Return what JSON held as a wish holds it."""
    if name in ("sheet", "song", "lesson"):
        return Path(said)
    if name == "own":
        return tuple(values.own_from(one) for one in said)
    return tuple(said) if isinstance(said, list) else said


def listen(asked: Mapping[str, Any], place: Place) -> Plan:
    """Tell the step of listening; the song's map is left as song.json. asked : "song" (a file), "said" where wished."""
    song, left = Path(asked["song"]), place.folder / "song.json"
    said = {"said": dict(asked.get("said") or {})}
    step = Step("listen", "Listening to the song", values.listen, said, (song,), (left,), hint_s=8, apart=True)
    return Plan((step,), place.folder, (left,))
