"""The listener's word on the command line: options shared by every command that hears a song. They always win."""

from __future__ import annotations

from functools import reduce
from math import inf, isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import click

from softshoe.errors import SettingError

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.music.songmap import MetreOfSong, Said

TEMPO_BPM = (20.0, 400.0)


def _number(_: click.Context, __: click.Parameter, value: str | None) -> float | None:
    """Return a number as people write one, "112", "9.6" or "9,6"; says in plain words what is not one."""
    if value is None:
        return None
    try:
        number = float(value.replace(",", "."))
    except ValueError:
        number = inf
    if not isfinite(number):
        raise click.BadParameter(f"“{value}” is not a number: write figures, such as 112 or 9.6")
    return number


def moment_s(value: str) -> float:
    """Return the seconds of a moment as people write it, "9.6" or "1:31.5"; refuses anything else in plain words."""
    from softshoe.music.said import tap_s

    seconds = tap_s(value.strip())
    if seconds is None:
        raise click.BadParameter(f"“{value}” is not a moment of a song: write seconds such as 9.6, or 1:31.5")
    return seconds


def moment(_: click.Context, __: click.Parameter, value: str | None) -> float | None:
    """Read one moment."""
    return None if value is None else moment_s(value)


def _moments(_: click.Context, __: click.Parameter, value: tuple[str, ...]) -> tuple[float, ...]:
    return tuple(sorted({moment_s(word) for word in value}))


OPTIONS = (
    click.option("--tempo", metavar="NUMBER", callback=_number, help="The tempo you hear, in beats a minute."),
    click.option(
        "--first-count", metavar="MOMENT", callback=moment, help="Where count 1 of the dance falls, as in 9.6."
    ),
    click.option(
        "--one", metavar="MOMENT", multiple=True, callback=_moments, help="Where you count one; may be repeated."
    ),
    click.option("--metre", type=click.Choice(["3", "4"]), help="Beats in a bar: 4, or 3 for a waltz."),
    click.option("--tap", type=click.Path(path_type=Path), help="A text file with a second for each beat you tapped."),
)


def with_said(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command these options."""
    return reduce(lambda done, option: option(done), reversed(OPTIONS), command)


def said_by(
    *,
    tempo: float | None,
    first_count: float | None,
    metre: str | None,
    tap: Path | None,
    one: tuple[float, ...] = (),
) -> Said:
    """Return what the listener said; raises SettingError for a value that can't be."""
    from softshoe.music.said import taps_from
    from softshoe.music.songmap import Said

    if tempo is not None and not TEMPO_BPM[0] <= tempo <= TEMPO_BPM[1]:
        raise SettingError("--tempo", f"{tempo:g} is no tempo to dance to", "beats a minute lie between 20 and 400",
                           "count the beats of fifteen seconds and multiply by four")  # fmt: skip
    beats_in_bar = cast("MetreOfSong", int(metre)) if metre else None
    return Said(tempo, first_count, beats_in_bar, taps_from(tap) if tap else (), one)
