"""What may fill a tag, from the dance's own material: sways, its last counts once more, holds and claps.

Each choice begins with a free foot, turns nobody and leaves the leading foot free; what does not is not offered.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.checks.weights import ON_BEARING
from softshoe.dance.counts import Count, Counts
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced
from softshoe.fit.anatomy import anatomy
from softshoe.fit.tags import tag_actions

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from softshoe.dance.dance import Dance

MOST_REPEATED = 8
MOST_TOLD = 4
NUMBERS = {2: "two", 3: "three", 4: "four", 6: "six", 8: "eight"}


@dataclass(frozen=True, slots=True)
class Filling:
    """One way to fill a tag: in words, and as actions counted from ``Count(1)``."""

    words: str
    actions: tuple[Action, ...]


def fillings(dance: Dance, counts: int) -> tuple[Filling, ...]:
    """Return the ways to fill a tag of so many counts behind a whole wall, the simplest first."""
    simplest = tag_actions(dance, counts)
    offered = [Filling(words_of(simplest), simplest), *_again(dance, counts), *_still(dance, counts)]
    kept = {filling.actions: filling for filling in reversed(offered) if keeps(dance, filling.actions)}
    return tuple(filling for filling in offered if kept.get(filling.actions) is filling)


def keeps(dance: Dance, actions: tuple[Action, ...]) -> bool:
    """Return whether these actions behind a whole wall begin with a free foot, turn nobody and give the weight back."""
    seen = anatomy(dance)
    before = seen.weights[-1]
    if before is Weight.SEAT:
        return not any(action.turn_deg for action in actions)
    events = danced(actions, weight=before)
    bearing = [before, *(event.weight for event in events)]
    clash = any(
        action.foot is not None and action.foot.value == bears.value and action.verb not in ON_BEARING
        for action, bears in zip(actions, bearing, strict=False)
    )
    return not clash and bearing[-1] is before and events[-1].facing_deg == 0


def _again(dance: Dance, counts: int) -> Iterator[Filling]:
    """The last counts of the wall once more."""
    if counts > min(MOST_REPEATED, dance.counts):
        return
    after = dance.counts - counts
    back = Counts(Fraction(-after))
    actions = tuple(a.later(back) for a in dance.actions if after < a.at.whole <= dance.counts)
    if actions:
        yield Filling(f"dance the last {NUMBERS.get(counts, str(counts))} counts of the wall once more", actions)


def _still(dance: Dance, counts: int) -> Iterator[Filling]:
    """Holds, with a clap on every second count."""
    clap = (ArmMove(Foot.BOTH, "clap"),)
    moments = [Count(Fraction(n)) for n in range(1, counts + 1)]
    yield Filling(f"hold {counts} counts", tuple(Action(at, None, "hold") for at in moments))
    if counts % 2 == 0 and dance.metre != "3/4":
        actions = tuple(
            Action(at, None, "arms", arms=clap) if at.whole % 2 == 0 else Action(at, None, "hold") for at in moments
        )
        yield Filling("hold and clap by turns", actions)


def words_of(actions: Iterable[Action]) -> str:
    """Return plain tag actions in words.

    >>> from softshoe.dance.places import Direction
    >>> sways = [Action(Count(Fraction(n)), foot, "sway") for n, foot in ((1, Foot.RIGHT), (2, Foot.LEFT))]
    >>> words_of([*sways, Action(Count(Fraction(3)), None, "hold"), Action(Count(Fraction(4)), None, "hold")])
    'sway right, left, hold 2 counts'
    """
    said: list[str] = []
    for word, run in groupby(actions, key=_word):
        many = len(list(run))
        said.append(f"{word} {many} counts" if word == "hold" and many > 1 else ", ".join([word] * many))
    parts = _by_turns(said)
    return ", ".join(word.removeprefix("sway ") if k and parts[k - 1].startswith("sway") else word for k, word in
                     enumerate(parts))  # fmt: skip


def _word(action: Action) -> str:
    clap = action.foot is None and any(arm.gesture == "clap" for arm in action.arms)
    foot = action.foot.word if action.foot not in (None, Foot.BOTH) else ""
    return f"{'clap' if clap else action.verb} {foot}".strip()


def _by_turns(said: list[str]) -> list[str]:
    """Two things that go on by turns for more than four counts are told once."""
    parts: list[str] = []
    at = 0
    while at < len(said):
        end = at + 2
        while end < len(said) and said[end] == said[end - 2]:
            end += 1
        if end - at > MOST_TOLD:
            one, other = said[at], said[at + 1].removeprefix("sway ")
            parts.append(f"{one} and {other} by turns for {end - at} counts")
            at = end
        else:
            parts.append(said[at])
            at += 1
    return parts
