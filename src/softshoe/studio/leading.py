"""What leading rests on: the version that is danced, on its song or on the plain rhythm, as the plan of a class."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from softshoe.studio.chosen import AS_WRITTEN, on_song, version_of, wish_named, wishes
from softshoe.studio.class_plan import class_plan
from softshoe.studio.desk import read_words
from softshoe.studio.failing import MissingError
from softshoe.studio.figure import BOX, frames_of
from softshoe.studio.plain_run import plain_run
from softshoe.teach.parts import parts

if TYPE_CHECKING:
    from softshoe.figure.motion import Motion
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.studio.chosen import Wish
    from softshoe.studio.desk import Desk
    from softshoe.teach.lesson import View
    from softshoe.teach.parts import MotionPart


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


def figure_of(desk: Desk, uid: str, version: str, motion: str, first: int, last: int) -> dict[str, Any]:
    """Return frames of what the plan of a version names: a motion, and which counts of it, from 0.

    Raises MissingError where the plan names no such motion or counts.
    """
    wish, words = wish_named(desk, uid, version), desk.words(uid)
    laid = on_song(desk, uid)
    run = laid.run if laid else plain_run(read_words(words).dance)[0]
    made = version_of(words, wish)
    part = parts(read_words(words).dance, {made.kind: made}, run).get(motion)
    view: View = "behind" if any(action.turn_deg for action in made.dance.actions) else "mirror"
    return frames_of_part(f"{wish}\n{words}", motion, part, first, last, view)


def frames_of_part(
    whose: str, motion: str, part: MotionPart | None, first: int, last: int, view: View
) -> dict[str, Any]:
    """Return frames of some counts of a motion, from 0; ``whose`` tells it from others of that name.

    Raises MissingError where there is no such motion, or it has no such counts.
    """
    if part is None or not 0 <= first < last <= part.counts:
        raise MissingError("the figure", "these counts can't be shown", "there are no such counts",
                           "load the page again")  # fmt: skip
    return _frames(_Part(whose, motion, part), first, last, view)


class _Part:
    """A motion's part, told from others by where it comes from."""

    def __init__(self, whose: str, motion: str, part: MotionPart) -> None:
        self.key, self.part = (whose, motion, part.actions, part.start_weight), part

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Part) and self.key == other.key

    def __hash__(self) -> int:
        return hash(self.key[:2])


@lru_cache(maxsize=48)
def _frames(part: _Part, first: int, last: int, view: View) -> dict[str, Any]:
    from softshoe.render.picture_camera import rig_for

    motion = _moved(part)
    return frames_of(motion, rig_for(motion, BOX, view=view, follow=1.0), first, last)


@lru_cache(maxsize=12)
def _moved(part: _Part) -> Motion:
    from softshoe.dance.footwork import danced
    from softshoe.figure.move import move

    one = part.part
    return move(danced(one.actions, weight=one.start_weight), counts=float(one.counts), stance=one.stance,
                arms=one.arms, loop=one.loop, support=one.support)  # fmt: skip
