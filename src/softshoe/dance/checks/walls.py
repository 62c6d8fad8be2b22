"""Walls: their number follows from the net turn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import walls_of
from softshoe.dance.footwork import net_turn_deg
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance


def walls(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The number of walls follows from the net turn: none 1, half 2, a quarter 4. Only what is stated is checked.

    "4 walls" over one pivot half: the dance comes home on the second wall.
    """
    if "walls" not in lines:
        return
    net = net_turn_deg(dance)
    turned = walls_of(net)
    if turned is not None and dance.walls != turned:
        ways = {0: "where it began", 90: "a quarter to the right", 180: "half round", 270: "a quarter to the left"}
        yield Finding(
            "error", "walls", lines["walls"], None,
            f"The dance ends {ways[net]}, so it has {turned} wall{'s' * (turned > 1)}, not {dance.walls}.",
            f"Write {turned} wall{'s' * (turned > 1)}, or change a turn.",
        )  # fmt: skip
