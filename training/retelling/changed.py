"""Ways to ask for an earlier section with something other in it: the words, and the codes that they mean.

In the words "{ref}" and "{two}" stand for the sections asked for; what they are called is known when the headings are.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.wording.retell_codes import AS, BUT, FEET, HALF, HANDS, MIRROR, PLUS
from softshoe.wording.whole_copies import Moment, codes_of_moments, danced_as, moments_of

if TYPE_CHECKING:
    import random
    from collections.abc import Callable, Sequence

Row = dict[str, Any]
TRIES = 6
MIRRORED = 0.25  # of those with something other are on the other side too
STAMPS = (("foot:R", "stomp", "dir:in place"), ("foot:L", "stomp", "dir:in place"))
MARCHES = (("foot:R", "step", "dir:in place"), ("foot:L", "step", "dir:in place"))
CLAP, SNAP, PAT = ("arm:both", "hand:clap"), ("arm:both", "hand:snap"), ("arm:both", "hand:pat", "at:thigh")
# how a section ends instead: words, what the feet do on the last two counts, what the hands do
CLOSINGS = (
    (("stomp R, stomp L", "two stomps, R then L", "stomp right, stomp left", "stamp R L"), STAMPS, ((), ())),
    (("march R L", "two marches, right and left", "step R L on the spot", "step R in place, step L in place"), MARCHES, ((), ())),
    (("two claps", "clap clap", "clap, clap", "clap twice"), ((), ()), (CLAP, CLAP)),
    (("clap and hold", "a clap and a hold", "clap, wait", "one clap, then hold"), ((), ()), (CLAP, ())),
    (("hold both counts", "hold", "two counts of nothing", "wait for two"), ((), ()), ((), ())),
    (("snap snap", "two snaps", "snap twice with both hands"), ((), ()), (SNAP, SNAP)),
    (("pat the thighs twice", "pat thighs x2", "two pats on the thighs"), ((), ()), (PAT, PAT)),
)  # fmt: skip
CLOSED = ("{ref}, but finish with {x}", "{ref} except {a}-{b}: {x}", "{ref}, only the last two counts are {x}", "Same as {ref}, ending {x}", "{ref} once more. Instead of the last two counts: {x}", "{ref} to count {c}, then {x}",
          "{ref} again; last two counts instead: {x}", "As {ref} up to {c}, then {x}", "Like {ref} but the end is {x}")  # fmt: skip
STEPPED = (
    "As {ref}, {a}-{b} {x}",
    "Repeat {ref} but on {a} and {b} {x}",
    "Like {ref} with {x} at the end",
    "Do {ref} again, {x} on {a}-{b}",
)  # clear of steps alone: claps may go beside them
BEATS = ((8,), (4,), (4, 8), (2, 4, 6, 8), (1, 3, 5, 7), (7, 8), (3, 4, 7, 8), (1, 5), (2, 6), (6,), (3, 6), (2, 4))
CLAPPED = ("{ref} with a {x} on {at}", "{ref} again, {x} on {at}", "As {ref}, add a {x} on {at}", "{ref} + {x} ({at})", "Same as {ref} but {x} on {at}", "{ref} once more and this time {x} on {at}", "Repeat {ref} adding {x}s on {at}",
           "{ref}, now with both hands: {x} on counts {at}")  # fmt: skip
BARE = ("{ref} without the hands", "{ref}, no arms this time", "{ref} again, feet only", "The feet of {ref} alone", "As {ref} but leave the arms out", "Same feet as {ref}, hands quiet", "Repeat {ref} without arms")  # fmt: skip
HANDS_ALONE = ("The hands of {ref} alone", "Only the arms of {ref}", "{ref}, arms only, feet rest", "As {ref} but the feet stay still", "{ref} again without the feet")  # fmt: skip
TOGETHER = ("Feet of {ref}, hands of {two}", "Feet as {ref}, hands as {two}", "{ref} with the arms of {two}", "{two} hands on top of {ref} feet", "feet: {ref} / hands: {two}", "Dance {ref} and do the hands of {two}",
            "The steps from {ref} and the hands from {two}", "As {ref}, but the hands do {two}")  # fmt: skip
BOTH = ("{ref} and {two} together", "{ref} + {two} at once", "{ref} and {two} at the same time", "Put {ref} and {two} together", "{two} and {ref} both together")  # fmt: skip
HALVES = ("{h} half of {ref}, {i} half of {two}", "{p} of {ref}, then {q} of {two}", "{h} four of {ref} and then the {i} four of {two}", "Counts {p} of {ref}, counts {q} of {two}", "The {h} half of {ref} followed by the {i} half of {two}")  # fmt: skip
SWAPS = (  # what is there, what it becomes, how both are called: one, many
    (("touch", "dir:together"), ("kick", "dir:forward"), ("touch", "touches", "kick", "kicks")),
    (("heel", "dir:forward"), ("touch", "dir:forward"), ("heel", "heels", "toe", "toes")),
    (("touch", "dir:forward"), ("heel", "dir:forward"), ("toe", "toes", "heel", "heels")),
    (("step", "dir:in place"), ("stomp", "dir:in place"), ("step", "steps", "stomp", "stomps")),
    (("stomp", "dir:in place"), ("step", "dir:in place"), ("stomp", "stomps", "soft step", "soft steps")),
    (("kick", "dir:forward"), ("touch", "dir:forward"), ("kick", "kicks", "toe touch", "toe touches")),
)
OF_HANDS = (
    (CLAP, SNAP, ("clap", "claps", "snap", "snaps")), (SNAP, CLAP, ("snap", "snaps", "clap", "claps")), (PAT, CLAP, ("pat", "pats", "clap", "claps")),
    (CLAP, PAT, ("clap", "claps", "thigh pat", "thigh pats")), (CLAP, (), ("clap", "claps", "hold", "holds")), (SNAP, (), ("snap", "snaps", "hold", "holds")),
)  # fmt: skip
SWAPPED = ("{ref} with {ws} instead of {vs}", "{ref}, but {w} where there was a {v}", "As {ref}, every {v} is a {w} now", "{ref} again, a {w} in place of each {v}", "Same as {ref}, {vs} become {ws}",
           "{ref}: {ws}, no {vs}", "Like {ref} but {ws} instead of the {vs}")  # fmt: skip
BACKWARDS = ("{ref} going back", "{ref}, but all of it backwards", "As {ref} moving back instead of forward", "{ref} in reverse gear: everything goes back", "Same as {ref}, back instead of forward")  # fmt: skip
SIDE = (
    "{ref} on the other side",
    "{ref} other foot first",
    "{ref} mirrored",
    "{ref} to the other side",
    "{ref} starting with the other foot",
)
AHEAD = {"step", "touch", "rock", "recover"}


class Base(NamedTuple):
    """What is asked for: the moments of a section, and those of another with its number."""

    base: list[Moment]
    other: list[Moment]
    number: int


class Asked(NamedTuple):
    """Words that ask for one or two sections (by their places), and the codes that they mean."""

    words: str
    told: list[str]
    first: int
    second: int


def asked(sections: Sequence[Row], rng: random.Random) -> Asked | None:
    """A way to ask for sections with something other; None where none fits."""
    above = [[code for code in part["codes"] if code != "end"] for part in sections]
    for _ in range(TRIES):
        first, second = rng.randrange(len(above)), rng.randrange(len(above))
        side = [MIRROR] if rng.random() < MIRRORED else []
        base = danced_as([f"{AS}{first + 1}", *side], above)
        if base is None:
            continue
        way = rng.choice(WAYS)
        found = way(Base(moments_of(base), moments_of(above[second]), second + 1), rng)
        if found is None:
            continue
        words, other = found
        told = [f"{AS}{first + 1}", *side, *other]
        if "{two}" in words and first == second and HALF not in "".join(told):
            continue
        if side and words in (*BOTH, *TOGETHER):
            continue  # which of both would be on the other side?
        if side:
            words = words.replace("{ref}", rng.choice(SIDE), 1)
        danced = danced_as(told, above)
        if danced is not None and danced != base:
            return Asked(words, told, first, second)
    return None


Found = tuple[str, list[str]] | None


def closed(case: Base, rng: random.Random) -> Found:
    counts = case.base[-1].at[0]
    said, feet, hands = rng.choice(CLOSINGS)
    if counts < 4:
        return None
    last = [Moment((counts - 1 + k, ""), feet[k], hands[k]) for k in (0, 1)]
    words = rng.choice((*CLOSED, *STEPPED) if feet[0] else CLOSED).replace("{x}", rng.choice(said))
    for sign, n in (("{a}", counts - 1), ("{b}", counts), ("{c}", counts - 2)):
        words = words.replace(sign, str(n))
    return words, [BUT, *codes_of_moments(last)]


def clapped(case: Base, rng: random.Random) -> Found:
    at = rng.choice(BEATS)
    free = {m.at[0] for m in case.base if not m.hands and not m.at[1]} - {m.at[0] for m in case.base if m.hands}
    if not free >= set(at):
        return None
    name, hands = rng.choice((("clap", CLAP), ("clap", CLAP), ("snap", SNAP)))
    said = rng.choice((", ".join, " and ".join if len(at) < 3 else ", ".join, "/".join))(map(str, at))
    words = rng.choice(CLAPPED).replace("{x}", name).replace("{at}", said)
    return words, [PLUS, *codes_of_moments(Moment((n, ""), (), hands) for n in at)]


def bare(case: Base, rng: random.Random) -> Found:
    if not (any(m.hands for m in case.base) and any(m.feet for m in case.base)):
        return None
    return (rng.choice(BARE), [FEET]) if rng.random() < 0.7 else (rng.choice(HANDS_ALONE), [HANDS])


def together(case: Base, rng: random.Random) -> Found:
    if not any(m.feet for m in case.base) or not any(m.hands for m in case.other):
        return None
    plain = not any(m.hands for m in case.base) and not any(m.feet for m in case.other)
    words = rng.choice(BOTH if plain and rng.random() < 0.6 else TOGETHER)
    return words, [FEET, f"{AS}{case.number}", HANDS]


def halves(case: Base, rng: random.Random) -> Found:
    counts = case.base[-1].at[0]
    a, b = rng.choice(((1, 2), (1, 2), (2, 1), (1, 1), (2, 2)))
    if counts % 2 or case.other[-1].at[0] != counts:
        return None
    half = counts // 2
    names, runs = ("first", "second"), (f"1-{half}", f"{half + 1}-{counts}")
    words = rng.choice([w for w in HALVES if half == 4 or "four" not in w])
    for sign, said in (("{h}", names[a - 1]), ("{i}", names[b - 1]), ("{p}", runs[a - 1]), ("{q}", runs[b - 1])):
        words = words.replace(sign, said)
    return words, [f"{HALF}{a}", f"{AS}{case.number}", f"{HALF}{b}"]


def swapped(case: Base, rng: random.Random) -> Found:
    old, new, names = rng.choice(SWAPS)
    there = [m for m in case.base if m.feet[1:] == old]
    if not there or any(old[0] in m.feet for m in case.base if m not in there):
        return None
    told = _counts(case.base, there, lambda m: m._replace(feet=(m.feet[0], *new)))
    return _with_names(names, rng), [BUT, *codes_of_moments(told)]


def with_other_hands(case: Base, rng: random.Random) -> Found:
    old, new, names = rng.choice(OF_HANDS)
    there = [m for m in case.base if m.hands == old]
    if not there or any(old[1] in m.hands for m in case.base if m not in there):
        return None
    told = (Moment(m.at, (), new if m in there else m.hands) for m in _of_counts(case.base, there))
    return _with_names(names, rng), [PLUS, *codes_of_moments(m for m in told if m.hands or not m.at[1])]


def backwards(case: Base, rng: random.Random) -> Found:
    there = [m for m in case.base if "dir:forward" in m.feet]
    strange = any(m.feet and not (set(m.feet) & AHEAD) for m in case.base)
    if not there or strange or any("back" in c or "diagonal" in c for m in case.base for c in m.feet):
        return None
    told = _counts(case.base, there, _back)
    return rng.choice(BACKWARDS), [BUT, *codes_of_moments(told)]


def _back(moment: Moment) -> Moment:
    return moment._replace(feet=tuple("dir:back" if code == "dir:forward" else code for code in moment.feet))


def _with_names(names: tuple[str, ...], rng: random.Random) -> str:
    words = rng.choice(SWAPPED)
    for sign, name in zip(("{v}", "{vs}", "{w}", "{ws}"), names, strict=True):
        words = words.replace(sign, name)
    return words


def _of_counts(base: list[Moment], there: list[Moment]) -> list[Moment]:
    """All moments of the counts of some."""
    counts = {m.at[0] for m in there}
    return [m for m in base if m.at[0] in counts]


def _counts(base: list[Moment], there: list[Moment], new: Callable[[Moment], Moment]) -> list[Moment]:
    return [new(m) if m in there else m for m in _of_counts(base, there)]


WAYS = (
    closed,
    closed,
    clapped,
    clapped,
    bare,
    together,
    together,
    halves,
    swapped,
    swapped,
    with_other_hands,
    backwards,
)
