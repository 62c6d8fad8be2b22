from __future__ import annotations

import contextlib
import itertools
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import numpy as np
import pytest

from softshoe.errors import SettingError
from softshoe.render.look import channels, colours_of, contrast, guise_now, in_guise, mix, palette, typeface
from softshoe.render.look_guise import choices, guise_of
from softshoe.render.look_plan import plan_marks, turn_arc
from softshoe.render.look_rail import Link, rail_marks
from softshoe.render.look_signs import foot_print, letter, ring
from softshoe.render.picture_head import DARK, WHITE_OF_EYE
from softshoe.render.stage import Arc, Capsule, Line, Mark, Polygon, Text, capsule_points, scaled
from softshoe.render.stage_pixels import Canvas
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from typing import Literal

    from softshoe.render.look import Guise

# Machado, Oliveira & Fernandes 2009, "A physiologically-based model for simulation of color vision deficiency",
# severity 1.0, applied to linear RGB. From memory; each row sums to 1, so white stays white.
BLINDNESS = {
    "protan": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deutan": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "tritan": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
}
XYZ = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]  # sRGB, IEC 61966-2-1
TOLD_APART = 20.0  # CIE 1976 difference; about 2 is the least that is seen side by side. Design value.


def _linear(colour: str) -> np.ndarray:
    share = np.array(channels(colour)) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def _lab(linear: np.ndarray) -> np.ndarray:
    xyz = np.array(XYZ) @ np.clip(linear, 0, 1) / np.array([0.9505, 1.0, 1.089])
    f = np.where(xyz > 0.008856, np.cbrt(xyz), 7.787 * xyz + 16 / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def _seen(colour: str, blindness: str | None) -> np.ndarray:
    linear = _linear(colour)
    return _lab(linear if blindness is None else np.array(BLINDNESS[blindness]) @ linear)


@pytest.mark.parametrize("blindness", [None, *BLINDNESS])
def test_left_right_accent_and_ink_are_told_apart_with_every_common_colour_blindness(blindness: str | None) -> None:
    colours = palette()
    for one, other in (("left", "right"), ("left", "ink"), ("right", "accent"), ("left", "accent")):
        apart = np.linalg.norm(_seen(colours[one], blindness) - _seen(colours[other], blindness))
        least = TOLD_APART if {one, other} == {"left", "right"} else TOLD_APART / 2
        assert apart >= least, (one, other, blindness, apart)


@pytest.mark.parametrize("name", ["ink", "soft", "left", "right", "accent"])
def test_words_and_letters_stand_out_from_paper_and_floor(name: str) -> None:
    colours = palette()
    assert contrast(colours[name], colours["paper"]) >= 4.5  # WCAG 2.2, 1.4.3
    assert contrast(colours[name], colours["mist"]) >= 4.5


def test_ink_stands_out_enough_for_older_readers() -> None:
    assert contrast(palette()["ink"], palette()["paper"]) >= 7  # WCAG 2.2, 1.4.6


@pytest.mark.parametrize("name", ["trousers", "left", "right", "ink", "wood_deep"])
def test_legs_shoes_and_chair_stand_out_from_the_floor(name: str) -> None:
    for outfit in choices("outfits"):
        assert contrast(colours_of(guise_of(outfit=outfit))[name], palette()["mist"]) >= 3  # WCAG 2.2, 1.4.11


EVERY = [guise_of(outfit=o, skin=s) for o in choices("outfits") for s in choices("skins")]


@pytest.mark.parametrize("guise", EVERY, ids=lambda guise: f"{guise.outfit}, {guise.skin}")
def test_hands_are_told_from_the_cloth_they_rest_on_whoever_is_drawn(guise: Guise) -> None:
    colours = colours_of(guise)
    for cloth in ("trousers", "top", "right"):
        for blindness in (None, *BLINDNESS):
            apart = np.linalg.norm(_seen(colours["skin"], blindness) - _seen(colours[cloth], blindness))
            assert apart >= TOLD_APART / 2, (cloth, blindness, apart)


def test_eyes_and_mouth_are_seen_on_every_skin() -> None:
    for guise in EVERY:
        colours = colours_of(guise)
        line = colours["eye"] if contrast(colours["eye"], colours["skin"]) >= DARK else WHITE_OF_EYE
        assert contrast(line, colours["skin"]) >= 3  # WCAG 2.2, 1.4.11


def test_skins_are_steps_that_can_be_told_from_each_other() -> None:
    skins = [colours_of(guise_of(skin=name))["skin"] for name in choices("skins")]
    light = [_lab(_linear(skin))[0] for skin in skins]
    assert all(a - b >= 7 for a, b in itertools.pairwise(light))


def test_a_look_is_asked_for_in_plain_words_in_any_order() -> None:
    assert guise_of("bib", "Dark", "black  curls") == guise_of("dungarees", "brown", "curly, black")
    assert (guise_of(hair="bald").hair, guise_of(hair="golden").hair_colour) == ("none", "fair")
    assert guise_of(hair="golden").hair == guise_of().hair


@pytest.mark.parametrize(
    ("said", "hint"),
    [({"outfit": "dungares"}, "dungarees"), ({"skin": "umbre"}, "umber"), ({"hair": "blak curls"}, "black")],
)
def test_a_word_no_look_has_is_answered_with_the_nearest(said: dict[str, str], hint: str) -> None:
    with pytest.raises(SettingError, match=hint):
        guise_of(**said)  # type: ignore[arg-type]


def test_a_look_is_in_force_inside_its_block_only() -> None:
    before = palette()
    with contextlib.suppress(RuntimeError), in_guise(guise_of("dungarees", page="high")):
        assert palette()["paper"] == "#000000"
        raise RuntimeError
    assert palette() == before
    assert guise_now() == guise_of()


@pytest.mark.parametrize("name", ["ink", "soft", "left", "right", "accent"])
def test_in_high_contrast_words_and_signs_stand_out_by_seven(name: str) -> None:
    colours = colours_of(guise_of(page="high"))
    assert contrast(colours[name], colours["paper"]) >= 7  # WCAG 2.2, 1.4.6
    assert contrast(colours[name], colours["mist"]) >= 7


def test_stripes_stand_out_from_the_cloth_between_them() -> None:
    assert contrast(palette()["left"], palette()["left_pale"]) >= 4.5


def test_a_mix_begins_with_one_colour_and_ends_with_the_other() -> None:
    assert [mix("#102030", "#ffeedd", share) for share in (0, 1)] == ["#102030", "#ffeedd"]


def _letters(marks: list[Mark]) -> list[str]:
    return [mark.words for mark in marks if isinstance(mark, Text)]


def test_left_and_right_differ_without_colour() -> None:
    def shapes(side: str) -> list[str]:
        return [type(mark).__name__ for mark in foot_print(50, 50, 80, side=side, bears=1.0)]

    assert shapes("left").count("Polygon") > shapes("right").count("Polygon") == 0
    assert _letters(foot_print(50, 50, 80, side="left", bears=1.0)) == ["L"]
    assert _letters(letter(0, 0, 10, side="right", filled=True)) == ["R"]


def _bars(bears: float) -> list[float]:
    marks = foot_print(50, 50, 80, side="right", bears=bears)
    return [m.x1 - m.x0 for m in marks if isinstance(m, Capsule) and m.y0 == m.y1]


def test_the_ground_bar_is_half_as_long_at_half_weight_and_gone_from_a_free_foot() -> None:
    assert _bars(0.5) == [_bars(1.0)[0] / 2]
    assert _bars(0.0) == []


def test_a_free_foot_is_open_on_either_side() -> None:
    for side in ("left", "right"):
        sole = foot_print(50, 50, 80, side=side, bears=0.0)[0]
        assert isinstance(sole, Capsule)
        assert sole.fill == palette()["paper"]


@pytest.mark.parametrize(("counts", "done"), [*itertools.product((8,), range(9)), (6, 3)])
def test_the_ring_has_one_link_a_count_and_fills_up_to_the_present_one(counts: int, done: int) -> None:
    links = [m for m in ring(0, 0, 100, counts=counts, done=done, label="x", thick=20) if isinstance(m, Arc)]
    empty = [link for link in links if link.ink == palette()["rule"]]
    present = [link for link in links if link.ink == palette()["accent"]]
    assert (len(links), len(empty), len(present)) == (counts, counts - done, min(done, 1))
    assert links[0].start_deg < 360 / counts


def test_a_turn_arc_has_one_tick_an_eighth_of_a_circle() -> None:
    for turn in (45, -90, 180, 360):
        ticks = [m for m in turn_arc(0, 0, 50, facing_deg=0, turn_deg=turn) if isinstance(m, Line)]
        assert len(ticks) == abs(turn) // 45


def test_the_arrow_of_the_room_points_where_the_dancer_looks() -> None:
    for facing, (x, y) in {0: (0, -1), 90: (1, 0), 180: (0, 1), 270: (-1, 0)}.items():
        arrow = [m for m in plan_marks(0, 0, 100, facing_deg=facing) if isinstance(m, Polygon)][-1]
        tip = max(arrow.points, key=lambda p: p[0] ** 2 + p[1] ** 2)
        assert tip == pytest.approx((36 * x, 36 * y), abs=1e-9)


def test_the_plan_shows_a_turn_to_come_from_where_she_looks_and_one_done_up_to_there() -> None:
    def arc(when: Literal["to come", "done"]) -> tuple[float, float]:
        found = [m for m in plan_marks(0, 0, 100, facing_deg=90, turn_deg=90, when=when) if isinstance(m, Arc)]
        return found[0].start_deg, found[0].end_deg

    assert arc("to come") == (90, 180)
    assert arc("done") == (0, 90)


LINKS = (Link("wall", "1"), Link("tag"), Link("cut", "2"), Link("end"))


def test_the_rail_has_one_link_a_wall_with_its_number_and_is_squeezed_to_its_place() -> None:
    marks, end = rail_marks(LINKS, 0, 0, longest=400)
    assert _letters(marks) == ["1", "2"]
    assert end <= 400
    assert rail_marks(LINKS, 0, 0, longest=60)[1] <= 60.001


def test_on_a_film_the_links_danced_are_filled_and_the_present_one_has_the_accent() -> None:
    fills = [m.fill for m in rail_marks(LINKS, 0, 0, longest=400, present=2)[0] if isinstance(m, Capsule)]
    assert fills == [palette()["ink"], palette()["ink"], palette()["accent"]]
    assert not any(isinstance(m, Capsule) for m in rail_marks(LINKS, 0, 0, longest=400)[0])


def test_an_svg_is_well_formed_and_carries_its_words() -> None:
    marks: list[Mark] = [
        Text(1, 2, "toe & <heel>", 12, "#000000"),
        *ring(0, 0, 9, counts=8, done=1, label="1", thick=2),
    ]
    root = ElementTree.fromstring(svg(marks, width=10, height=20, alt="a ring & a word"))
    assert root.attrib["viewBox"] == "0 0 10 20"
    assert root[0].text == "a ring & a word"
    assert "toe & <heel>" in [node.text for node in root]


def test_a_mark_made_twice_as_large_has_an_outline_twice_as_large() -> None:
    tube = Capsule(1, 2, 30, 100, 200, 40, "#000000", None, 1)
    twice = scaled(tube, 2)
    assert isinstance(twice, Capsule)
    assert np.allclose(capsule_points(twice), 2 * np.array(capsule_points(tube)))


def test_a_capsule_within_a_capsule_is_the_larger_circle() -> None:
    points = np.array(capsule_points(Capsule(0, 0, 10, 1, 0, 2, "#000000")))
    assert np.allclose(np.hypot(points[:, 0], points[:, 1]), 10)


def test_letters_the_words_face_lacks_are_drawn_from_another_face() -> None:
    def picture(words: str) -> np.ndarray:
        canvas = Canvas(200, 40, typeface())
        canvas.draw([Text(4, 30, words, 24, "#000000")])
        return canvas.pixels()

    runs = typeface().runs(Text(0, 0, "Жок, δ, ẹ and a", 24, "#000000"))
    assert "".join(letters for letters, _, _ in runs) == "Жок, δ, ẹ and a"
    assert (picture("Ж") != picture("Д")).any()  # a face without them would draw one empty box for both
    assert typeface().width("Ж and a", size=24) == sum(
        run[2] for run in typeface().runs(Text(0, 0, "Ж and a", 24, "#0"))
    )


def test_words_are_wrapped_to_a_width_and_none_is_lost() -> None:
    said = "right heel forward and home then the left one too"
    broken = typeface().wrapped(said, size=30, width=200)
    assert " ".join(broken) == said
    assert all(typeface().width(line, size=30) <= 200 for line in broken)
