"""Her own voice from the command line: what to say, what was found, whose voice is used."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from softshoe.render.track_file import write_track
from softshoe.render.voice import RATE_HZ, HibariVoice, WordBank
from softshoe.render.voice_recorded import words_to_record

if TYPE_CHECKING:
    from pathlib import Path

    from .conftest import Softshoe

pytestmark = pytest.mark.media

SOME = words_to_record()[
    :20
]  # the sixteen counts and a few cue words; all of them are cut apart in test_voice_recorded
BANK = WordBank(HibariVoice())


def write_words(path: Path, words: tuple[str, ...]) -> Path:
    pause = np.zeros(round(0.8 * RATE_HZ), np.float32)
    x = np.concatenate([piece for word in words for piece in (pause, BANK.at_pace(word, 1.0).samples)] + [pause])
    x = x + 0.001 * np.random.default_rng(3).standard_normal(len(x)).astype(np.float32)
    write_track(np.stack([x, x]), RATE_HZ, path, title="words")
    return path


def test_the_words_to_say_are_listed(softshoe: Softshoe) -> None:
    answer = softshoe("voice", "words")
    assert answer.code == 0
    assert "together" in answer.out
    assert answer.out.count("seven") == 2


def test_a_recording_becomes_the_voice_and_can_be_taken_away(softshoe: Softshoe, tmp_path: Path) -> None:
    assert "workbench's own voice" in softshoe("voice").out
    words = tuple(word for word in SOME if word != "hold")
    answer = softshoe("voice", "import", write_words(tmp_path / "my voice.flac", words))
    assert answer.code == 0, answer.err
    left = next(line for line in answer.out.splitlines() if line.startswith("Not found"))
    assert "hold" in left
    assert "0:00." in answer.out
    assert "Your own voice says" in softshoe("voice", "show").out
    assert softshoe("voice", "try", "-o", tmp_path / "try.wav").code == 0
    assert (tmp_path / "try.wav").stat().st_size > 100_000
    assert "are gone" in softshoe("voice", "forget").out
    assert "workbench's own voice" in softshoe("voice", "show").out


def test_a_recording_without_all_counts_changes_nothing(softshoe: Softshoe, tmp_path: Path) -> None:
    words = tuple(word for word in SOME if word != "five")
    answer = softshoe("voice", "import", write_words(tmp_path / "few.flac", words))
    assert answer.code != 0
    assert "five" in answer.err
    assert "workbench's own voice" in softshoe("voice", "show").out


def test_a_recording_that_is_not_there_is_said(softshoe: Softshoe) -> None:
    answer = softshoe("voice", "import", "nowhere.wav")
    assert answer.code != 0
    assert "mend:" in answer.err
