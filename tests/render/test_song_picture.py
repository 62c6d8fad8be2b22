"""The picture of a song: every count drawn once, shapes that need no colour, and words for those who can't see it."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from softshoe.music.songmap import Confidence, SongMap
from softshoe.music.why import why
from softshoe.render.look import palette
from softshoe.render.song_file import song_picture
from softshoe.render.song_lines import song_lines, song_words
from softshoe.render.song_picture import LINES_A_PAGE, song_pages
from softshoe.render.song_wave import Wave
from softshoe.render.stage import Circle, Polygon, Text


def song(
    *, phrases: tuple[int, ...] = (32, 36, 16, 64, 9), intro: int = 16, metre: int = 4, bpm: float = 120.0
) -> SongMap:
    """Return a song with an intro and phrases of so many counts."""
    total = intro + sum(phrases)
    beats = tuple(0.5 + 60 / bpm * k for k in range(total))
    starts = [intro + sum(phrases[:k]) for k in range(len(phrases))]
    runs = list(zip([0, *starts] if intro else starts, [*([intro] if intro else []), *starts[1:], total], strict=False))
    eights = tuple(beats[k] for a, b in runs for k in range(a, b, 2 * metre))
    sure = Confidence(
        0.9, 0.9, 0.9, 0.7, 0.95, 0.97, tuple((0.95, 0.7, 0.3, 0.9, 0.5)[k % 5] for k in range(len(phrases)))
    )
    found = SongMap(
        beats, eights, eights, tuple(beats[k] for k in starts), beats[starts[0]], beats[-1] + 0.4, bpm,
        4 if metre == 4 else 3, sure, tempo_curve=((beats[0], bpm), (beats[-1], bpm)),
    )  # fmt: skip
    return replace(found, why=why(found))


def test_every_count_of_the_song_is_on_one_line() -> None:
    lines = song_lines(song())
    assert [b for line in lines for b in line.beats_s] == list(song().beats_s)
    assert [line.counts for line in lines] == [16, 32, 36, 16, 32, 32, 9]
    assert [line.kind for line in lines] == ["intro", "phrase", "phrase", "phrase", "phrase", "on", "phrase"]


def test_extra_counts_stand_at_the_end_of_their_phrase_and_a_cut_ending_has_none() -> None:
    assert [line.extra for line in song_lines(song())] == [0, 0, 4, 0, 0, 0, 0]
    waltz = song(phrases=(24, 27, 24), intro=12, metre=3)
    assert [line.extra for line in song_lines(waltz)] == [0, 0, 3, 0]


@pytest.mark.parametrize("beats", [0, 1, 2])
def test_hardly_any_beats_still_make_a_picture(beats: int) -> None:
    sure = Confidence(0.1, 0.1, 0.1, 0.1, 0.1, 0.5, ())
    few = SongMap(tuple(float(k) for k in range(beats)), (), (), (), 0.0, 2.0, 60.0, 4, sure)
    assert len(song_lines(few)) == min(beats, 1)
    assert song_picture(few, "few", kind=".svg")


def test_extra_counts_unsure_lines_and_the_intro_are_told_by_shape() -> None:
    (page,) = song_pages(song(), "Tin Kettle", lines_a_page=None)
    diamonds = [m for m in page.marks if isinstance(m, Polygon) and len(m.points) == 4 and m.ink == palette()["accent"]]
    assert len(diamonds) == 4 + 1  # and one in the key
    open_beads = [m for m in page.marks if isinstance(m, Circle) and m.fill == palette()["paper"]]
    assert len(open_beads) == 16 + 1
    words = [m.words for m in page.marks if isinstance(m, Text)]
    assert words.count("please check") == 2
    assert "the dance begins" in words
    assert "4 extra" in words


def test_no_bead_is_filled_before_the_dance_begins_however_long_the_intro_is() -> None:
    long = song(intro=72)
    (page,) = song_pages(long, "Tin Kettle", lines_a_page=None)
    beads = [m for m in page.marks if isinstance(m, Circle)][:72]
    assert {m.fill for m in beads} == {palette()["paper"]}
    assert "Intro goes on from" in song_words(long, "Tin Kettle")
    late = replace(song(), first_count_s=song().phrases_s[3])  # phrases were heard before the dance
    assert [line.waits for line in song_lines(late)] == [16, 32, 36, 16, 0, 0, 0]


def test_nothing_is_drawn_outside_the_page_or_too_small_to_read() -> None:
    wave = Wave(np.random.default_rng(1).random(12_000).astype(np.float32))
    for page in song_pages(song(), "A song with a rather long name", wave=wave):
        for mark in page.marks:
            if isinstance(mark, Text):
                assert mark.size >= 15
                assert 0 < mark.x < page.width
                assert 0 < mark.y < page.height
            if isinstance(mark, Polygon):
                assert all(0 <= x <= page.width and 0 <= y <= page.height for x, y in mark.points)


def test_a_long_song_goes_on_over_pages() -> None:
    pages = song_pages(song(phrases=(32,) * 20), "Long")
    assert len(pages) == -(-21 // LINES_A_PAGE)


def test_the_words_for_screen_readers_tell_all_that_is_drawn() -> None:
    words = song_words(song(), "Tin Kettle")
    assert "the last 4 of them extra" in words
    assert "count 1 of the dance is its first" in words
    assert words.count("please check") == 2
    drawn = ElementTree.fromstring(song_picture(song(), "Tin & Kettle", kind=".svg"))
    names = {child.tag.rpartition("}")[2]: child.text for child in drawn}
    assert names["title"] == "Tin & Kettle, counted"
    assert "the last 4 of them extra" in (names["desc"] or "")


def test_a_png_is_whole_and_carries_its_words() -> None:
    data = song_picture(song(), "Tin Kettle", kind=".png")
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    at, kinds = 8, []
    while at < len(data):
        (size,) = struct.unpack(">I", data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size : at + 12 + size])[0] == zlib.crc32(kind + body)
        kinds.append(kind)
        at += 12 + size
    assert kinds == [b"IHDR", b"iTXt", b"IDAT", b"IEND"]
    assert b"the last 4 of them extra" in data


@pytest.mark.media
def test_a_pdf_has_a_page_for_every_eight_lines() -> None:
    from softshoe.render.pdf import pages_of

    assert pages_of(song_picture(song(phrases=(32,) * 20), "Long", kind=".pdf")) == 3
