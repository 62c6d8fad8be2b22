"""Sections danced are kept: the same words, danced from the same stance, are the same dance wherever they stand.

A section is danced on a stage of its own, on which nothing stands but how the dancer stands. What it asked for of that
is noted (``stance.py``) and kept beside what came of it; a section that looked back to what was danced before it
("repeat section 1") is not kept. What is kept is frozen, and put where the section stands now.
"""

from __future__ import annotations

from collections import OrderedDict
from fractions import Fraction
from functools import lru_cache
from itertools import count
from threading import Lock
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.account import paints_of
from softshoe.wording.counting import HIGHEST
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lengths import is_uncounted, length_of
from softshoe.wording.perform import Player
from softshoe.wording.resolve import Dancer
from softshoe.wording.section_danced import Danced, Place
from softshoe.wording.stage import Stage

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable

    from softshoe.dance.action import Span
    from softshoe.wording.blocks import Block
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Item

MOST_SECTIONS = 6144  # danced and kept; the least lately asked go first
LONGEST_SECTION = 48  # items
MOST_STANCES = 12  # from which one section is kept
_numbers = count(1)


class Filled(NamedTuple):
    """How many counts a section has come to, and the line and the words danced last."""

    counts: int
    line: int | None
    last: Span | None


def dance_section(stage: Stage, block: Block, *, start: int, base: int) -> Filled:
    """Dance a section on the stage, behind ``start`` counts; ``base`` is taken from its own counts."""
    place = _place(stage, block, start)
    if place is None:
        player = Player(stage, block, start=start, base=base)
        filled = player.play()
        stage.paints += paints_of(stage.done)
        stage.done = []
        stage.reach = _reach(stage)
        return Filled(filled, player.line, player.last)
    key = _key(stage, block, place, base)
    found = SECTIONS.get(key, stage, place)
    if found is None:
        found, anywhere = _danced(stage, block, place, base)
        if anywhere:
            SECTIONS.put(key, found)
    found = found.at(place)
    _put(stage, found)
    return Filled(found.filled, found.line, found.last)


def _place(stage: Stage, block: Block, start: int) -> Place | None:
    """Return where a section stands that can be danced alone; None where it lies over what was danced before it."""
    first, line = block.items[0], min(item.line for item in block.items)
    long = len(block.items) > LONGEST_SECTION
    if long or start > HIGHEST or stage.reach > start or any(told >= line for told, _ in stage.unknown):
        return None
    return Place(start, line, _begin(first))


def _begin(item: Item) -> int:
    """The character from which an item's own are counted."""
    if item.tokens:
        return item.tokens[0].start
    return item.label.start if item.label is not None else 0


def _key(stage: Stage, block: Block, place: Place, base: int) -> Hashable:
    """Return the section's words, as the player is given them, wherever they stand."""
    items = []
    for item in block.items:
        begin = _begin(item)
        items.append((_numbered(_words(item, begin)), begin - place.char, item.line - place.line))
    length = length_of(block) if is_uncounted(block.items) else None
    return (tuple(items), base, block.heading and block.heading.counts, length, stage.unit, stage.dancer.seated)


def _words(item: Item, begin: int) -> Hashable:
    """Return all that an item is made of, its places counted from its own first."""
    line, label = item.line, item.label
    told: Hashable = None
    if label is not None:
        at = tuple([at.as_integer_ratio() for at in label.places])
        told = (at, label.ranged, label.start - begin, label.end - begin, label.line - line, *label[5:])
    heads = _told(item.heads, begin, line) if item.heads else ()
    return _told(item.tokens, begin, line), told, heads, item.limb, item.stopped, item.remark, _given(item, begin, line)


def _given(item: Item, begin: int, line: int) -> Hashable:
    """Return what an item is known to lay down, its places counted from its own first."""
    if item.given is None:
        return None
    feet = [(w[:8], w.line - line, w.span[0] - begin, w.span[1] - begin) for w in item.given.wants]
    hands = [(h[:4], h.line - line, h.span[0] - begin, h.span[1] - begin) for h in item.given.hands]
    return tuple(feet), tuple(hands)


def _told(tokens: Iterable[Token], begin: int, line: int) -> Hashable:
    return tuple([(*t[:4], t[4] - begin, t[5] - begin, t[6] - line, *t[7:]) for t in tokens])


@lru_cache(maxsize=MOST_KEPT)
def _numbered(words: Hashable) -> int:
    """Return a number for an item's words: what is long is compared once, and not in every section's key."""
    del words
    return next(_numbers)


