"""Tags and restarts that name no wall: nothing is invented silently, and nothing without a wall is handed on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.errors import Finding

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance, Tag

SAY_IT = "Say the wall: “on wall 3”."


def with_walls(dance: Dance) -> tuple[Dance, list[Finding]]:
    """Return the dance with a wall for every tag and restart, and what was found.

    A restart without a wall at the end of the dance only marks its end; elsewhere it is left out and told. A tag
    without a wall keeps its steps: it is taken after wall 1, and told.
    """
    findings = [
        _told(r.line, r.after_count, "The sheet does not say on which wall it restarts; the restart is left out.")
        for r in dance.restarts
        if not r.walls and r.after_count < dance.counts
    ]
    findings += [
        _told(t.line, t.after_count, "The sheet does not say after which wall the tag comes; wall 1 was taken.")
        for t in dance.tags
        if not t.walls
    ]
    restarts = tuple(restart for restart in dance.restarts if restart.walls)
    return replace(dance, restarts=restarts, tags=tuple(_placed(tag) for tag in dance.tags)), findings


def _placed(tag: Tag) -> Tag:
    return tag if tag.walls else replace(tag, walls=(1,))


def _told(line: int, after_count: int, message: str) -> Finding:
    return Finding("warning", "ambiguous", line or None, str(after_count), message, SAY_IT)
