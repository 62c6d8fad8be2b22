"""Ordering what is made of a dance: films, tracks, sheets. The job door does it; what she decided lies ready for it."""

from __future__ import annotations

import atexit
import json
import threading
from contextlib import ExitStack
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from softshoe.files import folder_for, write_whole
from softshoe.studio.chosen import on_song, own_of_wish, wish_named
from softshoe.studio.failing import MissingError
from softshoe.studio.lessons import folder_of, laid_of, sheet_file, written

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.jobs.door import Door
    from softshoe.jobs.told import Told
    from softshoe.studio.desk import Desk

_DOORS: dict[tuple[Path, str], Door] = {}
_GUARD = threading.Lock()
_OPEN = ExitStack()
atexit.register(_OPEN.close)
JOB = ".job"  # names the job that was last asked for a dance
HIDDEN = (".", "lesson-words", "song-map")


@dataclass(frozen=True, slots=True)
class Order:
    """What is ordered: ``parts`` of sheet, report, films, tracks; films of the dance for these kinds of versions, and
    for versions of her own, by their names."""

    parts: tuple[str, ...]
    kinds: tuple[str, ...] = ("seated",)
    own: tuple[str, ...] = ()
    sound: str = "groove"


def door_of(desk: Desk) -> Door:
    """Return the door to long work of this desk's home; it stays open as long as the studio runs."""
    from softshoe.home import database_url
    from softshoe.jobs.door import open_door

    whose = (desk.home, desk.repertoire.viewer)
    with _GUARD:
        if whose not in _DOORS:
            opened = open_door(desk.home, database=database_url() or None, account=whose[1])
            _DOORS[whose] = _OPEN.enter_context(opened)
        return _DOORS[whose]


def ask(desk: Desk, uid: str, order: Order) -> str:
    """Ask for what is ordered and return the job's name; what has not changed since is not made again."""
    folder = folder_for(folder_of(desk, uid))
    own = [asdict(own_of_wish(wish_named(desk, uid, name))) for name in order.own]
    asked: dict[str, Any] = {"sheet": str(sheet_file(desk, uid)), "song": str(_song(desk, uid, folder)),
                             "folder": str(folder), "only": list(order.parts), "versions": list(order.kinds),
                             "own": own, "sound": order.sound}  # fmt: skip
    _decided(desk, uid, folder, asked)
    door = door_of(desk)
    job = door.ask("make", asked)
    if door.told(job).state == "done":
        door.again(job, "asked for again")
    write_whole(folder / JOB, job)
    return job


def _song(desk: Desk, uid: str, folder: Path) -> Path:
    """The recording where it is kept; else the song's map, or that of the plain rhythm."""
    from softshoe.music.document import song_json
    from softshoe.repertoire.originals import here

    laid = on_song(desk, uid)
    if laid is not None and laid.recording and (place := here(desk.home, laid.recording)).is_file():
        return place
    path = folder / "song-map.json"
    write_whole(path, json.dumps(song_json(laid_of(desk, uid)[1])))
    return path


def _decided(desk: Desk, uid: str, folder: Path, asked: dict[str, Any]) -> None:
    """Lay what she decided into the folder, as a hand would: her song's counts, her run, her lesson's words."""
    from softshoe.fit.document import run_json
    from softshoe.jobs.kinds import Place, kind_named
    from softshoe.jobs.ledger import Ledger
    from softshoe.music.document import song_json

    run, song = laid_of(desk, uid)
    given = {
        "listen": json.dumps(song_json(song), ensure_ascii=False, indent=1) + "\n",
        "fit": json.dumps({**run_json(run), "findings": []}, ensure_ascii=False, indent=1) + "\n",
        "lesson words": written(desk, uid),
    }
    ledger = Ledger.of(folder)
    for step in kind_named("make").plan(asked, Place(desk.home, folder)).steps:
        words = given.get(step.name)
        if words is not None and (not step.leaves[0].is_file() or step.leaves[0].read_text("utf-8") != words):
            write_whole(step.leaves[0], words)
            ledger.note(step, "", mended=True)


def told_of(desk: Desk, one: Told) -> dict[str, Any]:
    """Return how a job stands, for a page: with the identity of its dance where it is one of the studio's."""
    names = (desk.home / "studio" / "made").glob(f"*/{JOB}")
    dance = next((path.parent.name for path in names if path.read_text("utf-8") == one.job), "")
    row = {key: value for key, value in asdict(one).items() if key != "made"}
    return row | {"over": one.over, "dance": dance, "share": round(one.share, 3)}


def made_of(desk: Desk, uid: str) -> list[dict[str, Any]]:
    """Return the files that were made of a dance: name and size [bytes]; JSON values last."""
    folder = folder_of(desk, uid)
    files = [path for path in folder.glob("*") if path.is_file() and not path.name.startswith(HIDDEN)]
    files.sort(key=lambda path: (path.name != "index.html", path.suffix in (".json", ".txt", ".vtt"), path.name))
    return [{"name": path.name, "bytes": path.stat().st_size} for path in files]


def made_file(desk: Desk, uid: str, name: str) -> Path:
    """Return a file that was made of a dance; raises MissingError for anything else."""
    found = next((one for one in made_of(desk, uid) if one["name"] == name), None)
    if found is None:
        raise MissingError("this file", "it is not there", "nothing of that name was made of this dance",
                           "order it in Teach")  # fmt: skip
    return folder_of(desk, uid) / str(found["name"])
