"""The words of a file, whatever wrote it: plain text in any encoding with any line ends, or a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import UnreadableError
from softshoe.wording.documents import MEND, document_text, packed_kind

if TYPE_CHECKING:
    from pathlib import Path

MOST_BYTES = 20_000_000
MARKS = (
    (b"\x89PNG", "a picture (PNG)"), (b"\xff\xd8\xff", "a picture (JPEG)"), (b"GIF8",
    "a picture (GIF)"),
    (b"PK\x03\x04", "a packed file that is no word processor's document"),
    (b"\xd0\xcf\x11\xe0", "an old word processor's document"), (b"RIFF", "sound or film"), (b"ID3", "a song (MP3)"),
    (b"OggS", "sound (Ogg)"), (b"fLaC", "sound (FLAC)"), (b"\x1f\x8b", "a packed file (gzip)"), (b"BM",
    "a picture (BMP)"),
    (b"II*\x00", "a picture (TIFF)"), (b"MM\x00*", "a picture (TIFF)"),
)  # fmt: skip
BOMS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


def sheet_text(path: Path) -> str:
    """Return the text of a sheet's file with "\\n" for every line end.

    Raises UnreadableError for a folder, a missing, empty, forbidden or too large file, and for what is no text.
    """
    data = _bytes(path)
    if not data.strip(b"\x00 \t\r\n"):
        raise UnreadableError(
            str(path), "the file is empty", "it holds no words", "type the steps, save, and try again"
        )
    if kind := _document(data, path.suffix.casefold()):
        return decoded(document_text(kind, data, str(path)).encode(), str(path))
    for mark, name in MARKS:
        if data.startswith(mark) and (mark != b"BM" or b"\x00" in data[:64]):
            raise UnreadableError(str(path), "this is no text", f"it is {name}, whatever its name says", MEND)
    return decoded(data, str(path))


def _document(data: bytes, ending: str) -> str | None:
    """Return what kind of document this is, told by its first bytes; None for plain text and all else."""
    if data.startswith(b"PK\x03\x04"):
        return packed_kind(data)
    head = data[:1024].lstrip().lower()
    if data[:1024].find(b"%PDF-") >= 0:
        return "pdf"
    if head.startswith(b"{\\rtf"):
        return "rtf"
    page = head.startswith((b"<!doctype html", b"<html")) or (ending in (".html", ".htm") and b"<" in head)
    return "html" if page else None


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise UnreadableError(str(path), "this is a folder", "a sheet is one file", "name the file in it")
        if path.stat().st_size > MOST_BYTES:
            raise UnreadableError(
                str(path), "the file is too large", "a sheet is a page or two; this has over 20 million bytes", MEND
            )
        return path.read_bytes()
    except FileNotFoundError as err:
        raise UnreadableError(
            str(path), "there is no such file", "nothing has that name here", "look at the name and the folder"
        ) from err
    except PermissionError as err:
        raise UnreadableError(
            str(path), "the file can't be opened", "you may not read it", "give yourself the right to read it"
        ) from err
    except OSError as err:
        raise UnreadableError(
            str(path), "the file can't be read", str(err.strerror or err), "copy it anew and try again"
        ) from err


def decoded(data: bytes, where: str = "the sheet") -> str:
    """Return bytes as text: by their mark, as UTF-8, as UTF-16 without a mark, else as Western European.

    >>> decoded("Chassé".encode("cp1252"))
    'Chassé'
    """
    text = _by_mark(data) or _utf16(data)
    if text is None:
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError:
            text = data.decode("cp1252", errors="replace")
    text = (
        text.replace("\r\n", "\n")
        .replace("\r", "\n")
        .replace("\x0b", "\n")
        .replace("\x0c", "\n")
        .replace("\u2028", "\n")
    )
    text = text.replace("\u2029", "\n").replace("\x85", "\n").replace("\xa0", " ").replace("\x00", "")
    odd = sum(1 for c in text[:4000] if ord(c) < 32 and c not in "\n\t")
    if odd > len(text[:4000]) // 20:
        raise UnreadableError(where, "this is no text", "it is full of signs that no one types", MEND)
    return text


def _by_mark(data: bytes) -> str | None:
    for mark, name in BOMS:
        if data.startswith(mark):
            return data.decode(name, errors="replace")
    return None


def _utf16(data: bytes) -> str | None:
    """UTF-16 without its mark shows as every other byte empty."""
    head = data[:400]
    if len(head) < 4 or head.count(0) < len(head) // 3:
        return None
    return data.decode("utf-16-le" if head[1::2].count(0) > head[::2].count(0) else "utf-16-be", errors="replace")
