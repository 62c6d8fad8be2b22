from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from render.film_scene import STEP_S, lesson, seated
from softshoe.errors import OutputError
from softshoe.render import screen
from softshoe.render.encode import FilmFile
from softshoe.render.film import film
from softshoe.render.film_page import Painter
from softshoe.render.look import typeface
from softshoe.render.screen_card import card_marks
from softshoe.render.screen_time import Schedule
from softshoe.render.stage import Text

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.teach.lesson import Lesson

RATE = 48_000
SILENCE = (np.zeros((2, RATE), np.float32), RATE)


def _words(shown_s: float, taught: Lesson) -> list[str]:
    shown = Schedule(taught).at(shown_s)
    marks = (
        card_marks(shown, typeface(), counts=8)[0]
        if shown.motion is None
        else screen.page_marks(shown, typeface(), counts=8, walls=screen.walls_of(taught), facing=(0, 0))
    )
    return [mark.words for mark in marks if isinstance(mark, Text)]


def test_the_page_says_count_move_next_move_view_and_caption() -> None:
    words = _words(4.1, lesson())
    assert {"1", "Heel forward", "Together", "mirror image", "Right heel forward & together"} <= set(words)


def test_a_card_is_shown_while_nobody_dances() -> None:
    assert _words(0.5, lesson()) == [
        "Chair and floor",
        "A chair without wheels, on a level",
        "floor.",
        "striped: left",
        "plain: right",
    ]


def test_during_the_count_in_the_figure_rests_and_goes_into_its_first_pose_on_the_last_count() -> None:
    schedule = Schedule(lesson())
    at_rest = schedule.at(2.6)
    assert (at_rest.motion, at_rest.moment, at_rest.arrival) == ("seated", 0.0, 0.0)
    assert at_rest.beat is not None
    assert at_rest.beat.label == "6"
    assert [schedule.at(3.5 + share * STEP_S).arrival for share in (0.0, 0.5)] == pytest.approx([0.0, 0.5])
    assert schedule.at(4.0).arrival == 1.0


def test_the_moment_danced_runs_evenly_from_count_to_count() -> None:
    schedule = Schedule(lesson())
    for count in range(8):
        for share in (0.0, 0.5, 0.99):
            shown = schedule.at(4.0 + (count + share) * STEP_S)
            assert shown.moment == pytest.approx(count + share, abs=1e-9)


def test_a_change_of_view_is_announced_two_counts_ahead() -> None:
    schedule = Schedule(lesson())
    assert not schedule.at(8.0 - 2.2 * STEP_S).turning
    assert schedule.at(8.0 - 1.8 * STEP_S).turning
    assert "next: from behind" in _words(7.5, lesson())
    assert not Schedule(lesson(then="mirror")).at(7.9).turning


def test_captions_keep_below_the_floor_and_everything_else_above() -> None:
    shown = Schedule(lesson()).at(4.1)
    below = [
        mark.words
        for mark in screen.page_marks(shown, typeface(), counts=8, walls=(), facing=(0, 0))
        if isinstance(mark, Text) and mark.y > screen.BAND_TOP
    ]
    assert below == ["Right heel forward & together"]


def test_a_long_move_still_fits_its_column() -> None:
    face = typeface()
    taught = lesson()
    long = replace(taught.passages[1].beats[4], now="Right foot crosses behind the left with a small turn to the wall")
    shown = replace(Schedule(taught).at(4.1), beat=long)
    marks = [
        m
        for m in screen.page_marks(shown, face, counts=8, walls=(), facing=(0, 0))
        if isinstance(m, Text) and m.x == screen.LEFT
    ]
    assert all(m.x + face.width(m.words, size=m.size, bold=m.bold) < screen.STAGE[0] + 4 for m in marks[1:])


def test_a_picture_that_did_not_change_is_not_painted_again() -> None:
    painter = Painter(lesson(), {"seated": seated()}, width=640, height=360)
    schedule = Schedule(lesson())
    assert [patch.pixels.shape for patch in painter.paint(schedule.at(0.1))] == [(360, 640, 4)]
    assert painter.paint(schedule.at(0.2)) == ()


def test_between_counts_only_the_dancers_part_of_the_page_is_painted() -> None:
    painter = Painter(lesson(), {"seated": seated()}, width=640, height=360)
    schedule = Schedule(lesson())
    whole, dancer = painter.paint(schedule.at(4.02))
    (later,) = painter.paint(schedule.at(4.06))
    assert whole.pixels.shape == (360, 640, 4)
    assert (later.left, later.top, later.pixels.shape) == (dancer.left, dancer.top, dancer.pixels.shape)
    assert later.pixels.size < whole.pixels.size / 2
    assert (later.pixels != dancer.pixels).any()


