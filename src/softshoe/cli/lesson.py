"""``softshoe lesson``: how a dance would be taught, in words to read, lead from and change."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from softshoe.cli.said import said_by, with_said
from softshoe.cli.taught import with_lesson


@click.command(name="lesson")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.argument("song", type=click.Path(path_type=Path))
@click.option("-o", "--out", type=click.Path(path_type=Path), help="The text file to write; else it is printed.")
@with_lesson
@with_said
def command(sheet: Path, song: Path, out: Path | None, minutes: float | None, room: str, **said: Any) -> None:
    """Write the walkthrough of SHEET on SONG in words: what is shown, said and written, piece by piece.

    Change the text as you like; “softshoe make SHEET SONG --lesson FILE” films it so.
    """
    from softshoe.files import write_whole
    from softshoe.jobs.values import best_fit, versions
    from softshoe.music.given import song_given
    from softshoe.teach.length import chosen, clock
    from softshoe.teach.pieces import seconds
    from softshoe.teach.room import room_of
    from softshoe.teach.text import lesson_text
    from softshoe.teach.walkthrough import every_piece
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    walls, dance = room_of(room), read(sheet_text(sheet))
    heard = song_given(song, said_by(**said))
    pieces = every_piece(dance, versions(dance), best_fit(dance, heard).runs[0], heard, room=walls)
    taught, told = chosen(pieces, minutes, seated=dance.seated)
    text = lesson_text(dance.title, taught, told)
    if out is None:
        click.echo(text, nl=False)
        return
    write_whole(out, text)
    click.echo("\n".join((f"The walkthrough lasts {clock(seconds(taught))}.", *told)))
    click.echo(f"Written: {out}. Change it, then: softshoe make {sheet} {song} --lesson {out}")
