"""A picture for each count of each section: the figure, the count, and the words below it.

The figure's picture can't be seen by everyone: its words for screen readers say count, feet, weight, facing and arms.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from softshoe.dance.arms import GESTURE
from softshoe.dance.footwork import wall_events
from softshoe.figure.move import move
from softshoe.render.look import palette
from softshoe.render.page import SMALLEST_PT, margins
from softshoe.render.phrase_words import action_words, arm_words, pictured, sentence
from softshoe.render.picture import svg_of
from softshoe.render.sheet_content import dance_words, support_words
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_rows import LASTING, Bead, local_label
from softshoe.render.sheet_signs import Picture, beads_picture

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance, Section
    from softshoe.figure.motion import Motion, Support
    from softshoe.render.page import Edition, Paper
    from softshoe.render.picture_camera import Seen

SIZES = {"seated": (300, 270), "standing": (250, 350)}  # arms reach wide on a chair, heads high off it
SHARES = (1.0, 0.92, 0.84, 0.76)  # of a column's width; a section is never cut, so a little less may save a page
SIZES_PT: dict[Edition, tuple[float, int]] = {"normal": (SMALLEST_PT, 4), "large": (18.0, 3), "largest": (24.0, 2)}
SEEN_WORDS = {
    "mirror": "The figure faces you, as in a mirror.",
    "behind": "The figure is seen from behind.",
    "side": "The figure is seen from its right side.",
}
STILL = {"hold", "feet still"}


def pictures_pdf(
    dance: Dance, *, support: Support | None = None, edition: Edition = "normal", paper: Paper = "a4",
    view: Seen = "mirror", bound: bool = False, under: str = "",
) -> bytes:  # fmt: skip
    """Return the pictures of one wall as a PDF tagged to PDF/UA-1; the figure faces the dancer as in a mirror, or is
    seen from behind or from the side.

    ``support`` is what holds her (None: as the dance is danced), drawn with her; ``under`` names the version below the
    title; ``bound`` leaves room for the holes of a binder."""
    from softshoe.render.pdf import fewest_pages

    values = pictures_values(dance, support=support, paper=paper, view=view, bound=bound, under=under)
    size, across = SIZES_PT[edition]
    values |= {"size_pt": size, "across": min(values["across"], across)}
    return fewest_pages("pictures.typ", [values | {"share": share} for share in SHARES])


def pictures_values(
    dance: Dance, *, support: Support | None, paper: Paper, view: Seen, bound: bool, under: str
) -> dict[str, Any]:
    """Return what the pages are set from."""
    events = wall_events(dance)
    stance = "seated" if dance.seated else "standing"
    motion = move(events, counts=float(dance.counts), stance=stance, loop=True, support=support)  # type: ignore[arg-type]
    return {
        "title": dance.title or "A dance without a name",
        "under": under,
        "head": " ".join(filter(None, (*dance_words(dance), support_words(motion.chair), SEEN_WORDS[view]))),
        "paper": paper,
        "margin": margins(bound),
        "colour": palette(),
        "across": 3 if dance.metre == "3/4" else 4,
        "sections": [_section(dance, s, events, motion, view) for s in dance.sections],
    }


def _section(dance: Dance, section: Section, events: Sequence[Event], motion: Motion, view: Seen) -> dict[str, Any]:
    mine = [e for e in events if dance.section_at(e.action.at) == section]
    cells = list(_cells(mine, section, motion, view))
    return {"number": str(section.number), "name": section_name(dance, section, events), "cells": cells}


def _cells(mine: Sequence[Event], section: Section, motion: Motion, view: Seen) -> Iterator[dict[str, Any]]:
    """One cell a moment."""
    before, last = None, ""
    for event in mine:
        action = event.action
        label, part = local_label(action.at, section.start)
        bead = beads_picture((Bead(label, 1.0 if not part else (0.5 if label == "&" else 0.25), action.foot),))
        feet = action_words(action, facing_deg=event.facing_deg, before=before)
        words = [w for w in (feet, arm_words(action.arms)) if w and not (w in STILL and action.arms)]
        wide, high = SIZES[motion.stance]
        told = ". ".join(sentence(w) for w in words) + "."
        lasting = all(GESTURE[arm.gesture].lasting for arm in action.arms)
        goes_on = told == last and lasting and action.verb in LASTING - {"hold"}
        last, told = told, "Goes on." if goes_on else told
        drawn = svg_of(motion, max(0.0, float(action.at.moment)), view=view, width=wide, height=high)
        yield {"bead": _drawn(bead), "words": told,
               "figure": {"svg": drawn, "alt": pictured(event), "width": wide, "height": high}}  # fmt: skip
        before = action


def _drawn(picture: Picture) -> dict[str, Any]:
    return {"svg": picture.svg, "alt": picture.alt, "width": picture.width, "height": picture.height}
