"""A plain rhythm of our own on given counts, for films and tracks that carry nobody's recording.

It follows the counts wherever they fall, so it keeps the tempo curve of the song it stands for. Count one has a sound
of its own. Soft drums, a low bass note and brushes; nothing that clicks.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.render.score import Note

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.render.band import Samples

Style = Literal["straight", "waltz"]
G2, D2 = 43, 38
SHORTEST_HALVED_S = 0.42


@dataclass(frozen=True, slots=True)
class Pulse:
    """One count: when, how long until the next, and its number (1 to 8, or 1 to 6 in a waltz)."""

    at_s: float
    step_s: float
    number: int


Stroke = tuple[str, float, tuple[int, ...]]  # instrument, strength, pitches
Strokes = dict[int, tuple[Stroke, ...]]

STRAIGHT: Strokes = {
    1: (("kick", 1.0, ()), ("bass", 0.9, (G2,)), ("low_block", 0.55, ())),
    2: (("snare", 0.6, ()), ("hat", 0.5, ())),
    3: (("kick", 0.7, ()), ("bass", 0.6, (D2,)), ("hat", 0.6, ())),
    4: (("snare", 0.6, ()), ("hat", 0.5, ())),
    5: (("kick", 0.9, ()), ("bass", 0.8, (G2,)), ("hat", 0.6, ())),
    6: (("snare", 0.6, ()), ("hat", 0.5, ())),
    7: (("kick", 0.7, ()), ("bass", 0.6, (D2,)), ("hat", 0.6, ())),
    8: (("snare", 0.7, ()), ("hat", 0.5, ())),
}
WALTZ: Strokes = {
    1: (("kick", 1.0, ()), ("bass", 0.9, (G2,)), ("low_block", 0.55, ())),
    2: (("snare", 0.35, ()), ("hat", 0.5, ())),
    3: (("snare", 0.35, ()), ("hat", 0.5, ())),
    4: (("kick", 0.8, ()), ("bass", 0.75, (D2,)), ("hat", 0.6, ())),
    5: (("snare", 0.35, ()), ("hat", 0.5, ())),
    6: (("snare", 0.45, ()), ("hat", 0.5, ())),
}
STROKES: dict[Style, Strokes] = {"straight": STRAIGHT, "waltz": WALTZ}


def groove(pulses: Sequence[Pulse], *, style: Style, length_s: float, swing: float = 0.5) -> Samples:
    """Return the rhythm on the counts as (2, n) float32 at 44,100 Hz, silent where there is no count.

    swing : where "&" falls between two counts, 0.5 half way.
    """
    from softshoe.render.band import played

    return played(groove_notes(pulses, style=style, swing=swing), length_s=length_s)


def groove_notes(pulses: Sequence[Pulse], *, style: Style, swing: float = 0.5) -> Iterator[Note]:
    """Give the strokes of the rhythm; counts with time between them get a soft shaker on "&", as the song swings."""
    strokes = STROKES[style]
    for pulse in pulses:
        for instrument, strength, pitches in strokes[(pulse.number - 1) % len(strokes) + 1]:
            length_s = min(1.2, 1.6 * pulse.step_s) if pitches else 0.0
            yield Note(instrument, pulse.at_s, round(length_s, 2), pitches, strength)
        if style == "straight" and pulse.step_s >= SHORTEST_HALVED_S:
            yield Note("shaker", pulse.at_s + pulse.step_s * swing, 0.0, (), 0.5)
