"""Steps that make values: the dance read, the song heard, the run laid, the lesson written; each a JSON file."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from softshoe.dance.document import dance_from_json, finding_json, whole_json
from softshoe.errors import Finding, FitError, SettingError, UnreadableError
from softshoe.files import write_whole

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from softshoe.adapt.own import Own
    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.lay import FitResult
    from softshoe.fit.run import Run
    from softshoe.jobs.step import Step
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Lesson
    from softshoe.teach.pieces import Piece


def keep(path: Path, value: Any) -> None:
    """Write a value as JSON, whole or not at all."""
    write_whole(path, json.dumps(value, ensure_ascii=False, indent=1) + "\n")


def kept(path: Path) -> Any:
    """Read a JSON file of the folder; raises UnreadableError when a hand has broken it."""
    try:
        return json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as wrong:
        raise _broken(path, str(wrong)) from wrong


def _broken(path: Path, why: str) -> UnreadableError:
    return UnreadableError(str(path), "can't be read any more", why,
                           "undo the last change in it, or delete the file: it is then made anew")  # fmt: skip


def the_dance(folder: Path) -> Dance:
    """Return the dance kept in the folder."""
    path = folder / "dance.json"
    try:
        return dance_from_json(kept(path))
    except (KeyError, TypeError, ValueError) as wrong:
        raise _broken(path, f"it no longer has the shape of a dance ({wrong!r})") from wrong


def the_song(folder: Path) -> SongMap:
    """Return the SongMap kept in the folder."""
    from softshoe.music.document import song_from_json

    return song_from_json((folder / "song.json").read_bytes())


def the_run(folder: Path) -> Run:
    """Return the run kept in the folder: the best one found, or the one a hand has put first."""
    from softshoe.fit.document import run_from_json

    path = folder / "run.json"
    try:
        return run_from_json(kept(path))
    except (KeyError, TypeError, ValueError) as wrong:
        raise _broken(path, f"it no longer has the shape of a run ({wrong!r})") from wrong


def the_run_if_any(folder: Path) -> Run | None:
    """Return the run kept in the folder; None where the dance could not be laid on the song."""
    return the_run(folder) if (folder / "run.json").is_file() else None


def fit_findings(folder: Path) -> tuple[Finding, ...]:
    """Return what was found when the dance was laid on the song."""
    try:
        return tuple(Finding(**row) for row in kept(folder / "run.json").get("findings", ()))
    except (AttributeError, TypeError) as wrong:
        raise _broken(folder / "run.json", f"its findings no longer have their shape ({wrong!r})") from wrong


def the_lesson(folder: Path) -> Lesson:
    """Return the walkthrough kept in the folder."""
    from softshoe.teach.document import lesson_from_json

    path = folder / "lesson.json"
    try:
        return lesson_from_json(kept(path))
    except (KeyError, TypeError, ValueError) as wrong:
        raise _broken(path, f"it no longer has the shape of a lesson ({wrong!r})") from wrong


def versions(dance: Dance) -> dict[str, Version]:
    """Return the versions that the walkthrough shows, standing and seated, by kind."""
    from softshoe.adapt.adapt import adapt

    return {kind: adapt(dance, kind) for kind in ("standing", "seated")}


def version_of(step: Step) -> Version:
    """Return the version that a step is about: one of the six kinds, or somebody's own."""
    from softshoe.adapt.adapt import adapt
    from softshoe.adapt.own import own_version

    dance = the_dance(step.leaves[0].parent)
    own = step.settings.get("own")
    return own_version(dance, own_from(own)) if own else adapt(dance, step.settings["kind"])


def own_from(said: Mapping[str, Any]) -> Own:
    """Return a version of somebody's own as JSON has it; raises SettingError where it has another shape."""
    import msgspec

    from softshoe.adapt.own import Own

    try:
        return msgspec.convert(said, Own)
    except msgspec.ValidationError as wrong:
        raise SettingError("a version of somebody's own", "it can't be made", str(wrong),
                           "give it a name, and limits of “softshoe adapt”") from wrong  # fmt: skip


def read(step: Step, _: Callable[[float], None]) -> None:
    """Read the sheet into dance.json."""
    from softshoe.wording.read import read as read_words
    from softshoe.wording.source import sheet_text

    keep(step.leaves[0], whole_json(read_words(sheet_text(step.reads[0]))))


def listen(step: Step, _: Callable[[float], None]) -> None:
    """Hear the song into song.json; a SongMap given in its place is taken as it is."""
    from softshoe.music.document import song_json
    from softshoe.music.given import song_given
    from softshoe.music.songmap import Said

    keep(step.leaves[0], song_json(song_given(step.reads[0], Said(**step.settings["said"]))))


def fit(step: Step, _: Callable[[float], None]) -> None:
    """Lay the dance on the song: the best run becomes run.json; raises FitError when there is none."""
    from softshoe.fit.document import run_json

    folder = step.leaves[0].parent
    found = best_fit(the_dance(folder), the_song(folder))
    keep(step.leaves[0], {**run_json(found.runs[0]), "findings": [finding_json(f) for f in found.findings]})


def best_fit(dance: Dance, song: SongMap) -> FitResult:
    """Return the ways to lay the dance on the song, at least one; raises FitError when there is none."""
    from softshoe.fit.lay import fit as lay

    found = lay(dance, song)
    if not found.runs:
        wrong = next(iter(found.findings), None)
        raise FitError("the dance on this song", "can't be laid", wrong.message if wrong else "nothing fits",
                       (wrong and wrong.mend) or "choose another song, or say its tempo and first count")  # fmt: skip
    return found


def lesson_words(step: Step, _: Callable[[float], None]) -> None:
    """Write the walkthrough as text into lesson.txt: as long as was asked for, or the text that was given."""
    from softshoe.teach.length import chosen
    from softshoe.teach.text import lesson_text

    folder = step.leaves[0].parent
    if given := step.settings["given"]:
        write_whole(step.leaves[0], words_of(step.reads[-1], given))
        return
    dance = the_dance(folder)
    pieces, told = chosen(_pieces(step, dance), step.settings["minutes"], seated=dance.seated)
    write_whole(step.leaves[0], lesson_text(dance.title, pieces, told))


def words_of(path: Path, name: str) -> str:
    """Return the words of a text file; raises UnreadableError when it is none."""
    try:
        return path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as wrong:
        raise UnreadableError(name, "can't be read", str(wrong), "give a plain text file, kept as UTF-8") from wrong


def lesson(step: Step, _: Callable[[float], None]) -> None:
    """Lay the text of the walkthrough out in seconds: lesson.json."""
    from softshoe.teach.document import lesson_json
    from softshoe.teach.text_read import lesson_from_text

    folder = step.leaves[0].parent
    words, name = folder / "lesson.txt", step.settings["given"] or "lesson.txt"
    text = words_of(words, name)
    keep(step.leaves[0], lesson_json(lesson_from_text(text, _pieces(step, the_dance(folder)), where=name)))


def _pieces(step: Step, dance: Dance) -> tuple[Piece, ...]:
    from softshoe.teach.room import room_of
    from softshoe.teach.walkthrough import every_piece

    folder, room = step.leaves[0].parent, room_of(step.settings["room"])
    return every_piece(dance, versions(dance), the_run(folder), the_song(folder), room=room)
