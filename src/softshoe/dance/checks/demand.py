"""What a dance asks of its dancers: time between two moves, a level that fits, both sides alike. Only notes."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.checks.given import moment
from softshoe.dance.feet import ONE, Foot
from softshoe.dance.level import apart, level_of
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance

OPINIONS = frozenset(("crowded", "level", "one-sided"))  # kinds that are told to people, beside the fixed ones
# Seconds between two moves. Seated: two taps of one foot a second and a quarter of a second between two feet, a design
# value for older dancers. Standing: the quickest steps that are danced; common practice, no source.
SAME_FOOT_SEATED_S, OTHER_FOOT_SEATED_S, STANDING_S = 0.5, 0.25, 0.15
MOST_S = max(SAME_FOOT_SEATED_S, OTHER_FOOT_SEATED_S, STANDING_S)
HAIR_S = 1e-9  # so much is no difference
LEVELS_APART = 2  # a level more or less is a matter of taste; common practice, no source
LEAST_FEET, LEAST_HANDS = 16, 8  # so many moves before a share says anything
EVEN_SHARE = (0.4, 0.6)  # the right side's share; a rule of the project's own


class Pair(NamedTuple):
    """Two moves of the feet that follow each other, and the seconds between them."""

    one: Action
    two: Action
    gap_s: float


def crowded(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The feet need time between two moves at the tempo stated; the first place too quick is told, with how many.

    "Seated, 100 bpm: 1&2 right heel, right heel, right together": one foot twice within 0.3 of a second.
    """
    del lines
    tempo = max(dance.tempo_bpm) if isinstance(dance.tempo_bpm, tuple) else dance.tempo_bpm
    if not tempo:
        return
    quick = [pair for pair in _pairs(dance, tempo) if pair.gap_s < _least(dance, pair) - HAIR_S]
    if quick:
        first = quick[0]
        foot = first.two.foot
        who = f"the {foot.word} foot moves again" if foot and foot is first.one.foot else "the other foot moves"
        more = f"; there are {len(quick)} such places" if len(quick) > 1 else ""
        yield Finding(
            "note", "crowded", first.two.line, moment(first.two.at),
            f"At {tempo:g} counts a minute {who} {first.gap_s:.2f} of a second after the move before, which is quick"
            f"{' on a chair' if dance.seated else ''}{more}.",
            "Leave the “&” out for those who need time, or take a slower song.",
        )  # fmt: skip


def _pairs(dance: Dance, tempo: float) -> Iterator[Pair]:
    """Yield moves that follow each other so soon that it may be too soon for somebody."""
    moves = [a for a in dance.actions if a.foot is not None]
    times = [a.at.at.as_integer_ratio() for a in moves]
    for one, two, (n, per), (m, of) in zip(moves, moves[1:], times, times[1:], strict=False):
        later = m * per - n * of
        if later > 0 and (gap_s := later / (per * of) * 60 / tempo) < MOST_S:
            yield Pair(one, two, gap_s)


def _least(dance: Dance, pair: Pair) -> float:
    if not dance.seated:
        return STANDING_S
    return SAME_FOOT_SEATED_S if pair.one.foot is pair.two.foot else OTHER_FOOT_SEATED_S


def level(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The level stated is near the level of the steps; only two levels apart are told.

    "Absolute beginner" over shuffles, a half turn and 48 counts.
    """
    if "level" not in lines or dance.level is None:
        return
    estimate = level_of(dance)
    if abs(apart(dance, estimate)) >= LEVELS_APART:
        why = ", ".join(reason.words for reason in estimate.reasons[:2]) or "nothing in them asks for more"
        yield Finding(
            "note", "level", lines["level"], None,
            f"The sheet says {dance.level}; the steps are those of a dance for {_dancers(estimate.level)}: {why}.",
            "Keep your word if your dancers agree, or write the other level.",
        )  # fmt: skip


def _dancers(name: str) -> str:
    return {"intermediate": "intermediate dancers", "advanced": "advanced dancers"}.get(name, f"{name}s")


def one_sided(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """Each side works about as much as the other: between two and three fifths of what one side does alone.

    "Right heel four times, right toe four times …" and the left foot only at the end.
    """
    del lines
    feet = [a.foot for a in dance.actions if a.foot in ONE]
    hands = [move.side for a in dance.actions for move in a.arms if move.side in ONE]
    for sides, least, what in ((feet, LEAST_FEET, "foot"), (hands, LEAST_HANDS, "hand")):
        share = sides.count(Foot.RIGHT) / len(sides) if len(sides) >= least else 0.5
        if not EVEN_SHARE[0] <= share <= EVEN_SHARE[1] and 0 < share < 1:  # a dance for one side means it
            busy, other = ("right", "left") if share > EVEN_SHARE[1] else ("left", "right")
            moves = max(sides.count(Foot.RIGHT), sides.count(Foot.LEFT))
            yield Finding(
                "note", "one-sided", None, None,
                f"The {busy} {what} does {moves} of the {len(sides)} moves that one {what} does alone.",
                f"Give the {other} {what} some of them, or dance every second wall mirrored.",
            )  # fmt: skip
