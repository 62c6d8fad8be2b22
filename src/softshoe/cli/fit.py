"""``softshoe fit``: the best ways to lay a dance on a song, each with its reasons."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import click

from softshoe.adapt.version import KINDS
from softshoe.cli.pinning import PINNED, pinned_by, weights_of, with_pins
from softshoe.cli.said import said_by, with_said
from softshoe.cli.show import clock_time, print_findings, print_json, worst_code

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind
    from softshoe.dance.dance import Dance
    from softshoe.fit.advice import Advice
    from softshoe.fit.lay import FitResult
    from softshoe.fit.rules import Weights
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap


def _show_weights(ctx: click.Context, _: click.Parameter, asked: bool) -> None:
    """Print what each thing charges and stop."""
    if not asked or ctx.resilient_parsing:
        return
    from softshoe.fit.rules import rules

    click.echo("100 less these. Move one with --weight NAME=NUMBER.\n")
    for rule in rules():
        click.echo(f"{rule.name:16} {rule.value:4g}  {rule.part}: {rule.words} ({rule.mark})")
    ctx.exit(0)


@click.command(name="fit")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.argument("song", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the runs as JSON.")
@click.option("--for", "kind", type=click.Choice(KINDS), help="Lay this version of the dance.")
@click.option("--advice", is_flag=True, help="Try what would fit better; done without asking where the fit is poor.")
@click.option("--songs", type=click.Path(path_type=Path),
              help="A folder of song maps: which fit better? Without it, those of your repertoire.")  # fmt: skip
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the best run: a file .svg, .png or .pdf.")
@click.option("--times", type=click.Path(path_type=Path), help="Write the second of every action into a .csv file.")
@click.option("--swing", type=float, metavar="SHARE",
              help="Where “&” falls in the beat: 0.5 even, 0.67 where it swings; as heard if not said.")  # fmt: skip
@click.option("--weights", is_flag=True, is_eager=True, expose_value=False, callback=_show_weights,
              help="Print what each thing charges.")  # fmt: skip
@click.option("--weight", "moved", multiple=True, metavar="NAME=NUMBER", help="Move one of these charges.")
@with_pins
@with_said
@click.pass_context
def command(ctx: click.Context, /, sheet: Path, song: Path, **how: Any) -> None:
    """Lay the dance of SHEET on SONG (a recording, or the JSON of “softshoe listen”), the best way first.

    Whatever you decide with the options holds, and the rest is solved around it. Ends with 0 when it fits, 1 when
    something is wrong or nothing fits, 2 when a file can't be read.
    """
    from softshoe.fit.document import advice_json, fit_json
    from softshoe.fit.lay import fit
    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import limit
    from softshoe.music.given import song_given

    dance = _dance(sheet, how.pop("kind"))
    weights = weights_of(how.pop("moved"))
    as_json, asked, songs = how.pop("as_json"), how.pop("advice"), how.pop("songs")
    files = {name: how.pop(name) for name in ("picture", "times", "swing")}
    pins = pinned_by(dance.counts, **{name: how.pop(name) for name in PINNED})
    heard = song_given(song, said_by(**how))
    found = fit(dance, heard, pins=pins, weights=weights)
    poor = not found.runs or found.runs[0].score.total < limit("good")
    unasked = poor and pins == Pins() and not as_json
    better = _better(dance, heard, found, songs, weights) if asked or songs or unasked else None
    if as_json:
        print_json(fit_json(found) | ({"advice": advice_json(better)} if better is not None else {}))
    else:
        _tell(dance, heard, found, where=sheet.name)
        _tell_better(better)
    if found.runs:
        _write(dance, found.runs[0], heard, song.stem, **files)
    ctx.exit(worst_code(found.findings) or int(not found.runs))


def _dance(sheet: Path, kind: str | None) -> Dance:
    from softshoe.adapt.adapt import adapt
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dance = read(sheet_text(sheet))
    return adapt(dance, cast("Kind", kind)).dance if kind else dance


def _write(
    dance: Dance, run: Run, song: SongMap, name: str, *, picture: Path | None, times: Path | None, swing: float | None
) -> None:
    """The files that were asked for: the picture, and a table of every action with its second."""
    from softshoe.files import write_whole
    from softshoe.fit.seconds import danced
    from softshoe.render.fit_file import draw_fit

    if picture is not None:
        draw_fit(dance, run, song, name, picture)
    if times is not None:
        lines = ["second,wall,part,count,foot,action"]
        for one in danced(dance, run, song, swing=swing):
            foot = one.action.foot.word if one.action.foot else ""
            lines.append(f"{one.at_s:.3f},{one.wall},{one.part},{one.action.at.label},{foot},{one.action.verb}")
        write_whole(times, "\n".join(lines) + "\n")


def _better(dance: Dance, song: SongMap, found: FitResult, songs: Path | None, weights: Weights) -> tuple[Advice, ...]:
    """What would fit better, each thing tried; songs from the folder that was named, else from the repertoire."""
    from softshoe.cli.kept_in import kept_songs
    from softshoe.cli.match import song_maps
    from softshoe.fit.advice import advice

    now = found.runs[0].score.total if found.runs else 0.0
    return advice(dance, song, now, songs=song_maps(songs) if songs else kept_songs(), weights=weights)


def _tell_better(better: tuple[Advice, ...] | None) -> None:
    if better is None:
        return
    click.echo("\nWhat would fit better:" if better else "\nNothing that was tried fits better.")
    for one in better:
        click.echo(f"  {one.words}")


def _tell(dance: Dance, song: SongMap, found: FitResult, *, where: str) -> None:
    for number, run in enumerate(found.runs):
        _tell_run(dance, song, run, number)
    print_findings(found.findings, where=where)


def _tell_run(dance: Dance, song: SongMap, run: Run, number: int) -> None:
    from softshoe.fit.told import sheet_lines

    click.echo(f"\n{'Best' if number == 0 else 'Or'}: {run.score.total:.0f} of 100")
    for sentence in run.why:
        click.echo(f"  {sentence}")
    if run.score.parts:
        charged = ", ".join(f"{part} {-value:g}" for part, value in run.score.parts.items())
        click.echo(f"  Charged: {charged}.")
    if number == 0:
        _table(dance, song, run)
        click.echo("  For the sheet:")
        for line in sheet_lines(dance, run):
            click.echo(f"    {line}")


def _table(dance: Dance, song: SongMap, run: Run) -> None:
    from softshoe.dance.facing import clock
    from softshoe.fit.told import wall_rows

    click.echo("  wall  time  facing  counts  phrase")
    for row in wall_rows(dance, run, song):
        line = (
            f"  {row.wall:4} {clock_time(row.start_s):>5}  {clock(row.facing_deg):>6}  {row.counts:6}  {row.phrase:9}"
        )
        click.echo(f"{line} {row.happens}".rstrip())
