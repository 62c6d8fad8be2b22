"""One way to hear a song: the beats of one tempo, its metre, bars and phrases; and the choice between such ways."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.bars import Form, form, metre_odds
from softshoe.music.beats import at_beats, even, led_in, refined, steadiness, tempos, tracked
from softshoe.music.colour import Beatwise, beatwise, evidence
from softshoe.music.edges import steady_span

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.bars import Evidence
    from softshoe.music.edges import Edges
    from softshoe.music.engine import Pulse
    from softshoe.music.songmap import MetreOfSong, Said

    FloatArray = NDArray[np.float64]
    Frames = NDArray[np.int64]

CLOSE = 1.5  # ways to hear a song whose scores differ by more than this need no second thought
EVEN_GAIN = 0.1  # music made to a machine's click is common
SAID_PLAY = 0.06  # how far beats may wander from the tempo that was said
START_S = 0.2  # a beat so near the start of the file may be cut into by it
AGREE = 0.2  # of a beat: so far from a beat may be what the listener marked
MISFIT = 5.0  # what a way to hear the song loses that has no beat where the listener marked one
TAP_WIDTH_S, TAP_WEIGHT = 0.05, 1.5
METRES: tuple[MetreOfSong, MetreOfSong] = (4, 3)


@dataclass(frozen=True, slots=True, eq=False)
class Hearing:
    """The song heard at one tempo. ``steady`` is how plain each beat is; ``three`` the likelihood of three in a bar."""

    beats_s: FloatArray
    steady: FloatArray
    colour: Beatwise
    evidence: Evidence
    form: Form
    three: float
    score: float
    before_s: float = 0.0  # how long sound without a pulse went on before the first beat

    @property
    def share(self) -> float:
        """How much of the sound up to the last beat has beats, 0 to 1."""
        return float(1 - max(0.0, self.before_s) / max(1e-9, self.beats_s[-1] - self.beats_s[0] + self.before_s))

    @property
    def tempo_bpm(self) -> float:
        """Beats a minute: 60 over the usual length of a beat."""
        return usual_tempo(self.beats_s)

    @property
    def barred(self) -> float:
        """How plainly bars begin where they are said to, about 0 to 1.5."""
        downs = list(self.form.downbeats)
        return float(self.evidence.bar[downs].mean()) if downs else 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """A way to hear the song that lost, or that won before: its beats and what spoke for it."""

    beats_s: FloatArray
    score: float
    before_s: float = 0.0

    @property
    def tempo_bpm(self) -> float:
        """Beats a minute: 60 over the usual length of a beat."""
        return usual_tempo(self.beats_s)


def ways_of(heard: list[Hearing]) -> list[Way]:
    """Return what is worth keeping of hearings."""
    return [Way(h.beats_s, h.score, h.before_s) for h in heard]


def agrees(beats_s: FloatArray, said: Said) -> bool:
    """Return whether there is a beat wherever the listener marked a one."""
    gap = 60 / max(1e-9, usual_tempo(beats_s))
    return all(float(np.abs(beats_s - one).min()) < AGREE * gap for one in said.ones_s)


def reaches(beats_s: FloatArray, said: Said) -> bool:
    """Return whether the first count that the listener says lies among the beats."""
    at = said.first_count_s
    return at is None or bool(beats_s[0] <= at <= beats_s[-1])


def formed_again(pulse: Pulse, way: Way, said: Said) -> Hearing:
    """Return a way to hear the song with the form that suits it and what the listener said."""
    steady = steadiness(way.beats_s, pulse.beat, pulse.frames_hz)
    heard = _formed(pulse, way.beats_s, steady, beatwise(pulse, way.beats_s), said, before_s=way.before_s)
    return replace(heard, score=way.score)


def usual_tempo(beats_s: FloatArray) -> float:
    """Return beats a minute from spans of 8 beats, which differ less than single beats; 0 for fewer than two beats."""
    if len(beats_s) < 2:
        return 0.0
    span = min(8, len(beats_s) - 1)
    return float(60 * span / np.median(beats_s[span:] - beats_s[:-span]))


def hearing(
    pulse: Pulse, edges: Edges, *, bpm: float, said: Said, curve: FloatArray, runs: dict[str, Frames]
) -> Hearing | None:
    """Return the song heard near one tempo, or None when no beats are found. Runs of beats are kept in ``runs``."""
    play = SAID_PLAY if said.tempo_bpm or said.taps_s else 0.14
    name = f"{bpm:.3f} {play}"
    if name not in runs:
        runs[name] = tracked(curve, pulse.frames_hz, bpm=bpm, play=play)
    beats_s = refined(runs[name], curve, pulse.frames_hz)
    return heard_at(beats_s, pulse, edges, gap_s=60 / bpm, said=said, curve=curve)


def heard_at(
    beats_s: FloatArray, pulse: Pulse, edges: Edges, *, gap_s: float, said: Said, curve: FloatArray
) -> Hearing | None:
    """Return the song heard with beats given from the start of the file to its end; None when few are in the music."""
    beats_s = led_in(beats_s)
    beats_s = beats_s[_inside(beats_s, edges, gap_s, said)]
    beats_s = beats_s[np.concatenate([[True], np.diff(beats_s) > 0.3 * gap_s])] if len(beats_s) else beats_s
    if len(beats_s) < 4:
        return None
    steady = steadiness(beats_s, curve, pulse.frames_hz)
    first, last = steady_span(
        steadiness(beats_s, curve, pulse.frames_hz, ahead=True),
        np.sqrt(at_beats(curve, pulse.frames_hz, beats_s)),
        at_beats(pulse.loud_db, pulse.colour_hz, beats_s + 0.4 * gap_s, reach_s=0.0),
    )
    if first == 1 and beats_s[0] < START_S:
        first = 0  # too soft to be heard, or cut into by the file's start: it is counted all the same
    if said.first_count_s is not None:
        first = min(first, int(np.abs(beats_s - said.first_count_s).argmin()))
    beats_s, steady = beats_s[first:last], steady[first:last]
    if len(beats_s) < 4:
        return None
    colour = beatwise(pulse, beats_s)
    return _formed(pulse, beats_s, steady, colour, said, before_s=float(beats_s[0]) - edges.first_s)


def _inside(beats_s: FloatArray, edges: Edges, gap_s: float, said: Said) -> NDArray[np.bool_]:
    """Return which beats are in the music, or reach to where the listener counts one."""
    # A beat on which nothing more sounds is none.
    last_s = edges.last_s if edges.fades else edges.end_s - 0.35 * gap_s
    inside = (beats_s > edges.first_s - min(0.15, gap_s / 3)) & (beats_s < last_s)
    if said.first_count_s is not None:
        reach = (min(said.first_count_s, edges.first_s) - 0.6 * gap_s, said.first_count_s + 4 * gap_s)
        inside |= (beats_s > reach[0]) & (beats_s < reach[1])
    return np.asarray(inside & (beats_s >= 0))


def _formed(
    pulse: Pulse, beats_s: FloatArray, steady: FloatArray, colour: Beatwise, said: Said, *, before_s: float
) -> Hearing:
    """Return beats with the metre and form that suit them best."""
    start = None if said.first_count_s is None else int(np.abs(beats_s - said.first_count_s).argmin())
    found = {m: evidence(pulse, beats_s, colour, m) for m in METRES}
    three = metre_odds(found[4].bar)
    metre: MetreOfSong = said.metre or (3 if three > 0.5 else 4)
    if said.metre:
        three = float(metre == 3)
    ones = tuple(int(np.abs(beats_s - one).argmin()) for one in said.ones_s)
    best = form(found[metre], metre, must_start=start, ones=ones)
    return Hearing(beats_s, steady, colour, found[metre], best, three, 0.0, before_s)


def tapped_curve(pulse: Pulse, said: Said) -> FloatArray:
    """Return the beat evidence, with what the listener tapped added to it."""
    if not said.taps_s:
        return pulse.beat
    x = np.arange(len(pulse.beat)) / pulse.frames_hz
    curve = pulse.beat.copy()
    for tap in said.taps_s:
        near = np.abs(x - tap) < 4 * TAP_WIDTH_S
        curve[near] += TAP_WEIGHT * np.exp(-0.5 * ((x[near] - tap) / TAP_WIDTH_S) ** 2)
    return curve


def tapped_tempo(taps_s: tuple[float, ...]) -> float:
    """Return the tempo of taps, some of which may be missing. [beats a minute]"""
    gaps = np.diff(np.array(taps_s))
    usual = float(np.median(gaps))
    whole = np.maximum(1, np.rint(gaps / usual))
    return float(60 * whole.sum() / gaps.sum())


def hearings(pulse: Pulse, edges: Edges, said: Said, *, runs: dict[str, Frames]) -> list[Hearing]:
    """Return the ways to hear the song, best first. What was said leaves only one tempo.

    runs : beats found before in the same evidence, by tempo and play; what is found now is added
    """
    curve = tapped_curve(pulse, said)
    told = said.tempo_bpm or (tapped_tempo(said.taps_s) if len(said.taps_s) > 1 else None)
    if told:
        one = hearing(pulse, edges, bpm=told, said=said, curve=curve, runs=runs)
        others = _shifted(pulse, edges, one, said, curve) if one and not said.taps_s else []
        return sorted([one, *others], key=lambda h: -h.score) if one else []
    found: list[Hearing] = []
    for tempo in tempos(curve, pulse.frames_hz):
        heard = hearing(pulse, edges, bpm=tempo.bpm, said=said, curve=curve, runs=runs)
        if heard is not None and not any(abs(np.log2(heard.tempo_bpm / h.tempo_bpm)) < 0.04 for h in found):
            found.append(scored(heard, curve, pulse.frames_hz, weight=tempo.weight))
    found.sort(key=lambda h: -h.score)
    close = [heard for heard in found[:2] if found[0].score - heard.score < CLOSE]
    others = [other for heard in close for other in _shifted(pulse, edges, heard, said, curve)]
    return sorted(found + others, key=lambda h: MISFIT * (not agrees(h.beats_s, said)) - h.score)


def _shifted(pulse: Pulse, edges: Edges, heard: Hearing, said: Said, curve: FloatArray) -> list[Hearing]:
    """Return the same tempo heard in other places: at even times, and halfway between, in case an off-beat misled."""
    level = even(curve, pulse.frames_hz, bpm=heard.tempo_bpm)
    gap_s = 60 / heard.tempo_bpm
    step_s = float(level[1] - level[0]) if len(level) > 1 else gap_s
    between = np.concatenate([heard.beats_s[:1] - 0.5 * gap_s, heard.beats_s + 0.5 * gap_s])
    between[1:-1] = heard.beats_s[:-1] + 0.5 * np.diff(heard.beats_s)
    found = []
    for beats_s, more in ((level, EVEN_GAIN), (level + 0.5 * step_s, EVEN_GAIN), (between, 0.0)):
        other = heard_at(beats_s, pulse, edges, gap_s=gap_s, said=said, curve=curve)
        if other is not None:
            gain = _worth(other, curve, pulse.frames_hz) - _worth(heard, curve, pulse.frames_hz) + more
            found.append(replace(other, score=heard.score + gain))
    return found


def _worth(heard: Hearing, curve: FloatArray, frames_hz: float) -> float:
    """Return what speaks for beats at a tempo: what makes bars, what sounds on the beats and not between them."""
    on = np.sqrt(at_beats(curve, frames_hz, heard.beats_s))
    weaker, stronger = sorted((float(on[::2].mean()), float(on[1::2].mean())))
    empty = 1 - weaker / max(stronger, 1e-9)  # near 1 when every other beat is silent: the tempo is half of this
    worth = heard.barred + 1.2 * float(on.mean()) + 0.8 * float(heard.steady.mean()) - max(0.0, empty - 0.25)
    return worth * heard.share


def scored(heard: Hearing, curve: FloatArray, frames_hz: float, *, weight: float) -> Hearing:
    """Return the hearing with a score to compare tempos by; ``weight`` says how well the tempo itself repeats."""
    return replace(heard, score=float(1.6 * np.log(max(weight, 1e-3)) + _worth(heard, curve, frames_hz)))
