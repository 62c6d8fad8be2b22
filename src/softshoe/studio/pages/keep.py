"""Keep: everything that is kept, found while typing; texts compared, old sheets taken in, booklets, backups."""

from __future__ import annotations

import re
import uuid
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from starlette.concurrency import run_in_threadpool
from starlette.responses import FileResponse, JSONResponse

from softshoe.errors import SettingError, UnreadableError
from softshoe.files import folder_for, write_whole
from softshoe.studio import orders
from softshoe.studio.failing import MissingError, TooLargeError
from softshoe.studio.following import SHOWN, Named, again_at, coming, stop_at
from softshoe.studio.remembered import WAYS, told_of
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from pathlib import Path

    from starlette.requests import Request
    from starlette.responses import Response

    from softshoe.repertoire.find import Hit
    from softshoe.repertoire.values import KeptDance, Text
    from softshoe.studio.asking import Asked
    from softshoe.studio.desk import Desk

SHEET_BYTES, PACK_BYTES = 20_000_000, 4_000_000_000
MOST_SHEETS = 2000
BATCH = re.compile(r"[0-9a-f]{32}")
UNSAFE = re.compile(r"[^\w .()-]+")
EDITIONS = {"normal": "normal print", "large": "large print", "largest": "giant print"}
PAPERS = {"a4": "A4", "us-letter": "letter"}


@dataclass(frozen=True, slots=True)
class Bound:
    """A booklet: the dances in their order, its title, its paper and how large its print is."""

    dances: tuple[str, ...]
    title: str = ""
    paper: str = "a4"
    edition: str = "normal"


@dataclass(frozen=True, slots=True)
class Batch:
    """Sheets that were sent together."""

    batch: str


@dataclass(frozen=True, slots=True)
class Copied:
    """A copy of the repertoire, by its name."""

    name: str


def values(asked: Asked) -> dict[str, object]:
    """Return what a booklet may be, and a name for the sheets that may be sent."""
    return {"batch": uuid.uuid4().hex, "editions": EDITIONS, "papers": PAPERS, "q": asked.query.get("q", "")[:200],
            "alone": not asked.desk.member}  # fmt: skip


def found(asked: Asked) -> dict[str, Any]:
    """Tell what is found by the words typed so far."""
    from softshoe.repertoire.find import find

    told = find(asked.desk.repertoire, asked.query.get("q", "")[:400], most=40, fitted=False)
    return {"hits": [_hit(one) for one in told.hits], "total": told.total, "understood": list(told.understood),
            "told": list(told.told)}  # fmt: skip


def _hit(one: Hit) -> dict[str, Any]:
    tempo = one.tempo_bpm
    parts = [f"{one.counts} counts"]
    parts += [f"{one.walls} wall{'s' if one.walls != 1 else ''}"] if one.walls else []
    parts += [one.level] if one.level else []
    parts += ["seated" if one.seated else "standing"]
    parts += [f"{tempo[0]:g} to {tempo[1]:g} bpm" if isinstance(tempo, tuple) else f"{tempo:g} bpm"] if tempo else []
    parts += [f"danced {one.danced}"] if one.danced else []
    return {"dance": one.uid, "title": one.title, "about": ", ".join(parts), "line": one.line, "errors": one.errors,
            "texts": one.texts}  # fmt: skip


def texts(asked: Asked) -> dict[str, Any]:
    """Tell every text of a dance, what changed from each to the next, and what she wrote beside it."""
    from softshoe.repertoire.difference import differences

    kept = _kept(asked)
    heads = {one.uid for one in kept.heads}
    by_uid = {one.uid: one for one in kept.texts}
    rows = []
    for one in kept.texts:
        before = [by_uid[uid] for uid in one.based_on if uid in by_uid]
        changed = [line.words for other in before[:1] for line in differences(other.dance, one.dance)]
        rows.append({"number": one.number, "day": one.kept_at[:10], "source": one.source, "head": one.uid in heads,
                     "based_on": [other.number for other in before], "changed": changed})  # fmt: skip
    return {"title": kept.title, "texts": rows, "beside": told_of(kept), "today": date.today().isoformat()}


