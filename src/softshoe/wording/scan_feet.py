"""Words for feet and places, read into the draft: who moves, where to, and which foot is only a place to go."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.scan import Scan

if TYPE_CHECKING:
    from softshoe.wording.lex import Token

BESIDE = ("together", "across front", "across behind")


STEP_DIRS = (
    "side",
    "forward",
    "back",
    "together",
    "across front",
    "across behind",
    "in place",
    "centre",
    "left",
    "right",
)


DRAWING = ("draw", "draws", "drawing", "make", "makes", "making", "trace", "traces", "tracing", "describe",
"describes", "describing", "paint", "paints", "goes round in", "stir", "stirs")  # fmt: skip
FIGURES = (
    "ring",
    "rings",
    "circle",
    "circles",
    "loop",
    "loops",
    "arc",
    "arcs",
    "circle on the floor",
    "circles on the floor",
)
STRUCK_IN_TURN = ("stomp", "touch", "tap", "hitch", "step", "kick", "heel")
ADVERBS = ("together", "tog", "tgthr", "next")


class FeetWords(Scan):
    """One method a kind of word."""

    def _foot(self, token: Token) -> int:
        if self._owner(token.value):
            return 1
        if self.draft.value == "pull" and token.value in ("L", "R") and not (self.draft.hands or self.draft.dirs):
            self.draft.doing, self.draft.value = "verb", "drag"  # "pull the left foot towards it"
        if self._onto() and token.value in ("L", "R"):
            self.draft.weight = token.value
        else:
            self._mover(token.value)
        return 1

    def _updown(self, token: Token) -> int:
        """ "Both heels up and down" is two movements; "wave up and down" is one."""
        draft = self.draft
        if draft.part in ("heel", "toe", "knee") and not draft.doing:
            draft.dirs.append("up")
            draft.tokens.append(token)
            self._close("and")
            self.draft.dirs.append("down")
        return 1

    def _owner(self, foot: str) -> bool:
        """ "The toes of the right foot": whose toes they are."""
        draft = self.draft
        near = [t.low for t in draft.tokens[-2:]]
        if not draft.part or draft.dirs or "of" not in near or draft.feet not in ([], ["both"]):
            return False
        draft.feet = [foot]
        return True

    def _fill(self, token: Token) -> int:
        """ "March right and left" names the foot that leads."""
        if (
            token.low in ("every", "each")
            and self.draft.value in ("clap", "snap", "pat")
            and self.draft.doing == "gest"
        ):
            self.draft.each = True  # "clap every touch"
        if token.low.endswith("side to side") and self.draft.value in ("bump", "sway"):
            self.draft.alternate = True
        if token.low not in ("right and left", "left and right"):
            return 1
        if self.draft.value == "step":
            self.draft.feet = self.draft.feet or [token.text[0].upper()]
        elif self.draft.value in ("sway", "bump") and not self.draft.feet:
            self.draft.feet = ["R", "L"] if token.low.startswith("right") else ["L", "R"]
        return 1

    def _onto(self) -> bool:
        """ "Turn a quarter onto the left": the foot named takes the weight."""
        draft = self.draft
        turns = draft.value in ("pivot", "paddle") or (not draft.doing and (draft.amount or draft.turning))
        words = [t.low for t in draft.tokens[-2:]]
        return bool(turns) and any(word.startswith("onto") for word in words)

    def _mover(self, foot: str) -> None:
        draft = self.draft
        if draft.refs is not None and self._is_reference():
            draft.refs.append(foot)
        elif foot == "same" and draft.hands and not draft.feet:
            draft.hands[-1] = draft.hands[-1] or "same"
        else:
            if draft.feet and (draft.dirs or draft.weight) and draft.doing != "pattern" and foot not in ("both",):
                self._close("and")
            self.draft.feet.append(foot)

    def _is_reference(self) -> bool:
        """A foot named straight behind "beside", "over", "behind", "towards" … is where the step goes, not who
        steps.
        """
        j = self.i - 1
        while (
            j >= 0
            and (self.tokens[j].kind in ("fill", "prep") or self.tokens[j].low == "with")
            and self.tokens[j] in self.draft.tokens[-3:]
        ):
            j -= 1
        before = self.tokens[j] if j >= 0 and self.draft.tokens else None
        if before is None or before not in self.draft.tokens[-4:]:
            return False
        if before.kind == "verb" and before.dir == "together" and self.draft.feet:
            return True  # "left foot joins it"
        if before.kind == "dir" and before.value in BESIDE:
            return before.low not in ADVERBS or self.i - j > 1
        gap = [t.low for t in self.tokens[j + 1 : self.i]]
        if not self.draft.feet or not {"to", "towards", "toward", "near", "by", "past", "of", "from"} & set(gap):
            return False
        return "of" not in gap or bool(self.draft.dirs)

    def _footpart(self, token: Token) -> int:
        side, part = token.value.split()
        draft = self.draft
        tapped = draft.doing == "verb" and draft.value == "touch" and not (draft.feet or draft.dirs) and side == "both"
        if part == "knee" and (draft.doing == "gest" or draft.hands or tapped):
            draft.place = "knee"
            return 1
        if (
            (draft.part and not draft.doing)
            or (draft.doing in ("pattern", "gest", "draw") and not (self._is_reference() or self._reached(side)))
            or (
                draft.doing == "verb"
                and (draft.part or (draft.feet and side in "RL" and draft.dirs))
                and not self._is_reference()
            )
        ):
            self._close("and")
        draft, reference = self.draft, self._is_reference()
        if side == "?" or draft.part or reference:
            if side != "?" and reference:
                draft.refs.append(side)
                return 1
        else:
            draft.feet.append(side)
        if not reference:
            draft.part = part
        return 1

    def _reached(self, side: str) -> bool:
        """ "Reach the right toe back": a hand's word straight before a heel or toe is for it."""
        draft = self.draft
        own = draft.hands or draft.feet or draft.dirs or draft.place or draft.part
        return side in ("L", "R") and draft.value in ("reach", "push", "rest") and draft.doing == "gest" and not own

    def _side(self, token: Token) -> int:
        draft = self.draft
        last = draft.tokens[-1] if draft.tokens else None
        if token.value in ("L", "R") and draft.feet == ["both"] and not draft.doing and self._of_the_feet():
            draft.feet = []  # "feet out right, left"
        elif token.value in ("L", "R") and draft.feet == ["both"] and draft.value in STRUCK_IN_TURN and self._in_turn():
            draft.feet = []  # "stamp your feet R L R L"
        if draft.dirs in (["out"], ["side"]) and draft.feet == [token.value] != ["both"] and len(token.text) > 1:
            return self._to_the_side(token)  # "right foot steps out right", "RF side right"
        if draft.feet and token.value in ("L", "R") and len(token.text) > 1 and self._leans_on(1, "side"):
            return 1 + self._to_the_side(token)
        if self._onto() and token.value in ("L", "R"):
            draft.weight = token.value
        elif token.value != "both" and self._is_reference():
            draft.refs.append(token.value)
        elif token.value == "both":
            self._both()
        elif draft.part == "knee" and draft.feet == ["both"]:
            draft.feet = [token.value]
        elif last is not None and last.kind == "weight":
            draft.weight = token.value
        elif token.value in ("L", "R") and last is not None and last.kind == "dir" and self._diagonal(token):
            return 1
        elif draft.hands and draft.hands[-1] == "" and not draft.feet:
            draft.hands[-1] = token.value
        elif last is not None and last.kind == "side" and self._letter_then_word(last, token):
            self._second_side(token)
        elif last is not None and (last.kind == "side" or (not draft.feet and not draft.dirs)):
            self._listed(token)
        elif draft.feet and (draft.doing or draft.part) and not draft.travel:
            self._second_side(token)
        elif draft.feet and draft.dirs:
            self._close("and")
            self.draft.feet.append(token.value)
        else:
            self._listed(token)
        return 1

    def _in_turn(self) -> bool:
        """Return whether the feet's own word stands straight before, and another side behind."""
        last, ahead = self.draft.tokens[-1], self._peek(1)
        ahead = self._peek(2) if ahead is not None and (is_mark(ahead, ",") or ahead.low in ("and", "then")) else ahead
        sided = ahead is not None and ahead.kind == "side" and ahead.value in ("L", "R")
        return sided and last.kind == "foot" and not self.draft.dirs

    def _of_the_feet(self) -> bool:
        draft = self.draft
        placed = draft.dirs in (["out"], ["apart"], ["in"])
        return placed and not draft.part and any(t.kind == "foot" and t.low.endswith("feet") for t in draft.tokens)

    def _to_the_side(self, token: Token) -> int:
        """ "Right toe out, right side": the second side is a place."""
        self.draft.dirs.append({"R": "right", "L": "left"}[token.value])
        return 1

    def _letter_then_word(self, last: Token, token: Token) -> bool:
        """ "Step R right": the letter is the foot and the word is where it goes; "walk right left" names two feet."""
        ahead, draft = self._peek(1), self.draft
        one_step = draft.doing == "verb" and not draft.dirs and len(draft.feet) == 1
        return one_step and len(last.text) == 1 < len(token.text) and (ahead is None or ahead.kind != "side")

    def _diagonal(self, token: Token) -> bool:
        """ "Right diagonally forward right": the side behind a diagonal is the diagonal's."""
        draft = self.draft
        if draft.feet and draft.dirs and draft.dirs[-1].endswith(f" {token.value} diag"):
            return True  # "R fwd diag R"
        if not (draft.feet and draft.dirs and draft.dirs[-1] in ("forward diag", "back diag")):
            return False
        draft.dirs[-1] = draft.dirs[-1].replace("diag", f"{token.value} diag")
        return True

    def _both(self) -> None:
        ahead = self._peek(1)
        if ahead is not None and ahead.kind in ("hand", "gest"):
            self.draft.hands.append("both")
        else:
            self.draft.feet.append("both")

    def _second_side(self, token: Token) -> None:
        """The second side of a clause is where it goes ("R chassé R", "rock right to right"), not another foot."""
        if self.draft.doing == "pattern" or not self.draft.dirs:
            self.draft.travel = token.value
        else:
            self._close("and")
            self.draft.feet.append(token.value)

    def _listed(self, token: Token) -> None:
        """Sides in a row are feet in a row; behind a pattern that travels they say where to."""
        draft = self.draft
        if draft.doing == "pattern" and not draft.feet and not draft.travel:
            draft.travel = token.value
            if len(token.text) > 1 and self._feet_listed():
                return  # "chasse left L R L"
        draft.feet.append(token.value)

    def _feet_listed(self) -> bool:
        """Return whether the letters of two feet or more stand straight behind."""
        ahead = [token for k in range(1, 5) if (token := self._peek(k)) is not None]
        letters = [token for token in ahead if not (token.kind == "mark" and token.low in "-–/")][:2]
        return len(letters) == 2 and all(token.kind == "side" and len(token.text) == 1 for token in letters)

    def _dir(self, token: Token) -> int:
        draft = self.draft
        value = token.value
        if token.low == "up" and self._up_to_a_foot():
            value = "together"
            if self._leans_on(1, "left", "right"):
                return 1  # "slide the right up to the left"
        last = draft.tokens[-1] if draft.tokens else None
        if token.low == "over" and self._counts_ahead():
            return 1
        if value in ("left", "right") and last is not None and last.kind == "weight":
            draft.weight = value[0].upper()
            return 1
        if value in ("left", "right") and draft.doing == "verb" and draft.dir == "together" and draft.feet:
            draft.refs.append(value[0].upper())
            return 1
        if (
            value in ("left", "right")
            and draft.doing == "verb"
            and draft.value in ("drag", "slide")
            and draft.feet
            and (draft.feet[0] != value[0].upper())
        ):
            value = "together"
        if token.low == "in front" and last is not None and self._forward_of(last):
            value = "forward"
        if self._new_step_by(value):
            self._close("and")
        side = next((s for s in ("L", "R") if f" {s} " in value), "")
        if side and not self.draft.tokens and token.text[0].upper() == side:
            self.draft.feet.append(side)  # "left forward diagonal": the left foot, to its diagonal
        self.draft.dirs.append(value)
        return 1

    def _forward_of(self, last: Token) -> bool:
        """ "Place the right foot in front", "step in front with the right": in front of oneself."""
        ahead = self._peek(1)
        if last.kind == "verb":
            return ahead is not None and ahead.low == "with"
        return last.kind in ("foot", "footpart") and not self._names_side(1) and not self._weaves()

    def _up_to_a_foot(self) -> bool:
        """ "Close up to it", "slide the left up to the other": up to a foot is beside it."""
        draft, to, foot = self.draft, self._peek(1), self._peek(2)
        if draft.hands or draft.place or draft.doing not in ("", "verb") or not (draft.feet or draft.doing):
            return False
        if draft.value in ("drag", "slide") and draft.feet and (to is None or to.kind in ("fill", "mark")):
            return True  # "slide the left up slowly"
        if to is None or draft.part not in ("", "toe"):
            return False
        if draft.dir == "together" or draft.value in ("drag", "slide"):
            return to.low == "to" or self._leans_on(1, "left", "right")
        return to.low == "to" and foot is not None and foot.kind == "foot"

    def _draws_a_ring(self) -> int:
        """ "Draws one big slow ring": return how many tokens name the figure behind its verb, or 0."""
        ahead = 1
        while (token := self._peek(ahead)) is not None and ahead < 6:
            if token.low in FIGURES:
                return ahead + 1
            if token.kind not in ("fill", "word", "num"):
                return 0
            ahead += 1
        return 0

    def _leans_on(self, ahead: int, *ways: str) -> bool:
        token = self._peek(ahead)
        return token is not None and token.kind == "dir" and token.value in ways

    def _tiptoe(self, _token: Token) -> int:
        """ "Up on tiptoe": both heels lift."""
        if self.draft.doing or self.draft.part:
            return 1
        draft = self.draft
        draft.doing, draft.value, draft.part, draft.feet = "dual", "raise", "heel", ["both"]
        return 1

    def _names_side(self, ahead: int) -> bool:
        token = self._peek(ahead)
        return token is not None and token.kind in ("side", "foot", "prep")

    def _weaves(self) -> bool:
        """ "Left foot behind, right foot side, left foot in front": behind a step to the side it goes across."""
        before = self.done[-1] if self.done else None
        if before is None or self.draft.doing or self.draft.part or before.doing not in ("", "verb"):
            return False
        return before.dirs[-1:] in (["side"], ["left"], ["right"]) and before.value in ("", "step")

    def _counts_ahead(self) -> bool:
        """ "Over two counts", "over the next 4 counts"."""
        ahead = 1
        while (token := self._peek(ahead)) is not None and token.kind in ("fill", "word") and ahead < 4:
            ahead += 1
        behind = self._peek(ahead + 1)
        return token is not None and token.kind == "num" and (behind is None or behind.kind in ("count", "mark"))

    def _new_step_by(self, value: str) -> bool:
        """A second place without a doing word ("side behind side") is a second step."""
        draft = self.draft
        if draft.doing or draft.hands or draft.part or not draft.dirs or value not in STEP_DIRS:
            return False
        return draft.dirs[-1] in STEP_DIRS and draft.dirs[-1] != value and value not in ("left", "right")
