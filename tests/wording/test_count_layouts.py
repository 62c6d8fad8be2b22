"""One dance with its counts set out as many leaders would (``layouts/counts.txt``): before and behind the words, in
words, under names, as lengths, movement by movement, by bars, between strokes, with feet in a column of their own.

What stands behind a "?" is not read yet; when it is, its mark must go.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import accumulate
from pathlib import Path
from typing import Any

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.numbers import UNITS
from softshoe.wording.read import read

FILE = Path(__file__).parent / "layouts" / "counts.txt"
HEAD = "Pebble Beach\n24 counts, {}, beginner, 100 bpm, intro 16 counts, {}\n\n"
Line = tuple[str, list[str]]  # its counts and its movements
STANDING: list[list[Line]] = [
    [("1-4", ["Right heel forward", "right home", "left heel forward", "left home"]),
     ("5-8", ["step right to the side", "touch left beside right", "step left to the side",
              "touch right beside left"])],
    [("1&2", ["Shuffle forward right, left, right"]), ("3-4", ["rock left forward", "recover right"]),
     ("5&6", ["Shuffle back left, right, left"]), ("7-8", ["clap", "clap"])],
    [("1-2", ["Right knee up", "right foot down"]), ("3-4", ["Left knee up", "left foot down"]),
     ("5-8", ["stomp right", "stomp left", "clap", "hold"])],
]  # fmt: skip
SEATED: list[list[Line]] = [
    [("1-4", ["Right heel forward", "right home", "left heel forward", "left home"]),
     ("5-8", ["Right toe to the side", "right home", "left toe to the side", "left home"])],
    [("1-2", ["Clap", "clap"]), ("3-4", ["pat the knees", "pat the knees"]),
     ("5-8", ["March right", "left", "right", "left"])],
    [("1-2", ["Right knee up", "right foot down"]), ("3-4", ["Left knee up", "left foot down"]),
     ("5-6", ["push both hands forward", "pull both hands back"]),
     ("7-8", ["raise both arms overhead", "rest both hands in the lap"])],
]  # fmt: skip
FEET: list[list[tuple[str, str, str]]] = [
    [("1-2", "R, L", "step to right side, step behind R"), ("3-4", "R, L", "step to right side, touch together"),
     ("5-6", "L, R", "rock forward, recover"), ("7&8", "L, R, L", "coaster step")],
    [("1-2", "R, L", "step forward, pivot 1/4 left"), ("3-4", "R, L", "cross over L, point to left side"),
     ("5&6", "L, R, L", "shuffle forward"), ("7-8", "R, R", "heel forward, hook across L shin")],
    [("1-4", "R, L, R, L", "jazz box: cross over, back, side, together"), ("5-6", "R, L", "rock back, recover"),
     ("7-8", "R, L", "stomp together, stomp together")],
]  # fmt: skip
NAMES = ("Window box", "Wings", "Pecking")
DAYS = ("Monday", "Tuesday", "Wednesday")


def rows(part: str) -> list[str]:
    """Return the rows below "== part" of the file."""
    lines = FILE.read_text(encoding="utf-8").splitlines()
    start = lines.index(f"== {part}") + 1
    end = next((i for i in range(start, len(lines)) if lines[i].startswith("== ")), len(lines))
    return [line for line in lines[start:end] if line.strip()]


def told(text: str) -> tuple[list[dict[str, Any]], list[int], list[str]]:
    """Return a sheet's events without their lines, its sections' lengths, and what is accused."""
    got = dance_json(read(text))
    events = [{k: v for k, v in event.items() if k != "line"} for event in got["events"]]
    accused = [f"{f['kind']} on line {f['line']}" for f in got["findings"] if f["severity"] != "note"]
    return events, [s["counts"] for s in got["sections"]], accused


def head(*, seated: bool, walls: str = "1 wall") -> str:
    return HEAD.format(walls, "seated" if seated else "weight on left")


@lru_cache(maxsize=3)
def plain(*, seated: bool, feet: bool = False) -> tuple[list[dict[str, Any]], list[int], list[str]]:
    if feet:
        sections = [[f"{at} {_footed(f, words)}" for at, f, words in section] for section in FEET]
    else:
        sections = [[f"{at} {', '.join(m)}" for at, m in section] for section in (SEATED if seated else STANDING)]
    lines = [line for k, section in enumerate(sections, 1) for line in (f"Section {k}", *section)]
    return told(head(seated=seated, walls="4 walls" if feet else "1 wall") + "\n".join(lines) + "\n")


def _footed(feet: str, words: str) -> str:
    sides = feet.split(", ")
    name, _, rest = words.rpartition(": ")
    parts = rest.split(", ")
    if len(parts) != len(sides):
        return f"{sides[0]} {words}"
    parts = [p if p.startswith("pivot") else f"{s} {p}" for s, p in zip(sides, parts, strict=True)]
    return (f"{sides[0]} {name}: " if name else "") + ", ".join(parts)


def fields(counts: str, before: int, movements: list[str]) -> dict[str, str]:
    """Return a line's counts in every dress, and its words."""
    half = "&" in counts
    first, last = (int(n) + before for n in counts.replace("&", "-").split("-"))
    numbers = range(first, last + 1)
    words = [UNITS[n] if n < len(UNITS) else str(n) for n in numbers]
    both = f"{words[0]} and {words[-1]}"
    joined = ", ".join(movements)
    return {
        "r": f"{first}&{last}" if half else f"{first}-{last}",
        "s": f"{first} & {last}" if half else " ".join(map(str, numbers)),
        "c": f"{first} & {last}" if half else ", ".join(map(str, numbers)),
        "to": f"{first} & {last}" if half else f"{first} to {last}",
        "w": both if half else ", ".join(words),
        "W": (both if half else ", ".join(words)).upper(),
        "ws": both if half else " ".join(words),
        "wto": both if half else f"{words[0]} to {words[-1]}",
        "n": str(last - first + 1), "T": joined, "t": joined[0].lower() + joined[1:],
        "dots": "." * max(3, 70 - len(joined)), "gap": " " * max(3, 80 - len(joined)),
    }  # fmt: skip


