"""Words for weight, times, counts and copies, read into the draft."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark, label_at
from softshoe.wording.each_home import AWAY, HOME
from softshoe.wording.scan import Scan

if TYPE_CHECKING:
    from softshoe.wording.lex import Token

NTH = ("last", "first", "second", "third", "fourth", "fifth")
WALKS = ("walk", "run", "stroll", "step")
PLURAL_KINDS = ("verb", "pattern", "gest", "dual", "footpart", "draw")


LANDING = frozenset(
    ("step", "steps", "foot", "one", "count", "beat", "march", "goes", "comes", "lands", "land", "falls", "down",
     "moves", "goes down", "comes down", "on the floor", "hits the floor")
)  # fmt: skip


class CountWords(Scan):
    """One method a kind of word."""

    def _weight(self, _token: Token) -> int:
        self.draft.weight = self.draft.weight or "?"
        return 1 + self._weight_ahead()

    def _weight_ahead(self) -> int:
        ahead = 1
        while (token := self._peek(ahead)) is not None and token.kind in (
            "fill",
            "prep",
            "on",
            "weight",
            "verb",
            "dir",
        ):
            if token.kind == "dir" and token.value in ("left", "right"):
                self.draft.weight = token.value[0].upper()
                return ahead
            if token.kind == "dir" or (token.kind == "verb" and token.value not in ("hold", "step")):
                return 0
            ahead += 1
        if token is not None and token.kind in ("side", "foot") and token.value in ("L", "R", "both"):
            self.draft.weight = token.value
            return ahead
        return 0

    def _noweight(self, _token: Token) -> int:
        target = self.draft if not self.draft.bare or not self.done else self.done[-1]
        target.weight = "no"
        return 1

    def _takeweight(self, _token: Token) -> int:
        target = self.draft if not self.draft.bare or not self.done else self.done[-1]
        target.weight = "take"
        return 1

    def _bearing(self, token: Token) -> int:
        """What bears when the movement before is over."""
        target = self.draft if not self.draft.bare or not self.done else self.done[-1]
        target.weight = token.value or "?"
        return 1

    def _times(self, token: Token) -> int:
        self.draft.times = int(token.value)
        return 1

    def _num(self, token: Token) -> int:
        ahead = self._peek(1)
        named = self._named_ahead()
        if ahead is not None and ahead.kind == "count":
            self.draft.counts = token.number
            return 2
        if ahead is not None and ahead.low in ("times", "x"):
            self.draft.times = min(token.number, 64)
            return 2
        before = self.draft.tokens[-1] if self.draft.tokens else None
        if before is not None and before.low == "from":
            self.draft.at, self.draft.since = (Fraction(token.number),), True
        elif named is not None and named.kind in PLURAL_KINDS and 1 < token.number <= 16:
            self.draft.times = token.number
        elif before is not None and before.low in ("hold", "wait", "pause", "hlt"):
            self.draft.counts = token.number
        elif self._walked(ahead) and 1 < token.number <= 8:
            self.draft.times = token.number  # "walk forward 3, kick"
        elif before is not None and before.low == "for" and 1 < token.number <= 16:
            self.draft.counts = token.number  # "walk forward for four"
        return 1

    def _named_ahead(self) -> Token | None:
        """ "Two slow claps": return what is counted, behind words that only say how."""
        ahead = self._peek(1)
        behind = self._peek(2)
        plural = behind is not None and behind.low.endswith("s")
        how = ahead is not None and ahead.kind in ("fill", "dir", "side")  # "four forward punches", "two R kicks"
        return behind if how and plural else ahead

    def _walked(self, ahead: Token | None) -> bool:
        """A number at the end of a walk's clause is how many steps it has."""
        draft = self.draft
        walks = draft.doing == "verb" and draft.value == "step" and draft.dirs and draft.tokens_say(*WALKS)
        walks = walks or (draft.dir == "in place" and not draft.feet and draft.tokens_say("march", "tread", "jog"))
        before = self.done[-1] if self.done else None
        if (
            before is not None
            and before.times > 1
            and before.tokens_say(*WALKS)
            and draft.dirs in (["back"], ["forward"])
        ) and not (draft.doing or draft.feet):
            draft.doing, draft.value, walks = "verb", "step", True  # "walk forward 2, back 2"
        return (
            bool(walks)
            and draft.counts is None
            and draft.times == 1
            and (ahead is None or is_mark(ahead, ",;.()") or ahead.low.startswith(("start", "begin", "lead")))
        )

    def _count(self, _token: Token) -> int:
        before = self.draft.tokens[-1].low if self.draft.tokens else ""
        if before in ("a", "each", "every", "per", "the", "all"):
            self.draft.each = True
        return 1

    def _each(self, token: Token) -> int:
        if token.value in (HOME, AWAY):
            self.draft.on = token.value
            return 1
        if token.value == "last" and self.done and all(d.arms for d in self.done):
            return 1  # "roll your hands for 3 counts, then clap on the last count": it has that count
        self.draft.each = self.draft.each or not token.value
        hands = self.draft.arms or self.draft.doing == "dual" or (bool(self.done) and bool(self.done[-1].upon))
        if token.value and not hands:
            self.draft.unknown.append(token)  # "lift the heels on the odd counts"
            return 1
        upon, taken = (f"@{token.value}", 0) if token.value else self._upon() if hands else ("", 0)
        self.draft.upon = upon or self.draft.upon
        return 1 + taken

    def _upon(self) -> tuple[str, int]:
        """ "… on every right", "each time the left foot goes down", "on every home": which steps, and their words."""
        ahead = 1
        while (token := self._peek(ahead)) is not None and token.kind == "fill":
            ahead += 1
        side = token is not None and token.kind in ("side", "foot") and token.value in ("R", "L")
        home = token is not None and token.kind == "dir" and token.value in ("centre", "together")
        if token is None or not (side or home):
            return "", 0
        upon = "@home" if home else f"@{token.value}"
        while (token := self._peek(ahead + 1)) is not None and token.low in LANDING:
            ahead += 1
        return upon, ahead

    def _throughout(self, _token: Token) -> int:
        self.draft.whole = True
        return 1

    def _on(self, token: Token) -> int:
        found = label_at(self.tokens, self.i)
        ahead = self._peek(1)
        if (
            self.draft.doing == "gest"
            and ahead is not None
            and ahead.kind in ("verb", "footpart")
            and (ahead.low.endswith("s") or token.low == "on the")
        ):
            self.draft.each = True  # "clapping on the touches"
        if found is None:
            return 1 + self._nth_ahead()
        label, j = found
        places = list(label.places)
        while (
            j + 1 < len(self.tokens)
            and self.tokens[j].low in ("and", "&", ",", "or", "+")
            and (more := label_at(self.tokens, j + 1))
        ):
            places += more[0].places
            j = more[1]
        self.draft.at = tuple(places)
        if self.i and is_mark(self.tokens[j - 1], ",:.;"):
            j -= 1
        return j - self.i

    def _nth_ahead(self) -> int:
        """ "On the last step", "on the third count": which of its steps a pattern turns on; return how many words."""
        which, step = self._peek(1), self._peek(2)
        if which is not None and which.low in ("last", "final") and (step is None or is_mark(step, ".,;)")):
            self.draft.turn_on = 0
            return 1  # "clap on the last"
        if which is None or step is None or which.low not in NTH:
            return 0
        if step.low not in ("step", "count", "beat", "one"):
            return 0
        self.draft.turn_on = NTH.index(which.low)
        return 2

    def _again(self, token: Token) -> int:
        rocked = bool(self.done) and self.done[-1].doing == "verb" and self.done[-1].value == "rock"
        if rocked and token.low == "again" and self.draft.sides_alone and self.draft.feet != self.done[-1].feet:
            if self.draft.feet:
                self.draft.doing, self.draft.value = "verb", "recover"  # "rock back right, onto the left again"
            return 1
        self.draft.repeat = self.draft.repeat or "again"
        return 1

    def _repeat(self, token: Token) -> int:
        ahead = self._peek(1)
        if token.low in ("do", "dance") and ahead is not None and ahead.low in ("as", "like", "just as", "exactly as"):
            self.draft.repeat = "same"  # "do as on 1 and 2"
        if token.low not in ("do", "dance"):
            self.draft.repeat = "repeat"
        return 1

    def _same(self, token: Token) -> int:
        if token.low not in ("like", "as"):
            self.draft.repeat = self.draft.repeat or "same"
        return 1

    def _mirror(self, token: Token) -> int:
        self.draft.mirror = True
        return 1

    def _alternate(self, _token: Token) -> int:
        self.draft.alternate = True
        return 1
