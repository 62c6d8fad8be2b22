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
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    version = adapt(read(sheet_text(sheet)), cast("Kind", kind))
    if as_json:
        print_json(dance_json(version.dance))
        return
    click.echo(sheet_words(version.dance))
    click.echo(f"\n{len(version.changes)} changes:")
    for change in version.changes:
        click.echo(f"  count {change.at.label}: {change.was} → {change.now} ({change.reason})")
    click.echo("\nWhoever dances with a condition asks her own clinician first; local rules come before this sheet.")
