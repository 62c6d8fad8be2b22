"""A sheet told whole by the network: where it is taken over the rules' reading, and what stays the author's to mend."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from softshoe.dance.document import dance_json
from softshoe.errors import WordingError
from softshoe.wording import retold
from softshoe.wording.read import read, reading
from softshoe.wording.read_once import by_rules, read_whole
from softshoe.wording.retell_codes import SECTION, events_of
from softshoe.wording.retell_net import net
from softshoe.wording.whole_ask import MOST_LETTERS, Way, whole_answer
from softshoe.wording.whole_case import TRAITS
from softshoe.wording.whole_score import Limit, Rule, exchanges, is_never_taken, points, rules, score
from softshoe.wording.whole_weigh import agreed, case_of, guess_of, plausible, told_whole, unlike
from softshoe.wording.write import write
from softshoe.wording.write_book import STYLES

from .saying import Told, errors, same


@pytest.fixture(autouse=True)
def _heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")


PLAIN = """Button Lane
16 counts, 1 wall, beginner, seated, 96 bpm, intro 16

Section 1
1 R heel forward, 2 R home, 3 L heel forward, 4 L home
5 R heel forward, 6 R home, 7 L heel forward, 8 L home
Section 2
1 Clap, 2 hold, 3 clap, 4 hold
5 R toe to the side, 6 R home, 7 L toe to the side, 8 L home
"""
PROSE = """Button Lane
A seated dance of sixteen counts for beginners, facing the front. Ninety-six beats a minute; wait for sixteen of them.

