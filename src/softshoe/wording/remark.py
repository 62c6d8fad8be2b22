"""Sentences that only talk, told by their words: "Shoulders stay down.", "If your knee complains, make it smaller."

What such a sentence begins with or holds is a row of ``data/wording/remarks.csv``: ``begins`` and ``holds`` make a
clause talk, ``under`` leads what belongs to the clause before, ``whole`` and ``option`` make a sentence talk, whatever
it holds. A sentence of which one clause can be danced is no talk, nor is one in which a step may be misspelled.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.begins import first_count
from softshoe.wording.counting import is_mark
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape
from softshoe.wording.strange import is_filler, meant_by
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.wording.lex import Token

SENTENCE = shape(r"(?<=[.!?;…])[\"”')\]]*\s+|(?=[(\[])|(?<=[)\]])|\n")
LEAD = r"\W*(?:(?:and|but|so|then|now|just|please|also|always|do|try to|remember to|be sure to|oh|well)\b\W*)*"
BEFORE = {"begins": LEAD, "whole": LEAD, "page": LEAD, "holds": ".*?", "option": ".*?", "print": ".*?", "under": "",
"never": LEAD}  # fmt: skip
# A telephone number, a date, a mark of copyright, an address.
PRINTED = shape(
    r"\b\d{4,}\s\d{3,}|\b\d{1,2}[/.]\d{1,2}[/.]\d{2,4}\b|\b\d{1,2}(?:st|nd|rd|th)?\s+(?:jan|feb|mar|apr|may|june?|july?|aug|"
    r"sept?|oct|nov|dec)[a-z]*\.?,?\s+\d{4}\b|\b(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?\s+"
    r"(?:\d{1,2},?\s+)?(?:19|20)\d\d\b|©|\(c\)\s*\w|@\w|\bwww\b",
    re.IGNORECASE,
)
# "Each letter is four beats.", "a and b are four counts each", "Snaps are at shoulder height, both hands."
MEASURED = shape(
    r"\W*(?:(?:each|every|the|all)\s+)?\w+(?:\s+(?:and|or|&)\s+\w+)?\s+(?:is|are|has|have|lasts?)\s+"
    r"(?:(?:\d+|one|two|three|four|six|eight|twelve|sixteen)\s+(?:counts?|beats?)(?:\s+(?:each|long))?|"
    r"at\s+(?:shoulder|chest|waist)\s+(?:height|level)\b(?:,\s*both\s+hands)?)\W*",
    re.IGNORECASE,
)
SIGNED = shape(r"\W*(?:[A-Z][\w.'’-]*(?:,?\s+(?:and\s+|&\s+)?|$)){1,4},?\s*(?:19|20)\d\d\W*")  # "Pearl Dunmore 2023"
# What can be counted, copied or placed: never talk.
ASKING = frozenset(
    ("num", "clock", "wallname", "same", "repeat", "mirror", "times", "noweight", "takeweight", "bearing")
)
PLACED = shape(
    r"\b(?:restart\w*|tags?|bridge|ending|walls?\s*#?\d|w\d|from the (?:top|start|beginning)|start again|begin again|"
    r"this time|second time|last time|instead|twice|counts?|beats?)\b",
    re.IGNORECASE,
)
BEARING = frozenset(("weight", "bear"))
DOING = frozenset(("verb", "pattern", "gest", "dual", "draw", "again", "amount", "turnword", "spin"))
LIMB = frozenset(("footpart", "foot", "side", "hand", "thumb"))
WAY = frozenset(("dir", "place"))
# What a body does as a whole, or a foot without a step: "you go round", "it comes back".
GENERAL = frozenset(("go", "goes", "going", "come", "comes", "move", "moves", "take", "takes", "turn", "turns", "run",
"runs", "end", "ends", "finish", "start", "starts", "return", "returns", "change", "dance", "set", "put", "bring", "do",
"steps"))  # fmt: skip
CUTS = ",;:–—"
JOINTS = ("and", "but", "then", "so", "or", "and then")


@lru_cache(maxsize=1)
def _shapes() -> dict[str, re.Pattern[str]]:
    words: dict[str, list[str]] = {}
    for row in table("remarks.csv"):
        words.setdefault(row["kind"], []).append(re.escape(row["words"]))
    any_of = {kind: "|".join(sorted(of, key=len, reverse=True)) for kind, of in words.items()}
    return {kind: re.compile(rf"{BEFORE[kind]}(?<!\w)(?:{of})(?!\w)") for kind, of in any_of.items()}


@lru_cache(maxsize=MOST_KEPT)
def is_furniture(text: str) -> bool:
    """Return whether a line only dresses the page: its number, a date, who wrote it, who may copy it, who to ask; or
    only says how long its parts are, how high the hands go.

    >>> is_furniture("Page 1 of 2"), is_furniture("N. Ashbury, tel. 01632 960114"), is_furniture("Page right")
    (True, True, False)
    """
    if first_count(text) is not None:
        return False
    if SIGNED.fullmatch(text) or MEASURED.fullmatch(text):
        return True
    plain = text.casefold().replace("’", "'")
    shapes = _shapes()
    dressed = shapes["page"].match(plain) or shapes["print"].match(plain) or PRINTED.search(plain)
    if not dressed or PLACED.search(plain):
        return False
    tokens = tokens_of(text, line=0)
    steps = sum((t.kind in DOING and t.value != "hold") or t.kind in LIMB for t in tokens)
    danced = any(t.kind in DOING and t.value != "hold" for t in tokens) and any(t.kind in LIMB for t in tokens)
    return 3 * steps <= len(tokens) and not danced


@lru_cache(maxsize=MOST_KEPT)
def only_remarks(text: str) -> bool:
    """Return whether a line without counts holds nothing but talk.

    >>> only_remarks("Shoulders stay down. Small steps!"), only_remarks("Keep going"), only_remarks("Step right back.")
    (True, False, False)
    """
    said = sentences_in(text) if "|" not in text else []
    return bool(said) and all(talks(tokens_of(s, line=0), alone=True) for s in said)


def sentences_in(text: str) -> list[str]:
    """Return the sentences and brackets of a line that hold a word."""
    return [s for s in SENTENCE.split(text) if s and re.search(r"[^\W\d_]", s)]


def talk(sentence: str) -> bool:
    """Return whether a sentence only talks or dresses the page."""
    return talks(tokens_of(sentence, line=0)) or is_furniture(sentence)


def talks(tokens: Sequence[Token], *, alone: bool = False) -> bool:
    """Return whether a sentence or bracket only talks; ``alone`` on a line, its words must say so."""
    words = [t for t in tokens if t.kind != "mark"]
    text = " ".join(t.low for t in words).replace("’", "'")
    shapes = _shapes()
    if not text or PLACED.search(text):
        return False
    if shapes["whole"].match(text) or shapes["option"].match(text):
        return True
    if any(t.kind in ASKING for t in words):
        return False
    if any(t.kind in BEARING for t in words) and any(t.kind in LIMB and t.value in ("L", "R") for t in words):
        return False
    told = False
    for clause in _clauses(tokens):
        kind = _kind(clause, under=told and shapes["under"].match(clause[0].low) is not None)
        if kind == "danced":
            return False
        told = told or kind == "talk"
    return told or (not alone and _idle(words))


def _clauses(tokens: Sequence[Token]) -> Iterator[list[Token]]:
    clause: list[Token] = []
    under = _shapes()["under"]
    for token in tokens:
        if is_mark(token, CUTS) or token.low in JOINTS:
            if clause:
                yield clause
            clause = []
        elif token.kind != "mark":
            if clause and under.fullmatch(token.low):
                yield clause
                clause = []
            clause.append(token)
    if clause:
        yield clause


def _kind(clause: Sequence[Token], *, under: bool) -> str:
    """Return "talk", "danced" or "" for words that are neither."""
    text = " ".join(t.low for t in clause).replace("’", "'")
    shapes = _shapes()
    going = len(clause) > 1 and clause[0].low.startswith("keep") and clause[1].low.endswith("ing")
    going = going and (clause[1].kind != "word" or bool(meant_by(clause[1].low)))
    going = going or clause[0].kind == "again"  # "keep going", "once more"
    going = going or (not shapes["never"].match(text) and _moves_one(clause))
    if under or (not going and (shapes["begins"].match(text) or shapes["holds"].match(text))):
        return "talk"
    doing = going or any(t.kind in DOING for t in clause)
    moved = any(t.kind in LIMB for t in clause) and any(t.kind in WAY for t in clause)
    slip = any(t.kind == "word" and not is_filler(t.text) and meant_by(t.text) for t in clause)
    return "danced" if doing or moved or slip else ""


def _moves_one(clause: Sequence[Token]) -> bool:
    """ "Only the right foot kicks", "It is right, left": a side, alone or with something that it does."""
    sided = any(t.kind in LIMB and t.value[:1] in ("R", "L") for t in clause)
    named = any(t.kind == "pattern" for t in clause) and any(t.value in ("left", "right") for t in clause)
    doing = any(t.kind in DOING and t.value != "hold" and t.low not in GENERAL for t in clause)
    return named or (sided and (doing or all(t.kind in ("side", "fill", "prep") for t in clause)))


def may_be_danced(tokens: Sequence[Token]) -> bool:
    """Return whether a sentence that can't be read seems to hold a step, misspelled or of a strange name.

    >>> [may_be_danced(tokens_of(s, line=0)) for s in ("Rok back on the left.", "Wimble right.", "See you on Friday")]
    [True, True, False]
    """
    words = [t for t in tokens if t.kind not in ("mark", "fill", "prep", "join")]
    strange = [t for t in words if t.kind == "word" and not is_filler(t.text)]
    if not strange or not any(t.kind in LIMB for t in words) or talks(tokens):
        return False
    rest = all(t.kind in LIMB or t.kind in WAY for t in words[1:])
    return (words[0] is strange[0] and rest) or any(meant_by(t.text) for t in strange)


def _idle(words: Sequence[Token]) -> bool:
    """Return whether no word is of the trade: "Firm but friendly"."""
    return len(words) > 1 and not any(t.kind in DOING or t.kind in LIMB or t.kind in WAY for t in words)