def dressed(row: str, *, seated: bool) -> str:
    """Return the dance with each line as the row has it; "{…} ## " before it is the heading's dress."""
    running, row = row.startswith("@ "), row.removeprefix("@ ")
    title, _, row = row.rpartition(" ## ") if " ## " in row else ("Section {k}", "", row)
    lines: list[str] = []
    for k, section in enumerate(SEATED if seated else STANDING):
        name = title.format(
            k=k + 1, A="ABC"[k], N=NAMES[k], NU=NAMES[k].upper(), D=DAYS[k].upper(), o=UNITS[k + 1],
            nth=("first", "second", "third")[k], AB=("A1", "A2", "B1")[k], i=("i", "ii", "iii")[k],
        )  # fmt: skip
        same = name.endswith("+")
        name = name.rstrip("+")
        lines += [] if same or not name.strip() else [name]
        for j, (counts, movements) in enumerate(section):
            line = row.format(**fields(counts, 8 * k * running, movements))
            lines.append((name if j == 0 else " " * len(name)) + line if same else line)
    return head(seated=seated) + "\n".join(lines) + "\n"


def judge(row: str, text: str, want: tuple[list[dict[str, Any]], list[int], list[str]]) -> None:
    events, lengths, accused = told(text)
    right = events == want[0] and lengths == want[1] and not accused
    assert right != row.startswith("?"), f"{text}\n{accused}"


def by_turns(*parts: str) -> list[tuple[str, bool]]:
    """Return the rows of these parts, every second one for the seated dance."""
    return [(row, bool(k % 2)) for k, row in enumerate(row for part in parts for row in rows(part))]


