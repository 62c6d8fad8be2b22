"""A leader's own words: cut at the pauses, laid by the vowel, the rest said by the other voice."""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.errors import MusicError
from softshoe.render.voice import RATE_HZ, HibariVoice, Spoken, WordBank
from softshoe.render.voice_aligner import aligned_vowel_s
from softshoe.render.voice_recorded import SIXTEEN, RecordedVoice, parts, recorded_voice

pytestmark = pytest.mark.media

FEW = ("one", "two", "six", "eight", "touch", "right")
MICROPHONE_HZ = 48_000


@pytest.fixture(scope="module")
def source() -> WordBank:
    return WordBank(HibariVoice())


@pytest.fixture(scope="module")
def voice(source: WordBank) -> RecordedVoice:
    return recorded_voice(recording(source, FEW), MICROPHONE_HZ, otherwise=source.voice, words=FEW)


def recording(bank: WordBank, words: tuple[str, ...], *, noise: float = 0.001) -> np.ndarray:
    """Words with pauses, as if spoken into a microphone of 48 kHz in a room that is not quite still."""
    import soxr

    rng = np.random.default_rng(5)
    pause = np.zeros(round(0.7 * RATE_HZ), np.float32)
    x = np.concatenate([piece for word in words for piece in (pause, bank.at_pace(word, 1.0).samples)] + [pause])
    x = soxr.resample(x, RATE_HZ, MICROPHONE_HZ)
    return np.stack([x + noise * rng.standard_normal(len(x))] * 2).astype(np.float32)


def test_the_sixteen_words_are_cut_apart_at_their_pauses(source: WordBank) -> None:
    assert len(parts(recording(source, SIXTEEN)[0], MICROPHONE_HZ)) == 16


def test_a_recorded_word_keeps_its_length_and_its_vowel(source: WordBank, voice: RecordedVoice) -> None:
    for word in FEW:
        true, got = source.at_pace(word, 1.0), voice.say(word, pace=1.0)
        assert got.length_s == pytest.approx(true.length_s, abs=0.15)
        after_vowel = [spoken.length_s - spoken.vowel_s for spoken in (true, got)]
        assert after_vowel[0] == pytest.approx(after_vowel[1], abs=0.09)


def test_a_hastened_word_is_shorter_and_its_vowel_sooner(voice: RecordedVoice) -> None:
    calm, quick = voice.say("six", pace=1.0), voice.say("six", pace=1.4)
    assert quick.length_s == pytest.approx(calm.length_s / 1.4, abs=0.01)
    assert quick.vowel_s == pytest.approx(calm.vowel_s / 1.4)


def test_words_not_recorded_are_said_by_the_other_voice(source: WordBank, voice: RecordedVoice) -> None:
    assert np.array_equal(voice.say("vine right", pace=1.0).samples, source.at_pace("vine right", 1.0).samples)
    assert voice.name != source.voice.name


def test_a_recording_of_too_few_words_is_refused_with_the_words_to_say(source: WordBank) -> None:
    with pytest.raises(MusicError, match="5 words can be heard, 6 were expected"):
        recorded_voice(recording(source, FEW[:5]), MICROPHONE_HZ, otherwise=source.voice, words=FEW)


@pytest.mark.parametrize("size", [0, 10, 4800])
def test_silence_holds_no_words(size: int) -> None:
    assert parts(np.zeros(size, np.float32), MICROPHONE_HZ) == []


def test_a_word_the_recogniser_does_not_know_is_not_guessed() -> None:
    spoken = Spoken(np.ones(RATE_HZ // 4, np.float32) * 0.1, 0.0)
    assert aligned_vowel_s(spoken.samples, RATE_HZ, "zumblewick") is None
