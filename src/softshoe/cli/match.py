"""``softshoe match``: which kept dances sit well on a song."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from softshoe.cli.said import said_by, with_said


@click.command(name="match")
@click.argument("song", type=click.Path(path_type=Path))
@with_said
@click.pass_context
def command(ctx: click.Context, /, song: Path, **said: Any) -> None:
    """Say which dances of the repertoire sit well on SONG, the best first."""
    from softshoe.home import data_home
    from softshoe.music.given import song_given
    from softshoe.repertoire.match import matches
    from softshoe.repertoire.store import Repertoire

    kept = Repertoire.at(data_home()).all()
    if not kept:
        click.echo("The repertoire is empty. “softshoe keep SHEET” puts a dance into it.")
        ctx.exit(1)
    found = matches(kept, song_given(song, said_by(**said)))
    for match in found:
        click.echo(f"{match.run.score.total:3.0f} of 100  {match.kept.dance.title}: {match.run.why[0]}")
    ctx.exit(0 if found else 1)
