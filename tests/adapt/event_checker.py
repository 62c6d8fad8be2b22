"""A checker of versions that knows nothing of the adapting room: it reads dance events (JSON) and wishes (words) alone.

Its tables are its own, written from the dance events' description; ``broken`` says what a version did wrong.
"""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

Events = list[dict[str, Any]]
ONE_FOOT = ("L", "R")
BEARS = {"step", "rock", "recover", "sway", "lunge", "stomp", "drop", "grind", "pivot", "hop"}
MAY_BEAR = {
    "swivel",
    "fan",
    "raise",
    "lower",
    "hop",
    "turn",
    "pivot",
    "bump",
    "sway",
    "drop",
    "jump",
    "unwind",
    "grind",
}
IN_THE_AIR = {"kick", "flick", "hitch", "hook", "scuff", "brush", "hop", "jump"}
ACROSS = {"across front", "across behind"}
OVER = {
    "R": {"left", "forward left diagonal", "back left diagonal"},
    "L": {"right", "forward right diagonal", "back right diagonal"},
}
STAYS = {"sway", "swivel", "fan", "bump", "pivot", "turn", "unwind", "raise", "lower"}
PAIR = {"clap", "roll", "cross", "drum"}
WALK = {"forward": (0, 1), "back": (0, -1), "left": (-1, 0), "right": (1, 0), "forward left diagonal": (-1, 1),
        "forward right diagonal": (1, 1), "back left diagonal": (-1, -1), "back right diagonal": (1, -1)}  # fmt: skip


def broken(before: dict[str, Any], after: dict[str, Any], wishes: frozenset[str]) -> list[str]:
    """Return everything that a version breaks: the counts, the footwork, and each wish."""
    found = [*_counts(before, after), *_footwork(after)]
    runs = [after["events"], *(t["events"] for t in after["tags"]), *(e["events"] for e in after["endings"])]
    for wish in sorted(wishes):
        found += [f"{wish}: {what}" for events in runs for what in WISHES[wish](events, before, after)]
    return found


