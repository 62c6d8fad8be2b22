"""``softshoe keep``: dances and songs go into the repertoire."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.repertoire.dances import Put
    from softshoe.repertoire.store import Repertoire


@click.command(name="keep")
@click.argument("sheets", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--title", default="", help="What the dance is called, where the sheet names no title.")
def command(sheets: tuple[Path, ...], title: str) -> None:
    """Keep the dances of SHEETS in the repertoire, with their words as written.

    A sheet whose title is kept already becomes a new text of that dance; what changed is told in counts.
    """
    from softshoe.cli.kept_in import repertoire
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    kept = repertoire()
    for sheet in sheets:
        words = sheet_text(sheet)
        dance = read(words)
        put = kept.keep(words, dance, title=title or sheet.stem, source=sheet.name)
        errors = sum(f.severity == "error" for f in dance.findings)
        name = f"{dance.title or title or sheet.stem} ({dance.counts} counts)"
        click.echo(f"{HOW[put.how].format(n=put.number)}: {name}" + (f", {errors} to mend" if errors else ""))
        _changes(kept, put)


HOW = {
    "new dance": "kept", "new text": "kept as text {n}", "known": "already kept (text {n})",
    "side by side": "kept as text {n}, beside another",
}  # fmt: skip


def _changes(kept: Repertoire, put: Put) -> None:
    """Tell what changed from the text before."""
    from softshoe.repertoire.difference import differences

    if put.how not in ("new text", "side by side"):
        return
    dance = kept.dance(put.dance)
    by_uid = {text.uid: text for text in dance.texts}
    new = by_uid[put.text]
    for base in new.based_on:
        found = differences(by_uid[base].dance, new.dance)
        for one in found:
            click.echo(f"    {one.words}")
        if not found:
            click.echo("    danced as before; the words alone changed")
