"""Keys: the poses that rules set and curves run between. Times are moments [counts from 0], angles radians, metres.

A key is reached at ``end`` by a movement that begins at ``start``; until the next key begins, its pose is held. The
sole is a line from the heel (0) to the toe (1); ``spot`` says which point of it a foot key fixes.
"""

from __future__ import annotations

from typing import NamedTuple

Vector = tuple[float, float, float]
ZERO: Vector = (0.0, 0.0, 0.0)
EVER, NEVER = -1e6, 1e6


class FootKey(NamedTuple):
    """A foot at rest: the point at ``spot`` of the sole, the way it points, its pitch (toes up positive).

    On the way there: ``lift_m`` over the straight line, latest where ``late`` is large; ``bulge`` sideways
    of it, most at the share ``peak`` of the way;
    ``ring`` is a circle of that radius drawn on the way, forward first, outward by ``ring_side``, seen from
    ``ring_yaw``.
    ``knee`` turns the knee's side from the foot's way; ``firm`` is the share of a foot's load it can bear;
    what only ``follows`` a contact is left out when there is no time for it; ``part`` is the share of its way, or of
    the ring it draws, that time has left it.
    """

    start: float
    end: float
    point: Vector
    spot: float = 0.5
    yaw: float = 0.0
    pitch: float = 0.0
    lift_m: float = 0.0
    late: float = 1.0
    droop: float = 0.0
    bulge: Vector = ZERO
    peak: float = 0.5
    ring_m: float = 0.0
    ring_side: float = 1.0
    ring_yaw: float = 0.0
    knee: float = 0.0
    firm: float = 1.0
    follows: bool = False
    part: float = 1.0


class BodyKey(NamedTuple):
    """The trunk: leaning forward and to the right, turned to the right, and how far the pelvis sinks, or comes to the
    edge of a seat."""

    start: float
    end: float
    forward: float = 0.0
    right: float = 0.0
    turned: float = 0.0
    sink_m: float = 0.0


class NumberKey(NamedTuple):
    """One number: the share of weight on the right foot, or the facing."""

    start: float
    end: float
    value: float


class HandKey(NamedTuple):
    """A right hand (a left one is its mirror image): palm point, way of the fingers, of the palm and of the elbow.

    ``parent`` names the frame in which they are told (forward, up, outward): "trunk" from the hips, "shoulder" from
    the own shoulder, "thigh" along the own thigh bone and "other thigh", "foot" over the own ball, "hang" from the
    own shoulder straight down. ``bulge`` rounds the way there; ``shape`` is how the hand is held (``HAND_SHAPES``).
    """

    start: float
    end: float
    parent: str
    point: Vector
    fingers: Vector
    palm: Vector
    elbow: Vector
    bulge: Vector = ZERO
    shape: str = "soft"


class Swing(NamedTuple):
    """A to-and-fro of one hand ("left", "right") from ``begin`` to ``end``: ``kind`` names the curve, ``size_m``
    its reach.
    """

    hand: str
    kind: str
    begin: float
    end: float
    size_m: float


class Lead(NamedTuple):
    """A limb leads: 0 left foot, 1 right foot, 2 left hand, 3 right hand; strongest at ``at``."""

    limb: int
    start: float
    at: float
    end: float
