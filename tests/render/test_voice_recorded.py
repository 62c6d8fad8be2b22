"""A leader's own words: cut at the pauses, laid by the vowel, the rest said by the other voice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from softshoe.errors import MusicError, UnreadableError
from softshoe.render.voice import RATE_HZ, HibariVoice, Spoken, WordBank
from softshoe.render.voice_aligner import aligned_vowel_s
from softshoe.render.voice_heard import told_apart
from softshoe.render.voice_own import forget_own_voice, keep_own_voice, own_voice_file, own_words, the_voice
from softshoe.render.voice_recorded import (
    RecordedVoice,
    parts,
    words_found,
    words_to_record,
)
from softshoe.render.voice_sample import BEAT_S, sample

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.media

FEW = ("one", "two", "six", "eight", "touch", "right")
MICROPHONE_HZ = 48_000


@pytest.fixture(scope="module")
def source() -> WordBank:
    return WordBank(HibariVoice())


@pytest.fixture(scope="module")
def voice(source: WordBank) -> RecordedVoice:
    found = words_found(recording(source, FEW), MICROPHONE_HZ, words=FEW)
    return RecordedVoice({one.word: one.spoken for one in found}, source.voice)


def recording(bank: WordBank, words: tuple[str, ...], *, noise: float = 0.001) -> np.ndarray:
    """Words with pauses, as if spoken into a microphone of 48 kHz in a room that is not quite still."""
    import soxr

    rng = np.random.default_rng(5)
    pause = np.zeros(round(0.7 * RATE_HZ), np.float32)
    x = np.concatenate([piece for word in words for piece in (pause, bank.at_pace(word, 1.0).samples)] + [pause])
    x = soxr.resample(x, RATE_HZ, MICROPHONE_HZ)
    return np.stack([x + noise * rng.standard_normal(len(x))] * 2).astype(np.float32)


def test_the_words_are_cut_apart_at_their_pauses(source: WordBank) -> None:
    words = words_to_record()
    assert len(parts(recording(source, words)[0], MICROPHONE_HZ)) == len(words) == 46


def test_a_word_said_again_and_a_word_left_out_do_not_shift_the_others(source: WordBank) -> None:
    asked = words_to_record()[:30]
    said = [word for word in asked if word != "home"]
    said.insert(20, said[19])
    found = words_found(recording(source, tuple(said)), MICROPHONE_HZ, words=asked)
    assert {one.word for one in found} == set(asked) - {"home"}
    for one in found:
        true = source.at_pace(one.word, 1.0)
        assert one.spoken.length_s == pytest.approx(true.length_s, abs=0.15), one.word
        assert one.above_room_db > 25
        assert not one.clipped


def test_a_word_too_loud_for_the_microphone_is_told(source: WordBank) -> None:
    loud = np.clip(recording(source, FEW) * 20, -1, 1)
    assert all(one.clipped for one in words_found(loud, MICROPHONE_HZ, words=FEW))


@pytest.mark.parametrize(
    ("guesses", "pieces"),
    [
        (["one", "two", "three"], [0, 1, 2]),
        ([None, None, None], [0, 1, 2]),
        (["one", "three"], [0, None, 1]),
        (["one", None, "two", "two", "three"], [0, 3, 4]),
        (["one", "two", "two"], [0, 1, 2]),
        (["one", "two", "three", "two"], [0, 1, 2]),
        ([], [None, None, None]),
    ],
)
def test_pieces_are_laid_against_the_words_asked_for(guesses: list[str | None], pieces: list[int | None]) -> None:
    assert told_apart(guesses, ["one", "two", "three"]) == pieces


def test_words_recorded_one_by_one_are_joined_to_a_phrase(voice: RecordedVoice) -> None:
    alone = [voice.say(word, pace=1.0) for word in ("touch", "right")]
    phrase = voice.say("Touch, right", pace=1.0)
    assert phrase.vowel_s == alone[0].vowel_s
    assert phrase.length_s == pytest.approx(sum(one.length_s for one in alone) + 0.12, abs=0.01)


def test_the_words_are_kept_and_taken_away_again(
    source: WordBank, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("SOFTSHOE_HOME", str(tmp_path / "mère"))
    assert own_words() == {}
    assert not forget_own_voice()
    keep_own_voice(words_found(recording(source, FEW), MICROPHONE_HZ, words=FEW))
    assert set(own_words()) == set(FEW)
    assert the_voice().name.startswith("recorded")
    own_voice_file().write_bytes(b"PK no longer")
    with pytest.raises(UnreadableError, match="can't be read"):
        own_words()
    assert forget_own_voice()
    assert not the_voice().name.startswith("recorded")


def test_a_voice_to_listen_to_has_its_vowels_on_the_clicks(voice: RecordedVoice) -> None:
    x = sample(voice, ("one", "two"))
    assert x.shape[0] == 2
    assert x.shape[1] / RATE_HZ == pytest.approx(4 * BEAT_S, abs=1.1)


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


def test_a_recording_of_nothing_is_refused_with_the_words_to_say(source: WordBank) -> None:
    with pytest.raises(MusicError, match="0 words can be heard, 6 were expected"):
        words_found(np.zeros((1, MICROPHONE_HZ), np.float32), MICROPHONE_HZ, words=FEW)


@pytest.mark.parametrize("size", [0, 10, 4800])
def test_silence_holds_no_words(size: int) -> None:
    assert parts(np.zeros(size, np.float32), MICROPHONE_HZ) == []


def test_a_word_the_recogniser_does_not_know_is_not_guessed() -> None:
    spoken = Spoken(np.ones(RATE_HZ // 4, np.float32) * 0.1, 0.0)
    assert aligned_vowel_s(spoken.samples, RATE_HZ, "zumblewick") is None
