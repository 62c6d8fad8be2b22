"""How long a sheet takes in each edition, the first time (it reads the faces) and after it, and how many pages it has.

Run: ``python benchmarks/sheet.py``. Wall times of this machine; compare only runs on the same quiet machine.
"""

from __future__ import annotations

import time
from importlib.resources import files
from statistics import median
from typing import TYPE_CHECKING

from softshoe.render.index import index_html
from softshoe.render.page import WORDS_PT
from softshoe.render.pdf import pages_of
from softshoe.render.report import report_html
from softshoe.render.sheet import sheet_html, sheet_pdf, sheet_text
from softshoe.wording.read import read

if TYPE_CHECKING:
    from collections.abc import Callable

TIMES = 15


def timed(make: Callable[[], object]) -> tuple[float, float]:
    """Return the first and the median of the later times, in milliseconds."""
    spent = []
    for _ in range(TIMES + 1):
        start = time.perf_counter()
        make()
        spent.append((time.perf_counter() - start) * 1000)
    return spent[0], median(spent[1:])


def main() -> None:
    from pathlib import Path

    dance = read(files("softshoe").joinpath("data/demo/sheet.txt").read_text("utf-8"))
    work: dict[str, Callable[[], object]] = {
        f"sheet_pdf {edition}": (lambda edition=edition: sheet_pdf(dance, edition=edition))  # type: ignore[misc]
        for edition in WORDS_PT
    }
    work |= {
        "sheet_html": lambda: sheet_html(dance),
        "sheet_text": lambda: sheet_text(dance),
        "report_html": lambda: report_html(dance),
        "index_html": lambda: index_html(dance, Path()),
    }
    print(f"{'':20} {'first ms':>9} {'later ms':>9} {'bytes':>9}  pages")
    for name, make in work.items():
        first, later = timed(make)
        made = make()
        size = len(made) if isinstance(made, bytes) else len(str(made).encode())
        pages = str(pages_of(made)) if isinstance(made, bytes) else ""
        print(f"{name:20} {first:9.1f} {later:9.1f} {size:9}  {pages}")


if __name__ == "__main__":
    main()
