"""Tags, restarts and endings of a sheet that counts nothing: their lines are taken out before its steps are read.

A walkthrough is read as runs of words, section after section; what a wall adds or leaves out would be danced as one
section more, or lost. A line is taken by its first words ("Tag after wall 3: …", "(restart here on wall 3)"), or where
it names a wall and holds steps of its own; steps may stand on the lines straight below it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.added_steps import goes_on_behind, inline_steps, moves, steps_of, steps_told
from softshoe.wording.begins import first_count
from softshoe.wording.blocks import Block
from softshoe.wording.extras import AT_END, LAST_WALL, placed, walls_in
from softshoe.wording.headings import heading_of, kind_of
from softshoe.wording.items import items_of
from softshoe.wording.leaving import adds, ends_song, leaves_off, leaving_amid, longer
from softshoe.wording.spoken import natural_length, run_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lines import Line

MOST_BELOW = 4  # lines of steps below a tag's heading
Restart = tuple[int, str, int, int]


class Apart(NamedTuple):
    """What stands apart from the walls' own steps, and the lines that are left."""

    blocks: list[Block]
    restarts: list[Restart]
    left: list[Line]


def extra_kind(text: str) -> str:
    """Return "tag", "ending" or "restart" for a line that tells of one; "" for any other.

    >>> [extra_kind(t) for t in ("Tag after wall 3: sway, sway", "After wall 2: stomp R, stomp L", "Stomp R, stomp L")]
    ['tag', 'tag', '']
    """
    kind = kind_of(text)
    if kind in ("tag", "ending"):
        return kind
    told = added(text)
    return told or ("restart" if kind == "restart" or leaves_off(text) else "")


def added(text: str) -> str:
    """Return "tag" or "ending" for a line that names its wall and holds the steps that are added; "" for any other."""
    if ends_song(text) and steps_told(text):
        return "ending"
    told = longer(text)
    at = inline_steps(text) if told else None
    sure = LAST_WALL.search(text) or adds(text) or AT_END.search(text)
    over = adds(text) and text.rstrip().endswith(":")  # "After wall 3, an extra 8:" over its steps
    return told if over or (at is not None and sure and moves(text[at:])) else ""


def tells_extra(text: str, *, danced: bool) -> bool:
    """Return whether a line names its wall and tells what it adds or leaves out, though it was taken for another.

    A line that was taken for steps (``danced``) may hold a remark that a wall leaves off.
    """
    kind = extra_kind(text)
    if kind in ("tag", "ending"):
        return bool(walls_in(text) or LAST_WALL.search(text)) and first_count(text) is None
    return kind == "restart" and bool(walls_in(text)) and not (danced and moves(text))


def extras_apart(lines: Sequence[Line], *, begun: bool = False) -> Apart:
    """Take the lines of tags, restarts and endings out of a sheet; ``begun``: steps stand above them."""
    out = Apart([], [], [])
    through = -1
    for i, line in enumerate(lines):
        if i <= through:
            continue
        kind = extra_kind(line.text)
        if kind == "restart" and (begun or _is_placed(line.text)):
            out.restarts.append((line.number, line.text, -1, -1))
            continue
        if kind in ("tag", "ending") and (found := _block(kind, lines, i)) is not None:
            block, through = found
            out.blocks.append(block)
            continue
        begun = begun or _is_danced(line)
        out.left.append(_without_restart(line, out.restarts))
    return out


def _is_danced(line: Line) -> bool:
    """Return whether a line holds steps, and is neither a heading nor tells of a tag or restart itself."""
    if heading_of(line.text) is not None or extra_kind(line.text):
        return False
    return run_of(line.text, line=line.number, offset=0) is not None and moves(line.text)


def _is_placed(text: str) -> bool:
    where = placed(text)
    return bool(where.walls) and (where.after is not None or where.section is not None)


def _block(kind: str, lines: Sequence[Line], i: int) -> tuple[Block, int] | None:
    """Return a tag or an ending with its steps, and its last line; None where it has none, as in a header."""
    line = lines[i]
    at = inline_steps(line.text)
    span = (line.start, line.start + len(line.text))
    if at is not None:
        words, steps = steps_of(line.text, at)
        items = items_of(steps, line=line.number, offset=line.start + at)
        return (Block(kind, line.number, words, items=items, span=span), i) if moves(steps) else None
    block = Block(kind, line.number, line.text, span=span)
    asked = placed(line.text).length
    come, last = 0, i
    for k in range(i + 1, min(i + 1 + MOST_BELOW, len(lines))):
        said, steps = goes_on_behind(lines[k].text)
        below = lines[k]._replace(text=steps)
        if below.number > lines[k - 1].number + 1 or not _is_danced(below):
            break
        if come and (asked is None or come >= asked):
            break
        block.text += said
        block.items += items_of(below.text, line=below.number, offset=below.start)
        come = sum(map(natural_length, block.items))
        last = k
    return (block, last) if block.items else None


def _without_restart(line: Line, restarts: list[Restart]) -> Line:
    """A remark amid a line of steps that a wall leaves off here is taken out; blanks keep its place."""
    span = leaving_amid(line.text)
    if span is None:
        return line
    start, end = span
    restarts.append((line.number, line.text[start:end], -1, -1))
    return line._replace(text=line.text[:start] + " " * (end - start) + line.text[end:])
