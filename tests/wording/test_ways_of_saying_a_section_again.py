"""Sections that only ask for an earlier one: by number, letter, name, or by nothing but the same heading again."""

from __future__ import annotations

from itertools import pairwise

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read, reading

HEAD = "Red Kettle\nseated, 32 counts, 1 wall, beginner, 100 bpm, intro 16\n\n"
ONE = "Right heel forward, home, right toe to the side, home, right heel forward, home, clap, clap"
TWO = "Roll the hands four counts, clap, hold, clap, hold"
LAST = "Stomp right, stomp left, stomp right, stomp left, heels up, heels down, heels up, heels down"


def moves(sheet: str) -> list[tuple[object, ...]]:
    got = dance_json(read(sheet))
    assert [s["counts"] for s in got["sections"]] == [8, 8, 8, 8], sheet
    assert [f for f in got["findings"] if f["severity"] == "error"] == [], sheet
    return [(e["t"], e["foot"], e["action"], e["dir"], e["arms"]) for e in got["events"]]


def plain(asked: str) -> list[tuple[object, ...]]:
    return moves(f"{HEAD}Section 1\n{ONE}\nSection 2\n{TWO}\nSection 3\n{asked}\nSection 4\n{LAST}\n")


ONE_LEFT = ONE.replace("ight", "@").replace("left", "right").replace("R@", "Left").replace("r@", "left")
SHEETS = {  # the section asked for: headings, and what stands below the third; "~" for nothing
    "one": (
        ("Round one", "Round two", "Round three", "Round four", "As round one."),
        ("Pane 1", "Pane 2", "Pane 3", "Pane 4", "Pane 1 again"),
        ("Compass", "Wool winding", "Compass again", "Hats in the air", "~"),
        ("I. Compass", "II. Wool winding", "III. Compass again", "IV. Hats", "Dance part I once more"),
        ("VERSE", "CHORUS", "VERSE", "LAST LINE", "as before"),
        ("Bread", "Butter", "Bread", "Crumbs", "Bread again"),
        ("A", "B", "A", "C", "as above"),
        ("First candle", "Second candle", "Third candle", "Cake", "the first candle again"),
        ("1. Heels", "2. Wheels", "3. Heels", "4. Stomps", "as number 1"),
        ("Bars 1 to 4", "Bars 5 to 8", "Bars 9 to 12", "Bars 13 to 16", "Repeat bars 1 to 4"),
        ("Box", "Wheel", "Box again", "Stomps", "Repeat the first eight counts"),
        ("Ground floor", "Stairs", "Attic", "Roof", "exactly as the ground floor"),
        ("1/4", "2/4", "3/4", "4/4", "1/4 once more"),
        ("VERSE", "CHORUS", "VERSE", "LAST LINE", "verse again, all eight counts"),
        ("Bread", "Butter", "Bread", "Crumbs", "and the bread a second time"),
        ("[1-8]", "[9-16]", "[17-24]", "[25-32]", "Same as [1-8]"),
        ("1-8 Compass", "9-16 Wheels", "17-24 Compass", "25-32 Hats", "as 1-8"),
        ("Counts 1-8", "Counts 9-16", "Counts 17-24", "Counts 25-32", "Like 1-8."),
        ("Bars 1, 2", "Bars 3, 4", "Bars 5, 6", "Bars 7, 8", "same as bars 1, 2 (facing 12:00)"),
        ("Act 1, the bell (8 counts)", "Act 2, rope (8 counts)", "Act 3, bell (8 counts)", "Act 4", "Repeat act 1."),
        ("Eight 1", "Eight 2", "Eight 3", "Eight 4", "Eight 1 again"),
        ("Heels", "Wheels", "Heels again, all eight", "Hats", "~"),
    ),
    "left": (
        ("Round one", "Round two", "Round three", "Round four", "As round one with the left foot."),
        ("(1) heels", "(2) wheels", "(3) heels", "(4) stomps", "all of (1) with the left"),
        ("Scene 1", "Scene 2", "Scene 3", "Scene 4", "Scene 1, left leg leading"),
        ("Eight No. 1", "Eight No. 2", "Eight No. 3", "Eight No. 4", "As no. 1 with the other foot"),
        ("Step 1", "Step 2", "Step 3", "Step 4", "Everything from step one with the left leg"),
        ("Round one", "Round two", "Round three is round one, left leg leading", "Round four", "~"),
        ("Section 1", "Section 2", "Section 3", "Section 4", "1-8 Repeat section 1, opposite foot"),
        ("S1 Heels", "S2 Wheels", "S3 Heels", "S4 Stomps", "the heels once more, other foot"),
        ("1-8 Compass", "9-16 Wheels", "17-24 Compass", "25-32 Hats", "as 1-8 but with the left foot"),
    ),
    "two": (
        ("Turn 1. Heels", "Turn 2. Wheels", "Turn 3. Wheels", "Turn 4. Stomps", "like turn 2"),
        ("Block one", "Block two", "Block three", "Block four", "Block two once more."),
        ("Line 1", "Line 2", "Line 3", "Line 4", "Same as counts 9-16"),
    ),
}  # fmt: skip


