"""What a live class is led from: every count of the song with its second, its move, its place, and what is coming.

The page counts from this table, never from intervals: a count is where the song has it, whatever the tempo.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from softshoe.dance.facing import clock, turned
from softshoe.dance.footwork import wall_events
from softshoe.teach.parts import parts

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Beat, Lesson, Passage
    from softshoe.teach.parts import MotionPart


@dataclass(frozen=True, slots=True)
class Row:
    """One count. ``block`` is its place in ``blocks``, -1 before the first; ``facing`` where she looks as it begins
    and ``turn`` how far she turns on it [degrees]; ``motion`` and ``moment`` are what the figure dances.
    """

    at: float
    label: str
    block: int
    section: int
    facing: int
    turn: int
    now: str
    next: str
    motion: str
    moment: float


@dataclass(frozen=True, slots=True)
class Block:
    """A wall or a tag: its first count among the rows; ``cut``: a restart follows, so many counts were danced of it."""

    kind: str
    wall: int
    first: int
    counts: int
    facing: int
    looks: str
    title: str
    cut: bool


def class_plan(dance: Dance, version: Version, run: Run, song: SongMap) -> dict[str, Any]:
    """Return the plan of a class as plain dicts and lists. Raises FitError where the song has no beats."""
    from softshoe.fit.timeline import timeline
    from softshoe.teach.at_tempo import at_tempo

    lesson = at_tempo(dance, version, run, song, timeline(dance, run, song), fading=False)
    known = parts(dance, {version.kind: version}, run)
    blocks = list(_blocks(lesson, run))
    rows = list(rows_of(lesson, known))
    made = version.dance
    return {
        "title": dance.title,
        "per": made.counts_per_section,
        "seated": made.seated,
        "view": lesson.passages[0].view,
        "end": round(song.end_s, 3),
        "tempo": round(song.tempo_bpm / run.beats_per_count, 1),
        "rows": [list(asdict(row).values()) for row in rows],
        "blocks": [asdict(block) for block in blocks],
        "sections": _sections(made),
        "ends": run.ending.what if run.ending is not None else "",
        "care": _care(version),
    }


def _blocks(lesson: Lesson, run: Run) -> Iterator[Block]:
    cut = {one.wall for one in run.restarts}
    first = 0
    for passage in lesson.passages:
        danced = [beat for beat in passage.beats if beat.section is not None or (beat.motion and ":tag" in beat.motion)]
        if danced:
            kind = "tag" if passage.title.startswith("Tag") else "wall"
            facing = danced[0].facing_deg
            yield Block(kind, danced[0].wall or 0, first, len(danced), facing, clock(facing), passage.title,
                        kind == "wall" and danced[0].wall in cut)  # fmt: skip
        first += len(passage.beats)


def rows_of(lesson: Lesson, known: Mapping[str, MotionPart], *, every: bool = False) -> Iterator[Row]:
    """Yield the counts of a lesson; its blocks are the passages that dance a wall or a tag, or ``every`` passage."""
    block = -1
    for passage in lesson.passages:
        block += every or _is_danced(passage)
        for beat in passage.beats:
            facing, turn = _looks(beat, known)
            yield Row(round(beat.at_s, 4), beat.label, block, beat.section or 0, facing, turn, beat.now, beat.next_,
                      beat.motion or "", float(beat.count.moment) if beat.count is not None else 0.0)  # fmt: skip


def _is_danced(passage: Passage) -> bool:
    return any(beat.section is not None or (beat.motion and ":tag" in beat.motion) for beat in passage.beats)


def _looks(beat: Beat, known: Mapping[str, MotionPart]) -> tuple[int, int]:
    """Where she looks as a count begins, and how far she turns on it [degrees]; nobody turns on a chair."""
    part = known.get(beat.motion or "")
    if part is None or beat.count is None or part.stance == "seated":
        return beat.facing_deg, 0
    at = beat.count.at
    before = sum(a.turn_deg for a in part.actions if a.at.at < at)
    turn = sum(a.turn_deg for a in part.actions if at <= a.at.at < at + 1)
    return turned(beat.facing_deg, before), turn


def _sections(dance: Dance) -> list[dict[str, Any]]:
    from softshoe.render.sheet_names import section_name

    events = wall_events(dance)
    return [{"number": one.number, "title": section_name(dance, one, events)} for one in dance.sections]


def _care(version: Version) -> list[str]:
    from softshoe.render.sheet_notes import care_note

    return list(care_note(version.dance, version).words)
