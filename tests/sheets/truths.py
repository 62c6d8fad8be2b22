"""Truths written by hand in a short code, read here by rules of their own, so that the reader is not its own judge.

First line: title | counts | walls | level | seated or standing | metre | tempo | intro | start weight. ``sections`` are
``line:start+counts``. Every other line is ``line: count foot action place turn {arms}; …``; "t/p" accepts two places, a foot
of "-" is none, ``w=L`` says the weight. ``tag``, ``restart`` and ``ending`` lines follow their own small form.
"""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

PLACES = {
    "f": "forward", "b": "back", "l": "left", "r": "right", "fl": "forward left diagonal", "fr": "forward right diagonal",
    "bl": "back left diagonal", "br": "back right diagonal", "t": "together", "p": "in place", "c": "centre",
    "xf": "across front", "xb": "across behind", "ap": "apart", "u": "up", "d": "down",
}  # fmt: skip
TAKES = ("step", "rock", "recover", "sway", "lunge", "stomp", "drop", "grind", "pivot", "hop")
PARTS = {"": Fraction(0), "e": Fraction(1, 4), "&": Fraction(1, 2), "a": Fraction(3, 4)}


@dataclass
class Truth:
    """What a sheet means: header values, sections, events, extras, in the words of the dance events."""

    header: dict[str, Any]
    sections: list[dict[str, int]] = field(default_factory=list)
    events: list[dict[str, Any]] = field(default_factory=list)
    tags: list[dict[str, Any]] = field(default_factory=list)
    restarts: list[dict[str, Any]] = field(default_factory=list)


def number(text: str) -> int | None:
    return int(text) if text.strip().isdigit() else None


def truth_of(path: Path) -> Truth:
    """Read a truth file."""
    first, *lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
    title, counts, walls, level, seated, metre, tempo, intro, start = (part.strip() for part in first.split("|"))
    truth = Truth({
        "title": title, "counts": int(counts), "walls": int(walls), "level": None if level == "-" else level,
        "seated": seated == "seated", "metre": metre, "tempo_bpm": number(tempo), "intro_counts": number(intro),
        "start_weight": start,
    })  # fmt: skip
    state: dict[str, Any] = {"weight": start, "facing": 0}
    events, tag = truth.events, None
    for line in lines:
        if line.startswith("sections"):
            truth.sections = [section(i, part) for i, part in enumerate(line.split()[1:], 1)]
        elif line.startswith(("tag", "restart")):
            tag = extra(line)
            (truth.tags if line.startswith("tag") else truth.restarts).append(tag)
            if line.startswith("tag"):
                events, state = tag.setdefault("events", []), {"weight": state["weight"], "facing": 0}
        else:
            at, _, rest = line.partition(":")
            events += [event(part, int(at), state) for part in rest.split(";")]
    return truth


def section(n: int, part: str) -> dict[str, int]:
    line, start, counts = map(int, re.split(r"[:+]", part))
    return {"number": n, "start": start, "counts": counts, "line": line}


def extra(line: str) -> dict[str, Any]:
    words = dict(part.split("=") for part in line.split() if "=" in part)
    out: dict[str, Any] = {"walls": [int(w) for w in words["walls"].split(",")], "after_count": int(words["after"])}
    if "counts" in words:
        out |= {"counts": int(words["counts"]), "then": words["then"]}
    return out | {"line": int(line.rsplit("@", 1)[1])}


def event(part: str, line: int, state: dict[str, Any]) -> dict[str, Any]:
    """Read one event and step the state on: weight by the table of actions, facing by the turns."""
    arms = [arm(words) for words in re.findall(r"\{(.*?)\}", part)]
    count, foot, action, *rest = re.sub(r"\{.*?\}", "", part).split()
    match = re.fullmatch(r"(\d+)([&ea]?)", count)
    assert match, part
    places = [[PLACES[p] for p in word.split("/")] for word in rest if word.split("/")[0] in PLACES]
    turn = next((int(w[1:]) * (1 if w[0] == "R" else -1) for w in rest if re.fullmatch(r"[RL]\d+", w)), 0)
    who = None if foot == "-" else foot
    if state["weight"] != "seat":
        said = next((w[2:] for w in rest if w.startswith("w=")), None)
        if said or who == "both" or (action in TAKES and who):
            state["weight"] = said or who
    state["facing"] = (state["facing"] + turn) % 360
    return {
        "t": str(Fraction(int(match[1]) - 1) + PARTS[match[2]]), "foot": who, "action": action,
        "dirs": places[0] if places else [None], "weight": state["weight"], "turn": turn, "facing": state["facing"],
        "arms": arms, "line": line,
    }  # fmt: skip


def arm(words: str) -> dict[str, Any]:
    side, gesture, *rest = words.split()
    place = rest[0] if rest and rest[0] != "-" else None
    return {"side": side, "gesture": gesture, "place": place, "toward": PLACES[rest[1]] if len(rest) > 1 else None}


def differences(truth: list[dict[str, Any]], events: list[dict[str, Any]]) -> list[str]:
    """Return what differs, in words; [] when all is as it should be."""
    out = [f"{len(events)} events, should be {len(truth)}"] if len(events) != len(truth) else []
    for want, got in zip(truth, events, strict=False):
        for key in ("t", "foot", "action", "weight", "turn", "facing", "line"):
            if want[key] != got[key]:
                out.append(f"line {want['line']} t={want['t']} {key}: {got[key]!r}, should be {want[key]!r}")
        if got["dir"] not in want["dirs"]:
            out.append(f"line {want['line']} t={want['t']} dir: {got['dir']!r}, should be {want['dirs']!r}")
        if not same_arms(want["arms"], got["arms"]):
            out.append(f"line {want['line']} t={want['t']} arms: {got['arms']}, should be {want['arms']}")
    return out


def same_arms(want: list[dict[str, Any]], got: list[dict[str, Any]]) -> bool:
    """Toward is compared only where the truth names one."""

    def plain(a: dict[str, Any]) -> tuple[Any, ...]:
        return a["side"], a["gesture"], a["place"]

    if [plain(a) for a in want] != [plain(a) for a in got]:
        return False
    return all(w["toward"] is None or w["toward"] == g["toward"] for w, g in zip(want, got, strict=True))
