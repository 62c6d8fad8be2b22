"""``softshoe adapt``: a version for other abilities, with what changed and why."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from softshoe.adapt.version import KINDS
from softshoe.cli.show import print_json

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind


@click.command(name="adapt")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--to", "kind", required=True, type=click.Choice(KINDS), help="The version wanted.")
@click.option("--json", "as_json", is_flag=True, help="Print the version's dance events as JSON.")
def command(sheet: Path, kind: str, as_json: bool) -> None:
    """Make the version of SHEET for other abilities: the same counts, and every change with its reason."""
    from softshoe.adapt.adapt import adapt
    from softshoe.dance.document import dance_json
    from softshoe.render.sheet import sheet_text as sheet_words
    from softshoe.render.sheet_notes import change_rows
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dance = read(sheet_text(sheet))
    version = adapt(dance, cast("Kind", kind))
    if as_json:
        print_json(dance_json(version.dance))
        return
    click.echo(sheet_words(version.dance))
    rows = change_rows(dance, version)
    click.echo(f"\n{len(rows)} count{' is' if len(rows) == 1 else 's are'} danced otherwise:")
    for at, was, now, why in rows:
        click.echo(f"  count {at}: {now}\n    in place of: {was}\n    {why}")
    click.echo("\nWhoever dances with a condition asks her own clinician first; local rules come before this sheet.")
