"""The listening model: numpy runs the network as it was trained. What songs sound like to it: ``test_listening``."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from music.songs_made import Recipe, common, made
from softshoe.errors import MusicError
from softshoe.music.audio import Sound
from softshoe.music.engine import Engine  # noqa: TC001
from softshoe.music.listen import listen
from softshoe.music.model import ModelEar, listened
from softshoe.music.model_decode import AtBeats, chained, lengths_for, phrased
from softshoe.music.model_features import BANDS, FLOOR, features
from softshoe.music.model_net import HEADS, heads, likelihoods, weights

EXAMPLE = Path(__file__).with_name("model_example.npz")
WEIGHTS = files("softshoe") / "data" / "listening" / "listener.npz"
RATE = 22_050


def share_found(found: tuple[float, ...], truth: np.ndarray, *, within_s: float) -> float:
    away = np.abs(np.array(found)[:, None] - truth[None])
    return float(min((away.min(axis=0) < within_s).mean(), (away.min(axis=1) < within_s).mean()))


@pytest.mark.parametrize("metre", [3, 4])
@pytest.mark.parametrize("slip", [-1, 1])
def test_bars_are_right_again_after_a_beat_too_many_or_too_few(metre: int, slip: int) -> None:
    eight, long = 2 * metre, 8 * metre
    phrases = [0, long, 2 * long + slip, 3 * long + slip, 4 * long + slip]
    n = 5 * long + slip
    bar, each, phrase = (np.full(n, -4.0) for _ in range(3))
    for first, last in zip(phrases, [*phrases[1:], n], strict=True):
        bar[first:last:metre] = each[first:last:eight] = 4.0
    phrase[phrases] = 4.0
    found = phrased(AtBeats(bar, each, phrase, np.full(n, 4.0)), metre)
    assert list(found.form.phrases) == phrases
    assert found.form.downbeats == tuple(np.flatnonzero(bar > 0))


def test_numpy_gives_what_torch_gave_on_a_saved_input() -> None:
    with np.load(EXAMPLE) as z:
        rows, logits = z["rows"].astype(np.float32), z["logits"]
    assert np.abs(heads(rows, weights()) - logits).max() < 1e-3


def test_the_weights_are_small_and_say_their_licence_and_recipe() -> None:
    with WEIGHTS.open("rb") as file:
        assert len(file.read()) < 5_000_000
    with WEIGHTS.open("rb") as file, np.load(file) as z:
        assert str(z["licence"]).startswith("MIT")
        recipe = json.loads(str(z["recipe"]))
    assert len(recipe["sha256"]) == 64
    assert recipe["songs"] > 1000


@pytest.mark.parametrize("frames", [1, 3, 50, 601])
def test_any_length_of_song_gives_one_row_of_likelihoods_a_frame(frames: int) -> None:
    found = likelihoods(np.full((frames, BANDS), FLOOR, np.float32))
    assert found.shape == (frames, len(HEADS))
    assert np.all((found >= 0) & (found <= 1))


def test_a_long_song_is_heard_alike_on_both_sides_of_a_border_of_windows() -> None:
    rng = np.random.default_rng(1)
    rows = (rng.normal(-6, 1, (5200, BANDS)) + 3 * (np.arange(5200) % 25 < 2)[:, None]).astype(np.float32)
    found = likelihoods(rows)[:, 0]
    peaks = found[25 * 40 : 25 * 200 : 25]
    assert peaks.min() > 0.5 * peaks.max()


def test_loudness_changes_no_feature() -> None:
    wave = np.random.default_rng(2).standard_normal(RATE).astype(np.float32)
    assert features(wave) == pytest.approx(features(0.01 * wave), abs=1e-3)


def test_beats_are_chained_through_a_hole() -> None:
    gain = np.full(1500, -4.0)
    truth = np.arange(20, 1480, 27)
    gain[truth] = 4.0
    gain[600:700] = -4.0
    frames, worth = chained(gain, lengths_for(50.0))
    assert np.abs(frames[:, None] - truth[None]).min(axis=0).max() <= 1
    assert worth > 100


def test_silence_is_an_error_in_plain_words() -> None:
    with pytest.raises(MusicError, match="silent"):
        listened(Sound(np.zeros((2, 30 * RATE), np.float32), RATE))


def test_the_model_serves_as_an_engine_behind_the_usual_border() -> None:
    ear: Engine = ModelEar()
    song = made(Recipe(common(rounds=1), bpm=124, style="disco"))
    heard = listen(song.sound, engine=ear)
    assert heard.tempo_bpm == pytest.approx(124, rel=0.01)
    assert share_found(heard.beats_s, song.beats, within_s=0.05) > 0.95
