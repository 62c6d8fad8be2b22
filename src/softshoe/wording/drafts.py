"""A clause read word by word into a draft: which foot, verb, place, turn, hand, weight the words name.

One draft is one doing word (or one left out). The scanner has one small method for each kind of word of the table; what
a word means beside the others is settled later (phrases.py), what footwork makes of it later still (resolve.py).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.dance.facing import from_clock
from softshoe.wording.counting import is_mark, label_at

if TYPE_CHECKING:
    from fractions import Fraction

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
SIDE_VERBS = ("sway", "bump", "swivel", "fan", "hiproll")
ADVERBS = ("together", "tog", "tgthr", "next")
PLURAL_KINDS = ("verb", "pattern", "gest", "dual", "footpart", "draw")


@dataclass(slots=True)
class Draft:
    """What one clause names. ``doing`` is verb, pattern, gest, dual, draw or "" when no doing word stands there."""

    join: str
    tokens: list[Token] = field(default_factory=list)
    doing: str = ""
    value: str = ""
    dir: str = ""  # the doing word's own direction
    part: str = ""  # heel, toe, knee, ankle
    feet: list[str] = field(default_factory=list)
    dirs: list[str] = field(default_factory=list)
    refs: list[str] = field(default_factory=list)
    travel: str = ""
    amount: int = 0
    turning: bool = False
    spin: int = 0
    weight: str = ""
    times: int = 1
    counts: int | None = None
    at: tuple[Fraction, ...] = ()
    since: bool = False
    hands: list[str] = field(default_factory=list)
    handword: str = ""
    place: str = ""
    square: int = -1  # the facing that a turn leads to
    facing: int | None = None
    facing_at: int = 0
    each: bool = False
    alternate: bool = False
    mirror: bool = False
    repeat: str = ""
    quiet: bool = False
    heading: bool = False  # a colon stands behind it
    grouped: bool = False  # it stands in brackets
    amps: int = 0
    unknown: list[Token] = field(default_factory=list)

    @property
    def bare(self) -> bool:
        """True when nothing that can be danced is named."""
        named = (
            self.doing or self.feet or self.dirs or self.hands or self.amount or self.part or self.place or self.turning
        )
        return not named

    @property
    def arms(self) -> bool:
        """True when the clause is for the hands."""
        if self.hands or self.doing == "gest":
            return True
        return bool(self.place) and not (self.feet or self.part or self.doing)

    def tokens_say(self, *starts: str) -> bool:
        """Return whether a word begins with one of these."""
        return any(t.text.casefold().startswith(starts) for t in self.tokens)

    @property
    def first(self) -> Token:
        """The first word."""
        return self.tokens[0]

    @property
    def span(self) -> tuple[int, int]:
        """The characters it stands on."""
        return self.tokens[0].start, self.tokens[-1].end

    @property
    def line(self) -> int:
        """The line of its doing word, else of its first."""
        return self.tokens[0].line


JOINS = {
    ",": "seq",
    ";": "seq",
    ".": "stop",
    "!": "stop",
    "+": "seq",
    "|": "seq",
    "/": "seq",
    ":": "colon",
    "•": "stop",
}


class Scanner:
    """Reads tokens into drafts, left to right, once."""

    def __init__(self, tokens: list[Token]) -> None:
        self.tokens = tokens
        self.i = 0
        self.draft = Draft("seq")
        self.done: list[Draft] = []
        self.depth = 0

    def read(self) -> list[Draft]:
        """Return the drafts in reading order."""
        while self.i < len(self.tokens):
            token = self.tokens[self.i]
            taken = getattr(self, "_" + token.kind, self._other)(token)
            if taken:
                self.draft.tokens += self.tokens[self.i : self.i + taken]
                self.i += taken
            else:
                self.i += 1
        self._close("seq")
        return self.done

    def _close(self, join: str) -> None:
        """End the clause; the next hangs on it by ``join``."""
        if self.draft.tokens:
            self.draft.heading = join == "colon"
            self.done.append(self.draft)
        elif self.done and join == "colon":
            self.done[-1].heading = True
        if not self.draft.tokens and join in ("seq", "stop") and self.draft.join in ("and", "with", "amp"):
            join = self.draft.join
        self.draft = Draft("seq" if join == "colon" else join)
        self.draft.grouped = self.depth > 0

    def _peek(self, ahead: int) -> Token | None:
        j = self.i + ahead
        return self.tokens[j] if j < len(self.tokens) else None

    # marks and joins

    def _mark(self, token: Token) -> int:
        if token.text in "([":
            return self._open()
        if token.text in ")]":
            self.depth = max(0, self.depth - 1)
            self._close("seq")
            return 0
        if token.text == "&":
            self._amp()
            return 0
        if token.text in "-–—" and not token.glued:
            self._close("seq")
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
        if inside and (inside[0].kind == "note" or inside[0].text.casefold() in ("or", "optional", "easy")):
            self.i += len(inside) + 1
            return 0
        if all(t.kind in REMARKS or is_mark(t, ",/-.=") for t in inside) and self.draft.tokens:
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
            if len(clauses) == len(sides) and self.done:
                for clause, side in zip(clauses, sides, strict=True):
                    clause.feet = clause.feet or [side]
            elif len(self.draft.feet) < len(sides):
                self.draft.feet = sides
            taken = len(inside) + 2
            self.draft.tokens += self.tokens[self.i : self.i + taken]
            self.i += taken - 1
            return 0
        end = self.i + len(inside) + 2
        self.i += 1
        while self.i < end - 1 and self.i < len(self.tokens):
            token = self.tokens[self.i]
            taken = 1 if token.kind == "mark" else getattr(self, "_" + token.kind, self._other)(token)
            self.draft.tokens += self.tokens[self.i : self.i + taken]
            self.i += max(1, taken)
        self.i = end - 1
        return 0

    def _closing(self) -> int:
        for j in range(self.i + 1, min(len(self.tokens), self.i + 60)):
            if is_mark(self.tokens[j], ")]"):
                return j
        return len(self.tokens)

    def _join(self, token: Token) -> int:
        ahead = self._peek(1)
        if token.text.casefold() == "as" and ahead is not None and (ahead.kind in ("num", "count") or ahead.text.casefold() in PARTS_OF):
            self.draft.repeat = "same"  # "as counts 1 to 6, with the left"
            return 1
        join = {"then": "seq", "while": "with"}.get(token.value, token.value)
        if token.value == "while" and self.draft.turning and not self.draft.amount:
            return 1
        if self.draft.tokens:
            self._close(join)
        elif self.draft.join in ("seq", "stop"):
            self.draft.join = join
        return 0

    # feet and places

    def _foot(self, token: Token) -> int:
        if self._onto() and token.value in ("L", "R"):
            self.draft.weight = token.value
        else:
            self._mover(token.value)
        return 1

    def _onto(self) -> bool:
        """ "Turn a quarter onto the left": the foot named takes the weight."""
        draft = self.draft
        turns = draft.value in ("pivot", "paddle") or (not draft.doing and (draft.amount or draft.turning))
        words = [t.text.casefold() for t in draft.tokens[-2:]]
        return bool(turns) and "onto" in words

    def _mover(self, foot: str) -> None:
        draft = self.draft
        if draft.refs is not None and self._is_reference():
            draft.refs.append(foot)
        elif foot == "same" and draft.hands and not draft.feet:
            draft.hands[-1] = draft.hands[-1] or "same"
        else:
            if draft.feet and (draft.dirs or draft.weight) and not draft.doing == "pattern" and foot not in ("both",):
                self._close("and")
            self.draft.feet.append(foot)

    def _is_reference(self) -> bool:
        """A foot named straight behind "beside", "over", "behind", "towards" … is where the step goes, not who steps."""
        j = self.i - 1
        while j >= 0 and self.tokens[j].kind in ("fill", "prep") and self.tokens[j] in self.draft.tokens[-3:]:
            j -= 1
        before = self.tokens[j] if j >= 0 and self.draft.tokens else None
        if before is None or before not in self.draft.tokens[-4:]:
            return False
        if before.kind == "dir" and before.value in BESIDE:
            return before.text.casefold() not in ADVERBS or self.i - j > 1
        gap = [t.text.casefold() for t in self.tokens[j + 1 : self.i]]
        if not self.draft.feet or not {"to", "towards", "toward", "near", "by", "past", "of", "from"} & set(gap):
            return False
        return "of" not in gap or bool(self.draft.dirs)

    def _footpart(self, token: Token) -> int:
        side, part = token.value.split()
        draft = self.draft
        if part == "knee" and (draft.doing == "gest" or draft.hands):
            draft.place = "knee"
            return 1
        if draft.part and not draft.doing or (draft.doing in ("pattern", "gest", "draw") and not self._is_reference()):
            self._close("and")
        elif (
            draft.doing == "verb"
            and (draft.part or (draft.feet and side in "RL" and draft.dirs))
            and not self._is_reference()
        ):
            self._close("and")
        draft = self.draft
        if side == "?" or draft.part or self._is_reference():
            if side != "?" and self._is_reference():
                draft.refs.append(side)
                return 1
        else:
            draft.feet.append(side)
        if not self._is_reference():
            draft.part = part
        return 1

    def _side(self, token: Token) -> int:
        draft = self.draft
        last = draft.tokens[-1] if draft.tokens else None
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
        elif draft.hands and draft.hands[-1] == "" and not draft.feet:
            draft.hands[-1] = token.value
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
        if draft.doing == "pattern" and not draft.feet:
            draft.travel = token.value
        draft.feet.append(token.value)

    def _dir(self, token: Token) -> int:
        draft = self.draft
        value = token.value
        last = draft.tokens[-1] if draft.tokens else None
        if token.text.casefold() == "over" and self._counts_ahead():
            return 1
        if value in ("left", "right") and last is not None and last.kind == "weight":
            draft.weight = value[0].upper()
            return 1
        if value in ("left", "right") and draft.doing == "verb" and draft.dir == "together" and draft.feet:
            draft.refs.append(value[0].upper())
            return 1
        if value in ("left", "right") and draft.doing == "verb" and draft.value == "drag" and draft.feet:
            if draft.feet[0] != value[0].upper():
                value = "together"
        if self._new_step_by(value):
            self._close("and")
        side = next((s for s in ("L", "R") if f" {s} " in value), "")
        if side and not self.draft.tokens and token.text[0].upper() == side:
            self.draft.feet.append(side)  # "left forward diagonal": the left foot, to its diagonal
        self.draft.dirs.append(value)
        return 1

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
        return draft.dirs[-1] in STEP_DIRS and draft.dirs[-1] != value and not (value in ("left", "right"))

    # doing words

    def _doing(self, kind: str, token: Token) -> int:
        """A second doing word opens a draft of its own; an "-ing" form shares the moment of the first."""
        draft = self.draft
        busy = draft.doing or (draft.part and draft.part != "ankle" and kind == "pattern")
        if busy or (draft.arms and kind in ("verb", "pattern") and draft.doing):
            self._close("with" if token.text.casefold().endswith("ing") and token.value != "recover" else "and")
        draft = self.draft
        draft.doing, draft.value, draft.dir = kind, token.value, token.dir
        return 1

    def _verb(self, token: Token) -> int:
        draft = self.draft
        plain = token.value == "step" and not token.dir
        if plain and draft.doing in ("pattern", "verb", "gest", "dual") and token.text.casefold().startswith("stepp"):
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
        if token.value == "ball" and draft.doing == "verb" and draft.value == "step":
            return 1
        if plain and draft.hands and not draft.doing:
            return self._doing("verb", token)
        return self._doing("verb", token)

    def _pattern(self, token: Token) -> int:
        draft = self.draft
        if draft.doing == "verb" and draft.value == "step" and not draft.dir and not draft.feet:
            draft.doing = ""
        self._count_before()
        return self._doing("pattern", token)

    def _gest(self, token: Token) -> int:
        draft = self.draft
        if draft.doing == "verb" and draft.value == "hold" and not draft.dirs:
            draft.doing = ""
        if draft.feet and not draft.doing and token.value in ("rest", "roll", "follow", "shake", "stretch"):
            draft.quiet = token.value == "rest"
        if (
            (draft.feet or draft.dirs)
            and not draft.hands
            and not draft.doing
            and token.value in ("clap", "snap", "pat")
        ):
            self._close("and")
        return self._doing("gest", token)

    def _dual(self, token: Token) -> int:
        return self._doing("dual", token)

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

    # turns and facings

    def _amount(self, token: Token) -> int:
        draft = self.draft
        if draft.amount:
            self._close("and")
        draft = self.draft
        if (
            draft.tokens
            and draft.tokens[-1].kind == "side"
            and len(draft.feet) == 1
            and not draft.doing
            and not draft.dirs
        ):
            draft.spin = 1 if draft.feet[0] == "R" else -1
        draft.amount = int(token.value)
        return 1 + self._spin_ahead(1)

    def _turnword(self, _token: Token) -> int:
        self.draft.turning = True
        return 1 + self._spin_ahead(1)

    def _spin_ahead(self, ahead: int) -> int:
        """Read "turn to the left", "turn L" behind an amount; return how many tokens that took."""
        start = ahead
        while (token := self._peek(ahead)) is not None and token.kind in ("turnword", "fill", "prep", "amount"):
            if token.kind == "amount":
                if self.draft.amount:
                    return 0 if ahead == start else ahead - start
                self.draft.amount = int(token.value)
            ahead += 1
        if token is None:
            return ahead - start
        spin = {"side": {"R": 1, "L": -1}, "dir": {"right": 1, "left": -1}, "spin": {"1": 1, "-1": -1}}
        found = spin.get(token.kind, {}).get(token.value)
        if found is None:
            return ahead - start
        self.draft.spin = found
        return ahead - start + 1

    def _spin(self, token: Token) -> int:
        self.draft.spin = int(token.value)
        return 1

    def _clock(self, token: Token) -> int:
        digits = [int(n) for n in "".join(c if c.isdigit() else " " for c in token.text).split()]
        if digits and 1 <= digits[0] <= 12:
            self._facing(from_clock(*digits[:2]), token)
        return 1

    def _facing(self, deg: int, token: Token) -> None:
        draft = (
            self.draft if self.draft.tokens and not self.draft.bare else (self.done[-1] if self.done else self.draft)
        )
        draft.facing, draft.facing_at = deg, token.line

    def _wallname(self, token: Token) -> int:
        last = self.draft.tokens[-1] if self.draft.tokens else None
        if last is not None and last.kind == "look":
            self._facing(int(token.value), token)
        elif "wall" not in token.text.casefold():
            self.draft.dirs.append("back" if token.value == "180" else "forward")
        return 1

    # hands

    def _hand(self, token: Token) -> int:
        value = {"?": "", "same": "same", "other": "other"}.get(token.value, token.value)
        draft = self.draft
        if draft.hands and draft.hands[-1] == "both" and value == "both":
            return 1
        if draft.feet and not draft.doing and not draft.part and not draft.dirs and value == "":
            value = draft.feet.pop()
        if (draft.feet or draft.part) and (draft.doing in ("verb", "pattern") or draft.dirs) and value != "same":
            self._close("and")
        elif draft.hands and (draft.dirs or draft.place) and value in ("R", "L") and draft.doing:
            self._close("and")
        if value == "both" and draft is self.draft and draft.feet == ["both"] and not draft.doing:
            draft.feet.clear()
        self.draft.hands.append(value)
        self.draft.handword = token.text.casefold()
        return 1

    def _thumb(self, token: Token) -> int:
        return self._hand(token)

    def _place(self, token: Token) -> int:
        draft = self.draft
        if draft.place and draft.doing not in ("gest", "dual"):
            return 1
        draft.place = token.value
        return 1

    # weight, times, counts

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

    def _times(self, token: Token) -> int:
        self.draft.times = int(token.value)
        return 1

    def _num(self, token: Token) -> int:
        ahead = self._peek(1)
        if ahead is not None and ahead.kind == "count":
            self.draft.counts = token.number
            return 2
        if ahead is not None and ahead.text.casefold() in ("times", "x"):
            self.draft.times = min(token.number, 64)
            return 2
        before = self.draft.tokens[-1] if self.draft.tokens else None
        if before is not None and before.text.casefold() == "from":
            self.draft.at, self.draft.since = (_exact(token.number),), True
        elif ahead is not None and ahead.kind in PLURAL_KINDS and 1 < token.number <= 16:
            self.draft.times = token.number
        elif before is not None and before.text.casefold() in ("hold", "wait", "pause", "hlt"):
            self.draft.counts = token.number
        return 1

    def _count(self, _token: Token) -> int:
        before = self.draft.tokens[-1].text.casefold() if self.draft.tokens else ""
        if before in ("a", "each", "every", "per", "the", "all"):
            self.draft.each = True
        return 1

    def _each(self, _token: Token) -> int:
        self.draft.each = True
        return 1

    def _on(self, _token: Token) -> int:
        found = label_at(self.tokens, self.i)
        if found is None:
            return 1
        label, j = found
        places = list(label.places)
        while (
            j + 1 < len(self.tokens)
            and self.tokens[j].text.casefold() in ("and", "&", ",", "or")
            and (more := label_at(self.tokens, j + 1))
        ):
            places += more[0].places
            j = more[1]
        self.draft.at = tuple(places)
        if self.i and is_mark(self.tokens[j - 1], ",:"):
            j -= 1
        return j - self.i

    # again, same, mirror

    def _again(self, token: Token) -> int:
        self.draft.repeat = self.draft.repeat or "again"
        return 1

    def _repeat(self, token: Token) -> int:
        if token.text.casefold() not in ("do", "dance"):
            self.draft.repeat = "repeat"
        return 1

    def _same(self, token: Token) -> int:
        if token.text.casefold() not in ("like", "as"):
            self.draft.repeat = self.draft.repeat or "same"
        return 1

    def _mirror(self, token: Token) -> int:
        self.draft.mirror = True
        return 1

    def _alternate(self, _token: Token) -> int:
        self.draft.alternate = True
        return 1

    # the rest

    def _note(self, token: Token) -> int:
        """ "Option: …" ends what is danced."""
        ahead = self._peek(1)
        if token.text.casefold() in ASIDES and (not self.draft.tokens or (ahead is not None and is_mark(ahead, ":"))):
            self.i = len(self.tokens)
            return 0
        return 1

    def _look(self, token: Token) -> int:
        """ "Squaring up to 12:00" ends a diagonal with the turn that is left."""
        ahead = self._peek(1)
        if token.text.casefold().startswith("squar") and ahead is not None and ahead.kind == "clock":
            digits = [int(n) for n in "".join(c if c.isdigit() else " " for c in ahead.text).split()]
            self.draft.square = from_clock(*digits[:2]) if 1 <= digits[0] <= 12 else -1
        return 1

    def _word(self, token: Token) -> int:
        self.draft.unknown.append(token)
        return 1

    def _other(self, _token: Token) -> int:
        return 1


REMARKS = {
    "weight", "noweight", "takeweight", "side", "clock", "look", "wallname", "times", "fill", "prep", "num", "count", "amount",
    "turnword", "spin", "alternate", "on",
}  # fmt: skip
PARTS_OF = ("section", "part", "sec", "set", "before", "above", "line", "lines", "in", "the")
ASIDES = ("option", "options", "optional", "easier option", "easier", "styling", "alternative", "hint", "variation", "note", "non turning option")
MERGING = ("step", "stomp", "touch", "point", "crossrock", "rock", "lunge", "hop", "ball", "skate")


def _exact(n: int) -> Fraction:
    from fractions import Fraction

    return Fraction(n)


def drafts_of(tokens: list[Token]) -> list[Draft]:
    """Return the drafts of a line's words in reading order."""
    return Scanner(tokens).read()
