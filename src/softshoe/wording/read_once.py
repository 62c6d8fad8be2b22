"""A sheet read once: by rules, with its lines sorted so or so; and with what the network makes of its sections.

Lines sorted (outline) -> header -> items of each section -> laid on counts -> settled by footwork -> tags, restarts,
endings -> checks of the dance.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.checks import findings_of
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import LEVELS, Dance, Level, Section
from softshoe.dance.facing import walls_of
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import net_turn_deg
from softshoe.wording.account import paints_of
from softshoe.wording.counting import HIGHEST
from softshoe.wording.filling import as_written
from softshoe.wording.inferred import inferred_notes
from softshoe.wording.lengths import Lengths
from softshoe.wording.lines import lines_of
from softshoe.wording.numbered_lines import better, crowded, unnumbered
from softshoe.wording.outlined import AS_SORTED, lines_sorted, metre_of, outlined, sections_of
from softshoe.wording.placing import with_extras
from softshoe.wording.reading import Reading, begun_by_one, opens_unnamed
from softshoe.wording.resolve import Dancer
from softshoe.wording.retold import Second, seconded
from softshoe.wording.section_names import names_of
from softshoe.wording.sections_kept import dance_section
from softshoe.wording.stage import Ready, Stage
from softshoe.wording.told_beside import with_beside
from softshoe.wording.unread import Unread
from softshoe.wording.whole_sheet import kinds_told, laid_ends, laid_whole

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.errors import Finding
    from softshoe.wording.blocks import Block, Outline
    from softshoe.wording.header import Head
    from softshoe.wording.outlined import Told
    from softshoe.wording.retold import Retold
    from softshoe.wording.whole_ask import End, Part

MOST_FINDINGS = 300


def heard_twice(text: str, found: Reading, told: Told) -> Reading:
    """Return a reading with what the network makes of its sections."""
    way = Second(partial(outlined, text, told), partial(_read_from, text, None, told=told))
    return seconded(text, found, way)


def by_rules(text: str, told: Told = AS_SORTED) -> Reading | None:
    """Return a sheet as the rules read it; ``told`` is what some of its lines are."""
    found = _read_from(text, told=told)
    if found is not None and crowded(found):
        plain, marks = unnumbered(text)
        other = _read_from(plain) if plain else None
        if other is not None and better(other, found):
            return Reading(text, other.dance, (*marks, *other.paints))
    if found is None or not opens_unnamed(found.dance):
        return found
    return begun_by_one(found, partial(_read_from, text, told=told))


def _read_from(
    text: str, first: Foot | None = None, retold: Mapping[int, Retold] | None = None, *, told: Told = AS_SORTED
) -> Reading | None:
    """Read a sheet; ``first`` is the foot that begins where no word says it, ``retold`` the items of some blocks,
    ``told`` what some lines are.
    """
    outline, head, spoken = sections_of(text, told)
    for block, one in (retold or {}).items():
        _retell(outline, block, one)
    if not any(b.items for b in outline.blocks):
        return None
    stage, sections = _danced(outline, head, spoken=spoken, first=first)
    if not stage.hands and not any(a.verb != "hold" for a in stage.actions):
        return None
    return _assembled(text, outline, head, stage, sections)


def read_whole(text: str, parts: Sequence[Part], ends: Sequence[End] | None = None) -> Reading | None:
    """Return a sheet with the sections that the network tells of it; None where they can't be danced.

    ``ends`` are its tags, restarts and endings instead of those that the rules find.
    """
    outline, head, _ = sections_of(text)
    if kinds := kinds_told(text, outline, head, parts):
        outline, head = lines_sorted(text, kinds)
    try:
        if ends is not None:
            laid_ends(text, outline, ends)
        laid_whole(text, outline, parts)
    except (ValueError, KeyError):
        return None
    stage, sections = _danced(outline, head)
    return with_beside(_assembled(text, outline, head, stage, sections), parts)


def head_danced(text: str, parts: Sequence[Part]) -> bool:
    """Return whether the rules read lines as the head of a sheet that are danced."""
    outline, head, _ = sections_of(text)
    return bool(kinds_told(text, outline, head, parts))


def _retell(outline: Outline, number: int, one: Retold) -> None:
    """Let a block have these items instead of its own; all its words were danced."""
    outline.paints += [(*span, "event") for span in one.spans.values()]
    outline.loose = [row for row in outline.loose if row[0] not in one.spans]
    block = outline.blocks[number]
    block.items, block.rest = list(one.items), None


def _start_weight(head: Head) -> Weight:
    if head.seated:
        return Weight.SEAT
    return {"L": Weight.LEFT, "R": Weight.RIGHT}.get(head.start_weight or "", Weight.BOTH)


def _danced(
    outline: Outline, head: Head, *, spoken: bool = False, first: Foot | None = None
) -> tuple[Stage, list[Section]]:
    """Dance the sections one after the other."""
    start = Weight(first.other.value) if first is not None else _start_weight(head)
    dancer = Dancer(
        start, bool(head.seated), foot_first=foot_first(outline), stated=head.start_weight is not None, spoken=spoken
    )
    if head.start_weight in ("L", "R"):
        dancer.lead = {"L": "R", "R": "L"}[head.start_weight]
    lengths = Lengths(outline, head)
    stage = Stage(dancer, unit=lengths.unit, stated=head.counts)
    sections: list[Section] = []
    for block in (b for b in outline.blocks if b.kind == "section"):
        at = lengths.start
        if not block.items or at > HIGHEST:
            _leave(block, outline, stage)
            continue
        number = len(sections) + 1
        filled, line, last = dance_section(stage, block, start=at, base=lengths.base(block))
        if not filled and not (block.heading and block.heading.counts):
            block.items = []  # they are told already
            _leave(block, outline, stage)
            continue
        length = lengths.close(block, filled, stage)
        if filled > length:
            _cut(stage, at + length)
        for n in range(filled + 1, length + 1):
            stage.actions.append(
                Action(Count(Fraction(at + n)), None, "hold", line=line or block.line, span=last or block.span)
            )
        stage.starts[number] = (at, at + length)
        sections.append(Section(number, Count(Fraction(at + 1)), Counts(Fraction(length)), block.line, block.title))
    return stage, sections


def _cut(stage: Stage, end: int) -> None:
    """What hands do beyond the end of a section is told as too long; the counts are the next section's."""
    stage.actions = [a for a in stage.actions if a.at.at <= end or a.verb != "arms"]
    stage.hands = {at: moves for at, moves in stage.hands.items() if at <= end}


