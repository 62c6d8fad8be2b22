"""``softshoe fit``: the best ways to lay a dance on a song, each with its reasons."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from softshoe.cli.said import said_by, with_said
from softshoe.cli.show import clock_time, print_findings, print_json, worst_code

if TYPE_CHECKING:
    from softshoe.fit.run import Run


@click.command(name="fit")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.argument("song", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the runs as JSON.")
@with_said
@click.pass_context
def command(ctx: click.Context, /, sheet: Path, song: Path, as_json: bool, **said: Any) -> None:
    """Lay the dance of SHEET on SONG (a recording, or the JSON of “softshoe listen”), the best way first.

    Ends with 0 when it fits, 1 when something is wrong or nothing fits, 2 when a file can't be read.
    """
    from softshoe.fit.document import fit_json
    from softshoe.fit.lay import fit
    from softshoe.music.given import song_given
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dance = read(sheet_text(sheet))
    found = fit(dance, song_given(song, said_by(**said)))
    if as_json:
        print_json(fit_json(found))
    else:
        for number, run in enumerate(found.runs):
            _tell(run, number)
        print_findings(found.findings, where=sheet.name)
    ctx.exit(worst_code(found.findings) or int(not found.runs))


def _tell(run: Run, number: int) -> None:
    from softshoe.dance.facing import clock

    click.echo(f"\n{'Best' if number == 0 else 'Or'}: {run.score.total:.0f} of 100")
    for sentence in run.why:
        click.echo(f"  {sentence}")
    click.echo("  wall  time   facing  counts")
    for wall in run.walls:
        click.echo(f"  {wall.wall:4}  {clock_time(wall.start_s):>5}  {clock(wall.facing_deg):>6}  {wall.counts:6}")
        for tag in run.tags:
            if wall.wall in (tag.after_wall, tag.in_wall):
                click.echo(f"        tag of {tag.counts} counts after count {tag.at_count}")
