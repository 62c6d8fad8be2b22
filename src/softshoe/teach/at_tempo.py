"""The dance at tempo, on the song: what films of the whole dance and practice tracks say and show, and when.

Counts ahead: a cue begins four counts before its move (more where four counts pass in under 2.1 s) and ends one count
before it. Walls 1 and 2 have every pattern, walls 3 and 4 the first of each section with counts, later walls only
turns, tags, restarts and the last time. Counts in on the last four counts of the intro.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Literal

from softshoe.dance.counts import Count
from softshoe.teach.groups import Group, group_counts, groups
from softshoe.teach.lesson import Beat, Lesson, Passage, View
from softshoe.teach.parts import CLOSE_COUNTS, tag_actions_for
from softshoe.teach.voice import Wanted, captions_of, count_room_s, fitting, one_at_a_time
from softshoe.teach.words import COUNT_WORDS, count_word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.fit.timeline import Moment
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import FigureKind

Speech = Literal["both", "counts", "none"]
CUE_S = 2.1  # seated older dancers need this long from cue to move
FULL_WALLS, SOME_WALLS = 2, 4
TAG, RESTART, LAST, COUNT_IN, PATTERN, COUNT = range(6)  # ranks of what is said


@dataclass(frozen=True, slots=True)
class _Block:
    """One wall or tag in the run of counts: where it starts among the moments, and its groups."""

    part: Literal["wall", "tag"]
    wall: int
    tag: int | None
    first: int
    counts: int
    groups: tuple[Group, ...]


@dataclass(frozen=True, slots=True)
class _Score:
    """Everything the speaking and showing need: seconds of every moment of the lesson, blocks, words."""

    version: Version
    run: Run
    moments: Sequence[Moment]
    at_s: tuple[float, ...]
    blocks: tuple[_Block, ...]
    per_section: int
    speech: Speech

    @property
    def step_s(self) -> float:
        """The usual length of a count in seconds."""
        return (self.at_s[-1] - self.at_s[0]) / max(1, len(self.at_s) - 1)

    @property
    def ahead(self) -> int:
        """How many counts before its move a cue begins."""
        return max(self.per_section // 2, ceil(CUE_S / self.step_s))

    @property
    def last_wall(self) -> int:
        """The number of the last wall."""
        return self.run.walls[-1].wall


def at_tempo(
    dance: Dance,
    version: Version,
    run: Run,
    song: SongMap,
    timeline: Sequence[Moment],
    *,
    pace: float = 1.0,
    speech: Speech = "both",
    card_s: float = 0.0,
) -> Lesson:
    """Return the lesson of the whole dance on the song.

    ``pace`` is the share of the song's speed (0.7, 0.85, 1.0); ``speech`` whether cues and counts are spoken, counts
    only, or nothing; ``card_s`` seconds of a title card before the song. Keys of motions are those of ``parts.parts``.
    """
    at_s = tuple(card_s + moment.at_s / pace for moment in timeline)
    blocks = _blocks(dance, version, run, timeline)
    score = _Score(version, run, timeline, at_s, blocks, version.dance.counts_per_section, speech)
    length_s = card_s + song.end_s / pace
    cues = one_at_a_time(_spoken(score))
    beats = tuple(_beats(score, length_s))
    return Lesson(
        title=dance.title,
        length_s=length_s,
        passages=tuple(_passages(dance, score, beats, card_s=card_s, length_s=length_s)),
        cues=cues,
        captions=captions_of(cues, length_s=length_s, music_s=card_s),
        song_start_s=card_s,
        pace=pace,
    )


def _blocks(dance: Dance, version: Version, run: Run, timeline: Sequence[Moment]) -> tuple[_Block, ...]:
    size = group_counts(version.dance)
    found: list[_Block] = []
    for index, moment in enumerate(timeline):
        if moment.part not in ("wall", "tag") or (found and _same(timeline[index - 1], moment)):
            continue
        length = _length(timeline, index)
        first = moment.count.whole if moment.count else 1
        if moment.part == "tag" and moment.tag is not None:
            actions = tag_actions_for(dance, version, run.tags[moment.tag])
            called = groups(actions, length, size=max(size, length))
        else:
            called = tuple(g for g in groups(version.dance.actions, first + length - 1, size=size) if g.first >= first)
        found.append(_Block("wall" if moment.part == "wall" else "tag", moment.wall, moment.tag, index, length, called))
    return tuple(found)


def _same(before: Moment, moment: Moment) -> bool:
    return (before.part, before.wall, before.tag) == (moment.part, moment.wall, moment.tag)


def _length(timeline: Sequence[Moment], index: int) -> int:
    end = index
    while end < len(timeline) and _same(timeline[index], timeline[end]):
        end += 1
    return end - index


# What is said


def _spoken(score: _Score) -> Iterator[Wanted]:
    if score.speech == "none":
        return
    yield from _count_in(score)
    yield from _counts(score)
    if score.speech == "counts":
        return
    for index, block in enumerate(score.blocks):
        before = score.blocks[index - 1] if index else None
        yield from _before_block(score, block, before)
        yield from _inside(score, block)
    yield from _finish(score)


def _want(score: _Score, index: int, counts: float, words: str, rank: int) -> Iterator[Wanted]:
    """Words from moment ``index`` for so many counts, if that lies in the lesson."""
    if 0 <= index < len(score.at_s):
        room = counts * score.step_s
        yield Wanted(score.at_s[index], room, fitting(words, room), "cue", rank)


def _count_in(score: _Score) -> Iterator[Wanted]:
    half = score.per_section // 2
    for index, moment in enumerate(score.moments):
        if moment.part == "intro" and moment.to_go <= half:
            word = COUNT_WORDS[score.per_section - moment.to_go]
            yield Wanted(score.at_s[index], count_room_s(score.step_s), word, "count", COUNT_IN)


def _counts(score: _Score) -> Iterator[Wanted]:
    """Counts spoken: every count where only counts are wanted; else the first half of each section in walls 3 and 4."""
    for index, moment in enumerate(score.moments):
        if moment.part not in ("wall", "tag") or moment.count is None:
            continue
        place = (moment.count.whole - 1) % score.per_section
        some = FULL_WALLS < moment.wall <= SOME_WALLS and place < score.per_section // 2
        if score.speech == "counts" or some:
            word = count_word(moment.count.whole, per_section=score.per_section)
            yield Wanted(score.at_s[index], count_room_s(score.step_s), word, "count", COUNT)


def _before_block(score: _Score, block: _Block, before: _Block | None) -> Iterator[Wanted]:
    """What is called before a wall or tag begins: the first move, a tag, a restart, the last time."""
    first, words = block.first, block.groups[0].words
    if block.part == "tag":
        yield from _want(
            score, first - 2 * score.ahead, score.ahead - 0.5, f"tag next, {_number(block.counts)} counts", TAG
        )
        yield from _want(score, first - score.ahead, score.ahead - 1, words, TAG)
    elif before is None:
        half = score.per_section // 2
        yield from _want(score, first - 2 * half, half - 0.5, f"first, {words}", PATTERN)
    elif block.groups[0].first > 1:
        yield from _want(score, first - score.ahead, score.ahead - 1, f"go on, {words}", TAG)
    elif _is_cut(score, before):
        yield from _want(score, first - 2 * score.ahead, score.ahead - 0.5, f"restart next, {words}", RESTART)
        yield from _want(score, first - 2, 1.5, "again", RESTART)
    elif block.wall == score.last_wall:
        yield from _want(score, first - score.ahead, score.ahead - 1, f"last time, {words}", LAST)
    elif before.part == "tag":
        yield from _want(score, first - score.ahead, score.ahead - 1, f"from the top, {words}", TAG)
    elif block.wall <= SOME_WALLS:
        yield from _want(score, first - score.ahead, score.ahead - 1, words, PATTERN)


def _inside(score: _Score, block: _Block) -> Iterator[Wanted]:
    """Patterns inside a wall: every one, then the first of each section, then only turns."""
    for group in block.groups[1:]:
        leads = (group.first - 1) % score.per_section == 0
        wanted = block.wall <= FULL_WALLS or (leads and block.wall <= SOME_WALLS) or group.turns
        if block.part == "wall" and wanted:
            index = block.first + group.first - block.groups[0].first
            words = group.words if block.wall <= FULL_WALLS else group.words.split(", ")[0]
            yield from _want(score, index - score.ahead, score.ahead - 1, words, PATTERN)


def _finish(score: _Score) -> Iterator[Wanted]:
    """ "And finish" before the last action of the song."""
    last = score.blocks[-1]
    spare = last.first + last.counts < len(score.moments)
    index = last.first + last.counts - (0 if spare else 1)
    yield from _want(score, index - score.ahead, score.ahead - 1, "and finish, arms open", LAST)


def _is_cut(score: _Score, block: _Block) -> bool:
    return block.part == "wall" and any(r.wall == block.wall for r in score.run.restarts)


def _number(counts: int) -> str:
    return COUNT_WORDS[counts - 1] if counts <= len(COUNT_WORDS) else str(counts)


# What is shown


def _beats(score: _Score, length_s: float) -> Iterator[Beat]:
    ends = (*score.at_s[1:], min(length_s, score.at_s[-1] + score.step_s))
    names = _names(score)
    after = 0
    for index, moment in enumerate(score.moments):
        step_s = max(ends[index] - score.at_s[index], 0.05)
        after += moment.part == "after"
        yield _beat(score, moment, score.at_s[index], step_s, names, index, after)


def _names(score: _Score) -> list[tuple[str, str]]:
    """For every moment: what is danced now and what comes next, in few words."""
    labelled: list[str] = ["" for _ in score.moments]
    for block in score.blocks:
        for group in block.groups:
            start = block.first + group.first - block.groups[0].first
            words = f"tag: {group.words}" if block.part == "tag" else group.words
            labelled[start : start + group.counts] = [words] * group.counts
    starts = [block.first + g.first - block.groups[0].first for block in score.blocks for g in block.groups]
    following = [next((s for s in starts if s > index), None) for index in range(len(score.moments))]
    return [(now, labelled[nxt] if nxt is not None else "") for now, nxt in zip(labelled, following, strict=True)]


def _beat(
    score: _Score, moment: Moment, at_s: float, step_s: float, names: list[tuple[str, str]], index: int, after: int
) -> Beat:
    per = score.per_section
    if moment.part == "intro":
        label = str(per - (moment.to_go - 1) % per)
        return Beat(at_s, step_s, label, next_=names[index][1] if moment.to_go <= per else "")
    kind = score.version.kind
    if moment.part == "after" or moment.count is None:
        shape = Count(Fraction(min(after, CLOSE_COUNTS)))
        facing = 0 if score.version.dance.seated else moment.facing_deg
        return Beat(at_s, step_s, "", f"{kind}:close", shape, wall=moment.wall, facing_deg=facing, now="finish")
    section = score.version.dance.section_at(moment.count) if moment.part == "wall" else None
    return Beat(
        at_s=at_s,
        step_s=step_s,
        label=str((moment.count.whole - 1) % per + 1),
        motion=f"{kind}:dance" if moment.part == "wall" else f"{kind}:tag{moment.tag}",
        count=moment.count,
        section=section.number if section else None,
        wall=moment.wall,
        facing_deg=0 if score.version.dance.seated else moment.facing_deg,
        now=names[index][0],
        next_=names[index][1],
    )


def _passages(
    dance: Dance, score: _Score, beats: tuple[Beat, ...], *, card_s: float, length_s: float
) -> Iterator[Passage]:
    figure: FigureKind = "seated" if score.version.dance.seated else "standing"
    view: View = "behind" if any(action.turn_deg for action in score.version.dance.actions) else "mirror"
    if card_s > 0:
        yield Passage(dance.title, 0.0, card_s, figure, view, (), (dance.title,))
    starts = [(0, "Intro"), *((block.first, _title(block)) for block in score.blocks)]
    ends = [first for first, _ in starts[1:]] + [len(beats)]
    for (first, title), last in zip(starts, ends, strict=True):
        start_s = card_s if first == 0 else score.at_s[first]
        end_s = length_s if last == len(beats) else score.at_s[last]
        yield Passage(title, start_s, end_s, figure, view, beats[first:last])


def _title(block: _Block) -> str:
    return f"Wall {block.wall}" if block.part == "wall" else f"Tag after wall {block.wall}"
