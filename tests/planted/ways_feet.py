"""Slips of the feet: the wrong foot, the wrong side, a foot or a way left out."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.dance.checks.weights import ON_BEARING
from softshoe.dance.verbs import VERB

from .pool import COPIES, Sheet, Slip

if TYPE_CHECKING:
    from collections.abc import Iterator

SIDE = re.compile(r"\b(right|left|R|L|RF|LF)\b", re.I)
FLIP = {"right": "left", "left": "right", "r": "l", "l": "r", "rf": "lf", "lf": "rf"}
TURNING = re.compile(r"turn|1/[248]|¼|½|¾|⅛|quarter|half|pivot|unwind|monterey|paddle|roll", re.I)
LABELS = re.compile(r"\d+ ?[-–&] ?\d+")
FREE_ONLY = re.compile(r"\b(touch|tap|tch)\b(?!es)", re.I)


def flipped(word: str) -> str:
    """The other side, written as this one is."""
    other = FLIP[word.casefold()]
    return other.upper() if word.isupper() else other.capitalize() if word[0].isupper() else other


def flip(line: str, at: re.Match[str]) -> str:
    """The line with one side word turned."""
    return line[: at.start(1)] + flipped(at[1]) + line[at.end(1) :]


def lead_foot(sheet: Sheet) -> str:
    """The foot that moves first."""
    return next((e.action.foot.value for e, _ in sheet.events if e.action.foot), "")


def the_wrong_foot(sheet: Sheet) -> Iterator[Slip]:
    """A line that names one side only names the other: the foot that bears would move."""
    if sheet.dance.seated:
        return
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        sides = list(SIDE.finditer(line))
        feet = [(e, before) for e, before in done if e.action.foot is not None]
        if len(sides) != 1 or TURNING.search(line) or COPIES.search(line) or not feet:
            continue
        (first, before), foot = feet[0], sides[0][1][0].upper()
        plain = first.action.foot is not None and first.action.foot.value == foot and first.action.weight_said is None
        if plain and before in "LR" and before != foot and first.action.verb not in ON_BEARING and number > 1:
            yield Slip(sheet.name, "wrong foot", "weight", sheet.with_line(number, flip(line, sides[0])), number)


def a_touch_that_steps(sheet: Sheet) -> Iterator[Slip]:
    """A touch becomes a step, and the same foot moves next."""
    if sheet.dance.seated:
        return
    moves = [(e, b) for e, b in sheet.events if e.action.foot is not None]
    for (one, _), (two, _) in pairwise(moves):
        number, after = one.action.line, two.action.line
        line = sheet.lines[number - 1]
        touches = list(FREE_ONLY.finditer(line))
        free = one.action.verb == "touch" and two.action.foot is one.action.foot and two.action.verb not in ON_BEARING
        last = moves[-1][0] is not one and sheet.on_line[number][-1][0].action.at.at >= one.action.at.at
        beside = re.search(r"beside|next to|together|\btog\b", line[touches[0].end() :], re.I) if touches else None
        if not free or not last or len(touches) != 1 or not beside or after <= number:
            continue
        if sheet.copied or len(LABELS.findall(line)) > 1:
            continue
        word = "Step" if touches[0][1][0].isupper() else "step"
        new = FREE_ONLY.sub("STEP" if touches[0][1].isupper() else word, line)
        yield Slip(sheet.name, "touch that steps", "weight", sheet.with_line(number, new), after)


def a_last_touch_that_steps(sheet: Sheet) -> Iterator[Slip]:
    """The touch that closes the dance becomes a step: the foot that begins bears."""
    last = sheet.events[-1][0].action
    line = sheet.lines[last.line - 1]
    touches = list(FREE_ONLY.finditer(line))
    if sheet.dance.seated or last.verb != "touch" or not last.foot or last.foot.value != lead_foot(sheet):
        return
    if touches and not COPIES.search(line) and len(SIDE.findall(line)) < 9:
        at = touches[-1]
        word = "STEP" if at[1].isupper() else "Step" if at[1][0].isupper() else "step"
        new = line[: at.start()] + word + line[at.end() :]
        yield Slip(sheet.name, "last touch steps", "free-foot", sheet.with_line(last.line, new), last.line)


def a_last_step_that_touches(sheet: Sheet) -> Iterator[Slip]:
    """The step that closes the dance becomes a touch, and the foot that begins bears."""
    event, before = sheet.events[-1]
    last = event.action
    line = sheet.lines[last.line - 1]
    steps = list(re.finditer(r"\b(step|close|stomp)\b", line, re.I))
    takes = last.verb in ("step", "stomp") and last.weight_said is None
    if sheet.dance.seated or not takes or before != lead_foot(sheet) or COPIES.search(line) or not steps:
        return
    if re.search(r"weight|jazz|coaster|sailor|shuffle|mambo|lock|triple|v.step|vine", line, re.I):
        return
    if sheet.has("tag", "bridge", "restart") or len(LABELS.findall(line)) > 1:
        return
    at = steps[-1]
    word = "TOUCH" if at[1].isupper() else "touch"
    yield Slip(
        sheet.name, "last step touches", "free-foot",
        sheet.with_line(last.line, line[: at.start()] + word + line[at.end() :]), last.line,
    )  # fmt: skip


ASIDE = re.compile(
    r"\b(?:right|left|R|L|RF|LF)(?: foot| toe| heel)? (?:out |steps? |points? |touches |taps )*to (?:the |its )?"
    r"(right|left|R|L)\b", re.I)  # fmt: skip


def the_wrong_side(sheet: Sheet) -> Iterator[Slip]:
    """A foot that goes to its own side is sent to the other, without a word of crossing."""
    for number in sheet.on_line:
        line = sheet.lines[number - 1]
        for at in ASIDE.finditer(line):
            if at[0][0].upper() == at[1][0].upper() and not re.search(
                r"cross|over|turn|¼|½|1/|quarter|sway|ball", line, re.I
            ):
                yield Slip(sheet.name, "other side", "side", sheet.with_line(number, flip(line, at)), number)


REACH = re.compile(r"\b(?:to|towards?) (?:the )?(right|left|R|L)\b(?! (?:foot|heel|toe|knee))", re.I)


def a_hand_to_the_wrong_side(sheet: Sheet) -> Iterator[Slip]:
    """In the mirrored half of a seated section the hands go where they went before."""
    if not sheet.dance.seated or sheet.copied:
        return
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        ways = list(REACH.finditer(line))
        arms = [m for e, _ in done for m in e.action.arms if m.toward is not None]
        second = done[0][0].action.at.whole % 8 in (5, 6, 7, 0) or done[0][0].action.at.whole % 4 in (3, 0)
        if len(ways) == 1 and arms and second and all(e.action.foot is None for e, _ in done):
            yield Slip(sheet.name, "hands unmirrored", "side", sheet.with_line(number, flip(line, ways[0])), number)


WITH_WAY = (
    r"\b(?:steps?|rock) (?:the )?(?:right|left|R|L) foot( (?:forward|fwd|back|to the (?:right|left)(?: side)?))\b",
    r"\b(?:step|rock)( (?:forward|fwd|back))(?= (?:onto|with) (?:the )?(?:right|left)\b)",
    r"\b(?:RF|LF) (?:step |rock )( ?(?:forward|fwd|back))\b",
    r"\b(?:right|left) foot (?:steps|walks|rocks)( (?:forward|fwd|back|to the (?:right|left)(?: side)?))\b",
)  # fmt: skip


def a_way_left_out(sheet: Sheet) -> Iterator[Slip]:
    """A step of a named foot has no direction any more."""
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        other = re.search(
            r"diag|turn|pivot|quarter|half|1/|¼|½|walk forward|run|lock|shuffle|home|coaster|mambo|V.step", line, re.I
        )
        if other or COPIES.search(line) or not any(e.action.verb in ("step", "rock", "lunge") for e, _ in done):
            continue
        for form, pattern in enumerate(WITH_WAY):
            for at in re.finditer(pattern, line, re.I):
                text = sheet.with_line(number, line[: at.start(1)].rstrip() + line[at.end(1) :])
                yield Slip(sheet.name, f"no way {form}", "direction-missing", text, number)


HOMES = ("centre", "together", "in place")


def a_foot_left_out(sheet: Sheet) -> Iterator[Slip]:
    """Both feet are home, or both bear, and a line that opens with a heel or a touch names no foot any more."""
    before = None
    for event, bears in sheet.events:
        one, last = event.action, before
        before = one if one.foot is not None else before
        line = sheet.lines[one.line - 1]
        sides = list(SIDE.finditer(line))
        if (
            last is None
            or last.line == one.line
            or not sides
            or re.search(r"hand|arm", line, re.I)
            or COPIES.search(line)
            or one.foot is None
        ):
            continue
        if len({side[1][0].casefold() for side in sides}) > 1 or TURNING.search(line):
            continue
        if re.search(r"repeat|same|mirror|again|hand|arm|\bleg\b", line, re.I):
            continue
        home = VERB[last.verb].takes_weight and last.dir and last.dir.value in HOMES
        either = bears == "both" or (bears == "seat" and home)
        if not either or one.verb not in ("heel", "touch", "kick", "hitch", "point", "hook", "brush"):
            continue
        if one.dir and one.dir.value in ("forward", "back", "up"):
            new = re.sub(r"(?<=\S) {2,}(?=[a-z])", " ", SIDE.sub("", line))
            yield Slip(sheet.name, "no foot", "foot-missing", sheet.with_line(one.line, new), one.line)
            the = re.sub(r"\b(?:the )?(?:right|left|R|L)(?= (?:foot|heel|toe|knee)\b)", "the", line, flags=re.I)
            if the != line and not SIDE.search(the):
                yield Slip(sheet.name, "the foot", "foot-missing", sheet.with_line(one.line, the), one.line)


WAYS = (
    the_wrong_foot, a_touch_that_steps, a_last_touch_that_steps, a_last_step_that_touches, the_wrong_side,
    a_hand_to_the_wrong_side, a_way_left_out, a_foot_left_out,
)  # fmt: skip
