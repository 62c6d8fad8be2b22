"""Codes: the events of one section as a row of words from a short list, as the retelling network tells them.

Each event is its count (``c1`` … and ``&``, ``e``, ``a`` behind it), ``foot:``, the action, ``dir:``, ``turn:``, and
for each hand ``arm:`` (its side), ``hand:`` (its gesture), ``at:`` and ``to:``; what there is none of is left out.
``end`` ends a row; ``fault`` alone is a section that its author has to mend. In the codes of a whole sheet ``section``
begins each section; one that is danced as an earlier one is ``as:`` its number and what is other in it (whole_copies).
Behind the sections stands what walls leave out or add: ``tag``, ``restart`` or ``ending``, ``after:`` the count
(``all``: behind the last), a ``wall:`` each, what comes ``then:``, how ``many:`` counts, and their events.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    Json = Mapping[str, Any]

PARTS = {Fraction(0): "", Fraction(1, 4): "e", Fraction(1, 2): "&", Fraction(3, 4): "a"}
PART = {sign: part for part, sign in PARTS.items()}
MOST_COUNTS = 16
OF_A_HAND = {"hand": "gesture", "at": "place", "to": "toward"}
COUNT = shape(r"c\d+")
OTHER = {"L": "R", "R": "L", "left": "right", "right": "left"}
SECTION = "section"
AS, HALF = "as:", "half:"
COPIED = MIRROR, FEET, HANDS, BUT, PLUS = "mirror", "feet", "hands", "but", "plus"
ENDS = TAG, RESTART, ENDING = "tag", "restart", "ending"
AFTER, WALL, THEN, MANY = "after:", "wall:", "then:", "many:"
ALL = "all"
OF_A_SHEET = frozenset((SECTION, *COPIED, *ENDS))


def codes_of(events: Iterable[Json]) -> list[str]:
    """Return the codes of events (``t`` from the first count of the section); none where one of them has none."""
    out: list[str] = []
    for event in events:
        at = Fraction(event["t"])
        whole = at.__floor__()
        part = PARTS.get(at - whole)
        if part is None or not 0 <= whole < MOST_COUNTS:
            return []
        out += [f"c{whole + 1}", *([part] if part else []), *([f"foot:{event['foot']}"] if event["foot"] else [])]
        out += [event["action"], *([f"dir:{event['dir']}"] if event["dir"] else [])]
        out += [f"turn:{event['turn']}"] if event["turn"] else []
        for arm in event["arms"]:
            out += [f"arm:{arm['side']}", f"hand:{arm['gesture']}"]
            out += [f"{sign}:{arm[key]}" for sign, key in (("at", "place"), ("to", "toward")) if arm[key]]
    return [*out, "end"] if out else []


def other_side(codes: Iterable[str]) -> list[str]:
    """Return codes with left and right exchanged.

    >>> other_side(["c1", "foot:R", "step", "dir:across front", "turn:90", "c2", "arm:R", "hand:reach"])[1:5]
    ['foot:L', 'step', 'dir:across front', 'turn:-90']
    """
    return list(map(mirrored, codes))


def mirrored(code: str) -> str:
    """Return one code with left and right exchanged."""
    sign, _, word = code.partition(":")
    if not word:
        return code
    return f"turn:{-int(word)}" if sign == "turn" else f"{sign}:{' '.join(OTHER.get(w, w) for w in word.split())}"


def _is_of_a_sheet(code: str) -> bool:
    return code in OF_A_SHEET or code.startswith((AS, HALF, AFTER, WALL, THEN, MANY))


def events_of(codes: Sequence[str]) -> list[dict[str, Any]] | None:
    """Return the events of codes, or None where the codes are no such row.

    >>> events_of(["c1", "foot:R", "heel", "dir:forward", "c2", "hold", "end"])[1]["t"]
    '1'
    """
    if not codes or codes[-1] != "end" or not codes[0].startswith("c") or any(map(_is_of_a_sheet, codes)):
        return None
    out: list[dict[str, Any]] = []
    for code in codes[:-1]:
        sign, _, word = code.partition(":")
        if not word and COUNT.fullmatch(code):
            out.append({"t": Fraction(code[1:]) - 1, "foot": None, "action": "", "dir": None, "turn": 0, "arms": []})
        elif not word and code in PART:
            out[-1]["t"] += PART[code]
        elif sign == "arm":
            out[-1]["arms"].append({"side": word, "gesture": "", "place": None, "toward": None})
        elif sign in OF_A_HAND:
            if not out[-1]["arms"]:
                return None
            out[-1]["arms"][-1][OF_A_HAND[sign]] = word
        elif sign in ("foot", "dir"):
            out[-1][sign] = word
        elif sign == "turn" and word:
            out[-1]["turn"] = int(word)
        else:
            out[-1]["action"] = code
    whole = all(e["action"] and all(arm["gesture"] for arm in e["arms"]) for e in out)
    return [{**e, "t": str(e["t"])} for e in out] if whole else None
