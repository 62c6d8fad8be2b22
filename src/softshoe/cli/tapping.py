"""Tapping on the keyboard: Enter on each beat, while the song plays in whatever plays songs here."""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import click

from softshoe.errors import SettingError

if TYPE_CHECKING:
    from softshoe.music.songmap import Said

LEAST, PAUSE_S = 8, 3.0
HOW = """Have the song ready. Type s and press Enter at the very moment it starts.
Then press Enter on every beat you would step on, sixteen times or more; on a count of one you may type 1 before Enter.
Then type q and press Enter. (Without the s, the taps give the tempo alone.)"""


@dataclass(frozen=True, slots=True)
class Tapped:
    """What was tapped: seconds of the clock, and those of them that were ones; when the song started, or None."""

    taps_s: tuple[float, ...]
    ones_s: tuple[float, ...] = ()
    started_s: float | None = None

    def said(self, told: Said) -> Said:
        """Return what the listener says with these taps: beats and ones where the start is known, else the tempo."""
        taps = in_a_row(self.taps_s)
        if self.started_s is None:
            return replace(told, tempo_bpm=tempo_of(taps))
        ones = sorted({*told.ones_s, *(one - self.started_s for one in self.ones_s if one in taps)})
        return replace(told, taps_s=tuple(tap - self.started_s for tap in taps), ones_s=tuple(ones))


def tapped_here() -> Tapped:
    """Return what is tapped on this keyboard; "q" and Enter, or the end of input, ends it."""
    click.echo(HOW, err=True)
    taps: list[float] = []
    ones: list[float] = []
    started = None
    for line in iter(sys.stdin.readline, ""):
        now, word = time.monotonic(), line.strip().casefold()
        if word.startswith("q"):
            break
        if word.startswith("s"):
            started, taps, ones = now, [], []
            continue
        taps.append(now)
        ones += [now] if word.startswith("1") else []
        click.echo(f"\r{len(taps)} ", nl=False, err=True)
    return Tapped(tuple(taps), tuple(ones), started)


def in_a_row(taps_s: tuple[float, ...]) -> tuple[float, ...]:
    """Return the taps without those before a long pause; raises SettingError when they are fewer than eight."""
    start = max((k for k in range(1, len(taps_s)) if taps_s[k] - taps_s[k - 1] > PAUSE_S), default=0)
    taps = taps_s[start:]
    if len(taps) < LEAST or taps[-1] - taps[0] < 1.0:
        raise SettingError("the taps", f"only {len(taps)} taps in a row", "a beat needs at least eight",
                           "tap again, sixteen beats or more without a pause")  # fmt: skip
    return taps


def tempo_of(taps_s: tuple[float, ...]) -> float:
    """Return the tempo of taps. [beats a minute]"""
    from softshoe.music.counted import tapped_tempo

    return round(tapped_tempo(taps_s), 1)
