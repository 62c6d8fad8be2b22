"""What is called while the dance runs, and when.

Counts ahead: a cue begins four counts before its move (more where four counts pass in under 2.1 s) and ends one count
before it. ``fading`` says how much of each wall is called; turns, tags, restarts and the last time always are. A turn
to another wall is called with what is seen there. Counts in on the last four counts of the intro.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from softshoe.teach.fading import EVERY
from softshoe.teach.laid import BETWEEN_CALLS
from softshoe.teach.voice import Wanted, count_room_s, first_fitting
from softshoe.teach.words import COUNT_WORDS, TURNS, count_word, number_word

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.teach.groups import Group
    from softshoe.teach.laid import Block, Laid

Speech = Literal["both", "counts", "count-in", "none"]
TAG, RESTART, LAST, COUNT_IN, PATTERN, COUNT = range(6)  # ranks of what is said


def spoken(laid: Laid, *, speech: Speech = "both", finish: bool = True) -> Iterator[Wanted]:
    """Yield what wants to be said; some of it gives way to what is said already (see ``voice.one_at_a_time``)."""
    if speech == "none":
        return
    yield from _count_in(laid)
    if speech == "count-in":
        return
    yield from _counts(laid, every=speech == "counts")
    if speech == "counts":
        return
    for index, block in enumerate(laid.blocks):
        before = laid.blocks[index - 1] if index else None
        yield from _before_block(laid, block, before)
        yield from _inside(laid, block)
    if finish:
        yield from _finish(laid)


def _want(laid: Laid, index: int, counts: float, rank: int, *words: str) -> Iterator[Wanted]:
    """Words from moment ``index`` for so many counts, if that lies in the lesson; the first wording that fits."""
    if 0 <= index < len(laid.at_s):
        room = counts * laid.step_s
        yield Wanted(laid.at_s[index], room, first_fitting(words, room), "cue", rank)


def _count_room_s(laid: Laid, index: int) -> float:
    """The room of a spoken count: up to the next one, since the beats of a song are not all equally long."""
    to_next_s = laid.at_s[index + 1] - laid.at_s[index] if index + 1 < len(laid.at_s) else laid.step_s
    return count_room_s(min(laid.step_s, to_next_s))


def _count_in(laid: Laid) -> Iterator[Wanted]:
    half = laid.per_section // 2
    for index, moment in enumerate(laid.moments):
        if moment.part == "intro" and moment.to_go <= half:
            word = COUNT_WORDS[laid.per_section - moment.to_go]
            yield Wanted(laid.at_s[index], _count_room_s(laid, index), word, "count", COUNT_IN)


def _counts(laid: Laid, *, every: bool) -> Iterator[Wanted]:
    """Counts spoken: every count where only counts are wanted; else the first half of each section of some walls."""
    for index, moment in enumerate(laid.moments):
        if moment.part not in ("wall", "tag") or moment.count is None:
            continue
        place = (moment.count.whole - 1) % laid.per_section
        some = laid.stage(moment.wall).counts and place < laid.per_section // 2
        if every or some:
            word = count_word(moment.count.whole, per_section=laid.per_section)
            yield Wanted(laid.at_s[index], _count_room_s(laid, index), word, "count", COUNT)


def _before_block(laid: Laid, block: Block, before: Block | None) -> Iterator[Wanted]:
    """What is called before a wall or tag begins: the first move, a tag, a restart, the last time."""
    first, group = block.first, block.groups[0]
    words, ways = group.words, group.ways(group.words) if laid.stage(block.wall).heads == EVERY else (group.words,)
    early, late = first - 2 * laid.ahead, first - laid.ahead
    last = "last time, " if block.wall == laid.last_wall else ""
    if block.part == "tag":
        yield from _before_tag(laid, block, before)
    elif before is None:
        half = laid.per_section // 2
        yield from _want(laid, first - 2 * half, half - 0.5, PATTERN, *(f"first, {way}" for way in ways))
    elif block.groups[0].first > 1:
        yield from _want(laid, late, laid.call_counts, TAG, f"go on, {words}")
    elif before.part == "wall" and laid.cut(before.wall):
        yield from _want(laid, early, laid.ahead - 0.5, RESTART, f"restart next, {last}{words}")
        yield from _want(laid, first - 2, 1.5, RESTART, "again")
    elif before.part == "tag":
        if before.counts < laid.ahead:  # the tag's own call is still heard when the next wall would be called
            yield from _want(laid, first - 2, 1.5, RESTART, "again")
        yield from _want(laid, late, laid.call_counts, TAG, *(f"{last or 'from the top, '}{way}" for way in ways))
    else:
        yield from _want(laid, late, laid.call_counts, LAST if last else PATTERN, *(f"{last}{way}" for way in ways))


def _before_tag(laid: Laid, block: Block, before: Block | None) -> Iterator[Wanted]:
    """A tag is announced with its counts, then its move is called; where a restart cuts the wall that is said first."""
    many = f"{number_word(block.counts)} counts"
    words: tuple[str, ...] = (f"tag next, {many}",)
    if before is not None and before.part == "wall" and laid.cut(before.wall):
        words = (f"stop early, tag next, {many}", f"stop early, tag, {many}")
    yield from _want(laid, block.first - 2 * laid.ahead, laid.ahead - 0.5, TAG, *words)
    yield from _want(laid, block.first - laid.ahead, laid.call_counts, TAG, block.groups[0].words)


def _inside(laid: Laid, block: Block) -> Iterator[Wanted]:
    """Patterns inside a wall, as many as its stage calls, and every turn."""
    if block.part != "wall":
        return
    stage, turning = laid.stage(block.wall), [group for group in block.groups if group.turns]
    for group in block.groups[1:]:
        if not (stage.leads(group.first, per_section=laid.per_section) or group.turns):
            continue
        index = block.first + group.first - block.groups[0].first
        ahead = laid.ahead if block.first != laid.blocks[0].first else min(laid.ahead, index - block.first)
        room = laid.call_counts if ahead == laid.ahead else ahead - 1 - BETWEEN_CALLS
        facing = laid.next_facing(block.wall) if turning and group is turning[-1] else None
        words = _with_wall(group, laid.room.wall(facing)) if facing is not None else ()
        plain = group.ways(group.words) if stage.heads == EVERY else (_shorter(group),)
        yield from _want(laid, index - ahead, room, PATTERN, *words, *plain)


def _shorter(group: Group) -> str:
    """The first thing of a pattern and, where it turns, the turn: "vine left, quarter left"."""
    first, *rest = group.words.split(", ")
    return ", ".join([first, *(words for words in rest if words.startswith(tuple(TURNS.values())))])


def _with_wall(group: Group, wall: str) -> tuple[str, ...]:
    """Ways to call a group that turns to another wall, the fullest first; the wall is never what is left out."""
    turn = next((words for words in group.words.split(", ") if any(share in words for share in TURNS.values())), "")
    ways = (group.words, _shorter(group), turn)
    return (*(f"{words}, to {wall}" for words in dict.fromkeys(ways) if words), f"turn to {wall}")


def _finish(laid: Laid) -> Iterator[Wanted]:
    """ "And finish" before the last action of the song."""
    last = laid.blocks[-1]
    spare = last.first + last.counts < len(laid.moments)
    index = last.first + last.counts - (0 if spare else 1)
    shape = "and finish" if laid.run.ending and laid.run.ending.actions else "and finish, arms open"
    yield from _want(laid, index - laid.ahead, laid.call_counts, LAST, shape)
