"""A run laid out in rows: the song's phrases as knots above, the walls as pieces below, each with its place in counts.

Rows are numbers and words only; ``fit_picture`` draws them and ``fit_words`` reads them out. Positions are counts from
the start of the dance.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.dance.facing import clock, turned
from softshoe.fit.grid import counted
from softshoe.fit.rules import limit
from softshoe.fit.score import missed
from softshoe.fit.steps_of import steps_of
from softshoe.fit.timeline import turn_after
from softshoe.fit.told import sheet_lines, wall_rows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.run import Run
    from softshoe.fit.steps import Step
    from softshoe.music.songmap import SongMap

UNTOLD = ("too unsure", "after the end")
COUNTS_A_ROW = 136
WALTZ_A_ROW = 144
Fate = Literal["meets", "passes", "misses", "too unsure", "after the end"]


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch danced without a break: a wall or a part of it, a tag, a bridge, or counts left over at the end.

    ``first`` is its first count of the dance (of the tag, 1), ``facing_deg`` where it begins. ``cut``: a restart ends
    it; ``whole``: the dance's last count ends it.
    """

    kind: Literal["wall", "tag", "bridge", "left"]
    at: int
    counts: int
    wall: int
    first: int
    at_s: float
    facing_deg: int = 0
    cut: bool = False
    whole: bool = True

    @property
    def end(self) -> int:
        """The position after it."""
        return self.at + self.counts


