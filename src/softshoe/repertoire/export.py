"""Everything that is kept, written into plain files: sheets as text, values as JSON, originals as they were.

A folder a dance. It can be read without this program, and ``export_read`` brings it back without a loss. Locked notes
about people are not in it.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import tempfile
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.dance.document import whole_json
from softshoe.errors import SettingError
from softshoe.files import PART, folder_for, write_failure
from softshoe.fit.document import run_json
from softshoe.music.document import song_json
from softshoe.repertoire import originals
from softshoe.repertoire.beside import labels, notes
from softshoe.repertoire.dances import kept_dance
from softshoe.repertoire.plain import words_of
from softshoe.repertoire.songs import kept_song, lessons, runs_of
from softshoe.teach.document import lesson_json

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.repertoire.store import Repertoire
    from softshoe.repertoire.values import KeptDance, KeptRun, KeptSong

MARK, SUMS, FORM = "softshoe-export.json", "checksums.txt", 1
README = """What is kept in a softshoe repertoire, in plain files.

dances/TITLE/text-1.txt, text-2.txt …   every text the sheet ever had, oldest first, as it was written
dances/TITLE/text-1.json …              the same, step by step, as “softshoe read --json” prints it
dances/TITLE/original-…                 the file it came from, as it was
dances/TITLE/about.json                 labels, notes, songs it goes to, days it was danced, which text came of which
songs/TITLE.json                        where the beats, bars and phrases of a song are, as “softshoe listen --json”
prints it songs/TITLE.about.json                  what the listener said before, labels, notes
runs/… lessons/…                        dances laid on songs, and lessons made of them
checksums.txt                           “sha256sum -c checksums.txt” proves that every file is as it was written

“softshoe import FOLDER” brings all of it back. Notes about people are locked in a file of their own and are not here.
"""


@dataclass(slots=True)
class Writer:
    """Writes files under a folder and remembers their checksums; a name that is taken gets a number."""

    folder: Path
    sums: dict[str, str] = field(default_factory=dict)
    taken: set[str] = field(default_factory=set)

    def put(self, name: str, data: bytes) -> str:
        """Write a file and return its name."""
        place = self.folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)
        self.sums[name] = hashlib.sha256(data).hexdigest()
        return name

    def put_json(self, name: str, value: Any) -> str:
        """Write a value as JSON that can be read."""
        return self.put(name, (json.dumps(value, ensure_ascii=False, indent=1) + "\n").encode())

    def free(self, room: str, title: str) -> str:
        """Return a name for a title that no other has."""
        plain = "-".join(words_of(title))[:60] or "untitled"
        name, number = plain, 2
        while f"{room}/{name}" in self.taken:
            name, number = f"{plain}-{number}", number + 1
        self.taken.add(f"{room}/{name}")
        return f"{room}/{name}"


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written: the folder, and how many of each."""

    folder: Path
    dances: int
    songs: int
    files: int


