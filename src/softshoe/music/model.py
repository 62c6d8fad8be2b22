"""Listening with the model: from sound to beats, eights, phrases and the first count, by a small trained network.

``listened`` stands where ``listen.listen`` stands and gives the same song map; ``ModelEar`` is an engine behind the
usual border. Nothing heavy is loaded before listening. What the listener says always wins.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.songmap import Alternative, Confidence, Said, SongMap

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.errors import Finding
    from softshoe.music.audio import Sound
    from softshoe.music.bars import Form
    from softshoe.music.edges import Edges
    from softshoe.music.engine import Pulse
    from softshoe.music.model_decode import AtBeats, Phrased
    from softshoe.music.songmap import MetreOfSong

    Array = NDArray[np.float32]
    FloatArray = NDArray[np.float64]
    SampleArray = NDArray[np.float32]

TAP_WIDTH_S, TAP_GAIN = 0.05, 6.0
BESIDE = 0.25  # of a beat: farther from it than this, a tap means another place
FAINT_GAIN = 6.0
DOUBT, LIFT, KEPT = -2.0, 1.0, 1000.0  # a beat that is hard to hear is given the benefit of the doubt
PLAIN_BEAT = 0.7  # odds beyond which a beat is plainly heard
PLAIN_START, WEAK_BEATS = 1.0, 3  # the first beat is heard more plainly still; so many before it that are not are cut
HEARD_AT_ALL = 1 / 3  # of the beats that are carried on, more than these are plainly heard
SAID_PLAY = 0.06
INAUDIBLE_DB, AT_ONCE_DB, CUT_BEAT = 55.0, 20.0, 0.97
LEAST_BEATS = 8
SLOWEST_DANCED_BPM, FASTEST_DANCED_BPM = 57.0, 172.0


@dataclass(frozen=True, slots=True, eq=False)
class Counted:
    """The song counted: beats at seconds and frames, form, and what speaks for them."""

    beats_s: FloatArray
    frames: NDArray[np.int64]
    at: AtBeats
    form: Form
    phrased: Phrased
    three: float
    beating: float

    @property
    def tempo_bpm(self) -> float:
        """Beats a minute: 60 over the usual length of a beat."""
        from softshoe.music.counted import usual_tempo

        return usual_tempo(self.beats_s)


def listened(sound: Sound, *, said: Said | None = None, where: str = "the song") -> SongMap:
    """Return the song, counted by the model.

    said : what the listener says; it wins over what is heard, and has confidence 1
    where : what to call the song in errors

    Raises MusicError when the sound is too short, silent, or has no beat at all; SettingError when what was said can't
    be.
    """
    from softshoe.music.by_model import ByModel
    from softshoe.music.listen import listen

    return listen(sound, said=said, where=where, by=ByModel())


def counted(heard: Array, said: Said) -> Counted | None:
    """Return the song counted from the model's likelihoods, or None when there are hardly any beats."""
    from softshoe.music.beats import refined
    from softshoe.music.model_decode import at_beats, at_one_speed, chained
    from softshoe.music.model_features import FRAMES_HZ

    gain, lengths = beat_gain(heard, said), _lengths(said)
    frames = at_one_speed(gain, lengths, chained(gain, lengths)[0])
    frames = carried_on(gain, lengths, plainly_begun(gain, frames))
    if len(frames) < LEAST_BEATS:  # hardly a beat here: the best of what there is, of which nobody will be sure
        frames, _ = chained(gain + FAINT_GAIN, lengths)
    if len(frames) < LEAST_BEATS:
        return None
    if not (said.tempo_bpm or said.taps_s):
        frames = danceable(heard, frames)
    frames = where_tapped(frames, said.taps_s)
    beats_s = np.maximum(refined(frames, heard[:, 0].astype(np.float64), FRAMES_HZ), 0.0)
    beats_s = reaching(beats_s[np.concatenate([[True], np.diff(beats_s) > 0.05])], said.first_count_s)
    frames = np.clip(np.rint(beats_s * FRAMES_HZ).astype(np.int64), 0, len(heard) - 1)
    at = at_beats(heard, frames)
    found, three = _in_metre(heard, frames, at, said, beats_s)
    spots = np.clip(frames[:, None] + np.arange(-1, 2), 0, len(heard) - 1)
    return Counted(beats_s, frames, at, found.form, found, three, float(heard[spots, 0].max(axis=1).mean()))


