"""What stands above and below the steps: length, walls, level, tempo, intro, promises, in many wordings."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

from .saying import answer, errors

EIGHT = (
    "1-4 Step right to the side, touch left beside right, step left to the side, touch right beside left\n5-8 Hold 4"
)

INTRO = (
    "count yourself in over 16 beats", "16 count intro", "Intro: 16", "Start after 16 counts", "16 counts in",
    "Let 16 counts go by.", "We wait for 16 counts.", "Wait for 16 counts, then go.", "16 counts before you start",
    "start 16 counts in", "Let sixteen counts of the music pass", "we let 16 counts go by before we began",
    "16 counts of intro", "Let the band play sixteen counts.", "Give it 16 counts.", "Begin after a 16-count intro",
    "Lead-in: 16 counts", "Sixteen beats to get ready", "The dance begins on count 17", "Start on the 17th count",
    "Listen for sixteen counts, then start", "Hold back for 16 counts", "Intro 2 x 8 counts", "Intro – two eights",
    "Wait two eights, then dance", "Start after 16 beats of drums", "Sit out the first 16 counts",
    "Start on vocals (16 counts)", "Start dancing 16 counts from the first beat", "START ON THE SINGING, 16 BEATS IN",
)  # fmt: skip


@pytest.mark.parametrize("words", INTRO)
def test_the_counts_before_the_first_are_read(words: str) -> None:
    assert answer(EIGHT, f"Probe\n8 counts, 1 wall\n{words}\n\n")["intro_counts"] == 16


TEMPO = (
    "118 bpm", "BPM: 118", "Tempo 118", "118BPM", "118 beats a minute", "118 beats per minute", "about 118 bpm",
    "The music was about 118 bpm", "ca. 118 bpm", "at 118 to the minute", "Music: anything at 118 bpm",
    "(118 b.p.m.)", "118 beats/min", "Speed: 118 beats to the minute", "a hundred and eighteen beats a minute",
)  # fmt: skip


@pytest.mark.parametrize("words", TEMPO)
def test_the_tempo_is_read(words: str) -> None:
    assert answer(EIGHT, f"Probe\n8 counts, 1 wall\n{words}\n\n")["tempo_bpm"] == 118


LEVEL = (
    ("absolute beginner", "AB"), ("absolute beginner", "absolute beginners"), ("beginner", "BEG"),
    ("beginner", "for beginners"), ("beginner", "Level: beginner"), ("beginner", "I should call it a beginner dance"),
    ("improver", "impr."), ("improver", "for improvers"), ("intermediate", "easy intermediate"),
    ("absolute beginner", "for absolute beginners"), ("beginner", "a dance for the beginners' class"),
    ("advanced", "Level – advanced"), ("absolute beginner", "first-time beginners"),
)  # fmt: skip


@pytest.mark.parametrize(("level", "words"), LEVEL)
def test_the_level_is_read(level: str, words: str) -> None:
    assert answer(EIGHT, f"Probe\n8 counts, 1 wall\n{words}\n\n")["level"] == level


WALLS = (
    (4, "32CT/4W/BEG"), (4, "32 count / 4 wall"), (4, "thirty-two counts and four walls"), (4, "32c 4w"), (2, "two walls"),
    (2, "front wall and back wall"), (2, "the front wall & the back wall"),
    (1, "one wall: we look over the chair at the front the whole time"), (1, "it only ever faces the front"),
    (4, "Walls: 4"), (4, "4-wall line dance"), (1, "1 wall, always to the front"), (2, "2 WALL"),
    (4, "It turns to all four walls"), (1, "No turning at all"), (1, "faces the front all the way through"),
)  # fmt: skip


@pytest.mark.parametrize(("walls", "words"), WALLS)
def test_the_number_of_walls_is_read(walls: int, words: str) -> None:
    got = answer(EIGHT, f"Probe\n{words}\n\n")
    assert got["walls"] == walls


TITLE = (
    "Blue Enamel Jug", "Subject: Blue Enamel Jug", "BLUE ENAMEL JUG", "# Blue Enamel Jug", "“Blue Enamel Jug”",
    "Dance: Blue Enamel Jug", "Title: Blue Enamel Jug", "Re: Blue Enamel Jug", "** Blue Enamel Jug **",
    "Blue Enamel Jug (a line dance)", "The steps of Blue Enamel Jug", "Name of the dance: Blue Enamel Jug",
    "Step sheet: Blue Enamel Jug", "Our dance for March: Blue Enamel Jug", "Blue Enamel Jug – 32 counts, 2 walls",
    "Blue Enamel Jug (32c 2w)", "Fwd: Blue Enamel Jug",
)  # fmt: skip


@pytest.mark.parametrize(
    "words",
    [
        "Every part has 8 counts, so 24 in all.",
        "three short verses of eight counts, making twenty-four",
        "3 parts of 8 counts, which makes 24 altogether",
    ],
)
def test_of_the_length_of_a_part_and_of_the_whole_the_whole_is_meant(words: str) -> None:
    assert answer(EIGHT, f"Probe\n{words}\n\n")["counts"] == 24


@pytest.mark.parametrize("line", TITLE)
def test_the_title_is_the_dances_own_name(line: str) -> None:
    assert answer(EIGHT, f"{line}\n8 counts, 1 wall\n\n")["title"].casefold() == "blue enamel jug"


FOOT = (
    "(8 counts, one wall, for beginners. 100 beats per minute. Wait for 16 counts, then go.)",
    "8 counts, 1 wall, beginner, 100 bpm, intro 16", "Beginner. 8 counts. One wall. 100 bpm. Start after 16 counts.",
    "Count: 8 Wall: 1 Level: Beginner Tempo: 100 Intro: 16", "- 8 counts - 1 wall - beginners - 100 bpm - 16 count intro -",
    "P.S. It has 8 counts and one wall, it is for beginners, the music has 100 bpm and we wait for 16 counts.",
    "Level: beginner\nCounts: 8\nWalls: 1\nTempo: 100 bpm\nIntro: 16 counts", "Music: 100 bpm. Intro 16. 8 counts, 1 wall, beginner",
)  # fmt: skip


@pytest.mark.parametrize("words", FOOT)
def test_what_a_header_says_may_stand_below_the_steps(words: str) -> None:
    for gap in ("\n", "\n\n", "\nStart again\n\n"):
        got = answer(f"{EIGHT}{gap}{words}", "Probe\n\n")
        found = [got[k] for k in ("counts", "walls", "level", "tempo_bpm", "intro_counts")]
        assert found == [8, 1, "beginner", 100, 16], gap
        assert (len(got["events"]), errors(got)) == (8, [])


PROMISES = (
    "One restart (wall 3), one tag (after wall 4)", "1 restart: wall 3; 1 tag: after wall 4", "Tag after wall 4, restart on wall 3",
    "One tag after wall 4 and one restart on wall 3 after 4 counts", "Restart wall 3 & tag after wall 4", "No endings, but one tag after wall 4 and a restart on wall 3",
    "A restart on wall 3 and a 2-count tag after wall 4", "1 tag, 1 restart",
)  # fmt: skip


@pytest.mark.parametrize("words", PROMISES)
def test_promises_in_one_sentence_are_told_apart(words: str) -> None:
    body = EIGHT.replace("\n", "\n(Restart here on wall 3)\n") + "\n\nTag (2 counts) after wall 4\n1-2 Clap twice"
    got = answer(body, f"Probe\n8 counts, 1 wall\n{words}\n\n")
    assert errors(got) == []
    assert [(r["walls"], r["after_count"]) for r in got["restarts"]] == [([3], 4)]
    assert [(t["walls"], t["counts"]) for t in got["tags"]] == [([4], 2)]


BESIDE = {  # how many tags and restarts stand below, and header lines that promise them among their facts
    (0, 0): ("16 counts, 2 walls, beginner, no tags, no restarts, 110 bpm, intro 16",
             "16 counts - 2 walls - beginner - no tags or restarts - 110 bpm - 16 count intro",
             "16c 2w beginner, 110bpm, 16 in, no tag no restart",
             "Counts: 16, Walls: 2, Level: Beginner, Tags: none, Restarts: none, BPM: 110, Intro: 16",
             "16 counts, 2 wall line dance for beginners without tags or restarts, at 110 bpm, starting after 16 counts",
             "It has 16 counts and 2 walls, no restarts, it is for beginners and goes at 110 bpm; wait 16 counts."),
    (0, 1): ("16 counts, 2 walls, beginner, 1 restart, 110 bpm, intro 16",
             "16 counts 2 walls beginner 1 restart 110 bpm intro 16",
             "16 counts, 2 walls, beginner, one restart on wall 3 after 8 counts, 110 bpm, intro 16",
             "Beginner / 16 counts / 2 walls / restart wall 3 / 110 bpm / intro 16",
             "16 COUNTS, 2 WALLS, BEGINNER, RESTART ON WALL 3, 110 BPM, START AFTER 16"),
    (1, 0): ("16 counts, 2 walls, one easy tag, beginner, 110 bpm, wait 16",
             "16 counts, 2 walls, beginner, tag after wall 2, 110 bpm, 16 count intro",
             "2 walls, 16 counts, beginner (1 tag), 110 bpm, intro 16 counts"),
}  # fmt: skip
TWO_EIGHTS = """Section 1
1-4 Vine right, touch left
5-8 Vine left, touch right
Section 2
1-4 Step right forward, pivot 1/4 left, step right forward, pivot 1/4 left
5-8 Walk forward right, left, right, left
"""
BELOW = {(0, 0): "", (0, 1): "Restart: wall 3 after 8 counts\n",
         (1, 0): "Tag: after wall 2, 4 counts\n1-4 Sway right, left, right, left\n"}  # fmt: skip


@pytest.mark.parametrize(("there", "line"), [(there, line) for there, lines in BESIDE.items() for line in lines])
def test_what_a_line_promises_takes_nothing_from_the_facts_beside_it(there: tuple[int, int], line: str) -> None:
    got = dance_json(read(f"Two Spoons\n{line}\n\n{TWO_EIGHTS}\n{BELOW[there]}"))
    facts = (got["counts"], got["walls"], got["level"], got["tempo_bpm"], got["intro_counts"])
    assert facts == (16, 2, "beginner", 110, 16)
    assert (len(got["tags"]), len(got["restarts"])) == there
    assert [f for f in got["findings"] if f["severity"] == "error"] == []


@pytest.mark.parametrize(
    ("line", "seated"),
    [
        ("A standing dance, first tried in our chair class", False),
        ("Online seated class, week 4. Push your chair back so that I can see your feet!", True),
        ("A sit-or-stand dance. These are the steps for the chair; if you would rather stand, do the same behind it.", True),
    ],
)  # fmt: skip
def test_a_chair_that_is_only_spoken_of_seats_nobody(line: str, seated: bool) -> None:
    got = dance_json(read(f"Two Spoons\n{line}\n\n{TWO_EIGHTS}"))
    assert got["seated"] is seated
