"""Swing is heard in songs of which it is known, and never in an even one."""

from __future__ import annotations

import numpy as np
import pytest

from music.songs_made import RATE, drum
from softshoe.errors import MusicError
from softshoe.music.audio import Sound
from softshoe.music.document import song_from_json, song_json
from softshoe.music.songmap import Confidence, SongMap, Swing
from softshoe.music.swing import heard_swing, off_beats
from softshoe.music.why import why

EVENLY = {"eighths": (0.5,), "sixteenths": (0.25, 0.5, 0.75), "dotted": (0.5, 0.75), "late sixteenths": (0.5, 0.77)}


def played(
    places: tuple[float, ...], *, bpm: float, jitter_s: float = 0.0, beats: int = 72
) -> tuple[Sound, list[float]]:
    """Drums on every beat and cymbals on the beat and at these places of it; and where the beats are [s]."""
    rng = np.random.default_rng(3)
    beat_s = 60 / bpm
    at = [0.3 + k * beat_s for k in range(beats)]
    mono = np.zeros(int((at[-1] + 2) * RATE))
    for number, start_s in enumerate(at):
        for place, name in ((0.0, ("kick", "snare")[number % 2]), *((place, "hat") for place in (0.0, *places))):
            first = round((start_s + place * beat_s + float(rng.normal(0, jitter_s))) * RATE)
            mono[max(0, first) : max(0, first) + len(drum(name))] += drum(name)[: len(mono) - max(0, first)]
    both = np.stack([mono, mono]).astype(np.float32) * 0.5
    return Sound(np.repeat(both, 2, axis=1)), at


@pytest.mark.parametrize("bpm", [84, 132])
@pytest.mark.parametrize("name", EVENLY)
def test_an_even_song_is_never_called_swung(name: str, bpm: float) -> None:
    sound, beats = played(EVENLY[name], bpm=bpm, jitter_s=0.012)
    heard = heard_swing(off_beats(sound), beats)
    assert heard is None or heard.share == 0.5


@pytest.mark.parametrize("bpm", [84, 132])
@pytest.mark.parametrize("share", [0.6, 0.64, 2 / 3])
def test_a_song_that_swings_says_how_far(share: float, bpm: float) -> None:
    sound, beats = played((share,), bpm=bpm, jitter_s=0.006)
    heard = heard_swing(off_beats(sound), beats)
    assert heard is not None
    assert heard.share == pytest.approx(share, abs=0.025)
    assert heard.confidence >= 0.8
    assert not heard.triplets


def test_triplets_swing_and_are_told() -> None:
    sound, beats = played((1 / 3, 2 / 3), bpm=96)
    heard = heard_swing(off_beats(sound), beats)
    assert heard is not None
    assert heard.triplets
    assert heard.share == pytest.approx(2 / 3, abs=0.02)


def test_beats_told_a_little_late_change_nothing() -> None:
    sound, beats = played((2 / 3,), bpm=104)
    heard = heard_swing(off_beats(sound), [at_s + 0.02 for at_s in beats])
    assert heard is not None
    assert heard.share == pytest.approx(2 / 3, abs=0.025)


@pytest.mark.parametrize("places", [(), (1 / 3,), (0.75,)])
def test_where_nothing_clear_is_played_between_the_beats_nothing_is_said(places: tuple[float, ...]) -> None:
    sound, beats = played(places, bpm=108)
    assert heard_swing(off_beats(sound), beats) is None
    assert heard_swing(off_beats(sound), beats[:1]) is None


def test_swing_is_told_in_words_and_kept_in_the_map() -> None:
    beats = tuple(float(n) for n in range(64))
    song = SongMap(beats, beats[::4], beats[::8], beats[::32], 0.0, 64.0, 60.0, 4, Confidence(1, 1, 1, 1, 1, 1, (1, 1)),
                   swing=Swing(0.66, 0.9))  # fmt: skip
    assert "It swings: “&” comes late, about two thirds through the beat." in why(song)
    written = song_json(song)
    assert song_from_json(written) == song
    old = {key: value for key, value in written.items() if key != "swing"}
    assert song_from_json(old).swing is None
    for broken in (3, {"share": 0.66}, {"share": 2, "confidence": 1}, {"share": 0.6, "confidence": 1, "triplets": 4}):
        with pytest.raises(MusicError, match="swing"):
            song_from_json(written | {"swing": broken})
