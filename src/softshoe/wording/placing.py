"""Tags, restarts and endings put in their place; what the header promises compared with what is there."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from softshoe.dance.counts import Count
from softshoe.dance.dance import Dance, Ending, Restart, Tag
from softshoe.dance.facing import clock, turned
from softshoe.dance.footwork import net_turn_deg, state_after
from softshoe.errors import Finding
from softshoe.wording.account import paints_of
from softshoe.wording.extras import NONE, Placed, kinds_in, left_out, phrased, placed, promised_number
from softshoe.wording.lex import clock_deg, tokens_of
from softshoe.wording.numbers import in_digits
from softshoe.wording.perform import Player
from softshoe.wording.resolve import Dancer
from softshoe.wording.section_names import section_named
from softshoe.wording.shape import shape
from softshoe.wording.stage import Stage
from softshoe.wording.wallless import with_walls

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.wording.blocks import Block, Outline
    from softshoe.wording.header import Head
    from softshoe.wording.whole_ask import End

ASKED = ("verb", "pattern", "gest", "hand", "dual", "footpart")
CHANGES = shape(
    r"\b(?:in place of|instead|replac\w+|chang\w+|swap\w*|different|rather than|no weight|without weight|"
    r"(?:touch|tap|hold|stomp|scuff|brush|hitch|kick)\w*)\b",
    re.IGNORECASE,
)
HERE = shape(r"\bhere\b", re.IGNORECASE)
COUNTS = shape(r"\b(\d+)[\s-]*(?:counts?|cts?|beats?)\b")


def with_extras(dance: Dance, outline: Outline, head: Head, stage: Stage) -> tuple[Dance, list[Finding]]:
    """Return the dance with its tags, restarts and endings, and the findings on them."""
    findings: list[Finding] = []
    dance = replace(dance, restarts=_restarts(dance, outline, head, stage))
    findings += [_changed(restart) for restart in dance.restarts if restart.changed]
    promised = [(line, words, placed(words)) for line, words in head.promises]
    for block in outline.blocks:
        if block.kind == "tag":
            tag = _tag(dance, block, stage, findings, promised)
            dance = replace(dance, tags=(*dance.tags, tag))
            if not tag.counts and any(t.kind in ASKED for t in tokens_of(block.text, line=block.line)):
                stage.unread.append((block.line, block.text))
        elif block.kind == "ending":
            ending = _ending(dance, block, stage, findings)
            if ending.counts or any("ending" in kinds_in(words) for _, words, _ in promised):
                dance = replace(dance, endings=(*dance.endings, ending))
            elif any(t.kind in ASKED for t in tokens_of(block.text, line=block.line)):
                stage.unread.append((block.line, block.text))  # "last wall face front" asks for nothing
    findings += _promises(dance, promised)
    findings += [_phrased(line, order) for line, words in outline.header if (order := phrased(words))][:1]
    dance, unsaid = with_walls(dance)
    return dance, [*findings, *unsaid]


def _changed(restart: Restart) -> Finding:
    message = "Another step is told for this restart; it is kept as written, the short wall is read without it."
    return Finding("warning", "unread", restart.line, str(restart.after_count - 1), message, None)


def _phrased(line: int, order: str) -> Finding:
    message = f"The dance is phrased ({order}); each of its parts was read once, in the order in which it is written."
    mend = "Write the parts out in the order in which they are danced."
    return Finding("warning", "ambiguous", line, None, message, mend)


def _after(where: Placed, stage: Stage, usual: int, words: str = "") -> int:
    named = stage.starts.get(section_named(words, stage.names)) if words and stage.names else None
    if named is not None:
        return named[1]
    if where.section is not None and where.section in stage.starts:
        return stage.starts[where.section][1]
    return where.after if where.after is not None else usual


# restarts


def _restarts(dance: Dance, outline: Outline, head: Head, stage: Stage) -> tuple[Restart, ...]:
    """Restarts among or below the steps, then those that only the header tells."""
    found: list[Restart] = []
    for line, words, _, _ in outline.restarts:
        where = placed(words)
        here = _counts_above(dance, line)
        below = here >= dance.counts
        after = _left_after(where, words, stage, dance, here)
        if not below and "here" in words.casefold():
            after = here
        walls = where.walls or _promised_walls(head, after)
        found.append(Restart(walls, after, line, CHANGES.search(words) is not None))
    told = {wall for r in found for wall in r.walls}
    for line, words in head.promises:
        where = placed(words)
        new = tuple(w for w in where.walls if w not in told)
        known = where.after is not None or where.section is not None
        if "restart" in kinds_in(words) and not NONE.search(words) and new and known and not found:
            changed = CHANGES.search(words) is not None
            found.append(Restart(new, _after(where, stage, dance.counts), line, changed))
    return _merged(found)


def _counts_above(dance: Dance, line: int) -> int:
    """Return the count that the dance has come to on a line."""
    return max((a.at.whole for a in dance.actions if 0 < a.line <= line), default=dance.counts)


def _left_after(where: Placed, words: str, stage: Stage, dance: Dance, here: int) -> int:
    """After which count a wall leaves off: as said, or by the counts it has or leaves out, or where the words stand."""
    out = left_out(words)
    if out is not None and out < dance.counts:
        return dance.counts - out
    told = where.after is not None or where.section is not None
    if not told and where.length is not None and where.length < dance.counts:
        return where.length
    return _after(where, stage, here, words)


def _merged(restarts: list[Restart]) -> tuple[Restart, ...]:
    """One restart a count: the same place told for several walls is one."""
    out: list[Restart] = []
    for restart in restarts:
        same = next((i for i, r in enumerate(out) if r.after_count == restart.after_count), None)
        if same is None:
            out.append(restart)
        else:
            walls = tuple(sorted({*out[same].walls, *restart.walls}))
            out[same] = replace(out[same], walls=walls, changed=out[same].changed or restart.changed)
    return tuple(out)


def _promised_walls(head: Head, after: int) -> tuple[int, ...]:
    for _, words in head.promises:
        where = placed(words)
        if "restart" in kinds_in(words) and where.walls and where.after in (None, after):
            return where.walls
    return ()


# tags


def _played(
    block: Block, after: int, dance: Dance, stage: Stage, findings: list[Finding]
) -> tuple[tuple[Action, ...], int, Stage]:
    """Dance a tag's or ending's items from count 1; return actions, counts filled, and the stage they left.

    Its counts may go on from those of the dance: "after 32: 33 stomp R, 34 hold".
    """
    weight, _ = state_after(dance, after)
    from softshoe.wording.read_once import with_hands

    dancer = Dancer(weight, dance.seated, stated=True, started=True)
    before = stage.dancer
    dancer.last, dancer.last_left, dancer.last_right = before.last, before.last_left, before.last_right
    own = Stage(dancer)
    own.facing_known = False
    first = min((item.label.first for item in block.items if item.label is not None), default=None)
    base = after if first == after + 1 else 0
    filled = Player(own, block, start=0, base=base).play() if block.items else 0
    findings += own.dancer.findings
    stage.unread += own.unread
    stage.paints += paints_of(own.done)
    stage.kept += own.kept
    return with_hands(own), filled, own


def _own_length(where: Placed, text: str, after: int, filled: int) -> int | None:
    """The counts stated for what is added; those danced before it, where they are told and summed, are not its own."""
    told = where.after is not None or where.section is not None
    own = str(filled) in COUNTS.findall(in_digits(text))
    return None if (told or own) and where.length == after and filled else where.length


Promised = "list[tuple[int, str, Placed]]"


def _tag(
    dance: Dance, block: Block, stage: Stage, findings: list[Finding], promised: list[tuple[int, str, Placed]]
) -> Tag:
    if block.told is not None:
        return _tag_told(dance, block, block.told, stage, findings)
    where = placed(block.text)
    header = _promise_of(block, where, promised, [t.walls for t in dance.tags])
    walls = where.walls or (header.walls if header else ())
    unsaid = where.after is None and where.section is None
    after = _after(header if unsaid and header is not None else where, stage, dance.counts, block.text)
    if unsaid and after == dance.counts and (HERE.search(block.text) or where.goes_on):
        after = _counts_above(dance, block.line)
    actions, filled, _ = _played(block, after, dance, stage, findings)
    length = _own_length(where, block.text, after, filled) or (header.length if header else None) or filled
    goes_on = after < dance.counts and not (where.again or (header is not None and header.again))
    return Tag(walls, after, length, "continue" if goes_on else "start", actions, block.line)


def _tag_told(dance: Dance, block: Block, told: End, stage: Stage, findings: list[Finding]) -> Tag:
    """Return a tag as the network tells it."""
    after = dance.counts if told.after is None else told.after
    actions, filled, _ = _played(block, after, dance, stage, findings)
    then: Literal["start", "continue"] = "continue" if told.then == "continue" else "start"
    return Tag(tuple(map(int, told.walls)), after, filled, then, actions, block.line)


def _promise_of(
    block: Block, where: Placed, promised: list[tuple[int, str, Placed]], taken: list[tuple[int, ...]]
) -> Placed | None:
    """Return what the header tells of a tag: of the same name, of the same walls, not of another tag."""
    told = [(words, p) for _, words, p in promised if "tag" in kinds_in(words) and not NONE.search(words)]
    told = [(words, p) for words, p in told if not where.walls or not p.walls or set(where.walls) & set(p.walls)]
    bridge = "bridge" in block.text.casefold()
    told.sort(key=lambda t: (("bridge" in t[0].casefold()) != bridge, t[1].walls in taken, not t[1].walls))
    return told[0][1] if told else None


# endings


def _ending(dance: Dance, block: Block, stage: Stage, findings: list[Finding]) -> Ending:
    where = placed(block.text)
    told = block.told
    if told is not None:
        after = dance.counts if told.after is None else told.after
        wall: int | str = int(told.walls[0]) if told.walls[0].isdigit() else "last"
    else:
        after = _after(where, stage, dance.counts, block.text)
        wall = where.walls[0] if where.walls else "last"
    _, before = state_after(dance, after)
    actions, filled, own = _played(block, after, dance, stage, findings)
    start = _start_facing(dance, where, wall, before, own.dancer.turned_deg, _final_facing(block))
    findings += _wrong_facings(own, start, before)
    length = _own_length(where, block.text, after, filled) if told is None else None
    return Ending(wall, after, length or filled, start, actions, block.line)  # type: ignore[arg-type]


def _wrong_facings(own: Stage, start: int, before: int) -> list[Finding]:
    """Facings written in an ending are those of the room, from where its wall begins."""
    out: list[Finding] = []
    for deg, line, at, turned_deg in own.faced:
        here = turned(start, before + turned_deg)
        if here != deg:
            out.append(Finding("error", "facing", line, str(at - 1),
            f"The turns lead to {clock(here)} here; the sheet says {clock(deg)}.",
                               f"Write {clock(here)}, or change the turn."))  # fmt: skip
            break
    return out


def _final_facing(block: Block) -> int | None:
    """Return the clock facing that an ending's own steps name last."""
    for item in reversed(block.items):
        for token in reversed(item.tokens):
            if token.kind == "clock":
                return clock_deg(token.text)
    return None


