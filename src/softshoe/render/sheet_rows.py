"""A section as the lines a dancer reads: the counts, what the feet do, what the arms do.

Counts are those a leader calls: one to eight in each section (six in a waltz). Two counts make a line, three in a
waltz; what goes on alike is joined into a longer line.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

from softshoe.dance.arms import GESTURE
from softshoe.dance.counts import SIGNS
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.render.phrase_words import action_words, arm_words, sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from fractions import Fraction

    from softshoe.dance.action import Action, Event
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance, Section

D = Direction
LASTING = {"hold", "arms", "drag", "sweep"}  # written on every count they last
RUNS = {
    ("step", D.IN_PLACE): "march in place",
    ("step", D.FORWARD): "walk forward",
    ("step", D.BACK): "walk back",
    ("stomp", D.IN_PLACE): "stomp",
    ("sway", None): "sway",
    ("swivel", None): "swivel both heels",
}
SEATED_RUNS = RUNS | {("step", D.FORWARD): "step forward", ("step", D.BACK): "step back"}
LONGEST_RUN_COUNTS = 4
SWIVELS = {D.LEFT: "left", D.RIGHT: "right", D.CENTRE: "back to the middle"}


@dataclass(frozen=True, slots=True)
class Bead:
    """One moment in the margin: ``part`` 1 for a whole count, ½ for "&", ¼ for "e" and "a" (of a count's width)."""

    label: str
    part: float
    foot: Foot | None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the sheet. ``facing_deg`` is set only where the facing has changed, with the turn that led there.

    ``arms_on`` are the arms by themselves, each with the count it falls on; "" where it goes on through all of them.
    """

    label: str
    beads: tuple[Bead, ...]
    feet: str
    arms: str
    facing_deg: int | None
    turn_deg: int
    arms_on: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class _Window:
    """The events of a few counts, by moment, and the first count of the section they belong to."""

    events: tuple[Event, ...]
    first: Count
    seated: bool

    @property
    def wholes(self) -> list[int]:
        """The counts called aloud."""
        return sorted({e.action.at.whole for e in self.events if e.action.at.at.denominator == 1})


def section_lines(dance: Dance, section: Section, events: Sequence[Event]) -> tuple[Line, ...]:
    """Return the lines of one section; ``events`` are those of the whole wall."""
    mine = [e for e in events if dance.section_at(e.action.at) == section]
    return lines(mine, first=section.start, per_line=3 if dance.metre == "3/4" else 2, seated=dance.seated)


def lines(events: Sequence[Event], *, first: Count, per_line: int, seated: bool) -> tuple[Line, ...]:
    """Return the lines of a run of events whose count 1 is ``first``."""

    def window(event: Event) -> int:
        return max(0, (event.action.at.at.__ceil__() if _leads_in(event, first) else event.action.at.whole)
                   - first.whole) // per_line  # fmt: skip

    ordered = sorted(events, key=lambda e: e.action.at)
    windows = [_Window(tuple(found), first, seated) for _, found in groupby(ordered, key=window)]
    joined = _joined(windows)
    return tuple(_line(w, before) for w, before in zip(joined, _before(joined), strict=True))


def rests(line: Line) -> bool:
    """Tell whether feet rest on a line in which arms dance."""
    return bool(line.arms_on) and line.feet.rstrip(".").casefold() in ("feet still", "hold")


def _leads_in(event: Event, first: Count) -> bool:
    return event.action.at < first


def _before(windows: list[_Window]) -> list[Action | None]:
    return [None, *(w.events[-1].action for w in windows)][: len(windows)]


def _joined(windows: list[_Window]) -> list[_Window]:
    """Join neighbours that go on alike."""
    done: list[_Window] = []
    for window in windows:
        if done and _goes_on(done[-1], window):
            done[-1] = _Window(done[-1].events + window.events, window.first, window.seated)
        else:
            done.append(window)
    return done


def _goes_on(one: _Window, two: _Window) -> bool:
    if _arms_of(one) != _arms_of(two) or len(_arms_of(one)) > 1:
        return False
    both = one.events + two.events
    verbs = {e.action.verb for e in both}
    still = len(verbs) == 1 and verbs <= LASTING and len({(e.action.foot, e.action.dir) for e in both}) == 1
    short = len({*one.wholes, *two.wholes}) <= LONGEST_RUN_COUNTS
    return still or (short and _run_words([e.action for e in both], seated=one.seated) is not None)


def _arms_of(window: _Window) -> set[str]:
    """The arms of the whole counts: one entry when they go on alike, "" among them when some count has none."""
    return {arm_words(e.action.arms) for e in window.events if e.action.at.at.denominator == 1}


def _line(window: _Window, before: Action | None) -> Line:
    turn = sum(e.action.turn_deg for e in window.events)
    changed = any(e.action.turn_deg for e in window.events)
    beads = tuple(_beads(window))
    return Line(
        label=span_label([bead.label for bead in beads]),
        beads=beads,
        feet=_feet(window, before),
        arms=_arms(window),
        facing_deg=window.events[-1].facing_deg if changed else None,
        turn_deg=turn,
        arms_on=_arms_on(window),
    )


def local_label(at: Count, first: Count) -> tuple[str, Fraction]:
    """Return what is called at this count of a section, and its part of a count: ("3", 0), ("&", ½)."""
    part = at.at - at.whole
    sign = next((sign for sign, value in SIGNS.items() if value == part), "")
    return (sign or str(at.whole - first.whole + 1)) if part else str(at.whole - first.whole + 1), part


def _beads(window: _Window) -> Iterable[Bead]:
    for at, found in groupby(window.events, key=lambda e: e.action.at):
        label, part = local_label(at, window.first)
        feet = {e.action.foot for e in found}
        foot = feet.pop() if len(feet) == 1 else Foot.BOTH
        yield Bead(label, 1.0 if not part else (0.5 if label == "&" else 0.25), foot)


def span_label(labels: list[str]) -> str:
    """Return counts as they are written before a line.

    >>> span_label(["1", "2"]), span_label(["1", "&", "2"]), span_label(["&", "1", "2"]), span_label(["7"])
    ('1–2', '1&2', '&1 2', '7')
    """
    if all(label.isdigit() for label in labels):
        return labels[0] if len(labels) == 1 else f"{labels[0]}–{labels[-1]}"
    out = ""
    for before, label in zip(["", *labels], labels, strict=False):
        out += f" {label}" if before.isdigit() and label.isdigit() else label
    return out


def _feet(window: _Window, before: Action | None) -> str:
    actions = [e.action for e in window.events]
    run = _run_words(actions, seated=window.seated)
    if run:
        return sentence(run) + "."
    phrases: list[str] = []
    for event in window.events:
        words = action_words(event.action, facing_deg=event.facing_deg, before=before)
        repeated = before is not None and event.action.verb in LASTING and phrases and words == phrases[-1]
        if not repeated:
            phrases.append(words)
        before = event.action
    return sentence(_listed(phrases)) + "."


def _listed(phrases: list[str]) -> str:
    """Join phrases; a "step" after a step is left out: "step right forward, left beside right"."""
    out = [phrases[0]] if phrases else []
    for before, words in pairwise(phrases):
        short = words.removeprefix("step ") if before.startswith("step ") and " feet" not in words else words
        out.append(short)
    still = {"hold", "feet still"}
    if len(out) > 1 and set(out) <= still:
        return "feet still"
    return ", ".join(out)


def _run_words(actions: list[Action], *, seated: bool) -> str | None:
    """Return "march in place right, left, right" where feet take turns at one thing, or None."""
    if len(actions) < 2 or any(a.turn_deg or a.weight_said for a in actions):
        return None
    verbs, ways = {a.verb for a in actions}, {a.dir for a in actions}
    if len(verbs) != 1:
        return None
    verb = verbs.pop()
    if verb == "swivel" and all(a.foot is Foot.BOTH for a in actions) and ways <= set(SWIVELS):
        return "swivel both heels " + ", ".join(SWIVELS[a.dir] for a in actions if a.dir)
    feet = [a.foot for a in actions]
    if any(f not in (Foot.LEFT, Foot.RIGHT) for f in feet) or any(a is b for a, b in pairwise(feet)):
        return None
    own = all(a.foot and a.dir and a.dir.value == a.foot.word for a in actions)
    key = (verb, None) if verb == "sway" and own else (verb, ways.pop() if len(ways) == 1 else D.UP)
    head = (SEATED_RUNS if seated else RUNS).get(key)
    return head and f"{head} " + ", ".join(f.word for f in feet if f)


def _arms_on(window: _Window) -> tuple[tuple[str, str], ...]:
    parts = [(e.action.at, arm_words(e.action.arms)) for e in window.events if e.action.arms]
    words = {w for _, w in parts}
    lasting = all(GESTURE[arm.gesture].lasting for e in window.events for arm in e.action.arms)
    if (lasting or len(window.wholes) == 1) and len(words) == 1 and {at.whole for at, _ in parts} >= set(window.wholes):
        return (("", words.pop()),)
    return tuple((_called(at, window.first), w) for at, w in parts)


def _arms(window: _Window) -> str:
    """Return the arms of a line as a sentence, saying on which count where it is not on all of them."""
    parts = _arms_on(window)
    if not parts:
        return ""
    words = [w for _, w in parts]
    if not parts[0][0]:
        return sentence(words[0]) + "."
    if [called for called, _ in parts] == [str(k) for k in _called_wholes(window)]:
        told = f"{words[0]}, on each count" if len(set(words)) == 1 and len(words) > 1 else "; then ".join(words)
        return sentence(told) + "."
    return sentence("; ".join(f"on {called}, {w}" for called, w in parts)) + "."


def _called_wholes(window: _Window) -> list[int]:
    return [whole - window.first.whole + 1 for whole in window.wholes]


def _called(at: Count, first: Count) -> str:
    label, part = local_label(at, first)
    return label if not part else f"the {label} after {at.whole - first.whole + 1}"
