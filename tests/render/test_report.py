from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from render.sheet_dances import HOSTILE, SEATED, STANDING, hostile, run_of
from render.test_sheet import Page
from softshoe.adapt.adapt import adapt
from softshoe.adapt.cautions import cautions
from softshoe.dance.footwork import mirrored
from softshoe.errors import Finding
from softshoe.music.songmap import Confidence, Said, SongMap
from softshoe.render.report import Sources, report_html, verdict
from softshoe.render.report_balance import sides, symmetry_index
from softshoe.render.report_rows import WHY, caution_rows, finding_rows, sure_rows, time_words, version_parts, wall_rows

SURE = Confidence(0.97, 0.8, 0.8, 0.5, 0.95, 0.99, (0.9, 0.9, 0.4))
SONG = SongMap(
    tuple(0.5 * k for k in range(64)),
    tuple(2.0 * k for k in range(16)),
    tuple(4.0 * k for k in range(8)),
    (0.0, 16.0),
    9.1,
    40.0,
    120.0,
    4,
    SURE,
)
WRONG = Finding("error", "weight", 2, "3", "The left foot steps while it bears.", "Let it touch.")


def words(text: str) -> str:
    return " ".join(" ".join(Page(text).words).split())


def test_a_finding_has_its_four_parts_and_the_line_as_written() -> None:
    (row,) = finding_rows((WRONG,), ("title", "  4 Step left  "))
    assert (row.severity, row.where, row.line) == ("To mend", "Line 2, count 4", "4 Step left")
    assert (row.what, row.mend) == ("The left foot steps while it bears.", "Let it touch.")
    assert row.why == WHY["weight"]


def test_the_worst_finding_comes_first() -> None:
    note = Finding("note", "not-stated", None, None, "The sheet does not say the level.")
    assert [row.severity for row in finding_rows((note, WRONG), ())] == ["To mend", "Good to know"]


def test_the_walls_of_the_song_stand_in_order_with_time_and_facing() -> None:
    rows = wall_rows(run_of(STANDING), dance_counts=32)
    assert [row.name for row in rows][:5] == ["Wall 1", "Wall 2", "Tag", "Wall 3", "Bridge"]
    assert (rows[1].at, rows[1].facing) == ("0:26", "9:00")
    assert rows[-1].name == "Ending"
    assert any("stops after count 16" in row.what for row in rows)
    assert time_words(125.6) == "2:06"


def test_what_was_heard_is_told_in_words_and_what_was_said_is_no_guess() -> None:
    told = {row.what: row.sure for row in sure_rows(SONG)}
    assert told["Tempo"] == "sure"
    assert told["Count 1 of wall 1"] == "please check"
    said = replace(SONG, said=Said(first_count_s=9.6))
    assert {row.what: row.sure for row in sure_rows(said)}["Count 1 of wall 1"] == "you said it"


def test_symmetry_of_ten_against_eight_is_twenty_two_percent() -> None:
    # Robinson, Herzog & Nigg 1987: |L - R| / (0.5 (L + R)) * 100
    assert symmetry_index(10, 8) == pytest.approx(22.2222, abs=1e-4)
    assert symmetry_index(0, 0) == 0.0
    assert symmetry_index(5, 0) == 200.0


@given(st.integers(0, 99), st.integers(0, 99))
def test_symmetry_is_the_same_from_both_sides(left: int, right: int) -> None:
    assert symmetry_index(left, right) == symmetry_index(right, left)
    assert 0.0 <= symmetry_index(left, right) <= 200.0


def test_a_mirrored_dance_has_its_sides_exchanged() -> None:
    other = replace(STANDING, actions=mirrored(STANDING.actions))
    assert [(s.left, s.right) for s in sides(other)] == [(s.right, s.left) for s in sides(STANDING)]


def test_cautions_are_rows_of_the_table_word_for_word() -> None:
    text = words(report_html(STANDING, versions=[adapt(STANDING, "seated")]))
    rows = caution_rows(STANDING, [adapt(STANDING, "seated")])
    assert rows
    for row in rows:
        assert row.watch in text
    assert cautions()["stop_signs"].always_say in text
    assert cautions()["stop_signs"].watch in text


def test_versions_tell_each_change_with_its_reason() -> None:
    (part,) = version_parts(STANDING, [adapt(STANDING, "seated")])
    assert part.name == "Seated"
    assert all(was and now and reason and was != now for _, was, now, reason in part.changes)
    counts = [float(at.rstrip("&ae")) for at, *_ in part.changes]
    assert counts == sorted(counts)


def test_the_report_holds_all_its_parts() -> None:
    dance = replace(STANDING, findings=(WRONG,), kept=((7, "Smile"),))
    text = words(report_html(dance, run_of(dance), SONG, [adapt(dance, "seated")],
                             sources=Sources("ladder.txt", "song.ogg", ("a", "b"))))  # fmt: skip
    for heading in ("What was found in the sheet", "Kept as written", "How the dance lies on the song",
                    "What was heard, and how sure", "Versions for other bodies", "Balance of sides", "Cautions",
                    "How to correct it", "Music"):  # fmt: skip
        assert heading in text
    assert "softshoe make ladder.txt song.ogg" in text
    assert text.count("can need licences where you live") == 1
    assert "star" not in {word.strip(".,").casefold() for word in text.split()}


def test_the_report_of_a_dance_alone_leaves_the_rest_out() -> None:
    text = words(report_html(SEATED))
    assert "Nothing to mend" in text
    assert "How the dance lies on the song" not in text


def test_hostile_words_stay_words_in_the_report() -> None:
    bad = replace(hostile(STANDING), findings=(replace(WRONG, message=HOSTILE, mend=HOSTILE),))
    page = Page(report_html(bad, run_of(bad), SONG, sources=Sources(HOSTILE, HOSTILE, (HOSTILE, HOSTILE))))
    assert not any(tag == "script" for tag, _ in page.tags)
    assert HOSTILE in "".join(page.words)


def test_the_verdict_counts_what_is_to_do() -> None:
    assert verdict(SEATED, (), None) == "The sheet is sound: nothing needs mending."
    assert verdict(SEATED, (WRONG,), None) == "There is 1 thing to mend."
    two = (WRONG, WRONG, replace(WRONG, severity="warning"))
    assert verdict(SEATED, two, None) == "There are 2 things to mend and 1 thing to check."


def test_what_is_found_in_the_song_is_not_laid_to_the_sheet() -> None:
    fades = Finding("note", "fade", None, None, "the song fades out")
    slow = Finding("warning", "tempo", None, None, "The song gives 80 counts a minute")
    assert finding_rows((fades,), (), whole="The whole song")[0].where == "The whole song"
    assert finding_rows((slow,), ())[0].where == "The dance on this song"
