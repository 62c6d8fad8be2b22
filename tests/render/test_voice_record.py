"""The microphone: a made signal stands for it; a missing one is told in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from softshoe.errors import MusicError
from softshoe.music.audio import heard
from softshoe.render.voice_record import BY_HAND, record

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.media


def test_what_a_source_gives_is_recorded_until_enough_is_said(tmp_path: Path) -> None:
    path = tmp_path / "words.wav"
    levels: list[float] = []

    def goes_on(seconds: float, level: float) -> bool:
        levels.append(level)
        return seconds < 1.0

    seconds = record(path, goes_on=goes_on, source=("lavfi", "sine=frequency=440:sample_rate=44100"))
    sound = heard(path)
    assert 1.0 <= seconds < 1.2
    assert sound.samples.shape[-1] / sound.rate_hz == pytest.approx(seconds, abs=0.01)
    assert np.abs(sound.samples).max() == pytest.approx(max(levels), abs=0.01)


def test_a_missing_microphone_and_a_silent_one_are_told_with_another_way(tmp_path: Path) -> None:
    with pytest.raises(MusicError, match="can't be opened") as told:
        record(tmp_path / "a.wav", goes_on=lambda *_: False, source=("alsa", "no such device"))
    assert told.value.mend == BY_HAND
    with pytest.raises(MusicError, match="nothing was heard") as told:
        record(tmp_path / "b.wav", goes_on=lambda s, _: s < 0.2, source=("lavfi", "anullsrc"))
    assert BY_HAND in told.value.mend
    assert not list(tmp_path.iterdir())
