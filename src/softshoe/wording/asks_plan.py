"""A section that asks for others, and what is other in it, told by its words as a plan (whole_copies).

    "Part A, only that on 4 you kick L forward"      as:1 but c4 foot:L kick dir:forward
    "the feet of ONE with the hands of TWO"          as:1 feet as:2 hands
    "front half of B joined to the back half of A"   as:2 half:1 as:1 half:2

Every word has to be understood: where one is left that might mean something, there is no plan. Words that only fill
stand in ``data/wording/asking_words.csv``.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING
from unicodedata import normalize

from softshoe.wording.asks_changed import changed
from softshoe.wording.asks_names import MARKED, marked, own_heading
from softshoe.wording.asks_sides import blanked, names_side, other_side
from softshoe.wording.retell_codes import AS, BUT, FEET, HALF, HANDS, MIRROR
from softshoe.wording.shape import shape
from softshoe.wording.vocabulary import table
from softshoe.wording.whole_copies import codes_of_moments, danced_as, moments_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.wording.asks_names import Above
    from softshoe.wording.asks_rows import Step

LONGEST = 600  # letters
LONGEST_NAME = 6  # words
MADE_OF_TWO = 4  # codes
REF = r"‹(\d+)›"
OF = (
    r"\s*(?:of|from|=|as in|in|are those of|like|as|go like|dance|do|are|repeat|stay with|taken from|"
    r"(?:do|are|dance) (?:what|as) they (?:did|do|were|are) in|as they (?:were|are|did) in|"
    r"that (?:go|went|belong) (?:with|to))?\s*(?:the\s+)?"
)
FOOT = r"\b(?:feet|ft|legs?|foot\s?work|steps|footsteps)"
HAND = r"\b(?:hands|hds|claps|clapping|arms?|arm\s?work|hand\s?work)"
FEET_OF, HANDS_OF = (
    (
        shape(rf"{limb}(?:\s+(?:only|alone))?{OF}{REF}", re.IGNORECASE),
        shape(rf"{REF}(?:['’]s)?\s*,?\s*(?:for\s+the\s+)?{limb}\b", re.IGNORECASE),
    )
    for limb in (FOOT, HAND)
)
COUNTED = r"(?:\s*(?:counts?|beats?))?"
HALVES = (
    r"(?:(?P<first>first|front|opening)\s+(?:half|four|4|three|3|bit|end)|"
    r"(?P<last>last|back|second|closing|final|tail)\s+(?:half|four|4|three|3|bit|end)|"
    rf"(?:counts?\s+)?(?P<low>[1-9])\s*(?:-|–|to)\s*(?P<high>\d{{1,2}})){COUNTED}"
)
HALF_OF = shape(rf"\b(?:the\s+)?{HALVES}\s*(?:as in|as|like|out of|of|from|in)\s*(?:the\s+)?{REF}", re.IGNORECASE)
HALF_BEHIND = shape(rf"{REF}\W{{0,3}}{HALVES}\)?", re.IGNORECASE)
HALVES_SWAPPED = shape(
    r"\b(?:with\s+)?(?:its|the|both)\s+(?:two\s+)?halves\s+(?:are\s+)?(?:swapped|exchanged|changed)(?:\s+(?:over|round))?\b",
    re.IGNORECASE,
)
SAID_AGAIN = shape(
    r"\((?:counts?\s*)?\d{1,2}\s*(?:-|–|to)\s*\d{1,2}\)|\bcounts?\s+\d{1,2}\s*(?:-|–|to)\s*\d{1,2}\b", re.IGNORECASE
)
LIMB = r"(?P<limb>hands|arms|feet|legs)"
ALONE = (
    shape(rf"\b{LIMB}\s+(?:of|from|as in)\s+(?:the\s+)?(?=‹)", re.IGNORECASE),
    shape(
        rf"\b{LIMB}\s+(?:only|alone|by themselves|on their own)\b"
        r"(?:[:,]?\s*(?:the\s+|your\s+)?(?:feet|hands|arms|legs)\s+(?:stay|rest|keep|do|have|are)\b[^.;]*)?",
        re.IGNORECASE,
    ),
    shape(
        rf"\b(?:only|just)\s+(?:the\s+)?{LIMB}\b(?!\s+(?:are|is|do|differ|change|have|go|stay|this|with))",
        re.IGNORECASE,
    ),
)
STILL = shape(
    r"\b(?:while\s+)?(?:the\s+|your\s+)?(?:feet|hands|arms|legs)\s+(?:are\s+|is\s+)?"
    r"(?:don['’]t move|do not move|flat|still|quiet|resting|stays?|rests?|have a rest|have nothing|do nothing|"
    r"keep still)\b"
    r"(?:\s+(?:on|in|flat|the|floor|still|lap|where|they|are|and|have|having|a|rest|at|all|down|to|do)\b)*",
    re.IGNORECASE,
)
ROW = shape(
    rf"(?:^|[|;.\s])\s*\d{{1,2}}(?:\s*[-–]\s*\d{{1,2}})?\s*[|:]?\s*(?:the\s+)?(?:same\s+)?(?:as|like)\s+{REF}",
    re.IGNORECASE,
)
OWN_RANGE = shape(r"^\W*(?:counts?\s+)?\d{1,3}\s*(?:-|–|to)\s*\d{1,3}\)?\s*[=:]\s*", re.IGNORECASE)
WHOLE = shape(
    r"^\W*(?:\(?(?:counts?\s*)?1\s*(?:-|–|to)\s*(8|6|12|16)\)?|\((\d{1,2})\)|all\s+(\d{1,2}))(?=\W|$)", re.IGNORECASE
)
LENGTH = shape(r"‹(\d+)›\W{0,2}\((\d{1,2})(?:\s*(?:counts?|beats?))?\)", re.IGNORECASE)
FIRST = shape(
    r"[\s,:;–-]*(?:the\s+)?[a-z]+\s+first\b(?:,?\s*(?:and\s+)?(?:then\s+)?(?:the\s+)?[a-z ]+(?:after|behind)?)?\W*",
    re.IGNORECASE,
)
LATER = shape(r"\bafter\b|\bpreceded\b", re.IGNORECASE)
HOW_MANY = shape(r"\b(?:four|three|[34])\b", re.IGNORECASE)
JOINING = shape(
    r"\b(?:(?:open|close|start|begin|finish|end)s?\s+with|followed by|hang\w*|borrow\w*|on to it|while|half and half|"
    r"put|together|at the same time)\b",
    re.IGNORECASE,
)
VINE_FIRST = shape(r"\([^()]*\bfirst\b[^()]*\)", re.IGNORECASE)
RANGED = shape(r"^\W*(?:(?:counts?|steps?)\s+)?\d{1,3}\s*(?:-|–|to)\s*\d{1,3}\b", re.IGNORECASE)
EIGHT = shape(r"\b[68]\b")
ONCE_MORE = shape(
    r"\b(?:once|one) more(?: time)?\b|\bover again\b|\ball (?:four|three|two|eight) times\b", re.IGNORECASE
)
DENIED = shape(
    r"\b(?:not|never|nothing|no|instead|without|don['’]t|unlike|minus|skip|omit|than)\s+(?:[a-z]+\s+){0,3}‹|"
    r"‹\d+›\W{0,3}(?:reversed|in reverse|backwards|not\b|never\b)",
    re.IGNORECASE,
)
ASKING = shape(
    r"^\W*‹|(?:\b(?:as|like|same|repeat|rpt|of|from|in|dance|do|take|everything|all|again|plus|ditto|on top of)\s+|"
    r"=\s*)(?:the\s+|in\s+)*[\"“(]?‹|"
    r"‹\d+›[\"”)]?\W{0,3}(?:again|once|but|with|without|on\b|except|only|and\b|plus|as\b|over|counts?|mirrored|"
    r"though|then|now|to the|going|starting|feet|hands|save|minus|from|this time|the other|other|in reverse|"
    r"however|which|where|swap\w*|chang\w*|clapping|adding|$)",
    re.IGNORECASE,
)
WITH, PLUS = shape(r"\bw(?:\.|/)\s*", re.IGNORECASE), shape(r"(?<=[\w)])\s*\+(?=\s*[^\W\d])")
LEAD_IN = shape(r"^\W*(?:[^\W\d]+[ -]){1,3}?(?:again\s+)?(?:as|like)\s+(?:in\s+|at\s+|by\s+)?(?=‹)", re.IGNORECASE)
MEANT = shape(
    r"\b(?:hands?|arms?|feet|foot|legs?|claps?|snaps?|clapping|half|halves|left|right|[LR]|first|last|no|not|only|just|other|"
    r"opposite|mirror\w*|revers\w*|backwards|instead|never|without|otherwise|turns?)\b",
    re.IGNORECASE,
)


@cache
def fillers() -> frozenset[str]:
    """Return the words that only fill where a section asks for another."""
    return frozenset(row["word"] for row in table("asking_words.csv"))


def plans(words: str, above: Sequence[Above], step: Step) -> Iterator[tuple[str, ...]]:
    """Return how a section may be told by those above it; ``step`` tells words for one count as codes."""
    words = normalize("NFKC", words).replace("ı", "i").replace("İ", "I")
    for text in _without_heading(words, above) if len(words) <= LONGEST else ():
        plan = _plan(text, above, step)
        if plan is not None:
            yield plan
        if MARKED.search(marked(text, above)):
            return


def _without_heading(words: str, above: Sequence[Above]) -> Iterator[str]:
    """Return the words of a section as they may stand without its own name."""
    rows = [row for row in words.strip().split("\n") if row.strip()]
    if not rows:
        return
    own = own_heading(rows[0], above)
    if len(rows) > 1 and _may_head(rows[0][own:]):
        yield " ".join(rows[1:])
    ranged = OWN_RANGE.match(rows[0])
    own = own or (ranged.end() if ranged else 0)
    first = rows[0][own:]
    for sign in (":", " - ", " – ", " — ", ".", ")", "=", ">"):
        head, found, rest = (first.lstrip(" .:;)]>-–—") if own else first).partition(sign)
        if found and len(head.split()) <= LONGEST_NAME and rest.strip() and _may_head(head):
            yield " ".join([rest, *rows[1:]])
    yield " ".join([first, *rows[1:]])


def _may_head(words: str) -> bool:
    """Return whether words may be a section's name: they tell no side, no count and nothing that is left out."""
    left = EIGHT.sub(" ", RANGED.sub(" ", words))
    return not MEANT.search(left) and not any(c.isdigit() for c in left)


