"""A sheet read, with its account; and a sheet that names no foot to begin with, read with either.

Where the first step names no foot, the sheet is danced once with each: if the later steps work out with one foot only,
that foot begins, and a note says so. If they work out with both or with neither, the missing foot stays an error.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot, Weight
from softshoe.errors import Finding
from softshoe.wording.account import Account, account_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.dance.dance import Dance
    from softshoe.wording.blocks import Paint

BROKEN = ("weight", "free-foot", "foot-missing", "side", "direction-missing")


@dataclass(frozen=True, slots=True)
class Reading:
    """A sheet read: the dance, and what the reader took the words for."""

    text: str
    dance: Dance
    paints: tuple[Paint, ...] = field(repr=False)

    @property
    def account(self) -> Account:
        """What every character was taken for."""
        return account_of(self.text, self.paints, self.dance)


def opens_unnamed(dance: Dance) -> bool:
    """Return whether the first foot that moves, standing, is named nowhere and was guessed."""
    first = next((a for a in dance.actions if a.foot is not None), None)
    return (
        first is not None
        and not dance.seated
        and any(
            f.kind == "foot-missing" and f.line == first.line and f.count == str(first.at.moment)
            for f in dance.findings
        )
    )


def begun_by_one(guessed: Reading, again: Callable[[Foot], Reading | None]) -> Reading:
    """Return the sheet begun with the only foot that works out, with a note; as guessed where both or none do."""
    tried = {foot: again(foot) for foot in (Foot.RIGHT, Foot.LEFT)}
    sound = {foot: found for foot, found in tried.items() if found is not None and not _broken(found.dance)}
    if len(sound) != 1:
        return guessed
    ((foot, found),) = sound.items()
    first = next(a for a in found.dance.actions if a.foot is not None)
    message = f"Worked out from the footwork: the {foot.word} foot begins; with the other the later steps fail."
    note = Finding("note", "inferred", first.line, str(first.at.moment), message, "Name the foot that begins.")
    dance = replace(found.dance, start_weight=Weight(foot.other.value), findings=(note, *found.dance.findings))
    return replace(found, dance=dance)


def _broken(dance: Dance) -> bool:
    return any(f.severity == "error" and f.kind in BROKEN for f in dance.findings)
