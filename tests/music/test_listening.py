"""Listening on songs made here, of which everything is known."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from music.songs_made import CHORUS, VERSE, Part, Recipe, Song, click_track, common, made
from softshoe.errors import MusicError, SettingError
from softshoe.music.audio import Sound
from softshoe.music.listen import Hearsay, counted, hears, listen
from softshoe.music.songmap import Said, SongMap

RATE = 44_100
pytestmark = pytest.mark.media


@cache
def song_and_hearsay(recipe: Recipe) -> tuple[Song, Hearsay]:
    song = made(recipe)
    return song, hears(song.sound)


@cache
def song_heard(recipe: Recipe) -> tuple[Song, SongMap]:
    song, heard = song_and_hearsay(recipe)
    return song, counted(heard)


def sound_of(wave: np.ndarray) -> Sound:
    return Sound(np.stack([wave, wave]).astype(np.float32), RATE)


def share_found(found: tuple[float, ...], truth: np.ndarray, *, within_s: float) -> float:
    """Return the lower of: the share of the truth that was found, the share of what was found that is true."""
    if not found:
        return 0.0
    away = np.abs(np.array(found)[:, None] - truth[None])
    return float(min((away.min(axis=0) < within_s).mean(), (away.min(axis=1) < within_s).mean()))


PLAIN = [
    Recipe(common(), bpm=112, style="pop"),
    Recipe(common(intro=32), bpm=124, style="disco"),
    Recipe(common(), bpm=96, style="country"),
    Recipe(common(), bpm=84, style="swing"),
    Recipe(common(), bpm=138, style="sixteens"),
    Recipe(common(intro=12, metre=3), bpm=108, style="waltz", metre=3),
]


@pytest.mark.parametrize("recipe", PLAIN, ids=lambda r: f"{r.style}-{r.bpm:.0f}")
def test_a_plain_song_is_counted_rightly_from_beat_to_first_count(recipe: Recipe) -> None:
    song, heard = song_heard(recipe)
    assert heard.tempo_bpm == pytest.approx(recipe.bpm, rel=0.005)
    assert heard.metre == recipe.metre
    assert share_found(heard.beats_s, song.beats, within_s=0.035) > 0.98
    assert share_found(heard.downbeats_s, song.downbeats, within_s=0.05) > 0.97
    assert share_found(heard.phrases_s, song.phrases[1:], within_s=0.1) == 1
    assert heard.first_count_s == pytest.approx(song.first_count, abs=0.05)
    assert heard.end_s == pytest.approx(song.end, abs=1.0)
    # Counts of eight begin anew with each phrase.
    assert share_found(heard.eights_s, song.eights, within_s=0.05) > 0.97
    assert set(heard.phrases_s) <= set(heard.eights_s) <= set(heard.downbeats_s) <= set(heard.beats_s)
    assert heard.first_count_s in heard.phrases_s


@pytest.mark.parametrize("extra", [4, 2, 8])
def test_after_extra_counts_the_later_phrases_are_still_right(extra: int) -> None:
    song, heard = song_heard(Recipe(common(extra=extra), bpm=116))
    assert share_found(heard.phrases_s, song.phrases[1:], within_s=0.1) > (0.99 if extra < 8 else 0.79)
    beats = np.array(heard.beats_s)
    starts = [int(np.abs(beats - s).argmin()) for s in heard.phrases_s]
    assert 32 + extra in np.diff(starts)


def test_an_extra_bar_of_a_waltz_leaves_the_phrase_after_it_right() -> None:
    song, heard = song_heard(Recipe(common(intro=12, metre=3, extra=3), bpm=120, style="waltz", metre=3))
    assert np.abs(np.array(heard.phrases_s) - song.phrases[-1]).min() < 0.1
    assert heard.metre == 3


@pytest.mark.parametrize("bpm", [80.0, 104.0, 127.3])
def test_the_tempo_is_right_within_half_a_percent(bpm: float) -> None:
    _, heard = song_heard(Recipe(common(rounds=1), bpm=bpm, style="country"))
    assert heard.tempo_bpm == pytest.approx(bpm, rel=0.005)
    assert heard.confidence.tempo > 0.5


def test_half_and_double_time_are_offered() -> None:
    _, heard = song_heard(PLAIN[0])
    ratios = {round(other.tempo_bpm / heard.tempo_bpm, 1) for other in heard.alternatives}
    assert {0.5, 2.0} <= ratios
    assert all(0 <= other.confidence <= 1 for other in heard.alternatives)


def test_beats_follow_a_band_that_drifts() -> None:
    song, heard = song_heard(Recipe(common(), bpm=110, drift=0.025, jitter_s=0.008))
    assert share_found(heard.beats_s, song.beats, within_s=0.05) > 0.98
    assert any(finding.kind == "tempo-changes" for finding in heard.findings)


def test_a_bar_without_any_sound_is_counted_through() -> None:
    song = made(Recipe(common(), bpm=110, jitter_s=0.0))
    samples = song.sound.samples.copy()
    first, last = (round(float(song.beats[b]) * RATE) - 900 for b in (60, 64))
    samples[:, first:last] = 0
    heard = listen(Sound(samples, RATE))
    assert share_found(heard.beats_s, song.beats, within_s=0.05) > 0.98
    assert np.diff(heard.beats_s).max() < 1.2 * 60 / 110


def test_an_opening_without_a_beat_carries_no_counts() -> None:
    song = made(Recipe(common(), bpm=110, silence_s=0.0))
    rng = np.random.default_rng(3)
    n = 9 * RATE
    t = np.arange(n) / RATE
    swell = 0.2 * np.sin(2 * np.pi * 220 * t) * np.sin(np.pi * t / 9) + 0.005 * rng.standard_normal(n)
    heard = listen(
        Sound(np.concatenate([np.stack([swell, swell]), song.sound.samples], axis=1).astype(np.float32), RATE)
    )
    assert heard.beats_s[0] == pytest.approx(9.0, abs=2.5 * 60 / 110)
    assert any(finding.kind == "slow-opening" for finding in heard.findings)


def test_a_fade_ends_where_it_has_fallen_by_6_db() -> None:
    song, heard = song_heard(Recipe(common(), bpm=112, fade_s=12.0))
    assert heard.end_s == pytest.approx(song.end, abs=2.0)
    assert any(finding.kind == "fade" for finding in heard.findings)


def test_a_song_that_stops_does_not_fade() -> None:
    _, heard = song_heard(PLAIN[0])
    assert not any(finding.kind == "fade" for finding in heard.findings)


@pytest.mark.parametrize("bpm", [60, 90, 140])
def test_a_metronome_is_heard_at_its_own_tempo(bpm: int) -> None:
    sound, beats = click_track(bpm=bpm, seconds=30)
    heard = listen(sound)
    assert heard.tempo_bpm == pytest.approx(bpm, rel=0.005)
    assert share_found(heard.beats_s, beats, within_s=0.01) > 0.95


@pytest.mark.parametrize(("bpm", "times"), [(40, 2), (180, 0.5), (240, 0.5)])
def test_a_metronome_too_slow_or_fast_to_dance_to_is_doubled_or_halved(bpm: int, times: float) -> None:
    sound, _ = click_track(bpm=bpm, seconds=30)
    assert listen(sound).tempo_bpm == pytest.approx(bpm * times, rel=0.01)


def beatless(sound: Sound) -> bool:
    """Return whether listening refuses the sound for want of a beat, or doubts every beat of it."""
    try:
        return listen(sound).confidence.beats < 0.5
    except MusicError as error:
        return "no steady beat" in error.what


def syllables(seconds: int) -> np.ndarray:
    """Return bursts like talk: voiced, uneven in length and distance, with pauses."""
    rng = np.random.default_rng(11)
    out = np.zeros(seconds * RATE)
    at = 0.2
    while at < seconds - 1:
        n = int(rng.uniform(0.08, 0.3) * RATE)
        hz = rng.uniform(100, 220)
        t = np.arange(n) / RATE
        out[int(at * RATE) :][:n] += np.hanning(n) * sum(np.sin(2 * np.pi * hz * k * t) / k for k in range(1, 12))
        at += n / RATE + float(rng.choice([0.02, 0.05, 0.1, 0.5]))
    return 0.2 * out


@pytest.mark.parametrize("kind", ["syllables", "noise", "gusts"])
def test_what_is_no_music_is_not_sold_as_music(kind: str) -> None:
    rng = np.random.default_rng(4)
    noise = 0.1 * rng.standard_normal(40 * RATE)
    places = np.cumsum(rng.uniform(0.1, 0.9, 120))
    gusts = noise * np.interp(np.arange(len(noise)) / RATE, places, rng.random(120) ** 3)
    heard = listen(sound_of({"syllables": syllables(40), "noise": noise, "gusts": gusts}[kind]))
    assert heard.confidence.beats < 0.5
    assert heard.confidence.tempo < 0.5
    assert any(finding.kind == "no-steady-beat" for finding in heard.findings)


def test_silence_is_an_error_in_plain_words() -> None:
    with pytest.raises(MusicError, match="silent"):
        listen(sound_of(np.zeros(30 * RATE)))


def test_eight_seconds_are_too_short_to_count() -> None:
    with pytest.raises(MusicError, match="too short") as error:
        listen(sound_of(syllables(8)))
    assert "12 s" in error.value.mend


def test_a_pure_tone_has_no_beat() -> None:
    tone = 0.3 * np.sin(2 * np.pi * 220 * np.arange(30 * RATE) / RATE)
    assert beatless(sound_of(tone))


@pytest.mark.parametrize("clicks", [0, 1, 2, 3])
def test_none_one_two_or_three_clicks_are_no_song(clicks: int) -> None:
    wave = 1e-3 * np.random.default_rng(1).standard_normal(20 * RATE)
    for k in range(clicks):
        wave[(5 + k) * RATE : (5 + k) * RATE + 400] = 0.8
    assert beatless(sound_of(wave))


def test_loudness_of_the_copy_changes_nothing() -> None:
    song, heard = song_heard(PLAIN[0])
    soft = listen(Sound(song.sound.samples * np.float32(0.01), RATE))
    assert soft.phrases_s == pytest.approx(heard.phrases_s, abs=0.02)


def test_silence_in_front_moves_every_time_by_as_much() -> None:
    song, heard = song_heard(PLAIN[0])
    later = listen(Sound(np.pad(song.sound.samples, ((0, 0), (3 * RATE, 0))), RATE))
    assert later.first_count_s == pytest.approx(heard.first_count_s + 3, abs=0.02)


# What the listener says


def test_a_tempo_that_was_said_is_taken_as_said() -> None:
    _, hearsay = song_and_hearsay(PLAIN[0])
    heard = counted(hearsay, Said(tempo_bpm=56.0))
    assert heard.tempo_bpm == 56.0
    assert np.median(np.diff(heard.beats_s)) == pytest.approx(60 / 56, rel=0.01)
    assert heard.confidence.tempo == 1
    assert heard.said == Said(tempo_bpm=56.0)


@pytest.mark.parametrize("beats_in", [0.0, 12.0, 17.3, 40.0])
def test_a_first_count_that_was_said_is_exactly_the_first_count(beats_in: float) -> None:
    song, hearsay = song_and_hearsay(PLAIN[0])
    said_s = round(float(song.beats[0]) + beats_in * 60 / 112, 3)
    heard = counted(hearsay, Said(first_count_s=said_s))
    assert heard.first_count_s == said_s
    assert said_s in heard.beats_s
    assert said_s in heard.phrases_s
    assert said_s in heard.eights_s
    assert heard.confidence.first_count == 1
    assert all(np.diff(heard.beats_s) > 0)


def test_a_first_count_before_the_first_sound_is_reached_by_beats() -> None:
    song = made(Recipe(common(), bpm=112, silence_s=3.0))
    heard = listen(song.sound, said=Said(first_count_s=1.0))
    assert heard.first_count_s == 1.0
    assert np.diff(heard.beats_s).max() < 1.3 * 60 / 112


@pytest.mark.parametrize("metre", [3, 4])
def test_a_metre_that_was_said_is_used(metre: int) -> None:
    _, hearsay = song_and_hearsay(PLAIN[0])
    heard = counted(hearsay, Said(metre=3 if metre == 3 else 4))
    assert heard.metre == metre
    assert heard.confidence.metre == 1


def test_taps_choose_the_tempo_and_the_place_of_the_beats() -> None:
    song, hearsay = song_and_hearsay(PLAIN[0])
    rng = np.random.default_rng(2)
    half = song.beats[20:60:2] + rng.normal(0, 0.02, 20)
    heard = counted(hearsay, Said(taps_s=tuple(np.round(half, 3))))
    assert heard.tempo_bpm == pytest.approx(56, rel=0.01)
    assert share_found(heard.beats_s, song.beats[::2], within_s=0.05) > 0.97
    assert heard.confidence.beats == heard.confidence.tempo == 1


@pytest.mark.parametrize(
    "said",
    [
        Said(tempo_bpm=0.0), Said(tempo_bpm=-10.0), Said(tempo_bpm=float("nan")), Said(tempo_bpm=1e9),
        Said(first_count_s=-1.0), Said(first_count_s=1e6), Said(first_count_s=float("nan")),
        Said(metre=5),  # type: ignore[arg-type]
        Said(taps_s=(1.0,)), Said(taps_s=(2.0, 1.0)), Said(taps_s=(1.0, 1e6)), Said(taps_s=(float("nan"), 2.0)),
    ],
)  # fmt: skip
def test_what_cannot_be_true_is_refused_with_a_mend(said: Said) -> None:
    _, hearsay = song_and_hearsay(PLAIN[0])
    with pytest.raises(SettingError) as error:
        counted(hearsay, said)
    assert error.value.mend


def test_a_song_without_an_intro_may_begin_at_once() -> None:
    parts = tuple(Part(32, chords, lead=True) for chords in (VERSE, CHORUS, VERSE))
    song, heard = song_heard(Recipe(parts, bpm=112, first_part=0))
    assert heard.first_count_s == pytest.approx(song.phrases[0], abs=0.05)
    assert heard.phrases_s[0] == heard.first_count_s
