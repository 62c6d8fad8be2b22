"""The tables of the adapting room, read once: what each verb becomes on a chair, and what the arms touch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, cast

from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.dance.arms import ArmMove

PlaceRule = Literal["table", "home", "forward", "back", "up", "down", "keep", "circle"]


@dataclass(frozen=True, slots=True)
class SeatedVerb:
    """One row of ``seated_verbs.csv``."""

    verb: str
    seated_verb: str
    place: PlaceRule
    cautions: tuple[str, ...]
    standing_cautions: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class ArmCaution:
    """One row of ``arm_cautions.csv``: arm moves to these places, or of these gestures, touch these cautions."""

    what: str
    places: tuple[str, ...]
    gestures: tuple[str, ...]
    cautions: tuple[str, ...]

    def touches(self, arm: ArmMove) -> bool:
        """True when this arm move is one of them."""
        return arm.place in self.places or arm.gesture in self.gestures


def _ids(text: str) -> tuple[str, ...]:
    return tuple(text.split(";")) if text else ()


SEATED = {
    row["verb"]: SeatedVerb(
        verb=row["verb"],
        seated_verb=row["seated_verb"],
        place=cast("PlaceRule", row["place"]),
        cautions=_ids(row["cautions"]),
        standing_cautions=_ids(row["standing_cautions"]),
        reason=row["reason"],
    )
    for row in table("adapt/seated_verbs")
}
ARM_CAUTIONS = tuple(
    ArmCaution(row["what"], _ids(row["places"]), _ids(row["gestures"]), _ids(row["cautions"]))
    for row in table("adapt/arm_cautions")
)
