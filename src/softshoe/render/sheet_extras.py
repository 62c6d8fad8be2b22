"""What happens besides the dance: tags, bridges, restarts and the ending, as the sheet says or as the song wants."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Count
from softshoe.dance.facing import clock
from softshoe.dance.footwork import danced, state_after
from softshoe.render.page import SheetSection, listed
from softshoe.render.phrase_words import sentence
from softshoe.render.sheet_rows import lines
from softshoe.render.sheet_signs import foot_count_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Ending
    from softshoe.fit.run import Run
    from softshoe.render.page import SheetLine

FOUND = " The sheet doesn't say this: it was found in the song."
HOLD = " Hold, or march in place."
FIRST = Count(Fraction(1))


def extras(dance: Dance, run: Run | None, *, beads_a_row: int = 4) -> tuple[SheetSection, ...]:
    """Return the sections for tags, restarts and the ending; with a run, those of this song."""
    draw = _Drawing(dance, beads_a_row)
    tags = _run_tags(draw, run) if run else _sheet_tags(draw)
    return (*tags, *_restarts(dance, run), *_endings(draw, run))


def walls_words(walls: Sequence[int]) -> str:
    """Return "wall 2", "walls 2 and 5"."""
    return f"wall{'' if len(walls) == 1 else 's'} {listed([str(w) for w in walls])}"


@dataclass(frozen=True, slots=True)
class _Drawing:
    """Draws actions that follow on the dance as lines."""

    dance: Dance
    beads_a_row: int

    def __call__(self, actions: tuple[Action, ...], after_count: int, facing_deg: int = 0) -> tuple[SheetLine, ...]:
        from softshoe.render.sheet_content import sheet_line

        dance = self.dance
        events = danced(actions, weight=state_after(dance, after_count)[0], facing_deg=facing_deg)
        per_line = 3 if dance.metre == "3/4" else 2
        rows = lines(events, first=FIRST, per_line=per_line, seated=dance.seated)
        return tuple(sheet_line(row, beads_a_row=self.beads_a_row) for row in rows)


def _sheet_tags(draw: _Drawing) -> Iterator[SheetSection]:
    dance = draw.dance
    for tag in dance.tags:
        bridge = tag.then == "continue"
        where = walls_words(tag.walls)
        before = _when(
            where, tag.after_count, tag.counts, inside=bridge or tag.after_count < dance.counts, goes_on=bridge
        )
        yield SheetSection("Bridge" if bridge else "Tag", foot_count_words(tag.counts),
                           draw(tag.actions, tag.after_count), before)  # fmt: skip


def _when(where: str, after_count: int, counts: int, *, inside: bool, goes_on: bool) -> str:
    place = f"In {where}, after count {after_count}" if inside else f"After {where}"
    then = f"Then go on with count {after_count + 1}." if goes_on else "Then begin again from the top."
    return f"{place}, {foot_count_words(counts)} more. {then}"


def _run_tags(draw: _Drawing, run: Run) -> Iterator[SheetSection]:
    groups: dict[tuple[bool, int, int, tuple[Action, ...], bool], list[int]] = {}
    for tag in run.tags:
        inside = tag.in_wall is not None
        wall = tag.in_wall if tag.in_wall is not None else (tag.after_wall or 0)
        groups.setdefault((inside, tag.at_count if inside else 0, tag.counts, tag.actions, tag.written), []).append(
            wall
        )
    bare = {key: walls for key, walls in groups.items() if not (key[0] or key[3] or key[4])}
    for (inside, at_count, counts, actions, written), walls in groups.items():
        if (inside, at_count, counts, actions, written) in bare:
            continue
        before = _when(walls_words(walls), at_count, counts, inside=inside, goes_on=inside) + ("" if written else FOUND)
        drawn = draw(actions, at_count if inside else draw.dance.counts)
        before += "" if actions else HOLD
        yield SheetSection("Bridge" if inside else "Tag", foot_count_words(counts), drawn, before)
    if bare:
        yield _bare_tags({counts: walls for (_, _, counts, _, _), walls in bare.items()})


def _bare_tags(walls_of: dict[int, list[int]]) -> SheetSection:
    """Tags without steps of their own, told together."""
    said = [f"After {walls_words(walls)}, {foot_count_words(counts)} more." for counts, walls in walls_of.items()]
    name = "Tag" if sum(map(len, walls_of.values())) == 1 else "Tags"
    total = foot_count_words(next(iter(walls_of))) if len(walls_of) == 1 else ""
    return SheetSection(name, total, (), f"{' '.join(said)}{HOLD} Then begin again from the top.{FOUND}")


def restart_words(dance: Dance, run: Run | None) -> tuple[tuple[int, str], ...]:
    """Return where walls stop short and what stands there: (count, "Wall 5 stops here: begin again.")."""
    by_count: dict[int, list[int]] = {}
    for walls, after, _ in _cuts(dance, run):
        by_count.setdefault(after, []).extend(walls)
    return tuple(
        (after, f"{sentence(walls_words(walls))} {'stops' if len(walls) == 1 else 'stop'} here: begin again.")
        for after, walls in sorted(by_count.items())
    )


def _cuts(dance: Dance, run: Run | None) -> Iterator[tuple[tuple[int, ...], int, str | None]]:
    if run is None:
        for restart in dance.restarts:
            yield restart.walls, restart.after_count, None
        return
    for cut in run.restarts:
        yield (cut.wall,), cut.after_count, cut.change


def _restarts(dance: Dance, run: Run | None) -> Iterator[SheetSection]:
    said = []
    for walls, after, change in _cuts(dance, run):
        stops = "stops" if len(walls) == 1 else "stop"
        tail = f" In place of the last step: {change.rstrip('.')}." if change else ""
        said.append(f"{sentence(walls_words(walls))} {stops} after count {after}. Begin again from the top.{tail}")
    if said:
        yield SheetSection("Restart" if len(said) == 1 else "Restarts", "", (), " ".join(said))


def _endings(draw: _Drawing, run: Run | None) -> Iterator[SheetSection]:
    dance = draw.dance
    heard = _heard_ending(dance, run)
    for ending in dance.endings:
        section = _ending(draw, ending)
        yield replace(section, before=f"{section.before} {heard}".strip())
        heard = ""
    if heard:
        yield SheetSection("Ending", "", (), heard)


def _heard_ending(dance: Dance, run: Run | None) -> str:
    if run is None or not run.walls:
        return ""
    if run.ending is None:
        return "" if dance.endings else f"When wall {run.walls[-1].wall} is over, open the arms and hold."
    end = run.ending
    written = any(e.after_count + e.counts == end.at_count for e in dance.endings)
    if written:
        return f"In this song that is wall {end.wall}."
    where = "In this song the ending comes in" if dance.endings else "In"
    return f"{where} wall {end.wall}: {end.what.rstrip('.')}."


def _ending(draw: _Drawing, ending: Ending) -> SheetSection:
    dance = draw.dance
    wall = "the last wall" if ending.wall == "last" else f"wall {ending.wall}"
    turned = state_after(dance, ending.after_count)[1]
    starts = f", which begins facing {clock(ending.start_facing_deg)}" if dance.walls != 1 else ""
    more = foot_count_words(ending.counts)
    before = f"In {wall}{starts}, dance {foot_count_words(ending.after_count)}, then {more} more."
    drawn = draw(ending.actions, ending.after_count, (ending.start_facing_deg + turned) % 360)
    return SheetSection("Ending", more, drawn, before)
