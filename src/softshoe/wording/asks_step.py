"""Words for one count told as codes: by rules, and where these find anything amiss, by the retelling network."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lex import tokens_of
from softshoe.wording.retell_ask import KEPT
from softshoe.wording.retell_codes import codes_of
from softshoe.wording.retell_weigh import events_between
from softshoe.wording.retold import by_rules_alone, net
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.asks_rows import Step

    Codes = tuple[str, ...]

LEAST_SURE = 0.6
LONGEST = 14  # words
OF_A_STEP = frozenset(("verb", "pattern", "gest", "dual", "draw", "footpart"))
OF_A_MOVE = OF_A_STEP | {"hand", "foot", "dir", "hold", "turn", "place", "amount"}
ONE_MOVE = frozenset(("verb", "gest", "dual"))
TURNS = shape(r"\b(?:turn\w*|quarter|half|pivot\w*|1/[24])\b", re.IGNORECASE)
# The section that is asked for tells which foot is free and which way it goes.
TOLD_ABOVE = frozenset(("weight", "free-foot", "side", "foot-missing", "direction-missing"))
FIRST = Fraction(1)
SHEET = "Step\n8 counts, 1 wall, beginner{}\n\nSection 1\n1 {}\n2-8 hold\n"


@cache
def stepper(seated: bool) -> Step:
    """Return what tells words for one count as codes; None where they are not understood."""
    return lambda words: _step(words.strip(), seated)


@lru_cache(maxsize=MOST_KEPT)
def _step(words: str, seated: bool) -> Codes | None:
    if not words or len(words.split()) > LONGEST:
        return None
    codes = _by_rules(words, seated) or _by_net(words, seated)
    return codes if codes and _is_all(words, codes) else None


def _is_all(words: str, codes: Codes) -> bool:
    """Return whether codes have as many moves as words name, and turn where they do."""
    moves = sum(token.kind in ONE_MOVE for token in tokens_of(words, line=0))
    told = sum(":" not in code and code != "arms" for code in codes[1:]) + sum(c.startswith("hand:") for c in codes)
    return moves <= told and (not TURNS.search(words) or any(code.startswith("turn:") for code in codes))


def _by_rules(words: str, seated: bool) -> Codes | None:
    from softshoe.wording.read_once import by_rules  # it reads by what asks for this

    if not any(token.kind in OF_A_STEP for token in tokens_of(words, line=0)):
        return None
    with by_rules_alone():
        found = by_rules(SHEET.format(", seated" if seated else "", words))
    if found is None or found.dance.kept:
        return None
    amiss = [f for f in found.dance.findings if f.severity != "note" and f.kind not in TOLD_ABOVE]
    codes = codes_of(events_between(found.dance, FIRST, FIRST + 1))[:-1]
    return tuple(codes) if codes and not amiss else None


def _by_net(words: str, seated: bool) -> Codes | None:
    if not any(token.kind in OF_A_MOVE for token in tokens_of(words, line=0)):
        return None
    told = KEPT.told(net(), [(seated, f"{words} (1)")], [[]])[0]
    end = next((k for k, code in enumerate(told.codes) if code in ("c2", "end")), 0)
    if not end or told.codes[0] != "c1" or min(told.likely[:end]) < LEAST_SURE:
        return None
    return tuple(told.codes[:end])
