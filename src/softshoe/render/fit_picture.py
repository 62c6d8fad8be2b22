"""The picture of a run: the song's phrases as knots on a thread above, the walls as links below, row after row.

A phrase that a wall begins on is tied to it by a straight line; one that falls inside a wall ends in a cross with
words; tags and bridges are diamonds, one a count; a restart is a torn edge; the ending a hook. Shape says it, colour
again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.fit.rules import limit
from softshoe.fit.told import sheet_lines
from softshoe.render.fit_links import diamonds, held, link
from softshoe.render.fit_rows import UNTOLD, Knot, Laid, Piece, Row, headline, laid_out
from softshoe.render.look import mix, palette, typeface
from softshoe.render.song_picture import Page
from softshoe.render.stage import Arc, Circle, Line, Mark, Text

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap

WIDTH, MARGIN = 1180.0, 34.0
TITLE, WORDS, SMALL = 30, 19, 16
HIGH, TALL = 58.0, 206.0  # of a link, of a row
KNOT_R = 7.0
ROOM_FOR_NAME, ROOM_FOR_TIME = 150.0, 44.0
ROWS_A_PAGE = 3


def fit_pages(
    dance: Dance, run: Run, song: SongMap, name: str, *, rows_a_page: int | None = ROWS_A_PAGE
) -> tuple[Page, ...]:
    """Return the run on pages of so many rows, or on one page as long as it needs when None."""
    laid = laid_out(dance, run, song)
    size = rows_a_page or max(1, len(laid.rows))
    parts = [laid.rows[k : k + size] for k in range(0, len(laid.rows), size)]
    slot = (WIDTH - 2 * MARGIN - 30) / laid.per_row
    pages = []
    for number, part in enumerate(parts):
        marks: list[Mark] = []
        top = _head(marks, dance, run, laid, name) if not number else _short_head(marks, dance, name, number + 1)
        for row in part:
            marks += _row(laid, row, top, slot)
            top += TALL
        if part is parts[-1]:
            top = _sheet(marks, dance, run, top)
        pages.append(Page((*marks, *_key(top + 22)), WIDTH, top + 92))
    return tuple(pages)


def clock(seconds: float) -> str:
    """Return seconds as minutes and seconds."""
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02d}"


TOLD = ("One count", "Two counts", "The sheet's own", "This rests")  # of a run's reasons


def _head(marks: list[Mark], dance: Dance, run: Run, laid: Laid, name: str) -> float:
    ink = palette()["ink"]
    marks.append(Text(MARGIN, 52, f"{dance.title} on {name}", TITLE, ink, bold=True))
    y = _paragraph(marks, headline(run, laid), 86.0, bold=True)
    return _paragraph(marks, " ".join(s for s in run.why if s.startswith(TOLD)), y) + 12


def _short_head(marks: list[Mark], dance: Dance, name: str, page: int) -> float:
    marks.append(Text(MARGIN, 44, f"{dance.title} on {name}, page {page}", WORDS, palette()["ink"], bold=True))
    return 62.0


def _paragraph(marks: list[Mark], words: str, y: float, *, bold: bool = False) -> float:
    """Add wrapped words; return where the next ones go."""
    for row in typeface().wrapped(words, size=WORDS, bold=bold, width=WIDTH - 2 * MARGIN):
        marks.append(Text(MARGIN, y, row, WORDS, palette()["ink"], bold=bold))
        y += WORDS * 1.35
    return y


def _row(laid: Laid, row: Row, top: float, slot: float) -> list[Mark]:
    def x(at: float) -> float:
        return MARGIN + (at - row.at) * slot

    thread, links = top + 40, top + 78
    soft = palette()["soft"]
    marks: list[Mark] = [Line(((x(row.at), thread), (x(row.at + row.counts), thread)), soft, 2.2)]
    named: list[tuple[float, str]] = []
    for piece in row.pieces:
        marks += _piece(laid, piece, x(piece.at), x(piece.end), links, slot)
        named += _names(piece, x(piece.at), x(piece.end), fades=laid.fades)
    for index, knot in enumerate(row.knots):
        after = row.knots[index + 1].at if index + 1 < len(row.knots) else row.at + row.counts
        marks += _knot(knot, x(knot.at), thread, links, room=(after - knot.at) * slot)
    if row.at < laid.ends <= row.at + row.counts:
        marks += _end(x(laid.ends) + 8, links, aside=laid.ends == row.at + row.counts)
    return [*marks, *_under(named, links)]


def _knot(knot: Knot, x: float, thread: float, links: float, *, room: float) -> list[Mark]:
    """A phrase start: a full knot where it is sure, an open one with a question mark where not, and how it is met."""
    colours = palette()
    unsure = knot.sure < limit("sure")
    ink = mix(colours["ink"], colours["paper"], 0.35) if knot.fate in UNTOLD else colours["ink"]
    marks: list[Mark] = [Circle(x, thread, KNOT_R, colours["paper"] if unsure else ink, ink, 2.4)]
    if knot.fate == "meets":
        marks.append(Line(((x, thread + KNOT_R), (x, links)), ink, 3.4))
    elif knot.fate == "misses":
        marks += _cross(x, thread, links - 4)
    elif knot.fate == "passes":
        marks.append(Line(((x, thread + KNOT_R), (x, links - 6)), ink, 1.6))
    return marks + _label(knot, x, thread, room, unsure=unsure)


def _cross(x: float, thread: float, y: float) -> list[Mark]:
    """A broken line down into the wall, with a cross at its end."""
    accent, paper, arm = palette()["accent"], palette()["paper"], 6.5
    dashes: list[Mark] = [
        Line(((x, at), (x, at + 5)), accent, 2.6) for at in range(round(thread + KNOT_R + 2), round(y - 10), 9)
    ]
    plate = Circle(x, y, 11.5, paper, accent, 2.4)
    arms: list[Mark] = [Line(((x - arm, y - arm * s), (x + arm, y + arm * s)), accent, 4.0) for s in (-1, 1)]
    return [*dashes, plate, *arms]


def _label(knot: Knot, x: float, thread: float, room: float, *, unsure: bool) -> list[Mark]:
    """What stands over a knot, as much of it as there is room for."""
    colours = palette()
    sign = "?" if unsure else ""
    number = f"phrase {knot.number}{sign}" if room > ROOM_FOR_NAME else f"{knot.number}{sign}"
    wide = typeface().width(number, size=WORDS, bold=True) + 14
    marks: list[Mark] = [Text(x - 4, thread - 14, number, WORDS, colours["ink"], bold=True)]
    extra = f"{knot.counts} counts" + (f", {knot.extra} over" if knot.extra else "")
    into = f"{knot.into} counts into wall {knot.wall}"
    choices = [f"{clock(knot.at_s)}  {extra}", clock(knot.at_s), ""]
    if knot.fate == "misses":
        choices = [f"{clock(knot.at_s)}  {into}", into, f"{knot.into} into wall {knot.wall}", f"{knot.into} in", ""]
    bold = knot.fate == "misses"
    fits = next(
        words for words in choices if wide + typeface().width(words, size=SMALL, bold=bold) + 18 < room or not words
    )
    ink = colours["accent"] if bold else colours["soft"]
    return [*marks, Text(x + wide, thread - 14, fits, SMALL, ink, bold=bold)]


def _piece(laid: Laid, piece: Piece, left: float, right: float, top: float, slot: float) -> list[Mark]:
    if piece.kind == "left":
        after = 30.0 if laid.fades else 0.0
        return held(left + after, top + HIGH / 2, piece.counts - round(after / slot), slot)
    if piece.kind in ("tag", "bridge"):
        return diamonds(left, top + HIGH / 2, piece.counts, slot)
    marks = link(piece, left, right, top, HIGH, slot=slot, section=laid.section, turns=laid.turns)
    if piece.first == 1 and right - left > ROOM_FOR_TIME:
        marks.append(Text(left + 6, top + HIGH + 20, clock(piece.at_s), SMALL, palette()["soft"]))
    return marks


def _names(piece: Piece, left: float, right: float, *, fades: bool) -> list[tuple[float, str]]:
    """What is written under a tag, a bridge, a restart or what is left over, and where."""
    if piece.kind == "left":
        return [(left + 30, "the song fades")] if fades else []
    if piece.kind in ("tag", "bridge"):
        return [(left, f"{piece.kind} of {piece.counts}")]
    if not piece.cut:
        return []
    words = f"restart after {piece.first + piece.counts - 1}"
    wide = typeface().width(words, size=SMALL, bold=True)
    return [(right - wide if right - left > wide + 60 else left, words)]


def _under(named: list[tuple[float, str]], top: float) -> list[Mark]:
    """The names of repairs below them, on a second line and, where they would meet, on a third."""
    ends = [0.0, 0.0]
    marks: list[Mark] = []
    for x, words in named:
        lane = 0 if x >= ends[0] else 1
        ends[lane] = x + typeface().width(words, size=SMALL, bold=True) + 8
        marks.append(Text(x, top + HIGH + 42 + 20 * lane, words, SMALL, palette()["accent"], bold=True))
    return marks


def _end(x: float, top: float, *, aside: bool) -> list[Mark]:
    """The hook where the dance ends; its word ``aside`` where nothing follows, else above."""
    ink, mid = palette()["ink"], top + HIGH / 2
    return [
        Line(((x, top + 6), (x, mid + 8)), ink, 4.2),
        Arc(x + 9, mid + 8, 9.0, 110, 270, ink, 4.2),
        Text(x + 24, mid + 6, "end", SMALL, ink, bold=True)
        if aside
        else Text(x - 4, top, "end", SMALL, ink, bold=True),
    ]


def _sheet(marks: list[Mark], dance: Dance, run: Run, top: float) -> float:
    """What the sheet has to say for this song."""
    y = _paragraph(marks, "For the sheet", top + 16, bold=True)
    for line in sheet_lines(dance, run):
        y = _paragraph(marks, line, y)
    return y


def _key(y: float) -> list[Mark]:
    """The signs and what they mean, in two rows."""
    colours = palette()
    ink, second = colours["ink"], y + 34
    tied: list[Mark] = [
        Circle(MARGIN + 10, y - 8, KNOT_R, ink, ink, 2.4),
        Line(((MARGIN + 10, y - 4), (MARGIN + 10, y + 12)), ink, 3.4),
    ]
    crossed = _cross(MARGIN + 500, y - 40, y)[-3:]
    signs: list[tuple[float, float, list[Mark], str]] = [
        (MARGIN + 10, y, tied, "a phrase, and what begins with it (thin: only a section)"),
        (MARGIN + 500, y, crossed, "a phrase that begins inside a wall: a misfit"),
        (MARGIN + 950, y, held(MARGIN + 900, y, 4, 12.0), "held at the end"),
        (
            MARGIN + 10,
            second,
            [Circle(MARGIN + 10, second, KNOT_R, colours["paper"], ink, 2.4)],
            "a phrase the listener is not sure of",
        ),
        (MARGIN + 450, second, diamonds(MARGIN + 400, second, 4, 12.0), "counts added: a tag or bridge"),
        (MARGIN + 790, second, [Line(_torn(MARGIN + 774, second), ink, 3.0)], "a torn end: restart"),
    ]
    marks: list[Mark] = [Line(((MARGIN, y - 30), (WIDTH - MARGIN, y - 30)), colours["rule"], 1.5)]
    for x, row, sign, words in signs:
        marks += [*sign, Text(x + 24, row + 6, words, WORDS - 2, ink)]
    return marks


def _torn(x: float, y: float) -> tuple[tuple[float, float], ...]:
    return tuple((x + (6 if k % 2 else 0), y - 14 + 7 * k) for k in range(5))
