"""The picture of a run: what is shown, in marks and in words, in every kind of file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import dance_named, made_map
from fit.planted import stepping
from softshoe.errors import OutputError
from softshoe.fit.lay import fit
from softshoe.render.fit_file import draw_fit, fit_picture
from softshoe.render.fit_picture import fit_pages
from softshoe.render.fit_rows import fit_words, laid_out
from softshoe.render.stage import Text

if TYPE_CHECKING:
    from pathlib import Path


def test_every_count_stands_in_one_piece_and_every_phrase_on_one_knot() -> None:
    dance, song = stepping(32, turn_deg=90), made_map([32, 36, 32, 16, 32, 32, 20, 3])
    for run in fit(dance, song).runs:
        laid = laid_out(dance, run, song)
        pieces = [piece for row in laid.rows for piece in row.pieces]
        assert [piece.at for piece in pieces] == [0, *(piece.end for piece in pieces[:-1])]
        assert pieces[-1].end == laid.ends
        knots = [knot for row in laid.rows for knot in row.knots]
        starts = [at_s for at_s in song.phrases_s if at_s >= run.start.time_s - 0.01]
        assert [knot.at_s for knot in knots] == pytest.approx(starts)


def test_a_phrase_inside_a_wall_is_told_as_a_misfit() -> None:
    dance = stepping(32)
    song = made_map([32, 20, 44, 32, 32])
    plain = fit(dance, song).runs[0]
    assert not plain.tags
    assert "Phrase 3 begins 20 counts into wall 2: a misfit." in fit_words(dance, plain, song, "a song")
    words = [
        mark.words for page in fit_pages(dance, plain, song, "a song") for mark in page.marks if isinstance(mark, Text)
    ]
    assert any("20 counts into wall 2" in said for said in words)


def test_an_unsure_phrase_has_a_question_mark() -> None:
    dance = dance_named("harbour")
    song = made_map([32] * 4, confidence=(0.9, 0.5, 0.9, 0.9))
    run = fit(dance, song).runs[0]
    words = [mark.words for page in fit_pages(dance, run, song, "x") for mark in page.marks if isinstance(mark, Text)]
    assert "phrase 2?" in words
    assert "phrase 3" in words


def test_the_picture_is_drawn_as_every_kind_of_file(tmp_path: Path) -> None:
    dance, song = stepping(64, turn_deg=180), made_map([36, 32, 32, 32, 64, 64, 40])
    run = fit(dance, song).runs[0]
    assert fit_picture(dance, run, song, "x", kind=".svg").startswith(b"<svg")
    assert fit_picture(dance, run, song, "x", kind=".png").startswith(b"\x89PNG")
    assert fit_picture(dance, run, song, "x", kind=".pdf").startswith(b"%PDF")
    draw_fit(dance, run, song, "x", tmp_path / "run.svg")
    assert (tmp_path / "run.svg").exists()
    with pytest.raises(OutputError, match="no kind of picture"):
        draw_fit(dance, run, song, "x", tmp_path / "run.bmp")


def test_a_run_that_a_hand_made_longer_than_the_song_is_drawn_up_to_its_end() -> None:
    dance, song = stepping(32), made_map([32] * 4)
    run = fit(dance, song).runs[0]
    longer = replace(
        run, walls=(*run.walls, *(replace(w, wall=w.wall + 4, start_s=w.start_s + 76.8) for w in run.walls))
    )
    assert fit_pages(dance, longer, song, "x")


def test_a_song_of_which_no_phrase_is_known_is_drawn_all_the_same() -> None:
    dance = stepping(32)
    song = made_map([32] * 4)
    song = replace(song, phrases_s=(), confidence=replace(song.confidence, phrases=()))
    run = fit(dance, song).runs[0]
    assert "no phrases known" in fit_words(dance, run, song, "x")
    assert fit_pages(dance, run, song, "x")
