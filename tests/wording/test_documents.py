"""Sheets that come as documents give the words a person sees in them; broken ones are told so."""

from __future__ import annotations

import io
import zipfile
from contextlib import suppress
from typing import TYPE_CHECKING

import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st

from softshoe.dance.document import dance_json
from softshoe.errors import UnreadableError
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

if TYPE_CHECKING:
    from pathlib import Path

PLAIN = """Tin Kettle
8 counts, 1 wall, beginner, 100 bpm, intro 16
1-2 | Step R to the right, touch L beside R
3-4 | Step L to the left, touch R beside L
5-6 | Walk forward R, L
7-8 | Walk back R, close L"""
ROWS = [line.split(" | ") for line in PLAIN.split("\n")[2:]]
W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'
ODF = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"'
)
NUMBERING = (
    f"<w:numbering {W}><w:abstractNum w:abstractNumId='7'><w:lvl w:ilvl='0'><w:numFmt w:val='decimal'/></w:lvl>"
    "</w:abstractNum><w:num w:numId='3'><w:abstractNumId w:val='7'/></w:num></w:numbering>"
)


def packed(**parts: str | bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as pack:
        for name, text in parts.items():
            pack.writestr(name, text)
    return out.getvalue()


def docx(body: str, numbering: str = NUMBERING) -> bytes:
    document = f"<w:document {W}><w:body>{body}</w:body></w:document>"
    return packed(**{"word/document.xml": document, "word/numbering.xml": numbering})


def w_p(words: str, *, numbered: bool = False) -> str:
    number = "<w:pPr><w:numPr><w:ilvl w:val='0'/><w:numId w:val='3'/></w:numPr></w:pPr>" if numbered else ""
    half = len(words) // 2  # a word processor cuts a line into runs wherever it likes
    return f"<w:p>{number}<w:r><w:t>{words[:half]}</w:t></w:r><w:r><w:t>{words[half:]}</w:t></w:r></w:p>"


def w_table(rows: list[list[str]]) -> str:
    cells = "".join("<w:tr>" + "".join(f"<w:tc>{w_p(cell)}</w:tc>" for cell in row) + "</w:tr>" for row in rows)
    return f"<w:tbl>{cells}</w:tbl>"


def odt(body: str) -> bytes:
    body = f"<office:body><office:text>{body}</office:text></office:body>"
    content = f"<office:document-content {ODF}>{body}</office:document-content>"
    return packed(mimetype="application/vnd.oasis.opendocument.text", **{"content.xml": content})


def pdf(markup: str) -> bytes:
    return typst.compile(markup.encode(), format="pdf")


HEAD = PLAIN.split("\n")[:2]
DOCX = docx("".join(map(w_p, HEAD)) + w_table(ROWS))
ODT = odt(
    "".join(f"<text:p>{line}</text:p>" for line in HEAD)
    + "<table:table>"
    + "".join(
        "<table:table-row>"
        + "".join(f"<table:table-cell><text:p>{c}</text:p></table:table-cell>" for c in r)
        + "</table:table-row>"
        for r in ROWS
    )
    + "</table:table>"
)
HTML = (
    "<!DOCTYPE html><html><head><title>no words</title><style>p {}</style></head><body>"
    + "".join(f"<p>{line}</p>" for line in HEAD)
    + "<table>"
    + "".join("<tr>" + "".join(f"<td>{c}</td>" for c in r) + "</tr>" for r in ROWS)
    + "</table><script>alert('1-8 hop')</script></body></html>"
).encode()
RTF = ("{\\rtf1\\ansi " + "\\par ".join([*HEAD, *("\\tab ".join(r) for r in ROWS)]) + "}").encode()
PDF = pdf(
    "\n\n".join(HEAD) + "\n#table(columns: 2, stroke: none, " + ", ".join(f"[{c}]" for r in ROWS for c in r) + ")"
)


@pytest.mark.parametrize(
    ("name", "data"), [("a.docx", DOCX), ("a.odt", ODT), ("a.html", HTML), ("a.rtf", RTF), ("a.pdf", PDF)]
)
def test_the_same_sheet_in_any_document_is_the_same_dance(tmp_path: Path, name: str, data: bytes) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    told, plain = dance_json(read(sheet_text(path))), dance_json(read(PLAIN))
    lines = ("line",)
    assert [{k: v for k, v in e.items() if k not in lines} for e in told["events"]] == [
        {k: v for k, v in e.items() if k not in lines} for e in plain["events"]
    ]
    assert [told[k] for k in ("title", "counts", "walls", "level", "tempo_bpm", "intro_counts")] == [
        plain[k] for k in ("title", "counts", "walls", "level", "tempo_bpm", "intro_counts")
    ]


def text_of(tmp_path: Path, data: bytes, name: str = "sheet.docx") -> str:
    (tmp_path / name).write_bytes(data)
    return sheet_text(tmp_path / name)


def test_a_numbered_list_keeps_its_numbers(tmp_path: Path) -> None:
    body = "".join(w_p(words, numbered=True) for words in ("Step R forward", "Touch L"))
    assert text_of(tmp_path, docx(body)) == "1. Step R forward\n2. Touch L"


def test_cells_of_several_lines_are_read_across(tmp_path: Path) -> None:
    row = f"<w:tr><w:tc>{w_p('1-2')}{w_p('3-4')}</w:tc><w:tc>{w_p('Walk R, L')}{w_p('Rock R, recover')}</w:tc></w:tr>"
    assert text_of(tmp_path, docx(f"<w:tbl>{row}</w:tbl>")) == "1-2 | Walk R, L\n3-4 | Rock R, recover"


def test_what_was_taken_out_in_a_review_is_not_read(tmp_path: Path) -> None:
    gone = "<w:p><w:del><w:r><w:delText>1 Hop R</w:delText></w:r></w:del><w:r><w:t>1 Step R</w:t></w:r></w:p>"
    assert text_of(tmp_path, docx(gone)) == "1 Step R"


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("bomb.docx", packed(**{"word/document.xml": b"<a>" + b" " * 40_000_000}), "too large"),
        (
            "entities.docx",
            packed(**{"word/document.xml": '<!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>'}),
            "can't be opened",
        ),
        ("cut.docx", DOCX[: len(DOCX) // 2], "this is no text"),
        ("other.zip", packed(**{"song.txt": "la"}), "this is no text"),
        ("empty.docx", docx(""), "no words were found"),
        ("deep.docx", docx("<w:sdt>" * 500 + "</w:sdt>" * 500), "can't be opened"),
        ("cut.pdf", PDF[: len(PDF) // 3], "PDF can't be opened"),
        ("scan.pdf", pdf("#rect(width: 5cm, height: 5cm, fill: red)"), "no words were found"),
        ("thick.pdf", pdf("#for n in range(70) [page #pagebreak()]"), "too large"),
        ("empty.html", b"<html><body></body></html>", "no words were found"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_hostile_or_broken_document_is_told_in_plain_words(
    tmp_path: Path, name: str, data: bytes, words: str
) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(UnreadableError) as caught:
        sheet_text(tmp_path / name)
    assert words in caught.value.what
    assert caught.value.mend


@given(st.sampled_from([DOCX, ODT, RTF, PDF, HTML]), st.data())
def test_a_document_with_damaged_bytes_gives_words_or_a_plain_error(
    tmp_path_factory: pytest.TempPathFactory, whole: bytes, data: st.DataObject
) -> None:
    damaged = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 12))):
        damaged[data.draw(st.integers(0, len(damaged) - 1))] = data.draw(st.integers(0, 255))
    path = tmp_path_factory.mktemp("damaged") / "sheet"
    path.write_bytes(damaged)
    with suppress(UnreadableError):
        assert isinstance(sheet_text(path), str)
