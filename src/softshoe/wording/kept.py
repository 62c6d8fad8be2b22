"""What words said is kept for the next time they are read: the same words in another place say the same.

Sheets share much of their wording, and a sheet being written is read again at every word. What is kept is put where the
words stand now; nothing that was given out is given out twice.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from itertools import count
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lex import further
from softshoe.wording.parts import Atom, Slot, Want
from softshoe.wording.phrases import NOTHING, Context, Left
from softshoe.wording.said import Said, said_by

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence

    from softshoe.wording.drafts import Draft
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Hand, Item, Repeat

LONGEST = 80  # words of an item that is kept
_numbers = count(1)


class Behind(NamedTuple):
    """What the next words may lean on; put in place only where they stand on the same line and ask."""

    context: Context = NOTHING
    move: Move | None = None
    left: Left | None = None

    def here(self) -> Context:
        """Return it in its place."""
        return self.context if self.move is None else self.move.context(self.context, self.left)


LEAVES_NOTHING = Behind()


def read_words(item: Item, context: Context) -> tuple[Said, Behind]:
    """Return what an item's words say where they stand, behind ``context`` on their line, and what they leave."""
    tokens = item.tokens
    leans = context.feet is not None or context.hand is not None
    if not tokens or len(tokens) > LONGEST or (leans and context.left is None):
        said = said_by(item, context)
        return said, Behind(said.context)
    start, line = tokens[0].start, tokens[0].line
    kept = _kept(_Words(_key(item, context, start, line), item, context))
    move = Move(start - kept.start, line - kept.line)
    return move.said(kept.said), Behind(kept.said.context, move, Left(kept.number, start, line))


def _key(item: Item, context: Context, start: int, line: int) -> Hashable:
    """Return all that what is said depends on, the same wherever the words stand."""
    words = [(t.kind, t.value, t.dir, t.text, t.start - start, t.line - line, t.glued, t.meant) for t in item.tokens]
    label = (len(item.label.places), len(item.label.wholes)) if item.label is not None else None
    across = context.across and context.across[:4]
    before: Hashable = (context.last, context.patted, context.alone, across)
    if context.left is not None and (context.feet is not None or context.hand is not None):
        left = context.left
        before = (left.number, left.stopped, left.start - start, left.line - line)
    return (tuple(words), label, item.limb, before)


class _Words:
    """An item's words, alike where their key is."""

    def __init__(self, key: Hashable, item: Item, context: Context) -> None:
        self.key, self.item, self.context = key, item, context
        self.hash = hash(key)

    def __hash__(self) -> int:
        return self.hash

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Words) and self.key == other.key


class _Kept(NamedTuple):
    """What was said, where its words began, and a number of its own."""

    said: Said
    start: int
    line: int
    number: int


@lru_cache(maxsize=MOST_KEPT)
def _kept(words: _Words) -> _Kept:
    first = words.item.tokens[0]
    return _Kept(said_by(words.item, words.context), first.start, first.line, next(_numbers))


class Move(NamedTuple):
    """So many characters and lines further on."""

    by: int
    lines: int

    def context(self, context: Context, left: Left | None) -> Context:
        """Return a copy of what the next words may lean on, moved."""
        feet = context.feet and self.draft(context.feet)
        return context._replace(feet=feet, hand=context.hand and self.hand(context.hand), left=left)

    def said(self, said: Said) -> Said:
        """Return a copy of what was said, moved; what it leaves behind is moved when it is asked for."""
        return Said(
            self.tokens(said.tokens), [self.tokens(t) for t in said.talk], self.tokens(said.asides),
            self.tokens(said.strange), self.tokens(said.unknown), said.leading and said.leading.moved(*self),
            [self.atom(a) for a in said.atoms], said.repeat and self.repeat(said.repeat), said.context,
        )  # fmt: skip

    def tokens(self, tokens: Sequence[Token]) -> list[Token]:
        """Return words moved."""
        return further(tokens, self.by, self.lines) if self.by or self.lines else list(tokens)

    def span(self, span: tuple[int, int]) -> tuple[int, int]:
        """Return a stretch of characters moved."""
        return span[0] + self.by, span[1] + self.by

    def facings(self, facings: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
        """Return facings with their lines moved."""
        return [(deg, line + self.lines) for deg, line in facings]

    def want(self, want: Want) -> Want:
        """Return a foot's part moved."""
        under = want.under_left and self.want(want.under_left)
        place = (want.line + self.lines, self.span(want.span))
        return tuple.__new__(Want, (*want[:8], *place, want.lead, under, *want[12:]))

    def hand(self, hand: Hand) -> Hand:
        """Return a hand's part moved."""
        return hand._replace(line=hand.line + self.lines, span=self.span(hand.span))

    def slot(self, slot: Slot) -> Slot:
        """Return what happens at one moment, moved."""
        return Slot(tuple(map(self.want, slot.wants)), tuple(map(self.hand, slot.hands)), slot.after)

    def slots(self, slots: tuple[Slot, ...]) -> tuple[Slot, ...]:
        """Return a row of moments, moved."""
        return tuple(map(self.slot, slots)) if self.by or self.lines else slots

    def atom(self, atom: Atom) -> Atom:
        """Return a copy of a phrase, moved."""
        return Atom(
            [self.slots(choice) for choice in atom.choices], atom.join, self.span(atom.span), atom.line + self.lines,
            atom.lasts, atom.counts, atom.length, atom.at, self.facings(atom.facings), atom.arms_only, atom.each,
            atom.name, atom.heading, atom.template, self.slots(atom.told), atom.amps, atom.times, atom.walks,
            atom.miscounted, atom.whole, atom.on_verb, atom.same_arms, atom.posture, atom.late,
            atom.apiece, atom.many,
        )  # fmt: skip

    def repeat(self, repeat: Repeat) -> Repeat:
        """Return a copy of what is asked to be copied, moved."""
        change = repeat.change
        if change is not None and change.slot is not None:
            change = replace(change, slot=self.slot(change.slot))
        return replace(
            repeat, span=self.span(repeat.span), line=repeat.line + self.lines, facings=self.facings(repeat.facings),
            change=change,
        )  # fmt: skip

    def draft(self, draft: Draft) -> Draft:
        """Return a copy of a clause, moved."""
        return replace(
            draft, tokens=self.tokens(draft.tokens), unknown=self.tokens(draft.unknown), feet=list(draft.feet),
            dirs=list(draft.dirs), refs=list(draft.refs), hands=list(draft.hands),
            facing_at=draft.facing_at + self.lines,
        )  # fmt: skip
