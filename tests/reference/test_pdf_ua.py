"""ISO 14289-1 (PDF/UA-1) as the open checker page-validation tests it (104 rules a machine can test), and WCAG 2.2.

The checker misses a table whose header cells became plain cells, so the structure is walked once more with pikepdf.
That the check can fail is shown by faults planted in a right file. A screen reader was not to be had.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import page
import pikepdf
import pytest

from render.sheet_dances import SEATED, STANDING, WALTZ, hostile, run_of, twice
from softshoe.adapt.adapt import adapt
from softshoe.render.html import style
from softshoe.render.look import contrast, palette
from softshoe.render.sheet import sheet_pdf
from softshoe.render.sheet_booklet import booklet_pdf
from softshoe.render.sheet_floor import floor_pdf
from softshoe.render.sheet_leader import leader_pdf
from softshoe.render.sheet_pictures import pictures_pdf

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

CASES = {
    "seated": lambda: sheet_pdf(SEATED),
    "standing, with its song": lambda: sheet_pdf(STANDING, run_of(STANDING)),
    "large": lambda: sheet_pdf(STANDING, run_of(STANDING), edition="large"),
    "largest": lambda: sheet_pdf(STANDING, run_of(STANDING), edition="largest"),
    "waltz on letter paper": lambda: sheet_pdf(WALTZ, run_of(WALTZ), paper="us-letter"),
    "a version": lambda: sheet_pdf(STANDING, run_of(STANDING), adapt(STANDING, "seated")),
    "bound": lambda: sheet_pdf(STANDING, run_of(STANDING), bound=True),
    "the floor": lambda: floor_pdf(STANDING),
    "the floor from a chair": lambda: floor_pdf(SEATED, under="Seated"),
    "the floor in giant print": lambda: floor_pdf(SEATED, edition="largest"),
    "pictures behind a chair": lambda: pictures_pdf(adapt(WALTZ, "supported").dance, support="chair back"),
    "giant pictures": lambda: pictures_pdf(WALTZ, edition="largest", view="side", under="A version"),
    "large leader": lambda: leader_pdf(WALTZ, edition="large", bound=True),
    "a booklet": lambda: booklet_pdf([WALTZ, SEATED], title="Tuesday", bound=True),
    "hostile words": lambda: sheet_pdf(hostile(twice(STANDING)), run_of(STANDING)),
}


def elements(node: object) -> Iterator[pikepdf.Dictionary]:
    """Every structure element below a node, in reading order."""
    if isinstance(node, pikepdf.Array):
        for kid in node:
            yield from elements(kid)
    elif isinstance(node, pikepdf.Dictionary):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from elements(node.K)


def faults(path: Path) -> list[str]:
    """Return what the checker and the walk find wrong."""
    found = [
        f"{f.rule_id}: {f.message}"
        for f in page.validate_pdf(str(path), profile=page.ValidationProfile.PDF_UA_1).failures
    ]
    with pikepdf.open(path) as pdf:
        if "/StructTreeRoot" in pdf.Root:
            for el in elements(pdf.Root.StructTreeRoot.K):
                if el.S == "/Table" and not any(cell.S == "/TH" for cell in elements(el.K)):
                    found.append("a table has no header cell")
                if el.S == "/Figure" and not str(el.get("/Alt", "")).strip():
                    found.append("a figure has no words")
    return found


@pytest.mark.parametrize("name", CASES)
def test_a_printed_sheet_breaks_no_rule_a_machine_can_test(name: str, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(CASES[name]())
    assert faults(path) == []


def test_headings_lead_from_the_title_to_each_section_and_every_sign_has_words() -> None:
    with pikepdf.open(io.BytesIO(sheet_pdf(STANDING, run_of(STANDING)))) as pdf:
        found = list(elements(pdf.Root.StructTreeRoot.K))
        kinds = [str(el.S) for el in found if str(el.S) in ("/H1", "/H2", "/H3")]
        alts = [str(el.Alt) for el in found if el.S == "/Figure"]
        assert kinds[0] == "/H1"
        assert kinds.count("/H1") == 1
        assert kinds.count("/H2") >= len(STANDING.sections)
        assert str(pdf.docinfo["/Title"]) == STANDING.title
        assert str(pdf.Root.Lang).startswith("en")
    assert any(alt.startswith("The song.") for alt in alts)
    assert any(alt == "Counts 1 left, and right, 2 left" for alt in alts)
    assert any(alt.startswith("Plan of the room: quarter turn right") for alt in alts)


def test_all_faces_are_ours_and_inside_the_file() -> None:
    with pikepdf.open(io.BytesIO(sheet_pdf(hostile(SEATED)))) as pdf:
        fonts = [
            obj for obj in pdf.objects if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/FontDescriptor"
        ]
        names = {str(font.FontName).split("+")[-1] for font in fonts}
        assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts)
    assert {name.split("-")[0] for name in names} <= {"AtkinsonHyperlegible", "B612", "NotoSans"}


def _no_alt(pdf: pikepdf.Pdf) -> None:
    del next(el for el in elements(pdf.Root.StructTreeRoot.K) if el.S == "/Figure")["/Alt"]


def _no_language(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Lang"]


def _skipped_heading(pdf: pikepdf.Pdf) -> None:
    next(el for el in elements(pdf.Root.StructTreeRoot.K) if el.S == "/H2").S = pikepdf.Name("/H4")


def _not_marked(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/MarkInfo"]


def _title_hidden(pdf: pikepdf.Pdf) -> None:
    pdf.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=False)


def _no_tree(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/StructTreeRoot"]


def _no_unicode(pdf: pikepdf.Pdf) -> None:
    for obj in pdf.objects:
        if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/Font" and "/ToUnicode" in obj:
            del obj["/ToUnicode"]


PLANTED: tuple[Callable[[pikepdf.Pdf], None], ...] = (
    _no_alt, _no_language, _skipped_heading, _not_marked, _title_hidden, _no_tree, _no_unicode,
)  # fmt: skip


@pytest.mark.parametrize("plant", PLANTED, ids=lambda p: p.__name__.strip("_"))
def test_a_planted_fault_is_found(plant: Callable[[pikepdf.Pdf], None], tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    with pikepdf.open(io.BytesIO(sheet_pdf(STANDING, run_of(STANDING)))) as pdf:
        plant(pdf)
        pdf.save(path)
    assert faults(path)


def test_words_on_paper_and_screen_have_a_contrast_of_seven_and_signs_of_three() -> None:
    # WCAG 2.2, 1.4.6 enhanced contrast and 1.4.11 non-text contrast.
    colour = palette()
    for name in ("ink", "accent", "right"):
        assert contrast(colour[name], colour["paper"]) >= 7.0
    for name in ("left", "right", "soft", "accent"):
        assert contrast(colour[name], colour["paper"]) >= 3.0
    assert "color:var(--soft)" not in style()
    assert "color:var(--left)" not in style()
