from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from render.sheet_dances import HOSTILE, SEATED, hostile
from render.test_sheet import Page
from softshoe.errors import Finding
from softshoe.render.index import index_html
from teach.lessons import DANCES, laid

if TYPE_CHECKING:
    from pathlib import Path

EVERYTHING = (
    "sheet.pdf", "sheet-large.pdf", "sheet-seated.pdf", "sheet-giant.pdf", "sheet.brf", "floor.pdf",
    "pictures-arms.pdf", "everyone.pdf", "pictures.pdf", "leader.pdf", "sheet.html",
    "sheet.txt", "walkthrough.mp4", "walkthrough.vtt", "walkthrough-chapters.vtt", "dance-seated.mp4",
    "dance-seated.vtt", "practice-70.mp3", "practice-70.vtt", "practice-85.mp3", "practice-100.mp3",
    "practice-100-no-voice.mp3",
    "report.html", "dance.json", "song.json", "run.json", "lesson.json",
)  # fmt: skip


def filled(folder: Path, names: tuple[str, ...] = EVERYTHING) -> Path:
    for name in names:
        (folder / name).write_text("")
    return folder


def addresses(page: Page) -> list[str]:
    return [str(a.get("href") or a.get("src")) for _, a in page.tags if a.get("href") or a.get("src")]


def test_everything_in_the_folder_can_be_reached(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    assert set(EVERYTHING) - {"walkthrough-chapters.vtt"} <= set(addresses(page))  # chapters are in the page itself


def test_nothing_is_shown_that_is_not_there(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path, ("sheet.pdf", "practice-70.mp3"))))
    assert {a for a in addresses(page) if not a.startswith("#")} == {"sheet.pdf", "practice-70.mp3"}
    empty = tmp_path / "empty"
    empty.mkdir()
    assert "Nothing has been made" in " ".join(Page(index_html(SEATED, empty)).words)


def test_films_have_controls_captions_and_chapters_and_nothing_starts_by_itself(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    films = [a for tag, a in page.tags if tag == "video"]
    tracks = [a for tag, a in page.tags if tag == "audio"]
    assert [a["src"] for a in films] == ["walkthrough.mp4", "dance-seated.mp4"]
    assert len(tracks) == 4
    assert all("controls" in a and "autoplay" not in a and a["aria-label"] for a in films + tracks)
    kinds = [(a["kind"], a["src"]) for tag, a in page.tags if tag == "track"]
    assert [kind for kind, _ in kinds] == ["captions", "chapters", "captions"]


def test_practice_tracks_stand_from_slow_to_full(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    tracks = [a["src"] for tag, a in page.tags if tag == "audio"]
    assert tracks == ["practice-70.mp3", "practice-85.mp3", "practice-100.mp3", "practice-100-no-voice.mp3"]


def test_the_page_runs_no_script_and_asks_for_nothing_outside_the_folder(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    assert not any(tag in ("script", "link", "iframe", "object") for tag, _ in page.tags)
    here = [a for a in addresses(page) if not a.startswith("data:text/vtt")]
    assert not any(":" in address or address.startswith("/") for address in here)
    assert not any(name.startswith("on") for _, attributes in page.tags for name in attributes)


def test_hostile_titles_and_file_names_stay_words(tmp_path: Path) -> None:
    (tmp_path / 'a "quoted" <b>.mp3').write_text("")
    page = Page(index_html(hostile(SEATED), tmp_path))
    assert HOSTILE in "".join(page.words)
    assert not any(tag in ("script", "b") for tag, _ in page.tags)
    assert "a%20%22quoted%22%20%3Cb%3E.mp3" in addresses(page)


def test_headings_go_down_one_at_a_time(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    levels = [int(tag[1]) for tag, _ in page.tags if tag in ("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_captions_are_in_the_page_itself_since_a_page_from_disk_may_read_no_other_file(tmp_path: Path) -> None:
    folder = filled(tmp_path)
    (folder / "walkthrough.vtt").write_text("WEBVTT\n\n00:01.000 --> 00:02.000\nheel & toe\n", "utf-8")
    tracks = [str(a["src"]) for name, a in Page(index_html(SEATED, folder)).tags if name == "track"]
    assert all(src.startswith("data:text/vtt") for src in tracks)
    assert any("heel%20%26%20toe" in src for src in tracks)


def test_the_sheet_what_was_found_and_the_dance_on_its_song_stand_on_the_page(tmp_path: Path) -> None:
    folder = filled(tmp_path)
    (folder / "sheet.txt").write_text("1-2 <Right> heel, home", "utf-8")
    dance = replace(DANCES["Harbour Rope Hum"], findings=(Finding("warning", "walls", 2, None, "It has one wall."),))
    run, song = laid("Harbour Rope Hum", "tag")
    page = index_html(dance, folder, run, song, song_name="A song")
    assert "1-2 &lt;Right&gt; heel, home" in page
    assert "It has one wall." in page
    assert "<svg" in page
    assert "There is one thing to check." in page or "1 thing to check" in page
