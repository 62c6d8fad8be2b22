"""The song is found in a film's sound, however it was played there; what is not there is not found."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import soxr

from softshoe.dress.find import RATE_HZ, find_song
from softshoe.errors import MusicError

LENGTH_S = 24


@cache
def made_song() -> np.ndarray:
    rng = np.random.default_rng(3)
    time_s = np.arange(LENGTH_S * RATE_HZ) / RATE_HZ
    out = np.zeros(len(time_s))
    for beat, at_s in enumerate(np.arange(0.3, LENGTH_S - 1, 0.52)):
        since = np.clip(time_s - at_s, 0, None)
        on = time_s >= at_s
        pitch = rng.choice([220, 247, 294, 330, 392, 440])
        out += on * np.exp(-6 * since) * np.sin(2 * np.pi * pitch * since)
        out += on * np.exp(-40 * since) * rng.normal(size=len(time_s)) * (0.5 if beat % 2 else 0.2)
    return (out / abs(out).max()).astype(np.float32)


def played(*, speed: float, start_s: float, noise: float) -> np.ndarray:
    rng = np.random.default_rng(7)
    heard = soxr.resample(made_song(), RATE_HZ, RATE_HZ * speed)
    film = np.zeros(int((start_s + len(heard) / RATE_HZ + 4) * RATE_HZ), np.float32)
    film[int(start_s * RATE_HZ) :][: len(heard)] += heard
    echo = np.roll(film, int(0.03 * RATE_HZ)) * 0.4
    return (film + echo + noise * rng.normal(size=len(film))).astype(np.float32)


@pytest.mark.parametrize(("speed", "start_s", "noise"), [(1.0, 3.7, 0.02), (1.008, 5.21, 0.1), (0.99, 1.5, 0.05)])
def test_the_song_is_found_to_a_few_milliseconds(speed: float, start_s: float, noise: float) -> None:
    found = find_song(made_song(), played(speed=speed, start_s=start_s, noise=noise), where="film.mp4")
    for song_s in (1.0, 12.0, 22.0):
        assert found.film_s(song_s) == pytest.approx(start_s + speed * song_s, abs=0.005)
    assert found.agree > 0.8


def test_noise_is_not_sold_as_the_song() -> None:
    noise = np.random.default_rng(1).normal(size=40 * RATE_HZ).astype(np.float32)
    assert find_song(made_song(), noise, where="film.mp4").agree < 0.5


def test_a_film_too_short_for_the_song_says_so() -> None:
    with pytest.raises(MusicError, match="not found in this film"):
        find_song(made_song(), made_song()[: 3 * RATE_HZ], where="film.mp4")
