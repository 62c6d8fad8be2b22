"""W3C, "WebVTT: The Web Video Text Tracks Format": timestamps of its own samples, and what its syntax refuses."""

from __future__ import annotations

import pytest

from softshoe.errors import UnreadableError
from softshoe.render.captions import TimedText, read_vtt, seconds, vtt

SAMPLES = (
    ("00:11.000", 11.0),
    ("00:31.500", 31.5),
    ("04:02.500", 242.5),
    ("04:05.001", 245.001),
    ("04:07.800", 247.8),
    ("00:00:06.500", 6.5),
    ("100:00:00.000", 360_000.0),  # three digits of hours are legal
)
REFUSED = (
    "4:05.000",
    "00:60.000",
    "60:00.000",
    "00:01.5",
    "00:01,500",
    "1:00:00.000",
    "00:01.0000",
    "٠٠:٠١.٠٠٠",
    " 00:01.000",
)


@pytest.mark.parametrize(("text", "value"), SAMPLES)
def test_timestamps_of_the_specification_are_read(text: str, value: float) -> None:
    assert seconds(text) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize("text", REFUSED)
def test_timestamps_the_syntax_does_not_allow_are_refused(text: str) -> None:
    with pytest.raises(UnreadableError, match="not a WebVTT time"):
        seconds(text)


def test_overlapping_cues_are_legal_as_in_the_specifications_own_sample() -> None:
    cues = (TimedText(30.0, 31.5, "one"), TimedText(30.5, 32.5, "two"))
    assert read_vtt(vtt(cues)) == cues


def test_a_byte_order_mark_words_after_the_signature_notes_names_and_settings_are_legal() -> None:
    head = "\ufeffWEBVTT - practice\r\n\r\nNOTE a note\nof two lines\n\n"
    text = head + "1\n00:01.000 --> 00:02.000 align:start line:0\nheel\n"
    assert read_vtt(text) == (TimedText(1.0, 2.0, "heel"),)


@pytest.mark.parametrize(
    "text",
    [
        "WEBVTT1\n\n00:01.000 --> 00:02.000\nheel\n",
        "00:01.000 --> 00:02.000\nheel\n",
        "WEBVTT\n00:01.000 --> 00:02.000\nheel\n",
        "WEBVTT\n\n00:01.000-->00:02.000\nheel\n",
        "WEBVTT\n\n00:02.000 --> 00:02.000\nheel\n",
        "WEBVTT\n\n00:03.000 --> 00:04.000\nheel\n\n00:02.000 --> 00:05.000\ntoe\n",
        "WEBVTT\n\n00:01.000 --> 00:02.000\nheel\n00:02.000 --> 00:03.000\ntoe\n",
    ],
)
def test_files_the_syntax_does_not_allow_are_refused_with_their_line(text: str) -> None:
    with pytest.raises(UnreadableError, match=r"line \d"):
        read_vtt(text)


def test_ampersand_and_angle_brackets_are_written_as_the_syntax_asks() -> None:
    written = vtt([TimedText(0.0, 1.0, "toe & heel <slow>")])
    assert "toe &amp; heel &lt;slow&gt;" in written
    assert read_vtt(written)[0].words == "toe & heel <slow>"
