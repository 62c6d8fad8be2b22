"""Listening to a song: from sound to beats, bars, counts of eight, phrases and the first count, and how sure each is.

What the listener says always wins: a tempo, a first count, a metre, taps. Nothing heavy is loaded before listening.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.errors import Finding, MusicError, SettingError
from softshoe.music.songmap import Alternative, Said, SongMap

if TYPE_CHECKING:
    from softshoe.music.audio import Sound
    from softshoe.music.counted import Hearing
    from softshoe.music.edges import Edges
    from softshoe.music.engine import Engine, Pulse

SHORTEST_S = 12.0
SILENCE = 3e-4  # a recording that never rises over about -70 dB is silence
LEAST_BEATS = 8
SLOWEST_SAID_BPM, FASTEST_SAID_BPM = 30.0, 260.0
DRIFT = 0.03
LONG_OPENING_S = 2.5


def listen(sound: Sound, *, said: Said | None = None, where: str = "the song", engine: Engine | None = None) -> SongMap:
    """Return the song, counted.

    said : what the listener says; it wins over what is heard, and has confidence 1
    where : what to call the song in errors
    engine : the ear to use; the usual one when None

    Raises MusicError when the sound is too short, silent, or has no beat at all; SettingError when what was said can't
    be.
    """
    from softshoe.music.counted import hearings
    from softshoe.music.edges import edges
    from softshoe.music.engine import engine as usual

    said = said or Said()
    _sayable(said, sound.seconds)
    _countable(sound, where)
    ear = engine or usual()
    pulse = ear.heard(sound.mono(ear.rate_hz))
    span = edges(pulse)
    ways = hearings(pulse, span, said)
    if not ways or len(ways[0].beats_s) < LEAST_BEATS:
        raise MusicError(where, "no steady beat here", "nothing in this sound comes again and again at even times",
                         "tap the beat along with the song, or give its tempo")  # fmt: skip
    return _mapped(sound, pulse, span, ways, said)


def _sayable(said: Said, seconds: float) -> None:
    """Refuse what can't be true of this song."""
    if said.tempo_bpm is not None and not SLOWEST_SAID_BPM <= said.tempo_bpm <= FASTEST_SAID_BPM:
        raise SettingError("tempo", f"{said.tempo_bpm:g} beats a minute can't be danced",
                           f"songs have between {SLOWEST_SAID_BPM:.0f} and {FASTEST_SAID_BPM:.0f}",
                           "count the beats in 15 seconds and multiply by four")  # fmt: skip
    if said.first_count_s is not None and not 0 <= said.first_count_s < seconds:
        raise SettingError("first count", f"{said.first_count_s:g} s is not in the song",
                           f"the song lasts {seconds:.1f} s", "give the second at which you count one")  # fmt: skip
    if said.metre not in (None, 3, 4):
        what = f"{said.metre} in a bar can't be counted here"
        raise SettingError("metre", what, "dances are counted in threes or fours", "say 3 for a waltz, 4 for all else")
    taps = said.taps_s
    rising = all(a < b for a, b in pairwise(taps))
    if taps and (len(taps) < 2 or not rising or taps[0] < 0 or taps[-1] > seconds + 1):
        why = "they are fewer than two, not in order, or later than its end"
        raise SettingError("taps", "these taps are not of this song", why, "tap along with the song from its start")


def _countable(sound: Sound, where: str) -> None:
    """Refuse sound that can't be a song."""
    if sound.seconds < SHORTEST_S:
        raise MusicError(where, f"only {sound.seconds:.1f} s of sound, too short to count",
                         "a beat and its counts of eight are sure only after some bars",
                         f"use a recording of at least {SHORTEST_S:.0f} s, best the whole song")  # fmt: skip
    if max(float(sound.samples.max()), -float(sound.samples.min())) < SILENCE:
        raise MusicError(where, "the recording is silent", "nothing in it is loud enough to hear",
                         "check that the right file was chosen, and record or copy the song again")  # fmt: skip


