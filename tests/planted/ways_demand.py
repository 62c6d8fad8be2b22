"""What is no error and yet worth a note: a tempo too quick for one foot, a level far off, one side that does it all."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.dance.dance import LEVELS
from softshoe.dance.feet import Foot
from softshoe.dance.level import level_of

from .pool import Sheet, Slip
from .ways_feet import SIDE, flip

if TYPE_CHECKING:
    from collections.abc import Iterator

BPM = re.compile(r"\b(\d{2,3})(?= ?bpm\b)", re.I)
LEVEL = re.compile(r"\b(absolute beginner|beginner|improver|intermediate|advanced)\b", re.I)


def a_tempo_too_quick(sheet: Sheet) -> Iterator[Slip]:
    """On a chair one foot is asked to move twice within half a second."""
    tempos = list(BPM.finditer("\n".join(sheet.lines[: sheet.first_steps])))
    if sheet.dance.seated and len(tempos) == 1:
        for quick in (132, 150):
            text = sheet.text[: tempos[0].start()] + str(quick) + sheet.text[tempos[0].end() :]
            feet = [e.action for e, _ in sheet.events if e.action.foot is not None]
            close = [b for a, b in pairwise(feet) if a.foot is b.foot and 0 < b.at.at - a.at.at <= 1]
            if close:
                yield Slip(sheet.name, f"at {quick}", "crowded", text, None, "note")


def a_level_far_off(sheet: Sheet) -> Iterator[Slip]:
    """The header states a level two or more away from that of the steps."""
    by_steps = LEVELS.index(level_of(sheet.dance).level)
    for number in range(1, sheet.first_steps):
        line = sheet.lines[number - 1]
        places = list(LEVEL.finditer(line))
        for wrong in (by_steps - 2, by_steps + 2, by_steps + 3):
            if len(places) == 1 and 0 <= wrong < len(LEVELS):
                new = line[: places[0].start()] + LEVELS[wrong] + line[places[0].end() :]
                yield Slip(sheet.name, f"level {wrong}", "level", sheet.with_line(number, new), number, "note")


def one_side_does_it_all(sheet: Sheet) -> Iterator[Slip]:
    """On a chair, lines for the left are written for the right."""
    feet = [e.action for e, _ in sheet.events if e.action.foot in (Foot.LEFT, Foot.RIGHT)]
    other = re.compile(r"same|mirror|\bas\b|likewise", re.I)
    if not sheet.dance.seated or other.search(sheet.text) or len(feet) < 16:
        return
    lines = list(sheet.lines)
    for number in sheet.on_line:
        for at in reversed(list(SIDE.finditer(lines[number - 1]))):
            if at[1][0] in "lL":
                lines[number - 1] = flip(lines[number - 1], at)
        text = "\n".join(lines)
        turned = sum(a.line <= number and a.foot is Foot.LEFT for a in feet)
        right = sum(a.foot is Foot.RIGHT for a in feet) + turned
        if 0.7 < right / len(feet) < 1:
            yield Slip(
                sheet.name, f"up to line {number}", "one-sided", text, None, "note", also=frozenset(("arms", "side"))
            )


WAYS = (a_tempo_too_quick, a_level_far_off, one_side_does_it_all)
