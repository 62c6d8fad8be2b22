"""The rail of walls on a film: read from the lesson itself, so that it shows what this film really dances."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.look_rail import Link, rail_marks

if TYPE_CHECKING:
    from softshoe.render.look_rail import LinkKind
    from softshoe.render.screen_layout import Layout
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark
    from softshoe.teach.lesson import Beat, Lesson, Passage

    Rail = tuple[tuple[Link, float], ...]
    """Every link with the second at which it begins."""


def rail_of(lesson: Lesson) -> Rail:
    """Return the links of a lesson on a song: walls, tags, walls cut by a restart, the ending; each with its start [s].

    Empty where fewer than two walls are danced."""
    walls = [passage for passage in lesson.passages if any(beat.wall and beat.section for beat in passage.beats)]
    tags = [p for p in lesson.passages if any(_part(beat).startswith("tag") for beat in p.beats)]
    if len(walls) < 2:
        return ()
    full = max(_whole_counts(passage) for passage in walls)
    found = [(_wall_link(passage, full, last=passage is walls[-1]), passage.start_s) for passage in walls]
    found += [(Link("tag"), passage.start_s) for passage in tags]
    ends = [beat.at_s for beat in walls[-1].beats if _part(beat) in ("ending", "close")]
    found += [(Link("end"), ends[0])] if ends else []
    return tuple(sorted(found, key=lambda one: one[1]))


def _wall_link(passage: Passage, full: int, *, last: bool) -> Link:
    number = next(str(beat.wall) for beat in passage.beats if beat.wall)
    kind: LinkKind = "cut" if not last and _whole_counts(passage) < full else "wall"
    return Link(kind, number)


def _whole_counts(passage: Passage) -> int:
    return sum(beat.section is not None and beat.count is not None and beat.label.isdigit() for beat in passage.beats)


def _part(beat: Beat) -> str:
    return str(beat.motion or "").partition(":")[2]


def on_rail(rail: Rail, passage: Passage) -> bool:
    """Tell whether a passage is one of the rail's."""
    return any(passage.start_s <= start_s < passage.end_s for _, start_s in rail)


def screen_rail(rail: Rail, shown: Shown, layout: Layout) -> list[Mark]:
    """Return the rail along the screen's edge, while a part of it is danced."""
    if not rail or shown.beat is None or not on_rail(rail, shown.passage):
        return []
    now_s = shown.beat.at_s + 1e-6
    present = max((k for k, (_, start_s) in enumerate(rail) if start_s <= now_s), default=-1)
    x, top, longest = layout.rail
    return rail_marks([link for link, _ in rail], x, top, longest=longest, present=present)[0]