def compare(asked: Asked) -> dict[str, Any]:
    """Tell what parts two texts of a dance, in counts; and both as they were written."""
    from softshoe.repertoire.difference import differences

    kept = _kept(asked)
    one, other = (_text(kept, asked.query.get(name, "")) for name in ("one", "other"))
    changed = [line.words for line in differences(one.dance, other.dance)]
    return {"one": one.number, "other": other.number, "changed": changed, "words": [one.words, other.words]}


def _kept(asked: Asked) -> KeptDance:
    return asked.desk.repertoire.dance(asked.query.get("dance", ""))


def _text(kept: KeptDance, number: str) -> Text:
    found = next((text for text in kept.texts if str(text.number) == number), None)
    if found is None:
        raise MissingError("this text", "it is not kept", f"“{kept.title}” has no text {number[:6]}",
                           "choose one of those listed")  # fmt: skip
    return found


def came(asked: Asked) -> dict[str, Any]:
    """Take one sheet of a batch, as the body of the request."""
    folder = _batch(asked.desk, asked.query.get("batch", ""))
    raw = asked.query.get("name", "").replace("\\", "/").rsplit("/", 1)[-1]
    name = UNSAFE.sub("_", raw).strip(" .")[-80:] or "sheet.txt"
    if folder.is_dir() and sum(1 for _ in folder.iterdir()) >= MOST_SHEETS:
        raise SettingError(
            "these sheets", "they are too many", f"{MOST_SHEETS} are taken at a time", "send the rest later"
        )
    folder_for(folder)
    number = 1
    while (path := folder / (name if number == 1 else f"{number}-{name}")).exists():
        number += 1
    write_whole(path, asked.body)
    return {"name": path.name}


def take(asked: Asked) -> dict[str, Any]:
    """Take the sheets of a batch in; they are read and kept by a job, which leaves a report."""
    folder = _batch(asked.desk, asked.json(Batch).batch)
    if not folder.is_dir():
        raise SettingError("these sheets", "there are none", "none was sent", "choose files or a folder first")
    return {"job": orders.door_of(asked.desk).ask("import", {"folder": str(folder)})}


def _batch(desk: Desk, said: str) -> Path:
    if not BATCH.fullmatch(said):
        raise MissingError("these sheets", "they are not known", "the page is too old", "load the page again")
    return desk.home / "studio" / "incoming" / said


def booklet(asked: Asked) -> dict[str, Any]:
    """Order a booklet of dances, in their order."""
    said = asked.json(Bound)
    if not said.dances or len(said.dances) > 200 or said.paper not in PAPERS or said.edition not in EDITIONS:
        raise SettingError("the booklet", "it can't be made", "it has no dances, or too many", "mark up to 200 dances")
    folder = asked.desk.home / "studio" / "booklets" / uuid.uuid4().hex
    folder_for(folder)
    sheets = []
    for k, uid in enumerate(said.dances, 1):
        kept = asked.desk.repertoire.dance(uid)
        path = folder / f"{k:03} {UNSAFE.sub('_', kept.title)[:60] or 'dance'}.txt"
        write_whole(path, kept.newest.words)
        sheets.append(str(path))
    order = {"sheets": sheets, "title": said.title[:120], "paper": said.paper, "edition": said.edition}
    return {"job": orders.door_of(asked.desk).ask("booklet", order)}


def jobs(asked: Asked) -> dict[str, Any]:
    """Tell what was ordered here, the newest first, and what of it lies ready."""
    every = [one for one in reversed(orders.door_of(asked.desk).all()) if one.kind in ("booklet", "import")]
    made = [
        {"name": path.name, "bytes": path.stat().st_size, "href": f"/keep/out/{one.job}/{path.name}"}
        for one in every if one.state == "done" for path in one.made[:2] if path.is_file() and path.suffix != ".json"
    ]  # fmt: skip
    return {"jobs": [orders.told_of(asked.desk, one) for one in every], "made": made}


def stop(asked: Asked) -> dict[str, Any]:
    """Stop a job; what is done of it stays."""
    stop_at(asked.desk, asked.json(Named).job)
    return jobs(asked)


