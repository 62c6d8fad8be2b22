"""Hands open and close on their way: every shape becomes every other one little by little."""

from __future__ import annotations

from itertools import pairwise, permutations
from math import dist

import pytest

from softshoe.figure.motion import HAND_SHAPES, SHAPE_STEPS, HandShape
from softshoe.render.picture_hand_parts import Part, hand_parts, parts

STEPS = [step / SHAPE_STEPS for step in range(1, SHAPE_STEPS)]


def solid(shape: HandShape) -> list[Part]:
    return [part for part in hand_parts(shape) if part.part != "line"]


@pytest.mark.parametrize("shape", HAND_SHAPES)
def test_a_hand_at_rest_has_the_parts_of_its_shape(shape: str) -> None:
    assert hand_parts(HandShape(shape, shape)) == parts()[shape]


@pytest.mark.parametrize(("before", "now"), [*permutations(HAND_SHAPES, 2)])
def test_no_part_of_a_hand_jumps_on_the_way(before: str, now: str) -> None:
    shown = [solid(HandShape(before, now, gone)) for gone in STEPS]
    for one, then in pairwise(shown):
        assert len(one) == len(then)
        assert all(dist(a.end, b.end) < 0.2 and abs(a.r0_m - b.r0_m) < 0.01 for a, b in zip(one, then, strict=True))


@pytest.mark.parametrize(("before", "now"), [*permutations(HAND_SHAPES, 2)])
def test_a_hand_ends_its_way_near_the_shape_it_goes_to(before: str, now: str) -> None:
    last = solid(HandShape(before, now, STEPS[-1]))
    for part in (part for part in parts()[now] if part.part != "line"):
        assert min(dist(part.end, other.end) for other in last) < 0.15
