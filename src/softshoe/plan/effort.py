"""How much a dance asks: effort, learning load (1 to 5) and the share of each side. The numbers are our own choices."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

HIGH = {"overhead", "head"}
HARD_VERBS = {"hitch", "stomp", "stomp-up", "kick", "jump", "hop"}
FAST_BPM = (100.0, 116.0)
ARMS_COUNTS = 8
MOST = 5
USUAL_BPM = 100.0


@dataclass(frozen=True, slots=True)
class Asks:
    """Effort and load from 1 to 5; ``lean`` is (right-led counts − left-led counts) / counts, −1 to 1."""

    effort: int
    load: int
    lean: float


def tempo_of(dance: Dance) -> float:
    """Return the counts a minute to plan with: as stated, the middle of a range, or 100 when nothing is said."""
    tempo = dance.tempo_bpm
    if tempo is None:
        return USUAL_BPM
    return sum(tempo) / 2 if isinstance(tempo, tuple) else tempo


def asks(dance: Dance) -> Asks:
    """Return what the dance asks of a dancer."""
    return Asks(_effort(dance), _load(dance), _lean(dance))


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
