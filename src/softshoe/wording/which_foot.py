"""Which foot is meant where the words name none: the free one, the one just moved, the one on that side.

Here stands what the dancer knows of herself; resolve.py dances with it.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot, Weight
from softshoe.dance.verbs import VERB
from softshoe.errors import Finding, Severity
from softshoe.wording.stance import Stance

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.parts import Slot, Want

FEET = {"L": Foot.LEFT, "R": Foot.RIGHT, "both": Foot.BOTH}


FREE_ONLY = ("heel", "touch", "point", "kick", "hitch", "flick", "hook", "brush", "scuff")
HOME = ("centre", "together", "in place")


def _diag_foot(way: str) -> Foot | None:
    return next((foot for mark, foot in ((" L ", Foot.LEFT), (" R ", Foot.RIGHT)) if mark in way), None)


def first_want(ahead: Sequence[Slot]) -> Want | None:
    """Return the next foot part of what follows."""
    return next((w for slot in ahead for w in slot.wants if w.verb != "hold"), None)


def first_foot(ahead: Sequence[Slot]) -> Foot | None:
    """Return the foot that what follows names first."""
    want = first_want(ahead)
    return FEET.get(want.foot or "") if want is not None and want.foot in ("L", "R") else None


class WhichFoot(Stance):
    """What bears her, where each foot is, what she did last; and the findings on the way."""

    def __init__(
        self, weight: Weight, seated: bool, *, foot_first: bool = False, spoken: bool = False, started: bool = False,
        stated: bool = False,
    ) -> None:  # fmt: skip
        super().__init__(weight, started=started, stated=stated, foot_first=foot_first, spoken=spoken)
        self.seated = seated
        self.now = Fraction(1)  # the moment being danced
        self.findings: list[Finding] = []
        self.inferred: list[tuple[int, Fraction, str]] = []  # line, moment, what was worked out

    def tell(
        self, severity: Severity, kind: str, line: int, at: Fraction, message: str, mend: str | None = None
    ) -> None:
        """Keep a finding at a moment (counted from 1)."""
        self.findings.append(Finding(severity, kind, line, str(at - 1), message, mend))

    def choose(self, line: int, at: Fraction, taken: str, mend: str) -> None:
        """Keep that the words can be read in two ways, and which was taken."""
        self.findings.append(Finding("warning", "ambiguous", line, str(at - 1), taken, mend))

    def bearing(self) -> Foot | None:
        """The one foot that bears her, or None."""
        if self.weight is Weight.LEFT:
            return Foot.LEFT
        return Foot.RIGHT if self.weight is Weight.RIGHT else None

    def _free_letter(self) -> str:
        if self.weight is Weight.SEAT:
            last = self.last_foot()
            return "L" if last is Foot.RIGHT else "R"
        return "L" if self.weight is Weight.RIGHT else "R"

    def last_foot(self) -> Foot | None:
        """The single foot that moved last."""
        return self.last.foot if self.last is not None and self.last.foot in (Foot.LEFT, Foot.RIGHT) else None

    def _last_did(self, *verbs: str) -> bool:
        return self.last is not None and self.last.verb in verbs

    def _foot(self, want: Want, verb: str, at: Fraction, ahead: Sequence[Slot]) -> Foot | None:
        if verb == "bump":
            return None
        if verb == "unwind":
            return Foot.BOTH
        if want.foot in FEET and verb not in ("pivot", "turn", "hop"):
            return FEET[want.foot]
        plain = (self._foot_pivot, self._foot_same, self._foot_sway, self._foot_ref)
        rules = plain if self._none_free(want, verb) else (*plain, self._foot_seated, self._foot_standing)
        for rule in rules:
            found = rule(want, verb, ahead)
            if found is not None:
                return found
        self.tell(
            "error",
            "foot-missing",
            want.line,
            at,
            "No foot is named here, and either could be meant.",
            "Name the foot.",
        )
        return Foot.RIGHT

    def _none_free(self, want: Want, verb: str) -> bool:
        """On a chair no foot is the free one: a heel or touch that opens a line, both feet home, must name its foot."""
        last = self.last
        if self.weight is not Weight.SEAT or last is None or last.line == want.line or not want.opens:
            return False
        home = VERB[last.verb].takes_weight and last.dir is not None and last.dir.value in HOME
        return verb in FREE_ONLY and home and want.dir not in ("left", "right", *HOME) and last.foot is not Foot.BOTH

    def _foot_pivot(self, want: Want, verb: str, ahead: Sequence[Slot]) -> Foot | None:
        if verb not in ("pivot", "turn", "hop"):
            return None
        if want.weight in ("L", "R"):
            return FEET[want.weight]
        bears = self.bearing()
        if verb == "pivot":
            return bears.other if bears else FEET.get(want.foot or "") or Foot.LEFT
        return bears or (FEET.get(want.foot) if want.foot else None)

    def _foot_same(self, want: Want, _verb: str, _ahead: Sequence[Slot]) -> Foot | None:
        last = self.last_foot()
        if want.foot == "same":
            return last or (Foot.BOTH if self.last is not None else None)
        return last.other if want.foot == "other" and last else None

    def _foot_sway(self, want: Want, verb: str, _ahead: Sequence[Slot]) -> Foot | None:
        paired = verb in ("swivel", "jump") or self.seated or self.weight is Weight.BOTH
        if verb in ("swivel", "fan", "raise", "lower", "jump") and want.foot is None and paired:
            return Foot.BOTH
        if verb != "sway":
            return None
        by_side = {"right": Foot.RIGHT, "left": Foot.LEFT}.get(want.dir)
        bears = self.bearing()
        return by_side or (bears.other if bears else None)

    def _foot_ref(self, want: Want, _verb: str, _ahead: Sequence[Slot]) -> Foot | None:
        """ "Step behind left": the foot named is where to go, unless it is the only one free."""
        if want.ref not in ("L", "R"):
            return None
        there = FEET[want.ref]
        return there if self.bearing() is there.other and not self.seated else there.other

    def _foot_seated(self, want: Want, verb: str, _ahead: Sequence[Slot]) -> Foot | None:
        if self.weight is not Weight.SEAT:
            return None
        last = self.last_foot()
        out = self.last is not None and not (
            VERB[self.last.verb].takes_weight and self.last.dir and self.last.dir.value in HOME
        )
        sided = {"right": Foot.RIGHT, "left": Foot.LEFT}.get(want.dir)
        if sided:
            return sided
        if want.dir in ("centre", "together", "in") or verb in ("drop", "lower") or (want.dir in HOME and out):
            return last
        if last is None:
            return Foot.RIGHT if self.started is False and self.lead else None
        beside = verb == "touch" and not want.dir and self.last is not None and VERB[self.last.verb].takes_weight
        if verb == "step" or not out or want.alternate or beside:
            return last.other
        return last

    def _foot_standing(self, want: Want, verb: str, ahead: Sequence[Slot]) -> Foot | None:
        bears = self.bearing()
        if bears is not None:
            return bears.other
        sided = {"right": Foot.RIGHT, "left": Foot.LEFT}.get(want.dir) or _diag_foot(want.dir)
        if sided or want.spin:
            return sided or (Foot.RIGHT if want.spin > 0 else Foot.LEFT)
        turns = first_want(ahead)
        if verb == "step" and turns is not None and turns.verb == "pivot" and turns.spin:
            return Foot.LEFT if turns.spin > 0 else Foot.RIGHT  # a pivot turns away from the forward foot
        follows = first_foot(ahead)
        if follows is not None:
            found = follows.other if VERB[verb].takes_weight else follows
            self.inferred.append((want.line, self.now, f"the {found.word} foot, by what follows"))
            return found
        return self.last_foot() and self.last_foot().other if self.last_foot() else None  # type: ignore[union-attr]
