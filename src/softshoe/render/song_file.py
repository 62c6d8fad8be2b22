"""The picture of a song as a file: SVG, PNG or PDF, each with all that it shows in words for those who can't see it."""

from __future__ import annotations

import struct
import zlib
from html import escape
from typing import TYPE_CHECKING, Any

from softshoe.render.look import palette, typeface
from softshoe.render.song_lines import song_words
from softshoe.render.song_picture import LINES_A_PAGE, song_pages
from softshoe.render.stage import scaled
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from pathlib import Path

    import numpy as np
    from numpy.typing import NDArray

    from softshoe.music.songmap import SongMap
    from softshoe.render.page import Paper
    from softshoe.render.song_picture import Page
    from softshoe.render.song_wave import Wave

PIXELS = 2.0  # a unit of the page, in pixels of a PNG
LONGEST_PNG = 30_000


def draw_song(song: SongMap, path: Path, picture: Path) -> None:
    """Draw a counted song into a file; its ending, .svg, .png or .pdf, says which kind.

    path : the recording, for the wave; the JSON of a song map has none and is drawn without
    Raises OutputError when the file can't be written.
    """
    from softshoe.files import write_whole

    wave = None if path.suffix.casefold() == ".json" else _wave(song, path)
    write_whole(picture, song_picture(song, path.stem, kind=picture.suffix.casefold(), wave=wave))


def _wave(song: SongMap, path: Path) -> Wave:
    from softshoe.music.audio import heard
    from softshoe.render.song_wave import wave_of

    first_s = max(0.0, song.beats_s[0] - 1.0) if song.beats_s else 0.0
    return wave_of(heard(path, from_s=first_s, to_s=max(song.end_s, first_s) + 2.0))


def song_picture(song: SongMap, name: str, *, kind: str, wave: Wave | None = None) -> bytes:
    """Return the picture of a song as ".svg", ".png" or ".pdf"."""
    lines = LINES_A_PAGE if kind == ".pdf" else None
    pages = song_pages(song, name, wave=wave, lines_a_page=lines)
    return drawn(pages, f"{name}, counted", song_words(song, name), kind=kind)


def drawn(pages: tuple[Page, ...], title: str, words: str, *, kind: str, paper: Paper = "a4") -> bytes:
    """Return pages as ".pdf", or the one page as ".svg" or ".png"; ``words`` say all that is shown."""
    if kind == ".pdf":
        return _pdf(pages, title, words, paper)
    (page,) = pages
    return _png(page, words) if kind == ".png" else _svg(page, title, words).encode()


def _svg(page: Page, title: str, words: str) -> str:
    ground = f'<rect width="100%" height="100%" fill="{palette()["paper"]}"/>'
    drawn = svg(page.marks, width=page.width, height=page.height, alt=title)
    return drawn.replace("</title>", f"</title><desc>{escape(words)}</desc>{ground}", 1)


def _png(page: Page, words: str) -> bytes:
    from softshoe.render.stage_pixels import Canvas

    times = min(PIXELS, LONGEST_PNG / page.height)
    canvas = Canvas(round(page.width * times), round(page.height * times), typeface())
    canvas.draw(scaled(mark, times) for mark in page.marks)
    return png(canvas.pixels()[:, :, :3], words)


def png(pixels: NDArray[np.uint8], words: str) -> bytes:
    """Return a picture, shape (height, width, 3), as a PNG (ISO/IEC 15948) that carries a description in words."""
    import numpy as np

    height, width, _ = pixels.shape
    rows = np.concatenate([np.zeros((height, 1), np.uint8), pixels.reshape(height, -1)], axis=1)  # filter 0: none

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    told = b"Description\0\0\0en\0\0" + words.encode()
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        (
            chunk(b"IHDR", head),
            chunk(b"iTXt", told),
            chunk(b"IDAT", zlib.compress(rows.tobytes(), 6)),
            chunk(b"IEND", b""),
        )
    )


def _pdf(pages: tuple[Page, ...], title: str, words: str, paper: Paper) -> bytes:
    from softshoe.render.pdf import pdf

    def one(number: int, page: Page) -> dict[str, Any]:
        alt = words if not number else f"{title}, page {number + 1}: told with the first page"
        return {"svg": svg(page.marks, width=page.width, height=page.height), "alt": alt}

    return pdf("song.typ", {"title": title, "paper": paper, "pages": [one(k, page) for k, page in enumerate(pages)]})
