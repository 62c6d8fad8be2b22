"""Headings of any wording begin a section and add no step."""

from __future__ import annotations

import pytest

from softshoe.wording.read import read

from .saying import reads_as

STEPS = (
    "1-4 Step right to the side, touch left beside right, step left to the side, touch right beside left\n5-8 Hold 4",
    "1-4 Walk forward right, left, right, left\n5-8 Walk back right, left, right, left",
)
HEAD = "Probe\n16 counts, 1 wall, intro 16, start with the right foot\n\n"
PLAIN = f"Section 1\n{STEPS[0]}\nSection 2\n{STEPS[1]}"

PAIRS = (
    ("ONE: out and round", "TWO: vine with a quarter, pivot a quarter"), ("One. Sides", "Two. Walks"),
    ("ONE – side touches", "TWO – walks"), ("1) Side touches", "2) Walk, walk"), ("1. Sides", "2. Walks"),
    ("No. 1: sides", "No. 2: walks"), ("First lot.", "Second lot."), ("First bit: touches", "Second bit: walks"),
    ("Lot 1", "Lot 2"), ("Chunk one – side to side", "Chunk two – walk about"), ("I. Out to the side", "II. Walks"),
    ("A) Rolling vine right, vine left", "B) Paddles, unwind, sways"), ("The first eight", "The second eight"),
    ("== 1 to 8 ==", "== 9 to 16 =="), ("PART 1   (smile, they can see you)", "PART 2   (the letter K, if they ask)"),
    ("1st 8", "2nd 8"), ("S1", "S2"), ("Sec. 1 – Touches", "Sec. 2 – Walks"), ("[1-8] Touches", "[9-16] Walks"),
    ("Bars 1 and 2", "Bars 3 and 4"), ("*** Section One ***", "*** Section Two ***"), ("Block A", "Block B"),
    ("1.", "2."), ("A.", "B."), ("Counts 1 to 8: touches", "Counts 9 to 16: walks"), ("# 1", "# 2"),
    ("~ ONE ~", "~ TWO ~"), ("Set 1 - sides", "Set 2 - walks"), ("Section 1: Sides.", "And now section 2: walks."),
)  # fmt: skip


@pytest.mark.parametrize(("first", "second"), PAIRS, ids=lambda words: words)
def test_a_heading_of_any_wording_begins_a_section(first: str, second: str) -> None:
    reads_as(f"{first}\n{STEPS[0]}\n{second}\n{STEPS[1]}", PLAIN, HEAD)
    reads_as(f"{first}\n{STEPS[0]}\n\n{second}\n{STEPS[1]}\n\nStart again", PLAIN, HEAD)


SENTENCES = (
    "Kick right forward on 1, step right beside left on 2, kick left forward on 3, step left beside right on 4.\n"
    "The same again on 5 to 8",
    "Clap eight times",
)


@pytest.mark.parametrize("name", ["{n}. {word} (8 counts)", "{n}) {word} - 8 counts", "{n}. {word}, 8 beats"])
def test_a_numbered_name_with_its_length_over_sentences_is_not_danced(name: str) -> None:
    heads = [name.format(n=n, word=word) for n, word in ((1, "Kicking"), (2, "Clapping"))]
    plain = f"Section 1\n{SENTENCES[0]}\nSection 2\n1-8 {SENTENCES[1]}"
    end = "\n\nBack to number 1 and off we go again, until the music stops."
    reads_as(f"{heads[0]}\n{SENTENCES[0]}\n\n{heads[1]}\n{SENTENCES[1]}{end}", plain, HEAD)


NUMBERED = (
    "{n}. {words}.", "{n}) {words}", "{n} {words}", "{n} - {words}", "{n}: {words}", "({n}) {words}",
    "Count {n}: {words}",
    "{n}, {words}", "| {n} | {words} |", "On {n} {words}", "• {n} {words}",
)  # fmt: skip


@pytest.mark.parametrize("form", NUMBERED)
def test_counts_of_a_numbered_list_are_counts_not_headings(form: str) -> None:
    words = ("step right to the side", "touch left beside right", "step left to the side", "touch right beside left")
    eight = [form.format(n=i + 1, words=words[i % 4]) for i in range(8)]
    plain = [f"{i + 1} {words[i % 4]}" for i in range(8)]
    both = ["\n".join(lines) for lines in (eight, plain)]
    reads_as(f"{both[0]}\n\n{both[0]}", f"{both[1]}\n\n{both[1]}", HEAD)


WALKS = "1-4 Walk right, left, right, left\n5-8 Walk back right, left, right, left\n"
HEELS = "1-4 Right heel forward, home, left heel forward, home\n5-8 Right heel forward, home, left heel forward, home\n"
CLAPS = "1-4 Sway right, left, right, left\n5-8 Clap, clap, clap, hold\n"
COMING_BACK = (
    ("A", "B", "A", "C", WALKS),
    ("Part A", "Part B", "Part A again", "Part C", ""),
    ("A. There", "B. Heels", "A. There", "C. Noise", WALKS),
    ("Part A", "Part B", "Part A", "Part C", WALKS),
    ("Section 1", "Section 2", "Section 1 again", "Section 3", ""),
)


@pytest.mark.parametrize("heads", COMING_BACK)
def test_a_section_that_comes_back_under_its_own_letter_is_no_slip(heads: tuple[str, ...]) -> None:
    one, two, three, four, again = heads
    body = f"{one}\n{WALKS}\n{two}\n{HEELS}\n{three}\n{again}\n{four}\n{CLAPS}"
    dance = read(f"Probe\n32 counts, 1 wall, beginner\n\n{body}")
    assert [int(section.length.n) for section in dance.sections] == [8, 8, 8, 8]
    assert not [finding for finding in dance.findings if finding.severity == "error"]


@pytest.mark.parametrize("heads", [("A", "B", "A", "C"), ("Section 1", "Section 2", "Section 1", "Section 3")])
def test_other_steps_under_a_letter_that_comes_twice_are_a_slip(heads: tuple[str, ...]) -> None:
    body = "\n".join(f"{head}\n{steps}" for head, steps in zip(heads, (WALKS, HEELS, CLAPS, WALKS), strict=True))
    found = [f.kind for f in read(f"Probe\n32 counts, 1 wall, beginner\n\n{body}").findings]
    assert "section-number" in found
