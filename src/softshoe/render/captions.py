"""Captions and chapters as WebVTT: a strict writer and a strict reader of our own.

Source: W3C, "WebVTT: The Web Video Text Tracks Format". Minutes and seconds have two digits and stay under 60, a part
of a second has exactly three digits after a full stop, hours are optional unless needed; starts never go back, cues
may overlap, a cue holds no blank line, and ``&`` and ``<`` are written ``&amp;`` and ``&lt;``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.errors import UnreadableError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.teach.lesson import Lesson

LINE_CHARACTERS, LINES = 42, 2  # streaming practice, see docs/look.md
STAMP = re.compile(r"(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})", re.ASCII)
TIMING = re.compile(r"(\S+)[ \t]+-->[ \t]+(\S+)((?:[ \t]+\S+)*)[ \t]*", re.ASCII)
ESCAPES = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"))
NAMED = (("&nbsp;", "\u00a0"), ("&lrm;", "\u200e"), ("&rlm;", "\u200f"), ("&lt;", "<"), ("&gt;", ">"), ("&amp;", "&"))


@dataclass(frozen=True, slots=True)
class TimedText:
    """Words from ``start_s`` to ``end_s``, lines parted by a line feed."""

    start_s: float
    end_s: float
    words: str


def stamp(time_s: float) -> str:
    """Return a moment as WebVTT writes it, hours always.

    >>> stamp(245.001)
    '00:04:05.001'
    """
    ms = round(time_s * 1000)
    return f"{ms // 3_600_000:02d}:{ms // 60_000 % 60:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"


def seconds(text: str) -> float:
    """Return the seconds of a WebVTT moment; raises UnreadableError when the standard refuses it.

    >>> seconds("04:02.500")
    242.5
    """
    found = STAMP.fullmatch(text)
    if found is None:
        raise _refused(
            "captions", f"“{text}” is not a WebVTT time", "write it as minutes:seconds.thousandths, as 04:02.500"
        )
    hours, minutes, whole, ms = (int(group or 0) for group in found.groups())
    return (((hours * 60 + minutes) * 60 + whole) * 1000 + ms) / 1000


def _refused(where: str, why: str, mend: str) -> UnreadableError:
    return UnreadableError(where, "the captions can't be read", why, mend)


def vtt(cues: Iterable[TimedText]) -> str:
    """Return a WebVTT file of these cues.

    Raises ValueError when one is empty, has no length, or starts before the one before it.

    >>> print(vtt([TimedText(1.0, 2.5, "toe & heel")]))
    WEBVTT
    <BLANKLINE>
    00:00:01.000 --> 00:00:02.500
    toe &amp; heel
    <BLANKLINE>
    """
    blocks, last_ms = ["WEBVTT\n"], 0
    for cue in cues:
        words = _escaped("\n".join(line.strip() for line in cue.words.splitlines() if line.strip()))
        start_ms, end_ms = round(cue.start_s * 1000), round(cue.end_s * 1000)
        if not words or not last_ms <= start_ms < end_ms:
            raise ValueError(
                f"the caption at {cue.start_s} s is empty, has no length, or starts before the one before it"
            )
        blocks.append(f"{stamp(cue.start_s)} --> {stamp(cue.end_s)}\n{words}\n")
        last_ms = start_ms
    return "\n".join(blocks)


def _escaped(words: str) -> str:
    for sign, name in ESCAPES:
        words = words.replace(sign, name)
    return words


def _plain(words: str) -> str:
    for name, sign in NAMED:
        words = words.replace(name, sign)
    return words


def read_vtt(text: str, *, where: str = "captions") -> tuple[TimedText, ...]:
    """Read a WebVTT file; notes, styles and regions are passed over, settings and cue names are dropped.

    Raises UnreadableError at the first thing the standard refuses, with the line's number.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").replace("\0", "\ufffd").split("\n")
    if not re.fullmatch(r"WEBVTT(?:[ \t].*)?", lines[0]):
        raise _refused(
            f"{where}, line 1", "a WebVTT file begins with the word WEBVTT", "put WEBVTT alone on the first line"
        )
    if len(lines) > 1 and lines[1].strip():
        raise _refused(f"{where}, line 2", "the head is not followed by a blank line", "put a blank line under WEBVTT")
    cues: list[TimedText] = []
    for number, block in _blocks(lines[1:]):
        cue = _cue(block, f"{where}, line {number}")
        if cue is not None:
            if cues and cue.start_s < cues[-1].start_s:
                raise _refused(
                    f"{where}, line {number}", "a caption starts before the one above it", "put them in order of time"
                )
            cues.append(cue)
    return tuple(cues)


def _blocks(lines: list[str]) -> Iterable[tuple[int, list[str]]]:
    """Runs of lines that are not blank, each with the number of its first line in the file."""
    block: list[str] = []
    for number, line in enumerate([*lines, ""], start=2):
        if line.strip():
            block.append(line)
        elif block:
            yield number - len(block), block
            block = []


def _cue(block: list[str], where: str) -> TimedText | None:
    if re.match(r"(NOTE|STYLE|REGION)(?:\s|$)", block[0]) and "-->" not in block[0]:
        return None
    head = 0 if "-->" in block[0] else 1
    found = TIMING.fullmatch(block[head]) if head < len(block) else None
    if found is None:
        raise _refused(where, "a caption has no line of times", "write its times as 00:01.000 --> 00:03.500")
    start_s, end_s = seconds(found[1]), seconds(found[2])
    words = "\n".join(block[head + 1 :])
    if end_s <= start_s:
        raise _refused(where, "a caption ends before it starts", "let the second time be the later one")
    if "-->" in words:
        raise _refused(where, "an arrow of times stands inside a caption", "put a blank line between captions")
    return TimedText(start_s, end_s, _plain(words))


def wrapped(words: str, *, characters: int = LINE_CHARACTERS) -> list[str]:
    """Break words into lines of at most so many characters, as even as they can be; lines already broken stay broken.

    >>> wrapped("Right heel forward, right foot together, left heel forward")
    ['Right heel forward, right foot', 'together, left heel forward']
    """
    return [line for part in words.splitlines() for line in _even(part.split(), characters)]


def _even(words: list[str], characters: int) -> list[str]:
    lines = _filled(words, characters)
    narrow = characters
    while narrow > 1 and len(_filled(words, narrow - 1)) == len(lines):
        narrow -= 1
    return _filled(words, narrow)


def _filled(words: list[str], characters: int) -> list[str]:
    lines: list[str] = []
    for word in words:
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and len(longer) <= characters:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def captions_of(lesson: Lesson) -> str:
    """Return the lesson's captions as WebVTT; one longer than two lines is shown in parts."""
    cues = [part for caption in lesson.captions for part in _parts(caption.start_s, caption.end_s, caption.words)]
    return vtt(sorted(cues, key=lambda cue: cue.start_s))


def _parts(start_s: float, end_s: float, words: str) -> list[TimedText]:
    lines = wrapped(words)
    pages = [lines[k : k + LINES] for k in range(0, len(lines), LINES)]
    step = (end_s - start_s) / max(len(pages), 1)
    return [TimedText(start_s + k * step, start_s + (k + 1) * step, "\n".join(page)) for k, page in enumerate(pages)]


def chapters_of(lesson: Lesson) -> str:
    """Return the lesson's passages as WebVTT chapters."""
    return vtt(TimedText(p.start_s, p.end_s, p.title) for p in lesson.passages if p.end_s > p.start_s)
