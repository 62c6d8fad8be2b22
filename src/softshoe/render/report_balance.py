"""The balance of sides: how often each foot and each hand works in one wall.

The symmetry index is |L − R| / (½ (L + R)) × 100, in percent; 0 where both are 0 (Robinson, Herzog and Nigg 1987). A
foot used in 40 to 60 % of what the feet do is called nearly even (our own rule, common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

EVEN_SHARE = (0.4, 0.6)


@dataclass(frozen=True, slots=True)
class Side:
    """One row: what works, how often left and right."""

    name: str
    left: int
    right: int

    @property
    def index(self) -> float:
        """The symmetry index in percent."""
        return symmetry_index(self.left, self.right)

    @property
    def words(self) -> str:
        """The row in words."""
        total = self.left + self.right
        if not total:
            return "not used"
        low, high = EVEN_SHARE
        if low <= self.right / total <= high:
            return "even" if self.left == self.right else "nearly even"
        return f"mostly the {'right' if self.right > self.left else 'left'} side"


def symmetry_index(left: float, right: float) -> float:
    """Return the symmetry index of two sides, in percent, 0 to 200.

    >>> round(symmetry_index(10, 8), 1), symmetry_index(0, 0)
    (22.2, 0.0)
    """
    total = left + right
    return abs(left - right) / (0.5 * total) * 100 if total else 0.0


def sides(dance: Dance) -> tuple[Side, ...]:
    """Return the rows for feet, steps that bear, and hands; what both do alike counts on both sides."""
    feet = [a.foot for a in dance.actions if a.foot]
    bearing = [a.foot for a in dance.actions if a.foot and VERB[a.verb].takes_weight]
    hands = [arm.side for a in dance.actions for arm in a.arms]
    rows = [_side("What the feet do", feet), _side("Hands and arms", hands)]
    if not dance.seated:
        rows.insert(1, _side("Steps that take the weight", bearing))
    return tuple(rows)


def _side(name: str, used: list[Foot]) -> Side:
    both = used.count(Foot.BOTH)
    return Side(name, used.count(Foot.LEFT) + both, used.count(Foot.RIGHT) + both)
