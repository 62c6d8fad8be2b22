"""The lesson of a dance: written as long as she likes, kept as the words she changed, laid out to be previewed."""

from __future__ import annotations

from dataclasses import asdict
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from softshoe.errors import OutputError, SettingError, WordingError
from softshoe.files import folder_for, write_whole
from softshoe.studio.chosen import on_song
from softshoe.studio.class_plan import Block, rows_of
from softshoe.studio.desk import read_words
from softshoe.studio.failing import told
from softshoe.studio.plain_run import plain_run

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.studio.desk import Desk
    from softshoe.teach.lesson import Lesson
    from softshoe.teach.parts import MotionPart
    from softshoe.teach.pieces import Piece

LONGEST = 200_000


def folder_of(desk: Desk, uid: str) -> Path:
    """Return the folder in which everything that is made of a dance lies."""
    desk.draft(uid)
    return desk.home / "studio" / "made" / uid


def versions_of(dance: Dance) -> dict[str, Version]:
    """Return the versions that a walkthrough shows."""
    from softshoe.adapt.adapt import adapt

    return {kind: adapt(dance, kind) for kind in ("standing", "seated")}


def laid_of(desk: Desk, uid: str) -> tuple[Run, SongMap]:
    """Return the dance on its song, or on the plain rhythm."""
    laid = on_song(desk, uid)
    return (laid.run, laid.song) if laid else plain_run(read_words(desk.words(uid)).dance)


def written(desk: Desk, uid: str) -> str:
    """Return the words of the lesson as she left them; those of the usual length where she left none."""
    path = _file(desk, uid)
    try:
        return path.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return anew(desk, uid, minutes=None)


def anew(desk: Desk, uid: str, *, minutes: float | None) -> str:
    """Return the words of a lesson of so many minutes. Raises SettingError for a length that can't be."""
    from softshoe.teach.length import chosen
    from softshoe.teach.text import lesson_text

    dance = read_words(desk.words(uid)).dance
    pieces, why = chosen(_pieces(desk, uid), minutes, seated=dance.seated)
    return lesson_text(dance.title, pieces, why)


def keep(desk: Desk, uid: str, words: str) -> None:
    """Keep the words of the lesson; those before are kept beside them. Raises SettingError, OutputError."""
    if len(words) > LONGEST:
        raise SettingError("the lesson", "it is too long", f"a lesson has at most {LONGEST:,} letters", "make it two")
    path = _file(desk, uid)
    folder_for(path.parent)
    if path.is_file():
        write_whole(path.with_suffix(".before.txt"), path.read_text("utf-8"))
    write_whole(path, words)


def lesson_view(desk: Desk, uid: str, words: str) -> dict[str, Any]:
    """Return the lesson of these words, to be previewed, or what in them can't be read, with its line."""
    from softshoe.teach.text_read import lesson_from_text

    try:
        lesson = lesson_from_text(words, _pieces(desk, uid))
    except WordingError as wrong:
        line = "".join(filter(str.isdecimal, wrong.where)) or "0"
        return {"wrong": told(wrong), "line": int(line), "plan": None}
    dance = read_words(desk.words(uid)).dance
    return {"wrong": None, "line": 0, "plan": _plan(dance, lesson, _parts(desk, uid))}


def lesson_of(desk: Desk, uid: str) -> Lesson:
    """Return the lesson that her words make; raises WordingError where they can't be read."""
    from softshoe.teach.text_read import lesson_from_text

    return lesson_from_text(written(desk, uid), _pieces(desk, uid))


def motion_of(desk: Desk, uid: str, motion: str) -> MotionPart | None:
    """Return the motion that a lesson names; None where there is none."""
    return _parts(desk, uid).get(motion)


def _plan(dance: Dance, lesson: Lesson, known: dict[str, MotionPart]) -> dict[str, Any]:
    return {
        "title": lesson.title,
        "per": dance.counts_per_section,
        "seated": False,
        "view": "mirror",
        "end": round(lesson.length_s, 3),
        "tempo": 60.0,
        "rows": [list(asdict(row).values()) for row in rows_of(lesson, known, every=True)],
        "blocks": [asdict(block) for block in _blocks(lesson)],
        "sections": [],
        "ends": "",
        "care": [],
        "passages": [
            {"title": p.title, "start": round(p.start_s, 3), "end": round(p.end_s, 3), "text": list(p.text),
             "view": p.view, "counts": sum(beat.motion is not None for beat in p.beats)}
            for p in lesson.passages
        ],
        "captions": [[round(c.start_s, 3), round(c.end_s, 3), c.words] for c in lesson.captions],
        "told": list(lesson.told),
    }  # fmt: skip


def _blocks(lesson: Lesson) -> Iterator[Block]:
    first = 0
    for passage in lesson.passages:
        yield Block("wall", 0, first, len(passage.beats), 0, "", passage.title, cut=False)
        first += len(passage.beats)


def _pieces(desk: Desk, uid: str) -> tuple[Piece, ...]:
    run, song = laid_of(desk, uid)
    return _every_piece(desk.words(uid), _Same(run, song))


class _Same:
    """A run on its song, told from others by its words."""

    def __init__(self, run: Run, song: SongMap) -> None:
        self.run, self.song, self.words = run, song, repr((run, song.beats_s, song.end_s))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.words == other.words

    def __hash__(self) -> int:
        return hash(self.words)


@lru_cache(maxsize=6)
def _every_piece(words: str, laid: _Same) -> tuple[Piece, ...]:
    from softshoe.teach.walkthrough import every_piece

    dance = read_words(words).dance
    return every_piece(dance, versions_of(dance), laid.run, laid.song)


def _parts(desk: Desk, uid: str) -> dict[str, MotionPart]:
    from softshoe.teach.parts import parts

    dance = read_words(desk.words(uid)).dance
    return parts(dance, versions_of(dance), laid_of(desk, uid)[0])


def _file(desk: Desk, uid: str) -> Path:
    return folder_of(desk, uid) / "lesson-words.txt"


def sheet_file(desk: Desk, uid: str) -> Path:
    """Write the words of the dance into its folder and return the file; raises OutputError."""
    path = folder_for(folder_of(desk, uid)) / "sheet.txt"
    words = desk.words(uid)
    try:
        same = path.is_file() and path.read_text("utf-8") == words
    except (OSError, UnicodeDecodeError) as wrong:
        raise OutputError(str(path), "can't be read", str(wrong), "move it away") from wrong
    if not same:
        write_whole(path, words)
    return path
