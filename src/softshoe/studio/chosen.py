"""What a dance is shown, led and filmed as: the versions that are wanted of it, and its song with the run on it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec

from softshoe.adapt.own import Own
from softshoe.files import folder_for, write_whole
from softshoe.studio.desk import read_words
from softshoe.studio.drafts import UID
from softshoe.studio.failing import MissingError

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.adapt.version import Version
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.studio.desk import Desk

AS_WRITTEN = "as written"
MOST_VERSIONS = 12


@dataclass(frozen=True, slots=True)
class Wish:
    """A version that is wanted: its name, what is left out (ids of the limits table), and counts put in by hand."""

    name: str
    limits: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OnSong:
    """A dance on its song: the run, the song's map and title, and the name of its recording ("" where none is kept)."""

    run: Run
    song: SongMap
    title: str
    recording: str


def wishes(desk: Desk, uid: str) -> tuple[Wish, ...]:
    """Return the versions that are wanted of a dance; none where none are, or a hand has broken their file."""
    try:
        return msgspec.json.decode(_file(desk, uid).read_bytes(), type=tuple[Wish, ...])
    except (OSError, msgspec.MsgspecError):
        return ()


def choose_wishes(desk: Desk, uid: str, wanted: tuple[Wish, ...]) -> None:
    """Let these versions be wanted of the dance; raises OutputError."""
    path = _file(desk, uid)
    folder_for(path.parent)
    write_whole(path, msgspec.json.encode(wanted[:MOST_VERSIONS]))


def on_song(desk: Desk, uid: str) -> OnSong | None:
    """Return how a dance lies on its song: the run that was chosen, else the best; None where there is no such run."""
    from softshoe.studio.laying import laid

    if not desk.works.of(uid).song:
        return None
    kept, words = desk.kept_song(uid), desk.words(uid)
    counts = read_words(words).dance.counts
    try:
        run = desk.run(uid)
    except MissingError:
        found = laid(words, kept.map, desk.works.of(uid).pins).runs
        if not found:
            return None
        run = found[0]
    if any(wall.counts > counts for wall in run.walls):
        return None
    return OnSong(run, kept.map, kept.title, kept.recording)


def wish_named(desk: Desk, uid: str, name: str) -> Wish:
    """Return the wish of that name; "as written" is always there. Raises MissingError."""
    every = {wish.name: wish for wish in wishes(desk, uid)} | {AS_WRITTEN: Wish(AS_WRITTEN)}
    if (found := every.get(name or AS_WRITTEN)) is None:
        raise MissingError("this version", "there is no version of that name", f"wanted are {', '.join(every)}",
                           "choose one of them, or make it in Bodies")  # fmt: skip
    return found


def own_of_wish(wish: Wish) -> Own:
    """Return the version that a wish wants, as films and pictures are asked for."""
    return Own(wish.name, wish.limits, wish.instead)


def version_of(words: str, wish: Wish) -> Version:
    """Return the version of these words that a wish wants; a count that can no longer be put in by hand is left out."""
    return _version(words, wish)


@lru_cache(maxsize=48)
def _version(words: str, wish: Wish) -> Version:
    from softshoe.adapt.adapt import adapt
    from softshoe.adapt.own import own_version

    dance = read_words(words).dance
    if wish.name == AS_WRITTEN and not wish.instead:
        return adapt(dance, "seated" if dance.seated else "standing")
    return own_version(dance, own_of_wish(wish))


def _file(desk: Desk, uid: str) -> Path:
    if not UID.fullmatch(uid):
        raise MissingError("this address", "there is no such dance", "an identity has 32 letters and digits",
                           "go back to the beginning and choose the dance there")  # fmt: skip
    return desk.home / "studio" / "versions" / f"{uid}.json"