def test_nothing_flashes() -> None:
    """WCAG 2.2, 2.3.1: fewer than three pairs of opposing changes of a tenth of full light in any second, on any field.

    Fields here are a twelfth of the page, far smaller than the guideline's quarter of ten degrees."""
    painter = Painter(lesson(), {"seated": seated()}, width=320, height=180)
    schedule = Schedule(lesson())
    light, picture = [], np.zeros((180, 320, 4), np.uint8)
    for k in range(4 * 25):
        for patch in painter.paint(schedule.at(4.0 + k / 25)):
            high, wide = patch.pixels.shape[:2]
            picture[patch.top : patch.top + high, patch.left : patch.left + wide] = patch.pixels
        light.append(picture[..., :3].reshape(3, 60, 4, 80, 3).mean(axis=(1, 3, 4)).ravel() / 255)
    steps = np.diff(np.array(light), axis=0)
    for second in range(4):
        assert (np.abs(steps[25 * second : 25 * (second + 1)]) >= 0.10).sum(axis=0).max() < 3


@pytest.mark.media
def test_a_film_has_the_length_chapters_and_colours_it_should(tmp_path: Path) -> None:
    import av

    target = tmp_path / "new" / "film.mp4"
    told: list[float] = []
    film(lesson(), {"seated": seated()}, SILENCE, target, width=640, height=360, progress=told.append)
    with av.open(str(target)) as box:
        video, audio = box.streams.video[0], box.streams.audio[0]
        assert video.frames == 9 * 25
        assert float(audio.duration * audio.time_base) == pytest.approx(9.0, abs=0.05)
        assert [c["metadata"]["title"] for c in box.chapters()] == ["Chair and floor", "The whole dance", "Rest"]
        assert (video.codec_context.colorspace, video.codec_context.color_range) == (1, 1)  # BT.709, limited
        first = next(box.decode(video)).to_ndarray(format="rgb24")
    assert np.abs(first[5, 5].astype(int) - 255).max() <= 3
    assert told[0] == 0.0
    assert told[-1] == 1.0
    assert [p.name for p in target.parent.iterdir()] == ["film.mp4"]


@pytest.mark.media
def test_a_film_can_be_played_while_it_loads(tmp_path: Path) -> None:
    film(lesson(), {"seated": seated()}, SILENCE, tmp_path / "f.mp4", width=320, height=180)
    data = (tmp_path / "f.mp4").read_bytes()
    assert data.index(b"moov") < data.index(b"mdat")


@pytest.mark.media
def test_a_film_stopped_half_way_leaves_nothing_and_keeps_the_one_before(tmp_path: Path) -> None:
    target = tmp_path / "film.mp4"
    target.write_bytes(b"the film of last week")

    def stop(share: float) -> None:
        if share > 0.4:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        film(lesson(), {"seated": seated()}, SILENCE, target, width=320, height=180, progress=stop)
    assert [p.name for p in tmp_path.iterdir()] == ["film.mp4"]
    assert target.read_bytes() == b"the film of last week"


def test_a_motion_that_is_missing_is_said_before_anything_is_written(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="nobody dances seated"):
        film(lesson(), {}, SILENCE, tmp_path / "film.mp4")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.media
def test_colours_come_back_as_they_were_drawn(tmp_path: Path) -> None:
    """Limited range loses a little: within three of 255."""
    import av

    drawn = [(168, 72, 12), (18, 85, 138), (138, 44, 104), (23, 34, 46)]
    out = FilmFile(tmp_path / "c.mp4", width=128, height=64, fps=25, sound=SILENCE[0], rate_hz=RATE)
    for colour in drawn:
        picture = np.zeros((64, 128, 4), np.uint8)
        picture[...] = (*colour, 255)
        out.see(picture)
        for _ in range(25):
            out.show()
    out.close()
    with av.open(str(tmp_path / "c.mp4")) as box:
        frames = [f.reformat(format="rgb24", src_colorspace=1).to_ndarray() for f in box.decode(video=0)]
    for k, colour in enumerate(drawn):
        assert np.abs(frames[25 * k + 20][30, 60].astype(int) - colour).max() <= 3
