"""``softshoe keep``: dances go into the repertoire."""

from __future__ import annotations

from pathlib import Path

import click


@click.command(name="keep")
@click.argument("sheets", nargs=-1, required=True, type=click.Path(path_type=Path))
def command(sheets: tuple[Path, ...]) -> None:
    """Keep the dances of SHEETS in the repertoire, with their words as written."""
    from softshoe.home import data_home
    from softshoe.repertoire.store import Repertoire
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    repertoire = Repertoire.at(data_home())
    for sheet in sheets:
        words = sheet_text(sheet)
        kept = repertoire.keep(words, read(words))
        errors = sum(f.severity == "error" for f in kept.dance.findings)
        click.echo(f"kept: {kept.dance.title} ({kept.dance.counts} counts)" + (f", {errors} to mend" if errors else ""))
