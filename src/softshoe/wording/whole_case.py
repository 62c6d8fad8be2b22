"""What speaks for and against a sheet as the network tells it, beside the sheet as it was read: the traits weighed.

How much each of them weighs was learnt from sheets and slips that neither had met (training/weighing).
"""

from __future__ import annotations

from functools import partial
from itertools import pairwise
from math import log
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.retell_weigh import MOST_OF_RANGE, NAMED, Doubt, gap, is_taken, shade, unsigned, untold
from softshoe.wording.whole_copies import sources_in

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from softshoe.wording.retell_weigh import Json
    from softshoe.wording.whole_ask import Way

LEAST = 1e-3  # what is less likely is as unlikely as this
HARDLY = 0.01
MOST_HARDLY = 10
LONG = 90  # letters: a line of prose


class Case(NamedTuple):
    """Two readings of a sheet to choose from: as it was read, and as the network tells it.

    ``doubts`` are the sections that differ; ``kinds`` the errors told of what was read, ``left`` those told of the
    other; ``plausible`` how likely the network thinks each code of what was read.
    """

    way: Way
    doubts: tuple[Doubt, ...]
    kinds: tuple[str, ...]
    left: tuple[str, ...]
    plausible: tuple[float, ...]


def unlike_of_their_own(case: Case) -> int:
    """Return how many sections differ, but for those that are danced as one that differs."""
    differ = [any(part.words == doubt.words for doubt in case.doubts) for part in case.way.parts]
    asked = [sources_in(part.copied) for part in case.way.parts]
    own = (there and not any(differ[k] for k in of) for there, of in zip(differ, asked, strict=True))
    return sum(own)


def traits(case: Case) -> dict[str, float]:
    """Return what is weighed, by name."""
    return {name: float(trait(case)) for name, trait in TRAITS.items()}


def _odds(likely: float) -> float:
    likely = min(max(likely, LEAST), 1 - LEAST)
    return log(likely / (1 - likely))


def _mended(kinds: tuple[str, ...], case: Case) -> bool:
    """Return whether an error of one of some kinds was told of what was read and none such of the other."""
    return any(kind in case.kinds and kind not in case.left for kind in kinds)


def _mean(case: Case) -> float:
    odds = [_odds(doubt.answer.sure) for doubt in case.doubts] or [_odds(1)]
    return sum(odds) / len(odds)


def _unlike(case: Case) -> float:
    """Return the share of the moves of the sections that differ which only one of the two has."""
    two = [(_moves(doubt.answer.events), _moves(doubt.rules)) for doubt in case.doubts]
    return sum(max(len(a - b), len(b - a)) for a, b in two) / max(1, sum(max(len(a), len(b)) for a, b in two))


def _moves(events: Sequence[Json]) -> set[str]:
    return {str(shade(event)) for event in events}


def _only_arms(case: Case) -> bool:
    """Return whether the two differ in nothing but what hands do."""
    return bool(case.doubts) and all(_feet(d.answer.events) == _feet(d.rules) for d in case.doubts)


def _feet(events: Sequence[Json]) -> list[str]:
    return sorted(str(shade({**event, "arms": []})) for event in events if event["action"] != "arms")


def _long(case: Case) -> float:
    lines = [line for doubt in case.doubts for line in doubt.words.text.split("\n") if line.strip()]
    return sum(len(line) > LONG for line in lines) / max(1, len(lines))


def _breaks(case: Case) -> int:
    """Return how often counts that are written do not go on from those before: "5, 6, 3, 8", "5-8 …, 8-8"."""
    return sum(
        two[0] not in (1, one[0], one[1] + 1)
        for doubt in case.doubts
        for one, two in pairwise(_written(doubt.words.text))
    )


def _named(case: Case) -> float:
    """Return the share of the counts of the sections that differ which their words name."""
    named, many = 0, 0
    for doubt in case.doubts:
        own = set(range(1, doubt.answer.counts + 1))
        named += len(own & {n for first, last in _written(doubt.words.text) for n in range(first, last + 1)})
        many += len(own)
    return named / max(1, many)


def _written(text: str) -> list[tuple[int, int]]:
    """Return the counts and ranges of counts that are written in a text."""
    found = [(int(m[1]), int(m[2] or m[1])) for m in NAMED.finditer(text)]
    return [(first, last) for first, last in found if last < first + MOST_OF_RANGE]


MENDED = {  # errors that are told no more, and their kinds
    "count twice": ("count-twice",),
    "foot that bears moves": ("weight",),
    "hand asked for two things": ("arms",),
    "steps do not fit their counts": ("steps-per-count",),
    "count missing": ("count-missing",),
    "section too short or long": ("section-length",),
    "unknown word": ("word",),
    "foot or way left out": ("foot-missing", "direction-missing"),
    "other side": ("side", "mirror"),
    "wrong total": ("total",),
    "wrong foot free, or walls": ("free-foot", "walls"),
    "wrong hour": ("facing",),
}
TRAITS: Mapping[str, Callable[[Case], float]] = {
    **{name: partial(_mended, kinds) for name, kinds in MENDED.items()},
    "errors": lambda case: len(case.kinds),
    "errors left": lambda case: len(case.left),
    "sections unlike": lambda case: len(case.doubts),
    "moves unlike": _unlike,
    "only arms unlike": _only_arms,
    "sure of these": _mean,
    "sure of all": lambda case: _odds(min(part.answer.sure for part in case.way.parts)),
    "read is hardly likely": lambda case: min(MOST_HARDLY, sum(p < HARDLY for p in case.plausible)),
    "a count is told by none": lambda case: any(map(untold, case.doubts)),
    "half counts have no sign": lambda case: any(map(unsigned, case.doubts)),
    "sections are taken alone": lambda case: all(is_taken(doubt, whole=True) for doubt in case.doubts if doubt.amiss),
    "counts leave a gap": lambda case: any(map(gap, case.doubts)),
    "counts break off": _breaks,
    "counts are named": _named,
    "lines are long": _long,
}