@dataclass(frozen=True, slots=True)
class Knot:
    """A phrase start of the song: which phrase, how long, how sure, and how the dance meets it.

    ``extra`` counts at the phrase's end make no whole eight. ``into``: the counts danced of ``wall`` when it comes.
    """

    at: int
    at_s: float
    number: int
    counts: int
    extra: int
    sure: float
    fate: Fate
    wall: int
    into: int


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the picture: from a position, so many counts."""

    at: int
    counts: int
    pieces: tuple[Piece, ...]
    knots: tuple[Knot, ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """The whole run laid out; ``section`` counts a section, ``per_row`` the longest row, ``ends`` where the dance ends.

    ``fades``: what is left over at the end is the song dying away.
    """

    rows: tuple[Row, ...]
    section: int
    per_row: int
    ends: int
    turns: bool
    fades: bool


def laid_out(dance: Dance, run: Run, song: SongMap) -> Laid:
    """Return the run in rows; a row ends where a wall ends."""
    grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
    steps = steps_of(run, grid)
    pieces = [
        piece
        for step, wall in zip(steps, run.walls, strict=False)
        for piece in _pieces(dance, grid, step, wall.facing_deg)
    ]
    left = grid.total - steps[-1].end
    if left > 0:
        pieces.append(Piece("left", steps[-1].end, left, steps[-1].wall, 1, grid.times_s[steps[-1].end]))
    knots = list(_knots(dance, grid, steps))
    longest = max(step.end - step.at for step in steps)
    per_row = max(WALTZ_A_ROW if dance.metre == "3/4" else COUNTS_A_ROW, longest + left)
    turns = not dance.seated and len({wall.facing_deg for wall in run.walls}) > 1
    rows = tuple(_rows(pieces, knots, per_row))
    ends = steps[-1].end if grid.fades else grid.total
    return Laid(rows, dance.counts_per_section, max(row.counts for row in rows), ends, turns, grid.fades)


def _pieces(dance: Dance, grid: Grid, step: Step, facing_deg: int) -> Iterator[Piece]:
    """A wall in parts, with what is added between and behind them."""
    at, danced = step.at, 0
    for extra in step.extras:
        upto = min(extra.after, step.counts)
        if upto > danced:
            yield _wall(dance, grid, step, at, danced, upto, facing_deg, goes_on=upto < step.counts)
            at += upto - danced
            danced = upto
        kind: Literal["tag", "bridge"] = "bridge" if upto < step.counts else "tag"
        facing = turned(facing_deg, turn_after(dance, upto))
        yield Piece(kind, at, extra.counts, step.wall, 1, grid.times_s[min(at, grid.total - 1)], facing)
        at += extra.counts
    if danced < step.counts:
        yield _wall(dance, grid, step, at, danced, step.counts, facing_deg, goes_on=False)


def _wall(
    dance: Dance, grid: Grid, step: Step, at: int, danced: int, upto: int, facing_deg: int, *, goes_on: bool
) -> Piece:
    facing = turned(facing_deg, turn_after(dance, danced))
    cut = step.cut and not goes_on
    return Piece("wall", at, upto - danced, step.wall, danced + 1, grid.times_s[at], facing, cut, upto == dance.counts)


def _knots(dance: Dance, grid: Grid, steps: Sequence[Step]) -> Iterator[Knot]:
    missing = {phrase.at for phrase in missed(dance, grid, steps)}
    begun = {step.at for step in steps} | {
        place for step in steps for extra, at in step.places() for place in (at, at + extra.counts)
    }
    ends = [*grid.phrases_at[1:], grid.total]
    for number, (phrase, end) in enumerate(zip(grid.phrases, ends, strict=False), start=1):
        step = next((s for s in reversed(steps) if s.at <= phrase.at), steps[-1])
        fate: Fate = "meets" if phrase.at in begun else "misses" if phrase.at in missing else "passes"
        if phrase.at >= steps[-1].end:
            fate = "after the end"
        elif not phrase.weight and fate != "meets":
            fate = "too unsure"
        length = end - phrase.at
        extra = length % dance.counts_per_section
        yield Knot(
            phrase.at,
            grid.times_s[phrase.at],
            number,
            length,
            extra,
            phrase.weight,
            fate,
            step.wall,
            phrase.at - step.at,
        )


def _rows(pieces: Sequence[Piece], knots: Sequence[Knot], per_row: int) -> Iterator[Row]:
    """Fill rows with whole walls and what belongs to them."""
    row: list[Piece] = []
    for index, piece in enumerate(pieces):
        begins = piece.kind == "wall" and piece.first == 1
        belongs = [p for p in pieces[index:] if p.wall == piece.wall]
        if row and begins and belongs[-1].end - row[0].at > per_row:
            yield _row(row, knots)
            row = []
        row.append(piece)
    if row:
        yield _row(row, knots)


def _row(pieces: Sequence[Piece], knots: Sequence[Knot]) -> Row:
    at, end = pieces[0].at, pieces[-1].end
    return Row(at, end - at, tuple(pieces), tuple(knot for knot in knots if at <= knot.at < end))


def headline(run: Run, laid: Laid) -> str:
    """Return the run in one sentence."""
    knots = [knot for row in laid.rows for knot in row.knots if knot.fate not in UNTOLD]
    met = sum(knot.fate != "misses" for knot in knots)
    repairs = [
        f"{many} {name}{'s' if many > 1 else ''}"
        for many, name in (
            (sum(t.after_wall is not None for t in run.tags), "tag"),
            (len(run.restarts), "restart"),
            (sum(t.in_wall is not None for t in run.tags), "bridge"),
        )
        if many
    ]
    phrases = f"{met} of {len(knots)} phrases met" if knots else "no phrases known"
    repaired = " and ".join(repairs) or "no tag, no restart"
    return f"{len(run.walls)} walls, {phrases}, {repaired}: {run.score.total:.0f} of 100."


def fit_words(dance: Dance, run: Run, song: SongMap, name: str) -> str:
    """Return everything the picture shows in words."""
    laid = laid_out(dance, run, song)
    said = [f"{dance.title} on {name}. {headline(run, laid)}", *sheet_lines(dance, run)]
    for row in wall_rows(dance, run, song):
        where = f", facing {clock(row.facing_deg)}" if laid.turns else ""
        happens = f": {row.happens}" if row.happens else ""
        said.append(f"Wall {row.wall} at {row.start_s:.0f} seconds{where}{happens}.")
    for knot in (knot for r in laid.rows for knot in r.knots):
        if knot.fate == "misses":
            said.append(f"Phrase {knot.number} begins {knot.into} counts into wall {knot.wall}: a misfit.")
        elif knot.sure < limit("sure"):
            said.append(f"The start of phrase {knot.number} is unsure.")
    return " ".join(said)
