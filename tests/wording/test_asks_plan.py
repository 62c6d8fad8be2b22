"""Sections that ask for others with something other: read by their words, or not at all."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.wording import retold
from softshoe.wording.asks_names import Above, marked
from softshoe.wording.asks_plan import fillers, plans
from softshoe.wording.asks_step import stepper
from softshoe.wording.read import read
from softshoe.wording.retell_codes import codes_of, events_of
from softshoe.wording.retell_weigh import alike, events_in
from softshoe.wording.whole_copies import danced_as

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.wording.asks_rows import Step

HEAD = "Kettle\n{} counts, 1 wall, beginner{}\n\n"
WALKS = "1 Step R forward, 2 step L forward, 3 step R forward, 4 touch L beside R and clap\n" \
        "5 Step L back, 6 step R back, 7 step L back, 8 touch R beside L and clap"  # fmt: skip
VINES = "1 Step R to right side, 2 step L behind R, 3 step R to right side, 4 touch L beside R\n" \
        "5 Step L to left side, 6 step R behind L, 7 turn 1/4 left stepping L forward, 8 scuff R"  # fmt: skip
HEELS = "1 R heel forward, 2 R home, 3 L heel forward, 4 L home\n5 R heel forward, 6 R home, 7 L heel forward, 8 L home"
HANDS = "1 Clap, 2 hold, 3 pat thighs, 4 hold\n5 Clap, 6 hold, 7 push both hands forward, 8 hold"
STANDING = {"Section 1": WALKS, "Section 2": VINES}
SEATED = {"ONE": HEELS, "TWO": HANDS}


def danced(sections: dict[str, str], *, seated: bool) -> Dance:
    body = "\n".join(f"Section {n}\n{words}" for n, words in enumerate(sections.values(), 1))
    return read(HEAD.format(8 * len(sections), ", seated" if seated else "") + body + "\n")


def above_of(sections: dict[str, str], *, seated: bool) -> list[Above]:
    dance = danced(sections, seated=seated)
    told = zip(sections, dance.sections, strict=True)
    return [
        Above(f"{name}\n{sections[name]}", tuple(codes_of(events_in(dance, section))[:-1]), 8 * k, 8)
        for k, (name, section) in enumerate(told)
    ]


def assert_danced(words: str, above: list[Above], step: Step) -> None:
    """Whatever the words are: each plan that they tell can be danced."""
    for plan in plans(words, above, step):
        codes = danced_as(plan, [one.codes for one in above])
        assert codes is not None, (words, plan)
        assert events_of([*codes, "end"]), (words, plan)


def told(words: str, sections: dict[str, str], *, seated: bool) -> list[dict[str, object]] | None:
    above = above_of(sections, seated=seated)
    plan = next(plans(words, above, stepper(seated)), None)
    if plan is None:
        return None
    codes = danced_as(plan, [one.codes for one in above])
    assert codes is not None
    return events_of([*codes, "end"])


def same(words: str, plain: str, sections: dict[str, str], *, seated: bool) -> bool:
    got = told(words, sections, seated=seated)
    dance = danced({"only": plain}, seated=seated)
    return got is not None and alike(got, events_in(dance, dance.sections[0]))


CHANGED = {
    "Section 1 again, but kick L forward on 4": WALKS.replace("4 touch L beside R", "4 kick L forward"),
    "As section 1, only that on 4 you kick L forward in place of the touch": WALKS.replace(
        "4 touch L beside R", "4 kick L forward"
    ),
    "1-8 | as section 1 | no claps": WALKS.replace(" and clap", ""),
    "Like section 1, the claps left out": None,
    "Section 1 without the claps": WALKS.replace(" and clap", ""),
    "The first section once more, the claps are left out": WALKS.replace(" and clap", ""),
    "Same as section 1 but swap the claps for snaps": WALKS.replace("clap", "snap the fingers of both hands"),
    "Section 1 on the other foot, with no touch on 8: stomp L": None,
    "Section 1, kicks forward rather than touches": WALKS.replace("touch L beside R", "kick L forward").replace(
        "touch R beside L", "kick R forward"
    ),
    "Section 2 again, no turn": VINES.replace("turn 1/4 left stepping L forward", "step L to left side"),
    "Section 2 again but cross in front rather than behind": VINES.replace("behind", "in front of"),
    "Repeat section 2 with a clap on 4 and on 8": VINES.replace("beside R", "beside R and clap").replace(
        "scuff R", "scuff R and clap"
    ),
    "Repeat section 2. Last two counts: stomp L, stomp R without weight.": VINES.replace(
        "7 turn 1/4 left stepping L forward, 8 scuff R", "7 stomp L, 8 stomp up R beside L"
    ),
    "counts 9-16 over again, and clap with every touch": VINES.replace("touch L beside R", "touch L beside R and clap"),
    "first half of section 1, then the second half of section 2": "\n".join(
        [WALKS.split("\n")[0], VINES.split("\n")[1]]
    ),
    "Section 2, but turn a quarter left with the step on count 5": None,
    "the one before, hold instead of the scuff": VINES.replace("scuff R", "hold"),
}


@pytest.mark.parametrize("words", [words for words, plain in CHANGED.items() if plain])
def test_a_section_that_asks_with_something_other_is_danced_so(words: str) -> None:
    assert same(words, CHANGED[words] or "", STANDING, seated=False)


SITTING = {
    "the feet of ONE with the hands of TWO": "1 R heel forward and clap, 2 R home, 3 L heel forward and pat thighs, "
    "4 L home\n5 R heel forward and clap, 6 R home, 7 L heel forward and push both hands forward, 8 L home",
    "Hands as in TWO, feet from ONE": "1 R heel forward and clap, 2 R home, 3 L heel forward and pat thighs, "
    "4 L home\n5 R heel forward and clap, 6 R home, 7 L heel forward and push both hands forward, 8 L home",
    "ONE with a clap each time a foot comes home": HEELS.replace("home", "home and clap"),
    "as ONE, with left and right swapped": "1 L heel forward, 2 L home, 3 R heel forward, 4 R home\n"
    "5 L heel forward, 6 L home, 7 R heel forward, 8 R home",
    "TWO again, fill the holds with claps": HANDS.replace("hold", "clap"),
}  # fmt: skip


@pytest.mark.parametrize("words", SITTING)
def test_feet_and_hands_of_two_sections_go_together(words: str) -> None:
    assert same(words, SITTING[words], SEATED, seated=True)


@pytest.mark.parametrize(
    "words",
    [
        "Section 1 again, but somehow kinder to the left knee",
        "Section 3 again",
        "As section 1, but on 4 and then a bit more to the side",
        "Section 1 then section 2",
        "Walk forward R L R, kick L on 4, back L R L, touch R on 8",
        "Section 1 again, kick L on 12",
        "Feet of section 1 beginning left, hands of section 2",
        "Section 1 again, but march R L R L on 5",
        "",
        "\n\n",
    ],
)
def test_what_is_not_wholly_understood_is_no_plan(words: str) -> None:
    assert told(words, STANDING, seated=False) is None


NO_PLAN = """
Section 1, don't kick on 3
Section 1, no kick on 4
Section 2 without the claps on 4
Section 1 without the first two claps
Section 2, nobody claps on 4
Section 2, maybe clap on 4
Section 2, forget to clap on 4
Kick L on 4. Otherwise section 1.
Section 1, touch L to the left on 4
Section 1, kick with the other foot on 4
Section 1 not mirrored
Section 1, do not mirror it
Section 1, start with the other one
Section 1 again, only the hands are different: snap on 4
Section 1, your hands stay in your lap
Section 1 with no claps except on 8
Section 1, no claps apart from the last
Section 1, no claps until 8
Section 1, no claps after 4
Section 2 but clap from 5 on
Section 1 up to count 4
Section 1, no claps on 8-4
Section 2, kick L on 4, rest on 8
Section 1, kick L on 4, together on 8
Section 1 twice
Section 1, four beats only
Section 1 and two more counts
Section 1, change weight
Nothing of section 1
counts 1-2 of section 1, counts 3-8 of section 2
first three of section 1, last four of section 2
the last half of section 1 after the first half of section 2
Backwards as in section 1
Section 1 reversed
Do not repeat section 1
Never dance section 1 again
Instead of section 1, kick L on 4
Section 1, slower
Section 1 doubled
Section 1 facing the back wall
Section 1 with lefts for rights
Section 2, kick L on 4, R on 8
Section 2, turn right on 7
Section 2 without the turn on 3
Section 2, clap on wall 2
Section 2, clap on 4&
Section 1, leave out the last two claps
Section 2, clap twice on 4
Section 1 (6 counts)
Clap with arms up above and kick L on 4
feet of section 1 but not the hands of section 2
feet of section 1 twice, hands of section 2
""".strip().splitlines()  # fmt: skip


@pytest.mark.parametrize("words", NO_PLAN)
def test_nothing_is_made_up_of_what_is_only_half_understood(words: str) -> None:
    assert told(words, STANDING, seated=False) is None


@pytest.mark.parametrize(
    "words",
    [
        "TWO with feet still",
        "TWO, clap on every hold but the last",
        "ONE, left heels become kicks",
        "TWO, push one hand forward on 7",
    ],
)
def test_nothing_is_made_up_on_a_chair(words: str) -> None:
    assert told(words, SEATED, seated=True) is None


def test_what_stands_before_the_section_asked_for_counts_as_well() -> None:
    plain = WALKS.replace(" and clap", "")
    for words in (
        "No claps: section 1 again",
        "Section 3 (no claps)\nAs section 1",
    ):
        assert same(words, plain, STANDING, seated=False), words


def test_letters_that_only_look_alike_are_borne() -> None:
    for words in (
        "section 1, kick at the f\u0131rst touch",
        "again the f\u0131rst part",
        "forward becomes s\u0131de, as \u2460",
    ):
        assert_danced(words, above_of(STANDING, seated=False), stepper(False))


def test_a_section_is_asked_for_by_number_letter_ordinal_name_and_counts() -> None:
    above = [Above("A: The tide\nwalk", ("c1", "hold"), 0, 8), Above("B: The pebbles\nclap", ("c1", "hold"), 8, 8)]
    for words in (
        "as B",
        "the second section",
        "part 2",
        "section two",
        "the 2nd one",
        "as counts 9-16",
        "the pebbles",
    ):
        assert "‹1›" in marked(words, above), words
    for words in ("a clap", "on 2", "2 claps", "one more time", "counts 9-12"):
        assert "‹" not in marked(words, above), words


SAID = """section 1 2 again but kick L on 4 no claps the feet of hands , ( ) and swap for snaps every touch instead
other foot first half 8 -"""
WORDS = st.lists(st.sampled_from([*SAID.split(), "\n"]), max_size=24)


@given(WORDS)
def test_whatever_is_asked_a_plan_can_be_danced(words: list[str]) -> None:
    assert_danced(" ".join(words), above_of(STANDING, seated=False), stepper(False))


def test_the_sign_that_marks_a_section_may_stand_in_her_words() -> None:
    for words in ("‹99› again", "feet of ‹98›, hands of ‹0›", "first half of ‹7›, last half of ‹1›", "‹٣› once more"):
        assert_danced(words, above_of(SEATED, seated=True), stepper(True))


@given(st.text(max_size=200))
def test_any_words_are_borne(words: str) -> None:
    assert_danced(words, above_of(SEATED, seated=True), stepper(True))


def test_words_that_only_fill_mean_no_step() -> None:
    meant = {"kick", "clap", "left", "right", "turn", "hold", "touch", "forward", "back", "side", "no", "without"}
    assert not meant & fillers()
    assert len(fillers()) > 100


SHEET = """Copper Kettle
32 counts, 1 wall, beginner, 110 bpm, intro 16

Part A
walk forward right, left, right and touch the left beside with a clap,
walk back left, right, left and touch the right beside with a clap
Part B
right heel in front, bring it in, left heel in front, bring it in, and all of that again
Part C
the vines: right side, left behind, right side, touch the left; left side, right behind, left side, touch the right
Part D
part A once more, only that on 4 you kick the left forward in place of the touch
"""


def test_a_sheet_in_prose_whose_last_part_asks_for_the_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")
    dance = read(SHEET)
    assert not [f for f in dance.findings if f.severity == "error"]
    first, last = events_in(dance, dance.sections[0]), events_in(dance, dance.sections[3])
    assert [e["action"] for e in last][:4] == ["step", "step", "step", "kick"]
    assert alike([e for e in first if e["t"] != 3], [e for e in last if e["t"] != 3])
    assert first[3]["arms"] == last[3]["arms"]
