"""The counts of a dance written on her own film: captions whose times are those of the film."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dress.find import Found
    from softshoe.fit.timeline import Moment

LAST_S = 0.6


@dataclass(frozen=True, slots=True)
class Written:
    """Words on the film, from ``start_s`` to ``end_s`` of the film."""

    start_s: float
    end_s: float
    words: str


def count_captions(moments: Sequence[Moment], found: Found, *, length_s: float) -> tuple[Written, ...]:
    """Return one caption a count, in film seconds; counts outside the film are left out."""
    at_s = [found.film_s(moment.at_s) for moment in moments]
    ends_s = [*at_s[1:], (at_s[-1] + LAST_S) if at_s else 0.0]
    rows = zip(moments, at_s, ends_s, strict=True)
    return tuple(
        Written(start, min(end, length_s), _words(moment)) for moment, start, end in rows if 0 <= start < length_s
    )


def chapters(moments: Sequence[Moment], found: Found, *, length_s: float) -> tuple[Written, ...]:
    """Return one chapter a wall and a tag, in film seconds."""
    starts = [(found.film_s(next(group).at_s), name) for name, group in groupby(moments, key=_chapter)]
    inside = [(max(0.0, at), name) for at, name in starts if at < length_s]
    ends = [(length_s, "")]
    return tuple(Written(a, b, name) for (a, name), (b, _) in pairwise([*inside, *ends]) if b > a)


def _words(moment: Moment) -> str:
    if moment.part == "intro":
        return f"{moment.to_go} to go"
    if moment.count is None:
        return "the end"
    return f"{moment.count.label}" if moment.part == "wall" else f"tag {moment.count.label}"


def _chapter(moment: Moment) -> str:
    return {"intro": "Intro", "wall": f"Wall {moment.wall}", "tag": f"Tag after wall {moment.wall}"}.get(
        moment.part, "End"
    )
