"""The step sheet, printed, as a page for the browser, and as plain text.

Three editions: "normal" 14 pt, "large" 18 pt, "largest" 24 pt. Layout, signs and words are told in docs/sheet.md.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from softshoe.render.look import palette
from softshoe.render.page import BEADS_A_ROW, SMALLEST_PT, WORDS_PT, margins
from softshoe.render.sheet_content import Around, sheet_page
from softshoe.render.sheet_signs import PLAN

if TYPE_CHECKING:
    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.render.page import Edition, Paper, SheetPage, SheetSection
    from softshoe.render.sheet_signs import Picture

UNIT_PT = 0.82  # one unit of the signs at 14 pt
LEADING = {"normal": 0.55, "large": 0.68, "largest": 0.68}
ROW_GAP = {"normal": 0.16, "large": 0.3, "largest": 0.3}
# Set closer where that saves a page.
CLOSER = {
    "normal": {"leading": 0.48, "row_gap": 0.08, "air": 0.75},
    "large": {"leading": 0.58, "row_gap": 0.14, "air": 0.7},
    "largest": {"leading": 0.58, "row_gap": 0.14, "air": 0.7},
}
THREAD_PT = {"normal": 1.2, "large": 1.5, "largest": 2.0}
RAIL_UNIT_PT = 0.98
RAIL_ALONE_UNIT_PT, RAIL_ALONE_PT = 1.5, 690.0  # the most in giant print, and the height of a page


def sheet_pdf(
    dance: Dance, run: Run | None = None, version: Version | None = None, *,
    edition: Edition = "normal", paper: Paper = "a4", bound: bool = False, around: Around | None = None,
) -> bytes:  # fmt: skip
    """Return the sheet as a PDF tagged to PDF/UA-1; ``bound`` leaves room for the holes of a binder, left and right in
    turn. Raises OutputError when it can't be set."""
    from softshoe.render.pdf import pages_of, pdf

    laid = replace(around or Around(), beads_a_row=BEADS_A_ROW[edition])
    values = sheet_values(sheet_page(dance, run, version, laid), edition=edition, paper=paper, bound=bound)
    airy = pdf("sheet.typ", values)
    if pages_of(airy) == 1:
        return airy
    close = pdf("sheet.typ", values | CLOSER[edition])
    return close if pages_of(close) < pages_of(airy) else airy


def sheet_values(page: SheetPage, *, edition: Edition, paper: Paper, bound: bool = False) -> dict[str, Any]:
    """Return what the printed page is set from."""
    size = WORDS_PT[edition]
    return {
        "title": page.title, "under": page.under, "head": list(page.head), "author": page.maker, "foot": page.foot,
        "again": page.again, "paper": paper, "margin": margins(bound), "size_pt": size,
        "small_pt": max(SMALLEST_PT, size * 0.84),
        "title_pt": size * 2, "unit_pt": UNIT_PT * size / 14, "rail_unit_pt": _rail_unit_pt(page, edition),
        "air": 1.0, "leading": LEADING[edition], "row_gap": ROW_GAP[edition], "colour": palette(),
        "thread": THREAD_PT[edition], "beads_width": _widest(page.sections),
        "extra_beads_width": _widest(page.extras), "plan_width": PLAN, "turning": _turning(page),
        "sections": [_section(s) for s in page.sections], "extras": [_section(s) for s in page.extras],
        "notes": [{"name": n.name, "words": list(n.words), "care": n.care} for n in page.notes],
        "key": [{"picture": _picture(p) | {"alt": words}, "words": words} for p, words in page.key],
        "rail": _picture(page.rail) if page.rail else None,
    }  # fmt: skip


def _rail_unit_pt(page: SheetPage, edition: Edition) -> float:
    """The rail's size: in giant print it has a page of its own and fills it."""
    if edition != "largest" or page.rail is None:
        return RAIL_UNIT_PT
    return min(RAIL_ALONE_UNIT_PT, RAIL_ALONE_PT / page.rail.height)


def _turning(page: SheetPage) -> bool:
    return any(line.plan for s in (*page.sections, *page.extras) for line in s.lines)


def _widest(sections: tuple[SheetSection, ...]) -> float:
    return max((line.beads.width for s in sections for line in s.lines), default=0.0)


def _picture(picture: Picture) -> dict[str, Any]:
    return {"svg": picture.svg, "alt": picture.alt, "width": picture.width, "height": picture.height}


def _section(section: SheetSection) -> dict[str, Any]:
    return {
        "name": section.name,
        "number": section.number,
        "counts": section.counts,
        "before": section.before,
        "picture": _picture(section.picture) if section.picture else None,
        "lines": [
            {
                "beads": _picture(line.beads), "feet": line.feet, "arms": line.arms, "after": line.after,
                "plan": _picture(line.plan) if line.plan else None,
            }
            for line in section.lines
        ],
    }  # fmt: skip


def sheet_html(
    dance: Dance, run: Run | None = None, version: Version | None = None, *, around: Around | None = None
) -> str:
    """Return the sheet as a page for the browser: one file, without scripts."""
    from softshoe.render.html import page_html

    page = sheet_page(dance, run, version, around or Around())
    return page_html("sheet.html", {"page": page, "turning": _turning(page)})


def sheet_text(dance: Dance, version: Version | None = None) -> str:
    """Return the sheet as plain text, which this program reads back."""
    from softshoe.render.sheet_text import dance_text

    return dance_text(version.dance if version else dance)
