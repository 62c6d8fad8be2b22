from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from render.sheet_dances import DANCES, HOSTILE, SEATED, STANDING, WALTZ, hostile, run_of, twice
from softshoe.adapt.adapt import adapt
from softshoe.adapt.version import KINDS
from softshoe.dance.document import dance_json
from softshoe.dance.footwork import wall_events
from softshoe.errors import Finding, OutputError
from softshoe.render.page import SURE, sure_words
from softshoe.render.pdf import pages_of, pdf, printable
from softshoe.render.sheet import sheet_html, sheet_pdf, sheet_text, sheet_values
from softshoe.render.sheet_content import Around, head_words, sheet_page
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_rail import rail_alt, rail_picture
from softshoe.render.sheet_rows import section_lines, span_label
from softshoe.render.sheet_signs import Picture
from softshoe.wording.read import read


def lines_of(number: int, dance: object = STANDING) -> list[str]:
    rows = section_lines(dance, dance.sections[number - 1], wall_events(dance))  # type: ignore[attr-defined]
    return [f"{row.label} {row.feet}" for row in rows]


class Page(HTMLParser):
    """Elements and words of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def test_a_line_holds_two_counts_and_what_goes_on_alike_is_joined() -> None:
    assert lines_of(3) == [
        "1&2& Left heel forward, step left beside right, right heel forward, step right beside left.",
        "3–4 Step left forward, pivot quarter turn right, weight onto right (3:00).",
        "5–8 Walk forward left, right, left, right.",
    ]
    assert lines_of(4)[-2:] == ["5–6 March in place left, right.", "7–8 Step left in place, hold."]


def test_a_waltz_has_three_counts_a_line() -> None:
    assert lines_of(1, WALTZ)[0] == "1–3 Step left forward, right beside left, left in place."
    assert lines_of(2, WALTZ)[0].startswith("1–3 Step left to the left side, drag right in toward left")


@pytest.mark.parametrize("dance", DANCES, ids=lambda d: d.title)
def test_every_count_of_every_section_stands_on_exactly_one_bead(dance: object) -> None:
    events = wall_events(dance)  # type: ignore[arg-type]
    for section in dance.sections:  # type: ignore[attr-defined]
        rows = section_lines(dance, section, events)  # type: ignore[arg-type]
        wholes = [bead.label for row in rows for bead in row.beads if bead.part == 1.0]
        assert wholes == [str(k + 1) for k in range(int(section.length.n))]


def test_arms_say_their_count_unless_they_go_on_through_the_line() -> None:
    arms = [row.arms for row in section_lines(SEATED, SEATED.sections[1], wall_events(SEATED))]
    assert arms[0] == "Both arms swing."
    assert arms[-1] == "Clap, on each count."
    opened = [row.arms for row in section_lines(SEATED, SEATED.sections[3], wall_events(SEATED))]
    assert opened[0] == "On 1, both arms open wide, shoulder height."


def test_labels_are_written_as_leaders_write_counts() -> None:
    assert span_label(["1", "&", "2", "&"]) == "1&2&"
    assert span_label(["5", "6", "7", "8"]) == "5–8"


def test_sections_are_named_by_the_heading_or_else_by_what_they_do() -> None:
    events = wall_events(STANDING)
    bare = replace(STANDING, sections=tuple(replace(s, title="") for s in STANDING.sections))
    names = [section_name(bare, s, events) for s in bare.sections]
    assert names[0] == "Vine right, rocking chair"
    assert names[1].startswith("Shuffle forward, rock forward, shuffle back")
    assert section_name(STANDING, replace(STANDING.sections[0], title="the gate"), events) == "The gate"


def test_the_head_is_sentences() -> None:
    assert head_words(STANDING, None, None) == (
        "Thirty-two counts, facing four walls, standing, for improvers.",
        "Begins after sixteen counts.",
        "112 beats a minute.",
        "The right foot begins.",
    )
    assert "about 9 seconds into the song" in head_words(STANDING, run_of(STANDING), None)[1]


def test_tags_restarts_and_the_ending_of_the_song_are_told() -> None:
    page = sheet_page(STANDING, run_of(STANDING), None, Around())
    told = " ".join(f"{s.name}: {s.before}" for s in page.extras)
    assert "After wall 2, four counts more." in told
    assert "After wall 6, two counts more." in told
    assert "found in the song" in told
    assert "In wall 3, after count 8, four counts more. Then go on with count 9." in told
    assert "Wall 5 stops after count 16." in told
    assert "touch in place of the last step" in told
    assert "hold until the sound is gone" in told
    after = [line.after for section in page.sections for line in section.lines if line.after]
    assert after == ["Wall 5 stops here: begin again."]


def test_without_a_run_the_sheet_tells_its_own_tags_and_has_no_rail() -> None:
    page = sheet_page(STANDING, None, None, Around())
    assert page.rail is None
    assert [s.name for s in page.extras] == ["Tag", "Restart", "Ending"]


def test_the_plan_of_the_room_stands_only_where_the_facing_changes() -> None:
    page = sheet_page(STANDING, None, None, Around())
    plans = [line.plan.alt for section in page.sections for line in section.lines if line.plan]
    assert plans == ["Plan of the room: quarter turn right, now facing 3:00"]
    assert not any(line.plan for s in sheet_page(SEATED, None, None, Around()).sections for line in s.lines)


def test_the_rail_tells_every_wall_in_words_and_fits_a_page_however_long_the_song() -> None:
    run = run_of(STANDING)
    alt = rail_alt(run, STANDING.counts, facing=True)
    assert [f"Wall {k}" in alt for k in range(1, 10)] == [True] * 9
    assert "Wall 5 facing 12:00 stops after count 16 and begins again." in alt
    for walls in (1, 9, 16, 40):
        assert rail_picture(run_of(STANDING, walls=walls), dance_counts=32, longest=690.0).height <= 690.5


def test_who_sits_has_no_facings_on_the_rail() -> None:
    version = adapt(STANDING, "seated")
    page = sheet_page(STANDING, run_of(STANDING), version, Around())
    assert page.rail is not None
    assert "facing" not in page.rail.alt


def test_every_picture_is_well_formed_and_has_words() -> None:
    page = sheet_page(STANDING, run_of(STANDING), None, Around())
    pictures = [p for s in (*page.sections, *page.extras) for line in s.lines for p in (line.beads, line.plan) if p]
    assert len(pictures) > 15
    for picture in pictures:
        ElementTree.fromstring(picture.svg)
        assert picture.alt


@pytest.mark.parametrize("edition", ["normal", "large", "largest"])
@pytest.mark.parametrize("dance", DANCES, ids=lambda d: d.title)
def test_every_dance_prints_in_every_edition(dance: object, edition: str) -> None:
    data = sheet_pdf(dance, run_of(dance), edition=edition)  # type: ignore[arg-type]
    assert data.startswith(b"%PDF")
    assert pages_of(data) <= {"normal": 2, "large": 3, "largest": 7}[edition]


@pytest.mark.parametrize("kind", KINDS)
def test_every_version_prints_and_says_its_name(kind: str) -> None:
    version = adapt(STANDING, kind)  # type: ignore[arg-type]
    page = sheet_page(STANDING, None, version, Around())
    assert page.under
    assert sheet_pdf(STANDING, None, version).startswith(b"%PDF")


def test_thirty_two_counts_fit_on_two_pages_and_sixty_four_in_four_on_both_papers() -> None:
    for paper, most in (("a4", 2), ("us-letter", 3)):  # letter paper is 18 mm shorter
        assert pages_of(sheet_pdf(STANDING, run_of(STANDING), paper=paper)) <= most  # type: ignore[arg-type]
        assert pages_of(sheet_pdf(twice(STANDING), run_of(STANDING), paper=paper)) <= 4  # type: ignore[arg-type]


def test_hostile_words_stay_words_in_print_and_in_the_browser() -> None:
    bad = hostile(STANDING)
    assert pages_of(sheet_pdf(bad, run_of(bad))) >= 1
    page = Page(sheet_html(bad, run_of(bad)))
    assert not any(tag == "script" for tag, _ in page.tags)
    assert any("<script>alert(1)</script>" in words for words in page.words)
    assert not any("49" in words for words in page.words if "7*7" in words)


def test_letters_our_faces_lack_stand_as_their_plain_letter_or_a_question_mark() -> None:
    assert printable({"a": ["Ő Ł é", "日本 ☺", "a\u200bb\x07c"]}) == {"a": ["Ő Ł é", "?? ?", "ab c"]}


def test_the_list_of_letters_is_that_of_the_faces() -> None:
    from importlib.resources import files

    from fontTools.ttLib import TTFont

    folder = files("softshoe").joinpath("data/fonts")
    held: set[int] = set()
    for name in ("AtkinsonHyperlegible-Regular.ttf", "AtkinsonHyperlegible-Bold.ttf", "NotoSans-MoreLetters.ttf"):
        held |= set(TTFont(str(folder.joinpath(name))).getBestCmap())
    rows = [row.split("-") for row in folder.joinpath("letters.txt").read_text("utf-8").splitlines()[1:]]
    listed = {k for first, last in rows for k in range(int(first, 16), int(last, 16) + 1)}
    assert len(listed) > 1500
    assert listed <= held


def test_a_fault_of_the_page_setter_is_told_and_never_passed_over() -> None:
    values = sheet_values(sheet_page(SEATED, None, None, Around()), edition="normal", paper="a4")
    with pytest.raises(OutputError, match="could not be set"):
        pdf("sheet.typ", values | {"paper": "no such paper"})
    with pytest.raises(OutputError, match="could not be set"):
        pdf("sheet.typ", values | {"title": ""})


def test_a_picture_can_stand_beside_each_section() -> None:
    drawing = Picture('<svg xmlns="http://www.w3.org/2000/svg" width="40" height="60"></svg>', "a dancer", 40, 60)
    around = Around(picture_of=lambda section: drawing if section.number == 1 else None)
    assert sheet_page(SEATED, None, None, around).sections[0].picture == drawing
    assert sheet_pdf(SEATED, around=around).startswith(b"%PDF")


def test_maker_date_and_note_stand_at_the_foot() -> None:
    around = Around(maker="Tuesday class", made_on=date(2026, 11, 5), edition_note="version 2")
    assert sheet_page(SEATED, None, None, around).foot == "Tuesday class · 5 November 2026 · version 2"


def test_guesses_kept_lines_and_cautions_are_on_the_sheet() -> None:
    doubt = Finding("warning", "ambiguous", 4, None, "“Out” can be a step or a touch: a step was taken.")
    dance = replace(SEATED, findings=(doubt,), kept=((9, "Smile!"),))
    said = {note.name: " ".join(note.words) for note in sheet_page(dance, None, None, Around()).notes}
    assert "Line 4: “Out” can be a step" in said["What was worked out, and how sure"]
    assert said["Kept as written"] == "Line 9: Smile!"
    assert "chest pain" in said["Before you begin"]
    assert "own surgeon, doctor or therapist" in said["Before you begin"]
    assert "safe" not in " ".join(said.values()).casefold()


def test_how_sure_is_said_in_words() -> None:
    assert [sure_words(c) for c in (1.0, SURE, 0.8, 0.64, 0.0)] == [
        "sure",
        "sure",
        "fairly sure",
        "please check",
        "please check",
    ]


def test_the_page_for_the_browser_stands_alone() -> None:
    text = sheet_html(STANDING, run_of(STANDING))
    page = Page(text)
    outside = [a.get("src") or a.get("href") for _, a in page.tags if a.get("src") or a.get("href")]
    assert outside == []
    assert not re.search(r"url\((?!data:)", text)
    assert [a["lang"] for tag, a in page.tags if tag == "html"] == ["en-GB"]
    assert sum(tag == "h1" for tag, _ in page.tags) == 1
    assert all(a.get("aria-label") is not None for tag, a in page.tags if tag == "svg" and a.get("role"))


@pytest.mark.parametrize("dance", DANCES, ids=lambda d: d.title)
def test_the_plain_text_reads_back_as_the_same_dance(dance: object) -> None:
    written, back = dance, read(sheet_text(dance))  # type: ignore[arg-type]
    keep = ("title", "counts", "walls", "level", "seated", "metre", "tempo_bpm", "intro_counts", "start_weight")
    first, second = dance_json(written), dance_json(back)  # type: ignore[arg-type]
    assert {k: second[k] for k in keep} == {k: first[k] for k in keep}
    for one, two in zip(first["events"], second["events"], strict=True):
        assert {**two, "line": 0} == {**one, "line": 0}
    assert back.tags == written.tags  # type: ignore[attr-defined]
    assert back.restarts == written.restarts  # type: ignore[attr-defined]
    assert back.endings == written.endings  # type: ignore[attr-defined]


def test_a_hostile_title_is_kept_to_the_letter_in_the_browser() -> None:
    assert HOSTILE in "".join(Page(sheet_html(hostile(SEATED))).words)


def test_the_head_tells_the_tempo_of_the_song_and_the_sheets_own_where_that_is_another() -> None:
    run = run_of(STANDING)
    assert "On this song about 113 counts a minute." in head_words(STANDING, run, None)
    quicker = replace(STANDING, tempo_bpm=130.0)
    assert "On this song about 113 counts a minute; the sheet says 130." in head_words(quicker, run, None)
    assert "130 beats a minute." in head_words(quicker, None, None)


def test_a_song_without_an_ending_of_its_own_still_tells_when_to_open_the_arms() -> None:
    run = replace(run_of(STANDING), ending=None)
    page = sheet_page(replace(STANDING, endings=()), run, None, Around())
    assert page.extras[-1].before == f"When wall {run.walls[-1].wall} is over, open the arms and hold."
