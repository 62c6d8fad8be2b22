"""Runs of a walkthrough that do not fill their section: another natural reading is taken, if only one does.

Words without counts leave open whether "and" is a count of its own or the half of one, whether "twice" is for the last
step or the line. Under a heading the section is as long as sections are; where the likeliest readings miss that and
just one other meets it, that one is meant. Where none or several do, nothing is changed and the length is told.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import Label, is_mark
from softshoe.wording.laying import lay
from softshoe.wording.laying_ways import natural
from softshoe.wording.parts import Item
from softshoe.wording.stage import ready

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.parts import Atom
    from softshoe.wording.stage import Ready

MOST_RUNS = 12
HALVED = (0, 0.5, 1)
TAPS = ("heel", "touch", "point")
Places = tuple[Fraction, ...]


def lies_over(item: Item) -> bool:
    """Return whether hands are told that move on steps told before: "Clap on every right", "Hands: push, pull"."""
    if item.limb == "arms":
        return True
    if item.label is not None or not any(t.kind == "each" for t in item.tokens):
        return False
    one = ready(Item(None, list(item.tokens), item.line), Fraction(0))
    return bool(one.atoms) and all(a.arms_only and a.on_verb for a in one.atoms)


def fitted(items: Sequence[Item], unit: int) -> list[Item]:
    """Return the runs of one section, with lengths where only so they fill it."""
    if not 0 < len(items) <= MOST_RUNS or any(i.label is not None or lies_over(i) for i in items):
        return list(items)
    runs = [ready(Item(None, list(item.tokens), item.line), Fraction(0)) for item in items]
    if not all(run.atoms or run.repeat for run in runs):
        return list(items)
    lengths = [int(natural(run.atoms)[1]) if run.repeat is None else 0 for run in runs]
    if not any(lengths) or _filled(runs, lengths) % unit == 0:
        return list(items)
    before = _filled(runs, lengths)
    found: dict[tuple[Places, ...], None] = {}
    for reading in READINGS:
        for way in _ways(reading, runs, lengths):
            total = _filled(runs, _taken(way, lengths))
            if total % unit == 0 and abs(total - before) < unit:
                found[way] = None
        if reading is _by_signs and len(found) == 1:
            break  # the sign is surer than what else might be meant
    if len(found) != 1:
        return list(items)
    (best,) = found
    return [_counted(item, places) if places else item for item, places in zip(items, best, strict=True)]


def _ways(reading: Reading, runs: Sequence[Ready], lengths: Sequence[int]) -> list[tuple[Places, ...]]:
    """Return the ways to read the runs: all that can be read so, or one of them alone."""
    own = [() if run.repeat is not None else reading(run, n) for run, n in zip(runs, lengths, strict=True)]
    alone = [tuple(() if k != n else one for k in range(len(runs))) for n, one in enumerate(own) if one]
    if reading is _again or reading is _closed:
        return [*alone, tuple(own)] if len(alone) > 1 else alone
    return [tuple(own)] if alone else []


def _taken(way: Sequence[Places], lengths: Sequence[int]) -> list[int]:
    return [_counts(places) or length for places, length in zip(way, lengths, strict=True)]


def _filled(runs: Sequence[Ready], lengths: Sequence[int]) -> int:
    """Return how many counts the runs come to; a copy is as long as all before it."""
    total = 0
    for run, length in zip(runs, lengths, strict=True):
        total += length if run.repeat is None else total * run.repeat.times
    return total


def _counts(places: Places) -> int:
    return int(places[-1].__floor__()) if places else 0


def _counted(item: Item, places: Places) -> Item:
    first = item.tokens[0]
    item.label = Label(places, False, first.start, first.start, first.line, floats=True)
    return item


def _turned(run: Ready, length: int) -> Places:
    """ "Quarter left, right to the side, touch": the counts left where a turn is that of the step behind it."""
    turns = sum(a.name == "turn" for a in run.atoms[:-1])
    return _wholes(run, length - turns) if turns else ()


def _by_signs(run: Ready, _length: int) -> Places:
    """ "Rock R & recover", "heel R & heel L &": the sign stands for the half of a count."""
    if not any(a.join == "amp" or a.amps for a in run.atoms):
        return ()
    signs = [k for k, a in enumerate(run.atoms) if a.join == "amp"]
    return _with_homes(run.atoms) or _by_halves(run.atoms, signs)


def _by_words(run: Ready, _length: int) -> Places:
    """ "Side, hold, and close, side": an "and" behind a comma stands for the half of a count."""
    tokens = run.item.tokens
    behind = {two.start for one, two in pairwise(tokens) if is_mark(one, ",") and two.low in ("and", "&")}
    joined = [t.start for one, t in pairwise(tokens) if one.start in behind]
    ands = [k for k, a in enumerate(run.atoms) if a.join == "and" and any(a.span[0] <= at < a.span[1] for at in joined)]
    return _by_halves(run.atoms, ands) if ands else ()


def _quick(run: Ready, _length: int) -> Places:
    """ "Side-together-side, then rock back, recover": steps strung together are quick."""
    if not any(t.kind == "pattern" and t.text.count("-") > 1 for t in run.item.tokens):
        return ()
    return _timed(run, lambda atom: HALVED if atom.length and len(atom.choices[0]) == len(HALVED) else None)


def _slow(run: Ready, _length: int) -> Places:
    """ "Slow lock step forward": what is quick by custom has a count each."""
    if not any(t.low.startswith("slow") for t in run.item.tokens):
        return ()
    return _timed(run, lambda atom: tuple(range(len(atom.choices[0]))) if atom.length else None)


def _timed(run: Ready, rhythm: Callable[[Atom], Sequence[float] | None]) -> Places:
    """Return the moments of a run, those of some patterns at other times from their first."""
    places: list[Fraction] = []
    for atom in run.atoms:
        if atom.heading and not atom.choices[-1]:
            continue
        if atom.at or atom.apiece or atom.counts or not atom.choices[0] or atom.join == "with" or atom.arms_only:
            return ()
        now = Fraction(places[-1].__floor__() + 1 if places else 1)
        usual = [float(s.after) if atom.length else i for i, s in enumerate(atom.choices[0])]
        own = rhythm(atom) or usual
        places += [now + Fraction(after) for after in own]
    return tuple(places) if _fills(run.atoms, tuple(places)) else ()


def _closed(run: Ready, _length: int) -> Places:
    """ "Monterey half R", "cross rock and a side shuffle": with the close or recover left open."""

    def whole(atom: Atom) -> Sequence[float] | None:
        longest = max(atom.choices, key=len)
        if atom.times > 1 or atom.heading or atom.template or len(longest) == len(atom.choices[0]):
            return None
        return [float(s.after) if atom.length else i for i, s in enumerate(longest)]

    return _timed(run, whole) if any(whole(atom) for atom in run.atoms) else ()


def _with_hands(run: Ready, length: int) -> Places:
    """ "Step right, arms up; touch left, arms down": what the hands do has no count of its own."""
    hands = sum(a.arms_only and a.join == "seq" and len(a.choices[0]) == 1 for a in run.atoms[1:])
    return _wholes(run, length - hands) if 0 < hands < length and hands < len(run.atoms) - hands + 1 else ()


def _again(run: Ready, length: int) -> Places:
    """Return the counts of a line danced as often as its last words say."""
    last = run.atoms[-1] if run.atoms else None
    if last is None or last.times < 2:
        return ()
    once = length - len(last.choices[0]) + len(last.choices[-1])
    return _wholes(run, last.times * once) if last.times * once > length else ()


def _wholes(run: Ready, counts: int) -> Places:
    places = tuple(Fraction(k) for k in range(1, counts + 1))
    return places if places and _fills(run.atoms, places) else ()


Reading = Callable[["Ready", int], Places]
READINGS: tuple[Reading, ...] = (_by_signs, _by_words, _turned, _quick, _slow, _closed, _with_hands, _again)


def _by_halves(atoms: Sequence[Atom], halves: Sequence[int]) -> Places:
    """Return the moments with those atoms on the half behind the count before them."""
    places: list[Fraction] = []
    halved = 0
    for k, atom in enumerate(atoms):
        moments = atom.choices[0]
        if atom.heading and not atom.choices[-1]:
            continue  # a name whose steps are told
        if atom.at or atom.apiece or atom.counts or not moments:
            return ()
        if atom.join == "with" or (atom.arms_only and atom.join in ("and", "amp")):
            return ()
        if len(moments) == 1 and k in halves and places and not atom.length and places[-1].denominator == 1:
            places.append(places[-1] + Fraction(1, 2))
            halved += 1
            continue
        now = Fraction(places[-1].__floor__() + 1 if places else 1)
        places += [now + (s.after if atom.length else i) for i, s in enumerate(moments)]
    return tuple(places) if halved and _fills(atoms, tuple(places)) else ()


def _with_homes(atoms: Sequence[Atom]) -> Places:
    """ "Heel right & heel left & stomp": on the "&" the foot that was out comes home."""
    places: list[Fraction] = []
    for atom in atoms:
        if len(atom.choices[0]) != 1 or atom.at or atom.arms_only or (atom.amps and not _taps(atom)):
            return ()
        whole = Fraction(places[-1].__floor__() + 1 if places else 1)
        places += [whole, whole + Fraction(1, 2)] if atom.amps else [whole]
    return tuple(places) if any(a.amps for a in atoms) and _fills(atoms, tuple(places)) else ()


def _taps(atom: Atom) -> bool:
    return all(w.verb in TAPS for w in atom.choices[0][0].wants)


def _fills(atoms: Sequence[Atom], places: Places) -> bool:
    laid = lay(list(atoms), places, ranged=False)
    feet = [at for at, slot, _ in laid.at if slot.wants]
    return not laid.problem and len(feet) == len(set(feet)) and {at for at, _, _ in laid.at} >= set(places)
