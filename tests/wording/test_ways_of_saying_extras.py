"""Tags, restarts, bridges and endings in the trade's many wordings are put where they belong."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.wording.read import read

from .saying import answer, errors

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

BODY = "Section 1\n1-8 Walk right, left, right, left, walk back right, left, right, left\nSection 2\n1-8 Walk right, left, right, left, walk back right, left, right, left"
HEAD = "Probe\n16 counts, 1 wall, intro 16, start with the right foot\n\n"
STEPS = "1-4 Sway right, left, right, left"

TAG = (
    "Tag (4 counts): at the end of wall 3\n{steps}", "4-count tag after wall 3\n{steps}", "TAG - 4 counts - after wall 3\n{steps}",
    "Tag after wall 3: sway right, left, right, left", "Tag: after wall 3, 4 counts\n{steps}", "Tag at the end of the 3rd wall (facing 12:00)\n{steps}",
    "A 4 count tag is danced after wall 3:\n{steps}", "*Tag* (after wall 3)\n{steps}", "Tag, danced once, after the third wall\n{steps}",
    "There is one tag, after wall 3:\n{steps}", "At the end of wall 3 add this 4-count tag:\n{steps}", "Easy tag, wall 3, at the end\n{steps}",
    "After wall 3 there is a tag of 4 counts:\n{steps}", "Tag (end of wall 3)\n{steps}\nThen start again",
)  # fmt: skip


@pytest.mark.parametrize("words", TAG)
def test_a_tag_after_a_wall(words: str) -> None:
    got = answer(f"{BODY}\n\n{words.format(steps=STEPS)}", HEAD)
    assert [(t["walls"], t["after_count"], t["counts"], t["then"]) for t in got["tags"]] == [([3], 16, 4, "start")]
    assert [(e["t"], e["foot"], e["action"]) for e in got["tags"][0]["events"]] == [
        ("0", "R", "sway"),
        ("1", "L", "sway"),
        ("2", "R", "sway"),
        ("3", "L", "sway"),
    ]
    assert (len(got["events"]), errors(got)) == (16, [])


RESTART = (
    "Restart on wall 4 after 8 counts (facing 12:00)", "Restart: wall 4, after count 8",
    "Restart: on the fourth wall dance 8 counts and start again", "On wall 4, dance only the first 8 counts, then restart",
    "Restart after section 1 on wall 4", "Wall 4: dance up to and including count 8, then restart from the beginning",
    "One restart, during wall 4 after 8 counts", "Restart wall 4 after 8 counts", "RESTART: 4th wall after 8 counts",
    "There's a restart on wall 4, after the first eight counts", "During wall 4, restart after 8 counts", "Restart on wall 4 after S1",
    "On wall 4 dance the first 8 counts and begin again",
)  # fmt: skip


@pytest.mark.parametrize("words", RESTART)
def test_a_restart_after_eight_counts(words: str) -> None:
    first, second = BODY.split("\nSection 2")
    for body in (f"{BODY}\n\n{words}", f"{first}\n{words}\nSection 2{second}"):
        got = answer(body, HEAD)
        assert [(r["walls"], r["after_count"]) for r in got["restarts"]] == [([4], 8)], body
        assert (len(got["events"]), errors(got)) == (16, [])


INSIDE = (
    "{line} (restart here on wall 4)", "{line} ** restart here on wall 4", "{line} [RESTART wall 4]", "{line} *Restart here, wall 4*",
    "{line} - restart here on wall 4", "{line}\n(Restart here on wall 4)", "{line}\n>>> restart on wall 4 here", "{line} (wall 4: restart)",
)  # fmt: skip


@pytest.mark.parametrize("words", INSIDE)
def test_a_restart_told_among_the_steps(words: str) -> None:
    line = "1-8 Walk right, left, right, left, walk back right, left, right, left"
    got = answer(BODY.replace(line, words.format(line=line), 1), HEAD)
    assert [(r["walls"], r["after_count"]) for r in got["restarts"]] == [([4], 8)]
    assert (len(got["events"]), errors(got)) == (16, [])


BRIDGE = (
    "Bridge: wall 5 after count 8, add 4 counts, then go on with 9\n{steps}", "Bridge, wall 5 after 8 counts, then carry on\n{steps}",
    "Bridge (4 counts): on wall 5, after 8 counts; then continue with section 2\n{steps}", "Tag on wall 5 after 8 counts, then continue the dance\n{steps}",
    "Bridge on wall 5 after section 1\n{steps}\nThen carry on with section 2", "4-count bridge: during wall 5, after count 8\n{steps}\ncontinue from count 9",
    "Bridge, wall 5 after 8: sway right, left, right, left, then carry on", "ONLY IN ROUND 5, after count 8: sway right, left, right, left",
    "Only on wall 5, after count 8:\nsway right, left, right, left", "Wall 5 only, after 8 counts:\n{steps}",
    "Bridge: in wall 5, after these 8 counts, put in four counts (sway right, sway left, sway right, sway left) and then carry on with the next.",
)  # fmt: skip


@pytest.mark.parametrize("words", BRIDGE)
def test_a_bridge_inside_a_wall(words: str) -> None:
    got = answer(f"{BODY}\n\n{words.format(steps=STEPS)}", HEAD)
    assert [(t["walls"], t["after_count"], t["counts"], t["then"]) for t in got["tags"]] == [([5], 8, 4, "continue")]
    assert (len(got["tags"][0]["events"]), len(got["events"]), errors(got)) == (4, 16, [])


ENDING = (
    "Ending: wall 9, dance to count 8, then 2 more counts\n{steps}", "Ending: on wall 9 dance 8 counts, then:\n{steps}",
    "ENDING - wall 9, after count 8\n{steps}", "Big finish: wall 9, after 8 counts\n{steps}", "To finish: on wall 9 dance up to count 8, then\n{steps}",
    "Ending (wall 9, after 8 counts): stomp right forward, clap",
    "The ending: wall 9 stops after count 8; then 2 counts\n{steps}", "Ending, 9th wall: dance the first 8 counts and then\n{steps}",
)  # fmt: skip


@pytest.mark.parametrize("words", ENDING)
def test_an_ending_after_eight_counts_of_a_wall(words: str) -> None:
    got = answer(f"{BODY}\n\n{words.format(steps='1 Stomp right forward' + chr(10) + '2 Clap')}", HEAD)
    assert [(e["wall"], e["after_count"], e["counts"]) for e in got["endings"]] == [(9, 8, 2)]
    assert [e["action"] for e in got["endings"][0]["events"]] == ["stomp", "arms"]
    assert (len(got["events"]), errors(got)) == (16, [])


OPTIONS = (
    "Option: walk R, L instead of the turn", "(Easier: just walk)", "Styling: swing your arms", "Note: keep the steps small",
    "Easier option for 1-4: march on the spot", "Alternative: step touches", "Optional hands: clap on 4 and 8", "Arms (optional): as you like",
    "Hint: look where you are going.", "N.B. the floor may be slippery", "Non-turning option: rock, recover", "Seated option: march with both feet",
    "For those who don't turn: walk on the spot.", "Variation: run instead of walk", "Tip: bend the knees", "* easier: leave out the claps",
)  # fmt: skip


@pytest.mark.parametrize("words", OPTIONS)
def test_an_option_adds_no_count(words: str) -> None:
    first, second = BODY.split("\nSection 2")
    got = answer(f"{first}\n{words}\nSection 2{second}\n{words}", HEAD)
    assert (len(got["events"]), [e["action"] for e in got["events"]], errors(got)) == (16, ["step"] * 16, [])
    assert not any(e["arms"] for e in got["events"])


UNCOUNTED = """Lantern Row
32 counts, 1 wall, beginner, intro 16, weight on left
LANTERN WALK
walk right, left, right, kick left, back left, right, left, touch right
THE PUMP
side right, together left, side right, touch left, side left, together right, side left, touch right
{amid}
MARKET DAY
rock right forward, recover left, rock right back, recover left, rock right forward, recover left, rock right back, recover left
HOMEWARD
heel right forward, together right, heel left forward, together left, stomp right, stomp left, clap, clap
{below}
"""

TAG_UNCOUNTED = (
    "Tag after the 3rd wall: sway right, left, right, left", "TAG at the end of wall 3 (you face the back)\nsway right, left, right, left",
    "At the end of wall 3 sway right, left, right, left, then start again", "After wall 3: hips R L R L. Then from the top.",
    "Extra bit after round 3 (four counts): sway right, left, right, left", "Third time through add 4 counts: sway right, left, right, left",
    "after wall three, an extra 4:\nsway right, left, right, left", "When wall 3 is done, sway right, left, right, left",
    "Tag (after round 3): sway right, left, right, left. Then back to the beginning.", "Tag, end of wall 3 only  sway right, left, right, left",
    "Tag after wall 3, four extra counts (sway right, sway left, sway right, sway left), then from the top.",
    "Tag after wall 3\nsway right, left, right, left, then start wall 4", "Tag after wall 3: sway right, left, right, left. Bow!",
    "When wall three is done, sway right, left, right, left before you begin again.",
)  # fmt: skip


@pytest.mark.parametrize("words", TAG_UNCOUNTED)
def test_a_tag_below_sections_without_counts(words: str) -> None:
    got = answer(UNCOUNTED.format(amid="", below=words), "")
    assert [(t["walls"], t["after_count"], t["counts"], t["then"]) for t in got["tags"]] == [([3], 32, 4, "start")]
    assert (len(got["tags"][0]["events"]), len(got["sections"]), errors(got)) == (4, 4, [])


RESTART_AMID = (
    "restart here, walls 3 and 5", "(walls 3 and 5 go back to the start here)", "Walls 3 and 5: start again now",
    "In walls 3 and 5 go back to the lanterns from here", "RESTART on walls 3 and 5 after this box",
)  # fmt: skip
RESTART_NAMED = (
    "Restart on walls 3 and 5 after the second eight.", "Walls 3 and 5: restart after The Pump", "Restart on walls 3 and 5 after B",
    "Walls 3 and 5: A, B, then restart", "Restart in walls 3 and 5 when B is done", "On walls 3 and 5 stop after row II and begin again.",
    "Walls 3 and 5: only lantern walk and pump, then start again", "Walls 3 and 5: restart after the first A and B (16 counts)",
    "On walls 3 and 5 go only as far as 16, then from the top", "walls 3 and 5: s1 s2, then restart", "Restart, walls 3 and 5, after two eights",
)  # fmt: skip


@pytest.mark.parametrize(("amid", "below"), [(w, "") for w in RESTART_AMID] + [("", w) for w in RESTART_NAMED])
def test_a_restart_of_sections_without_counts(amid: str, below: str) -> None:
    got = answer(UNCOUNTED.format(amid=amid, below=below), "")
    assert [(r["walls"], r["after_count"]) for r in got["restarts"]] == [([3, 5], 16)]
    assert (len(got["sections"]), got["tags"], errors(got)) == (4, [], [])


BRIDGE_HERE = (
    "Wall 3: put in two claps here (2 counts) and go on with the market", "Bridge, wall 3, two counts: clap, clap. Then carry straight on.",
)  # fmt: skip


@pytest.mark.parametrize("words", BRIDGE_HERE)
def test_a_bridge_stands_where_it_is_danced(words: str) -> None:
    first, second = BODY.split("\nSection 2")
    got = answer(f"{first}\n{words}\nSection 2{second}", HEAD)
    assert [(t["walls"], t["after_count"], t["counts"], t["then"]) for t in got["tags"]] == [([3], 8, 2, "continue")]
    assert (len(got["events"]), errors(got)) == (16, [])


def test_two_tags_under_one_name() -> None:
    got = answer(
        f"{BODY}\n\nTAGS\nAfter wall 2: stomp right, stomp left.\nAfter wall 4: sway right, left, right, left", HEAD
    )
    assert [(t["walls"], t["after_count"], t["counts"]) for t in got["tags"]] == [([2], 16, 2), ([4], 16, 4)]


ENDING_OF_SONG = (
    "Ending: when the music stops, stomp right, clap", "When the song stops, and only then, stomp right, clap. Two counts, and we sit.",
    "For the end of the record, stomp right, clap.", "Ending: when the last round is over, stomp right, clap.",
)  # fmt: skip


@pytest.mark.parametrize("words", ENDING_OF_SONG)
def test_an_ending_where_the_song_ends(words: str) -> None:
    got = answer(UNCOUNTED.format(amid="", below=words), "")
    assert [(e["wall"], e["after_count"], e["counts"]) for e in got["endings"]] == [("last", 32, 2)]
    assert [e["action"] for e in got["endings"][0]["events"]] == ["stomp", "arms"]
    assert (len(got["sections"]), errors(got)) == (4, [])


def test_a_bow_when_the_music_stops_is_no_ending() -> None:
    assert answer(UNCOUNTED.format(amid="", below="When the music stops, take a bow."), "")["endings"] == []


ENDING_LAST = (
    "Last time, stop after the box (sixteen counts): stomp right, clap", "Last wall: stop after THE PUMP (16), stomp right, clap, 2 cts",
    "Last time: after [The Pump] only, stomp right, clap", "Last time, after B: stomp right, clap", "Ending, last round, after two eights: stomp right, clap", "Very last time, after the pump: stomp right, clap",
)  # fmt: skip


@pytest.mark.parametrize("words", ENDING_LAST)
def test_an_ending_after_a_section_called_by_its_name(words: str) -> None:
    got = answer(UNCOUNTED.format(amid="", below=words), "")
    assert [(e["wall"], e["after_count"], e["counts"]) for e in got["endings"]] == [("last", 16, 2)]


def test_the_wall_that_follows_a_tag_is_no_restart() -> None:
    got = answer(f"{BODY}\n\nTag after walls 1 and 3\n{STEPS}\nthen wall 2 or 4 from the beginning", HEAD)
    assert ([t["walls"] for t in got["tags"]], got["restarts"]) == ([[1, 3]], [])


def test_numbers_that_go_on_from_a_half_count_above_are_counts_though_they_would_fill_a_waltz_section() -> None:
    head = "Probe\n6 counts, 1 wall, 3/4, start with the right foot\n\nSection 1\n1-6 march R, L, R, L, R, L\n\n"
    tag = "Tag (2 counts) on wall 1 after count 6\n1&: Rock right foot forward, clap.\n2: Sway to the left.\n"
    hands = "2: arms: push left hand forward.\n2: arms: push right hand forward at waist height.\n"
    (found,) = read(head + tag + hands).tags
    assert [(str(a.at.at), a.verb) for a in found.actions] == [("1", "rock"), ("3/2", "arms"), ("2", "sway")]


MILE = """1-8 Grapevines
Step R to right side, step L behind R, step R to right side, touch L beside R (1-4)
Step L to left side, step R behind L, step L to left side, touch R beside L (5-8)
9-16 Walks
Walk forward R, L, R, kick L (1-4)
Walk back L, R, L, touch R beside L (5-8)
"""


def with_head(head: str, behind: str) -> Dance:
    return read(f"Marigold Mile\n16 counts, 1 wall, beginner, 115 bpm, intro 16\n{head}\n\n{MILE}\n{behind}\n")


def test_a_tag_is_headed_by_its_article_too() -> None:
    dance = with_head("tags: after walls 1 and 3 (4 counts).", "the tag:\nside R, touch L, side L, touch R (1-4)")
    assert [(tag.walls, tag.counts) for tag in dance.tags] == [((1, 3), 4)]
    assert not [f for f in dance.findings if f.severity == "error"]


def test_counts_of_a_tag_may_go_on_from_those_of_the_dance() -> None:
    dance = with_head("", "TAG: wall 2, after 16: 17 stomp R, 18 hold, 19 stomp L, 20 hold")
    assert [(tag.walls, tag.after_count, tag.counts) for tag in dance.tags] == [((2,), 16, 4)]
    assert not [f for f in dance.findings if f.severity == "error"]


def test_what_is_promised_side_by_side_is_two_promises() -> None:
    head = "Tag: 4 counts after wall 3                   Ending: on the last wall, after 8 counts"
    behind = "TAG (after wall 3): march R, L, R, L (1-4)\nENDING: last wall. After count 8, stomp R (1), stomp L (2)."
    dance = with_head(head, behind)
    assert [(tag.walls, tag.after_count) for tag in dance.tags] == [((3,), 16)]
    assert len(dance.endings) == 1
    assert not [f for f in dance.findings if f.severity == "error"]


def test_a_restart_that_the_head_tells_in_two_sentences_is_there() -> None:
    dance = with_head("Restart: one. Wall 5, after the vines (you've done 8).", "")
    assert [(restart.walls, restart.after_count) for restart in dance.restarts] == [((5,), 8)]
    assert not [f for f in dance.findings if f.kind == "promise"]


def test_all_counts_after_which_something_is_added_are_no_length_of_it() -> None:
    dance = with_head("", "Finish: the last wall. After all 16 counts add one: stomp R.")
    assert [ending.counts for ending in dance.endings] == [1]
    assert not [f for f in dance.findings if f.severity == "error"]
