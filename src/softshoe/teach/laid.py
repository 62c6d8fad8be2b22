"""A stretch of counts laid out for teaching: seconds of every count, walls and tags with the groups that are called."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Literal

from softshoe.adapt.adapt import remade_actions
from softshoe.fit.tags import freeing_action
from softshoe.teach.fading import Stage, stage
from softshoe.teach.groups import Group, group_counts, groups
from softshoe.teach.parts import tag_actions_for
from softshoe.teach.patterns import pattern_words
from softshoe.teach.room import Room

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.fit.timeline import Moment

CUE_S = 2.1  # seated older dancers need this long from cue to move
BETWEEN_CALLS = 0.35  # of a count
USUAL_ROOM = Room()


@dataclass(frozen=True, slots=True)
class Block:
    """One wall or tag in the run of counts: where it starts among the moments, and its groups; a tag's actions too."""

    part: Literal["wall", "tag"]
    wall: int
    tag: int | None
    first: int
    counts: int
    groups: tuple[Group, ...]
    actions: tuple[Action, ...] = ()


@dataclass(frozen=True, slots=True)
class Laid:
    """Everything the speaking and showing need: seconds of every moment of the lesson, blocks, words."""

    version: Version
    run: Run
    moments: Sequence[Moment]
    at_s: tuple[float, ...]
    blocks: tuple[Block, ...]
    per_section: int
    room: Room = USUAL_ROOM
    fading: bool = True

    @property
    def step_s(self) -> float:
        """The usual length of a count in seconds."""
        return (self.at_s[-1] - self.at_s[0]) / max(1, len(self.at_s) - 1)

    @property
    def ahead(self) -> int:
        """How many counts before its move a cue begins."""
        return max(self.per_section // 2, ceil(CUE_S / self.step_s))

    @property
    def call_counts(self) -> float:
        """How many counts a call may last: it is over one count before its move, and before the next call begins."""
        return min(self.ahead - 1, self.per_section / 2 - BETWEEN_CALLS)

    @property
    def last_wall(self) -> int:
        """The number of the last wall."""
        return self.run.walls[-1].wall

    def stage(self, wall: int) -> Stage:
        """How much is called in a wall."""
        return stage(wall, fading=self.fading)

    def cut(self, wall: int) -> bool:
        """True where a restart cuts the wall."""
        return any(restart.wall == wall for restart in self.run.restarts)

    def next_facing(self, wall: int) -> int | None:
        """Return where the wall after this one looks, None where it is the last or nobody turns."""
        facings = {one.wall: one.facing_deg for one in self.run.walls}
        turns = not self.version.dance.seated and wall + 1 in facings and facings[wall + 1] != facings[wall]
        return facings[wall + 1] if turns else None


def laid_out(
    dance: Dance,
    version: Version,
    run: Run,
    moments: Sequence[Moment],
    at_s: tuple[float, ...],
    *,
    room: Room = USUAL_ROOM,
    fading: bool = True,
) -> Laid:
    """Lay out the counts of a run; ``at_s`` are the lesson's seconds of the ``moments``.

    ``room`` names the walls; ``fading``: later walls are called less (see ``fading``).
    """
    blocks = _blocks(dance, version, run, moments)
    return Laid(version, run, moments, at_s, blocks, version.dance.counts_per_section, room, fading)


def _blocks(dance: Dance, version: Version, run: Run, timeline: Sequence[Moment]) -> tuple[Block, ...]:
    size = group_counts(version.dance)
    found: list[Block] = []
    for index, moment in enumerate(timeline):
        if moment.part not in ("wall", "tag") or (found and _same(timeline[index - 1], moment)):
            continue
        length = _length(timeline, index)
        first = moment.count.whole if moment.count else 1
        if moment.part == "tag" and moment.tag is not None:
            actions = tag_actions_for(dance, version, run.tags[moment.tag])
            called = groups(actions, length, size=max(size, length))
            found.append(Block("tag", moment.wall, moment.tag, index, length, called, actions))
        else:
            called = tuple(_wall_groups(dance, version, run, moment.wall, first=first, last=first + length - 1))
            found.append(Block("wall", moment.wall, None, index, length, called))
    return tuple(found)


def _wall_groups(dance: Dance, version: Version, run: Run, wall: int, *, first: int, last: int) -> Iterator[Group]:
    """The groups of a wall from count ``first`` to ``last``; a written ending is one group of its own."""
    size = group_counts(version.dance)
    ending = run.ending if run.ending and run.ending.actions and run.ending.wall == wall else None
    usual = ending.after_count if ending else last
    yield from (g for g in groups(_danced(version.dance, run, wall), usual, size=size) if g.first >= first)
    if ending:
        actions = remade_actions(dance, version.kind, ending.actions)
        yield Group(usual + 1, ending.counts, pattern_words(actions), turns=True)


def _danced(dance: Dance, run: Run, wall: int) -> Sequence[Action]:
    """The actions of a wall, the last before a restart altered where that frees the foot."""
    cut = next((r for r in run.restarts if r.wall == wall and r.change), None)
    change = freeing_action(dance, cut.after_count) if cut else None
    return [change[1] if change and action is change[0] else action for action in dance.actions]


def _same(before: Moment, moment: Moment) -> bool:
    return (before.part, before.wall, before.tag) == (moment.part, moment.wall, moment.tag)


def _length(timeline: Sequence[Moment], index: int) -> int:
    end = index
    while end < len(timeline) and _same(timeline[index], timeline[end]):
        end += 1
    return end - index
