"""The picture of a song: a page of writing, one phrase a line, its counts as beads, the wave pale behind them.

Shape says everything, colour says it again: ones are large and numbered, counts of the intro are open, extra counts are
diamonds under a bracket, the dance begins at a pennant, and the thread is broken where the start of a line is unsure.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.music.why import clock
from softshoe.render.look import mix, palette, typeface
from softshoe.render.song_lines import EIGHTS_A_LINE, SongLine, song_lines
from softshoe.render.stage import Circle, Line, Mark, Polygon, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.music.songmap import SongMap
    from softshoe.render.song_wave import Wave

WIDTH = 1180.0
MARGIN, LABEL, RIGHT = 34.0, 132.0, 186.0
WIDEST_SLOT = 26.0
LINE, SWING = 76.0, 23.0
TITLE, WORDS = 30, 19
ONE, COUNT, START = 11.0, 3.8, 13.5
THREAD = 25.0  # how much further right words stand behind a piece of thread
FADED = {"sure": 0.0, "fairly sure": 0.22, "please check": 0.42}  # of the way from ink to paper
DASH = {"fairly sure": (13.0, 6.0), "please check": (3.0, 7.0)}  # how long lines and gaps of the thread are
PARTS = (
    ("tempo", "tempo"),
    ("metre", "the bar"),
    ("eights", "“one” of the {eight}"),
    ("first_count", "where the dance begins"),
)
LINES_A_PAGE = 8


@dataclass(frozen=True, slots=True)
class Page:
    """One page of the picture: its marks and its size."""

    marks: tuple[Mark, ...]
    width: float
    height: float


def song_pages(
    song: SongMap, name: str, *, wave: Wave | None = None, lines_a_page: int | None = LINES_A_PAGE
) -> tuple[Page, ...]:
    """Return the song on pages of so many lines, or on one page as long as it needs when None."""
    lines = song_lines(song)
    size = lines_a_page or max(1, len(lines))
    parts = [lines[k : k + size] for k in range(0, max(1, len(lines)), size)]
    most = max([EIGHTS_A_LINE * 2 * song.metre, *(line.counts for line in lines)])
    slot = min(WIDEST_SLOT, (WIDTH - 2 * MARGIN - LABEL - RIGHT) / most)
    pages = []
    for number, part in enumerate(parts):
        head, top = _head(song, name) if not number else _short_head(name, number + 1)
        marks = [*head]
        for line in part:
            marks += _line(line, top + LINE * 0.56, slot, wave, end=song.end_s if line is lines[-1] else None)
            top += LINE
        marks += _key(top + 26, "eight" if song.metre == 4 else "six")
        pages.append(Page(tuple(marks), WIDTH, top + 98))
    return tuple(pages)


def _head(song: SongMap, name: str) -> tuple[list[Mark], float]:
    """Return the title, the song in sentences and how sure they are, and where the lines begin."""
    ink = palette()["ink"]
    marks: list[Mark] = [Text(MARGIN, 52, name, TITLE, ink, bold=True)]
    y = 84.0
    sentences = [
        s for s in song.why if s.startswith(("The tempo", "Four beats", "Three beats", "The dance", "You said"))
    ]
    sentences.append(f"The music ends at {clock(song.end_s)}{', fading out' if _fades(song) else ''}.")
    y = _paragraph(marks, " ".join(sentences), y)
    eight = "eight" if song.metre == 4 else "six"
    parts = [f"{words.format(eight=eight)}, {_sure(getattr(song.confidence, part))}" for part, words in PARTS]
    y = _paragraph(marks, "How sure: " + "; ".join(parts) + ".", y + 4)
    if any(finding.kind == "no-steady-beat" for finding in song.findings):
        y = _paragraph(marks, "No steady beat was found: these counts may be no counts at all.", y + 4, bold=True)
    if song.beats_s and song.beats_s[0] > 2.5:
        y = _paragraph(marks, f"Before the first count: {song.beats_s[0]:.0f} seconds without counts.", y + 4)
    return marks, y + 2


def _sure(share: float) -> str:
    """Return a share in words that need no per cent."""
    from softshoe.render.page import sure_words

    tens = round(10 * share)
    return f"{sure_words(share)} ({tens} in 10)" if share < 0.95 else sure_words(share)


def _fades(song: SongMap) -> bool:
    return any(finding.kind == "fade" for finding in song.findings)


def _paragraph(marks: list[Mark], words: str, y: float, *, bold: bool = False) -> float:
    """Add wrapped words; return where the next ones go."""
    for row in typeface().wrapped(words, size=WORDS, bold=bold, width=WIDTH - 2 * MARGIN):
        marks.append(Text(MARGIN, y, row, WORDS, palette()["ink"], bold=bold))
        y += WORDS * 1.35
    return y


def _short_head(name: str, page: int) -> tuple[list[Mark], float]:
    return [Text(MARGIN, 44, f"{name}, page {page}", WORDS, palette()["ink"], bold=True)], 56.0


def _line(line: SongLine, y: float, slot: float, wave: Wave | None, *, end: float | None) -> list[Mark]:
    x = MARGIN + LABEL
    marks = _label(line, y)
    if wave is not None:
        marks += _wave(line, x, y, slot, wave)
    marks += _thread(line, x, y, slot)
    marks += _beads(line, x, y, slot)
    marks += _extra(line, x, y, slot)
    if line.begins is not None:
        marks += _pennant(x + slot * line.begins, y)
    if end is not None:
        marks += _end(x + slot * (line.counts - 1) + 16, y)
    return marks + _counted(line, y)


def _ink(line: SongLine) -> str:
    colours = palette()
    return mix(colours["ink"], colours["paper"], FADED.get(line.certainty or "sure", 0.0))


def _label(line: SongLine, y: float) -> list[Mark]:
    """Return what stands before a line: which phrase it is, and when it begins."""
    colours = palette()
    at = Text(MARGIN + LABEL - 26, y + 7, clock(line.beats_s[0]), WORDS, colours["soft"], anchor="end")
    if line.kind == "on":
        return [at]
    if line.kind == "intro":
        return [Text(MARGIN, y + 7, "intro", WORDS, colours["ink"], bold=True), at]
    return [Text(MARGIN, y + 8, str(line.number), 22, colours["ink"], bold=True, face="count"), at]


def _wave(line: SongLine, x: float, y: float, slot: float, wave: Wave) -> list[Mark]:
    """Return the wave of a line, stretched so that each count has the same width."""
    edges = (*line.beats_s, line.ends_s)
    top: list[tuple[float, float]] = []
    for k in range(line.counts):
        for part, swing in enumerate(wave.between(edges[k], edges[k + 1], 5)):
            top.append((x + slot * (k + (part + 0.5) / 5), float(swing)))
    shape = [(at, y - SWING * max(0.04, s)) for at, s in top] + [(at, y + SWING * max(0.04, s)) for at, s in top[::-1]]
    colours = palette()
    return [Polygon(tuple(shape), mix(colours["rule"], colours["paper"], 0.45))]


def _thread(line: SongLine, x: float, y: float, slot: float) -> list[Mark]:
    """Return the thread: whole where the start of the line is sure, broken where it is not."""
    end, ink = x + slot * (line.counts - 1), _ink(line)
    dash = DASH.get(line.certainty or "sure")
    if dash is None:
        return [Line(((x, y), (end, y)), ink, 2.2)]
    marks: list[Mark] = []
    at = x
    while at < end:
        marks.append(Line(((at, y), (min(end, at + dash[0]), y)), ink, 2.2))
        at += sum(dash)
    return marks


def _beads(line: SongLine, x: float, y: float, slot: float) -> list[Mark]:
    colours, ink = palette(), _ink(line)
    marks: list[Mark] = []
    whole = line.counts - line.extra
    for k in range(line.counts):
        at, filled = x + slot * k, k >= line.waits
        if k in line.ones and k < whole:
            r, fill = ONE, ink
            if k == line.begins:
                r, fill = START, colours["accent"]
            shown = fill if filled or k == line.begins else colours["paper"]
            number = str(line.ones.index(k) + 1)
            letter = colours["paper"] if shown != colours["paper"] else ink
            marks += [Circle(at, y, r, shown, fill, 2.2),
                      Text(at, y + 5.6, number, 15, letter, bold=True, anchor="middle", face="count")]  # fmt: skip
        elif k >= whole:
            marks.append(_diamond(at, y))
        else:
            marks.append(Circle(at, y, COUNT, ink if filled else colours["paper"], ink, 1.8))
    return marks


def _diamond(x: float, y: float) -> Mark:
    r = 7.0
    colours = palette()
    return Polygon(((x, y - r), (x + r, y), (x, y + r), (x - r, y)), colours["paper"], colours["accent"], 2.4)


def _extra(line: SongLine, x: float, y: float, slot: float) -> list[Mark]:
    """Return the bracket over extra counts and how many they are."""
    if not line.extra:
        return []
    accent = palette()["accent"]
    first, last = x + slot * (line.counts - line.extra) - 8, x + slot * (line.counts - 1) + 8
    top, low = y - 21, y - 15
    words = f"{line.extra} extra"
    return [Line(((first, low), (first, top), (last, top), (last, low)), accent, 2.0),
            Text((first + last) / 2, top - 5, words, WORDS - 2, accent, bold=True, anchor="middle")]  # fmt: skip


def _pennant(x: float, y: float) -> list[Mark]:
    accent = palette()["accent"]
    pole = Line(((x, y - START), (x, y - 40)), accent, 2.4)
    cloth = Polygon(((x, y - 41), (x + 17, y - 34), (x, y - 27)), accent)
    return [pole, cloth, Text(x + 23, y - 28, "the dance begins", WORDS - 1, accent, bold=True)]


def _end(x: float, y: float) -> list[Mark]:
    """Return the double bar behind the last count."""
    ink = palette()["ink"]
    return [Line(((x, y - 14), (x, y + 14)), ink, 2.0), Line(((x + 6, y - 14), (x + 6, y + 14)), ink, 4.0)]


def _counted(line: SongLine, y: float) -> list[Mark]:
    """Return what stands behind a line: how many counts, how sure, the tempo where it changes."""
    colours = palette()
    x = WIDTH - MARGIN - RIGHT + 24
    counts = f"{line.counts} counts" + (f", {line.tempo_bpm:.0f} bpm" if line.tempo_bpm else "")
    low = line.certainty == "please check"
    marks: list[Mark] = [Text(x, y - (4 if line.certainty else -6), counts, WORDS - 1, colours["ink"])]
    if line.certainty:
        marks.append(Text(x, y + 19, line.certainty, WORDS - 1, colours["ink" if low else "soft"], bold=low))
    return marks


def _key(y: float, eight: str) -> list[Mark]:
    """Return the signs and what they mean, in two rows."""
    colours = palette()
    ink = colours["ink"]

    def bead(x: float, top: float) -> list[Mark]:
        face = Text(x, top + 5.6, "2", 15, colours["paper"], bold=True, anchor="middle", face="count")
        return [Circle(x, top, ONE, ink, ink, 2.2), face]

    def thread(x: float, top: float, dash: Sequence[float]) -> list[Mark]:
        starts = [x - 14 + k * sum(dash) for k in range(round(46 / sum(dash)))]
        return [Line(((a, top), (a + dash[0], top)), ink, 2.2) for a in starts]

    first, second = y, y + 32
    rows: list[tuple[float, float, list[Mark], str]] = [
        (MARGIN + 12, first, bead(MARGIN + 12, first), f"“one” of the second {eight} in its phrase"),
        (MARGIN + 408, first, [Circle(MARGIN + 408, first, COUNT, ink, ink, 1.8)], "a count"),
        (MARGIN + 512, first, [Circle(MARGIN + 512, first, ONE, colours["paper"], ink, 2.2)], "before the dance"),
        (MARGIN + 700, first, [_diamond(MARGIN + 700, first)], "an extra count: wait, or dance a tag"),
        (MARGIN + 12 + THREAD, second, thread(MARGIN + 14, second, (40.0, 8.0)), "start of the line sure"),
        (MARGIN + 330 + THREAD, second, thread(MARGIN + 330, second, DASH["fairly sure"]), "fairly sure"),
        (MARGIN + 560 + THREAD, second, thread(MARGIN + 560, second, DASH["please check"]), "please check by ear"),
    ]
    marks: list[Mark] = [Line(((MARGIN, y - 26), (WIDTH - MARGIN, y - 26)), colours["rule"], 1.5)]
    for x, top, sign, words in rows:
        marks += sign
        marks.append(Text(x + 20, top + 6, words, WORDS - 2, colours["ink"]))
    return marks
