"""``softshoe booklet``: many dances in one booklet, with contents and an index."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SHEETS = (".txt", ".docx", ".odt", ".html", ".htm", ".rtf", ".pdf", ".md")


@click.command(name="booklet")
@click.argument("sheets", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("-o", "--out", type=click.Path(path_type=Path), default=Path("booklet.pdf"), show_default=True,
              help="The file to write, or a folder for it.")  # fmt: skip
@click.option("--title", default="", help="What stands on the first page; else “Our dances”.")
@click.option("--maker", default="", help="Who made it.")
@click.option("--size", type=click.Choice(["normal", "large", "giant"]), default="normal", show_default=True,
              help="14, 18 or 24 point.")  # fmt: skip
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--binder", is_flag=True, help="Leave room for the holes of a binder; dances begin on right-hand pages.")
def command(sheets: tuple[Path, ...], out: Path, title: str, maker: str, size: str, paper: str, binder: bool) -> None:
    """Bind the dances of SHEETS (files, or folders of them) into one booklet, in the order given.

    It begins with contents and ends with an index by title, figure and kind of dance.
    """
    from softshoe.files import named, write_whole
    from softshoe.render.page import PAPER_WORDS, SIZE_WORDS
    from softshoe.render.sheet_booklet import booklet_pdf

    target = named(out, "booklet", ".pdf")
    dances, left_out = _read(_files(sheets))
    for failure in left_out:
        click.echo(failure, err=True)
    page = booklet_pdf(
        dances, title=title, maker=maker, edition=SIZE_WORDS[size], paper=PAPER_WORDS[paper], bound=binder
    )
    write_whole(target, page)
    click.echo(f"written: {target} ({len(dances)} dance{'' if len(dances) == 1 else 's'})")
    if left_out:
        raise SystemExit(1)


def _files(named: tuple[Path, ...]) -> list[Path]:
    """Every sheet named, and those of every folder named, in the order of their names."""
    found: list[Path] = []
    for path in named:
        if path.is_dir():
            found += sorted(p for p in path.iterdir() if p.suffix.casefold() in SHEETS)
        else:
            found.append(path)
    return found


def _read(paths: list[Path]) -> tuple[list[Dance], list[str]]:
    """The dances, and in words which sheets could not be read: they are left out, the rest is bound."""
    from softshoe.errors import UnreadableError
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dances, failures = [], []
    for path in paths:
        try:
            dances.append(read(sheet_text(path)))
        except UnreadableError as wrong:
            failures.append(f"left out of the booklet: {path}\n{wrong}")
    return dances, failures
