"""Layouts that may be meant otherwise than they stand: digits run together, rows that are sections, counts over
columns, several sections on a line.
"""

from __future__ import annotations

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

HEAD = "Copper Bell\nseated, 32 counts, 1 wall, beginner, 100 bpm, intro 16\n\n"
ONE = ("R heel forward, home, L heel forward, home", "R toe to the side, home, L toe to the side, home")
TWO = ("stomp R, stomp L, stomp R, stomp L", "clap, hold, clap, hold")
LAST = ("march R, L, R, L", "heels up, heels down, heels up, heels down")
PARTS = (ONE, TWO, ONE, LAST)
PLAIN = "\n".join(f"Section {n}\n1-4 {a}\n5-8 {b}" for n, (a, b) in enumerate(PARTS, 1))


def told(sheet: str) -> list[tuple[object, ...]]:
    got = dance_json(read(sheet))
    assert [s["counts"] for s in got["sections"]] == [8, 8, 8, 8], sheet
    assert [f for f in got["findings"] if f["severity"] == "error"] == [], sheet
    return [(e["t"], e["foot"], e["action"], e["dir"], e["arms"]) for e in got["events"]]


def rows(*marks: str, sign: str = ", ") -> str:
    return "\n".join(f"{mark}{a}{sign}{b}" for mark, (a, b) in zip(marks, PARTS, strict=True))


def halves(*marks: str) -> str:
    pairs = zip(marks[::2], marks[1::2], PARTS, strict=True)
    return "\n".join(f"{one}{a}\n{two}{b}" for one, two, (a, b) in pairs)


TABLE = "\n".join(f"{n} | {a} | {b}" for n, (a, b) in enumerate(PARTS, 1))
LAYOUTS = {
    "digits run together": "\n".join(f"Part {n}\n1234 {a}\n5678 {b}" for n, (a, b) in enumerate(PARTS, 1)),
    "digits run together at the edge": "\n".join(
        f"Part {n}\n{a}      1234\n{b}      5678" for n, (a, b) in enumerate(PARTS, 1)
    ),
    "counts in capitals": "\n".join(
        f"Part {n}\nONE TO FOUR  {a}\nFIVE TO EIGHT  {b}" for n, (a, b) in enumerate(PARTS, 1)
    ),
    "one section after the other": f"1234 {ONE[0]}, 5678 {ONE[1]}. Then 1234 {TWO[0]}, 5678 {TWO[1]}.\n"
    f"1234 {ONE[0]}, 5678 {ONE[1]}. Then 1234 {LAST[0]}, 5678 {LAST[1]}.",
    "digits of pairs": "Part 1\n12 R heel forward, home, 34 L heel forward, home\n56 R toe to the side, home, "
    "78 L toe to the side, home\nPart 2\n1234 stomp R, L, R, L\n5 clap 6 hold 7 clap 8 hold\nPart 3\nas part 1\n"
    "Part 4\n1234 march R, L, R, L\n56 heels up, heels down, 78 heels up, heels down",
    "numbers and bars": rows("1 | ", "2 | ", "3 | ", "4 | "),
    "numbers and gaps": rows("1     ", "2     ", "3     ", "4     "),
    "small Roman numbers": rows("i.   ", "ii.  ", "iii. ", "iv.  "),
    "numbers and dots": rows("1.... ", "2.... ", "3.... ", "4.... "),
    "letters in the middle of their row": rows("P. ", "Q. ", "R. ", "S. "),
    "halves of a number": halves("1a | ", "1b | ", "2a | ", "2b | ", "3a | ", "3b | ", "4a | ", "4b | "),
    "rows that go on": halves("| 1 | ", "|   | ", "| 2 | ", "|   | ", "| 3 | ", "|   | ", "| 4 | ", "|   | "),
    "counts over the columns": f"part | 1-4 | 5-8\n{TABLE}",
    "digits over the columns": f"No | 1234 | 5678\n{TABLE}",
    "one that asks for another": rows("i.   ", "ii.  ", "iii. ", "iv.  ").replace(", ".join(ONE), "As i.")
    .replace("As i.", ", ".join(ONE), 1),
    "names before counts": "\n".join(
        f"{name}   1-4 {a}, 5-8 {b}" for name, (a, b) in zip(("Hay", "Oats", "Rye", "Bran"), PARTS, strict=True)
    ),
    "a name that comes again": f"Hay   1-4 {ONE[0]}, 5-8 {ONE[1]}\nOats  1-4 {TWO[0]}, 5-8 {TWO[1]}\nHay   over again\n"
    f"Bran  1-4 {LAST[0]}, 5-8 {LAST[1]}",
    "two sections a line": f"HAY: 1-4 {ONE[0]}, 5-8 {ONE[1]}. OATS: 1-4 {TWO[0]}, 5-8 {TWO[1]}.\n"
    f"RYE: 1-4 {ONE[0]}, 5-8 {ONE[1]}. BRAN: 1-4 {LAST[0]}, 5-8 {LAST[1]}.",
}  # fmt: skip