def _plan(words: str, above: Sequence[Above], step: Step) -> tuple[str, ...] | None:
    whole = WHOLE.match(words)
    text = _with_marks(words[whole.end() :] if whole else words, above)
    if whole and not MARKED.search(text):
        whole, text = None, _with_marks(words, above)
    found = (_two(text, above) or _one(text, above)) if MARKED.search(text) and not DENIED.search(text) else None
    if found is None or (len(found[0]) < MADE_OF_TWO and not ASKING.search(text)):
        return None
    told, rest = found
    sections = [one.codes for one in above]
    codes = danced_as(told, sections)
    moments = moments_of(codes or ())
    counts = max((moment.at[0] for moment in moments), default=0)
    if not counts or (whole and counts != int(next(filter(None, whole.groups())))):
        return None
    other = changed(rest, moments, step, fillers())
    if other is None:
        return None
    plan = (*told, *((BUT, *codes_of_moments(other)) if other else ()))
    return plan if danced_as(plan, sections) is not None else None


def _with_marks(words: str, above: Sequence[Above]) -> str:
    plain = ONCE_MORE.sub(" ", PLUS.sub(" plus ", WITH.sub("with ", words)))
    text = LENGTH.sub(lambda m: f"‹{m[1]}› " if _is_long(above, m) else m[0], marked(plain, above))
    lead = LEAD_IN.match(text)  # "Grapevines as in section 2, no turn"
    return text[lead.end() :] if lead and not MEANT.search(lead[0]) else text


