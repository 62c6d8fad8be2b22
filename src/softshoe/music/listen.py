"""Listening to a song: from sound to beats, bars, counts of eight, phrases and the first count, and how sure each is.

What the listener says always wins: a tempo, a first count, a metre, taps. Nothing heavy is loaded before listening.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.music.notices import check_said, check_sound, no_beat, notices
from softshoe.music.songmap import Alternative, Said, SongMap

if TYPE_CHECKING:
    from softshoe.music.audio import Sound
    from softshoe.music.counted import Hearing
    from softshoe.music.edges import Edges
    from softshoe.music.engine import Engine, Pulse

LEAST_BEATS = 8


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
    check_said(said, sound.seconds)
    check_sound(sound, where)
    ear = engine or usual()
    pulse = ear.heard(sound.mono(ear.rate_hz))
    span = edges(pulse)
    ways = hearings(pulse, span, said)
    if not ways or len(ways[0].beats_s) < LEAST_BEATS:
        raise no_beat(where)
    return _mapped(sound, pulse, span, ways, said)


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
        findings=(*sound.findings, *notices(heard.beats_s, heard.before_s, span, said, beating=beating)),
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
