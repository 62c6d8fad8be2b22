"""What is shown while the dance runs: every count with its motion, its place, what is danced now and what is next."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Count
from softshoe.fit.tags import freeing_action
from softshoe.teach.lesson import Beat
from softshoe.teach.parts import CLOSE_COUNTS
from softshoe.teach.words import shown_for

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.fit.timeline import Moment
    from softshoe.teach.laid import Laid


def beats_of(laid: Laid, *, length_s: float) -> Iterator[Beat]:
    """Yield a beat for every count; the last one lasts to the lesson's end at most."""
    ends = (*laid.at_s[1:], min(length_s, laid.at_s[-1] + laid.step_s))
    names = _names(laid)
    after = 0
    for index, moment in enumerate(laid.moments):
        step_s = max(ends[index] - laid.at_s[index], 0.05)
        after += moment.part == "after"
        yield _beat(laid, moment, laid.at_s[index], step_s, names, index, after)


def _names(laid: Laid) -> list[tuple[str, str]]:
    """For every moment: what is danced now and what comes next, in few words; a tag, being new, count by count."""
    now: list[str] = ["" for _ in laid.moments]
    starts: dict[int, str] = {}
    for block in laid.blocks:
        for group in block.groups:
            start = block.first + group.first - block.groups[0].first
            starts[start] = f"tag: {group.words}" if block.part == "tag" else group.words
            now[start : start + group.counts] = [group.words] * group.counts
        for count in range(1, block.counts + 1 if block.part == "tag" else 1):
            now[block.first + count - 1] = f"tag: {shown_for(block.actions, count)}"
    later = [next((starts[s] for s in sorted(starts) if s > index), "") for index in range(len(laid.moments))]
    return list(zip(now, later, strict=True))


def _beat(
    laid: Laid, moment: Moment, at_s: float, step_s: float, names: list[tuple[str, str]], index: int, after: int
) -> Beat:
    per = laid.per_section
    if moment.part == "intro":
        label = str(per - (moment.to_go - 1) % per)
        return Beat(at_s, step_s, label, next_=names[index][1] if moment.to_go <= per else "")
    kind = laid.version.kind
    if moment.part == "after" or moment.count is None:
        shape = Count(Fraction(min(after, CLOSE_COUNTS)))
        facing = 0 if laid.version.dance.seated else moment.facing_deg
        return Beat(at_s, step_s, "", f"{kind}:close", shape, wall=moment.wall, facing_deg=facing, now="finish")
    section = laid.version.dance.section_at(moment.count) if moment.part == "wall" else None
    motion, count = _danced(laid, moment, moment.count)
    return Beat(
        at_s=at_s,
        step_s=step_s,
        label=str((moment.count.whole - 1) % per + 1),
        motion=motion,
        count=count,
        section=section.number if section else None,
        wall=moment.wall,
        facing_deg=0 if laid.version.dance.seated else moment.facing_deg,
        now=names[index][0],
        next_=names[index][1],
    )


def _danced(laid: Laid, moment: Moment, count: Count) -> tuple[str, Count]:
    """The motion's key and the count in it: the wall, a tag, or a written ending in the wall's place."""
    kind, ending = laid.version.kind, laid.run.ending
    if moment.part == "tag":
        return f"{kind}:tag{moment.tag}", count
    if ending and ending.actions and moment.wall == ending.wall and count.whole > ending.after_count:
        return f"{kind}:ending", Count(count.at - ending.after_count)
    cut = next((r for r in laid.run.restarts if r.wall == moment.wall and r.change), None)
    if cut and freeing_action(laid.version.dance, cut.after_count):
        return f"{kind}:cut{cut.after_count}", count
    return f"{kind}:dance", count
