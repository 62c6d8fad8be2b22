"""A clause read word by word into a draft: which foot, verb, place, turn, hand, weight the words name.

One draft is one doing word (or one left out). The scanner has one small method for each kind of word of the table; what
a word means beside the others is settled later (phrases.py), what footwork makes of it later still (resolve.py).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.lex import Token


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
    turn_on: int = -1  # which of a pattern's steps turns, from 1; 0 is the last
    turned_first: bool = False  # it turns and then goes on: "quarter right, side shuffle"
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
    on: str = ""  # the hands move on every step home, or out
    upon: str = ""  # the steps it is done on: "@R", "@L", "@home" ("clap on every right")
    alternate: bool = False
    whole: bool = False  # it goes on through the whole section
    mirror: bool = False
    round: int = 0  # degrees that its steps turn together, "in a full circle"
    listed: bool = False  # a pattern whose own feet were told in a row
    repeat: str = ""
    quiet: bool = False
    heading: bool = False  # a colon stands behind it
    grouped: bool = False  # it stands in brackets
    drawn: bool = False  # the foot is drawn there before it touches
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
        taps = self.doing == "verb" and self.value == "touch"  # "tap your thighs"
        feet = self.feet and not (self.feet == ["both"] and any(t.kind == "side" for t in self.tokens))  # "lower both"
        return bool(self.place) and not (feet or self.part) and (taps or self.doing in ("", "dual"))

    @property
    def sides_alone(self) -> bool:
        """Whether it says nothing but a side, and perhaps how high."""
        return not (self.doing or self.dirs or self.hands or self.part or self.amount)

    def tokens_say(self, *starts: str) -> bool:
        """Return whether a word begins with one of these."""
        return any(t.low.startswith(starts) for t in self.tokens)

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
