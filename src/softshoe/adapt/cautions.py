"""Cautions: what to watch for in a version, and whom to ask. The table's words are never made stronger or weaker.

Every row ends by sending the person to their own clinician (``always_say``).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Literal, cast

from softshoe.adapt.tables import ARM_CAUTIONS, SEATED
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance

Severity = Literal["stop", "warn", "note"]
ALWAYS = ("stop_signs", "warmup")
QUICK_TURN_DEG = 90
MOST_COUNTS = 6  # counts named with a caution
OF_THE_PLACE = frozenset(("sit_seat", "wheel_feet", "sit_slide"))  # touched by the chair and not by one count
CROSSING = (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)  # a foot past the midline of the body


@dataclass(frozen=True, slots=True)
class Caution:
    """One row of the cautions table."""

    id: str
    condition: str
    watch: str
    test: str
    threshold: str
    unit: str
    duration: str
    adaptation: str
    severity: Severity
    source: str
    confidence: str
    basis: str
    always_say: str


@cache
def cautions() -> dict[str, Caution]:
    """Return the cautions table by id."""
    return {row["id"]: _caution(row) for row in table("adapt/precautions")}


def _caution(row: dict[str, str]) -> Caution:
    return Caution(
        id=row["id"],
        condition=row["condition"],
        watch=row["movement_to_watch"],
        test=row["what_a_tool_can_test"],
        threshold=row["threshold"],
        unit=row["unit"],
        duration=row["usual_duration_or_scope"],
        adaptation=row["suggested_adaptation"],
        severity=cast("Severity", row["severity_suggestion"]),
        source=row["source"],
        confidence=row["confidence"],
        basis=row["threshold_basis"],
        always_say=row["always_say"],
    )


def cautions_for(dance: Dance, kind: Kind) -> tuple[str, ...]:
    """Return the ids of cautions that what is left in this dance touches, in the order of the table."""
    found = {*ALWAYS, *(one for action in dance.actions for one in _of_action(action, seated=dance.seated))}
    if kind == "arms":
        found.discard("sit_slide")
    if kind in ("left", "right"):
        found.add("stroke_side")
    if not dance.seated:
        found.update(("bp_rise", "progress"))
    return tuple(one for one in cautions() if one in found)


def caution_counts(dance: Dance) -> dict[str, str]:
    """Return, by caution, the counts that touch it: "13, 15 and 7 more"; cautions of the whole dance have none."""
    found: dict[str, dict[str, None]] = {}
    for action in dance.actions:
        for one in _of_action(action, seated=dance.seated) - OF_THE_PLACE:
            found.setdefault(one, {})[action.at.label] = None
    return {one: _listed(list(labels)) for one, labels in found.items()}


def _listed(labels: list[str]) -> str:
    more = len(labels) - MOST_COUNTS
    return ", ".join(labels[:MOST_COUNTS]) + (f" and {more} more" if more > 0 else "")


def _of_action(action: Action, *, seated: bool) -> set[str]:
    row = SEATED[action.verb]
    found = set(row.cautions if seated else row.standing_cautions)
    for arm in action.arms:
        found.update(c for rule in ARM_CAUTIONS if rule.touches(arm) for c in rule.cautions)
    if action.foot is not None and any(a.gesture not in ("rest", "follow", "swing") for a in action.arms):
        found.add("pd_dual")
    if abs(action.turn_deg) >= QUICK_TURN_DEG:
        found.update(("pd_turn", "vertigo_head"))
    if action.foot is not None and action.dir in CROSSING:
        found.update(("thr_post_add",) if seated else ("thr_post_add", "pd_turn"))
    if action.foot is Foot.BOTH and action.verb in ("kick", "hitch"):
        found.add("sit_slide")
    return found
