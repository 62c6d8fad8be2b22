"""Versions side by side: the same counts in every column, what changed and why, what is to be watched for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from softshoe.adapt.limits import LIMITS
from softshoe.adapt.version import KINDS
from softshoe.errors import WorkbenchError
from softshoe.studio.chosen import AS_WRITTEN, Wish, version_of, wishes
from softshoe.studio.desk import read_words
from softshoe.studio.reading import called

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance
    from softshoe.studio.desk import Desk

# The questions, in an order in which an answer can settle others, and what settles them.
QUESTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("seat", ()), ("chair", ("seat",)), ("feet", ()), ("left foot", ("feet", "right foot")), ("right foot", ("feet",)),
    ("left hand", ()), ("right hand", ("left hand",)), ("turning", ("seat", "chair", "feet")), ("high arms", ()),
    ("overhead", ("high arms",)), ("crossing", ()), ("impact", ()), ("one leg", ("seat", "feet")), ("quick", ()),
    ("small", ()), ("slow feet", ("feet",)), ("one thing", ("feet",)),
)  # fmt: skip
READY: dict[str, str] = {
    "standing": "Standing", "supported": "Behind a chair", "seated": "Seated", "arms": "Arms only",
    "left": "Left side only", "right": "Right side only",
}  # fmt: skip


def questions() -> list[dict[str, Any]]:
    """Return the plain questions, each with what settles it."""
    return [{"id": one, "ask": LIMITS[one].ask, "settled": list(by)} for one, by in QUESTIONS]


def ready() -> list[dict[str, Any]]:
    """Return the versions that one press makes: a name, and the answers that make it."""
    from softshoe.adapt.kinds import LIMITS_OF

    return [{"name": READY[kind], "limits": list(LIMITS_OF[kind])} for kind in KINDS if LIMITS_OF[kind]]


def bodies_view(desk: Desk, uid: str) -> dict[str, Any]:
    """Return the versions of a dance side by side. Raises WordingError where the words hold no step."""
    words = desk.words(uid)
    dance = read_words(words).dance
    wanted = (Wish(AS_WRITTEN), *wishes(desk, uid))
    versions = [version_of(words, wish) for wish in wanted]
    return {
        "counts": dance.counts,
        "versions": [_version(dance, wish, one) for wish, one in zip(wanted, versions, strict=True)],
        "rows": rows(dance, versions),
        "sections": _sections(dance),
    }


def _version(dance: Dance, wish: Wish, version: Version) -> dict[str, Any]:
    from softshoe.adapt.plain import limit_words
    from softshoe.plan.effort import band_words, effort_band
    from softshoe.render.sheet_notes import care_note

    band = effort_band(version.dance, counts_per_min=None)
    given = limit_words(version.abilities) if wish.limits else "as the sheet says it"
    return {
        "name": wish.name,
        "limits": list(wish.limits),
        "says": given,
        "motion": f"{version.kind}:dance",
        "changed": len({change.at for change in version.changes}) if wish.name != AS_WRITTEN else 0,
        "lost": list(version.lost),
        "warnings": _warnings(dance, wish, version),
        "by_hand": list(wish.instead),
        "effort": f"{band_words(band)}. Basis: {band.basis}",
        "care": list(care_note(version.dance, version).words),
        "cautions": list(_cautions(version)),
    }


def _warnings(dance: Dance, wish: Wish, version: Version) -> list[str]:
    """What is put in by hand and asks for more than the wishes, or is no longer in the dance."""
    told = [f"Count {one.at.label} asks for more than “{LIMITS[one.limit].say}”." for one in version.breaches]
    if wish.instead:
        from softshoe.adapt.adapt import adapt
        from softshoe.adapt.by_hand import instead
        from softshoe.adapt.limits import abilities

        now = adapt(dance, abilities(wish.name, wish.limits))
        for one in wish.instead:
            try:
                now, warnings = instead(now, one)
                told += [f"{words[:1].upper()}{words[1:]}." for words in warnings if "moves while" in words]
            except WorkbenchError as wrong:
                told.append(f"“{one}” was left out: {wrong.why}.")
    return list(dict.fromkeys(told))


def _cautions(version: Version) -> list[str]:
    from softshoe.adapt.cautions import caution_counts, cautions

    table, counts = cautions(), caution_counts(version.dance)
    found = []
    for one in version.cautions:
        row = table[one]
        where = f" (count {counts[one]})" if counts.get(one) else ""
        found.append(f"{row.condition}: {row.watch}{where}. Instead: {row.adaptation}.")
    return found


def rows(dance: Dance, versions: Sequence[Version]) -> list[dict[str, Any]]:
    """Return every count at which somebody does something: what each version dances, and why where it differs."""
    every = sorted({action.at for version in versions for action in version.dance.actions}, key=lambda at: at.at)
    return [_row(dance, versions, at) for at in every]


def _row(dance: Dance, versions: Sequence[Version], at: Count) -> dict[str, Any]:
    section = dance.section_at(at)
    base = _danced(versions[0].dance, at)
    cells = [_cell(version, at, base) for version in versions]
    return {"count": at.label, "called": called(dance, at), "section": section.number if section else 0, "cells": cells}


def _cell(version: Version, at: Count, base: str) -> dict[str, Any]:
    from softshoe.render.phrase_words import sentence

    words = _danced(version.dance, at)
    changes = [change for change in version.changes if change.at == at]
    same = words == base or not changes  # a step beside is a step home on a chair: no change, another word
    why = [] if same else [sentence(change.reason.rstrip(".")) + "." for change in changes]
    return {"words": words or "–", "same": same, "why": " ".join(dict.fromkeys(why)),
            "source": "" if same else ", ".join(dict.fromkeys(change.source for change in changes))}  # fmt: skip


def _danced(dance: Dance, at: Count) -> str:
    from softshoe.render.phrase_words import action_words, arm_words

    mine = [action for action in dance.actions if action.at == at]
    phrases = [words for one in mine for words in (action_words(one), arm_words(one.arms)) if words]
    return "; ".join(words for words in phrases if words != "feet still" or len(phrases) == 1)


def _sections(dance: Dance) -> list[dict[str, Any]]:
    from softshoe.dance.footwork import wall_events
    from softshoe.render.sheet_names import section_name

    events = wall_events(dance)
    return [{"number": one.number, "first": round(float(one.start.moment)), "counts": round(float(one.length.n)),
             "title": section_name(dance, one, events)} for one in dance.sections]  # fmt: skip