def plainly_begun(gain: FloatArray, frames: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the beats without several at the start that are hardly heard: there the tempo only reaches back."""
    plain = np.flatnonzero(gain[frames] > PLAIN_START)
    return frames[plain[0] :] if len(plain) and plain[0] >= WEAK_BEATS else frames


def carried_on(gain: FloatArray, lengths: NDArray[np.int64], frames: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the beats, carried on at their tempo where before and after them they are hard to hear."""
    if len(frames) < 2 * LEAST_BEATS:
        return frames
    soft = np.maximum(gain, DOUBT) + LIFT
    before = _onwards(soft[: frames[0] + 1][::-1], lengths, float(np.median(np.diff(frames[: 2 * LEAST_BEATS]))))
    after = _onwards(soft[frames[-1] :], lengths, float(np.median(np.diff(frames[-2 * LEAST_BEATS :]))))
    return np.concatenate([frames[0] - before[::-1], frames, frames[-1] + after])


def _onwards(soft: FloatArray, lengths: NDArray[np.int64], usual: float) -> NDArray[np.int64]:
    """Return beats after the first frame, at about the usual length; a few are only the ring of an end."""
    from softshoe.music.model_decode import chained

    gain = soft.copy()
    gain[0] += KEPT
    more = chained(gain, lengths[np.abs(lengths / usual - 1) < SAID_PLAY])[0]
    more = more[more > usual / 2] if more[0] == 0 else more[:0]
    heard = float((soft[more] > LIFT + PLAIN_BEAT).mean()) if len(more) else 0.0
    return more if len(more) >= LEAST_BEATS and heard > HEARD_AT_ALL else more[:0]


def danceable(heard: Array, frames: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return every other beat when they are too quick to dance to: the ones that more often begin a bar.

    When they are too slow to step on, as many come between them.
    """
    from softshoe.music.model_features import FRAMES_HZ

    tempo_bpm = 60 * FRAMES_HZ / float(np.mean(np.diff(frames)))
    if tempo_bpm < SLOWEST_DANCED_BPM:
        return np.sort(np.concatenate([frames, (frames[:-1] + frames[1:]) // 2]))
    if tempo_bpm <= FASTEST_DANCED_BPM:
        return frames
    return max((frames[k::2] for k in (0, 1)), key=lambda half: float(heard[half, 1].mean()))


def where_tapped(frames: NDArray[np.int64], taps_s: tuple[float, ...]) -> NDArray[np.int64]:
    """Return the beats; when most taps lie between them, the places between them all through the song."""
    from softshoe.music.model_features import FRAMES_HZ

    if len(taps_s) < 2 or len(frames) < LEAST_BEATS:
        return frames
    away = np.abs(np.subtract.outer(np.array(taps_s) * FRAMES_HZ, frames)).min(axis=1)
    if np.median(away) < BESIDE * float(np.median(np.diff(frames))):
        return frames
    return (frames[:-1] + frames[1:]) // 2


def reaching(beats_s: FloatArray, first_count_s: float | None) -> FloatArray:
    """Return the beats, with even ones before or after them where the listener counts one outside them."""
    if first_count_s is None or len(beats_s) < 2:
        return beats_s
    gap = float(np.median(np.diff(beats_s)))
    before = max(0, int(np.ceil((beats_s[0] - first_count_s) / gap - 0.5)))
    after = max(0, int(np.ceil((first_count_s - beats_s[-1]) / gap - 0.5)))
    early = beats_s[0] - gap * np.arange(before, 0, -1)
    return np.concatenate([early[early >= 0], beats_s, beats_s[-1] + gap * np.arange(1, after + 1)])


def beat_gain(heard: Array, said: Said) -> FloatArray:
    """Return what a beat at each frame gains, taps included."""
    from softshoe.music.model_decode import BEAT_LEANING, odds
    from softshoe.music.model_features import FRAMES_HZ

    gain = odds(heard[:, 0].astype(np.float64)) + BEAT_LEANING
    x = np.arange(len(gain)) / FRAMES_HZ
    for tap in said.taps_s:
        gain += TAP_GAIN * np.exp(-0.5 * ((x - tap) / TAP_WIDTH_S) ** 2)
    return np.asarray(gain)


def _lengths(said: Said) -> NDArray[np.int64]:
    """Return what beats may last: near what was said or tapped, else between the slowest and fastest danced to."""
    from softshoe.music.counted import tapped_tempo
    from softshoe.music.model_decode import lengths_for
    from softshoe.music.model_features import FRAMES_HZ

    told = said.tempo_bpm or (tapped_tempo(said.taps_s) if len(said.taps_s) > 1 else None)
    if told is None:
        return lengths_for(FRAMES_HZ)
    return lengths_for(FRAMES_HZ, slowest_bpm=told * (1 - SAID_PLAY), fastest_bpm=told * (1 + SAID_PLAY))


def _in_metre(
    heard: Array, frames: NDArray[np.int64], at: AtBeats, said: Said, beats_s: FloatArray
) -> tuple[Phrased, float]:
    """Return the better form of three and four in a bar, and the likelihood of three."""
    from softshoe.music.model_decode import TRIPLE_WEIGHT, odds, phrased

    start = None if said.first_count_s is None else int(np.abs(beats_s - said.first_count_s).argmin())
    ones = tuple(int(np.abs(beats_s - one).argmin()) for one in said.ones_s)
    metres: tuple[MetreOfSong, ...] = (said.metre,) if said.metre else (4, 3)
    forms = {metre: phrased(at, metre, must_start=start, ones=ones) for metre in metres}
    if said.metre:
        return forms[said.metre], float(said.metre == 3)
    lead = (forms[3].form.score - forms[4].form.score) / 8 + TRIPLE_WEIGHT / 8 * float(
        odds(heard[frames, 5].astype(np.float64)).mean()
    )
    three = float(1 / (1 + np.exp(-np.clip(lead, -30, 30))))
    return forms[3 if three > 0.5 else 4], three


def loudness_pulse(mono: SampleArray, heard: Array) -> Pulse:
    """Return the model's beats and the loudness of the song, without applause; harmony and timbre are left empty."""
    from dataclasses import replace

    from softshoe.music.ear import COLOUR_HOP, RATE_HZ, colour_of
    from softshoe.music.edges import without_applause
    from softshoe.music.engine import Pulse
    from softshoe.music.model_features import FRAMES_HZ

    harmony, timbre, loud = colour_of(mono)
    beat, nothing = heard[:, 0].astype(np.float64), np.zeros(len(heard))
    whole = Pulse(FRAMES_HZ, beat, nothing, nothing, RATE_HZ / COLOUR_HOP, harmony, timbre, loud)
    rows = len(loud)
    return replace(whole, loud_db=without_applause(whole), harmony=np.zeros((rows, 24)), timbre=np.zeros((rows, 1)))


def sounding(heard: Array, pulse: Pulse) -> Array:
    """Return likelihoods with no beat in the silence after the last sound, and one likely where a file begins at once.

    A beat that the start of a file cuts into has lost its onset; the tempo decides whether there is one.
    """
    last = np.flatnonzero(pulse.loud_db > pulse.loud_db.max() - INAUDIBLE_DB)
    end = round((int(last[-1]) + 1) / pulse.colour_hz * pulse.frames_hz) if len(last) else len(heard)
    found = heard.copy()
    found[end:, :4] = 0
    if len(last) and pulse.loud_db[0] > pulse.loud_db.max() - AT_ONCE_DB:
        found[0, 0] = max(float(found[0, 0]), CUT_BEAT)
    return found


def mapped(pulse: Pulse, heard: Array, song: Counted, said: Said) -> SongMap:
    """Return the song map of a counted song; ``pulse`` as ``loudness_pulse``."""
    from softshoe.music.beats import pinned
    from softshoe.music.edges import edges
    from softshoe.music.model_decode import first_counts

    form, beats = song.form, song.beats_s
    span = edges(pulse)
    starts = first_counts(song.phrased)
    first, share = starts[0]
    if said.first_count_s is not None:
        beats, first = pinned(beats, said.first_count_s)
    intro = sum(p < first for p in form.phrases)
    seconds = [float(b) for b in beats]
    return SongMap(
        beats_s=tuple(seconds),
        downbeats_s=tuple(seconds[i] for i in form.downbeats),
        eights_s=tuple(seconds[i] for i in form.eights),
        phrases_s=tuple(seconds[i] for i in form.phrases[intro:]),
        first_count_s=seconds[first],
        end_s=max(span.end_s, 0.0),
        tempo_bpm=said.tempo_bpm or song.tempo_bpm,
        metre=form.metre,
        confidence=confidence(song, said, share, intro),
        alternatives=_alternatives(heard, song, starts, said),
        said=said,
        findings=_findings(song, span, said),
    )


def _two(x: float) -> float:
    return round(float(np.clip(x, 0, 1)), 2)


def _likely(odds: FloatArray) -> float:
    """Return the mean likelihood of odds."""
    return float((1 / (1 + np.exp(-odds))).mean()) if len(odds) else 0.2


def confidence(song: Counted, said: Said, first_count: float, intro: int) -> Confidence:
    """Return how sure each part is; what was said is sure."""
    tapped = len(said.taps_s) > 1
    beats = 1.0 if tapped else song.beating
    downs = _likely(song.at.bar[list(song.form.downbeats)])
    eights = _likely(song.at.eight[list(song.form.eights)])
    phrases = 1 / (1 + np.exp(-song.at.phrase[list(song.form.phrases)]))
    metre = 1.0 if said.metre else max(song.three, 1 - song.three) * (0.6 + 0.4 * beats)
    return Confidence(
        beats=_two(beats),
        downbeats=_two(min(downs, beats)),
        eights=_two(min(eights, downs, beats)),
        first_count=_two(1.0 if said.first_count_s is not None else first_count * (0.4 + 0.6 * eights)),
        tempo=_two(1.0 if said.tempo_bpm or tapped else beats),
        metre=_two(metre),
        phrases=tuple(_two(p) for p in phrases[intro:]),
    )


def _alternatives(heard: Array, song: Counted, starts: list[tuple[int, float]], said: Said) -> tuple[Alternative, ...]:
    """Return half and double time, other first counts, the other metre: what was not settled by the listener."""
    from softshoe.music.other_ways import other_one

    tempo, metre, beats = said.tempo_bpm or song.tempo_bpm, song.form.metre, song.beats_s
    first_s = said.first_count_s if said.first_count_s is not None else float(beats[starts[0][0] if starts else 0])
    found = []
    if not (said.tempo_bpm or said.taps_s):
        between = np.clip(np.rint((song.frames[:-1] + song.frames[1:]) / 2).astype(int), 0, len(heard) - 1)
        double = float(heard[between, 0].mean())
        halves = [float(heard[song.frames[k::2], 0].mean()) for k in (0, 1)]
        half = 0.5 * (1 - min(halves) / max(*halves, 1e-9))
        found += [
            Alternative(tempo * times, first_s, metre, _two(0.03 + 0.5 * x))
            for times, x in ((0.5, half), (2.0, double))
        ]
    if said.first_count_s is None:
        found += [Alternative(tempo, float(beats[beat]), metre, _two(share)) for beat, share in starts[1:3]]
        moved, likely = other_one(song.at.bar, song.at.eight, song.form)
        place = (starts[0][0] if starts else 0) + moved
        if place < len(beats) and not said.ones_s:
            found.append(Alternative(tempo, float(beats[place]), metre, _two(likely)))
    if said.metre is None:
        likely = song.three if metre == 4 else 1 - song.three
        found.append(Alternative(tempo, first_s, 3 if metre == 4 else 4, _two(likely)))
    return tuple(sorted(found, key=lambda a: -a.confidence))


def _findings(song: Counted, span: Edges, said: Said) -> tuple[Finding, ...]:
    """Return what the leader should know of the song before she trusts the count."""
    from softshoe.music.notices import notices

    before_s = max(0.0, float(song.beats_s[0]) - span.first_s)
    return notices(song.beats_s, before_s, span, said, beating=song.beating)


class ModelEar:
    """Hears with the model, behind the border that every engine has."""

    def __init__(self) -> None:
        from softshoe.music.ear import Ear

        self.plain = Ear()
        self.rate_hz = self.plain.rate_hz

    def heard(self, mono: SampleArray) -> Pulse:
        """Return the evidence in one channel of sound, shape (n,), at ``rate_hz``: beats and phrases by the model."""
        from dataclasses import replace

        from softshoe.music.model_features import FRAMES_HZ, features
        from softshoe.music.model_net import likelihoods

        plain = self.plain.heard(mono)
        found = likelihoods(features(mono)).astype(np.float64)
        x, own = np.arange(len(plain.beat)) / plain.frames_hz, np.arange(len(found)) / FRAMES_HZ
        return replace(plain, beat=np.interp(x, own, found[:, 0]), phrase=np.interp(x, own, found[:, 3]))
