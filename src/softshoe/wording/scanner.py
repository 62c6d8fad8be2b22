"""A clause read word by word into drafts, left to right, once: marks and joins, doing words, hands; the rest is
inherited.

Each method is named by the kind of word of the table (words.csv) and returns how many tokens it took.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.asides import for_chairs, talks
from softshoe.wording.counting import is_mark
from softshoe.wording.lead import LEADING
from softshoe.wording.listing import names_pattern
from softshoe.wording.scan_counts import CountWords
from softshoe.wording.scan_feet import DRAWING, FeetWords
from softshoe.wording.scan_turns import TurnWords

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.lex import Token

JOINS = {
    ",": "seq",
    ";": "seq",
    ".": "stop",
    "!": "stop",
    "+": "plus",
    "|": "seq",
    "/": "seq",
    ":": "colon",
    "•": "stop",
}
REMARKS = {
    "weight", "noweight", "takeweight", "bearing", "side", "clock", "look", "wallname", "times", "fill", "prep", "num",
    "count",
    "amount",
    "turnword", "spin", "alternate", "on",
}  # fmt: skip
PARTS_OF = ("section", "part", "sec", "set", "before", "above", "line", "lines", "in", "the")
LIMBS = ("hand", "foot", "footpart", "side", "gest", "thumb")
ASIDES = (
    "option",
    "options",
    "optional",
    "easier option",
    "easier",
    "styling",
    "alternative",
    "hint",
    "variation",
    "note",
    "non turning option",
)
PLURALS = ("claps", "pats", "clicks", "snaps", "slaps", "handclaps")  # "… with claps": one a count
MERGING = ("step", "stomp", "touch", "point", "crossrock", "rock", "lunge", "hop", "ball", "skate")


CROSSED = {"rock": "crossrock", "kick": "kick", "touch": "touch"}  # done across the other foot


class Scanner(FeetWords, TurnWords, CountWords):
    """Reads tokens into drafts."""

    def read(self) -> list[Draft]:
        """Return the drafts in reading order."""
        while self.i < len(self.tokens):
            token = self.tokens[self.i]
            taken = self._figure(token) or getattr(self, "_" + token.kind, self._other)(token)
            if taken:
                self.draft.tokens += self.tokens[self.i : self.i + taken]
                self.i += taken
            else:
                self.i += 1
        self._close("seq")
        return self.done

    def _figure(self, token: Token) -> int:
        """ "Traces a slow ring": a verb of drawing and the figure it draws are one doing word."""
        taken = self._draws_a_ring() if token.low in DRAWING else 0
        if taken:
            self._doing("draw", token)
        return taken

    def _mark(self, token: Token) -> int:
        if token.text in "([{":
            return self._open()
        if token.text in ")]}":
            self.depth = max(0, self.depth - 1)
            self._close("seq")
            return 0
        if token.text == "&":
            self._amp()
            return 0
        ahead = self._peek(1) if token.text in "-–—=" else None
        if ahead is not None and ahead.glued and is_mark(ahead, ">"):
            return 0  # "right foot -> forward"
        if token.text in "-–—" and not token.glued:
            self._close("colon" if names_pattern([*self.done, self.draft]) else "seq")  # "rocking chair - R forward, …"
        elif token.text in JOINS:
            self._close(JOINS[token.text])
        return 0

    def _amp(self) -> None:
        if self.draft.tokens:
            self._close("amp")
        else:
            self.draft.join = "amp"
        if self.done:
            self.done[-1].amps += 1

    def _open(self) -> int:
        """A bracket that holds only a remark on the clause goes on with it; any other is a clause of its own."""
        inside = self.tokens[self.i + 1 : self._closing()]
        if inside and (
            inside[0].kind == "note"
            or inside[0].low in ("or", "optional", "easy")
            or talks(inside)
            or for_chairs(inside)
        ):
            self.asides += inside
            self.i += len(inside) + 1
            return 0
        if self.draft.tokens and all(t.kind in REMARKS or is_mark(t, ",/-.=") or _joins_sides(t) for t in inside):
            return self._remark(inside)
        self._close("seq")
        self.depth += 1
        self.draft.grouped = True
        return 0

    def _remark(self, inside: list[Token]) -> int:
        """Read the bracket's words into the present clause and step over its end."""
        sides = [t.value for t in inside if t.kind == "side"]
        if len(sides) > 1 and not any(t.kind in ("weight", "amount") for t in inside):
            clauses = [*self.done, self.draft]
            movers = [c for c in clauses if not (c.arms or c.value == "hold" or c.bare or c.heading)]
            clauses = movers if len(movers) == len(sides) else clauses  # "stomp, clap, stomp, clap (L R)"
            if len(movers) == 2 * len(sides):
                sides, clauses = [s for side in sides for s in (side, side)], movers  # "heel, home, heel, home (R L)"
            if len(clauses) == len(sides) and self.done:
                for clause, side in zip(clauses, sides, strict=True):
                    clause.feet = clause.feet or [side]
            elif len(self.draft.feet) < len(sides):
                self.draft.feet = sides
            return self._stepped_over(len(inside) + 2)
        leads = len(self.done) > 1 or (self.done and any(t.low in LEADING for t in inside))
        clauses = [*self.done, self.draft]
        if len(sides) == 1 and sides[0] in ("L", "R") and leads and not any(c.feet or c.hands for c in clauses):
            clauses[0].feet = [sides[0]]  # "side, together, side, touch (R)"
            return self._stepped_over(len(inside) + 2)
        end = self.i + len(inside) + 2
        self.i += 1
        while self.i < end - 1 and self.i < len(self.tokens):
            token = self.tokens[self.i]
            taken = 1 if token.kind == "mark" else getattr(self, "_" + token.kind, self._other)(token)
            self.draft.tokens += self.tokens[self.i : self.i + taken]
            self.i += max(1, taken)
        self.i = end - 1
        return 0

    def _stepped_over(self, taken: int) -> int:
        self.draft.tokens += self.tokens[self.i : self.i + taken]
        self.i += taken - 1
        return 0

    def _closing(self) -> int:
        for j in range(self.i + 1, min(len(self.tokens), self.i + 60)):
            if is_mark(self.tokens[j], ")]}"):
                return j
        return len(self.tokens)

    def _join(self, token: Token) -> int:
        ahead = self._peek(1)
        if token.low == "as" and ahead is not None and self._names_part(ahead):
            self.draft.repeat = "same"  # "as counts 1 to 6, with the left"
            return 1
        if token.low == "with" and self.draft.dirs[-1:] == ["together"] and self.draft.tokens[-1].kind == "dir":
            return 1  # "step the right together with the left"
        join = {"then": "seq", "while": "with"}.get(token.value, token.value)
        if token.value == "while" and self.draft.turning and not (self.draft.amount or self.draft.hands):
            return 1
        if self.draft.tokens:
            self._close(join)
        elif self.draft.join in ("seq", "stop"):
            self.draft.join = join
        return 0

    def _names_part(self, ahead: Token) -> bool:
        """Return whether counts or a part of the dance stand behind "as", no limb that moves meanwhile."""
        behind = self._peek(2)
        limb = ahead.low == "the" and behind is not None and behind.kind in LIMBS
        lettered = len(ahead.text) == 1 and ahead.text in "ABCDEFGH" and behind is None  # "As A"
        return not limb and (ahead.kind in ("num", "count") or ahead.low in PARTS_OF or lettered)

    def _doing(self, kind: str, token: Token) -> int:
        """A second doing word opens a draft of its own; an "-ing" form shares the moment of the first."""
        draft = self.draft
        busy = draft.doing or (draft.part and draft.part != "ankle" and kind == "pattern")
        if busy or (draft.arms and kind in ("verb", "pattern") and draft.doing):
            again = bool(draft.tokens) and draft.tokens[-1].kind in ("verb", "gest") and kind in ("verb", "gest")
            again = again and not token.low.endswith("ing") and not draft.tokens[-1].low.endswith("ing")
            self._close("seq" if again and self._in_a_row(token) else self._joint(token))
        draft = self.draft
        draft.doing, draft.value, draft.dir = kind, token.value, token.dir
        return 1

    def _joint(self, token: Token) -> str:
        return "with" if token.low.endswith("ing") and token.value != "recover" else "and"

    def _in_a_row(self, token: Token) -> bool:
        """ "Stamp stamp stamp clap": a word told several times over, side by side, is a row of beats."""
        words = [t.low for t in self.tokens if t.kind in ("verb", "gest")]
        return any(a == b for a, b in pairwise(words)) and token.low in words

    def _verb(self, token: Token) -> int:
        draft = self.draft
        if draft.each and draft.hands and not draft.doing and draft.tokens and draft.tokens[-1].kind == "each":
            self._close("and")  # "punch with both hands on every kick"
            draft = self.draft
        plain = token.value == "step" and not token.dir
        if plain and draft.doing in ("pattern", "verb", "gest", "dual") and token.low.startswith("stepp"):
            if draft.doing == "pattern" and draft.feet == [draft.travel]:
                draft.feet = []  # "vine right stepping right, left, right": the side was its way
            return 1
        if (
            draft.doing == "verb"
            and draft.value == "step"
            and not draft.dir
            and not draft.dirs
            and token.value in MERGING
        ):
            draft.value, draft.dir = token.value, token.dir
            return 1
        if plain and draft.doing == "verb" and draft.value == "step" and draft.dir and not draft.feet:
            return 1
        if token.value in CROSSED and self._crosses():
            draft.value, draft.dir = CROSSED[token.value], "across front"  # "cross rk L over R", "X kick"
            return 1
        if token.value == "ball" and draft.doing == "verb" and draft.value == "step":
            return 1
        behind = self._peek(1) if not token.low.endswith("ing") else None
        if (
            draft.feet
            and draft.dirs
            and not (draft.doing or draft.part)
            and behind is not None
            and behind.kind == "side"
        ):
            self._close("seq")  # "left to side touch right"
            return self._doing("verb", token)
        if token.dir == "in place" and draft.feet == ["both"] and not draft.doing:
            draft.feet.clear()  # "feet march right, left"
        return self._doing("verb", token)

    def _crosses(self) -> bool:
        """Return whether "cross" stands straight before, and nothing of a step of its own."""
        draft = self.draft
        crossing = draft.doing == "verb" and (draft.value, draft.dir) == ("step", "across front")
        return crossing and not draft.dirs and draft.tokens[-1].dir == "across front"

    def _pattern(self, token: Token) -> int:
        draft = self.draft
        if draft.doing == "verb" and draft.value == "step" and not draft.dir and not draft.feet:
            draft.doing = ""
        elif draft.doing == "verb" and draft.dir == "across front" and draft.tokens[-1].value == "step":
            draft.doing, draft.dirs = "", [*draft.dirs, draft.dir]  # "cross toe strut"
            draft.dir = ""
        self._count_before()
        return self._doing("pattern", token)

    def _gest(self, token: Token) -> int:
        draft = self.draft
        hand = any((ahead := self._peek(k)) is not None and ahead.kind == "hand" for k in (1, 2, 3))
        if token.value == "follow" and draft.doing == "pattern" and not (draft.hands or hand):
            return 1  # "a grapevine left follows"
        if draft.doing == "verb" and draft.value == "hold" and not draft.dirs:
            draft.doing = ""
        self._meanwhile(token)
        draft = self.draft
        if token.value in ("pat", "drum") and draft.part == "knee" and not (draft.doing or draft.feet or draft.dirs):
            draft.part, draft.place = "", "knee"  # "four knee pats"
        if draft.feet and not draft.doing and token.value in ("rest", "roll", "follow", "shake", "stretch"):
            draft.quiet = token.value == "rest"
        if (
            (draft.feet or draft.dirs)
            and not draft.hands
            and not draft.doing
            and token.value in ("clap", "snap", "pat")
        ):
            self._close("and")
        draft = self.draft
        draft.each = draft.each or (draft.join == "with" and not draft.tokens and token.low in PLURALS)
        behind = self._peek(1)
        if token.value in ("push", "pull") and behind is not None and behind.value in ("both heel", "both toe"):
            return self._verb(token._replace(kind="verb", value="slide", dir=""))  # "push the heels apart"
        return self._doing("gest", token)

    def _meanwhile(self, token: Token) -> None:
        """ "Right heel forward pushing both hands forward", "march R, L swinging both arms": hands beside a foot."""
        draft = self.draft
        often = bool(self.done) and self.done[-1].times > 1 and draft.join == "with" and not draft.tokens
        draft.each = draft.each or (often and token.low.endswith("ing"))  # "tap four times while patting the thighs"
        named = (draft.feet or draft.part) and not (draft.doing or draft.hands) and token.low.endswith("ing")
        listed = bool(self.done) and bool(draft.feet) and not self.done[-1].arms and token.value != "step"
        if named and (draft.dirs or listed):
            self._close("with")

    def _dual(self, token: Token) -> int:
        ahead = self._peek(1)
        if ahead is not None and (ahead.kind == "hand" or (ahead.kind in ("fill", "prep") and self._hand_behind())):
            self._meanwhile(token)
        return self._doing("dual", token)

    def _hand_behind(self) -> bool:
        behind = self._peek(2)
        return behind is not None and behind.kind == "hand"

    def _draw(self, token: Token) -> int:
        return self._doing("draw", token)

    def _quiet(self, _token: Token) -> int:
        self.draft.quiet = True
        return 1

    def _count_before(self) -> None:
        """ "Two shuffles", "4 walks": a number straight before a doing word says how often."""
        last = self.draft.tokens[-1] if self.draft.tokens else None
        if last is not None and last.kind == "num" and not self.draft.counts and 1 < last.number <= 16:
            self.draft.times = last.number

    def _hand(self, token: Token) -> int:
        value = {"?": "", "same": "same", "other": "other"}.get(token.value, token.value)
        draft = self.draft
        if draft.hands and draft.hands[-1] == "both" and value == "both":
            return 1
        if draft.feet and not draft.doing and not draft.part and not draft.dirs and value == "":
            value = draft.feet.pop()
        if ((draft.feet or draft.part) and (draft.doing in ("verb", "pattern") or draft.dirs) and value != "same") or (
            draft.hands and (draft.dirs or draft.place) and value in ("R", "L") and draft.doing
        ):
            self._close("and")
        if value == "both" and draft is self.draft and draft.feet == ["both"] and not draft.doing:
            draft.feet.clear()
        self.draft.hands.append(value)
        self.draft.handword = token.low
        return 1

    def _thumb(self, token: Token) -> int:
        return self._hand(token)

    def _place(self, token: Token) -> int:
        draft = self.draft
        if draft.place and draft.doing not in ("gest", "dual"):
            return 1
        draft.place = token.value
        if draft.doing == "verb" and draft.value == "touch" and not (draft.feet or draft.part or draft.dirs):
            draft.doing, draft.value = "gest", "pat"  # "tap your thighs"
        return 1

    def _note(self, token: Token) -> int:
        """ "Option: …" ends what is danced."""
        ahead = self._peek(1)
        if token.low in ASIDES and (not self.draft.tokens or (ahead is not None and is_mark(ahead, ":"))):
            self.asides += self.tokens[self.i :]
            self.i = len(self.tokens)
            return 0
        return 1

    def _instead(self, _token: Token) -> int:
        """ "Touch instead of the last step": what is left out is no step of its own."""
        ahead = 1
        while (token := self._peek(ahead)) is not None and token.kind != "mark":
            ahead += 1
        return ahead

    def _word(self, token: Token) -> int:
        if (self.done or self.draft.tokens) and for_chairs(self.tokens[self.i : self.i + 6]):
            self.asides += self.tokens[self.i :]
            self.i = len(self.tokens)
            return 0  # "…, touch L / seated: tap L"
        self.draft.unknown.append(token)
        return 1

    def _other(self, _token: Token) -> int:
        return 1


def _joins_sides(token: Token) -> bool:
    """ "(right, then left)", "(R and L)"."""
    return token.kind == "join" and token.low in ("then", "and")


def drafts_of(tokens: list[Token]) -> list[Draft]:
    """Return the drafts of a line's words in reading order."""
    return Scanner(tokens).read()