def _is_long(above: Sequence[Above], found: re.Match[str]) -> bool:
    """Return whether a section has the counts that stand behind its mark: "section 1 (8)"."""
    k = int(found[1])
    return k < len(above) and above[k].counts == int(found[2])


def _two(text: str, above: Sequence[Above]) -> tuple[tuple[str, ...], str] | None:
    """Return the codes of a section made of two, feet and hands or two halves, and the words left."""
    feet, hands = (next((m for form in forms if (m := form.search(text))), None) for forms in (FEET_OF, HANDS_OF))
    if feet and hands and (feet.end() <= hands.start() or hands.end() <= feet.start()):
        rest = blanked(blanked(text, feet), hands)
        told = (f"{AS}{_number(feet)}", FEET, f"{AS}{_number(hands)}", HANDS)
        return None if MARKED.search(rest) or names_side(rest) else (told, JOINING.sub(" ", rest))
    halves = [*HALF_OF.finditer(text)] or [*HALF_BEHIND.finditer(text)]
    rest = text
    for half in halves:
        rest = blanked(rest, half)
    if len(halves) != len(("first", "last")) or MARKED.search(rest) or LATER.search(rest):
        return None
    if not all(_is_half(half, above[_number(half) - 1].counts) for half in halves if _number(half) <= len(above)):
        return None
    told_halves = [code for half in halves for code in (f"{AS}{_number(half)}", f"{HALF}{_which(half)}")]
    return tuple(told_halves), JOINING.sub(" ", SAID_AGAIN.sub(" ", rest))


