"""Dances made at random for the properties: any verbs, feet, turns and arms, in order of time."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, PLACES, ArmMove
from softshoe.dance.counts import SIGNS, Count, Counts
from softshoe.dance.dance import LEVELS, Dance, Ending, Restart, Section, Tag
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERBS

QUARTERS = st.sampled_from((0, 45, 90, 180, -45, -90, -180))
PARTS = st.sampled_from((Fraction(0), *SIGNS.values()))
FEET = st.sampled_from((Foot.LEFT, Foot.RIGHT, Foot.BOTH))

arm_moves = st.builds(
    ArmMove,
    FEET,
    st.sampled_from([gesture.name for gesture in GESTURES]),
    st.none() | st.sampled_from(PLACES),
    st.none() | st.sampled_from(Direction),
)


def moments(counts: int) -> st.SearchStrategy[Count]:
    """Counts from 1 to the end of ``counts``, with their "e", "&" and "a"."""
    return st.builds(lambda whole, part: Count(Fraction(whole) + part), st.integers(1, counts), PARTS)


def single_actions(counts: int) -> st.SearchStrategy[Action]:
    """One action with no weight said."""
    return st.builds(
        Action,
        at=moments(counts),
        foot=st.none() | FEET,
        verb=st.sampled_from([verb.name for verb in VERBS]),
        dir=st.none() | st.sampled_from(Direction),
        turn_deg=QUARTERS,
        arms=st.lists(arm_moves, max_size=2).map(tuple),
        line=st.integers(1, 60),
    )


def actions(counts: int = 32, *, at_least: int = 0) -> st.SearchStrategy[tuple[Action, ...]]:
    """Actions in order of time."""
    many = st.lists(single_actions(counts), min_size=at_least, max_size=24)
    return many.map(lambda done: tuple(sorted(done, key=lambda action: action.at)))


def _sections(counts: int) -> tuple[Section, ...]:
    return tuple(
        Section(k + 1, Count(Fraction(8 * k + 1)), Counts(Fraction(8)), line=3 + 9 * k) for k in range(counts // 8)
    )


tags = st.builds(
    Tag, st.tuples(st.integers(1, 6)), st.integers(1, 32), st.just(4), st.sampled_from(("start", "continue")),
    actions(4), st.integers(1, 60),
)  # fmt: skip
restarts = st.builds(Restart, st.tuples(st.integers(1, 6)), st.integers(1, 31), st.integers(1, 60))
endings = st.builds(
    Ending, st.just("last") | st.integers(1, 8), st.integers(1, 32), st.just(8), st.sampled_from((0, 90, 180, 270)),
    actions(8), st.integers(1, 60),
)  # fmt: skip

dances = st.builds(
    Dance,
    title=st.text(max_size=20),
    counts=st.just(32),
    walls=st.sampled_from((None, 1, 2, 4)),
    level=st.none() | st.sampled_from(LEVELS),
    seated=st.booleans(),
    metre=st.sampled_from(("2/4", "3/4", "4/4", "6/8")),
    tempo_bpm=st.none() | st.integers(60, 180) | st.just((90, 120)),
    intro_counts=st.none() | st.integers(0, 64),
    start_weight=st.sampled_from(Weight),
    sections=st.just(_sections(32)),
    actions=actions(),
    tags=st.lists(tags, max_size=2).map(tuple),
    restarts=st.lists(restarts, max_size=2).map(tuple),
    endings=st.lists(endings, max_size=1).map(tuple),
)
