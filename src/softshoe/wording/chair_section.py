"""A section of a chair class read strictly: every word is known, every count is filled, or it is not read here at all.

Sentences are cut into clauses (``chair_clauses``), cleaned (``chair_told``), danced by hands and feet (``chair_hands``,
``chair_feet``), copied (``chair_copies``) and laid on counts (``chair_counts``).
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.chair_clauses import Cutter
from softshoe.wording.chair_copies import expanded
from softshoe.wording.chair_counts import laid
from softshoe.wording.chair_feet import feet_beats, on_foot, puts_down
from softshoe.wording.chair_hands import Hands
from softshoe.wording.chair_parts import MARCH, OTHER, OWN, SOUNDS, Ask, Beat, DeclinedError, State
from softshoe.wording.chair_told import told_clauses

if TYPE_CHECKING:
    from softshoe.wording.chair_clauses import Clause
    from softshoe.wording.chair_parts import Spans

MOST_TURNS = 16
MIRRORS = ("mirror", "reverse", "mirror it", "mirrored", "mirror this", "mirror image")
CHANGES = ("change", "swap")


class Danced(NamedTuple):
    """The beats of a section's text, each with its counts, and the characters of its talk."""

    beats: list[Beat]
    talk: list[tuple[int, int]]


def danced(text: str, counts: int) -> Danced:
    """Return what a section's text has danced. Raises DeclinedError where it is no such text.

    >>> [(b.at[0], b.hands[0].side, b.hands[0].gest) for b in danced("Right arm up (2), left arm up (2)", 4).beats]
    [(1, 'R', 'raise'), (3, 'L', 'raise')]
    """
    section = Section(text)
    for way in expanded(section.told()):
        found = laid(way, counts, section.state.each)
        if found is not None:
            return Danced(sorted(found, key=lambda beat: beat.at[0]), section.state.talk)
    raise DeclinedError("counts")


