"""The song map as JSON."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.errors import Finding, MusicError
from softshoe.music.document import song_from_json, song_json
from softshoe.music.songmap import Alternative, Confidence, Said, SongMap

sure = st.integers(0, 100).map(lambda n: n / 100)
words = st.text(max_size=20)


@st.composite
def songs(draw: st.DrawFn) -> SongMap:
    ticks = sorted(draw(st.sets(st.integers(0, 3_000_000), min_size=0, max_size=40)))
    beats = tuple(tick / 10_000 for tick in ticks)
    downbeats, eights, phrases = beats[::4], beats[::8], beats[::32]
    first = beats[0] if beats else 0.0
    metre = draw(st.sampled_from([3, 4]))
    one = Confidence(*(draw(sure) for _ in range(6)), phrases=tuple(draw(sure) for _ in phrases))
    other = Alternative(draw(st.integers(30, 300)), first, metre, draw(sure))
    said = Said(
        draw(st.none() | st.just(112.5)), draw(st.none() | st.just(1.25)), draw(st.none() | st.just(metre)), beats[:3]
    )
    severity = draw(st.sampled_from(["error", "warning", "note"]))
    finding = Finding(severity, draw(words), None, None, draw(words), draw(st.none() | words))
    return SongMap(beats, downbeats, eights, phrases, first, 300.5, 112.25, metre, one, (other,), said, (finding,))


@given(songs())
def test_what_is_written_is_read_back_the_same(song: SongMap) -> None:
    assert song_from_json(song_json(song)) == song
    assert song_from_json(json.dumps(song_json(song)).encode()) == song


def plain() -> dict[str, Any]:
    beats = tuple(float(b) for b in range(64))
    one = Confidence(1, 1, 1, 1, 1, 1, (0.5, 0.5))
    return song_json(SongMap(beats, beats[::4], beats[::8], beats[::32], 0.0, 64.0, 60.0, 4, one))


@pytest.mark.parametrize("key", sorted(set(plain()) - {"tempo_curve", "why", "swing"}))
@pytest.mark.parametrize("value", [None, "x", -1, [1, "x"], {"a": 1}, True, float("nan"), [3, 2, 1], [[]], 10**400])
def test_a_wrong_value_is_named_by_its_key(key: str, value: Any) -> None:
    broken = plain() | {key: value}
    if key == "said" and value == {"a": 1}:
        key = "said"
    with pytest.raises(MusicError) as error:
        song_from_json(broken)
    assert key in error.value.where
    assert error.value.mend


@pytest.mark.parametrize("key", sorted(set(plain()) - {"tempo_curve", "why", "swing"}))
def test_a_missing_key_is_named(key: str) -> None:
    broken = plain()
    del broken[key]
    with pytest.raises(MusicError) as error:
        song_from_json(broken)
    assert key in error.value.where


@pytest.mark.parametrize("text", [b"", b"{", b"[]", b"null", b"\xff\xfe", b"[" * 100_000, b'"song"'])
def test_what_is_no_json_table_is_refused(text: bytes) -> None:
    with pytest.raises(MusicError):
        song_from_json(text)


def test_a_downbeat_that_is_no_beat_is_refused() -> None:
    with pytest.raises(MusicError, match="song map"):
        song_from_json(plain() | {"downbeats": [0.5]})
