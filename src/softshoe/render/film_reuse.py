"""What of a film comes again: a wall is posed, drawn and measured once and shown six times.

A film knows what it will show. A moment of a motion that comes again, seen by the same camera, has the pose it had
before; and on the way from one picture to the next the same pieces change, so the pieces are kept (``film_layer``).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable

    from softshoe.render.film_pose import Pose
    from softshoe.render.screen_time import Shown

ROOM_BYTES = 160 * 2**20
FINE = 3  # shares of a way are told apart by so many decimals


@dataclass(slots=True)
class Room:
    """How much may still be kept [bytes]."""

    free: int = ROOM_BYTES


@dataclass(slots=True)
class Again:
    """The moments of one film that come again, and their poses."""

    _times: Counter[Hashable] = field(default_factory=Counter)
    _faced: Counter[Hashable] = field(default_factory=Counter)
    _poses: dict[Hashable, Pose] = field(default_factory=dict)
    _used: Counter[Pose] = field(default_factory=Counter)
    _last: tuple[Shown | None, Hashable] = (None, ())

    def expect(self, shown: Iterable[Shown]) -> None:
        """Told everything that will be shown, each time it will be."""
        moments = [(_moment(one), _facing(one)) for one in shown if one.motion is not None]
        self._times, self._faced = Counter(moment for moment, _ in moments), Counter(moments)

    def begin(self, shown: Shown) -> Pose | None:
        """Told that this moment is shown now; return the pose it had before, if it is kept."""
        moment = self._moment(shown)
        self._times[moment] -= 1
        self._faced[moment, _facing(shown)] -= 1
        return self._poses.get(moment)

    def comes(self, shown: Shown, *, facing: bool = False) -> bool:
        """Tell whether this moment comes again; ``facing``: to the same wall."""
        return (self._faced[self._moment(shown), _facing(shown)] if facing else self._times[self._moment(shown)]) > 0

    def keep(self, shown: Shown, pose: Pose) -> None:
        """Keep the pose of a moment that comes again."""
        if self.comes(shown) and self._moment(shown) not in self._poses:
            self._poses[self._moment(shown)] = pose
            self._used[pose] += 1

    def over(self, shown: Shown) -> Pose | None:
        """Let go of a moment's pose after its last time; return it when no other moment has it."""
        pose = None if self.comes(shown) else self._poses.pop(self._moment(shown), None)
        if pose is None:
            return None
        self._used[pose] -= 1
        return pose if self._used[pose] <= 0 else None

    def _moment(self, shown: Shown) -> Hashable:
        if self._last[0] is not shown:
            self._last = shown, _moment(shown)
        return self._last[1]


def _moment(shown: Shown) -> Hashable:
    """What the dancer's picture rests on."""
    way = (
        (shown.then.motion, shown.then.count, round(shown.gone, FINE), _turn(shown))
        if shown.gone and shown.then
        else ()
    )
    return shown.motion, shown.passage.view, round(shown.moment, FINE), round(shown.arrival, FINE), way


def _facing(shown: Shown) -> float:
    return float(shown.beat.facing_deg) if shown.beat is not None else 0.0


def _turn(shown: Shown) -> float:
    return shown.then.facing_deg - shown.beat.facing_deg if shown.then and shown.beat else 0.0
