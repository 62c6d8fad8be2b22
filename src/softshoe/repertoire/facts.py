"""What is told of a dance when one looks for it: numbers, and the names of its steps.

A step's name is known from the words of the sheet and from what the feet do: a vine written out is a vine too.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.dance.arms import GESTURES
from softshoe.dance.dance import LEVELS
from softshoe.dance.patterns import patterns
from softshoe.dance.verbs import VERBS
from softshoe.repertoire.plain import words_of
from softshoe.wording.vocabulary import phrases
from softshoe.wording.write_book import book
from softshoe.wording.write_names import forms

if TYPE_CHECKING:
    from collections.abc import Iterable
    from fractions import Fraction

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.wording.write_names import Step

Told = tuple[object, str, object, int]
LONGEST_NAME = 5  # words


@dataclass(frozen=True, slots=True)
class Facts:
    """A dance in numbers. ``level`` is its place among the levels from 0, None where none is said; ``turning_deg`` the
    turns of one wall, both ways added; ``errors`` the findings that stand in the way of dancing it.
    """

    title: str
    counts: int
    walls: int | None
    level: int | None
    seated: bool
    metre: str
    tempo_low: float | None
    tempo_high: float | None
    turning_deg: int
    biggest_turn_deg: int
    tags: int
    restarts: int
    endings: int
    arms: bool
    errors: int
    steps: frozenset[str]


def facts_of(dance: Dance, words: str, *, title: str = "") -> Facts:
    """Return the facts of a dance and of the words it was read from; ``title`` stands in where the sheet has none."""
    tempo = dance.tempo_bpm
    low, high = tempo if isinstance(tempo, tuple) else (tempo, tempo)
    turns = [abs(action.turn_deg) for action in dance.actions]
    return Facts(
        title=dance.title or title,
        counts=dance.counts,
        walls=dance.walls,
        level=LEVELS.index(dance.level) if dance.level else None,
        seated=dance.seated,
        metre=dance.metre,
        tempo_low=low,
        tempo_high=high,
        turning_deg=sum(turns),
        biggest_turn_deg=max(turns, default=0),
        tags=len(dance.tags),
        restarts=len(dance.restarts),
        endings=len(dance.endings),
        arms=any(action.arms for action in dance.actions),
        errors=sum(finding.severity == "error" for finding in dance.findings),
        steps=frozenset({*_danced(dance), *_written(words)}),
    )


@lru_cache(maxsize=1)
def step_words() -> dict[tuple[str, ...], str]:
    """Return every phrase that names a step, as plain words, with the step's name."""
    known: dict[tuple[str, ...], str] = {}
    said = [pair for listed in phrases().values() for pair in listed]
    rows = [(entry.value, [" ".join(phrase)]) for phrase, entry in said if entry.kind == "pattern"]
    rows += [(p.name, list(p.aliases)) for p in patterns().values() if p.kind != "action"]
    rows += [(verb.name, []) for verb in VERBS if verb.name not in ("step", "arms")]
    rows += [(gesture.name, []) for gesture in GESTURES if gesture.name not in ("raise", "point", "sweep")]
    for name, wordings in rows:
        for phrase in (name, *wordings):
            key = tuple(words_of(phrase))
            if key and (len(key) > 1 or len(key[0]) > 3 or phrase == name):
                known.setdefault(key, name)
    return known


@lru_cache(maxsize=1)
def _names() -> dict[str, tuple[str, ...]]:
    """Every step's name with its plain words."""
    return {name: tuple(words_of(name)) for name in set(step_words().values())}


@lru_cache(maxsize=1024)
def steps_named(phrase: tuple[str, ...]) -> frozenset[str]:
    """Return the steps that a phrase may mean: "mambo" is every mambo, "vines" every vine; none where it is no step.

    >>> sorted(steps_named(("monterey", "turn")))[:1], sorted(steps_named(("jazz", "boxes")))[:2]
    (['monterey'], ['jazz box', 'jazz box cross'])
    """
    known, names = step_words(), _names()
    for words in (phrase, *_singular(phrase)) if phrase else ():
        within = known.get(words)
        name = names[within] if within else words
        family = {other for other, told in names.items() if _within(name, told)}
        if family:
            return frozenset(family)
    return frozenset()


def _singular(phrase: tuple[str, ...]) -> Iterable[tuple[str, ...]]:
    *first, last = phrase
    for ending in ("es", "s", "ing", "ed"):
        if last.endswith(ending) and len(last) > len(ending) + 2:
            yield (*first, last.removesuffix(ending))


def _within(part: tuple[str, ...], whole: tuple[str, ...]) -> bool:
    return any(whole[k : k + len(part)] == part for k in range(len(whole) - len(part) + 1))


def _written(words: str) -> Iterable[str]:
    """The steps that the words name, longest phrase first."""
    known, said, k = step_words(), words_of(words), 0
    while k < len(said):
        found = next((n for n in range(LONGEST_NAME, 0, -1) if tuple(said[k : k + n]) in known), 0)
        if found:
            yield known[tuple(said[k : k + found])]
        k += found or 1


@lru_cache(maxsize=1)
def _forms() -> dict[Told, list[tuple[tuple[Told, ...], tuple[Fraction, ...], str]]]:
    """What every pattern does, when from its first step on, and its name, by its first step."""
    first: dict[Told, list[tuple[tuple[Told, ...], tuple[Fraction, ...], str]]] = defaultdict(list)
    for form in forms(book("en", "short")):
        if len(form.steps) > 1:
            told = tuple(map(_told, form.steps))
            name = form.key.partition(":")[0].rstrip("+")
            first[told[0]].append((told, tuple(step.at for step in form.steps), name))
    return first


def _told(step: Step | Action) -> Told:
    return step.foot, step.verb, step.dir, step.turn_deg


def _danced(dance: Dance) -> Iterable[str]:
    """The steps that the feet do, whatever they are called on the sheet."""
    for actions in (dance.actions, *(tag.actions for tag in dance.tags), *(end.actions for end in dance.endings)):
        feet = [action for action in actions if action.foot is not None]
        yield from {action.verb for action in feet} - {"step", "arms"}
        yield from {arm.gesture for action in actions for arm in action.arms}
        yield from _patterns_of(feet)


def _patterns_of(feet: list[Action]) -> Iterable[str]:
    told = [_told(action) for action in feet]
    for k, first in enumerate(told):
        for steps, moments, name in _forms().get(first, ()):
            if tuple(told[k : k + len(steps)]) == steps and _in_time(feet[k:], moments):
                yield name


def _in_time(feet: list[Action], moments: tuple[Fraction, ...]) -> bool:
    start = feet[0].at.at
    return all(action.at.at - start == moment for action, moment in zip(feet, moments, strict=False))
