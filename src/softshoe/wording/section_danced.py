"""A section danced, as one frozen value; and the same further on: counts, lines and characters later."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.errors import Finding
from softshoe.wording.counting import HIGHEST, WHOLE, moved

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable

    from softshoe.dance.action import Span
    from softshoe.wording.blocks import Paint

Row = tuple[int, str]


@lru_cache(maxsize=1)
def _wholes() -> tuple[Count, ...]:
    return tuple(map(Count, WHOLE))


class Place(NamedTuple):
    """Where a section stands: the counts danced before it, its first line, its first character."""

    start: int
    line: int
    char: int


class Danced(NamedTuple):
    """What came of a section where it was danced: ``asked`` is all of its dancer's stance that it rests on, by name.

    ``line`` and ``last`` are those of the item danced last; ``stands`` is what the stance came to where it was set.
    ``facing_off`` is None where no facing was asked for. Moments are counts of the dance; rows are lines and words.
    """

    place: Place
    asked: tuple[tuple[str, Hashable], ...]
    filled: int
    line: int | None
    last: Span | None
    actions: tuple[Action, ...]
    hands: tuple[tuple[Fraction, tuple[ArmMove, ...]], ...]
    hand_at: tuple[tuple[Fraction, tuple[int, Span]], ...]
    findings: tuple[Finding, ...]
    inferred: tuple[tuple[int, Fraction, str], ...]
    faced: tuple[tuple[int, int, Fraction, int], ...]
    unknown: tuple[Row, ...]
    unread: tuple[Row, ...]
    kept: tuple[Row, ...]
    paints: tuple[Paint, ...]
    stands: tuple[tuple[str, object], ...]
    turned_deg: int
    facing_off: int | None
    reach: Fraction  # the latest moment of all

    def at(self, place: Place) -> Danced:
        """Return the same in another place."""
        return (
            self if place == self.place else Shift(*(n - o for n, o in zip(place, self.place, strict=True))).all(self)
        )


class Shift(NamedTuple):
    """So many counts, lines and characters further on."""

    counts: int
    lines: int
    chars: int

    def all(self, one: Danced) -> Danced:
        """Return all that came of a section, further on."""
        old = Place(*one.place)
        steps = {id(value): self.action(value) for _, value in one.stands if isinstance(value, Action)}
        return one._replace(
            place=Place(old.start + self.counts, old.line + self.lines, old.char + self.chars),
            line=one.line and one.line + self.lines,
            last=self.span(one.last),
            actions=tuple(map(self.action, one.actions)),
            hands=tuple((self.moment(at), tuple(map(self.arm, moves))) for at, moves in one.hands),
            hand_at=tuple(
                (self.moment(at), (line + self.lines, (span[0] + self.chars, span[1] + self.chars)))
                for at, (line, span) in one.hand_at
            ),
            findings=tuple(map(self.finding, one.findings)),
            inferred=tuple((line + self.lines, self.moment(at), what) for line, at, what in one.inferred),
            faced=tuple((deg, line + self.lines, self.moment(at), turned) for deg, line, at, turned in one.faced),
            unknown=self.rows(one.unknown),
            unread=self.rows(one.unread),
            kept=self.rows(one.kept),
            paints=tuple([(start + self.chars, end + self.chars, role) for start, end, role in one.paints]),
            stands=tuple((name, steps.get(id(value), value)) for name, value in one.stands),
            reach=self.moment(one.reach),
        )

    def moment(self, at: Fraction) -> Fraction:
        """Return a moment further on."""
        return moved((at,), Fraction(self.counts))[0] if self.counts else at

    def later(self, count: Count) -> Count:
        """Return a count further on; most are whole, and those are made once."""
        n, per = count.at.as_integer_ratio()
        whole = per == 1 and 0 <= n + self.counts <= HIGHEST
        return _wholes()[n + self.counts] if whole else Count(count.at + self.counts)

    def span(self, span: Span | None) -> Span | None:
        """Return characters further on."""
        return span and (span[0] + self.chars, span[1] + self.chars)

    def arm(self, arm: ArmMove) -> ArmMove:
        """Return a hand's part with its characters further on."""
        return ArmMove(arm.side, arm.gesture, arm.place, arm.toward, self.span(arm.span))

    def action(self, a: Action) -> Action:
        """Return an action further on."""
        return Action(
            self.later(a.at) if self.counts else a.at, a.foot, a.verb, a.dir, a.turn_deg,
            tuple(map(self.arm, a.arms)) if a.arms else (), a.weight_said, a.line + self.lines, self.span(a.span),
        )  # fmt: skip

    def finding(self, one: Finding) -> Finding:
        """Return a finding on a line and a count further on."""
        count = one.count if one.count is None else str(Fraction(one.count) + self.counts)
        line = one.line if one.line is None else one.line + self.lines
        return Finding(one.severity, one.kind, line, count, one.message, one.mend)

    def rows(self, rows: Iterable[Row]) -> tuple[Row, ...]:
        """Return lines with their words further on."""
        return tuple((line + self.lines, words) for line, words in rows)
