"""Exact dance time: a moment and a span are different types, both fractions of a count.

The dance begins on ``Count(1)``. "1&" is half a count later, "1a" three quarters, "1e" a quarter.
Dance events (the JSON) count from 0: ``Count(1)`` is written "0".
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

SIGNS = {"e": Fraction(1, 4), "&": Fraction(1, 2), "a": Fraction(3, 4)}


@dataclass(frozen=True, order=True, slots=True)
class Counts:
    """A length of dance time."""

    n: Fraction

    def __add__(self, other: Counts) -> Counts:
        return Counts(self.n + other.n)

    def __mul__(self, times: int) -> Counts:
        return Counts(self.n * times)


@dataclass(frozen=True, order=True, slots=True)
class Count:
    """A moment of dance time; the dance begins on ``Count(Fraction(1))``.

    >>> Count.at_moment("1/2").label
    '1&'
    >>> (Count(Fraction(9)) - Count(Fraction(1))).n
    Fraction(8, 1)
    """

    at: Fraction

    def __add__(self, span: Counts) -> Count:
        return Count(self.at + span.n)

    def __sub__(self, earlier: Count) -> Counts:
        return Counts(self.at - earlier.at)

    @classmethod
    def at_moment(cls, moment: str | int | Fraction) -> Count:
        """Return the count of a moment counted from 0, as dance events write it."""
        return cls(Fraction(moment) + 1)

    @property
    def moment(self) -> Fraction:
        """The moment counted from 0."""
        return self.at - 1

    @property
    def whole(self) -> int:
        """The whole count this moment belongs to: 1 for "1", "1&" and "1a"; 0 for the "&" before 1."""
        n, per = self.at.as_integer_ratio()
        return n // per

    @property
    def label(self) -> str:
        """The count as a leader writes it: "1", "1&", "1a"; any other part as a fraction."""
        part = self.at - self.whole
        sign = next((sign for sign, value in SIGNS.items() if value == part), "" if part == 0 else f" {part}")
        return f"{self.whole}{sign}"
