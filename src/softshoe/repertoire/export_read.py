"""An export brought back: into an empty repertoire as it was, into another one beside what is there, nothing
overwritten.
"""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

from softshoe.dance.document import dance_from_json
from softshoe.errors import UnreadableError
from softshoe.fit.document import run_from_json
from softshoe.music.document import song_from_json
from softshoe.repertoire import originals
from softshoe.repertoire.beside import put_danced, put_label, put_note, put_song_link
from softshoe.repertoire.dances import events_of, new_dance, now_iso, put_text, told
from softshoe.repertoire.export import FORM, MARK, SUMS
from softshoe.repertoire.facts import facts_of
from softshoe.repertoire.intake import put_file
from softshoe.repertoire.songs import keep_lesson, keep_run, keep_song, kept_song
from softshoe.repertoire.values import Danced
from softshoe.teach.document import lesson_from_json

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.base import Base
    from softshoe.repertoire.store import Repertoire

Json = dict[str, Any]
HAS_SONG = "select 1 as there from song where uid = :uid"


def read_back(repertoire: Repertoire, folder: Path) -> tuple[str, ...]:
    """Bring an export back in one transaction, and tell what was done.

    A dance that is there gets the texts it lacks; where both were changed, both texts stand side by side.
    Raises UnreadableError where a file is missing or changed, or the export is of a newer softshoe.
    """
    files = _checked(folder)
    new = texts = 0
    with repertoire.writing() as base:
        songs = [json.loads(data) for name, data in files.items() if name.endswith(".about.json")]
        for song in songs:
            _song(base, repertoire.folder, files, song)
        for name in [name for name in files if name.startswith("dances/") and name.endswith("/about.json")]:
            made, more = bring_dance(base, repertoire.folder, files, json.loads(files[name]))
            new, texts = new + made, texts + more
        bring_runs(base, files)
    return (f"{new} dances and {texts} texts brought back, {len(songs)} songs; what was there already stayed as it is",)


def _checked(folder: Path) -> dict[str, bytes]:
    """Return the files of an export by name, all of them as they were written."""
    try:
        form = json.loads((folder / MARK).read_bytes())["form"]
        lines = (folder / SUMS).read_text(encoding="utf-8").splitlines()
        sums = {name: said for said, name in (line.split("  ", 1) for line in lines)}
    except (OSError, ValueError, KeyError, TypeError) as wrong:
        raise _changed(folder, f"{MARK} or {SUMS} can't be read ({wrong})") from wrong
    if form != FORM:
        raise UnreadableError(str(folder), "this export is of a newer softshoe", f"its form is {form}, this "
                                                                                 f"program knows {FORM}",
                              "bring softshoe up to date")  # fmt: skip
    files = {}
    for name, said in sums.items():
        place = folder / name
        if not place.resolve().is_relative_to(folder.resolve()):
            raise _changed(folder, f"{name} lies outside of it")
        data = place.read_bytes() if place.is_file() else b""
        if hashlib.sha256(data).hexdigest() != said:
            raise _changed(folder, f"{name} is {'changed' if data else 'missing'}")
        files[name] = data
    return files


def _changed(folder: Path, why: str) -> UnreadableError:
    return UnreadableError(str(folder), "this export is not as it was written", f"{why}; nothing was brought back",
                           "copy it anew; a sheet that you changed is kept with “softshoe keep”")  # fmt: skip


def bring_dance(base: Base, home: Path, files: dict[str, bytes], about: Json) -> tuple[int, int]:
    """Bring one dance back; return how many are new, of dances and of texts."""
    row = base.one("select n from dance where uid = :uid", uid=about["uid"])
    n = new_dance(base, about["title"], about["uid"], now_iso()) if row is None else int(row["n"])
    there = {one["uid"] for one in base.rows("select uid from dance_text where dance = :n", n=n)}
    fresh = [one for one in about["texts"] if one["uid"] not in there]
    for one in fresh:
        _text(base, home, files, n, one)
    if fresh:
        last = base.one(
            "select words, events from dance_text where dance = :n and head = 1 order by n desc limit 1", n=n
        )
        assert last is not None
        dance = dance_from_json(json.loads(last["events"]))
        told(base, n, facts_of(dance, last["words"], title=about["title"]), now_iso())
    _beside(base, about)
    return int(row is None), len(fresh)


def _text(base: Base, home: Path, files: dict[str, bytes], n: int, one: Json) -> None:
    taken = base.one("select 1 as there from dance_text where dance = :n and number = :k", n=n, k=one["number"])
    last = base.value("select coalesce(max(number), 0) as last from dance_text where dance = :n", n=n)
    put_text(
        base, n, uid=one["uid"], number=one["number"] if taken is None else last + 1,
        words=files[one["words"]].decode(),
        events=events_of(dance_from_json(json.loads(files[one["steps"]]))), kept_at=one["kept_at"],
        based_on=tuple(one["based_on"]), source=one["source"], original=one["original"],
    )  # fmt: skip
    if "file" in one:
        data = files[one["file"]]
        name = one["file"].rpartition("/")[2].split("-", 2)[2]
        put_file(base, originals.put(home, data), name, len(data), one["uid"])


def _beside(base: Base, about: Json) -> None:
    uid = about["uid"]
    for label in about["labels"]:
        put_label(base, "dance", uid, label)
    for note in about["notes"]:
        put_note(base, "dance", uid, note["words"], note["made_at"])
    for link in about["songs"]:
        put_song_link(base, uid, link["song"], link["words"])
    for day in about["danced"]:
        put_danced(base, uid, Danced(**day))


def _song(base: Base, home: Path, files: dict[str, bytes], about: Json) -> None:
    maps = [*about["maps_before"], json.loads(files[about["map"]])]
    recording = ""
    if "file" in about:
        data = files[about["file"]]
        recording = originals.put(home, data)
        put_file(base, recording, about["file"].rpartition("/")[2], len(data), about["uid"])
    there = kept_song(base, about["uid"]).maps if base.one(HAS_SONG, uid=about["uid"]) else ()
    for one in maps:
        song = song_from_json(one, where=about["title"])
        if song in there:
            continue
        keep_song(base, about["title"], song, content=about["content"],
                  recording=recording, uid=about["uid"], now=about["kept_at"])  # fmt: skip
    for label in about["labels"]:
        put_label(base, "song", about["uid"], label)
    for note in about["notes"]:
        put_note(base, "song", about["uid"], note["words"], note["made_at"])


def bring_runs(base: Base, files: dict[str, bytes]) -> None:
    """Bring runs and lessons back."""
    for name, data in files.items():
        if name.startswith("runs/"):
            one = json.loads(data)
            keep_run(base, one["text"], one["song"], run_from_json(one["run"]), uid=one["uid"], now=one["kept_at"])
            _notes(base, "run", one)
        elif name.startswith("lessons/"):
            one = json.loads(data)
            keep_lesson(base, lesson_from_json(one["lesson"]), run=one["run"], uid=one["uid"], now=one["kept_at"])
            _notes(base, "lesson", one)


def _notes(base: Base, about: Any, one: Json) -> None:
    for label in one.get("labels", ()):
        put_label(base, about, one["uid"], label)
    for note in one["notes"]:
        put_note(base, about, one["uid"], note["words"], note["made_at"])