Dear Ida, it is easily told. Your right heel goes and taps the floor in front, then comes home; the left heel does the
same, and the pair of them do it all again.
Now your hands: a clap, a rest, a clap, a rest; and finish with the right toe out to the side and home, the left toe
after it out and home.
"""
SHEETS = [PLAIN, PROSE]


def told(text: str) -> Told:
    return dance_json(read(text))


def test_prose_without_a_count_is_danced_as_the_same_dance_in_plain_words() -> None:
    got = told(PROSE)
    assert same(told(PLAIN), got, loosely=True), [(e["t"], e["foot"], e["action"], e["dir"]) for e in got["events"]]
    assert errors(got) == []


def test_what_was_told_whole_is_said_section_by_section() -> None:
    notes = [f for f in read(PROSE).findings if f.kind in ("inferred", "ambiguous")]
    assert [f.line for f in notes] == [4, 6]
    assert all(f.mend and f.severity in ("note", "warning") for f in notes)


@pytest.mark.parametrize("text", SHEETS)
def test_every_character_of_a_sheet_told_whole_is_accounted_for(text: str) -> None:
    pieces = reading(text).account.pieces
    covered = {at for piece in pieces for at in range(piece.start, piece.end)}
    assert {at for at, char in enumerate(text) if char.isalnum()} <= covered


@pytest.mark.parametrize("text", SHEETS)
def test_sections_told_begin_in_order_and_their_places_lie_in_their_own_words(text: str) -> None:
    parts = whole_answer(net(), text, [], seated=True).parts
    assert parts
    assert [part.begin for part in parts] == sorted({part.begin for part in parts})
    for part in parts:
        first, last = part.words.span
        assert set(part.answer.places) == set(range(1, part.answer.counts + 1))
        assert all(first <= place.span[0] < place.span[1] <= last for place in part.answer.places.values())
        assert all(Fraction(e["t"]) < part.answer.counts for e in part.answer.events)


def test_a_guess_changes_how_soon_a_sheet_is_told_and_not_what() -> None:
    rules = by_rules(PLAIN)
    assert rules is not None
    row = net().numbers("<sheet>" + PLAIN, seated=True)
    alone, guided = net().told([row])[0], net().told([row], [guess_of(rules)])[0]
    assert guided.codes == alone.codes
    assert guided.looked == alone.looked


def test_a_sheet_that_is_read_alike_is_left_as_the_rules_read_it() -> None:
    rules = by_rules(PLAIN)
    assert agreed(rules, told_whole(PLAIN, rules).parts)
    assert [f for f in read(PLAIN).findings if f.kind in ("inferred", "ambiguous")] == []


def test_a_word_that_nobody_knows_stays_told_where_both_dance_the_same() -> None:
    text = "Tiny Tap\n1-4 Vine right with a touch, gracefully\n5-8 repeat 1-4 to the left, wibble"
    sheet = reading(text)
    assert any("wibble" in f.message for f in sheet.dance.findings)
    assert [sheet.account.words(piece) for piece in sheet.account.pieces if piece.role == "title"] == ["Tiny Tap"]


def test_sections_cut_otherwise_are_not_unlike_where_the_same_is_danced() -> None:
    rules = by_rules(PLAIN)
    counts = iter(range(1, 17))
    joined = re.sub(
        r"(?m)(?<=, )\d(?= [A-Zhc])|^\d(?= )", lambda _: str(next(counts)), PLAIN.replace("Section 2\n", "")
    )
    one = by_rules(joined)
    assert rules is not None
    assert one is not None
    assert unlike(one.dance, told_whole(PLAIN, rules).parts) == []


SLIPS = [  # (words, slip, kind of error)
    ("5 R toe to the side, 6 R home, 7 L toe to the side, 8 L home", "7 L toe to the side, 8 L home", "count-missing"),
    ("1 Clap, 2 hold", "1 Calp, 2 hold", "word"),
    ("Section 2", "Section 1", "section-number"),
    ("16 counts", "24 counts", "total"),
    ("5 R toe to the side, 6 R home, 7 L toe to the side, 8 L home\n", "", "section-length"),
]


@pytest.mark.parametrize(("words", "slip", "kind"), SLIPS)
def test_an_authors_slip_is_told_though_the_network_would_mend_it(words: str, slip: str, kind: str) -> None:
    findings = told(PLAIN.replace(words, slip, 1))["findings"]
    assert kind in [f["kind"] for f in findings if f["severity"] != "note"]


def test_a_tag_is_never_told_as_a_section() -> None:
    text = PLAIN + "\nTag, end of wall 2 (4 counts)\n1 clap, 2 clap, 3 clap, 4 hold\n"
    got = told(text)
    assert [tag["counts"] for tag in got["tags"]] == [4]
    assert len(got["sections"]) == 2
    part = whole_answer(net(), PLAIN, [], seated=True).parts[-1]
    line = text.split("\n").index("1 clap, 2 clap, 3 clap, 4 hold") + 1
    places = {n: place._replace(line=line) for n, place in part.answer.places.items()}
    assert read_whole(text, [part._replace(answer=part.answer._replace(places=places))]) is None


def weighed(text: str, way: Way, sure: float | None = None) -> float:
    """What speaks for a sheet told whole, beside what rules read of it."""
    found, other = by_rules(text), read_whole(text, way.parts)
    assert found is not None
    assert other is not None
    if sure is not None:
        way = way._replace(parts=tuple(part._replace(answer=part.answer._replace(sure=sure)) for part in way.parts))
    return score(case_of(found, way, other, plausible(text, found, way, seated=True)))


def test_what_the_network_is_less_sure_of_has_less_to_speak_for_it() -> None:
    way = told_whole(PROSE, by_rules(PROSE))
    assert weighed(PROSE, way) > 0
    assert weighed(PROSE, way, sure=0.3) < weighed(PROSE, way)


def test_a_wrong_total_is_told_though_the_sheet_can_only_be_read_whole() -> None:
    got = told(PROSE.replace("sixteen counts", "twenty counts"))
    assert [(f["kind"], f["line"]) for f in got["findings"] if f["severity"] == "error"] == [("total", 2)]
    assert [e["action"] for e in got["events"]] == [e["action"] for e in told(PROSE)["events"]]


def test_points_are_given_for_traits_that_are_weighed() -> None:
    told = {limit.trait for rule in rules() for limit in rule.limits}
    assert told <= set(TRAITS)
    assert len(told) > len(TRAITS) / 2
    assert sum(not rule.limits for rule in rules()) == 1


def test_points_count_where_all_limits_of_their_rule_hold() -> None:
    two = Rule((Limit("errors", above=True, limit=0.5), Limit("only arms unlike", above=False, limit=0.5)), 2.0)
    of = dict.fromkeys(TRAITS, 0.0) | {"errors": 1.0}
    assert points(of, [two, Rule((), 0.25)]) == 2.25
    assert points(of | {"only arms unlike": 1.0}, [two, Rule((), 0.25)]) == 0.25


def test_one_error_in_one_section_that_alone_would_not_be_taken_is_the_authors() -> None:
    of = dict.fromkeys(TRAITS, 0.0) | {"errors": 1.0, "sections unlike": 1.0}
    assert is_never_taken(of)
    assert not any(is_never_taken(of | one) for one in ({"errors": 2.0}, {"sections are taken alone": 1.0}))


def test_a_sheet_without_an_error_is_not_told_so_that_it_has_one() -> None:
    of = dict.fromkeys(TRAITS, 0.0) | {"errors left": 1.0, "sections unlike": 3.0}
    assert is_never_taken(of)
    assert not is_never_taken(of | {"errors": 2.0})


def test_codes_that_were_told_are_as_likely_as_they_were_when_told() -> None:
    row = net().numbers("<sheet>" + PROSE, seated=True)
    first = net().told([row])[0]
    assert net().likely(row, first.codes) == pytest.approx(first.likely, abs=1e-4)
    assert net().likely(row, ["no code"]) == [0.0]


@pytest.mark.parametrize("style", STYLES)
def test_a_sheet_that_softshoe_wrote_is_read_as_it_was_written(style: str) -> None:
    dance = read((Path(__file__).parents[1] / "sheets" / "odd" / "harbour_chairs.txt").read_text(encoding="utf-8"))
    assert read(write(dance, style=style)).actions == dance.actions


@pytest.mark.parametrize(
    "text",
    [
        "1. Apples\n2. Pears\n3. Plums",
        "Dear Anna,\nthe kettle is mended.\nLove, Ida",
        "Name;Town;Paid\nEdith;Lower Fenwick;yes\nHugh;Weir;no",
    ],
)
def test_a_text_without_a_word_of_the_trade_is_no_sheet(text: str) -> None:
    with pytest.raises(WordingError):
        read(text)


def test_a_sheet_that_is_too_long_is_not_told_whole() -> None:
    text = PLAIN + "Once more with feeling.\n" * (MOST_LETTERS // 20)
    assert told_whole(text, by_rules(PLAIN)).parts == ()
    assert whole_answer(net(), "", [], seated=True).parts == ()


def test_rules_alone_never_ask_the_network(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "1")
    assert told_whole(PROSE, None).parts == ()


def test_codes_of_a_whole_sheet_are_no_sections_events() -> None:
    assert events_of(["c1", "foot:R", "heel", SECTION, "c1", "hold", "end"]) is None


SHORT = """Copper Waltz
Waltz time, 18 counts in three parts of six, 1 wall, beginner
Tempo 92, begin after 12, weight on the right foot

