"""Words of a section cut into pieces that the retelling network knows: words, parts of rarer ones, digits, marks."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

PIECE = shape(r"[^\W\d_]+(?:['’][^\W\d_]+)*|\d|\n|[^\w\s]|_")
SAME = {"’": "'", "‘": "'", "“": '"', "”": '"', "„": '"', "–": "-", "—": "-", "‑": "-", "×": "x", "•": "*", "·": "*",
        "‣": "*", "▪": "*", "…": ".", "➜": "→", "⇒": "→", "＋": "+", "＆": "&",
        "─": "-", "━": "-", "═": "=", "│": "|", "┃": "|"}  # fmt: skip
ALMOST = {"→": "-"}  # for networks that don't know the one
INSIDE = "##"  # before what goes on a word or a number
UNKNOWN = "<?>"
SHEET = "<sheet>"  # before a whole sheet
Pair = tuple[str, str]


class Piece(NamedTuple):
    """A piece and the characters it stands for."""

    text: str
    start: int
    end: int


def words_of(text: str) -> list[Piece]:
    """Return the words, digits, marks and ends of lines of a text, in small letters, each with its place.

    >>> [w.text for w in words_of("R heel (12)")]
    ['r', 'heel', '(', '1', '##2', ')']
    """
    out: list[Piece] = []
    for found in PIECE.finditer(text):
        start, end = found.span()
        word = unicodedata.normalize("NFC", found[0]).casefold()
        word = SAME.get(word, word)
        joins = out and out[-1].end == start and word.isdigit() and out[-1].text[-1].isdigit()
        out.append(Piece(INSIDE + word if joins else word, start, end))
    return out


def split(word: str, ranks: Mapping[Pair, int], keep: Callable[[], bool] | None = None) -> tuple[str, ...]:
    """Return the parts of a word: letters joined in the order of ``ranks``; ``keep`` says whether a joint is made."""
    parts = [word[0], *(INSIDE + letter for letter in word[1:])]
    while len(parts) > 1:
        ways = [(ranks[pair], k) for k, pair in enumerate(pairwise(parts)) if pair in ranks]
        ways = [way for way in ways if keep is None or keep()]
        if not ways:
            break
        _, k = min(ways)
        parts[k : k + 2] = [parts[k] + parts[k + 1].removeprefix(INSIDE)]
    return tuple(parts)


class Cutter:
    """Cuts texts with the table of joints that was learnt with the network."""

    def __init__(self, joints: list[Pair], known: list[str]) -> None:
        self.ranks = {pair: rank for rank, pair in enumerate(joints)}
        self.number = {piece: k for k, piece in enumerate(known)}
        self._split = lru_cache(maxsize=20_000)(lambda word: split(word, self.ranks))

    def parts(self, word: str) -> tuple[str, ...]:
        """Return the parts of one word of ``words_of``."""
        return (word,) if len(word) < 2 or word.startswith(INSIDE) else self._split(word)

    def cut(self, text: str) -> list[Piece]:
        """Return the pieces of a text with their places; parts of a word share its place."""
        return [Piece(part, w.start, w.end) for w in words_of(text) for part in self.parts(w.text)]

    def numbers(self, pieces: list[Piece]) -> list[int]:
        """Return the number of each piece; what is not known is UNKNOWN."""
        return [self.number_of(piece.text) for piece in pieces]

    def number_of(self, part: str) -> int:
        """Return the number of one piece."""
        return self.number.get(part, self.number.get(ALMOST.get(part, ""), self.number[UNKNOWN]))