def _mapped(sound: Sound, pulse: Pulse, span: Edges, ways: list[Hearing], said: Said) -> SongMap:
    from softshoe.music.beats import pinned
    from softshoe.music.edges import first_counts
    from softshoe.music.sure import beat_likelihood, confidence, phrase_sureness

    heard = ways[0]
    form = heard.form
    beats = heard.beats_s
    weights = phrase_sureness(heard)
    starts = first_counts(heard.colour, form.phrases, beats, metre=form.metre, weights=weights)
    first, share = starts[0] if starts else (0, 0.3)
    if said.first_count_s is not None:
        beats, first = pinned(beats, said.first_count_s)
    beating = beat_likelihood(heard, pulse)
    sure = confidence(ways, said, beating=beating, first_count=share)
    seconds = [float(b) for b in beats]
    intro = form.phrases[:1] if form.phrases and form.phrases[0] < first else ()  # an intro is no phrase
    sure = replace(sure, phrases=sure.phrases[len(intro) :])
    others = _alternatives(ways, starts, said)
    return SongMap(
        beats_s=tuple(seconds),
        downbeats_s=tuple(seconds[i] for i in form.downbeats),
        eights_s=tuple(seconds[i] for i in form.eights),
        phrases_s=tuple(seconds[i] for i in form.phrases[len(intro) :]),
        first_count_s=seconds[first],
        end_s=min(sound.seconds, max(span.end_s, 0.0)),
        tempo_bpm=said.tempo_bpm or heard.tempo_bpm,
        metre=form.metre,
        confidence=sure,
        alternatives=others,
        said=said,
        findings=(*sound.findings, *_findings(heard, span, said, beating)),
    )


def _alternatives(ways: list[Hearing], starts: list[tuple[int, float]], said: Said) -> tuple[Alternative, ...]:
    """Return half and double time, other first counts, the other metre: what was not settled by the listener."""
    import numpy as np

    heard = ways[0]
    tempo, metre, beats = said.tempo_bpm or heard.tempo_bpm, heard.form.metre, heard.beats_s
    first_s = said.first_count_s if said.first_count_s is not None else float(beats[starts[0][0] if starts else 0])
    found = []
    if not (said.tempo_bpm or said.taps_s):
        for times in (0.5, 2.0):
            near = [w for w in ways[1:] if abs(np.log2(w.tempo_bpm / tempo / times)) < 0.06]
            likely = float(np.exp(3.5 * (near[0].score - heard.score))) if near else 0.05
            found.append(Alternative(tempo * times, first_s, metre, round(likely / (1 + likely), 2)))
    if said.first_count_s is None:
        found += [Alternative(tempo, float(beats[beat]), metre, round(share, 2)) for beat, share in starts[1:3]]
    if said.metre is None:
        likely = heard.three if metre == 4 else 1 - heard.three
        found.append(Alternative(tempo, first_s, 3 if metre == 4 else 4, round(likely, 2)))
    return tuple(sorted(found, key=lambda a: -a.confidence))


def _findings(heard: Hearing, span: Edges, said: Said, beating: float) -> tuple[Finding, ...]:
    """Return what the leader should know of the song before she trusts the count."""
    from softshoe.music.beats import drift
    from softshoe.music.sure import NO_BEAT

    found = []
    if beating < NO_BEAT and not said.taps_s:
        message = "no steady beat: the beats found may be no beats at all"
        mend = "tap the beat along with the song, or give its tempo"
        found.append(Finding("warning", "no-steady-beat", None, None, message, mend))
    if heard.before_s > LONG_OPENING_S:
        message = f"the beat begins after an opening of {heard.before_s:.0f} s that carries no counts"
        found.append(Finding("note", "slow-opening", None, None, message, "count from the first steady beat"))
    share, place_s = drift(heard.beats_s)
    if share > DRIFT:
        message = f"the tempo changes by {share:.0%}, most at {int(place_s // 60)}:{int(place_s % 60):02d}"
        found.append(Finding("note", "tempo-changes", None, None, message, "listen to that place before you teach it"))
    if span.fades:
        found.append(
            Finding("note", "fade", None, None, "the song fades out", "end after a whole wall, before the fade")
        )
    return tuple(found)
