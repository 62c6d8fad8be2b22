"""What a person decides about a run, on the command line: options that hold, the rest is solved around them."""

from __future__ import annotations

import re
from functools import reduce
from typing import TYPE_CHECKING, Any

import click

from softshoe.errors import SettingError

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import Weights

OPTIONS = (
    click.option("--start", "start_s", type=float, metavar="SECOND", help="The dance starts here."),
    click.option("--end", "end_s", type=float, metavar="SECOND", help="The dance ends on the note here."),
    click.option("--beats", type=click.Choice(["1", "2", "0.5"]), help="Beats to a count: 2 is half time, 0.5 double."),
    click.option("--no-tags", is_flag=True, help="No new tags."),
    click.option("--no-restarts", is_flag=True, help="No new restarts."),
    click.option("--no-bridges", is_flag=True, help="No new bridges: tags only at the end of walls."),
    click.option("--tag", "tags", multiple=True, metavar="WALL:COUNTS", help="A tag behind this wall."),
    click.option("--restart", "restarts", multiple=True, metavar="WALL:AFTER", help="A restart in this wall."),
    click.option("--bridge", "bridges", multiple=True, metavar="WALL:AFTER:COUNTS", help="A bridge in this wall."),
    click.option("--whole", "whole", multiple=True, type=int, metavar="WALL", help="Nothing in this wall."),
)

PINNED = ("start_s", "end_s", "beats", "no_tags", "no_restarts", "no_bridges", "tags", "restarts", "bridges", "whole")


def with_pins(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of pinning."""
    return reduce(lambda done, option: option(done), reversed(OPTIONS), command)


def pinned_by(
    counts: int,
    *,
    start_s: float | None,
    end_s: float | None,
    beats: str | None,
    no_tags: bool,
    no_restarts: bool,
    no_bridges: bool,
    tags: tuple[str, ...],
    restarts: tuple[str, ...],
    bridges: tuple[str, ...],
    whole: tuple[int, ...],
) -> Pins:
    """Return the pins that were said for a dance of so many counts; raises SettingError for one that can't be read."""
    from softshoe.fit.pins import Pins, WallPin

    extras: dict[int, list[tuple[int, int]]] = {wall: [] for wall in whole}
    asked = [_numbers("--restart", said, 2) for said in restarts]
    cuts = {numbers[0]: numbers[1] for numbers in asked}
    for wall, length in (_numbers("--tag", said, 2) for said in tags):
        extras.setdefault(wall, []).append((cuts.get(wall, counts), length))
    for wall, after, length in (_numbers("--bridge", said, 3) for said in bridges):
        extras.setdefault(wall, []).append((after, length))
    walls = {wall: WallPin(cuts.get(wall), tuple(sorted(extras.get(wall, ())))) for wall in sorted({*extras, *cuts})}
    return Pins(
        start_s=start_s,
        beats_per_count=float(beats) if beats else None,
        end_s=end_s,
        tags=not no_tags,
        restarts=not no_restarts,
        bridges=not no_bridges,
        walls=walls,
    )


def _numbers(option: str, said: str, many: int) -> list[int]:
    if not re.fullmatch(r"\d{1,4}" + r":\d{1,4}" * (many - 1), said):
        like = "3:16" if many == 2 else "3:16:4"
        raise SettingError(option, f"“{said}” can't be read", "it wants whole numbers with colons between them",
                           f"write it like {like}")  # fmt: skip
    return [int(number) for number in said.split(":")]


def weights_of(said: tuple[str, ...]) -> Weights:
    """Return the weights a person has moved, each said as NAME=NUMBER; raises SettingError for one that can't be."""
    from softshoe.fit.rules import Weights

    moved = {}
    for one in said:
        name, _, number = one.partition("=")
        try:
            moved[name.strip()] = float(number.replace(",", "."))
        except ValueError as wrong:
            raise SettingError("--weight", f"“{one}” can't be read", "it wants a name, “=” and a number",
                               "write it like tag=8") from wrong  # fmt: skip
    return Weights(moved)
