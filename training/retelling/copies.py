"""Sections told by earlier ones: the shortest way to say what is danced as which, and what is other in it."""

from __future__ import annotations

import re
from itertools import product
from typing import TYPE_CHECKING

from named import CLAPS, NAMED

from softshoe.wording.retell_codes import AS, BUT, FEET, HALF, HANDS, MIRROR, PLUS
from softshoe.wording.whole_copies import Moment, codes_of_moments, danced_as, moments_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

SHORTER = 0.62  # of the codes told out

KEPT = 0.5  # of the counts at least are those of the other section
NOUN = r"(?:section|sect|sec|part|card|verse|chorus|eight|block|figure|phrase|refrain|stanza)s?"
LOOSE = r"(?:round|set|row|line|bit|one)s?"  # words of other things too
NUMBER = r"(?:\(?\d+\b(?!\s*(?:[-–]|to|counts?|cts?|beats?|x\b))|(?-i:[A-H]\b|I{1,3}\b)|one\b|two\b|three\b|four\b|first|second|third|fourth)"
ASKS = r"(?:\b(?:as|like|repeat|same as|back to|from|of|dance|do)|=)\s*(?:the |in |in the |all of (?:the )?|no\. ?|#)?"
POINTS = re.compile(
    rf"{ASKS}(?:{NOUN}\b|{LOOSE} {NUMBER}|(?:first|second|third|fourth) {LOOSE}\b)|\b(?:as|like|repeat|same as|=)\s*(?:the |in |no\. ?|#)?{NUMBER}|\b{NOUN} {NUMBER}|\b(?:first|second|third|fourth) {NOUN}\b|"
    r"\b(?:as|like) (?:before|it)\b|\b(?:as|like|from|the|all|of) above\b|\babove\W*$|\bother way (?:round|about)|\bboth (?:together|of the above|of them)|\bearlier\b|\ball of (?:that|it)\b(?! twice)|"
    r"\bsame (?:feet|hands|arms|steps|walks)\b|\b(?:again|once more)\b[\s,]*(?:but|only|without|this time)",
    re.IGNORECASE | re.MULTILINE,
)
RANGE = re.compile(rf"{ASKS}(?:counts? )?(\d+)\s*(?:-|–|to)\s*(\d+)", re.IGNORECASE)
LABEL = re.compile(rf"^\W*(?:{NOUN} {NUMBER}|(?:the )?{NUMBER} {NOUN})\W*", re.IGNORECASE)
CALLED = r"(?:\b(?:as|like|repeat|of|from|in|same as|do|dance|back to|and|with)\s+(?:the |in )?{0}\b|\b{0}\b[^.;\n]{{0,12}}\b(?:again|once more|but|without|with|reversed|mirrored|backwards|together|other)\b)"
SHORT = 60  # characters: a section told so shortly, without its steps, is told elsewhere


def leans(words: str, codes: Sequence[str], headings: Iterable[str], counts: int) -> bool:
    """Whether a section's own words ask for an earlier one: by its number, its name, its counts, or shortly and without its steps."""
    own = LABEL.sub("", words)
    names = {word for name in headings for word in re.findall(r"[a-z]{4,}", name.casefold())}
    if POINTS.search(own) or any(re.search(CALLED.format(word), own.casefold()) for word in names):
        return True
    if any(int(found[2]) - int(found[1]) + 1 >= counts for found in RANGE.finditer(own)):
        return True
    told = all(NAMED[code].search(own) for code in codes if code in NAMED)
    return len(own) < SHORT and not (told and ("hand:clap" not in codes or CLAPS.search(own)))


def told_by_others(codes: Sequence[str], above: Sequence[Sequence[str]]) -> tuple[list[str], bool] | None:
    """The shortest codes that tell a section by those above it, and whether they alone are so short; None where none are."""
    target = [code for code in codes if code != "end"]
    wanted = moments_of(target)
    if codes_of_moments(wanted) != target:
        return None
    best: dict[tuple[str, ...], list[str]] = {}
    for told in [*by_one(wanted, above), *by_two(wanted, above)]:
        if len(told) < SHORTER * len(target) and danced_as(told, above) == target:
            who = tuple(code for code in told if code.startswith(AS))
            if who not in best or len(told) < len(best[who]):
                best[who] = told
    if not best:
        return None
    first, *rest = sorted(best.values(), key=len)
    return first, not rest or len(rest[0]) > len(first) + 2


def by_one(wanted: Sequence[Moment], above: Sequence[Sequence[str]]) -> Iterator[list[str]]:
    """Ways to tell a section by one other: all of it, its feet, its hands, a half, and what is other then."""
    for k, side in product(range(1, len(above) + 1), ([], [MIRROR])):
        for only in ([], [FEET], [HANDS], [f"{HALF}1"], [f"{HALF}2"]):
            start = [f"{AS}{k}", *side, *only]
            base = danced_as(start, above)
            other = changes(moments_of(base), wanted) if base else None
            if other is not None:
                yield [*start, *other]


def by_two(wanted: Sequence[Moment], above: Sequence[Sequence[str]]) -> Iterator[list[str]]:
    """Ways to tell a section by two others: the feet of one and the hands of the other, halves of both."""
    counts = wanted[-1].at[0]
    parts = {
        FEET: [m._replace(hands=()) for m in wanted if m.feet],
        HANDS: [m._replace(feet=()) for m in wanted if m.hands],
        1: [m for m in wanted if 2 * m.at[0] <= counts],
        2: [m for m in wanted if 2 * m.at[0] > counts],
    }
    found: dict[str | int, list[list[str]]] = {key: [] for key in parts}
    for k, side in product(range(1, len(above) + 1), ([], [MIRROR])):
        for only in (FEET, HANDS):
            base = danced_as([f"{AS}{k}", *side, only], above)
            if parts[only] and base and [m for m in moments_of(base) if m.feet or m.hands] == parts[only]:
                found[only].append([f"{AS}{k}", *side, only])
        for half in (1, 2):
            base = danced_as([f"{AS}{k}", *side, f"{HALF}{half}"], above)
            rows = moments_of(base) if base and counts % 2 == 0 else []
            for at in (1, 2):
                by = (at - 1) * counts // 2
                if rows and [m._replace(at=(m.at[0] + by, m.at[1])) for m in rows] == parts[at]:
                    found[at].append([f"{AS}{k}", *side, f"{HALF}{half}"])
    for one, two in ((FEET, HANDS), (1, 2)):
        yield from ([*first, *second] for first, second in product(found[one], found[two]))


def changes(base: Sequence[Moment], wanted: Sequence[Moment]) -> list[str] | None:
    """The codes that change one into the other; None where the feet of most counts are other."""
    counts = sorted({moment.at[0] for moment in (*base, *wanted)})
    here, there = ({n: [m for m in some if m.at[0] == n] for n in counts} for some in (base, wanted))
    other = [n for n in counts if here[n] != there[n]]
    hands = [n for n in other if feet_of(here[n]) == feet_of(there[n])]
    if len(hands) < len(other) and len(counts) - len(other) < KEPT * len(counts):
        return None
    out: list[str] = []
    if rest := [n for n in other if n not in hands]:
        out += [BUT, *codes_of_moments(m for n in rest for m in there[n])]
    if hands:
        out += [PLUS, *codes_of_moments(Moment(m.at, (), m.hands) for n in hands for m in there[n])]
    return out


def feet_of(moments: Iterable[Moment]) -> list[tuple[tuple[int, str], tuple[str, ...]]]:
    return [(m.at, m.feet) for m in moments if m.feet]
