"""Named patterns found in what is danced: "1-4 Vine to the right" for side, behind, side.

What a pattern consists of comes from the reader's own table; a pattern is named only in full, without arms.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.feet import Foot
from softshoe.dance.patterns import EVENT_VERB, FEET, direction
from softshoe.dance.places import Direction
from softshoe.wording.reading_patterns import read_patterns, steps_of
from softshoe.wording.write_words import foot_words, turn_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.patterns import CodeStep
    from softshoe.wording.write_book import Book
    from softshoe.wording.write_stretch import Stretch

TURNS = ((0, 0), (90, 1), (90, -1), (180, 1), (180, -1))


class Step(NamedTuple):
    """One action of a pattern, its moment counted from 0."""

    at: Fraction
    foot: Foot | None
    verb: str
    dir: Direction | None
    turn_deg: int


@dataclass(frozen=True, slots=True)
class Form:
    """A pattern as one foot leads it: the row of the writing table, the turn in it, its steps."""

    key: str
    lead: Foot
    turn_deg: int
    steps: tuple[Step, ...]
    length: int


def named_at(stretch: Stretch, n: int, book: Book) -> Iterator[tuple[int, str]]:
    """Yield the patterns that begin on count n of the stretch, the longest first: their counts and words."""
    for form in forms(book):
        last = n + form.length - 1
        if last > stretch.counts:
            continue
        danced = stretch.actions(n, last)
        base = stretch.start + n
        told = tuple(Step(a.at.at - base, a.foot, a.verb, a.dir, a.turn_deg) for a in danced)
        if told == form.steps and not any(a.arms or a.weight_said for a in danced):
            yield form.length, _words(form, book)


def _words(form: Form, book: Book) -> str:
    names = foot_words(form.lead, book)
    words = book.say("pattern", form.key, **names)
    if form.turn_deg:
        part = turn_words(form.turn_deg, book)
        words = f"{words} {part}"
    return words[:1].upper() + words[1:]


def forms(book: Book) -> tuple[Form, ...]:
    """Return the forms of every pattern that the language names, the longest first."""
    return _forms(tuple(key for kind, key in book.rows if kind == "pattern"))


@lru_cache(maxsize=8)
def _forms(keys: tuple[str, ...]) -> tuple[Form, ...]:
    found = [form for key in keys for lead in (Foot.RIGHT, Foot.LEFT) for form in _forms_of(key, lead)]
    return tuple(sorted(found, key=lambda f: (-f.length, bool(f.turn_deg))))


def _forms_of(key: str, lead: Foot) -> Iterator[Form]:
    """ "Jazz box" is the open pattern, "jazz box+" one with its usual close, "shuffle:back" one that goes anywhere."""
    name, _, way = key.partition(":")
    closed = name.endswith("+")
    name = name.rstrip("+")
    pattern = read_patterns()[name]
    for deg, spin in TURNS:
        if (deg == 90 and not pattern.quarter) or (deg == 180 and not pattern.half):
            continue
        code = steps_of(name, closed=closed, lead=lead.value, turn_deg=deg, spin=spin)
        if code[0].at < 1:
            continue
        steps = tuple(step_of(step, way) for step in code)
        length = int(max(step.at for step in steps)) + 1
        filled = {step.at for step in steps}
        if all(Fraction(k) in filled for k in range(length)):
            yield Form(key, lead, sum(step.turn_deg for step in steps) if deg else 0, steps, length)


def step_of(step: CodeStep, way: str = "") -> Step:
    """Return a step of a pattern's code, its moment from 0; ``way`` is where one that may go anywhere goes."""
    foot = FEET[step.foot]
    verb = EVENT_VERB.get(step.verb, step.verb)
    place = Direction(way) if step.place == "any" and way else direction(step.place, foot)
    if verb == "hold":
        place = None
    if way and step.place == "fwd":
        place = Direction(way)
    return Step(step.at - 1, foot, verb, place, step.turn_deg)
