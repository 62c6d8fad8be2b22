"""Lines that copy: "again", "repeat 1-4", "same to the left", "mirror of section 1", "but …"."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import label_at
from softshoe.wording.numbers import in_digits, ordinals_in_digits, place_number
from softshoe.wording.parts import Repeat
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.drafts import Draft
    from softshoe.wording.lex import Token

NUMBER = r"\d+|[IVX]+|[A-H]"
SECTIONS = shape(
    rf"\b(?:(?i:section|sect|sec|part|set|block|bit|figure|verse|phrase|chunk|stage|eight|six)|S|8)s?\.?\s*#?\s*({NUMBER})\b(?:\s*(?:and|&|-|–|to|"
    rf"\+)\s*(?:section|part|S)?\s*({NUMBER})\b)?"
)
BARE = shape(
    r"\b(?:rpt|rep|repeat|same as|as|like|copy|mirror(?:\s+image)?(?:\s+of)?|reverse(?:\s+of)?|"
    r"opposite(?:\s+of)?)\s+(?:of\s+)?([IVX]+|[A-H])\b",
    re.I,
)
NTH = shape(
    r"\b(\d+)\s+(?:section|eight|8|six|6|set|part|half|bit|figure|verse|block|phrase|chunk|stage)\b", re.IGNORECASE
)
NTH_PARTED = shape(r"\b(\d+) (st|nd|rd|th)\b")
LAST = shape(
    r"\b(?:last|previous|preceding|those|these|same|above|the|all)\s+(\d+)\s*(?:counts?|cts?|steps|beats)?\b(?!\s*(?:times|x\b))",
    re.IGNORECASE,
)
PREVIOUS = shape(
    r"\b(?:last|previous|preceding|above)\s+(?:section|eight|part|line|set)\b|\b(?:section|part) above\b", re.IGNORECASE
)
FIRST = shape(r"\bfirst\s+(\d+)\s*(?:counts?|steps|beats)\b", re.IGNORECASE)
CHANGE = ("but", "ending", "finishing", "finish", "end", "except", "replacing", "only", "instead", "changing")
ADVERBS = ("again", "once more", "one more time", "once again", "a second time", "yet again")
MIRRORS = shape(
    r"\b(?:other|opposite|mirror\w*|revers\w+|opp)\b|\b(?:to|on|with|starting|leading|begin\w*)\s+(?:the\s+|"
    r"on\s+|with\s+|to\s+)*(left|right|l|r)\b|"
    r"\b(left|right|[LR])\b\s*(?:side|lead|foot)?",
    re.IGNORECASE,
)


def repeat_of(drafts: Sequence[Draft], tokens: Sequence[Token]) -> tuple[Repeat, list[Draft]] | None:
    """Return the repeat that a line asks for and the clauses that are not part of it; None when it asks for none."""
    asking = next((i for i, d in enumerate(drafts) if _asks(d, first=i == 0)), None)
    if asking is None:
        return None
    draft = drafts[asking]
    behind = list(drafts[asking + 1 :])
    used: list[Draft] = [draft]
    if asking and draft.repeat in ("same", "again") and all(map(_names_other, drafts[:asking])):
        used, drafts, asking = list(drafts[: asking + 1]), drafts[asking:], 0  # "other foot, the same"
    while behind and (_remarks(behind[0])):
        used.append(behind.pop(0))
    said = [t for d in used for t in d.tokens]
    span = [t for t in tokens if said[0].start <= t.start <= said[-1].start]
    text = ordinals_in_digits(NTH_PARTED.sub(r"\1\2", " ".join(t.text for t in span)))
    repeat = Repeat((span[0].start, span[-1].end), span[0].line)
    repeat.at = draft.at
    _refer(repeat, text, span)
    repeat.lowers = draft.repeat == "same" and draft.dirs == ["down"] and draft.hands in (["same"], ["both"])
    if draft.at and _as_on(draft):
        repeat.counts, repeat.at = (draft.at[0], draft.at[-1]), ()
    repeat.facings = [(d.facing, d.facing_at) for d in used if d.facing is not None]
    repeat.times = max((d.times for d in used), default=1)
    _mirror(repeat, used)
    knees = draft.part == "knee" and draft.feet in ([], ["both"]) and any(t.low.startswith("on") for t in draft.tokens)
    repeat.place = "knee" if knees else draft.place
    return repeat, [*drafts[:asking], *behind]


def _names_other(draft: Draft) -> bool:
    """Return whether a clause only says that the other foot or side is meant."""
    named = draft.doing or draft.dirs or draft.part or draft.hands or draft.amount or draft.at
    return (draft.feet == ["other"] or draft.mirror) and not named


def _as_on(draft: Draft) -> bool:
    """ "As on 1 and 2", "the same as on 5": the counts behind "as" are those to be copied."""
    return any(a.low.endswith(("as", "like")) and b.kind == "on" for a, b in pairwise(draft.tokens))


def _asks(draft: Draft, *, first: bool) -> bool:
    if draft.repeat in ("repeat", "same", "again"):
        own = (
            _once_again(draft)
            or draft.amount
            or (draft.doing in ("verb", "pattern", "gest", "dual") and draft.value != "step")
        )
        named = first and draft.repeat == "again" and draft.feet == ["both"] and not (draft.doing or draft.dirs)
        likewise = not draft.dirs and (draft.repeat == "same" or draft.tokens_say("likewise", "ditto"))
        return not own and (not draft.part or named or likewise)  # "the heels again", "the left heel does the same"
    return draft.mirror and first and not draft.doing


def _once_again(draft: Draft) -> bool:
    """ "Step right to the side again", "close them again", "home again": a movement of its own."""
    if draft.repeat != "again" or not any(t.kind == "again" and t.low in ADVERBS for t in draft.tokens):
        return False
    steps = draft.doing == "verb" and any(t.kind == "verb" and t.low.startswith("step") for t in draft.tokens)
    moved = draft.feet or draft.hands or draft.place or (steps and draft.dirs)
    return bool(
        (moved and (draft.dirs or draft.dir or draft.place)) or draft.dir or set(draft.dirs) - {"left", "right"}
    )


def _remarks(draft: Draft) -> bool:
    """ "Repeat, starting with the left", "with the left hand": clauses that only say who leads, or how often."""
    named = draft.doing or draft.part or draft.place or draft.dirs or draft.amount or draft.at or draft.feet
    alone = not (draft.doing or draft.place or draft.dirs or draft.amount or draft.at or draft.hands)
    if draft.join == "with" and draft.part and draft.feet in (["L"], ["R"]) and alone:
        return True  # "the same with the left heel"
    if draft.join in ("with", "and") and draft.hands and not named:
        return draft.hands[0] in ("L", "R")
    if (
        draft.at
        or draft.doing not in ("", "verb")
        or draft.part
        or draft.hands
        or draft.amount
        or draft.facing is not None
    ):
        return False
    if draft.doing == "verb" and draft.value != "step":
        return False
    return draft.mirror or draft.bare or draft.feet == ["other"] or _leads(draft)


def _leads(draft: Draft) -> bool:
    side = draft.dirs in (["left"], ["right"]) and not draft.doing  # "repeat 1-4, to the left"
    return side or draft.tokens_say("start", "lead", "begin", "with", "on") or draft.join == "with"


def _refer(repeat: Repeat, text: str, tokens: Sequence[Token]) -> None:
    """Find what is to be copied."""
    plain = in_digits(text)
    found = SECTIONS.search(text) or BARE.search(text) or SECTIONS.search(plain)
    if found:
        groups = [g for g in found.groups() if g]
        numbers = [n for n in map(place_number, groups) if n]
        repeat.sections = tuple(range(numbers[0], numbers[-1] + 1)) if numbers else ()
        return
    if PREVIOUS.search(plain):
        repeat.whole_section = True
        return
    for i, token in enumerate(tokens):
        if token.kind in ("num", "count"):
            read = label_at(tokens, i)
            if read and read[0].last > read[0].first and not set(read[0].wholes) <= set(repeat.at):
                repeat.counts = (read[0].first, read[0].last)
                return
    first = FIRST.search(plain)
    if first:
        from fractions import Fraction

        repeat.counts = (Fraction(1), Fraction(int(first[1])))
        return
    nth = NTH.search(plain)
    if nth:
        repeat.sections = (int(nth[1]),)
        return
    last = LAST.search(plain)
    if last:
        repeat.last = int(last[1])


def _mirror(repeat: Repeat, drafts: Sequence[Draft]) -> None:
    """Find out whether the copy is mirrored, or which side leads it."""
    for draft in drafts:
        repeat.mirror = repeat.mirror or draft.mirror or draft.feet == ["other"]
        sides = [d[0].upper() for d in draft.dirs if d in ("left", "right")]
        sides = sides or [s for s in (*draft.feet, *draft.refs, *draft.hands) if s in ("L", "R")]
        if sides:
            repeat.lead = sides[-1]
