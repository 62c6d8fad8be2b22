"""What the network tells with a whole sheet beside steps: sections danced as another, tags, restarts, endings."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording import retold
from softshoe.wording.read import read, reading
from softshoe.wording.read_once import by_rules
from softshoe.wording.retell_codes import codes_of, events_of, other_side
from softshoe.wording.retell_net import net
from softshoe.wording.whole_ask import Way, whole_answer
from softshoe.wording.whole_copies import danced_as
from softshoe.wording.whole_ends import codes_of_ends, unlike_ends
from softshoe.wording.whole_weigh import guess_of, mended, plausible, told_whole

from .test_sorted_anew import GAP
from .test_told_whole import PLAIN

if TYPE_CHECKING:
    from .saying import Told


@pytest.fixture(autouse=True)
def _heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")


def told(*lines: str) -> Told:
    return dance_json(read(PLAIN + "\n" + "\n".join(lines) + "\n"))


def way_of(*lines: str) -> Way:
    return whole_answer(net(), PLAIN + "\n".join(lines) + "\n", [], seated=True)


AGAIN = [  # (words, how the section is told)
    ("Repeat section 1", ("as:1",)),
    ("As section 1, but the left foot goes first", ("as:1", "mirror")),
    ("Section 2 once more", ("as:2",)),
]


@pytest.mark.parametrize(("words", "copied"), AGAIN)
def test_a_section_that_asks_for_an_earlier_one_is_told_as_that_one(words: str, copied: tuple[str, ...]) -> None:
    parts = way_of("Section 3", words).parts
    assert [part.copied for part in parts] == [(), (), copied]
    above = [codes_of(part.answer.events) for part in parts[:2]]
    assert codes_of(parts[2].answer.events) == [*(danced_as(copied, above) or ()), "end"]
    assert {place.line for place in parts[2].answer.places.values()} == {parts[2].words.lines[-1][2]}


def test_the_other_side_of_the_other_side_is_the_same() -> None:
    codes = ["c1", "foot:R", "step", "dir:back left diagonal", "turn:-90", "arm:L", "hand:reach", "to:left", "end"]
    assert other_side(codes)[1:5] == ["foot:L", "step", "dir:back right diagonal", "turn:90"]
    assert other_side(other_side(codes)) == codes


def test_every_code_that_the_network_knows_has_another_side() -> None:
    known = net().codes
    assert len(known) > 100
    assert other_side(other_side(known)) == list(known)
    assert set(other_side(known)) <= set(known)


@pytest.mark.parametrize("code", ["as:1", "mirror", "tag", "after:all", "wall:2", "then:start", "many:4"])
def test_codes_of_a_whole_sheet_are_no_steps(code: str) -> None:
    assert events_of(["c1", "foot:R", "heel", code, "end"]) is None


TAGS = [  # a line that rules don't read, walls, counts of the tag
    ("2nd and 4th time: four extra claps, then begin afresh.", [2, 4], 4),
    ("When the third wall is done: clap 4, from the top.", [3], 4),
]


@pytest.mark.parametrize(("line", "walls", "counts"), TAGS)
def test_a_tag_told_in_words_of_its_own_is_danced_and_said(line: str, walls: list[int], counts: int) -> None:
    got = told(line)
    assert [(t["walls"], t["after_count"], t["counts"], t["then"]) for t in got["tags"]] == [
        (walls, 16, counts, "start")
    ]
    assert [e["arms"][0]["gesture"] for e in got["tags"][0]["events"]] == ["clap"] * counts
    assert any(
        f.line == 11
        and f"a tag on {'walls' if walls[1:] else 'wall'} {' and '.join(map(str, walls))}, at the end" in f.message
        for f in read(PLAIN + "\n" + line).findings
    )


def test_a_restart_and_an_ending_are_told_with_their_counts() -> None:
    ends = way_of("", "Wall 3 stops after eight counts, and off we go from the top.", "The last time, add a clap.").ends
    assert ends is not None
    assert [(end.kind, end.after, end.walls, end.then) for end in ends] == [
        ("restart", 8, ("3",), ""),
        ("ending", None, ("last",), ""),
    ]
    assert ends[0].steps is None
    assert ends[1].steps is not None


def test_what_is_told_of_an_end_is_not_believed_over_what_was_read_of_it_unless_it_is_sure() -> None:
    line = "The last time through add a finish: clap, clap, hands up."
    got = told(line)["endings"][0]["events"]
    assert [e["arms"][0]["gesture"] for e in got] == ["clap", "clap", "raise"]


def test_claps_that_no_word_of_a_sheet_names_are_not_danced() -> None:
    way = whole_answer(net(), GAP, [], seated=True)
    assert len(way.parts) == 4
    assert not any(arm["gesture"] == "clap" for part in way.parts for e in part.answer.events for arm in e["arms"])


@pytest.mark.parametrize("line", [line for line, _, _ in TAGS])
def test_every_character_is_accounted_for_where_a_tag_was_told(line: str) -> None:
    text = PLAIN + "\n" + line + "\n"
    pieces = reading(text).account.pieces
    covered = {at for piece in pieces for at in range(piece.start, piece.end)}
    assert {at for at, char in enumerate(text) if char.isalnum()} <= covered


SLIPS = [
    ("Tag after wall 2, 8 counts", "clap (1), clap (2), clap (3), clap (4)"),
    ("Tag (3 counts) at the end of wall 2", "1 2 3 hands up, hold, hold", "4 5 6 hands to the lap, hold, hold"),
    ("Tag, wall 2, four counts", "1 clap, 2 clap"),
    (
        "TAG after the 3rd time, exactly 4 counts, one movement to a count:",
        "wave R, R, L, L, then pat thighs, pat thighs",
    ),
]


@pytest.mark.parametrize("lines", SLIPS)
def test_a_tag_that_has_not_the_length_it_states_is_told(lines: tuple[str, ...]) -> None:
    assert "tag-length" in [f["kind"] for f in told(*lines)["findings"] if f["severity"] == "error"]


def test_an_ending_has_the_length_that_its_words_state() -> None:
    got = told("ENDING: wall 3. Dance up to count 8, then add 3 counts:", "1 clap, 2 pat thighs, 3 both hands up")
    assert [(e["wall"], e["after_count"], e["counts"]) for e in got["endings"]] == [(3, 8, 3)]


def test_a_tag_comes_on_all_the_walls_that_its_words_name() -> None:
    got = told("Tag: at the end of wall 2 and wall 5 there are 4 extra counts.", "Clap four times.")
    assert [t["walls"] for t in got["tags"]] == [[2, 5]]


def test_what_a_restart_changes_stays_told_beside_a_tag_that_only_the_network_reads() -> None:
    got = told("Restart on wall 3 after 8 counts, touch L instead of the last step.", TAGS[0][0])
    assert [t["walls"] for t in got["tags"]] == [TAGS[0][1]]
    assert any(f["kind"] == "unread" and f["line"] == 11 and "restart" in f["message"] for f in got["findings"])


HERS = [  # what no network mends: a restart behind the last count, an hour that the turns don't lead to, a promise
    ("place", "Restart on wall 3 after 40 counts"),
    ("facing", "Ending, wall 2: 1 clap, 2 hands up (6:00)"),
]


@pytest.mark.parametrize(("kind", "line"), HERS)
def test_what_is_amiss_in_an_end_stays_its_authors_to_mend(kind: str, line: str) -> None:
    assert kind in [f["kind"] for f in told(line, TAGS[0][0])["findings"] if f["severity"] == "error"]


def test_the_words_of_an_end_are_none_of_a_sections() -> None:
    way = way_of("", "Wall 3 stops after eight counts, and off we go from the top.", "The last time, add a clap.")
    first = min(end.words.span[0] for end in way.ends or ())
    assert first > max(place.span[1] for part in way.parts for place in part.answer.places.values())


def test_tags_that_were_read_are_a_guess_of_what_is_told() -> None:
    text = (
        PLAIN + "\nTag, end of wall 2 (4 counts)\n1 clap, 2 clap, 3 clap, 4 hold\n\nRestart on wall 3 after 8 counts\n"
    )
    found = by_rules(text)
    assert found is not None
    codes = codes_of_ends(found.dance)
    assert codes[:5] == ["tag", "after:all", "wall:2", "then:start", "many:4"]
    assert codes[-3:] == ["restart", "after:8", "wall:3"]
    assert guess_of(found)[-len(codes) - 1 :] == [*codes, "end"]
    way = told_whole(text, found)
    assert way.ends is not None
    assert unlike_ends(found.dance, way.ends) == ([], [])
    new, left = unlike_ends(found.dance, way.ends[:1])
    assert not new
    assert [row.own for row in left] == list(found.dance.restarts)


def test_a_section_read_as_another_is_as_likely_as_it_is_told() -> None:
    text = PLAIN.replace("16 counts", "24 counts") + "Section 3\nRepeat section 1\n"
    found = reading(text)
    assert len(found.dance.sections) == 3
    way = told_whole(text, found)
    assert way.parts[-1].copied == ("as:1",)
    assert plausible(text, found, way, seated=True)[-1] > 0.8


def test_sections_in_which_nothing_was_amiss_stay_as_they_were_read() -> None:
    text = PLAIN.replace("1 Clap, 2 hold, 3 clap, 4 hold", "1 Calp, 2 hold, 3 clap, 4 hold")
    found = by_rules(text)
    assert found is not None
    way = told_whole(text, found)
    other = [part._replace(answer=part.answer._replace(events=way.parts[1].answer.events)) for part in way.parts]
    partly = mended(found, way._replace(parts=tuple(other)))
    assert partly is not None
    assert codes_of(partly.parts[0].answer.events) == codes_of(way.parts[0].answer.events)
    assert mended(found, way) is None