@pytest.mark.parametrize(("row", "seated"), by_turns("counts", "headings"))
def test_counts_are_read_wherever_and_however_a_sheet_sets_them(row: str, *, seated: bool) -> None:
    judge(row, dressed(row.removeprefix("? "), seated=seated), plain(seated=seated))


@pytest.mark.parametrize(("row", "seated"), by_turns("each"))
def test_a_count_may_stand_beside_each_movement(row: str, *, seated: bool) -> None:
    dress, _, joint = row.removeprefix("? ").partition(" || ")
    joint = joint.replace("NL", "\n").replace("_", " ")
    lines: list[str] = []
    for k, section in enumerate(SEATED if seated else STANDING, 1):
        lines.append(f"Section {k}")
        for counts, movements in section:
            each = [(counts, movements)]
            if "&" not in counts:
                first = int(counts.split("-")[0])
                each = [(f"{first + n}-{first + n}", [m]) for n, m in enumerate(movements)]
            told_so = [fields(at, 0, m) for at, m in each]
            for one in told_so:
                one["r"] = one["r"] if "&" in one["r"] else one["r"].split("-")[0]
                one["Wc"] = one["w"].capitalize()
            lines.append(joint.join(dress.format(**one) for one in told_so))
    judge(row, head(seated=seated) + "\n".join(lines) + "\n", plain(seated=seated))


@pytest.mark.parametrize("row", rows("bars"))
def test_bars_are_told_by_their_numbers(row: str) -> None:
    lines: list[str] = []
    bar = 0
    for k, section in enumerate(SEATED, 1):
        lines.append(f"Section {k}")
        for _, movements in section:
            for n in range(0, len(movements), 2):
                bar += 1
                lines.append(row.removeprefix("? ").format(b=bar, T=", ".join(movements[n : n + 2])))
    judge(row, head(seated=True) + "2/4\n" + "\n".join(lines) + "\n", plain(seated=True))


@pytest.mark.parametrize("row", rows("strokes"))
def test_signs_between_movements_part_beats(row: str) -> None:
    dress, _, sign = row.removeprefix("? ").partition(" || ")
    names = ("heels", "hands", "toes")
    lines = [
        dress.format(N=names[k], k=k + 1, A="ABC"[k], T=sign.replace("_", " ").join(m for _, ms in section for m in ms))
        for k, section in enumerate(SEATED)
    ]
    judge(row, head(seated=True) + "\n".join(lines) + "\n", plain(seated=True))


@pytest.mark.parametrize("row", rows("tables"))
def test_feet_in_a_column_of_their_own_belong_to_the_movements(row: str) -> None:
    names, line, joint = row.removeprefix("? ").replace("TAB", "\t").split(" || ")
    facings = list(accumulate([12, -3, 0]))
    lines = [names]
    for k, section in enumerate(FEET):
        lines.append(f"Section {k + 1}")
        for at, feet, words in section:
            listed = feet.replace(", ", joint.replace("_", " "))
            lines.append(line.format(r=at, F=listed, T=words, f=facings[k]))
    want = plain(seated=False, feet=True)
    judge(row, head(seated=False, walls="4 walls") + "\n".join(lines) + "\n", want)


def test_two_tables_that_lie_on_their_side_are_no_beats_between_strokes() -> None:
    counts = "count | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8"
    heels = "feet  | R heel fwd | R home | L heel fwd | L home | R toe side | R home | L toe side | L home"
    march = "feet  | step R | step L | step R | step L | step R | step L | step R | step L"
    head = "Number Nine Bus\nseated | 16 counts | 1 wall | 94 bpm | 8 counts in"
    dance = read(f"{head}\n\nFIRST STOP\n{counts}\n{heels}\n\nSECOND STOP\n{counts}\n{march}\n")
    assert (dance.counts, len(dance.actions)) == (16, 16)
    assert [f for f in dance.findings if f.severity == "error"] == []
