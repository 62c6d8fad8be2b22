"""W3C, Web Content Accessibility Guidelines 2.2: relative luminance, contrast ratio, 1.4.3, 1.4.6, 1.4.11.

The pairs that pass or fail at a hair are those of "Understanding 1.4.3"; ratios recomputed by hand from the formula.
"""

from __future__ import annotations

import pytest

from softshoe.render.look import contrast, luminance

RATIOS = (
    ("#000000", "#ffffff", 21.0),
    ("#595959", "#ffffff", 7.0047),
    ("#5a5a5a", "#ffffff", 6.8969),
    ("#767676", "#ffffff", 4.5422),
    ("#777777", "#ffffff", 4.4781),
    ("#949494", "#ffffff", 3.0335),
    ("#959595", "#ffffff", 2.9953),
    ("#ff0000", "#ffffff", 3.9985),
    ("#0000ff", "#ffffff", 8.5925),
    ("#ffff00", "#000000", 19.556),
    ("#ffff00", "#ffffff", 1.0738),
)


@pytest.mark.parametrize(("one", "other", "ratio"), RATIOS)
def test_contrast_ratios_are_those_of_the_guidelines(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=6e-5 if ratio < 10 else 6e-4)
    assert contrast(other, one) == contrast(one, other)


def test_a_ratio_is_never_rounded_up_to_a_threshold() -> None:
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")
    assert contrast("#949494", "#ffffff") >= 3.0 > contrast("#959595", "#ffffff")


def test_middle_grey_has_the_luminance_of_the_definition() -> None:
    assert luminance("#808080") == pytest.approx(0.215861, abs=5e-7)
