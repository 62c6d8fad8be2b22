"""Versions side by side: made by answers, the same counts in every column, swapped by hand, nothing of hers lost."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from softshoe.studio.desk import Desk

STANDING = """Lantern Street
8 counts, 1 wall, improver, 110 bpm, intro 16
1-4 Vine right, stomp left beside right
5-8 Step left forward, pivot half right, step left forward, step right together
"""


@pytest.fixture
def lantern(desk: Desk) -> str:
    return desk.new(STANDING)


def told(person: TestClient, dance: str, way: str, **said: object) -> dict[str, Any]:
    answer = person.post(f"/dance/{dance}/bodies/{way}", json=said)
    assert answer.status_code == 200, answer.text
    view: dict[str, Any] = answer.json()
    return view


def test_the_dance_as_written_stands_alone_at_first(person: TestClient, lantern: str) -> None:
    view = person.get(f"/dance/{lantern}/bodies/view").json()
    assert [one["name"] for one in view["versions"]] == ["as written"]
    assert [row["count"] for row in view["rows"]] == [str(n) for n in range(1, 9)]


def test_a_version_keeps_every_count_and_gives_a_reason_for_each_change(person: TestClient, lantern: str) -> None:
    view = told(person, lantern, "wish", name="Seated", limits=["seat"])
    assert [one["name"] for one in view["versions"]] == ["as written", "Seated"]
    changed = [row["cells"][1] for row in view["rows"] if not row["cells"][1]["same"]]
    assert changed
    assert all(cell["why"] for cell in changed)
    assert view["versions"][1]["changed"] == len(changed)
    assert any("doctor" in one for one in view["versions"][1]["care"])


def test_answers_can_be_changed_and_a_version_taken_away(person: TestClient, lantern: str) -> None:
    told(person, lantern, "wish", name="Tuesday", limits=["impact"])
    view = told(person, lantern, "wish", name="Tuesday group", limits=["seat"], was="Tuesday")
    assert [(one["name"], one["limits"]) for one in view["versions"][1:]] == [("Tuesday group", ["seat"])]
    assert len(told(person, lantern, "gone", name="Tuesday group")["versions"]) == 1


def test_a_count_is_swapped_by_hand_and_can_be_given_back(person: TestClient, lantern: str) -> None:
    before = told(person, lantern, "wish", name="Soft", limits=["impact"])["rows"][3]["cells"][1]["words"]
    view = told(person, lantern, "swap", name="Soft", count="4", words="touch L beside R")
    assert "touch" in view["rows"][3]["cells"][1]["words"]
    assert view["versions"][1]["by_hand"] == ["4=touch L beside R"]
    view = told(person, lantern, "wish", name="Soft", limits=["impact", "turning"], was="Soft")
    assert view["versions"][1]["by_hand"] == ["4=touch L beside R"]
    told(person, lantern, "wish", name="Soft", limits=["impact"], was="Soft")
    view = told(person, lantern, "swap", name="Soft", count="4")
    assert view["rows"][3]["cells"][1]["words"] == before


def test_what_a_swap_breaks_is_told(person: TestClient, lantern: str) -> None:
    told(person, lantern, "wish", name="Soft", limits=["impact"])
    view = told(person, lantern, "swap", name="Soft", count="4", words="stomp L beside R")
    assert any("Count 4 asks for more" in one for one in view["versions"][1]["warnings"])


@pytest.mark.parametrize(
    "said",
    [{"count": "4", "words": "<script>alert(1)</script>"}, {"count": "99", "words": "touch R"},
     {"count": "x", "words": "touch R beside L"}, {"name": "as written", "count": "1", "words": "touch R beside L"},
     {"name": "nobody", "count": "1", "words": "touch R beside L"}],
)  # fmt: skip
def test_a_swap_that_can_t_be_is_told_and_changes_nothing(
    person: TestClient, lantern: str, said: dict[str, str]
) -> None:
    told(person, lantern, "wish", name="Soft", limits=["impact"])
    answer = person.post(f"/dance/{lantern}/bodies/swap", json={"name": "Soft"} | said)
    assert answer.status_code in (400, 404)
    assert set(answer.json()) == {"where", "what", "why", "mend"}
    assert person.get(f"/dance/{lantern}/bodies/view").json()["versions"][1]["by_hand"] == []


@pytest.mark.parametrize("said", [{"name": ""}, {"name": "as written"}, {"name": "x", "limits": ["fly"]}])
def test_a_version_without_a_name_or_with_strange_answers_is_not_made(
    person: TestClient, lantern: str, said: dict[str, object]
) -> None:
    assert person.post(f"/dance/{lantern}/bodies/wish", json=said).status_code == 400


def test_every_question_is_asked_in_plain_words(person: TestClient, lantern: str) -> None:
    page = person.get(f"/dance/{lantern}/bodies").text
    assert page.count("Would you") >= 17
