"""Which way a foot goes and a turn turns where the words leave it open: by the verb, the foot, what follows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.wording.which_foot import WhichFoot, first_want

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.parts import Slot, Want

SIDED = {
    "forward R diag": Direction.FORWARD_RIGHT, "forward L diag": Direction.FORWARD_LEFT,
    "back R diag": Direction.BACK_RIGHT, "back L diag": Direction.BACK_LEFT,
}  # fmt: skip
OWN = {
    "side": (Direction.LEFT, Direction.RIGHT), "out": (Direction.LEFT, Direction.RIGHT),
    "diag": (Direction.FORWARD_LEFT, Direction.FORWARD_RIGHT), "forward diag": (Direction.FORWARD_LEFT,
    Direction.FORWARD_RIGHT),
    "back diag": (Direction.BACK_LEFT, Direction.BACK_RIGHT),
}  # fmt: skip
SENT_OUT = (Direction.LEFT, Direction.RIGHT)
FORWARDS = (Direction.FORWARD, Direction.FORWARD_LEFT, Direction.FORWARD_RIGHT)
KNOWN_WAYS = frozenset(direction.value for direction in Direction)
TAPS = ("touch", "point")
NOT_ACROSS = ("heel", "touch", "point", "kick")
BACKWARD = (Direction.BACK, Direction.BACK_LEFT, Direction.BACK_RIGHT)


class WhichWay(WhichFoot):
    """Where each foot goes, seen from how she stands."""

    def _way(self, want: Want, verb: str, foot: Foot | None, at: Fraction, ahead: Sequence[Slot]) -> Direction | None:
        way = self._adjusted(want.dir, verb, want)
        if self.seated and way == "back" and want.foot == "same" and self.last is not None and foot is self.last.foot:
            way = "centre" if self.last.dir not in BACKWARD else way  # out and "back" again
        if way == "apart" and foot in (Foot.LEFT, Foot.RIGHT):
            way = "side"
        if way in SIDED:
            return SIDED[way]
        if way in OWN:
            return OWN[way][foot is Foot.RIGHT] if foot in (Foot.LEFT, Foot.RIGHT) else self._both_way(way)
        if way in KNOWN_WAYS:
            return Direction(way)
        return self._unsaid_way(want, verb, foot, at, ahead)

    def _both_way(self, way: str) -> Direction:
        return Direction.APART if way in ("side", "out") else Direction.FORWARD

    def _adjusted(self, way: str, verb: str, want: Want) -> str:
        """Words of place as the verb means them."""
        if way == "lock":
            travelled = self.last.dir if self.last is not None else None
            return "across front" if travelled in BACKWARD else "across behind"
        if verb == "sweep" and not want.ref:
            way = {"across behind": "back", "across front": "forward"}.get(way, way)
        if verb in ("swivel", "fan") and way in ("together", "in place"):
            return "centre"
        if way == "in":
            return "together" if verb == "drag" else "centre"
        if way == "down":
            return "down" if verb in ("lower", "raise") else "in place"
        if verb == "lower" and way in ("in place", "centre", "together"):
            return "down"
        if verb == "hitch" and way in ("forward", "in place", "side", "left", "right", "out"):
            return "up"
        if verb == "flick" and way in ("across behind", "up") and not want.ref:
            return "back"
        if self.seated and way == "across front" and want.inferred == "in front":
            return "forward"  # on a chair "in front" is before its own knee
        if self.seated and verb in TAPS and way == "across behind" and not want.ref:
            return "back"  # on a chair a toe "behind" is straight behind, below the seat
        if verb in ("hook",) and way not in ("across front", "across behind"):
            return "across behind" if way == "back" else "across front"
        if verb in NOT_ACROSS and way == "across front" and not want.ref:
            return "forward"
        if verb in ("step", "touch", "stomp", "rock") and way == "up":
            return "in place"
        if verb == "drop" or (verb == "pivot" and way not in ("", "in place")):
            return "in place"
        return way

    def _unsaid_way(
        self, want: Want, verb: str, foot: Foot | None, at: Fraction, ahead: Sequence[Slot]
    ) -> Direction | None:
        if verb in ("point", "sway", "lunge", "fan", "swivel") and foot in (Foot.LEFT, Foot.RIGHT):
            return OWN["side"][foot is Foot.RIGHT]
        if verb in ("touch", "stomp-up", "stomp"):
            return self._stay_or_beside(verb, foot)
        if verb == "sweep":
            return Direction.CENTRE if self.seated else Direction.BACK
        home = VERB[verb].home
        if home is not None:
            return home
        if verb in ("hold", "arms"):
            return None
        if verb == "bump":  # hips rolled round
            return {1: Direction.RIGHT, -1: Direction.LEFT}.get(want.spin, Direction.IN_PLACE)
        return self._step_way(want, verb, foot, at, ahead)

    def _stay_or_beside(self, verb: str, foot: Foot | None) -> Direction:
        if self.seated:
            last = self.last
            out = last is not None and VERB[last.verb].takes_weight and last.dir in SENT_OUT
            return Direction.TOGETHER if out and last is not None and last.foot is not foot else Direction.IN_PLACE
        before = self.last_of(foot)
        if before is not None and before is self.last and before.verb == "drag":
            return Direction.TOGETHER  # drawn in, it stands beside the other
        stays = (
            before is not None
            and before is self.last
            and not VERB[before.verb].takes_weight
            and not VERB[before.verb].lifts
        )
        if stays or (verb != "touch" and not self.apart and self.started):
            return Direction.IN_PLACE
        return Direction.TOGETHER

    def _step_way(self, want: Want, verb: str, foot: Foot | None, at: Fraction, ahead: Sequence[Slot]) -> Direction:
        """A step without a place: what follows or the chair may settle it; else it is told."""
        follows = first_want(ahead)
        if want.turn_deg or (follows is not None and follows.verb == "pivot"):
            return Direction.FORWARD
        if follows is not None and follows.dir == "lock":
            return Direction.FORWARD
        scuffed = self._last_did("scuff", "brush") and self.last is not None and self.last.foot is foot
        if scuffed and self.last is not None and self.last.dir is Direction.FORWARD:
            return Direction.FORWARD
        locked = self.last is not None and self.last.dir is Direction.ACROSS_BEHIND
        before = self.last_of(foot) if locked else None
        if before is not None and before.dir in FORWARDS and before.verb == "step":
            return before.dir
        if self.seated and not (
            want.verb == "step" and follows is not None and follows.dir == "centre" and len(ahead) > 0
        ):
            return Direction.IN_PLACE
        if foot is Foot.BOTH:
            return Direction.IN_PLACE
        own = OWN["side"][foot is Foot.RIGHT]
        if want.inferred == "side" and not (self.foot_first and not _touches(follows)):
            return own
        if want.inferred == "bare" and not self.foot_first:
            return own
        if self.spoken:
            return Direction.FORWARD
        self.tell("error", "direction-missing", want.line, at,
        f"The {verb} of the {foot.word if foot else ''} foot has no direction.",
                  "Say where it goes: forward, back, to the side, together.")  # fmt: skip
        return own

    def _turn(self, want: Want, verb: str, foot: Foot | None, at: Fraction) -> int:
        if want.square >= 0:
            return (want.square - self.turned_deg + 180) % 360 - 180
        if not want.turn_deg:
            return 0
        spin = want.spin or self._own_spin(want, verb, foot)
        if spin and not want.spin and verb != "pivot":
            self.inferred.append((want.line, at, f"the turn to the {'right' if spin > 0 else 'left'}"))
        if spin:
            return spin * want.turn_deg
        self.tell("error", "direction-missing", want.line, at,
        "The turn has no direction, and nothing else settles it.",
                  "Say right or left.")  # fmt: skip
        return want.turn_deg if foot is not Foot.LEFT else -want.turn_deg

    def _own_spin(self, want: Want, verb: str, foot: Foot | None) -> int:
        """Which way a turn goes when nothing is said: a pivot away from the forward foot, an unwind out of the
        crossing.
        """
        last = self.last
        if verb == "pivot":
            return -1 if foot is Foot.LEFT else 1
        if verb == "unwind" and last is not None:
            over = -1 if last.foot is Foot.RIGHT else 1
            return over if last.dir is Direction.ACROSS_FRONT else -over
        if last is not None and last.dir is Direction.ACROSS_BEHIND and last.foot is not foot:
            return 1 if foot is Foot.RIGHT else -1
        return 0


def _touches(want: Want | None) -> bool:
    """Return whether what follows makes a step to the side plain: the other foot touches, closes or is drawn in."""
    if want is None:
        return False
    return want.verb in ("touch", "heel", "kick", "hitch", "point", "drag", "slide", "scuff", "brush") or (
        want.verb == "step" and want.dir in ("together", "across behind")
    )
