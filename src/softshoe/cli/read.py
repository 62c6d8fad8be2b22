"""``softshoe read``: what a sheet says, action by action, and every finding."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from softshoe.cli.show import print_findings, print_json, worst_code

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance


@click.command(name="read")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the dance events as JSON.")
@click.pass_context
def command(ctx: click.Context, sheet: Path, as_json: bool) -> None:
    """Say what SHEET says, action by action, and what is wrong with it.

    Ends with 0 when the dance is sound, 1 when errors were found, 2 when the sheet can't be read.
    """
    from softshoe.dance.document import dance_json
    from softshoe.errors import WordingError
    from softshoe.wording.read import empty, read
    from softshoe.wording.source import sheet_text

    text = sheet_text(sheet)
    try:
        dance = read(text)
    except WordingError:
        if as_json:
            print_json(dance_json(empty(text)))
        raise
    if as_json:
        print_json(dance_json(dance))
    else:
        _tell(dance, sheet, text)
    ctx.exit(worst_code(dance.findings))


def _tell(dance: Dance, sheet: Path, text: str) -> None:
    from softshoe.render.sheet import sheet_text as sheet_words

    click.echo(sheet_words(dance))
    for number, words in dance.kept:
        click.echo(f"kept as written, line {number}: {words}")
    print_findings(dance.findings, where=sheet.name, lines=text.splitlines())
    errors = sum(f.severity == "error" for f in dance.findings)
    click.echo(
        f"\n{len(dance.actions)} actions in {dance.counts} counts; " + (f"{errors} to mend." if errors else "sound.")
    )
