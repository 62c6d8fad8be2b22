"""``softshoe demo``: the main job on the demo dance and song that come with the package."""

from __future__ import annotations

from importlib.resources import as_file, files
from pathlib import Path

import click


@click.command(name="demo")
@click.option("-o", "--out", type=click.Path(path_type=Path), default=Path("softshoe-demo"), show_default=True,
              help="The folder to make.")  # fmt: skip
@click.option("--timings", is_flag=True, help="Print where the time went.")
@click.pass_context
def command(ctx: click.Context, out: Path, timings: bool) -> None:
    """Make a folder from the demo dance and the demo song: a sheet to print, films, practice tracks."""
    from softshoe.cli.make import make_all
    from softshoe.files import folder_for, write_whole
    from softshoe.jobs.making import Wish
    from softshoe.render.demo_song import write_demo_song

    folder_for(out)
    with as_file(files("softshoe") / "data" / "demo" / "sheet.txt") as shipped:
        words = shipped.read_bytes()
    sheet, song = out / "demo-sheet.txt", out / "demo-song.flac"
    if not sheet.is_file():
        write_whole(sheet, words)
    if not song.is_file():
        click.echo("Playing the demo song from its score", err=True)
        write_demo_song(song)
    ctx.exit(make_all(Wish(sheet, song, out, sound="song"), timings=timings))
