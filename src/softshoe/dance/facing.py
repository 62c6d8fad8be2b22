"""The way one looks, in whole degrees clockwise from 12 o'clock, 0 to 359; turns to the right are positive."""

from __future__ import annotations

CLOCK_DEG = 30


def turned(facing_deg: int, turn_deg: int) -> int:
    """Return the facing after a turn.

    >>> turned(0, -90)
    270
    """
    return (facing_deg + turn_deg) % 360


def clock(facing_deg: int) -> str:
    """Return the facing as the clock says it.

    >>> clock(270), clock(45)
    ('9:00', '1:30')
    """
    hour, rest = divmod(facing_deg % 360, CLOCK_DEG)
    return f"{hour or 12}:{rest * 2:02d}"


def from_clock(hour: int, minute: int = 0) -> int:
    """Return the degrees of a clock facing.

    >>> from_clock(9), from_clock(1, 30)
    (270, 45)
    """
    return ((hour % 12) * CLOCK_DEG + minute // 2) % 360


def walls_of(net_turn_deg: int) -> int | None:
    """Return how many walls a dance of this net turn has: 1, 2 or 4; None when it never comes home in four.

    >>> [walls_of(d) for d in (0, 180, 90, -90, 45)]
    [1, 2, 4, 4, None]
    """
    return {0: 1, 180: 2, 90: 4, 270: 4}.get(net_turn_deg % 360)
