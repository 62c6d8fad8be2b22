"""The run as time: the second of every action, from the song's own beats, so that drift is followed.

What falls between two beats follows the song: in an even song "&" is half way; in a song that swings it comes late, and
"e" and "a" with it, while triplets stay where they are: they are what swing is made of.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from softshoe.errors import SettingError
from softshoe.fit.grid import counted, nearest_index
from softshoe.fit.rules import limit
from softshoe.fit.steps_of import steps_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.fit.steps import Step
    from softshoe.music.songmap import SongMap

EVEN, SWUNG = 0.5, 2 / 3
LATEST = 0.8
TRIPLETS = (3, 6)


@dataclass(frozen=True, slots=True)
class Danced:
    """One action at its second: in a wall, a tag (or bridge), or the ending; its count is its own there."""

    at_s: float
    wall: int
    part: Literal["wall", "tag", "ending"]
    action: Action


def within_beat(part: Fraction, *, swing: float = EVEN) -> float:
    """Return how far through a beat a part of it falls, 0 to 1; ``swing`` is where its half falls.

    Raises SettingError for a swing that no music has.

    >>> [round(within_beat(Fraction(n, d), swing=SWUNG), 3) for n, d in ((1, 4), (1, 2), (3, 4), (1, 3))]
    [0.333, 0.667, 0.833, 0.333]
    """
    if not EVEN <= swing <= LATEST:
        raise SettingError("--swing", f"{swing:g} is no swing", "the half of a beat falls from 0.5 (even) to 0.8 of it",
                           "0.67 is a full swing, 0.5 none")  # fmt: skip
    if part.denominator in TRIPLETS:
        return float(part)
    half = Fraction(1, 2)
    if part <= half:
        return float(part / half) * swing
    return swing + float((part - half) / half) * (1 - swing)


def second_of(beats_s: Sequence[float], beat: Fraction, *, swing: float = EVEN) -> float:
    """Return the second of a moment counted in beats from the first one.

    Before the first and after the last beat the nearest step goes on. [s]

    >>> second_of([1.0, 1.5, 2.1], Fraction(3, 2))
    1.8
    """
    whole = beat.__floor__()
    inside = min(max(whole, 0), len(beats_s) - 2)
    step_s = beats_s[inside + 1] - beats_s[inside]
    at_s = beats_s[inside] + (whole - inside) * step_s
    return at_s + within_beat(beat - whole, swing=swing) * step_s


def swing_of(song: SongMap) -> float:
    """Return where "&" falls in a song's beats: where it was heard to fall, if that was clear; else half way."""
    swing = song.swing
    return swing.share if swing is not None and swing.confidence >= limit("sure") else EVEN


def danced(dance: Dance, run: Run, song: SongMap, *, swing: float | None = None) -> tuple[Danced, ...]:
    """Return every action of the run with its second, in order of time.

    ``swing`` is where the half of a beat falls; None: as it was heard in the song. ``dance`` is as the run's dancers do
    it. Raises FitError when the song has fewer than two beats.
    """
    swing = swing_of(song) if swing is None else swing
    grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
    every = Fraction(run.beats_per_count).limit_denominator(2)
    first = nearest_index(song.beats_s, run.start.time_s)
    if every < 1 and abs(song.beats_s[first] - run.start.time_s) > 1e-6:
        first_beat = Fraction(2 * first + (1 if run.start.time_s > song.beats_s[first] else -1), 2)
    else:
        first_beat = Fraction(first)
    found = [
        Danced(second_of(song.beats_s, first_beat + at * every, swing=swing), wall, part, action)
        for step in steps_of(run, grid)
        for at, wall, part, action in _placed(dance, run, step)
    ]
    return tuple(sorted(found, key=lambda one: one.at_s))


def _placed(
    dance: Dance, run: Run, step: Step
) -> Iterator[tuple[Fraction, int, Literal["wall", "tag", "ending"], Action]]:
    """The actions of a wall with its extras: how many counts after the start of the dance each of them falls."""
    ending = run.ending if run.ending is not None and run.ending.wall == step.wall and run.ending.actions else None
    usual = ending.after_count if ending is not None else step.counts
    for action in dance.actions:
        if action.at.whole <= usual:
            added = sum(extra.counts for extra in step.extras if action.at.whole > extra.after)
            yield step.at + action.at.moment + added, step.wall, "wall", action
    for extra, at in step.places():
        for action in extra.actions:
            yield at + action.at.moment, step.wall, "tag", action
    if ending is not None:
        added = sum(extra.counts for extra in step.extras if ending.after_count >= extra.after)
        for action in ending.actions:
            yield step.at + ending.after_count + added + action.at.moment, step.wall, "ending", action
