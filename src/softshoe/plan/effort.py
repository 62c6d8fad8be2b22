"""How much a dance asks: effort, learning load (1 to 5), the share of each side, and effort as a band with its basis.

The steps from 1 to 5 and the place of a dance between published values are our own choices; the values themselves
are those of ``data/adapt/effort.csv``.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.adapt.cautions import cautions
from softshoe.dance.feet import Foot
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

HIGH = {"overhead", "head"}
HARD_VERBS = {"hitch", "stomp", "stomp-up", "kick", "jump", "hop"}
STRUCK = {"stomp", "stomp-up", "jump", "hop"}
FAST_BPM = (100.0, 116.0)
ARMS_COUNTS = 8
MOST = 5
USUAL_BPM = 100.0
DISAGREE = (
    "The sources disagree: the 2011 Compendium gives line dancing 7.8, the 2024 one 9.8 and calls it vigorous, while "
    "dance classes of older women were measured at 3.7 to 4.6. How it feels counts for more: at a moderate effort one "
    "can talk but not sing."
)
UNIT = "times the effort of sitting still (MET)"


@dataclass(frozen=True, slots=True)
class Asks:
    """Effort and load from 1 to 5; ``lean`` is (right-led counts − left-led counts) / counts, −1 to 1."""

    effort: int
    load: int
    lean: float


@dataclass(frozen=True, slots=True)
class Band:
    """Effort between two published values [MET, 3.5 mL/kg/min], as a word, with the basis and the tempo it is for."""

    low: float
    high: float
    word: str
    basis: str
    counts_per_min: float
    moves_per_min: float


@dataclass(frozen=True, slots=True)
class Balance:
    """What moves: counts led by each foot and hand, moments of feet and of arms, the longest run of counts with hands
    above the shoulders, and struck floors or landings, all in one wall.
    """

    feet_left: int
    feet_right: int
    hands_left: int
    hands_right: int
    feet: int
    arms: int
    high_counts: int
    high_run: int
    struck: int


def tempo_of(dance: Dance) -> float:
    """Return the counts a minute to plan with: as stated, the middle of a range, or 100 when nothing is said."""
    tempo = dance.tempo_bpm
    if tempo is None:
        return USUAL_BPM
    return sum(tempo) / 2 if isinstance(tempo, tuple) else tempo


def asks(dance: Dance) -> Asks:
    """Return what the dance asks of a dancer."""
    return Asks(_effort(dance), _load(dance), _lean(dance))


def effort_band(dance: Dance, *, counts_per_min: float | None = None) -> Band:
    """Return the effort of a dance as a band; ``counts_per_min`` of the song, or as :func:`tempo_of` says."""
    tempo = counts_per_min or tempo_of(dance)
    balance = balance_of(dance)
    body = "standing" if not dance.seated else "seated" if balance.feet else "arms"
    moves = (balance.feet + balance.arms) / max(dance.counts, 1) * tempo
    rows = [row for row in table("adapt/effort") if row["body"] == body and float(row["moves_per_min"]) <= moves]
    row = rows[-1]
    return Band(float(row["low"]), float(row["high"]), row["word"], row["basis"], tempo, moves)


def balance_of(dance: Dance) -> Balance:
    """Return what moves in one wall of a dance, by side and by limb."""
    actions = dance.actions
    feet = [action for action in actions if action.foot is not None]
    arms = [(action.at, arm) for action in actions for arm in action.arms if arm.gesture != "rest"]
    high = sorted({at.whole for at, arm in arms if arm.place in HIGH})
    sides = [arm.side for _, arm in arms]
    return Balance(
        feet_left=sum(a.foot is Foot.LEFT for a in feet),
        feet_right=sum(a.foot is Foot.RIGHT for a in feet),
        hands_left=sum(side is not Foot.RIGHT for side in sides),
        hands_right=sum(side is not Foot.LEFT for side in sides),
        feet=len({a.at for a in feet}),
        arms=len({at for at, _ in arms}),
        high_counts=len(high),
        high_run=_longest_run(high),
        struck=sum(a.verb in STRUCK for a in feet),
    )


def band_words(band: Band) -> str:
    """Return a band as a sentence: "light to moderate, 2.0 to 4.3 times the effort of sitting still (MET)"."""
    return f"{band.word}, {band.low:.1f} to {band.high:.1f} {UNIT} at {band.counts_per_min:.0f} counts a minute"


def balance_words(balance: Balance) -> list[str]:
    """Return the balance as sentences for one wall."""
    return [
        f"Feet: {balance.feet_left} left, {balance.feet_right} right. "
        f"Hands: {balance.hands_left} left, {balance.hands_right} right.",
        f"Feet move {_times(balance.feet)}, arms {_times(balance.arms)}.",
        f"Hands above the shoulders: {_counts(balance.high_counts)}, {balance.high_run} in a row at most."
        if balance.high_counts
        else "Hands stay at the shoulders or lower.",
        f"Stamps and landings: {balance.struck}.",
    ]


def asks_much(dance: Dance, *, counts_per_min: float | None = None) -> list[str]:
    """Return what passes a threshold of the cautions table: hands high for long, music much faster than the dance's."""
    table_of = cautions()
    said = []
    high, quick = table_of["bp_overhead"], table_of["tempo_cardiac"]
    run = balance_of(dance).high_run
    if run >= float(high.threshold):
        said.append(f"Hands are high for {run} counts in a row ({high.condition}: {high.adaptation}).")
    ratio = (counts_per_min or 0) / tempo_of(dance)
    if dance.tempo_bpm is not None and ratio >= float(quick.threshold):
        said.append(
            f"The music is {ratio:.1f} times as fast as the sheet says ({quick.condition}: {quick.adaptation})."
        )
    return said


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"


def _counts(number: int) -> str:
    return "1 count" if number == 1 else f"{number} counts"


def _longest_run(counts: list[int]) -> int:
    longest = run = int(bool(counts))
    for before, after in pairwise(counts):
        run = run + 1 if after == before + 1 else 1
        longest = max(longest, run)
    return longest


def _effort(dance: Dance) -> int:
    tempo = tempo_of(dance)
    high = sum(any(arm.place in HIGH for arm in action.arms) for action in dance.actions)
    hard = not dance.seated and any(action.verb in HARD_VERBS for action in dance.actions)
    return min(MOST, 1 + sum(tempo > least for least in FAST_BPM) + (high > ARMS_COUNTS) + hard)


def _load(dance: Dance) -> int:
    verbs = {(action.verb, action.dir) for action in dance.actions if action.foot}
    turns = any(action.turn_deg for action in dance.actions)
    quick = any(action.at.moment.denominator > 1 for action in dance.actions)
    return min(MOST, 1 + len(verbs) // 8 + turns + quick + bool(dance.tags or dance.restarts))


def _lean(dance: Dance) -> float:
    led = {Foot.RIGHT: 0, Foot.LEFT: 0}
    for action in dance.actions:
        if action.foot in led:
            led[action.foot] += 1
    both = sum(led.values())
    return (led[Foot.RIGHT] - led[Foot.LEFT]) / both if both else 0.0
