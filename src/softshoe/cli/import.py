"""``softshoe import``: a folder of old sheets, or an export, goes into the repertoire."""

# ruff: noqa: N999  (the command is called so)

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.repertoire.intake import Intake
    from softshoe.repertoire.store import Repertoire

SHOWN = 5  # files of each group that are named here; the report names all


@click.command(name="import")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--report", type=click.Path(path_type=Path), default=Path("softshoe-import.html"), show_default=True,
              help="Where the report goes, as a page to work through.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@click.pass_context
def command(ctx: click.Context, folder: Path, report: Path, *, as_json: bool) -> None:
    """Take in every sheet of FOLDER (txt, md, docx, odt, rtf, html, pdf with words in it), and say what each needs.

    Each becomes a dance; a copy of the file itself is kept. The same file twice is one, and the same command goes on
    where it was stopped. A FOLDER that “softshoe export” wrote comes back as it was.
    """
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire.export import MARK

    if (folder / MARK).is_file():
        _back(repertoire(), folder)
        return
    from softshoe.repertoire.intake import take_in

    done = take_in(repertoire(), folder, told=None if as_json else _progress)
    _clear()
    if as_json:
        from softshoe.cli.show import print_json
        from softshoe.repertoire.intake_report import report_json

        print_json(report_json(done))
    else:
        if done.files:  # before it is told: whoever listens may go away
            _page(done, folder, report)
        _tell(done)
        if done.files:
            click.echo(f"\nThe whole report, to work through: {report}")
    ctx.exit(0 if any(one.dance for one in done.files) else 1)


def _back(kept: Repertoire, folder: Path) -> None:
    from softshoe.repertoire.export_read import read_back

    for line in read_back(kept, folder):
        click.echo(line)


def _progress(done: int, of: int) -> None:
    if sys.stderr.isatty():
        click.echo(f"\r{done} of {of} files …", nl=False, err=True)


def _clear() -> None:
    if sys.stderr.isatty():
        click.echo("\r" + " " * 30 + "\r", nl=False, err=True)


def _tell(done: Intake) -> None:
    from softshoe.repertoire.intake_report import DONE, needs, summary

    click.echo(f"{summary(done)} ({done.seconds:.1f} s)")
    for need in needs(done):
        click.echo(f"\n{len(need.files):4}  {need.heading}")
        if need.name in DONE:
            continue
        click.echo(f"      {need.todo}")
        for one in need.files[:SHOWN]:
            first = next((f.message for f in one.findings if f.kind == need.name), one.why)
            click.echo(f"      {one.path}" + (f": {first}" if first else ""))
        if len(need.files) > SHOWN:
            click.echo(f"      … and {len(need.files) - SHOWN} more")


def _page(done: Intake, folder: Path, report: Path) -> None:
    from softshoe.files import write_whole
    from softshoe.repertoire.intake_report import report_html

    write_whole(report, report_html(done, base=f"{folder.absolute().as_uri()}/"))
