"""Sides: a foot does not cross unsaid, and a half that mirrors another mirrors it throughout."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from softshoe.dance.checks.given import all_actions, moment
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
    from softshoe.dance.dance import Dance

LATERAL_VERBS = frozenset(("step", "rock", "touch", "point", "heel", "kick", "lunge", "stomp", "stomp-up"))


def side(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A foot that goes to the other side crosses, and the words must say so; a mirrored half mirrors throughout.

    "Point right to the left"; or "reach to the right" in both halves of a section whose feet mirror each other.
    """
    del lines
    told = False
    for action in all_actions(dance):
        if action.dir is not Direction.LEFT and action.dir is not Direction.RIGHT:
            continue
        wrong = (action.foot is Foot.RIGHT and action.dir is Direction.LEFT) or (
            action.foot is Foot.LEFT and action.dir is Direction.RIGHT
        )
        if wrong and action.verb in LATERAL_VERBS and action.foot is not None and action.dir is not None:
            told = True
            yield Finding(
                "error", "side", action.line, moment(action.at),
                f"The {action.foot.word} foot can't go to the {action.dir.value} without crossing the other.",
                f"Write {action.foot.word} for {action.dir.value}, or say that it crosses.",
            )  # fmt: skip
    if not told:
        yield from _unmirrored(dance)


def _unmirrored(dance: Dance) -> Iterator[Finding]:
    """A half that mirrors the half before it in all but one side is meant to mirror it there too."""
    counts = [action.at.whole for action in dance.actions]
    for first, length in _halves(dance):
        start, middle, end = (bisect_left(counts, first + k * length) for k in range(3))
        wrong = _one_wrong_side(dance.actions[start:middle], dance.actions[middle:end], length)
        if wrong is not None:
            message = "All else here mirrors the counts before, but this goes to the same side."
            yield Finding(
                "error", "side", wrong.line, moment(wrong.at), message, "Write right for left here, or left for right."
            )
            return


def _halves(dance: Dance) -> Iterator[tuple[int, int]]:
    """Yield stretches that may mirror each other (first, length): sections in pairs, halves and quarters of one."""
    starts = [(int(s.start.at), int(s.length.n)) for s in dance.sections]
    for (first, length), (_, after) in zip(starts[::2], starts[1::2], strict=False):
        if length == after:
            yield first, length
    for first, length in starts:
        for part in (length // 2, length // 4):
            if part > 1:
                yield from ((at, part) for at in range(first, first + length - 2 * part + 1, 2 * part))


def _one_wrong_side(one: Sequence[Action], two: Sequence[Action], length: int) -> Action | None:
    """Return the one action of the second half whose side is not mirrored, when all others are and sides are named."""
    if len(one) != len(two) or len(one) < 2:
        return None
    wrong: list[Action] = []
    sided = 0
    for a, b in zip(one, two, strict=True):
        if a.verb != b.verb or a.turn_deg != -b.turn_deg or b.foot is not (a.foot and a.foot.other):
            return None
        way = a.dir and a.dir.mirrored
        if (b.dir is not way and b.dir is not a.dir) or len(a.arms) != len(b.arms) or b.at.at - a.at.at != length:
            return None
        arms = tuple(arm.mirrored for arm in a.arms)
        bad = b.dir is not way or (a.foot is not None and _arms_unmirrored(arms, a.arms, b.arms))
        if any(x.gesture != y.gesture or x.place != y.place for x, y in zip(arms, b.arms, strict=True)):
            return None
        sided += way is not a.dir or b.foot is not a.foot or arms != a.arms
        if bad:
            wrong.append(b)
    return wrong[0] if len(wrong) == 1 and sided > 1 else None


def _arms_unmirrored(want: tuple[ArmMove, ...], one: tuple[ArmMove, ...], two: tuple[ArmMove, ...]) -> bool:
    if want == one:
        return False
    towards = [(w, a, b) for w, a, b in zip(want, one, two, strict=True)]
    return any(
        (b.toward is not w.toward and b.toward is a.toward)
        or (b.side is not w.side and b.side is a.side and w.toward is not None)
        for w, a, b in towards
    )