@pytest.mark.parametrize("name", LAYOUTS)
def test_a_layout_is_read_as_it_is_meant(name: str) -> None:
    assert told(f"{HEAD}{LAYOUTS[name]}\n") == told(f"{HEAD}{PLAIN}\n")


def test_lines_are_those_of_the_sheet() -> None:
    got = dance_json(read(f"{HEAD}{LAYOUTS['two sections a line']}\n"))
    assert [s["line"] for s in got["sections"]] == [4, 4, 5, 5]
    assert {e["line"] for e in got["events"]} == {4, 5}


def test_a_row_of_a_number_that_came_before_is_told() -> None:
    sheet = f"{HEAD}{rows('Part 1: ', 'Part 2: ', 'Part 2: ', 'Part 4: ')}\n"
    assert "section-number" in {f.kind for f in read(sheet).findings}


def test_a_count_too_few_in_digits_run_together_is_told() -> None:
    sheet = f"{HEAD}{LAYOUTS['digits of pairs'].replace('78 L toe', '7 L toe', 1)}\n"
    assert {f.kind for f in read(sheet).findings if f.severity == "error"}


SPELLED = """Jar 1: mambos
one and two: mambo right forward; three and four: mambo left back; five and six: mambo right forward; seven and eight: mambo left back
Jar 2: box
one step right to the side, two left together, three right forward, four hold; five step left to the side, six right together, seven left back, eight hold
Jar 3: crosses
one cross right over left, two point left to the side, three cross left over right, four point right to the side; five to eight jazz box right
"""  # noqa: E501
FIGURES = """Jar 1
1&2 mambo right forward; 3&4 mambo left back; 5&6 mambo right forward; 7&8 mambo left back
Jar 2
1 step right to the side, 2 left together, 3 right forward, 4 hold; 5 step left to the side, 6 right together, 7 left back, 8 hold
Jar 3
1 cross right over left, 2 point left to the side, 3 cross left over right, 4 point right to the side; 5-8 jazz box right
"""  # noqa: E501


def test_counts_in_words_may_stand_in_pairs() -> None:
    one, two = (dance_json(read(f"Jars\n24 counts, intro 16\n\n{body}")) for body in (SPELLED, FIGURES))
    assert [(e["t"], e["foot"], e["action"], e["dir"]) for e in one["events"]] == [
        (e["t"], e["foot"], e["action"], e["dir"]) for e in two["events"]
    ]


FEET = """count | which foot | what
1 & | R | heel forward, together
2 & | L | heel forward, together
3 4 | R, L | walk forward
5 6 | R, L | forward, half left onto L
7 & 8 | R, L, R | behind, side, across

1 2 | L, R | rock side, recover
3 & 4 | L, R, L | coaster: back, together, forward
5 | R | side
6 | L | touch
7 | L | 1/4 turn left, forward
8 | R | touch
"""
FEET_TOLD = """1& Right heel forward, right together
2& Left heel forward, left together
3-4 Walk forward right, left
5-6 Step right forward, pivot half left
7&8 Right behind, left side, right across

1-2 Rock left to the side, recover right
3&4 Left back, right together, left forward
5-6 Step right to the side, touch left
7-8 Step left forward turning a quarter left, touch right
"""


def test_a_column_may_tell_the_feet() -> None:
    one, two = (dance_json(read(f"Ferns\n16 counts, intro 16\n\n{body}")) for body in (FEET, FEET_TOLD))
    assert [f for f in one["findings"] if f["severity"] == "error"] == []
    assert [(e["t"], e["foot"], e["action"], e["dir"], e["turn"]) for e in one["events"]] == [
        (e["t"], e["foot"], e["action"], e["dir"], e["turn"]) for e in two["events"]
    ]


@pytest.mark.parametrize(
    "said", ["Each part is eight counts.", "Claps are at chest height.", "A and B have eight beats each"]
)
def test_how_long_parts_are_is_no_step(said: str) -> None:
    assert told(f"{HEAD}{PLAIN}\n\n{said}\n") == told(f"{HEAD}{PLAIN}\n")


@pytest.mark.parametrize("asks", ["Everything in part 1.", "Danced just as “Hay”", "HAY (8 counts) once more"])
def test_a_section_is_asked_for_in_more_words(asks: str) -> None:
    bodies = [f"1-4 {a}\n5-8 {b}" for a, b in (ONE, TWO, LAST)]
    sheet = f"Part 1: Hay\n{bodies[0]}\nPart 2: Oats\n{bodies[1]}\nPart 3: Rye\n{asks}\nPart 4: Bran\n{bodies[2]}\n"
    assert told(HEAD + sheet) == told(f"{HEAD}{PLAIN}\n")