def _start_facing(dance: Dance, where: Placed, wall: int | str, before: int, net: int, final: int | None) -> int:
    """Where the ending's wall begins: as said, by its number, or so that the steps end where they say."""
    if where.starts_at is not None:
        return where.starts_at
    if isinstance(wall, int):
        return turned(0, net_turn_deg(dance) * (wall - 1))
    if final is not None:
        return turned(final, -(before + net))
    if where.faces is not None:
        return turned(where.faces, -before)
    return 0


# promises


def _promises(dance: Dance, promised: list[tuple[int, str, Placed]]) -> list[Finding]:
    """What the header promises is there, and what is there is not denied."""
    there = {"tag": bool(dance.tags), "restart": bool(dance.restarts), "ending": bool(dance.endings)}
    kinds = {k for _, words, _ in promised if not NONE.search(words) for k in kinds_in(words)}
    out: list[Finding] = []
    for line, words, where in promised:
        for kind in kinds_in(words):
            denied = bool(NONE.search(words))
            found = _denied(line, kind, there[kind]) if denied else _promised(dance, line, kind, where, there[kind])
            found = found or (None if denied else _another_number(dance, line, kind, words))
            out += [found] if found is not None else []
    for kind in ("tag", "restart"):
        if there[kind] and kinds & {"tag", "restart"} and kind not in kinds:
            message = f"There is {_a(kind)} below that the header does not tell."
            out.append(_promise(promised[0][0], message, f"Tell the {kind} here as well."))
    return out


