"""The whole dance as pieces of a lesson: once without the song at a share of its speed, and the whole run with it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Count
from softshoe.fit.run import RunWall
from softshoe.fit.timeline import Moment
from softshoe.teach.calls import Speech, spoken
from softshoe.teach.laid import laid_out
from softshoe.teach.pieces import Piece, let_in
from softshoe.teach.shown import beats_of
from softshoe.teach.voice import AFTER_S

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.teach.laid import Block, Laid
    from softshoe.teach.lesson import FigureKind
    from softshoe.teach.room import Room


def once(
    dance: Dance, version: Version, run: Run, *, kind: str, title: str, step_s: float, speech: Speech = "both"
) -> Piece:
    """Return the dance once without the song, counts of ``step_s`` seconds, with its count-in."""
    per = dance.counts_per_section
    moments = [Moment(i * step_s, "intro", None, 0, 0, to_go=per - i) for i in range(per)]
    for count in range(1, dance.counts + 1):
        moments.append(Moment((per + count - 1) * step_s, "wall", Count(Fraction(count)), 1, 0))
    alone = replace(run, walls=(RunWall(1, 0.0, dance.counts, 0),), tags=(), restarts=(), ending=None)
    at_s = tuple(moment.at_s for moment in moments)
    laid = laid_out(dance, version, alone, moments, at_s)
    length_s = at_s[-1] + step_s + AFTER_S
    return Piece(
        kind=kind,
        title=title,
        figure=figure_of(version),
        beats=tuple(replace(beat, wall=None) for beat in beats_of(laid, length_s=length_s)),
        names=tuple(name.removeprefix("wall 1, ") for name in names(moments)),
        said=let_in(list(spoken(laid, speech=speech, finish=False)), at_s),
        length_s=length_s,
    )


def with_song(
    dance: Dance, version: Version, run: Run, moments: Sequence[Moment], *, title: str, end_s: float, room: Room
) -> Piece:
    """Return the whole run with the song at its own speed, which plays from its first second to ``end_s``."""
    at_s = tuple(moment.at_s for moment in moments)
    laid = laid_out(dance, version, run, moments, at_s, room=room)
    return Piece(
        kind="song",
        title=title,
        figure=figure_of(version),
        beats=tuple(beats_of(laid, length_s=end_s)),
        names=names(moments),
        said=let_in(list(spoken(laid)), at_s),
        length_s=end_s,
        marks=tuple(marks(laid)),
        song=True,
    )


def figure_of(version: Version) -> FigureKind:
    """Return who dances the version."""
    return "seated" if version.dance.seated else "standing"


def names(moments: Sequence[Moment]) -> tuple[str, ...]:
    """Return a name for every moment, as a lesson's text writes it: “8 before”, “wall 2, 5”, “tag 1, 3”, “end 1”."""
    return tuple(_names(moments))


def _names(moments: Sequence[Moment]) -> Iterator[str]:
    after = 0
    for moment in moments:
        after += moment.part == "after" or (moment.count is None and moment.part != "intro")
        if moment.part == "intro":
            yield f"{moment.to_go} before"
        elif moment.count is None:
            yield f"end {after}"
        elif moment.part == "tag" and moment.tag is not None:
            yield f"tag {moment.tag + 1}, {moment.count.whole}"
        else:
            yield f"wall {moment.wall}, {moment.count.whole}"


def marks(laid: Laid) -> Iterator[tuple[int, str]]:
    """Yield where each wall and tag begins among the moments, with its title."""
    yield from ((block.first, title_of(block)) for block in laid.blocks)


def title_of(block: Block) -> str:
    """Return what a wall or tag is called in a table of contents."""
    return f"Wall {block.wall}" if block.part == "wall" else f"Tag after wall {block.wall}"