def again(asked: Asked) -> dict[str, Any]:
    """Go on with a job that was stopped or failed."""
    again_at(asked.desk, asked.json(Named).job)
    return jobs(asked)


def out(asked: Asked) -> Response:
    """Give out what a job left. Pages run no script here."""
    told = orders.door_of(asked.desk).told(asked.path["job"])
    path = next((one for one in told.made if one.name == asked.path["name"] and one.is_file()), None)
    if path is None:
        raise MissingError("this file", "it is not there", "the job left nothing of that name", "order it again")
    return FileResponse(path, headers={"content-security-policy": SHOWN})


def backup(asked: Asked) -> Response:
    """Pack everything that is kept into one file and give it out."""
    from softshoe.repertoire.packed import packed

    _must_be_alone(asked.desk)
    folder = folder_for(asked.desk.home / "studio" / "backups")
    for old in folder.glob("*.zip"):
        old.unlink(missing_ok=True)
    name = f"softshoe {datetime.now():%Y-%m-%d %H-%M-%S}.zip"
    made = packed(asked.desk.home, folder / name)
    return FileResponse(made.path, filename=name, media_type="application/zip")


def copies(asked: Asked) -> dict[str, Any]:
    """Tell the copies that can be put back, the newest first."""
    from softshoe.repertoire.packed import listed

    if asked.desk.member:
        return {"copies": []}
    return {"copies": [{"name": one.name, "bytes": one.path.stat().st_size} for one in listed(asked.desk.home)]}


def restore(asked: Asked) -> dict[str, str]:
    """Put a copy back in place of what is kept now, which is copied first."""
    from softshoe.repertoire.packed import listed, put_back

    _must_be_alone(asked.desk)
    name = asked.json(Copied).name
    if name not in {one.name for one in listed(asked.desk.home)}:
        raise MissingError("this copy", "it is not there", "no copy has that name", "choose one of those listed")
    return {"told": put_back(asked.desk.home, name)}


async def unpack(request: Request, desk: Desk) -> Response:
    """Put everything back from a backup that is sent: taken to the disk as it comes, checked to the last byte first."""
    _must_be_alone(desk)
    path = folder_for(desk.home / "studio" / "incoming") / f"{uuid.uuid4().hex}.zip"
    try:
        await _sent(request, path)
        return JSONResponse({"told": await run_in_threadpool(_unpacked, desk.home, path)})
    finally:
        path.unlink(missing_ok=True)


def _must_be_alone(desk: Desk) -> None:
    """Raise SettingError on an association's server: what is kept there is everybody's."""
    if desk.member:
        raise SettingError("copies", "they are not made here", "this studio runs on the group's server, where copies "
                           "are made for all", "ask who runs the server")  # fmt: skip


async def _sent(request: Request, path: Path) -> None:
    size = 0
    with path.open("wb") as file:
        async for part in request.stream():
            size += len(part)
            if size > PACK_BYTES:
                raise TooLargeError("this file", "it is too much", f"at most {PACK_BYTES // 10**9} GB are taken",
                                    "use “softshoe restore” in a terminal")  # fmt: skip
            await run_in_threadpool(file.write, part)


def _unpacked(home: Path, path: Path) -> str:
    from softshoe.repertoire.packed import put_back

    with path.open("rb") as file:
        if file.read(2) != b"PK":
            raise UnreadableError("this file", "it is no backup", "a backup is a zip that softshoe packed",
                                  "choose a file that “Back up” gave you")  # fmt: skip
    return put_back(home, str(path))


PAGE = Page("keep", "Keep", values, (
    Way("found", found), Way("texts", texts), Way("compare", compare), Way("come", came, "PUT", SHEET_BYTES),
    Way("take", take, "POST"), Way("booklet", booklet, "POST"), Way("jobs", jobs), Way("stop", stop, "POST"),
    Way("again", again, "POST"), Way("coming", coming), Way("out/{job}/{name}", out), Way("backup", backup),
    Way("copies", copies), Way("restore", restore, "POST"), Way("unpack", unpack, "PUT"),
    *WAYS,
))  # fmt: skip