def _leave(block: Block, outline: Outline, stage: Stage) -> None:
    """Keep a section that holds no step, or none that can be counted, as it is written."""
    if block.text.strip():
        outline.loose.append((block.line, block.text))
        outline.paints += [(*block.span, "kept")] if block.span else []
    for item in block.items:
        stage.paints += paints_of([Ready(item, [], None, ())])
        stage.unread.append((item.line, as_written(item.tokens)))


def foot_first(outline: Outline) -> bool:
    """Return whether the sheet says "step right forward": then "step right" alone lacks its direction."""
    found = 0
    for block in outline.blocks:
        for item in block.items:
            for one, two in zip(item.tokens, item.tokens[1:], strict=False):
                found += one.kind == "side" and one.value in ("L", "R") and two.kind == "dir" and len(one.text) > 1
    return found > 2


def _moment(action: Action) -> float:
    """An action's moment for sorting; parts of a count are few, so no two share a number."""
    n, per = action.at.at.as_integer_ratio()
    return n / per


def with_hands(stage: Stage) -> tuple[Action, ...]:
    """Return the actions in order of time with the hands laid over them."""
    actions = sorted(stage.actions, key=_moment)
    if not stage.hands:
        return tuple(actions)
    out: list[Action] = []
    left = {at.as_integer_ratio(): moves for at, moves in stage.hands.items()}
    for action in actions:
        moves = left.pop(action.at.at.as_integer_ratio(), None)
        if moves:
            line = stage.hand_at.get(action.at.at, (action.line, action.span))
            if action.verb == "hold" and action.foot is None:
                action = replace(action, verb="arms", line=line[0], span=line[1])
            action = replace(action, arms=(*action.arms, *moves))
        out.append(action)
    for ratio, moves in left.items():
        at = Fraction(*ratio)
        line = stage.hand_at.get(at, (0, None))
        out.append(Action(Count(at), None, "arms", arms=tuple(moves), line=line[0], span=line[1]))
    return tuple(sorted(out, key=_moment)) if left else tuple(out)


def _first_weight(actions: tuple[Action, ...]) -> Weight:
    """The foot opposite the first that moves bears at the start."""
    first = next((a for a in actions if a.foot is not None), None)
    if first is None or first.foot is Foot.BOTH or first.foot is None:
        return Weight.BOTH
    return Weight(first.foot.other.value)


def _assembled(text: str, outline: Outline, head: Head, stage: Stage, sections: list[Section]) -> Reading:
    actions = with_hands(stage)
    start = _start_weight(head)
    if start is Weight.BOTH and head.start_weight is None:
        start = _first_weight(actions)
    written = sum(int(s.length.n) for s in sections)
    dance = Dance(
        head.title, head.counts or max(1, written), head.walls, level_of(head), bool(head.seated), metre_of(head),
        head.tempo, head.intro, start, tuple(sections), actions,
    )  # fmt: skip
    if dance.walls is None or head.walls_guessed:
        dance = replace(dance, walls=walls_of(net_turn_deg(dance)))
    elif dance.walls not in (1, 2, 4):
        dance = replace(dance, walls=None)
    if outline.restarts or any(block.kind != "section" for block in outline.blocks):
        stage.names = names_of(dance, {line.number: line.text for line in lines_of(text)})
    dance, more = with_extras(dance, outline, head, stage)
    paints = (*outline.paints, *stage.paints)
    left = Unread(text, outline, stage, paints)
    told = [*stage.dancer.findings[:MOST_FINDINGS], *left.findings, *inferred_notes(stage.dancer.inferred)]
    lines = dict(head.lines.items())
    if head.any_level:
        lines.setdefault("level", 1)
    findings = _one_slip(findings_of(dance, lines, [*told, *more]))
    findings = tuple(_on_hand_line(f, stage) for f in findings)
    return Reading(text, replace(dance, findings=findings, kept=left.kept), (*paints, *left.paints))


def _one_slip(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """A turn that can't be danced on a chair is the slip; that the walls don't follow from it is not told again."""
    turned = any(f.kind == "seated" and f.severity == "error" for f in findings)
    return tuple(f for f in findings if not (turned and f.kind in ("walls", "facing") and f.severity == "error"))


def _on_hand_line(finding: Finding, stage: Stage) -> Finding:
    """A finding on hands that stand on a line of their own is told there."""
    if finding.kind != "arms" or finding.count is None:
        return finding
    line = stage.hand_at.get(Fraction(finding.count) + 1)
    return finding if line is None else replace(finding, line=line[0])


def level_of(head: Head) -> Level | None:
    """Return the level that a header tells."""
    return next((level for level in LEVELS if level == head.level), None)
