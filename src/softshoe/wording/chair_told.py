"""Clauses cleaned: talk put aside, what is said of the whole section taken out, what stands apart joined to its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.chair_parts import BODY, MARCH, OWN, DeclinedError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.chair_clauses import Clause, Cutter
    from softshoe.wording.chair_parts import State

SIDEWAYS: tuple[list[str], ...] = ([], ["right"], ["left"])


def told_clauses(cutter: Cutter, state: State) -> list[Clause]:
    """Return the clauses that are danced, or ask for something to be danced again."""
    clauses = _of_all(_without_sums(_without_talk(cutter, state)), state)
    clauses = Joiner(clauses).joined()
    labelled = {c.line for c in clauses if c.label}
    loose = (c for c in clauses if c.line not in labelled and not (c.again or c.same))
    if labelled and any(c.line > min(labelled) for c in loose):
        raise DeclinedError("a line without counts may lie over those that have theirs")
    return clauses


def _without_talk(cutter: Cutter, state: State) -> list[Clause]:
    """Leave out sentences and brackets with a strange word; where they may be danced, nothing is read."""
    clauses = cutter.out
    strange: dict[int, list[int]] = {}
    for sentence, index in cutter.strange:
        strange.setdefault(sentence, []).append(index)
    drop: set[int] = set()
    for sentence, where in strange.items():
        inner = [i for i in where if i < len(clauses)]
        words = [w for i in inner for w in clauses[i].words if w.kind == "strange"]
        if any(not w.text[0].isalpha() for w in words):
            raise DeclinedError("signs")
        if any(i in cutter.heads and (clauses[i].side or clauses[i].limb or clauses[i].odd) for i in inner):
            raise DeclinedError("a strange name")
        apart = all(clauses[i].inside or i in cutter.heads for i in inner)
        own = inner if apart and not any(_danced(clauses[i]) for i in inner) else _of(sentence, clauses)
        if any(_danced(clauses[i]) for i in own):
            raise DeclinedError(f"strange {[w.text for w in words]}")
        drop |= {*own, *inner}
    state.talk = [(c.words[0].start, c.words[-1].end) for i, c in enumerate(clauses) if i in drop and c.words]
    return [c for i, c in enumerate(clauses) if i not in drop and c.says]


def _without_sums(clauses: Sequence[Clause]) -> list[Clause]:
    """ "… One count up, one count down": leave out a sentence that only sums up."""
    sums = {
        c.sentence
        for c in clauses
        if c.sentence > clauses[0].sentence and all(_sums(one) for one in clauses if one.sentence == c.sentence)
    }
    return [c for c in clauses if c.sentence not in sums]


def _sums(c: Clause) -> bool:
    counts = len(c.words) > 1 and c.words[0].kind == "num" and c.words[1].kind == "count"
    return counts and bool(c.dirs) and not (c.moves or c.limb or c.side or c.foot or c.at or c.label)


def _of(sentence: int, clauses: Sequence[Clause]) -> list[int]:
    return [i for i, c in enumerate(clauses) if c.sentence == sentence]


def _danced(c: Clause) -> bool:
    """Return whether a clause with a strange word may be one that is danced."""
    danced = c.gest or c.step or c.home or (c.hold and not c.inside) or (c.limb and (c.dirs or c.place))
    counted = c.at or c.nums or c.length or c.label or c.times > 1
    return bool(danced or counted or (c.side in OWN and (not c.limb or c.dirs or c.place)) or c.foot in OWN)


def _of_all(clauses: Sequence[Clause], state: State) -> list[Clause]:
    """Take out what is said of the whole section."""
    out: list[Clause] = []
    for k, c in enumerate(clauses):
        last = k + 1 == len(clauses) or clauses[k + 1].sentence != c.sentence
        nothing = not (c.moves or c.place or c.dirs or c.foot)
        each = _each(c, opens=not out) if nothing else 0
        if each:
            state.each = each
        elif nothing and last and k and c.side == "both" and not (c.head or c.counted or c.label or c.join == "with"):
            state.both = True
        elif not ((c.hold and c.odd and not (c.gest or c.step)) or (c.names and _means(c, state))):
            out.append(c)
    return out


def _each(c: Clause, *, opens: bool) -> int:
    """ "Two counts each", "all slow": return how long each movement lasts; 0 where that is not said."""
    numbered = any(w.kind == "num" for w in c.words)
    count = c.length or (c.nums[0] if c.nums else 0) or (c.times if numbered else 0)
    if c.each and count and not c.at:
        return count
    return c.slow if c.slow and (c.each or (not c.times and (c.inside or opens))) else 0


def _means(c: Clause, state: State) -> bool:
    """ "The ups are pushes", "pats are on the thighs": take what a word means; False where it is no such clause."""
    at = next(k for k, w in enumerate(c.words) if w.kind == "is")
    left = [w for w in c.words[:at] if w.kind in ("gest", "dir")]
    if not left or c.nums or c.at or c.length or c.step:
        return False
    if left[0].kind == "dir" and not c.gest:
        raise DeclinedError("what a way means")
    if left[0].kind == "dir":
        state.meant[left[0].value] = c.gest
    return True


class Joiner:
    """Goes along the clauses and gives what stands apart to the clause it belongs to."""

    def __init__(self, clauses: Sequence[Clause]) -> None:
        self.clauses = clauses
        self.out: list[Clause] = []
        self.pending: Clause | None = None  # counts in brackets before the words they are of

    def joined(self) -> list[Clause]:
        """Return the clauses that are left."""
        for c in self.clauses:
            before = self.out[-1] if self.out and self.out[-1].sentence == c.sentence else None
            if before is not None and _says_same(c, before):
                before.same, before.words = True, [*before.words, *c.words]
                before.nums, before.at, before.length, before.times = c.nums, c.at, c.length, c.times
            elif c.label or c.head or not self._counts(c):
                self._take(c, None if c.label or c.head else before)
        return self.out

    def _counts(self, c: Clause) -> bool:
        """Give counts alone to the clause before, or keep them for the one behind."""
        if not c.only_counts:
            self._give(c)
            return False
        line = self.out[-1] if self.out and self.out[-1].line == c.line else None
        before = self.out[-1] if self.out else None
        opens = before is None or ((before.head or before.at or before.nums) and not before.hold)
        if c.inside and (c.at or c.nums) and opens and self.pending is None:
            self.pending = c
            return True
        self._give(c)
        if line is not None and (c.nums or c.at or c.length) and not c.times:
            line.take_counts(c)
            return True
        if line is not None and c.slow and not c.times:
            line.slow = line.slow or c.slow
            return True
        return False

    def _give(self, c: Clause) -> None:
        if self.pending is not None:
            one, self.pending = self.pending, None
            c.at, c.ranged, c.listed = (*one.at, *one.nums, *c.at), one.ranged, one.listed

    def _take(self, c: Clause, before: Clause | None) -> None:
        """Join a clause to the one before it in its sentence, or let it stand."""
        if before is not None and (_placed(c, before) or _done_by(c, before) or _in_turn(c, before)):
            return
        if c.label or c.head:
            self.out.append(c)
            return
        if c.first and not (c.moves or c.dirs or c.foot) and c.side in OWN:
            raise DeclinedError("who begins")
        if c.only_counts and not c.times and not c.each:
            if c.nums or c.at or c.length or c.odd:
                raise DeclinedError("counts alone")
            return
        self.out.append(c)


def _says_same(c: Clause, before: Clause) -> bool:
    """ "Left hand, the very same"."""
    empty = not (before.moves or before.place or before.nums or before.at) and before.dirs in SIDEWAYS
    return c.same and not c.side and not c.foot and before.side in OWN and empty


def _placed(c: Clause, before: Clause) -> bool:
    """ "…, chest height", "… (on the thighs)", "pat, both thighs": where it is done."""
    nothing = not (c.moves or c.dirs or c.foot)
    if nothing and before.gest and (c.inside or c.level) and c.place and not before.place and not c.side:
        before.place, before.level = c.place, c.level
        before.nums += c.nums
        return True
    ways = c.inside and not c.moves and c.dirs and not before.dirs and before.gest
    if ways and not c.place and not c.side:
        before.dirs = c.dirs
        before.nums += c.nums
        before.length = before.length or c.length
        return True
    pats = before.gest in ("pat", "drum", "rest") and not before.place and not c.limb
    if nothing and c.place in BODY and pats and not c.side and not c.inside and c.join != "with":
        before.place = c.place
        before.nums += c.nums
        before.at, before.length = before.at or c.at, before.length or c.length
        return True
    return bool(nothing and c.inside and c.place and not c.side and not c.nums and not c.at)


def _done_by(c: Clause, before: Clause) -> bool:
    """ "… with the right hand", "… (both hands)": who does it."""
    again = c.gest == before.gest and c.times == 1 and c.slow
    if again and not (c.side or c.place or c.dirs or c.at or c.length):
        before.words += c.words  # "a circle, one slow circle"
        return True
    if c.gest == before.gest == "cross" and not c.counted and not before.place:
        before.place = c.place  # "a hug, both arms crossed on the chest"
        before.words += c.words
        return True
    if c.moves or c.foot or not before.gest:
        return False
    nothing = not c.dirs
    twice = (c.dirs and before.dirs) or (c.place and before.place)
    if c.join == "with" and (c.side or c.limb) and before.side in ("", c.side) and not twice:
        before.side, before.limb = c.side or before.side, c.limb or before.limb
        before.dirs, before.place = before.dirs or c.dirs, before.place or c.place
        before.take_counts(c)
        before.times = before.times or c.times
        return True
    if c.join == "with" and c.side in OWN and before.side in OWN:
        c.join = "seq"  # "punch with the right, with the left"
        return False
    if nothing and c.inside and c.side and c.limb and not (c.place or c.nums or c.at or before.side):
        before.side, before.limb = c.side, c.limb
        return True
    return False


def _in_turn(c: Clause, before: Clause) -> bool:
    """ "…, hands in turn", "…, right first": who begins what is done several times."""
    if c.turn and not (c.moves or c.dirs or c.foot) and before.gest:
        before.turn = True
        before.side = before.side if before.side in OWN else c.side if c.side in OWN else ""
        before.times, before.length = before.times or c.times, before.length or c.length
        before.nums += c.nums
        return True
    begins = c.side if c.side in OWN else c.foot
    if not c.first or c.moves or c.dirs or c.place or begins not in OWN:
        return False
    several = before.turn or before.times > 1 or before.step == MARCH or before.gest in ("drum", "swing", "sweep")
    if not several:
        raise DeclinedError("who begins")
    before.turn = True
    together = before.side == "both" or (before.limb == "hand" and not before.side)
    if before.gest in ("swing", "sweep") and together:
        before.dirs = [OWN[begins]]
    elif before.step:
        before.foot = begins
    else:
        before.side = begins
    return True