def _is_half(found: re.Match[str], counts: int) -> bool:
    """Return whether the counts that are named are those of a half."""
    half = counts // 2
    if found["low"]:
        return (int(found["low"]), int(found["high"])) in ((1, half), (half + 1, counts))
    many = HOW_MANY.search(found[0])
    return many is None or {"four": 4, "three": 3}.get(many[0].casefold(), many[0]) in (half, str(half))


def _which(half: re.Match[str]) -> int:
    return 1 if half["first"] or half["low"] == "1" else 2


def _number(found: re.Match[str]) -> int:
    mark = MARKED.search(found[0])
    return 1 + int(mark[1]) if mark else 0


def _one(text: str, above: Sequence[Above]) -> tuple[tuple[str, ...], str] | None:
    """Return the codes of a section danced as one other, on the same or the other side, and the words left."""
    names = {int(found[1]) for found in MARKED.finditer(text)}
    if len(names) != 1 or not names <= set(range(len(above))):
        return None
    (k,) = names
    told = f"{AS}{k + 1}"
    alone = next((m for form in ALONE if (m := form.search(text))), None)
    many = len(MARKED.findall(text)) > 1
    rest = MARKED.sub(" ", ROW.sub(" ", text) if many else text)
    rest = STILL.sub(" ", rest) if alone else rest
    swapped = HALVES_SWAPPED.search(rest)
    if swapped:  # what stands behind says it once more: "toes first, heels after"
        behind = rest[swapped.end() :]
        return (told, f"{HALF}2", told, f"{HALF}1"), rest[: swapped.start()] + (
            "" if FIRST.fullmatch(behind) and not names_side(behind) else behind
        )
    only: tuple[str, ...] = ()
    if alone:
        only = (HANDS if alone["limb"].casefold() in ("hands", "arms") else FEET,)
        rest = re.sub(rf"\b{alone['limb']}\b|\b(?:only|alone)\b", " ", rest, count=2)
    mirror, rest = other_side(rest, above[k].codes)
    rest = VINE_FIRST.sub(" ", rest) if mirror else rest
    return (told, *((MIRROR,) if mirror else ()), *only), rest