def _denied(line: int, kind: str, there: bool) -> Finding | None:
    message = f"The header says there is no {kind}, but there is one below."
    return _promise(line, message, f"Take the {kind} out, or tell it here.") if there else None


def _promised(dance: Dance, line: int, kind: str, where: Placed, there: bool) -> Finding | None:
    if not there:
        message = f"The header promises {_a(kind)} that is nowhere below."
        return _promise(line, message, f"Write the {kind} below the steps, or take the promise out.")
    if where.after is not None and where.after > dance.counts:
        return _no_such_count(line, kind, where.after, dance.counts)
    if not _kept(dance, kind, where):
        message = f"The header tells another wall or count for the {kind} than the sheet below."
        return _promise(line, message, "Let both say the same.")
    return None


def _another_number(dance: Dance, line: int, kind: str, words: str) -> Finding | None:
    """ "Two restarts", and one below."""
    told = promised_number(kind, words)
    walls = {"tag": [t.walls for t in dance.tags], "restart": [r.walls for r in dance.restarts]}.get(kind, [])
    if told is None or told in (len(walls), sum(map(len, walls))):
        return None
    plural = "" if len(walls) == 1 else "s"
    message = f"The header promises {told} {kind}{'s' if told > 1 else ''}; there {'is' if not plural else 'are'} "
    return _promise(line, f"{message}{len(walls)} {kind}{plural} below.", "Write the others, or mend the number.")


def _a(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _no_such_count(line: int, kind: str, after: int, counts: int) -> Finding:
    message = f"The {kind} is placed after count {after}; the dance has {counts}."
    return Finding("error", "place", line, None, message, "Name a count of the dance.")


def _promise(line: int, message: str, mend: str) -> Finding:
    return Finding("error", "promise", line, None, message, mend)


def _kept(dance: Dance, kind: str, where: Placed) -> bool:
    """Return whether a promise agrees with what is there, as far as it says walls and counts."""
    if kind == "restart" and where.walls:
        walls = {w for r in dance.restarts for w in r.walls}
        if not set(where.walls) <= walls:
            return False
        counts = {r.after_count for r in dance.restarts if set(r.walls) & set(where.walls)}
        return where.after is None or where.after in counts
    if kind == "tag" and where.walls:
        walls = {w for t in dance.tags for w in t.walls}
        return set(where.walls) <= walls or not walls
    return True


__all__ = ["Count", "Fraction", "with_extras"]
