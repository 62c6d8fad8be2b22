"""The layout of sheets: headings, header facts, restarts, tags and endings as other leaders dress them (``layouts/``).

What stands behind a "?" is not read yet; when it is, its mark must go.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

LAYOUTS = Path(__file__).parent / "layouts"
HEAD = "Pebble Beach\n{} counts, 4 walls, beginner, 100 bpm, intro 16 counts, weight on left\n\n"
TITLES = ("Heels and homes", "Step, point, hold", "Walk, kick, clap")
EIGHTS = (
    ("1-4 Right heel forward, home, left heel forward, home",
     "5-8 Step right to the side, touch left beside right, step left to the side, touch right beside left"),
    ("1-4 Vine right, touch left beside right", "5-8 Vine left, touch right beside left"),
    ("1-4 Rock right forward, recover left, step right forward, pivot quarter left",
     "5-8 Walk back right, left, clap, clap"),
)  # fmt: skip
WORDS = {"n": "1 2 3", "a": "a b c", "A": "A B C", "i": "i ii iii", "I": "I II III", "w": "one two three",
"W": "One Two Three", "o": "first second third", "O": "First Second Third", "th": "1st 2nd 3rd",
"f": "1 9 17", "l": "8 16 24"}  # fmt: skip


def rows(name: str) -> list[str]:
    lines = (LAYOUTS / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line.strip() and not line.startswith("# ")]


def told(text: str) -> dict[str, Any]:
    got = dance_json(read(text))
    for event in got["events"]:
        del event["line"]
    return got


def alarms(got: dict[str, Any]) -> list[str]:
    return [f"{f['kind']} on line {f['line']}" for f in got["findings"] if f["severity"] != "note"]


@lru_cache(maxsize=1)
def plain() -> dict[str, Any]:
    return told(
        HEAD.format(24) + "\n".join(line for k, eight in enumerate(EIGHTS) for line in (f"Section {k + 1}", *eight))
    )


def headed(row: str, *, same_line: bool, titles: tuple[str, ...] = TITLES) -> tuple[str, list[int]]:
    """Return a sheet whose sections are headed so, and the lines its headings stand on."""
    lines, stand = HEAD.format(24).split("\n")[:-1], []
    for k, eight in enumerate(EIGHTS):
        words = {name: told.split()[k] for name, told in WORDS.items()} | {"T": titles[k]}
        head = row.format(**words).split(" | ")
        stand.append(len(lines) + 1)
        joint = "" if head[-1][-1] in ":.)]/" else ":"
        lines += [f"{head[-1]}{joint} {'; '.join(eight)}"] if same_line else [*head, *eight]
    return "\n".join(lines) + "\n", stand


@pytest.mark.parametrize(
    ("row", "same_line"), [(r, s) for r in rows("headings") for s in ((False, True) if r[0] == "+" else (False,))]
)
def test_a_section_begins_on_the_line_of_its_heading(row: str, same_line: bool) -> None:
    text, stand = headed(row.removeprefix("+").removeprefix("?").strip(), same_line=same_line)
    got = told(text)
    right = got["events"] == plain()["events"] and [s["line"] for s in got["sections"]] == stand and not alarms(got)
    assert right != row.startswith("?"), text


STEPPY = (
    ("2 quarter pivots, jazz box", "Opening out", "1 vine each way"),
    ("Rock, recover, coaster", "2 toe struts, rocking chair", "4 walks and a clap"),
    ("Right side, left side", "Out out in in", "Side touches x 4"),
)
DRESSES = ("[{f}-{l}] {T}", "S{n}: {T}", "Section {n} – {T}", "Part {n}: {T}", "{n}. {T}", "({n}) {T}",
"Sec {n} [{f}-{l}] {T}", "{i}) {T}", "{A}: {T}", "Counts {f} to {l} – {T}",
"{W}. {T}", "#{n} {T}", "Block {a}: {T}")  # fmt: skip


@pytest.mark.parametrize("row", DRESSES)
@pytest.mark.parametrize("titles", STEPPY)
@pytest.mark.parametrize("length", ["", " (8 counts)", " - 8 cts", " [8]"])
def test_a_title_that_sounds_like_steps_or_begins_with_a_number_is_danced_by_nobody(
    row: str, titles: tuple[str, ...], length: str
) -> None:
    text, stand = headed(row.replace("{T}", "{T}" + length), same_line=False, titles=titles)
    got = told(text)
    assert got["events"] == plain()["events"], text
    assert [s["line"] for s in got["sections"]] == stand
    assert not alarms(got)


FACTS = {"counts": 16, "walls": 1, "level": "beginner", "tempo_bpm": 100, "intro_counts": 8, "seated": True}
BODY = "Section 1\n1-4 Right heel forward, home, left heel forward, home\n5-8 March right, left, right, left\n"


@pytest.mark.parametrize("row", rows("head"))
def test_a_header_tells_its_facts_in_any_layout(row: str) -> None:
    head = row.removeprefix("?").strip().replace(" ¶ ", "\n").replace("<T>", "\t")
    got = told(f"{head}\n\n{BODY}{BODY.replace('1', '2', 1)}")
    right = {k: got[k] for k in FACTS} == FACTS and got["title"].casefold() == "pebble beach" and not alarms(got)
    right = right and [s["line"] for s in got["sections"]] == [head.count("\n") + 3, head.count("\n") + 6]
    assert right != row.startswith("?"), f"{head}\n{alarms(got)}"


def uncounted() -> list[tuple[str, str, str]]:
    """Return (counts, plain words, words) of sheets whose lines name no counts."""
    out = []
    for group in (LAYOUTS / "uncounted.txt").read_text(encoding="utf-8").split("\n\n")[1:]:
        (counts, plain_words), *ways = group.strip().split("\n")[0].split(" | ", 1), *group.strip().split("\n")[1:]
        out += [(counts, plain_words, way) for way in ways]
    return out


@pytest.mark.parametrize(("counts", "plain_words", "words"), uncounted())
def test_sections_without_counts_are_filled_line_by_line(counts: str, plain_words: str, words: str) -> None:
    head = f"Pebble Beach\nSeated, {counts} counts, beginner, 100 bpm, intro 16\n\n"
    want, got = (told(head + body.replace(" // ", "\n").replace("//", "") + "\n") for body in (plain_words, words))
    assert got["events"] == want["events"], words
    assert [s["counts"] for s in got["sections"]] == [s["counts"] for s in want["sections"]]
    assert not alarms(got)


SIXTEEN = "\n".join(line for k in (0, 1) for line in (f"Section {k + 1}", *EIGHTS[k]))
REST = "\n".join(("Section 3", *EIGHTS[2]))


def extras() -> list[tuple[str, str]]:
    out, kind = [], ""
    for row in rows("extras"):
        if row.startswith("== "):
            kind = row.removeprefix("== ")
        else:
            out.append((kind, row))
    return out


def sheet(kind: str, words: str) -> tuple[str, dict[str, Any]]:
    """Return a sheet with these words in their place, and what they place there."""
    head = HEAD.format(24)
    if kind == "among the steps":
        return f"{head}{SIXTEEN}\n{words}\n{REST}\n", {"restarts": [{"walls": [3], "after_count": 16, "line": 10}]}
    if kind == "between":
        return f"{head}{SIXTEEN}\n{words}\n{REST}\n", {}
    whole = f"{head}{SIXTEEN}\n{REST}\n\n{words}\n"
    if kind == "below the steps":
        return whole, {"restarts": [{"walls": [3], "after_count": 16, "line": 14}]}
    if kind == "tag":
        tag = {"walls": [2], "after_count": 24, "counts": 4, "then": "start", "line": 14}
        return f"{whole}1-4 Sway right, left, right, left\n", {"tags": [tag]}
    ending = {"wall": 7, "after_count": 16, "counts": 2, "line": 14}
    return (
        (f"{whole}1-2 Step right forward, stomp left beside right\n", {"endings": [ending]})
        if kind == "ending"
        else (whole, {})
    )


@pytest.mark.parametrize(("kind", "row"), extras())
def test_what_is_left_off_or_added_stands_in_its_place(kind: str, row: str) -> None:
    text, placed = sheet(kind, row.removeprefix("?").strip().replace(" ¶ ", "\n"))
    got = told(text)
    found = {
        key: [{k: v for k, v in one.items() if k not in ("events", "start_facing")} for one in got[key]]
        for key in ("tags", "restarts", "endings")
        if got[key]
    }
    right = got["events"] == plain()["events"] and found == placed and not alarms(got)
    assert right != row.startswith("?"), f"{text}\n{found} {alarms(got)}"


@pytest.mark.parametrize(
    "talk",
    [
        "The feet stay where they are.",
        "Breathe.",
        "Light as a feather.",
        "Dinnae rush it.",
        "Think of waves on a beach.",
        "Take your time over it.",
        "You should be facing the window now.",
        "(nice and slow)",
        "* mind the step *",
    ],
)
def test_talk_between_two_sections_is_no_step(talk: str) -> None:
    text = f"{HEAD.format(24)}{SIXTEEN}\n{talk}\n{REST}\n"
    assert told(text)["events"] == plain()["events"]
    assert [f for f in told(text)["findings"] if f["severity"] == "error"] == []
