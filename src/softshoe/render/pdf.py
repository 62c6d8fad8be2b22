"""Print: typst sets a page, tagged for screen readers to PDF/UA-1, with no face but our own.

Words reach typst as JSON and are never pasted into its code. A warning is a failure: a face that is missing, a letter
that can't be set.
"""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Sequence

    import typst

INSTEAD = "?"
OF_PARTS = ("sheet.typ", "booklet.typ")


@cache
def _fonts() -> typst.Fonts:
    import typst

    folder = Path(str(files("softshoe").joinpath("data/fonts")))
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])


@cache
def template(name: str) -> bytes:
    """Return a page's template, as bytes for typst; sheets and booklets begin with the parts they share."""
    pages = files("softshoe").joinpath("data/pages")
    parts = pages.joinpath("sheet_parts.typ").read_bytes() if name in OF_PARTS else b""
    return parts + pages.joinpath(name).read_bytes()


def pdf(name: str, values: dict[str, Any]) -> bytes:
    """Set the page ``name`` with these values and return the PDF; raises OutputError when typst finds any fault."""
    import typst

    given = {"sheet": json.dumps(printable(values), ensure_ascii=False)}
    try:
        data, warnings = typst.compile_with_warnings(
            template(name), sys_inputs=given, pdf_standards=["ua-1"], font_paths=_fonts()
        )
    except typst.TypstError as fault:
        raise _failed(str(fault)) from fault
    if warnings:
        raise _failed("; ".join(warning.message for warning in warnings))
    if not isinstance(data, bytes):
        raise _failed("typst left no page")
    return data


def fewest_pages(name: str, choices: Sequence[dict[str, Any]]) -> bytes:
    """Set the page with the values that take the fewest pages, the first of them where several do."""
    made = []
    for values in choices:
        made.append(pdf(name, values))
        if pages_of(made[-1]) == 1:
            break
    return min(made, key=pages_of)


def pages_of(data: bytes) -> int:
    """Return how many pages a PDF of ours has."""
    return max((int(found) for found in re.findall(rb"/Type\s*/Pages\b[^>]*?/Count (\d+)", data)), default=1)


def _failed(why: str) -> OutputError:
    return OutputError("the printed sheet", "the page could not be set", why,
                       "please tell the makers of this program, with the sheet; sheet.html says the same")  # fmt: skip


@cache
def _letters() -> frozenset[int]:
    """The letters our faces hold, from the list beside them."""
    held: set[int] = set()
    for row in files("softshoe").joinpath("data/fonts/letters.txt").read_text("utf-8").splitlines():
        if row and not row.startswith("#"):
            first, last = row.split("-")
            held.update(range(int(first, 16), int(last, 16) + 1))
    return frozenset(held)


def printable(value: Any) -> Any:
    """Return the value with every letter that our faces lack replaced: by its plain letter, else by "?".

    >>> printable("café ☺")
    'café ?'
    """
    if isinstance(value, dict):
        return {key: words if key == "svg" else printable(words) for key, words in value.items()}
    if isinstance(value, (list, tuple)):
        return [printable(item) for item in value]
    return _printable(value) if isinstance(value, str) else value


def _printable(words: str) -> str:
    from unicodedata import category, normalize

    out = []
    for letter in normalize("NFC", words):
        if ord(letter) in _letters():
            out.append(letter)
        elif category(letter) in ("Cc", "Zs", "Zl", "Zp"):
            out.append(" ")
        elif category(letter) not in ("Cf", "Mn", "Me"):
            plain = "".join(c for c in normalize("NFKD", letter) if ord(c) in _letters())
            out.append(plain or INSTEAD)
    return "".join(out)
