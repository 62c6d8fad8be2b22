"""International Council on English Braille, The Rules of Unified English Braille, second edition 2013.

Examples as the rules give them or as they follow from a rule, all from memory: they are no evidence, they hold the
table to what was meant. The code of the cells is North American Braille ASCII, which assigns each of the 64 cells one
character; that it is one to one is checked.
"""

from __future__ import annotations

import pytest

from softshoe.render.sheet_braille import ASCII, braille

# words, cells in Braille ASCII, section of the rules
EXAMPLES = [
    ("step", "STEP", "4.1 letters"),
    ("Step", ",STEP", "8.3 capital letter"),
    ("TAG", ",,TAG", "8.4 capitalised word"),
    ("R", ",R", "8.3 a single capital takes one sign"),
    ("left, right.", "LEFT1 RIGHT4", "7.1 comma, full stop"),
    ("stop; go: now!", "STOP2 GO3 NOW6", "7.1 semicolon, colon, exclamation"),
    ("why?", "WHY8", "7.5 question mark"),
    ("don't", "DON'T", "7.6 apostrophe"),
    ("heel-toe", "HEEL-TOE", "7.2 hyphen"),
    ("16", "#AF", "6.1 numeric indicator"),
    ("1,000", "#A1JJJ", "6.2 numeric mode goes on over a comma"),
    ("3.5", "#C4E", "6.2 and over a decimal point"),
    ("1-4", "#A-#D", "6.3 a hyphen ends it"),
    ("3:00", "#C3#JJ", "6.3 a colon ends it"),
    ("4a", "#D;A", "6.5 a letter from a to j after a number"),
    ("4m", "#DM", "6.5 other letters need nothing"),
    ("(4 counts)", '"<#D COUNTS">', "7.4 round brackets"),
    ("1/4", "#A_/#D", "7.7 oblique stroke"),
    ("1 & 2", "#A @& #B", "3.1 ampersand"),
    ("85 %", "#HE .0", "3.21 percent"),
    ("café", "CAF^/E", "4.2 acute accent"),
    ("Zoë", ",ZO^3E", "4.2 diaeresis"),
]


@pytest.mark.parametrize(("words", "cells", "rule"), EXAMPLES, ids=[rule for _, _, rule in EXAMPLES])
def test_an_example_of_a_rule(words: str, cells: str, rule: str) -> None:
    assert braille(words) == cells, rule


def test_every_cell_has_one_character_and_every_character_one_cell() -> None:
    assert len(ASCII) == len(set(ASCII)) == 64
    assert all(32 <= ord(sign) < 96 for sign in ASCII)
