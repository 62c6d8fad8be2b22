"""Every page of the table has its template and its own script, stands in the frame, and holds nothing inline."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from softshoe.studio.table import PLACES, Place
from softshoe.studio.templates import FOLDER

if TYPE_CHECKING:
    from starlette.testclient import TestClient

INLINE = re.compile(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son[a-z]+=|javascript:", re.I)
ORDER = ["write", "listen", "fit", "bodies", "teach", "lead", "keep"]
FIRST_PAGE_BYTES = 150_000


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.name)
def test_a_page_stands_in_the_frame_and_holds_nothing_inline(person: TestClient, dance: str, place: Place) -> None:
    answer = person.get(place.address.replace("{dance}", dance), headers={"accept": "text/html"})
    assert answer.status_code == 200
    assert place.page.name == place.name
    assert not INLINE.search(answer.text)
    assert answer.text.count('aria-current="page"') == 1
    assert answer.text.count("<h1") == 1


def test_the_places_of_the_work_stand_in_its_order() -> None:
    named = [place.name for place in PLACES if place.in_frame]
    assert named == [name for name in ORDER if name in named]


def test_the_first_page_is_light(person: TestClient) -> None:
    page = person.get("/").text
    asked = re.findall(r'(?:href|src)="(/own/[^"]+)"', page)
    style = person.get("/own/style.css").text
    asked += re.findall(r'url\("(/fonts/[^"]+)"\)', style)
    scripts = list(asked)
    for script in scripts:
        if script.endswith(".js"):
            asked += re.findall(r'from "(/own/[^"]+)"', person.get(script).text)
    assert len(asked) > 4
    assert len(page) + sum(len(person.get(one).content) for one in set(asked)) <= FIRST_PAGE_BYTES


def test_scripts_make_no_marks_out_of_words() -> None:
    scripts = list(FOLDER.glob("*.js"))
    assert scripts
    for script in scripts:
        assert not re.search(
            r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(", script.read_text("utf-8")
        )