class Section:
    """Goes along the clauses of one section's text."""

    def __init__(self, text: str) -> None:
        self.state = State()
        cutter = Cutter(text)
        self.soft = cutter.soft
        self.clauses = told_clauses(cutter, self.state)
        self.out: list[Beat | Ask] = []

    def told(self) -> list[Beat | Ask]:
        """Return what its clauses have danced, and what they ask to be danced again."""
        for i, c in enumerate(self.clauses):
            self._between(self.clauses[i - 1] if i else None, c)
            spans = tuple((w.start, w.end) for w in c.words)
            if c.head:
                self._head(c)
            elif not self._quiet(c, spans):
                self._moving(i, c, spans)
        return self.out

    def _between(self, before: Clause | None, c: Clause) -> None:
        """A sentence begins anew; of a line before only what went out is known."""
        if "strange" in c.dirs:
            raise DeclinedError("two places")
        if before is not None and before.sentence == c.sentence:
            return
        state = self.state
        state.last_out = state.out or state.last_out
        state.out = state.out if before is not None and before.line == c.line else ""
        if c.sentence not in self.soft or state.headed not in OWN:
            state.side = state.headed = ""

    def _head(self, c: Clause) -> None:
        """ "Feet:", "both hands:", "left hand begins:", "punch:"."""
        state = self.state
        if c.at or c.nums or c.length or c.odd or (c.step and c.step != MARCH) or c.dirs or (c.place and not c.gest):
            raise DeclinedError("a name that tells more")
        if c.foot or c.limb == "foot":
            state.track = "feet"
        elif c.limb == "hand" and not c.side and not c.gest:
            state.track = "hands"
        if c.foot in OWN:
            state.track, state.foot = "", c.foot
        state.headed = c.side or c.foot
        if c.limb and c.limb != "foot":
            state.step = state.foot = ""
        state.lead = c.side if c.first and c.side in OWN else state.lead
        if c.same and not c.side and c.has("change hands", "change", "change hands now"):
            c.side = OTHER[state.lone]
        elif c.again and not c.side and not c.foot:
            state.out = state.last_out  # "And again: forward, back"
        elif c.same or c.again:
            raise DeclinedError("a name that asks")
        state.side = c.side if c.side and not c.foot else state.side
        if c.gest or c.step:
            state.step = c.step or state.step
            state.out = state.gest = c.gest
            state.place, state.way = c.place, ""
        if c.label:
            self.out.append(Beat(label=c.label, kind="label"))

    def _quiet(self, c: Clause, spans: Spans) -> bool:
        """Take what moves nothing: a wait, what is asked again."""
        if c.odd or c.own or (c.each and (c.gest or c.step or c.home)):
            raise DeclinedError("on some of them")
        moves = c.gest or c.step or c.dirs or c.place
        if c.hold and c.foot and not moves:
            return True  # "the feet rest"
        if c.same or c.again or (c.times and not (moves or c.hold or c.home or c.side)):
            self._asks(c, spans)
            return True
        if c.hold and not moves:
            self._still(c, spans)
            return True
        if c.hold and not (c.gest or c.step or c.dirs or (c.place and c.has("rest", "rests"))):
            return c.place == ""
        return False

    def _asks(self, c: Clause, spans: Spans) -> None:
        way = c.dirs[0] if c.dirs in (["right"], ["left"]) else ""
        if c.gest or c.step or c.place or (c.dirs and not way):
            raise DeclinedError("again, with more")
        side = c.side or (c.foot if c.foot in OWN else "") or {"right": "R", "left": "L", "": ""}[way]
        changes = any(w.text.startswith(CHANGES) for w in c.words)
        if not side and (changes or (c.same and (c.limb == "other" or c.has(*MIRRORS)))):
            side = "other"
        if not side and self.state.headed in OWN:
            side = self.state.headed
        times = c.times or 1 if c.again or not c.times else max(1, c.times - 1)
        self.out.append(Ask(side, times, c.sentence, c.line, c.label, spans))

    def _still(self, c: Clause, spans: Spans) -> None:
        one = Beat(
            length=c.length or c.slow, at=c.at, nums=tuple(c.nums), sentence=c.sentence, line=c.line, words=spans,
            kind="dash" if c.dash else "", track=self.state.track,
        )  # fmt: skip
        for k in range(1 if one.length else c.times or 1):
            self.out.append(replace(one, label=c.label if k == 0 else ()))

    # what moves

    def _moving(self, i: int, c: Clause, spans: Spans) -> None:
        puts_down(c, self.state)
        beats = feet_beats(c, self.state) if on_foot(c, self.state) else Hands(self.clauses, i, self.state).beats()
        if not beats:
            return
        count = max(c.times, 1)
        made = self._in_turn(c, beats, count) if c.turn else beats * count
        under = [k for k in self._here(c) if self._beat(k).feet and not self._beat(k).hands]
        if c.join == "with" and len(under) > 1 and len(made) == 1 and made[0].hands:
            if not (made[0].lasts or made[0].hands[0].gest == "rest"):
                raise DeclinedError("with the last, or with all")
            c.join = "during"
        if c.join == "during":
            self._during(c, made, under)
        elif c.join == "with" and self.out and isinstance(self.out[-1], Beat) and len(made) == 1:
            self._with(c, made[0], spans)
        else:
            self._laid_behind(c, made, spans)

    def _beat(self, k: int) -> Beat:
        one = self.out[k]
        return one if isinstance(one, Beat) else Beat()

    def _here(self, c: Clause) -> list[int]:
        """Return the beats of the sentence, behind its last label."""
        own = [k for k in range(len(self.out)) if (self._beat(k).sentence, self._beat(k).line) == (c.sentence, c.line)]
        labels = [k for k in own if self._beat(k).label]
        return [k for k in own if isinstance(self.out[k], Beat) and (not labels or k >= labels[-1])]

    def _during(self, c: Clause, made: list[Beat], under: list[int]) -> None:
        """ "March R, L, clapping": on every step of the sentence."""
        if len(made) != 1 or not made[0].hands or c.counted or not under:
            raise DeclinedError("while what")
        for k in under[:1] if made[0].hands[0].gest == "rest" else under:
            one = self._beat(k)
            hands = made[0].hands
            if c.limb == "same":
                hands = tuple(replace(h, side=one.feet[0].foot) for h in hands)
            self.out[k] = replace(one, hands=hands)

    def _with(self, c: Clause, made: Beat, spans: Spans) -> None:
        """ "Right heel forward + both hands push": at one moment."""
        last = self._beat(len(self.out) - 1)
        if {h.side for h in last.hands} & {h.side for h in made.hands}:
            raise DeclinedError("one hand does two things")
        self.out[-1] = replace(
            last, hands=(*last.hands, *made.hands), feet=(*last.feet, *made.feet), length=last.length or c.length,
            at=last.at or c.at, nums=(*last.nums, *c.nums), words=(*last.words, *spans),
        )  # fmt: skip

    def _in_turn(self, c: Clause, beats: list[Beat], count: int) -> list[Beat]:
        """ "Hands in turn, right first, four beats": one hand after the other."""
        lone = c.nums[0] if len(c.nums) == 1 else 0
        often = count if count > 1 else c.length or len(c.at) or lone or len(c.label)
        if not 0 < often <= MOST_TURNS:
            raise DeclinedError("in turn, how often")
        c.nums = c.nums if c.length else []
        c.length = 0 if c.at else often
        return [b if k % 2 == 0 else b.mirrored() for k in range(often) for b in beats]

    def _laid_behind(self, c: Clause, made: list[Beat], spans: Spans) -> None:
        """Put the beats of a clause behind those before, with the counts it tells."""
        many, length = len(made), c.length or c.slow
        if many > 1 and c.length and not c.slow:
            if c.length % many:
                raise DeclinedError("a length for several")
            length = c.length // many
        at, nums, ranged = c.at, tuple(c.nums), c.ranged
        if many > 1 and not at and nums == (many,):
            nums, length = (), 1
        if many > 1 and (len(at) not in (0, many) or nums):
            raise DeclinedError("counts for several")
        one = Beat(
            length=length, at=at, ranged=ranged and many == 1, nums=nums, sentence=c.sentence, line=c.line,
            words=spans, track=self.state.track, listed=c.listed, slow=bool(c.slow and not c.length),
            often=c.gest in SOUNDS and bool(nums) and not c.inner,
            plural=any(w.kind == "gest" and w.text.endswith("s") for w in c.words),
        )  # fmt: skip
        for k, b in enumerate(made):
            here = at[k : k + 1] if many > 1 and at else at
            label = c.label if k == 0 else ()
            self.out.append(replace(one, hands=b.hands, feet=b.feet, at=here, label=label))