@pytest.mark.parametrize(("which", "words"), [(which, words) for which, rows in SHEETS.items() for words in rows])
def test_a_section_asked_for_again_is_danced_again(which: str, words: tuple[str, ...]) -> None:
    one, two, three, four, asked = words
    below = "" if asked == "~" else f"{asked}\n"
    sheet = f"{HEAD}{one}\n{ONE}\n{two}\n{TWO}\n{three}\n{below}{four}\n{LAST}\n"
    assert moves(sheet) == plain({"one": ONE, "left": ONE_LEFT, "two": TWO}[which])


def test_the_last_section_asks_though_a_remark_stands_below() -> None:
    heads = ("Part one", "Part two", "Part three")
    body = "\n".join(f"{head}\n{steps}" for head, steps in zip(heads, (ONE, TWO, LAST), strict=True))
    assert moves(f"{HEAD}{body}\nPart four\nPart two once more\nThat is the whole of it.\n")[-1][0] == "31"


def test_lines_of_counts_under_headings_in_words_are_no_headings() -> None:
    counted = "\n".join(f"{i} {what}" for i, what in enumerate(ONE.split(", "), 1))
    other = "\n".join(f"{i} {what}" for i, what in enumerate(LAST.split(", "), 1))
    sheet = f"{HEAD}PART ONE: BELLS\n{counted}\nPART TWO: FEET\n{other}\nPART THREE\n{TWO}\nPART FOUR\nPart two again\n"
    assert [e[1:] for e in moves(sheet)[-8:]] == [e[1:] for e in moves(sheet)[8:16]]


def test_what_is_read_keeps_its_lines_and_words() -> None:
    sheet = f"{HEAD}Bread\n{ONE}\nButter\n{TWO}\nBread\nBread again\nCrumbs\n{LAST}\n"
    found = reading(sheet)
    assert [s.title for s in found.dance.sections] == ["Bread", "Butter", "Bread", "Crumbs"]
    assert [s.line for s in found.dance.sections] == [4, 6, 8, 10]
    asked = [sheet[a.span[0] : a.span[1]] for a in found.dance.actions if a.line == 9 and a.span is not None]
    assert set(asked) == {"Bread again"}
    assert all(one.start <= two.start for one, two in pairwise(found.account.pieces))


def test_a_name_that_no_section_has_asks_for_nothing() -> None:
    sheet = f"{HEAD}Bread\n{ONE}\nButter\n{TWO}\nJam\nThe marmalade again\nCrumbs\n{LAST}\n"
    assert [f.kind for f in read(sheet).findings if f.severity in ("error", "warning")]
