"""Hearing by rule: evidence from an engine, counted by the dynamic programmes of ``counted`` and ``bars``.

Whatever costs time (the evidence, the runs of beats through it, how much better than chance they are) is kept, so that
a new word of the listener's is answered at once.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.music.counted import Way, agrees, formed_again, hearings, reaches, ways_of
from softshoe.music.edges import edges, first_counts
from softshoe.music.engine import Pulse
from softshoe.music.notices import notices
from softshoe.music.other_ways import other_one
from softshoe.music.songmap import Alternative, Said, SongMap
from softshoe.music.sure import beat_gain, beat_likelihood, confidence, phrase_sureness

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.counted import Hearing
    from softshoe.music.edges import Edges
    from softshoe.music.engine import Engine, SampleArray

LEAST_BEATS = 8
CURVES = ("beat", "low", "snap", "harmony", "timbre", "loud_db")
RUN, GAIN, WAY = "run ", "gain ", "way "


@dataclass(frozen=True, slots=True, eq=False)
class HeardByRule:
    """Evidence, and what was found in it so far."""

    pulse: Pulse
    runs: dict[str, NDArray[np.int64]] = field(default_factory=dict)
    gains: dict[str, float] = field(default_factory=dict)
    ways: list[Way] = field(default_factory=list)
    pieces: dict[tuple[float, float], HeardByRule] = field(default_factory=dict)

    def counted(self, said: Said) -> SongMap | None:
        """Return the song counted; see ``engine.Heard``."""
        span = edges(self.pulse)
        heard, others = self._heard(span, said)
        if heard is None or len(heard.beats_s) < LEAST_BEATS:
            return None
        return _mapped(span, heard, others, said, beating=beat_likelihood(heard, self._gain(heard)))

    def _heard(self, span: Edges, said: Said) -> tuple[Hearing | None, list[Way]]:
        """Return the best way to hear the song, and the others; a way that won before is not looked for again."""
        open_tempo = not (said.tempo_bpm or said.taps_s)
        if open_tempo and self.ways:
            known = next((w for w in self.ways if agrees(w.beats_s, said) and reaches(w.beats_s, said)), None)
            if known is not None:
                return formed_again(self.pulse, known, said), [way for way in self.ways if way is not known]
        found = hearings(self.pulse, span, said, runs={} if said.taps_s else self.runs)
        if open_tempo and said == Said():
            self.ways.extend(ways_of(found))
        return (found[0], ways_of(found[1:])) if found else (None, [])

    def _gain(self, heard: Hearing) -> float:
        name = f"{GAIN}{heard.tempo_bpm:.0f}"
        if name not in self.gains:
            self.gains[name] = beat_gain(heard, self.pulse)
        return self.gains[name]

    def beat_curve(self) -> tuple[NDArray[np.float64], float]:
        """Return the evidence for beats, and its frames a second."""
        return self.pulse.beat, self.pulse.frames_hz

    def piece(self, first_s: float, last_s: float) -> HeardByRule:
        """Return what was heard from one second to another."""
        name = (round(first_s, 2), round(last_s, 2))
        if name not in self.pieces:
            self.pieces[name] = HeardByRule(self.pulse.between(first_s, last_s))
        return self.pieces[name]

    def arrays(self) -> dict[str, NDArray[Any]]:
        """Return all of it as arrays."""
        pulse = self.pulse
        found: dict[str, NDArray[Any]] = {name: getattr(pulse, name).astype(np.float32) for name in CURVES}
        if pulse.phrase is not None:
            found["phrase"] = pulse.phrase.astype(np.float32)
        found["hz"] = np.array([pulse.frames_hz, pulse.colour_hz])
        for number, way in enumerate(self.ways):
            found[f"{WAY}{number:02}"] = np.concatenate([[way.score, way.before_s], way.beats_s])
        return found | {RUN + k: v for k, v in self.runs.items()} | {k: np.array(v) for k, v in self.gains.items()}


class ByRule:
    """The listener that counts by rule what an engine hears."""

    name = "rules"

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.rate_hz = engine.rate_hz

    def heard(self, mono: SampleArray) -> HeardByRule:
        """Return what the engine hears, shape (n,) at ``rate_hz``."""
        pulse = self.engine.heard(mono)
        kept = {name: getattr(pulse, name).astype(np.float32).astype(np.float64) for name in CURVES}
        return HeardByRule(replace(pulse, **kept))  # as precise as what is kept, so that both count alike

    def recalled(self, arrays: dict[str, NDArray[Any]]) -> HeardByRule:
        """Return what was heard before."""
        frames_hz, colour_hz = (float(x) for x in arrays["hz"])
        curves = {name: arrays[name].astype(np.float64) for name in CURVES}
        phrase = arrays["phrase"].astype(np.float64) if "phrase" in arrays else None
        runs = {k.removeprefix(RUN): v for k, v in arrays.items() if k.startswith(RUN)}
        gains = {k: float(v) for k, v in arrays.items() if k.startswith(GAIN)}
        rows = [arrays[k] for k in sorted(arrays) if k.startswith(WAY)]
        ways = [Way(row[2:], float(row[0]), float(row[1])) for row in rows]
        return HeardByRule(Pulse(frames_hz=frames_hz, colour_hz=colour_hz, phrase=phrase, **curves), runs, gains, ways)


def _mapped(span: Edges, heard: Hearing, others: list[Way], said: Said, *, beating: float) -> SongMap:
    from softshoe.music.beats import pinned

    form, beats = heard.form, heard.beats_s
    weights = phrase_sureness(heard)
    starts = first_counts(heard.colour, form.phrases, beats, metre=form.metre, weights=weights)
    first, share = starts[0] if starts else (0, 0.3)
    if said.first_count_s is not None:
        beats, first = pinned(beats, said.first_count_s)
    sure = confidence(heard, others, said, beating=beating, first_count=share)
    seconds = [float(b) for b in beats]
    intro = form.phrases[:1] if form.phrases and form.phrases[0] < first else ()  # an intro is no phrase
    return SongMap(
        beats_s=tuple(seconds),
        downbeats_s=tuple(seconds[i] for i in form.downbeats),
        eights_s=tuple(seconds[i] for i in form.eights),
        phrases_s=tuple(seconds[i] for i in form.phrases[len(intro) :]),
        first_count_s=seconds[first],
        end_s=max(span.end_s, 0.0),
        tempo_bpm=said.tempo_bpm or heard.tempo_bpm,
        metre=form.metre,
        confidence=replace(sure, phrases=sure.phrases[len(intro) :]),
        alternatives=_alternatives(heard, others, starts, said, first),
        said=said,
        findings=notices(heard.beats_s, heard.before_s, span, said, beating=beating),
    )


def _alternatives(
    heard: Hearing, others: list[Way], starts: list[tuple[int, float]], said: Said, first: int
) -> tuple[Alternative, ...]:
    """Return half and double time, another one, other first counts, the other metre: what the listener left open."""
    tempo, metre, beats = said.tempo_bpm or heard.tempo_bpm, heard.form.metre, heard.beats_s
    first_s = said.first_count_s if said.first_count_s is not None else float(beats[first])
    found = []
    if not (said.tempo_bpm or said.taps_s):
        for times in (0.5, 2.0):
            near = [w for w in others if abs(np.log2(w.tempo_bpm / tempo / times)) < 0.06]
            likely = float(np.exp(3.5 * (near[0].score - heard.score))) if near else 0.05
            found.append(Alternative(tempo * times, first_s, metre, round(likely / (1 + likely), 2)))
    if said.first_count_s is None:
        found += [Alternative(tempo, float(beats[beat]), metre, round(share, 2)) for beat, share in starts[1:3]]
        if not said.ones_s:
            moved, likely = other_one(heard.evidence.bar, heard.evidence.phrase, heard.form)
            if first + moved < len(beats):
                found.append(Alternative(tempo, float(beats[first + moved]), metre, round(likely, 2)))
    if said.metre is None:
        likely = heard.three if metre == 4 else 1 - heard.three
        found.append(Alternative(tempo, first_s, 3 if metre == 4 else 4, round(likely, 2)))
    return tuple(sorted(found, key=lambda a: -a.confidence))
