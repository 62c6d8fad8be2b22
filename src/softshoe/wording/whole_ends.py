"""Tags, restarts and endings as the network tells them with the whole sheet, beside those that the rules found.

They are taken where the network is sure of them, the sections are danced as it tells them, and nothing is hidden that
is the author's to mend. What was taken is told in a note.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from softshoe.errors import Finding
from softshoe.wording.read_once import read_whole
from softshoe.wording.retell_codes import AFTER, ALL, ENDING, MANY, RESTART, TAG, THEN, WALL, codes_of
from softshoe.wording.retell_weigh import alike, events_in_actions
from softshoe.wording.retold import said

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.wording.reading import Reading
    from softshoe.wording.whole_ask import End, Way

    Key = tuple[str, int, tuple[str, ...], str, int]
    Steps = Sequence[Mapping[str, Any]]

SURE = 0.8
FOR_AUTHORS = frozenset(("tag-length",))


def codes_of_ends(dance: Dance) -> list[str]:
    """Return the codes of a dance's tags, restarts and endings, in the order of the lines that tell them."""
    rows = sorted(((line, key, steps) for key, line, steps in _rows(dance)), key=lambda row: row[0])
    return [code for _, key, steps in rows for code in _codes(key, steps, dance.counts)]


def _codes(key: Key, steps: Steps, counts: int) -> list[str]:
    kind, after, walls, then, many = key
    out = [kind, f"{AFTER}{ALL if after == counts else after}", *(f"{WALL}{wall}" for wall in walls)]
    out += [f"{THEN}{then}"] if then else []
    return [*out, f"{MANY}{many}", *codes_of(steps)[:-1]] if kind != RESTART else out


def _rows(dance: Dance) -> list[tuple[Key, int, Steps]]:
    """Return what a dance's walls leave out or add, each with its line and its steps."""
    tags = [((TAG, t.after_count, _names(t.walls), t.then, t.counts), t.line, _steps(t.actions)) for t in dance.tags]
    left = [((RESTART, r.after_count, _names(r.walls), "", 0), r.line, ()) for r in dance.restarts]
    last = [((ENDING, e.after_count, (str(e.wall),), "", e.counts), e.line, _steps(e.actions)) for e in dance.endings]
    return [*tags, *left, *last]


def _names(walls: Sequence[int]) -> tuple[str, ...]:
    return tuple(map(str, sorted(walls)))


def _steps(actions: Sequence[Action]) -> Steps:
    return events_in_actions(actions, 1)


def _key(end: End, counts: int) -> Key:
    after = counts if end.after is None else end.after
    many = end.steps.counts if end.steps is not None else 0
    return end.kind, after, tuple(sorted(end.walls, key=lambda wall: (len(wall), wall))), end.then, many


def are_told(dance: Dance, ends: Sequence[End]) -> bool:
    """Return whether a dance has just the tags, restarts and endings that are told."""
    rows = _rows(dance)
    told = [(_key(end, dance.counts), end.steps.events if end.steps is not None else ()) for end in ends]
    for key, steps in told:
        there = next((row for row in rows if row[0] == key and alike(row[2], steps)), None)
        if there is None:
            return False
        rows.remove(there)
    return not rows


def with_ends(text: str, found: Reading, way: Way) -> Reading:
    """Return a sheet that dances the sections told with the tags, restarts and endings told, where they are sure."""
    if way.ends is None or are_told(found.dance, way.ends) or way.closed < SURE:
        return found
    if any(end.sure < SURE for end in way.ends):
        return found
    before, other = read_whole(text, way.parts), read_whole(text, way.parts, way.ends)
    if before is None or other is None or not are_told(other.dance, way.ends):
        return found
    gone = [f for f in before.dance.findings if f not in other.dance.findings]
    new = [f for f in other.dance.findings if f not in before.dance.findings]
    if any(f.severity == "error" for f in new) or any(f.kind in FOR_AUTHORS for f in gone):
        return found
    findings = [f for f in found.dance.findings if f not in gone]
    dance = replace(
        found.dance, tags=other.dance.tags, restarts=other.dance.restarts, endings=other.dance.endings,
        kept=tuple(row for row in found.dance.kept if row in other.dance.kept),
        findings=(*findings, *new, *map(_note, way.ends)),
    )  # fmt: skip
    return replace(found, dance=dance, paints=(*found.paints, *((*end.words.span, "event") for end in way.ends)))


def _note(end: End) -> Finding:
    where = "at the end" if end.after is None else f"after count {end.after}"
    steps = f": {said(end.steps)}" if end.steps is not None else ""
    message = f"Read as {_article(end.kind)} {where} of {_walls(end.walls)}{steps}."
    return Finding("note", "inferred", end.words.lines[0][2], None, message, None)


def _article(kind: str) -> str:
    return f"an {kind}" if kind == ENDING else f"a {kind}"


def _walls(walls: Sequence[str]) -> str:
    if walls == ("last",):
        return "the last wall"
    first = ", ".join(walls[:-1])
    return f"walls {first} and {walls[-1]}" if first else f"wall {walls[0]}"