def _asked(stage: Stage, name: str, place: Place) -> Hashable:
    """Return what a section would find under a name."""
    if name == "turned_deg":
        return stage.dancer.turns_deg % 360, stage.facing_off
    if name == "length":
        return None if stage.stated is None else stage.stated - place.start
    return stage.dancer.told(name, place.line)


def _alone(stage: Stage, place: Place) -> Stage:
    """Return an empty stage for a section, with a dancer that stands as the stage's, and knows no more."""
    was = stage.dancer
    dancer = Dancer(was.weight, was.seated)
    dancer.stands.update(was.stands)
    dancer.turns_deg = was.turns_deg % 360
    alone = Stage(dancer, unit=stage.unit, stated=stage.stated, before=stage, begins=place.start)
    alone.facing_off, alone.facing_known = stage.facing_off, stage.facing_known
    return alone


def _danced(stage: Stage, block: Block, place: Place, base: int) -> tuple[Danced, bool]:
    """Dance a section alone; return what came of it, and whether it would be the same wherever it stood."""
    alone = _alone(stage, place)
    dancer, turned = alone.dancer, alone.dancer.turns_deg
    player = Player(alone, block, start=place.start, base=base)
    filled = player.play()
    found = Danced(
        place,
        tuple((name, _asked(stage, name, place)) for name in sorted(dancer.asked)),
        filled, player.line, player.last,
        tuple(alone.actions),
        tuple((at, tuple(moves)) for at, moves in alone.hands.items()),
        tuple(alone.hand_at.items()),
        tuple(dancer.findings),
        tuple(dancer.inferred),
        tuple((deg, line, at, then - turned) for deg, line, at, then in alone.faced),
        tuple(alone.unknown), tuple(alone.unread), tuple(alone.kept),
        tuple(paints_of(alone.done)),
        tuple((name, dancer.stands[name]) for name in sorted(dancer.own)),
        dancer.turns_deg - turned,
        alone.facing_off if "turned_deg" in dancer.asked else None,
        _reach(alone),
    )  # fmt: skip
    return found, not alone.looked_back and place.start + filled <= HIGHEST


def _reach(stage: Stage) -> Fraction:
    """Return the latest moment on which anything is danced."""
    return max((*(a.at.at for a in stage.actions), *stage.hands), key=float, default=Fraction(0))


def _put(stage: Stage, one: Danced) -> None:
    """Put a section behind what stands on the stage, and let the dancer stand as it leaves her."""
    dancer = stage.dancer
    stage.actions += one.actions
    for at, moves in one.hands:
        stage.hands.setdefault(at, []).extend(moves)
    for at, there in one.hand_at:
        stage.hand_at.setdefault(at, there)
    dancer.findings += one.findings
    dancer.inferred += one.inferred
    stage.faced += [(deg, line, at, dancer.turns_deg + turned) for deg, line, at, turned in one.faced]
    stage.unknown += one.unknown
    stage.unread += one.unread
    stage.kept += one.kept
    stage.paints += one.paints
    stage.reach = max(stage.reach, one.reach)
    dancer.stands.update(one.stands)
    dancer.turns_deg += one.turned_deg
    if one.facing_off is not None:
        stage.facing_off = one.facing_off


class Sections:
    """Sections danced, by their words, each with the stances from which it was; it may be asked from any thread."""

    def __init__(self, most: int) -> None:
        self.most, self.number = most, 0
        self.rows: OrderedDict[Hashable, list[Danced]] = OrderedDict()
        self.lock = Lock()

    def get(self, key: Hashable, stage: Stage, place: Place) -> Danced | None:
        """Return a section that was danced from a stance which is the same in all that it asked for; else None."""
        with self.lock:
            rows = self.rows.get(key)
            if rows is None:
                return None
            self.rows.move_to_end(key)
            rows = [*rows]
        fits = (one for one in rows if all(_asked(stage, name, place) == told for name, told in one.asked))
        found = next(fits, None)
        over = found is not None and place.start + found.filled > HIGHEST
        return None if over else found

    def put(self, key: Hashable, one: Danced) -> None:
        """Keep a section; where there are too many, those least lately asked for go."""
        with self.lock:
            rows = self.rows.setdefault(key, [])
            rows.insert(0, one)
            self.number += 1
            if len(rows) > MOST_STANCES:
                rows.pop()
                self.number -= 1
            while self.number > self.most:
                self.number -= len(self.rows.popitem(last=False)[1])

    def clear(self) -> None:
        """Forget all."""
        with self.lock:
            self.rows.clear()
            self.number = 0


SECTIONS = Sections(MOST_SECTIONS)
