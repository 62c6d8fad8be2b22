from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from render.sheet_dances import HOSTILE, SEATED, hostile
from render.test_sheet import Page
from softshoe.render.index import index_html

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
    assert set(EVERYTHING) <= set(addresses(page))


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
    assert kinds == [
        ("captions", "walkthrough.vtt"),
        ("chapters", "walkthrough-chapters.vtt"),
        ("captions", "dance-seated.vtt"),
    ]


def test_practice_tracks_stand_from_slow_to_full(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    tracks = [a["src"] for tag, a in page.tags if tag == "audio"]
    assert tracks == ["practice-70.mp3", "practice-85.mp3", "practice-100.mp3", "practice-100-no-voice.mp3"]


def test_the_page_runs_no_script_and_asks_for_nothing_outside_the_folder(tmp_path: Path) -> None:
    page = Page(index_html(SEATED, filled(tmp_path)))
    assert not any(tag in ("script", "link", "iframe", "object") for tag, _ in page.tags)
    assert not any(":" in address or address.startswith("/") for address in addresses(page))
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
