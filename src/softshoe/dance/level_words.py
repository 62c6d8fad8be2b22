"""Level and character in plain words, a sentence a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.level import apart

if TYPE_CHECKING:
    from softshoe.dance.character import Character
    from softshoe.dance.dance import Dance
    from softshoe.dance.level import Estimate


def level_lines(dance: Dance, estimate: Estimate) -> tuple[str, ...]:
    """Return what the steps say of the level, with the reasons, and what the dance asks for."""
    why = "; ".join(reason.words for reason in estimate.reasons) or "few figures, nothing between the counts, few turns"
    if dance.level is None:
        stated = ". The sheet does not say one"
    else:
        stated = f"; the sheet says {dance.level}" if apart(dance, estimate) else ", as the sheet says"
    first = f"Level by the steps: {estimate.level}{stated}."
    return (first, f"Why: {why}.", *character_lines(estimate.character, seated=dance.seated))


def character_lines(character: Character, *, seated: bool) -> tuple[str, ...]:
    """Return sides, travel, arms and how busy the feet are."""
    sides = [
        f"{what} {round(share * 100)} % right, {round((1 - share) * 100)} % left"
        for what, share in (("feet", character.right_feet), ("hands", character.right_hands))
        if share is not None
    ]
    lines = [f"Sides: {'; '.join(sides)}."] if sides else []
    if not seated:
        lines.append(f"Travel: a step leaves the spot on {_share(character.travel)} of the counts.")
    lines.append(f"Arms: they move on {_share(character.arms)} of the counts.")
    lines.append(f"Feet: {character.busy:.1f} moves a count, most on count {character.busiest}.")
    return tuple(lines)


def _share(share: float) -> str:
    return "none" if share == 0 else f"{round(share * 100)} %"
