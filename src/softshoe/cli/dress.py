"""``softshoe dress``: the song found inside a filmed run-through, and its counts written for it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from softshoe.cli.said import said_by, with_said
from softshoe.cli.show import clock_time

if TYPE_CHECKING:
    from softshoe.dress.find import Found
    from softshoe.fit.timeline import Moment

SURE = 0.8


@click.command(name="dress")
@click.argument("film", type=click.Path(path_type=Path))
@click.argument("sheet", type=click.Path(path_type=Path))
@click.argument("song", type=click.Path(path_type=Path))
@click.option("-o", "--out", type=click.Path(path_type=Path), help="The folder for the captions; else beside the film.")
@with_said
@click.pass_context
def command(ctx: click.Context, /, film: Path, sheet: Path, song: Path, out: Path | None, **said: Any) -> None:
    """Find SONG inside FILM and write the counts of SHEET's dance for it, as captions and chapters beside the film."""
    from softshoe.dress.find import RATE_HZ, find_song
    from softshoe.fit.lay import fit
    from softshoe.fit.timeline import timeline
    from softshoe.music.audio import heard
    from softshoe.music.listen import listen
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dance = read(sheet_text(sheet))
    music, taken = heard(song), heard(film)
    song_map = listen(music, said=said_by(**said), where=str(song))
    found = find_song(music.mono(RATE_HZ), taken.mono(RATE_HZ), where=str(film))
    runs = fit(dance, song_map, most=1).runs
    if not runs:
        click.echo("The song was found in the film, but the dance can't be laid on it: see “softshoe fit”.", err=True)
        ctx.exit(1)
    moments = timeline(dance, runs[0], song_map)
    _write(film, out or film.parent, moments, found, taken.seconds)
    ctx.exit(0 if found.agree >= SURE else 1)


def _write(film: Path, folder: Path, moments: tuple[Moment, ...], found: Found, length_s: float) -> None:
    from softshoe.dress.counts import chapters, count_captions
    from softshoe.files import folder_for, write_whole
    from softshoe.render.captions import TimedText, vtt

    folder_for(folder)
    for name, captions in (("counts", count_captions(moments, found, length_s=length_s)),
                           ("chapters", chapters(moments, found, length_s=length_s))):  # fmt: skip
        path = folder / f"{film.stem}-{name}.vtt"
        write_whole(path, vtt(TimedText(c.start_s, c.end_s, c.words) for c in captions))
        click.echo(f"written: {path}")
    click.echo(
        f"The song begins {clock_time(max(0.0, found.start_s))} into the film, at {1 / found.speed:.3f} of its speed."
    )
    if found.agree < SURE:
        click.echo("It was hard to hear. Play the film with its captions and see whether “1” falls on one.")
