from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest

from render.film_scene import STEP_S, lesson, seated, walking
from render.flashes import MOST_OF_PAGE, flashing_share, luminance
from softshoe.dance.counts import Count
from softshoe.errors import OutputError, SettingError
from softshoe.figure.motion import Frames, Motion
from softshoe.render import screen
from softshoe.render.encode import FilmFile
from softshoe.render.film import film
from softshoe.render.film_cast import Cast
from softshoe.render.film_colours import film_colour, planes_of
from softshoe.render.film_edition import Edition, edition_of
from softshoe.render.film_layer import places_before
from softshoe.render.film_page import Painter
from softshoe.render.look import channels, contrast, in_guise, palette, typeface
from softshoe.render.screen_card import card_marks
from softshoe.render.screen_layout import TALL, WIDE
from softshoe.render.screen_rail import rail_of, screen_rail
from softshoe.render.screen_time import Schedule
from softshoe.render.stage import Capsule, Text
from softshoe.teach.lesson import Beat, Lesson, Passage

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from softshoe.render.screen_layout import Layout
    from softshoe.render.screen_time import Shown

RATE = 48_000
SILENCE = (np.zeros((2, RATE), np.float32), RATE)


def _words(shown_s: float, taught: Lesson) -> list[str]:
    shown = Schedule(taught).at(shown_s)
    marks = (
        card_marks(shown, WIDE, counts=8)[0]
        if shown.motion is None
        else screen.page_marks(shown, WIDE, counts=8, rail=rail_of(taught))
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
    assert not schedule.at(8.0 - 2.2 * STEP_S).coming
    assert schedule.at(8.0 - 1.8 * STEP_S).coming == "from behind"
    assert "next: from behind" in _words(7.5, lesson())
    assert not Schedule(lesson(then="mirror")).at(7.9).coming


def test_captions_keep_below_the_floor_and_everything_else_above() -> None:
    shown = Schedule(lesson()).at(4.1)
    below = [
        mark.words
        for mark in screen.page_marks(shown, WIDE, counts=8, rail=())
        if isinstance(mark, Text) and mark.y > WIDE.band_top
    ]
    assert below == ["Right heel forward & together"]


@pytest.mark.parametrize("layout", [WIDE, TALL], ids=["wide", "tall"])
def test_a_long_move_still_fits_its_column(layout: Layout) -> None:
    face = typeface()
    taught = lesson()
    long = replace(taught.passages[1].beats[4], now="Right foot crosses behind the left with a small turn to the wall")
    shown = replace(Schedule(taught).at(4.1), beat=long)
    marks = [
        m for m in screen.page_marks(shown, layout, counts=8, rail=()) if isinstance(m, Text) and m.words in long.now
    ]
    assert all(face.width(m.words, size=m.size, bold=m.bold) <= layout.now.width for m in marks)
    assert max(m.y for m in marks) < layout.next_.top - 40


def test_a_picture_that_did_not_change_is_not_painted_again() -> None:
    painter = Painter(lesson(), {"seated": seated()}, width=640, height=360)
    schedule = Schedule(lesson())
    assert [patch.box for patch in painter.paint(schedule.at(0.1))] == [(0, 0, 640, 360)]
    assert painter.paint(schedule.at(0.2)) == []


def test_marks_that_stay_are_found_though_others_come_and_go_before_them() -> None:
    one, two, three, four = (Text(0, k, str(k), 20, "#000000") for k in range(4))
    assert places_before([one, four, two._replace(), three], [one, two, three]) == [0, None, 1, 2]
    assert places_before([three, one], [one, two, three]) == [2, None]


def test_frames_reckoned_many_at_a_time_are_those_of_each_moment() -> None:
    cast, alone = (Cast({"seated": seated()}, WIDE.stage) for _ in range(2))
    shown = [Schedule(lesson()).at(4.0 + k / 25) for k in range(90)]
    for one in shown:
        cast.expect(str(one.motion), one.moment)
    for one in (*shown[::-1], *shown):
        many, single = cast.frames(one), alone.frames(one)
        assert np.array_equal(many.points_m, single.points_m)
        assert np.array_equal(many.bearing, single.bearing)


def test_between_counts_only_what_moved_is_painted() -> None:
    painter = Painter(lesson(), {"seated": seated()}, width=640, height=360)
    schedule = Schedule(lesson())
    painter.paint(schedule.at(4.02))
    moved = painter.paint(schedule.at(4.10))
    assert moved
    assert sum(patch.planes[0][0].size for patch in moved) < 640 * 360 / 4


def _seen(painter: Painter, shown: Iterable[Shown], *, width: int, height: int) -> Iterator[np.ndarray]:
    """The brightness of every frame as its patches leave it."""
    picture = np.zeros((height, width), np.uint8)
    for one in shown:
        for patch in painter.paint(one):
            left, top, right, bottom = patch.box
            picture[top:bottom, left:right] = patch.planes[0][0]
        yield picture.copy()


@pytest.mark.parametrize("words", ["", "portrait"])
def test_what_is_painted_in_pieces_is_the_picture_drawn_at_once(words: str) -> None:
    """Pieces, and pictures kept from the wall before, leave nothing behind and take nothing away."""
    edition, taught = edition_of(words)[0], _two_walls()
    motions = {"standing:dance": _turning()}
    wide, high = (360, 640) if "portrait" in words else (640, 360)
    schedule = Schedule(taught, fps=25)
    shown = [schedule.at(k / 25) for k in range(0, 190, 5)]
    painter = Painter(taught, motions, width=wide, height=high, edition=edition)
    painter.expect(shown)
    pieces = list(_seen(painter, shown, width=wide, height=high))
    for k in (7, 19, 26, 37):
        fresh = Painter(taught, motions, width=wide, height=high, edition=edition)
        (whole,) = _seen(fresh, [shown[k]], width=wide, height=high)
        far = np.abs(pieces[k].astype(int) - whole) > 60
        assert far.mean() < 0.003  # soft edges a part of a pixel aside; an arm left behind is more


def test_a_count_that_comes_again_has_the_same_pictures_and_none_is_half_a_frame_off() -> None:
    taught = _two_walls()
    uneven = replace(taught, passages=tuple(
        replace(p, beats=tuple(replace(b, at_s=b.at_s * 1.013, step_s=STEP_S * 1.013) for b in p.beats))
        for p in taught.passages
    ))  # fmt: skip
    schedule, exact = Schedule(uneven, fps=25), Schedule(uneven)
    moments = []
    for k in range(190):
        shown, then = schedule.at(k / 25), exact.at(k / 25)
        assert abs(shown.moment - then.moment) * STEP_S <= 0.5 / 25 + 1e-9
        moments.append(round(shown.moment % 8, 6))
    assert len(set(moments)) <= 8 * round(STEP_S * 1.013 * 25) + 1


@pytest.mark.media
@pytest.mark.parametrize("words", ["", "portrait", "held + contrast"])
def test_no_edition_of_a_film_flashes(words: str, tmp_path: Path) -> None:
    """Frames of the film itself, captions, ring and map included."""
    import av

    target, quick = tmp_path / "f.mp4", replace(lesson(), length_s=7.0)
    film(quick, {"seated": seated()}, SILENCE, target, width=192, height=108, edition=edition_of(words)[0])
    with av.open(str(target)) as box:
        frames = [(frame.time, frame.to_ndarray(format="gray")) for frame in box.decode(video=0)]
    light = np.array([luminance(grey[::2, ::2]).ravel() for _, grey in frames])
    assert flashing_share(light, np.array([time for time, _ in frames])) <= MOST_OF_PAGE


def test_a_page_that_flashes_is_found() -> None:
    times = np.arange(50) / 25
    light = np.ones((50, 100)) * 0.5
    light[:, :20] += 0.3 * (np.arange(50) % 6 < 3)[:, None]  # four times a second, a fifth of the page
    assert flashing_share(light, times) == pytest.approx(0.2)
    light[:, :20] = 0.5 + 0.3 * (np.arange(50) % 12 < 6)[:, None]  # twice a second
    assert flashing_share(light, times) == 0.0


@pytest.mark.media
def test_a_film_has_the_length_chapters_and_colours_it_should(tmp_path: Path) -> None:
    import av

    target = tmp_path / "new" / "film.mp4"
    told: list[float] = []
    film(lesson(), {"seated": seated()}, SILENCE, target, width=640, height=360, progress=told.append)
    with av.open(str(target)) as box:
        video, audio = box.streams.video[0], box.streams.audio[0]
        assert float(video.duration * video.time_base) == pytest.approx(9.0)
        assert video.frames < 0.6 * 9 * 25  # cards and held poses are not encoded again and again
        assert float(audio.duration * audio.time_base) == pytest.approx(9.0, abs=0.05)
        assert [c["metadata"]["title"] for c in box.chapters()] == ["Chair and floor", "The whole dance", "Rest"]
        assert (video.codec_context.colorspace, video.codec_context.color_range) == (1, 1)  # BT.709, limited
        first = next(box.decode(video)).to_ndarray(format="rgb24")
    assert np.abs(first[5, 5].astype(int) - 255).max() <= 3
    assert told[0] == 0.0
    assert told[-1] == 1.0
    assert [p.name for p in target.parent.iterdir()] == ["film.mp4"]


@pytest.mark.media
def test_an_edition_takes_the_very_sound_of_the_plain_film_and_both_play_while_they_load(tmp_path: Path) -> None:
    plain, held = tmp_path / "plain.mp4", tmp_path / "held.mp4"
    tone = 0.3 * np.sin(2 * np.pi * 440 / RATE * np.arange(9 * RATE, dtype=np.float32))
    film(lesson(), {"seated": seated()}, (np.stack([tone, -tone]), RATE), plain, width=320, height=180)
    film(lesson(), {"seated": seated()}, plain, held, width=320, height=180, edition=Edition(held=True))
    assert len(_heard(plain)) > 9 * RATE
    assert np.array_equal(_heard(plain), _heard(held))
    for data in (plain.read_bytes(), held.read_bytes()):
        assert data.index(b"moov") < data.index(b"mdat")


@pytest.mark.media
def test_a_film_in_high_contrast_made_along_with_the_plain_one_is_the_one_made_alone(tmp_path: Path) -> None:
    plain, beside, alone = (tmp_path / f"{name}.mp4" for name in ("plain", "beside", "alone"))
    tone = 0.3 * np.sin(2 * np.pi * 440 / RATE * np.arange(7 * RATE, dtype=np.float32))
    quick, size = replace(lesson(), length_s=7.0), {"width": 192, "height": 108}
    film(quick, {"seated": seated()}, (np.stack([tone, -tone]), RATE), plain, **size, contrast=beside)
    film(quick, {"seated": seated()}, plain, alone, **size, edition=edition_of("high contrast")[0])
    assert np.array_equal(_heard(plain), _heard(beside))
    assert np.array_equal(_pictures(beside), _pictures(alone))
    assert _pictures(plain)[0].mean() > 2 * _pictures(beside)[0].mean()


def _pictures(path: Path) -> np.ndarray:
    import av

    with av.open(str(path)) as box:
        return np.stack([frame.to_ndarray() for frame in box.decode(video=0)])


def _heard(path: Path) -> np.ndarray:
    import av

    with av.open(str(path)) as box:
        return np.concatenate([frame.to_ndarray() for frame in box.decode(audio=0)], axis=1).T


def test_a_film_without_sound_is_told_when_its_sound_is_wanted(tmp_path: Path) -> None:
    nothing = tmp_path / "plain.mp4"
    nothing.write_bytes(b"no film")
    with pytest.raises(OutputError, match="no sound can be taken"):
        film(lesson(), {"seated": seated()}, nothing, tmp_path / "held.mp4")
    assert [p.name for p in tmp_path.iterdir()] == ["plain.mp4"]


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
    out = FilmFile([tmp_path / "c.mp4"], width=128, height=64, fps=25, sound=SILENCE)
    for colour in drawn:
        picture = np.zeros((64, 128, 4), np.uint8)
        picture[...] = (*channels(film_colour("#" + bytes(colour).hex())), 255)
        out.see(planes_of(picture))
        for _ in range(25):
            out.show()
    out.close()
    with av.open(str(tmp_path / "c.mp4")) as box:
        video = box.streams.video[0]
        assert float(video.duration * video.time_base) == pytest.approx(
            4.0
        )  # though its last picture stood for a second
        frames = {f.time: f.reformat(format="rgb24", src_colorspace=1).to_ndarray() for f in box.decode(video=0)}
    for k, colour in enumerate(drawn):
        assert np.abs(frames[float(k)][30, 60].astype(int) - colour).max() <= 3
    assert sorted(frames) == [
        0.0,
        1.0,
        2.0,
        3.0,
        3.84,
        3.88,
        3.92,
        3.96,
    ]  # each picture once, the last again at the end


@pytest.mark.media
def test_a_film_can_be_begun_at_any_four_seconds_though_little_of_it_moves(tmp_path: Path) -> None:
    import av

    film(lesson(), {"seated": seated()}, SILENCE, tmp_path / "f.mp4", width=320, height=180)
    with av.open(str(tmp_path / "f.mp4")) as box:
        frames = [(f.time, f.key_frame) for f in box.decode(video=0)]
    keys = [time for time, key in frames if key]
    assert max(b - a for a, b in pairwise([*keys, frames[-1][0]])) <= 4.0
    assert max(b - a for (a, _), (b, _) in pairwise(frames)) <= 1.0


def _turning(*, counts: int = 8, quarter: float = 90.0) -> Motion:
    """A dancer who comes back to her place and has turned by a quarter when the wall is over."""
    still = walking(counts=counts, right_m=0.0)
    n = len(still.facing_deg)
    turned = np.linspace(0.0, quarter, n)
    sine, cosine = np.sin(np.radians(turned))[:, None], np.cos(np.radians(turned))[:, None]
    points = still.frames.points_m.copy()
    x, z = points[:, :, 0].copy(), points[:, :, 2].copy()
    points[:, :, 0], points[:, :, 2] = x * cosine - z * sine, x * sine + z * cosine
    frames = Frames(points, still.frames.bearing, np.zeros_like(still.frames.active))
    return Motion("standing", float(counts), still.per_count, frames, turned, None)


def _two_walls() -> Lesson:
    def wall(number: int, start_s: float, facing_deg: int) -> Passage:
        beats = tuple(
            Beat(
                start_s + k * STEP_S,
                STEP_S,
                str(k + 1),
                "standing:dance",
                Count(Fraction(k + 1)),
                1,
                number,
                facing_deg,
            )
            for k in range(8)
        )
        return Passage(f"Wall {number}", start_s, start_s + 8 * STEP_S, "standing", "behind", beats)

    return Lesson("Kettle", 8.0, (wall(1, 0.0, 0), wall(2, 4.0, 90)), (), ())


def test_when_the_wall_turns_the_view_goes_round_with_the_dancer_and_nothing_jumps() -> None:
    """Every joint on the screen moves by less than a hand's breadth between two frames, over the seam as well."""
    cast, schedule = Cast({"standing:dance": _turning()}, WIDE.stage), Schedule(_two_walls())
    places = []
    for k in range(8 * 25 - 25):
        shown = schedule.at(k / 25)
        frames = cast.frames(shown)
        assert frames is not None
        places.append(cast.camera(shown).project(frames.points_m[0])[:, :2])
    steps = np.abs(np.diff(np.array(places), axis=0)).max(axis=(1, 2))
    assert steps[99] < 12  # the seam: count 8 of the first wall to count 1 of the second
    assert steps.max() < 40
    assert schedule.at(3.5).coming == "wall 2"


def test_held_poses_stand_for_their_count_and_the_view_never_moves() -> None:
    painter = Painter(
        _two_walls(), {"standing:dance": _turning()}, width=320, height=180, edition=edition_of("reduced motion")[0]
    )
    schedule = Schedule(_two_walls())
    painted = [k for k in range(100) if painter.paint(schedule.at(k / 25))]
    assert len(painted) <= 8 + 2  # once a count, and when the next wall is announced


def test_the_rail_of_a_film_tells_restarts_and_the_ending() -> None:
    taught = _two_walls()
    first, second = taught.passages
    cut = replace(first, beats=first.beats[:4])
    closing = replace(second.beats[-1], motion="standing:close", section=None)
    ended = replace(second, beats=(*second.beats, closing))
    links = rail_of(replace(taught, passages=(cut, ended)))
    assert [(link.kind, link.number) for link, _ in links] == [("cut", "1"), ("wall", "2"), ("end", "")]
    shown = Schedule(replace(taught, passages=(cut, ended))).at(4.1)
    filled = [m.fill for m in screen_rail(links, shown, WIDE) if isinstance(m, Capsule) and m.fill]
    assert filled == [palette()["ink"], palette()["accent"]]


def test_every_layout_keeps_dancer_ring_inset_and_captions_apart() -> None:
    for layout in (WIDE, TALL):
        x, y, r = layout.ring
        left, _, right, bottom = layout.inset
        assert x - r * 1.2 > right or y - r * 1.2 > bottom
        assert max(y + r * 1.2, bottom, layout.stage[3]) < layout.band_top
        assert 0 <= left < right <= layout.width
        assert x + r * 1.2 <= layout.width
        first, lead, size, _, lines = layout.caption
        assert first - size > layout.band_top
        assert first + lead * (lines - 1) < layout.height - size * 0.3


def test_editions_are_asked_for_in_plain_words_alone_or_joined() -> None:
    edition, name = edition_of("phone and contrast")
    assert name == "portrait-high-contrast"
    assert (edition.layout, edition.guise.page, edition.held) == (TALL, "high", False)
    assert edition_of("")[0] == Edition()
    with pytest.raises(SettingError, match="did you mean “portrait”"):
        edition_of("portrat")


@pytest.mark.parametrize("name", ["", "portrait", "high contrast"])
def test_words_on_the_page_can_be_read_in_every_edition(name: str) -> None:
    """WCAG 2.2, 1.4.3 and 1.4.6: 4.5 for all words, 7 for those that matter."""
    edition, _ = edition_of(name)
    with in_guise(edition.guise):
        colours = palette()
        marks = screen.page_marks(Schedule(lesson()).at(4.1), edition.layout, counts=8, rail=())
    for mark in marks:
        if isinstance(mark, Text):
            assert contrast(mark.ink, colours["paper"]) >= 4.5
    assert contrast(colours["ink"], colours["paper"]) >= 7