Part 1, basic
Left foot forward, right beside left, left in place; right foot back, left beside right, right in place.
Part 2, points
Left foot forward, point right to the right, hold; right foot back, point left to the left.
Part 3, twinkles
Left crosses over right, right to the right side, left in place; right crosses over left, left to the left side, right in place.
"""  # noqa: E501


def test_a_section_that_is_only_too_short_is_told_and_not_filled_up() -> None:
    told = [(f.kind, f.line) for f in read(SHORT).findings if f.severity == "error"]
    assert told == [("section-length", 8)]
    assert not [
        f for f in read(SHORT.replace("left to the left.", "left to the left, hold.")).findings if f.severity == "error"
    ]


LISTED = """copper penny
32 counts 1 wall beginner, tempo 124, 32 in

1) vine R touch L, vine L touch R
2) fwd R touch L, back L touch R, back R touch L, fwd L touch R
3) R heel fwd, together, L heel fwd, together, R toe side, together
4) walk fwd R L R kick L, walk back L R L touch R
"""


def test_a_line_too_short_is_told_on_its_own_line() -> None:
    assert [(f.kind, f.line) for f in read(LISTED).findings if f.severity == "error"] == [("section-length", 6)]


def test_a_sheet_is_not_told_so_that_it_only_has_other_errors() -> None:
    found, way, other = by_rules(SHORT), told_whole(SHORT, by_rules(SHORT)), by_rules(SHORT)
    assert found is not None
    assert other is not None
    case = case_of(found, way, other, [])
    assert exchanges(case._replace(kinds=("section-length",), left=("weight",)))
    assert not exchanges(case._replace(kinds=("section-length",), left=("section-length",)))
    assert not exchanges(case._replace(kinds=("section-length", "total"), left=("weight",)))
    assert score(case._replace(kinds=("section-length",), left=("weight",))) < 0
