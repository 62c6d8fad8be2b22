"""Tapping the tempo on the keyboard: Enter on each beat, while the song plays in whatever plays songs here."""

from __future__ import annotations

import sys
import time

import click

from softshoe.errors import SettingError

LEAST, PAUSE_S = 8, 3.0


def tapped_tempo_here() -> float:
    """Return the tempo of Enter pressed on the beats; "q" and Enter, or the end of input, ends it. [beats a minute]

    Only the tempo is taken: where exactly the beats fall is heard better than it is tapped.
    Raises SettingError when there are fewer than eight taps, or they are no beat.
    """
    click.echo("Play the song. Press Enter on every beat you would step on, sixteen times or more.\n"
               "Then type q and press Enter.", err=True)  # fmt: skip
    taps: list[float] = []
    for line in iter(sys.stdin.readline, ""):
        if line.strip().casefold().startswith("q"):
            break
        taps.append(time.monotonic())
        click.echo(f"\r{len(taps)} ", nl=False, err=True)
    return tempo_of(taps)


def tempo_of(taps_s: list[float]) -> float:
    """Return the tempo of taps, without those before a long pause. [beats a minute]"""
    from softshoe.music.counted import tapped_tempo

    start = max((k for k in range(1, len(taps_s)) if taps_s[k] - taps_s[k - 1] > PAUSE_S), default=0)
    taps = tuple(taps_s[start:])
    if len(taps) < LEAST or taps[-1] - taps[0] < 1.0:
        raise SettingError("the taps", f"only {len(taps)} taps in a row", "a tempo needs at least eight",
                           "tap again, sixteen beats or more without a pause")  # fmt: skip
    return round(tapped_tempo(taps), 1)
