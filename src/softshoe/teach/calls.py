"""What is called while the dance runs, and when.

Counts ahead: a cue begins four counts before its move (more where four counts pass in under 2.1 s) and ends one count
before it. Walls 1 and 2 have every pattern, walls 3 and 4 the first of each section with counts, later walls only
turns, tags, restarts and the last time; without fading they are called like the
fourth. Counts in on the last four counts of the intro.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from softshoe.teach.laid import BETWEEN_CALLS
from softshoe.teach.voice import Wanted, count_room_s, fitting
from softshoe.teach.words import COUNT_WORDS, TURNS, count_word

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.teach.groups import Group
    from softshoe.teach.laid import Block, Laid

Speech = Literal["both", "counts", "none"]
FULL_WALLS = 2
TAG, RESTART, LAST, COUNT_IN, PATTERN, COUNT = range(6)  # ranks of what is said


def spoken(laid: Laid, *, speech: Speech = "both", finish: bool = True) -> Iterator[Wanted]:
    """Yield what wants to be said; some of it gives way to what is said already (see ``voice.one_at_a_time``)."""
    if speech == "none":
        return
    yield from _count_in(laid)
    yield from _counts(laid, every=speech == "counts")
    if speech == "counts":
        return
    for index, block in enumerate(laid.blocks):
        before = laid.blocks[index - 1] if index else None
        yield from _before_block(laid, block, before)
        yield from _inside(laid, block)
    if finish:
        yield from _finish(laid)


def _want(laid: Laid, index: int, counts: float, words: str, rank: int) -> Iterator[Wanted]:
    """Words from moment ``index`` for so many counts, if that lies in the lesson."""
    if 0 <= index < len(laid.at_s):
        room = counts * laid.step_s
        yield Wanted(laid.at_s[index], room, fitting(words, room), "cue", rank)


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
    """Counts spoken: every count where only counts are wanted; else the first half of each section in walls 3 and 4."""
    for index, moment in enumerate(laid.moments):
        if moment.part not in ("wall", "tag") or moment.count is None:
            continue
        place = (moment.count.whole - 1) % laid.per_section
        some = FULL_WALLS < moment.wall <= laid.some_walls and place < laid.per_section // 2
        if every or some:
            word = count_word(moment.count.whole, per_section=laid.per_section)
            yield Wanted(laid.at_s[index], _count_room_s(laid, index), word, "count", COUNT)


def _before_block(laid: Laid, block: Block, before: Block | None) -> Iterator[Wanted]:
    """What is called before a wall or tag begins: the first move, a tag, a restart, the last time."""
    first, words = block.first, block.groups[0].words
    if block.part == "tag":
        yield from _want(
            laid, first - 2 * laid.ahead, laid.ahead - 0.5, f"tag next, {_number(block.counts)} counts", TAG
        )
        yield from _want(laid, first - laid.ahead, laid.call_counts, words, TAG)
    elif before is None:
        half = laid.per_section // 2
        yield from _want(laid, first - 2 * half, half - 0.5, f"first, {words}", PATTERN)
    elif block.groups[0].first > 1:
        yield from _want(laid, first - laid.ahead, laid.call_counts, f"go on, {words}", TAG)
    elif _is_cut(laid, before):
        yield from _want(laid, first - 2 * laid.ahead, laid.ahead - 0.5, f"restart next, {words}", RESTART)
        yield from _want(laid, first - 2, 1.5, "again", RESTART)
    elif block.wall == laid.last_wall:
        yield from _want(laid, first - laid.ahead, laid.call_counts, f"last time, {words}", LAST)
    elif before.part == "tag":
        yield from _want(laid, first - laid.ahead, laid.call_counts, f"from the top, {words}", TAG)
    elif block.wall <= laid.some_walls:
        yield from _want(laid, first - laid.ahead, laid.call_counts, words, PATTERN)


def _inside(laid: Laid, block: Block) -> Iterator[Wanted]:
    """Patterns inside a wall: every one, then the first of each section, then only turns."""
    for group in block.groups[1:]:
        leads = (group.first - 1) % laid.per_section == 0
        wanted = block.wall <= FULL_WALLS or (leads and block.wall <= laid.some_walls) or group.turns
        if block.part == "wall" and wanted:
            index = block.first + group.first - block.groups[0].first
            words = group.words if block.wall <= FULL_WALLS else _shorter(group)
            ahead = laid.ahead if block.first != laid.blocks[0].first else min(laid.ahead, index - block.first)
            room = laid.call_counts if ahead == laid.ahead else ahead - 1 - BETWEEN_CALLS
            yield from _want(laid, index - ahead, room, words, PATTERN)


def _shorter(group: Group) -> str:
    """The first thing of a pattern and, where it turns, the turn: "vine left, quarter left"."""
    first, *rest = group.words.split(", ")
    return ", ".join([first, *(words for words in rest if words.startswith(tuple(TURNS.values())))])


def _finish(laid: Laid) -> Iterator[Wanted]:
    """ "And finish" before the last action of the song."""
    last = laid.blocks[-1]
    spare = last.first + last.counts < len(laid.moments)
    index = last.first + last.counts - (0 if spare else 1)
    yield from _want(laid, index - laid.ahead, laid.call_counts, "and finish, arms open", LAST)


def _is_cut(laid: Laid, block: Block) -> bool:
    return block.part == "wall" and any(r.wall == block.wall for r in laid.run.restarts)


def _number(counts: int) -> str:
    return COUNT_WORDS[counts - 1] if counts <= len(COUNT_WORDS) else str(counts)
