"""``softshoe write``: the same dance in another wording."""

from __future__ import annotations

from pathlib import Path

import click

from softshoe.wording.tongue import LANGUAGES
from softshoe.wording.write_book import STYLES


@click.command(name="write")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--style", type=click.Choice(tuple(STYLES)), default="short", show_default=True, help="How to word it.")
@click.option(
    "--language", type=click.Choice(tuple(LANGUAGES)), default="en", show_default=True, help="Which language to write."
)
@click.option("-o", "--out", type=click.Path(path_type=Path), help="Write to this file instead of the screen.")
def command(sheet: Path, style: str, language: str, out: Path | None) -> None:
    """Give the dance of SHEET back in another wording, or in another language (de, fr, es)."""
    from softshoe.files import write_whole
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text
    from softshoe.wording.write import write

    words = write(read(sheet_text(sheet)), style=style, language=language)
    if out is None:
        click.echo(words)
    else:
        write_whole(out, words)
        click.echo(f"written: {out}")
