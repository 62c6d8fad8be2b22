"""One page to lead from: each count with the word to call, the song down the edge, what comes besides as sentences."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any

from softshoe.dance.feet import Foot
from softshoe.dance.footwork import wall_events
from softshoe.render.look import palette
from softshoe.render.page import margins
from softshoe.render.phrase_words import cue_word
from softshoe.render.sheet_content import Around, sheet_page
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_rows import Bead, local_label
from softshoe.render.sheet_signs import Picture, beads_picture
from softshoe.teach.words import turn_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance, Section
    from softshoe.fit.run import Run
    from softshoe.render.page import Edition, Paper

GESTURE_CUES = {"drum": "drum", "rest": "hands", "rotate": "thumbs", "follow": "follow", "lower": "arms down",
                "raise": "arms up", "close": "arms in"}  # fmt: skip
LETTERS = {Foot.LEFT: "L", Foot.RIGHT: "R"}
ACROSS = {"4/4": 4, "2/4": 4, "6/8": 3, "3/4": 3}
# Points, and counts beside each other; the largest that keeps one page.
SIZES_PT: dict[Edition, tuple[tuple[float, int], ...]] = {
    "normal": ((15.0, 4), (13.5, 4), (12.0, 4)), "large": ((18.0, 3),), "largest": ((24.0, 2),),
}  # fmt: skip


def leader_pdf(
    dance: Dance, run: Run | None = None, *,
    edition: Edition = "normal", paper: Paper = "a4", bound: bool = False,
) -> bytes:  # fmt: skip
    """Return the page to lead from as a PDF tagged to PDF/UA-1: one page in normal print, more in larger."""
    from softshoe.render.pdf import pages_of, pdf

    values = leader_values(dance, run, paper=paper) | {"margin": margins(bound)}
    for size, across in SIZES_PT[edition]:
        made = pdf("leader.typ", values | {"size_pt": size, "across": min(values["across"], across)})
        if pages_of(made) == 1:
            break
    return made


def leader_values(dance: Dance, run: Run | None, *, paper: Paper) -> dict[str, Any]:
    """Return what the page is set from."""
    page = sheet_page(dance, run, None, Around())
    events = wall_events(dance)
    return {
        "title": page.title,
        "head": " ".join(page.head),
        "paper": paper,
        "colour": palette(),
        "across": ACROSS[dance.metre],
        "sections": [_section(dance, s, events) for s in dance.sections],
        "extras": [
            {"name": s.name, "words": " ".join([s.before, *(line.feet for line in s.lines)])} for s in page.extras
        ],
        "rail": _drawn(page.rail) if page.rail else None,
    }


def _section(dance: Dance, section: Section, events: Sequence[Event]) -> dict[str, Any]:
    mine = [e for e in events if dance.section_at(e.action.at) == section]
    cells = list(_cells(mine, section))
    return {"number": str(section.number), "name": section_name(dance, section, events), "cells": cells}


def _cells(mine: Sequence[Event], section: Section) -> Iterator[dict[str, Any]]:
    """One cell a whole count; what falls between goes into the cell of the count it follows."""
    for _, found in groupby(mine, key=lambda e: max(e.action.at.whole, section.start.whole)):
        events = list(found)
        beads, cues = [], []
        for at, now in groupby(events, key=lambda e: e.action.at):
            here = list(now)
            label, part = local_label(at, section.start)
            feet = {e.action.foot for e in here}
            foot = feet.pop() if len(feet) == 1 else Foot.BOTH
            beads.append(Bead(label, 1.0 if not part else (0.5 if label == "&" else 0.25), foot))
            cues += [_cue(e) for e in here]
        yield {"beads": _drawn(beads_picture(tuple(beads))), "cue": ", ".join(dict.fromkeys(cues))}


def _cue(event: Event) -> str:
    action = event.action
    hands = [GESTURE_CUES.get(arm.gesture, arm.gesture) for arm in action.arms]
    if action.verb == "arms":
        return ", ".join(dict.fromkeys(hands)) or "hold"
    letter = LETTERS.get(action.foot, "") if action.foot else ""
    turn = turn_words(action.turn_deg)
    cue = f"{cue_word(action)} {turn}".removeprefix("turn ") if turn else cue_word(action)
    feet = f"{letter} {cue.removeprefix('step ') if turn else cue}".strip()
    return " + ".join([feet, *dict.fromkeys(hands)])


def _drawn(picture: Picture) -> dict[str, Any]:
    return {"svg": picture.svg, "alt": picture.alt, "width": picture.width, "height": picture.height}
