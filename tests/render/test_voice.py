"""The voice: its words fit, repeat exactly, and know where their vowel is."""

from __future__ import annotations

import builtins
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from softshoe.errors import SettingError
from softshoe.render.sound import speech
from softshoe.render.voice import PACES, RATE_HZ, HibariVoice, Spoken, WordBank, loaded_engine, said
from softshoe.render.voice_aligner import aligned_vowel_s
from softshoe.render.voice_cache import WordsKept
from softshoe.render.voice_onsets import as_output, loud_vowel_s, stressed, vowel_clock
from softshoe.teach.lesson import Cue
from softshoe.teach.voice import captions_of

if TYPE_CHECKING:
    from pathlib import Path

NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
STEPS = ("touch", "step", "side", "behind", "together", "vine", "heel", "right", "left", "kick", "clap", "again")

pytestmark = pytest.mark.media


@pytest.fixture(scope="module")
def bank() -> WordBank:
    return WordBank(HibariVoice())


def test_the_vowel_is_where_a_second_witness_finds_it(bank: WordBank) -> None:
    """The aligner steps by 10 ms, is itself good to some 20 ms, and is early on words that begin with a vowel."""
    second_vowel = {"behind": 1, "together": 1, "again": 1}
    words = [w for w in (*NUMBERS, *STEPS) if w != "eight"]
    off_ms = [
        1000 * (s.vowel_s - (aligned_vowel_s(s.samples, RATE_HZ, w, which=second_vowel.get(w, 0)) or 0.0))
        for w, s in ((w, bank.at_pace(w, 1.0)) for w in words)
    ]
    assert abs(np.median(off_ms)) <= 10
    assert np.max(np.abs(off_ms)) <= 45
    assert np.std(off_ms) <= 25


def test_a_word_that_begins_with_its_vowel_begins_on_it(bank: WordBank) -> None:
    assert bank.at_pace("eight", 1.0).vowel_s < 0.05


@pytest.mark.parametrize("room_s", [0.45, 0.54, 0.9])
def test_the_eight_numbers_fit_their_room_at_the_slowest_pace_that_does(bank: WordBank, room_s: float) -> None:
    for word in NUMBERS:
        spoken = bank.fitting(word, room_s=room_s)
        assert spoken.length_s <= room_s
        pace = next(p for p in PACES if bank.at_pace(word, p) is spoken)
        assert all(bank.at_pace(word, p).length_s > room_s for p in PACES if p < pace)


def test_words_that_fit_nowhere_are_said_as_fast_as_stays_clear(bank: WordBank) -> None:
    assert bank.fitting("quarter turn left", room_s=0.2) is bank.at_pace("quarter turn left", PACES[-1])


def test_all_words_are_about_equally_loud_and_none_is_cut(bank: WordBank) -> None:
    rms = [float(np.sqrt(np.mean(bank.at_pace(w, 1.0).samples ** 2))) for w in (*NUMBERS, *STEPS)]
    assert 20 * np.log10(max(rms) / min(rms)) < 3.0
    assert all(np.abs(bank.at_pace(w, 1.0).samples).max() <= 0.9 for w in NUMBERS)
    assert all(abs(float(bank.at_pace(w, 1.0).samples[-1])) < 0.01 for w in NUMBERS)


def test_two_voices_say_the_same_words_with_the_same_samples(bank: WordBank) -> None:
    assert np.array_equal(HibariVoice().say("vine right", pace=1.2).samples, bank.at_pace("vine right", 1.2).samples)


def test_words_kept_on_disk_are_the_words_said(bank: WordBank, tmp_path: Path) -> None:
    kept = WordsKept(tmp_path / "words")
    first = HibariVoice(kept).say("seven", pace=1.0)
    again = HibariVoice(kept)
    second = again.say("seven", pace=1.0)
    assert np.array_equal(first.samples, second.samples)
    assert first.vowel_s == second.vowel_s
    assert again._engine is None


def test_a_damaged_or_locked_cache_does_no_harm(tmp_path: Path) -> None:
    kept = WordsKept(tmp_path / "words")
    spoken = Spoken(np.ones(10, np.float32), 0.1)
    kept.keep("v", "one", 1.0, spoken)
    kept.place("v", "one", 1.0).write_bytes(b"PK nonsense")
    assert kept.found("v", "one", 1.0) is None
    (tmp_path / "file").write_text("in the way")
    WordsKept(tmp_path / "file").keep("v", "one", 1.0, spoken)


def test_a_missing_engine_is_said_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without(name: str, *args: Any, **kwargs: Any) -> Any:
        if name == "hibari":
            raise ImportError("no such engine")
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(SettingError, match="voice could not be started"):
        loaded_engine()


def test_an_engine_that_keeps_its_lengths_to_itself_is_listened_to(bank: WordBank) -> None:
    class Closed:
        model_path = __file__

    assert vowel_clock(Closed()) is None
    spoken = bank.at_pace("touch", 1.0)
    assert loud_vowel_s(spoken.samples, RATE_HZ) == pytest.approx(spoken.vowel_s, abs=0.06)


def test_a_stress_mark_tells_the_vowel_and_without_one_the_first_vowel_does() -> None:
    assert stressed(list("təɡˈɛðəɹ")) == 3
    assert stressed(list("æɡˌɛ")) == 2
    assert stressed(list("ænd")) == 0
    assert stressed([]) is None


def test_the_words_to_add_to_a_model_are_a_message_of_three_nested_names() -> None:
    assert as_output("ab") == b"\x3a\x06\x62\x04\x0a\x02ab"


@pytest.mark.parametrize("words", ["", " ", "…", "—", "日本"])
def test_what_has_no_words_the_voice_knows_is_silence(bank: WordBank, words: str) -> None:
    assert bank.fitting(words, room_s=0.5).length_s == 0.0


@pytest.mark.parametrize(("words", "read"), [("&", "and."), ("a", "uh."), ("1 & 2", "1 and 2."), ("Ready?", "Ready?")])
def test_signs_of_the_trade_are_read_as_words(words: str, read: str) -> None:
    assert said(words) == read


def test_captions_begin_within_a_tenth_of_a_second_of_the_words(bank: WordBank) -> None:
    """The sound itself is asked: where energy rises out of silence. Words of long and of short beginnings."""
    words = ("one", "three", "eight", "swing", "circle right", "sway left", "from the top, heels", "and finish")
    cues = [Cue(2.0 + 3.0 * k, 2.0, said, "cue") for k, said in enumerate(words)]
    cues.append(Cue(30.0, 2.5, "Now seated, with the words.", "remark"))
    samples = speech(cues, bank, length_s=34.0).samples
    level = np.sqrt((samples[: len(samples) // 441 * 441].reshape(-1, 441) ** 2).mean(axis=1))
    loud = level > 0.02 * np.percentile(level, 99)
    starts = [k / 100 for k in range(20, len(loud)) if loud[k] and not loud[k - 20 : k].any()]
    captions = captions_of(cues, length_s=34.0)
    assert len(captions) == len(cues)
    for caption in captions:
        assert min(abs(caption.start_s - start) for start in starts) <= 0.1, caption.words
