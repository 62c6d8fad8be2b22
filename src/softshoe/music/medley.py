"""Songs played into one another: where the tempo becomes another one, each part is counted by itself.

A drift is no medley: the two tempos must differ by more than a band drifts, and not as half and whole or as two and
three do, for those are ways to hear one tempo.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from softshoe.errors import Finding
from softshoe.music.beats import at_beats
from softshoe.music.moved import moved, moved_said
from softshoe.music.songmap import Confidence, Said, SongMap

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.engine import Heard

    FloatArray = NDArray[np.float64]

WINDOW_S, STEP_S = 12.0, 3.0
SHORTEST_S = 30.0  # of a part
PLACES = 60  # of an octave of tempo
APART = 0.07  # in octaves: tempos nearer than this are one that drifts
ALIKE = (np.log2(1.5), np.log2(4 / 3))  # two beats against three: one tempo heard in two ways
ALIKE_PLAY = 0.035
GAIN = 0.2  # how much more like itself each part must be at its own tempo than at one for both
OVERLAP_S = 6.0
PARTS = ("beats", "downbeats", "eights", "tempo", "metre")


def tempo_places(curve: FloatArray, hz: float) -> FloatArray:
    """Return how like itself each window is at each tempo of an octave, shape (windows, PLACES), about 0 to 1."""
    size, step = int(WINDOW_S * hz), int(STEP_S * hz)
    if len(curve) < size:
        return np.zeros((0, PLACES))
    gaps = 60 / (75 * 2 ** (np.arange(PLACES) / PLACES)) * hz  # 75 to 150 beats a minute
    rows = []
    for first in range(0, len(curve) - size + 1, step):
        piece = curve[first : first + size] - curve[first : first + size].mean()
        same = np.fft.irfft(np.abs(np.fft.rfft(piece, 2 * size)) ** 2)[: size // 2]
        same = same / max(1e-9, float(same[0])) * size / (size - np.arange(len(same)))
        lags = np.arange(len(same))
        rows.append(np.mean([np.interp(times * gaps, lags, same) for times in (1, 2, 4)], axis=0))
    table = np.array(rows)
    return np.asarray(np.maximum(table, np.maximum(np.roll(table, 1, axis=1), np.roll(table, -1, axis=1))))


def parts_of(curve: FloatArray, hz: float) -> list[float]:
    """Return the seconds at which another tempo begins, about; [] for a song of one tempo."""
    table = tempo_places(curve, hz)
    least = int(SHORTEST_S / STEP_S) - 1
    cuts = _cuts(table, 0, len(table), least)
    return [(cut * STEP_S) + (WINDOW_S - STEP_S) / 2 for cut in sorted(cuts)]


def _cuts(table: FloatArray, first: int, last: int, least: int) -> list[int]:
    if last - first < 2 * least:
        return []
    sums = np.concatenate([np.zeros((1, PLACES)), np.cumsum(table[first:last], axis=0)])
    n = last - first
    best, place = 0.0, 0
    for cut in range(least, n - least + 1):
        gain = float(sums[cut].max() + (sums[n] - sums[cut]).max() - sums[n].max())
        if gain > best:
            best, place = gain, cut
    if not place:
        return []
    one, two = int(sums[place].argmax()), int((sums[n] - sums[place]).argmax())
    away = abs(one - two) / PLACES
    away = min(away, 1 - away)
    alike = any(abs(away - min(x, 1 - x)) < ALIKE_PLAY for x in ALIKE)
    if best / min(place, n - place) < GAIN or away < APART or alike:
        return []
    cut = first + place
    return [*_cuts(table, first, cut, least), cut, *_cuts(table, cut, last, least)]


def counted_parts(heard: Heard, said: Said, cuts: list[float], seconds: float) -> SongMap | None:
    """Return the song with each part counted by itself; None when any of them has no beat."""
    edges = [0.0, *cuts, seconds]
    maps = []
    for first, last in pairwise(edges):
        begin, end = max(0.0, first - OVERLAP_S * (first > 0)), min(seconds, last + OVERLAP_S * (last < seconds))
        found = heard.piece(begin, end).counted(moved_said(_within(said, first, last), -begin))
        if found is None:
            return None
        maps.append(moved(found, begin))
    for k, cut in enumerate(cuts):
        at = _meeting(heard, maps[k], maps[k + 1], cut)
        maps[k], maps[k + 1] = _only(maps[k], -1.0, at), _only(maps[k + 1], at, seconds + 1)
    return None if any(len(part.beats_s) < 4 for part in maps) else _joined(maps, said)


def _within(said: Said, first: float, last: float) -> Said:
    """Return what was said of one part."""
    count = said.first_count_s
    ones = tuple(one for one in said.ones_s if first <= one < last)
    return Said(None, count if count is not None and first <= count < last else None, said.metre, (), ones)


def _meeting(heard: Heard, one: SongMap, two: SongMap, cut: float) -> float:
    """Return the moment near a cut up to which the beats of one part catch more sound, and then those of the other."""
    curve, hz = heard.beat_curve()
    moments = np.arange(cut - OVERLAP_S, cut + OVERLAP_S, 0.1)
    a, b = np.array(one.beats_s), np.array(two.beats_s)
    on_a, on_b = (at_beats(curve, hz, beats) - float(curve.mean()) for beats in (a, b))
    worth = [float(on_a[(a > moments[0]) & (a < t)].sum() + on_b[(b >= t) & (b < moments[-1])].sum()) for t in moments]
    return float(moments[int(np.argmax(worth))])


def _only(song: SongMap, first: float, last: float) -> SongMap:
    """Return the part of a map from one second until before another."""
    kept = [first <= start < last for start in song.phrases_s]
    sure = tuple(p for p, k in zip(song.confidence.phrases, kept, strict=True) if k)
    return replace(
        song,
        beats_s=tuple(t for t in song.beats_s if first <= t < last),
        downbeats_s=tuple(t for t in song.downbeats_s if first <= t < last),
        eights_s=tuple(t for t in song.eights_s if first <= t < last),
        phrases_s=tuple(t for t, k in zip(song.phrases_s, kept, strict=True) if k),
        confidence=replace(song.confidence, phrases=sure),
    )


def _joined(maps: list[SongMap], said: Said) -> SongMap:
    """Return parts one after another; tempo and metre are those of the longest."""
    longest = max(maps, key=lambda part: part.beats_s[-1] - part.beats_s[0])
    begins = next((p for p in maps if said.first_count_s in p.beats_s), maps[0])
    weights = np.array([len(part.beats_s) for part in maps], dtype=float)
    shares = {
        name: round(float(np.average([getattr(p.confidence, name) for p in maps], weights=weights)), 2)
        for name in PARTS
    }
    sure = Confidence(
        first_count=begins.confidence.first_count,
        phrases=tuple(p for part in maps for p in part.confidence.phrases),
        **shares,
    )
    return replace(
        longest,
        beats_s=tuple(t for part in maps for t in part.beats_s),
        downbeats_s=tuple(t for part in maps for t in part.downbeats_s),
        eights_s=tuple(t for part in maps for t in part.eights_s),
        phrases_s=tuple(t for part in maps for t in part.phrases_s),
        first_count_s=begins.first_count_s,
        end_s=maps[-1].end_s,
        confidence=sure,
        alternatives=begins.alternatives,
        said=said,
        findings=(_told(maps), *_once(maps)),
    )


def _told(maps: list[SongMap]) -> Finding:
    from softshoe.music.why import clock

    tempos = ", then ".join(f"{part.tempo_bpm:.0f} from {clock(part.beats_s[0])}" for part in maps)
    message = f"the tempo becomes another one: {tempos}"
    mend = "lay the dance on one of the parts, as in --from 0:00 --to " + clock(maps[1].beats_s[0])
    return Finding("note", "medley", None, None, message, mend)


def _once(maps: list[SongMap]) -> tuple[Finding, ...]:
    """Return what was found in any part, each once; only the last part's end is the song's."""
    found = {f.message: f for part in maps for f in part.findings if f.kind not in ("fade", "slow-opening")}
    found |= {f.message: f for f in maps[0].findings if f.kind == "slow-opening"}
    return tuple((found | {f.message: f for f in maps[-1].findings if f.kind == "fade"}).values())
