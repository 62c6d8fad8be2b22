"""The picture of a run as a file: SVG, PNG or PDF, each with all that it shows in words for those who can't see it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import OutputError
from softshoe.render.fit_picture import ROWS_A_PAGE, fit_pages
from softshoe.render.fit_rows import fit_words
from softshoe.render.song_file import drawn

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.render.page import Paper

KINDS = (".svg", ".png", ".pdf")


def draw_fit(dance: Dance, run: Run, song: SongMap, name: str, picture: Path) -> None:
    """Draw a run into a file; its ending, .svg, .png or .pdf, says which kind.

    Raises OutputError when the file can't be written or its ending names no kind.
    """
    from softshoe.files import write_whole

    kind = picture.suffix.casefold()
    if kind not in KINDS:
        raise OutputError(str(picture), "the picture can't be drawn", f"“{kind or 'no ending'}” is no kind of picture",
                          "let the name end in .svg, .png or .pdf")  # fmt: skip
    write_whole(picture, fit_picture(dance, run, song, name, kind=kind))


def fit_picture(dance: Dance, run: Run, song: SongMap, name: str, *, kind: str, paper: Paper = "a4") -> bytes:
    """Return the picture of a run as ".svg", ".png" or ".pdf"."""
    pages = fit_pages(dance, run, song, name, rows_a_page=ROWS_A_PAGE if kind == ".pdf" else None)
    return drawn(pages, f"{dance.title} on {name}", fit_words(dance, run, song, name), kind=kind, paper=paper)
