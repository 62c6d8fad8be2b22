"""The words of documents that a word processor, a browser or a printer's file holds: docx, odt, html, rtf, pdf.

What matters of the form is kept as text: a paragraph is a line, a table's row is a line with ``|`` between its cells, a
numbered list has its numbers and a bulleted one its dashes. Every file is taken for hostile: sizes are looked at before
anything is unpacked, and nothing outside the file is ever fetched.
"""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from softshoe.errors import UnreadableError

if TYPE_CHECKING:
    from collections.abc import Callable

MOST_UNPACKED = 30_000_000
MOST_PAGES = 60
MOST_WORDS = 2_000_000
MEND = "save the sheet as plain text, and give that file"


def document_text(kind: str, data: bytes, where: str) -> str:
    """Return the words of a document of this kind, "docx", "odt", "html", "rtf" or "pdf".

    Raises UnreadableError for a damaged file, one locked with a password, one that unpacks to far too much, and a scan.
    """
    try:
        text = READERS[kind](data)
    except _TooMuchError as wrong:
        raise UnreadableError(where, "the file is too large", str(wrong), MEND) from wrong
    except _LockedError as wrong:
        raise UnreadableError(
            where, "the file is locked", str(wrong), f"open it with its password and {MEND}"
        ) from wrong
    except Exception as wrong:  # a stranger's damaged file can raise anything in the libraries that unpack it
        raise UnreadableError(where, f"this {NAMES[kind]} can't be opened", "it is damaged or cut short",
                              f"open it in the program that made it and {MEND}") from wrong  # fmt: skip
    if not text.strip():
        why = "its pages are pictures: a scan holds no words" if kind == "pdf" else "it holds no words"
        raise UnreadableError(where, "no words were found", why, "type the steps as plain text, and give that file")
    return text[:MOST_WORDS]


class _TooMuchError(Exception):
    """The file unpacks to more than a sheet can be."""


class _LockedError(Exception):
    """The file wants a password."""


def packed_kind(data: bytes) -> str | None:
    """Return "docx" or "odt" for a packed document of that kind, None for any other packed file."""
    try:
        names = set(zipfile.ZipFile(io.BytesIO(data)).namelist())
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        return None
    if "word/document.xml" in names:
        return "docx"
    return "odt" if "content.xml" in names and "mimetype" in names else None


def _part(pack: zipfile.ZipFile, name: str) -> ElementTree.Element | None:
    """Return one XML part of a packed document, None where it is not there."""
    if name not in pack.namelist():
        return None
    if pack.getinfo(name).flag_bits & 1:
        raise _LockedError("it is packed with a password")
    with pack.open(name) as file:
        data = file.read(MOST_UNPACKED + 1)
    if len(data) > MOST_UNPACKED:
        raise _TooMuchError("it unpacks to over 30 million bytes; a sheet is a page or two")
    if b"<!DOCTYPE" in data[:4096] or b"<!ENTITY" in data:
        raise ValueError("a document's part declares entities")
    return ElementTree.fromstring(data)


def _docx(data: bytes) -> str:
    from softshoe.wording.document_word import paragraphs_of_docx

    pack = zipfile.ZipFile(io.BytesIO(data))
    body = _part(pack, "word/document.xml")
    if body is None:
        raise ValueError("no document inside")
    return "\n".join(paragraphs_of_docx(body, _part(pack, "word/numbering.xml")))


def _odt(data: bytes) -> str:
    from softshoe.wording.document_open import paragraphs_of_odt

    pack = zipfile.ZipFile(io.BytesIO(data))
    manifest = _part(pack, "META-INF/manifest.xml")
    if manifest is not None and any("encryption-data" in node.tag for node in manifest.iter()):
        raise _LockedError("it is locked with a password")
    content = _part(pack, "content.xml")
    if content is None:
        raise ValueError("no document inside")
    return "\n".join(paragraphs_of_odt(content, _part(pack, "styles.xml")))


def _html(data: bytes) -> str:
    from softshoe.wording.document_page import words_of_page

    return words_of_page(data.decode("utf-8", errors="replace"))


def _rtf(data: bytes) -> str:
    from striprtf.striprtf import rtf_to_text

    text: str = rtf_to_text(  # type: ignore[no-untyped-call]
        data.decode("latin-1"), encoding="cp1252", errors="replace"
    )
    return "\n".join(line.strip("|") for line in text.split("\n"))


def _pdf(data: bytes) -> str:
    import logging

    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        reader = PdfReader(io.BytesIO(data))
        if reader.is_encrypted and not reader.decrypt(""):
            raise _LockedError("it can only be opened with a password")
        if len(reader.pages) > MOST_PAGES:
            raise _TooMuchError(f"it has {len(reader.pages)} pages; a sheet is a page or two")
        pages = [page.extract_text(extraction_mode="layout") for page in reader.pages]
    except PyPdfError as wrong:
        raise ValueError(str(wrong)) from wrong
    return "\n".join(_moved_left(page) for page in pages)


def _moved_left(page: str) -> str:
    """Take away the margin that all lines share, and the empty lines that only kept a distance."""
    lines = [line.rstrip() for line in page.split("\n")]
    margin = min((len(line) - len(line.lstrip()) for line in lines if line), default=0)
    kept = [line[margin:] for line in lines]
    return "\n".join(line for line, before in zip(kept, ["x", *kept], strict=False) if line or before)


READERS: dict[str, Callable[[bytes], str]] = {"docx": _docx, "odt": _odt, "html": _html, "rtf": _rtf, "pdf": _pdf}
NAMES = {
    "docx": "word processor's document", "odt": "word processor's document", "html": "web page",
    "rtf": "rich text document", "pdf": "PDF",
}  # fmt: skip