def _counts(before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    if before["counts"] != after["counts"]:
        yield "another length"
    lengths = [[(s["start"], s["counts"]) for s in d["sections"]] for d in (before, after)]
    if lengths[0] != lengths[1]:
        yield "other sections"
    had = {e["t"] for e in before["events"]}
    has = {e["t"] for e in after["events"]}
    whole = {str(n) for n in range(after["counts"])}
    yield from (f"count {n} is empty" for n in sorted(whole & had - has))
    yield from (f"moment {t} is new" for t in sorted(has - had - whole))


def _footwork(after: dict[str, Any]) -> Iterator[str]:
    """Standing: a foot that bears can't move before it hands the weight over."""
    if after["seated"]:
        return
    bears = after["start_weight"]
    for event in after["events"]:
        foot = event["foot"]
        if foot in ONE_FOOT and foot == bears and event["action"] not in MAY_BEAR and event["weight"] != bears:
            yield f"{event['t']}: the {foot} foot bears and moves"
        if foot in ONE_FOOT and foot == bears and event["action"] in BEARS - MAY_BEAR:
            yield f"{event['t']}: the {foot} foot steps where it stands"
        bears = event["weight"]


def _seated(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    if not after["seated"]:
        yield "not on a chair"
    brought = not before["seated"]
    for e in events:
        if e["weight"] != "seat" or e["turn"]:
            yield f"{e['t']} weight {e['weight']} turn {e['turn']}"
        if e["action"] in ("pivot", "unwind", "hop", "jump", "turn"):
            yield f"{e['t']} {e['action']}"
        if e["foot"] == "both" and e["action"] in IN_THE_AIR:
            yield f"{e['t']} both feet in the air"
        if brought and (_crosses(e) or e["action"] in ("stomp", "stomp-up", "scuff", "brush", "hook", "flick")):
            yield f"{e['t']} {e['action']} {e['dir']}"


def _crosses(e: dict[str, Any]) -> bool:
    return e["dir"] in ACROSS or (e["action"] not in STAYS and e["dir"] in OVER.get(e["foot"], ()))


def _supported(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    if after["seated"]:
        yield "on a chair"
    x = y = 0
    hands: dict[str, set[str]] = defaultdict(set)
    for e in events:
        if e["turn"] or e["facing"] or e["action"] in ("pivot", "unwind", "turn", "jump", "hop", "stomp", "stomp-up"):
            yield f"{e['t']} {e['action']} {e['turn']}"
        if e["dir"] in ACROSS or e["action"] == "hook":
            yield f"{e['t']} crosses"
        hands[e["t"]] |= {a["side"] for a in e["arms"]}
        if any(a["side"] == "both" or a["gesture"] in PAIR for a in e["arms"]) or len(hands[e["t"]]) > 1:
            yield f"{e['t']} needs both hands"
        if e["action"] in BEARS - {"rock", "sway", "grind"}:
            right, forward = WALK.get(e["dir"], (0, 0))
            x, y = (0, 0) if e["dir"] == "centre" else (x + right, y + forward)
            if max(abs(x), abs(y)) > 1:
                yield f"{e['t']} too far from the chair"


def _no_foot(side: str) -> Callable[[Events, dict[str, Any], dict[str, Any]], Iterator[str]]:
    def check(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
        yield from (f"{e['t']} {e['foot']}" for e in events if e["foot"] in (side, "both"))

    return check


def _no_hand(side: str) -> Callable[[Events, dict[str, Any], dict[str, Any]], Iterator[str]]:
    def check(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
        for e in events:
            bad = [a for a in e["arms"] if a["side"] in (side, "both") or a["gesture"] in PAIR]
            yield from (f"{e['t']} {a['side']} {a['gesture']}" for a in bad)

    return check


def _arms_only(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    yield from (f"{e['t']} {e['foot']}" for e in events if e["foot"] is not None)
    yield from (f"{e['t']} foot" for e in events for a in e["arms"] if a["place"] == "foot")


def _small(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    large = ("lunge", "kick", "hitch", "flick", "hook", "point", "sweep", "scuff", "brush", "jump", "hop")
    for e in events:
        if e["action"] in large:
            yield f"{e['t']} {e['action']}"
        for a in e["arms"]:
            if a["gesture"] in ("reach", "open", "punch", "raise") or a["place"] in ("shoulder", "head", "overhead"):
                yield f"{e['t']} {a['gesture']} {a['place']}"


def _slow(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    times = sorted({Fraction(e["t"]) for e in events if e["foot"] is not None})
    yield from (f"{t} is between counts" for t in times if t.denominator > 1)
    yield from (f"{a} and {b} are too near" for a, b in pairwise(times) if b - a < 2)


def _no_turning(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    yield from (f"{e['t']} turn {e['turn']}" for e in events if e["turn"] or e["action"] in ("pivot", "unwind", "turn"))


def _below(*places: str) -> Callable[[Events, dict[str, Any], dict[str, Any]], Iterator[str]]:
    def check(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
        for e in events:
            for a in e["arms"]:
                up = a["toward"] == "up" and a["gesture"] != "rotate"
                if a["place"] in places or up or (a["gesture"] == "raise" and a["place"] is None):
                    yield f"{e['t']} {a['gesture']} {a['place']} {a['toward']}"

    return check


def _no_crossing(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    for e in events:
        if _crosses(e) or e["action"] in ("hook", "unwind"):
            yield f"{e['t']} {e['action']} {e['dir']}"
        for a in e["arms"]:
            over = a["gesture"] != "rotate" and a["toward"] in OVER.get(a["side"], ())
            if a["gesture"] == "cross" or a["toward"] in ACROSS or over:
                yield f"{e['t']} arms cross"


def _hands_in_front(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    for e in events:
        for a in e["arms"]:
            back = a["toward"] in ("back", "back left diagonal", "back right diagonal", "across behind")
            if back and a["gesture"] not in ("pull", "rotate"):
                yield f"{e['t']} {a['gesture']} {a['toward']}"


def _open_hands(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    yield from (f"{e['t']} {a['gesture']}" for e in events for a in e["arms"] if a["gesture"] in ("snap", "punch"))


def _verbs(*verbs: str) -> Callable[[Events, dict[str, Any], dict[str, Any]], Iterator[str]]:
    def check(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
        yield from (f"{e['t']} {e['action']}" for e in events if e["action"] in verbs)

    return check


def _one_thing(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    feet = {e["t"] for e in events if e["foot"] is not None}
    arms = {e["t"] for e in events if any(a["gesture"] not in ("rest", "follow") for a in e["arms"])}
    yield from (f"{t} feet and arms" for t in sorted(feet & arms))


def _no_quick(events: Events, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    yield from (f"{e['t']} {e['action']}" for e in events if Fraction(e["t"]).denominator > 1)


WISHES: dict[str, Callable[[Events, dict[str, Any], dict[str, Any]], Iterator[str]]] = {
    "seated": _seated,
    "supported": _supported,
    "arms only": _arms_only,
    "left leg rests": _no_foot("L"),
    "right leg rests": _no_foot("R"),
    "left arm rests": _no_hand("L"),
    "right arm rests": _no_hand("R"),
    "small movements": _small,
    "slower feet": _slow,
    "no turning": _no_turning,
    "nothing above the shoulders": _below("head", "overhead"),
    "arms low": _below("shoulder", "head", "overhead"),
    "no crossing": _no_crossing,
    "no stamping": _verbs("stomp", "stomp-up", "jump", "hop", "scuff", "brush"),
    "one thing at a time": _one_thing,
    "no standing on one leg": _verbs("kick", "hitch", "flick", "hook", "scuff", "brush", "hop", "jump", "turn"),
    "no quick counts": _no_quick,
    "hands in front": _hands_in_front,
    "open hands": _open_hands,
}
