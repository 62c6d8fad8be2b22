"""What a line wants, before footwork has settled it: feet, hands, what they share a count with, and choices left open.

Directions are words of the dance events or relative ones: "side" (the foot's own), "out", "in", "diag", "forward diag",
"back diag", "down". Feet are "L", "R", "both", "same" (the one just moved), "other", or None (footwork decides).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.lex import further

if TYPE_CHECKING:
    from softshoe.wording.changes import Change
    from softshoe.wording.counting import Label
    from softshoe.wording.lex import Token


class Want(NamedTuple):
    """One foot's part. ``turn_deg`` is unsigned where ``spin`` (1 right, -1 left) is unknown (0)."""

    foot: str | None = None
    verb: str | None = None
    dir: str = ""
    turn_deg: int = 0
    spin: int = 0
    weight: str = ""  # "L", "R", "both", "no", "take"
    ref: str = ""  # the foot named as the place to go to
    alternate: bool = False
    line: int = 0
    span: tuple[int, int] = (0, 0)
    lead: bool = False  # the first step of a pattern
    under_left: Want | None = None  # the same when a left foot leads; None where the leading foot is known
    square: int = -1  # the facing its turn leads to, where only that is said
    goes_on: bool = False  # walking and marching go on, foot after foot, over their counts
    opens: bool = False  # first of a stretch that names no foot at all
    inferred: str = ""  # what the words left out and the reader filled in
    returns: str = ""  # the foot that the weight comes back onto, where the other has just rocked


class Hand(NamedTuple):
    """One hand's part, or both alike; ``side`` "" is both unless something else settles it."""

    side: str
    gesture: str
    place: str = ""
    toward: str = ""
    line: int = 0
    span: tuple[int, int] = (0, 0)
    again: bool = False  # "stir the pot again": where it was done before


class Slot(NamedTuple):
    """What happens at one moment; ``after`` is how many counts after the atom begins, by the atom's own rhythm."""

    wants: tuple[Want, ...] = ()
    hands: tuple[Hand, ...] = ()
    after: Fraction = Fraction(0)

    def with_hands(self, hands: tuple[Hand, ...]) -> Slot:
        """The same with more for the hands."""
        return Slot(self.wants, (*self.hands, *hands), self.after)


@dataclass(slots=True)
class Atom:
    """One phrase of a line. ``choices`` are ways to read it, the likeliest first; each is a row of slots.

    ``join``: how it hangs on the one before: "seq" (comma), "and", "with" (at the same moment), "amp" ("&").
    ``lasts``: its last slot goes on while counts are left. ``lasting`` every slot of it does. ``counts``: as said.
    """

    choices: list[tuple[Slot, ...]]
    join: str
    span: tuple[int, int]
    line: int
    lasts: bool = False
    counts: int | None = None
    length: Fraction | None = None
    at: tuple[Fraction, ...] = ()
    facings: list[tuple[int, int]] = field(default_factory=list)
    arms_only: bool = False
    each: bool = False
    name: str = ""
    heading: bool = False
    template: bool = False  # it only says how; the feet told behind it say when ("walk forward, right, left")
    told: tuple[Slot, ...] = ()
    amps: int = 0
    times: int = 1
    walks: bool = False
    miscounted: tuple[int, int] | None = None  # the feet listed behind a pattern, and the steps it has
    whole: bool = False
    on_verb: str = ""  # the hands move on every one of these ("clap with each heel")
    same_arms: bool = False  # "… with the same arms": those of the counts before
    posture: bool = False  # the hands only take a place: "hands on the hips", "hands resting on the knees"
    late: int = 0  # how many counts behind those of ``on_verb``
    apiece: int = 0  # how many counts each moment of its line lasts, where that is said
    many: bool = False  # its word says more than one: "claps", "heel taps"

    @property
    def holds(self) -> bool:
        """True where nothing moves."""
        return all(w.verb == "hold" for s in self.choices[0] for w in s.wants) and not self.arms_only


@dataclass(slots=True)
class Repeat:
    """ "Repeat 1-4", "same to the left", "mirror of section 1": what is copied, how often, mirrored or not, changed
    where.
    """

    span: tuple[int, int]
    line: int
    mirror: bool = False
    sections: tuple[int, ...] = ()
    counts: tuple[Fraction, Fraction] | None = None
    last: int | None = None
    times: int = 1
    lead: str = ""
    whole_section: bool = False
    at: tuple[Fraction, ...] = ()
    facings: list[tuple[int, int]] = field(default_factory=list)
    place: str = ""  # where the hands go this time ("the same on the knees")
    change: Change | None = None  # what the copy has otherwise
    lowers: bool = False  # "bring them down the same way": what was raised comes down


class Given(NamedTuple):
    """What an item is known to lay on its first count, before its words are read; nothing: it is a rest."""

    wants: tuple[Want, ...] = ()
    hands: tuple[Hand, ...] = ()

    def atom(self, line: int, span: tuple[int, int]) -> Atom:
        """Return it as the phrase that its words would have been."""
        wants = self.wants if self.wants or self.hands else (Want(verb="hold", line=line, span=span),)
        return Atom([(Slot(wants, self.hands),)], "seq", span, line, arms_only=not wants)


@dataclass(slots=True)
class Item:
    """A label and what stands under it, in reading order; ``limb`` is "arms" on a line for the arms alone."""

    label: Label | None
    tokens: list[Token]
    line: int
    limb: str = ""
    stopped: bool = False  # a full stop or ";" stands before it
    atoms: list[Atom] = field(default_factory=list)
    repeat: Repeat | None = None
    unknown: list[Token] = field(default_factory=list)
    asides: list[Token] = field(default_factory=list)  # an option, a hint: no part of the dance
    heads: list[Token] = field(default_factory=list)  # words that say whose it is, or number or sum up the line
    remark: bool = False  # a sentence of its own before the first count of its line
    talk: list[list[Token]] = field(default_factory=list)  # sentences in it that hold no step
    strange: list[Token] = field(default_factory=list)  # strange words where a clause should have its doing word
    given: Given | None = None
    leading: Token | None = None  # a strange word where the doing word should stand

    def moved(self, by: int, lines: int) -> Item:
        """Return an item just cut from its line, so many characters and lines further on."""
        tokens = further(self.tokens, by, lines)
        heads = further(self.heads, by, lines) if self.heads else []
        label = self.label and self.label.moved(by, lines)
        return Item(label, tokens, self.line + lines, self.limb, self.stopped, heads=heads, remark=self.remark)