def export(repertoire: Repertoire, folder: Path, *, recordings: bool = False) -> Exported:
    """Write everything that is kept into a folder that is not there yet, or is empty; whole or not at all.

    recordings : the songs' own files too, where they are kept
    Raises SettingError for a folder that holds something, OutputError where it can't be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise SettingError(str(folder), "there is something in this folder", "an export never mixes with other files",
                           "name a folder that is not there yet")  # fmt: skip
    parent = folder_for(folder.absolute().parent)
    room = Path(tempfile.mkdtemp(dir=parent, prefix=PART))
    try:
        writer = Writer(room)
        with repertoire.reading() as base:
            base.script("begin")  # one moment for all of it
            counts = _all(base, repertoire.folder, writer, recordings=recordings)
            base.script("rollback")
        _ends(writer, counts)
        room.chmod(0o755)
        if folder.exists():
            folder.rmdir()
        room.rename(folder)
    except OSError as wrong:
        raise write_failure(folder, wrong) from wrong
    finally:
        shutil.rmtree(room, ignore_errors=True)
    return Exported(folder, counts["dances"], counts["songs"], len(writer.sums))


def _ends(writer: Writer, counts: dict[str, int]) -> None:
    writer.put("README.txt", README.encode())
    writer.put_json(MARK, {"form": FORM, **counts})
    lines = "".join(f"{said}  {name}\n" for name, said in sorted(writer.sums.items()))
    (writer.folder / SUMS).write_text(lines, encoding="utf-8")


def _all(base: Base, home: Path, writer: Writer, *, recordings: bool) -> dict[str, int]:
    names = {row["content"]: row["name"] for row in base.rows("select content, name from file")}
    dances = base.rows("select uid from dance order by title_key, uid")
    for row in dances:
        write_dance(kept_dance(base, row["uid"]), home, writer, names)
    songs = base.rows("select uid from song order by title_key, uid")
    for row in songs:
        _song(kept_song(base, row["uid"]), home, writer, names, recordings=recordings)
    for run in runs_of(base, ""):
        write_run(base, run, writer)
    for lesson in lessons(base):
        about: dict[str, Any] = {"uid": lesson.uid, "run": lesson.run, "kept_at": lesson.kept_at}
        about |= {"notes": _notes(base, lesson.uid), "labels": list(labels(base, "lesson", lesson.uid))}
        writer.put_json(f"lessons/{lesson.uid}.json", about | {"lesson": lesson_json(lesson.lesson)})
    return {"dances": len(dances), "songs": len(songs)}


def _notes(base: Base, uid: str) -> Any:
    return [asdict(note) for note in notes(base, uid)]


def write_run(base: Base, run: KeptRun, writer: Writer) -> None:
    """Write a run with its notes and labels."""
    about: dict[str, Any] = {"uid": run.uid, "text": run.text, "song": run.song, "kept_at": run.kept_at}
    about |= {"notes": _notes(base, run.uid), "labels": list(labels(base, "run", run.uid))}
    writer.put_json(f"runs/{run.uid}.json", about | {"run": run_json(run.run)})


def write_dance(kept: KeptDance, home: Path, writer: Writer, names: dict[str, str]) -> None:
    """Write a dance: every text, its original, what stands beside it. ``names`` are those of the originals."""
    room = writer.free("dances", kept.title)
    texts = []
    for text in kept.texts:
        about = {"uid": text.uid, "number": text.number, "kept_at": text.kept_at, "based_on": list(text.based_on),
                 "source": text.source, "original": text.original}  # fmt: skip
        about["words"] = writer.put(f"{room}/text-{text.number}.txt", text.words.encode())
        about["steps"] = writer.put_json(f"{room}/text-{text.number}.json", whole_json(text.dance))
        if text.original:
            name = re.sub(r"[^\w. -]", "_", names.get(text.original, "file"))
            about["file"] = writer.put(f"{room}/original-{text.number}-{name}", originals.got(home, text.original))
        texts.append(about)
    rest = {
        key: value
        for key, value in asdict(kept).items()
        if key in ("uid", "title", "labels", "notes", "songs", "danced")
    }
    writer.put_json(f"{room}/about.json", rest | {"texts": texts})


def _song(kept: KeptSong, home: Path, writer: Writer, names: dict[str, str], *, recordings: bool) -> None:
    name = writer.free("songs", kept.title)
    about: dict[str, Any] = {
        "uid": kept.uid, "title": kept.title, "content": kept.content, "recording": kept.recording,
        "kept_at": kept.kept_at,
        "labels": list(kept.labels), "notes": [asdict(note) for note in kept.notes],
        "map": writer.put_json(f"{name}.json", song_json(kept.map)),
        "maps_before": [song_json(one) for one in kept.maps[:-1]],
    }  # fmt: skip
    if recordings and kept.recording:
        ending = Path(names.get(kept.recording, "")).suffix
        about["file"] = writer.put(f"{name}{ending or '.sound'}", originals.got(home, kept.recording))
    writer.put_json(f"{name}.about.json", about)
