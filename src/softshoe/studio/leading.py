"""What leading rests on: the version that is danced, on its song or on the plain rhythm, as the plan of a class."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from softshoe.studio.chosen import AS_WRITTEN, on_song, version_of, wish_named, wishes
from softshoe.studio.class_plan import class_plan
from softshoe.studio.desk import read_words
from softshoe.studio.plain_run import plain_run

if TYPE_CHECKING:
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.studio.chosen import Wish
    from softshoe.studio.desk import Desk


def versions_named(desk: Desk, uid: str) -> list[str]:
    """Return the names of the versions that can be led."""
    return [AS_WRITTEN, *(wish.name for wish in wishes(desk, uid) if wish.name != AS_WRITTEN)]


def plan_of(desk: Desk, uid: str, version: str) -> dict[str, Any]:
    """Return the plan of a class with this version of a dance.

    ``song`` names the song ("" for the plain rhythm) and ``sound`` its recording ("" where none is kept).
    Raises MissingError, WordingError and FitError.
    """
    wish, words = wish_named(desk, uid, version), desk.words(uid)
    laid = on_song(desk, uid)
    plan = dict(_on_song(words, wish, laid.run, laid.song) if laid else _plain(words, wish))
    return plan | {
        "dance": uid,
        "version": wish.name,
        "song": laid.title if laid else "",
        "sound": laid.recording if laid else "",
    }


@lru_cache(maxsize=12)
def _plain(words: str, wish: Wish) -> dict[str, Any]:
    dance = read_words(words).dance
    run, song = plain_run(dance)
    return class_plan(dance, version_of(words, wish), run, song)


def _on_song(words: str, wish: Wish, run: Run, song: SongMap) -> dict[str, Any]:
    return class_plan(read_words(words).dance, version_of(words, wish), run, song)
