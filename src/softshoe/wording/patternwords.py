"""Clauses that name a pattern: its steps for the leading foot, with turns, places and closes as the words say."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.patterns import EVENT_VERB, PLACE
from softshoe.wording.footwords import settle, there
from softshoe.wording.mirrors import mirrored_want
from softshoe.wording.parts import Atom, Slot, Want
from softshoe.wording.reading_patterns import read_patterns, steps_of

if TYPE_CHECKING:
    from softshoe.dance.patterns import CodeStep
    from softshoe.wording.drafts import Draft


def pattern_atom(draft: Draft) -> Atom:
    """Return the atom of a named pattern, open and with its usual close, for the leading foot if that is known."""
    pattern = read_patterns()[draft.value]
    name = _variant(draft)
    lead = _lead(draft, name)
    choices = []
    for closed in [False, True] if pattern.closing else [False]:
        choices.append(_pattern_slots(draft, name, lead, closed=closed))
    if name == "weave" or name == "crossing weave":
        choices += _longer(choices[0])
    if draft.times > 1:
        choices = [_pattern_times(c, draft.times) for c in choices] + choices
    if name.endswith("rock") or name in ("rock step", "heel grind"):
        choices += [c[:1] for c in choices if len(c) == 2]  # "1 R fwd rock; 2 repl L": its recover is told apart
    if name == "heel switches" and any(t.low.endswith("switch") for t in draft.tokens):
        choices.insert(0, choices[0][:2])  # "R heel switch, L heel switch"
    if name in ("heel split", "toe split"):
        choices += [c[:1] for c in choices if len(c) == 2]  # "split heels apart, bring heels together"
    length = Fraction(choices[0][-1].after.__floor__() + 1) if choices[0] else Fraction(1)
    atom = Atom(choices, draft.join, draft.span, draft.line, counts=draft.counts, at=draft.at, name=name)
    atom.length, atom.times, atom.amps = length, draft.times, draft.amps
    return atom


VARIANT = {
    ("mambo", "back"): "mambo back", ("mambo", "side"): "side mambo", ("mambo", "right"): "side mambo",
    ("mambo", "left"): "side mambo", ("coaster step", "forward"): "forward coaster", ("lock step",
    "back"): "lock step back",
    ("waltz basic forward", "back"): "waltz basic back", ("shuffle", "in place"): "triple in place",
    ("shuffle", "across front"): "cross shuffle", ("shuffle", "side"): "chasse", ("half rumba box",
    "back"): "half rumba box back",
    ("mambo", "across front"): "mambo cross", ("shuffle", "right"): "chasse", ("shuffle", "left"): "chasse",
    ("vine", "in place"): "vine", ("coaster step", "across front"): "coaster cross", ("v-step", "back"): "a-step",
    ("chasse", "forward"): "shuffle", ("chasse", "back"): "shuffle",
}  # fmt: skip


def _variant(draft: Draft) -> str:
    """ "Mambo back", "shuffle on the spot", "weave left with the right": another row of the table."""
    way = settle(draft.dirs, "")
    name = VARIANT.get((draft.value, way), draft.value)
    side = draft.travel or {"right": "R", "left": "L"}.get(way, "")
    if name == "weave" and draft.feet and side and draft.feet[0] in ("L", "R") and draft.feet[0] != side:
        return "crossing weave"
    if name == "weave" and "across front" in draft.dirs:
        return "crossing weave"
    return name


def _lead(draft: Draft, name: str) -> str:
    """Return the leading foot: as named, or the side a travelling pattern goes to."""
    if draft.feet and draft.feet[0] in ("L", "R"):
        return draft.feet[0]
    side = {"right": "R", "left": "L"}.get(settle(draft.dirs, ""), "")
    side = side or draft.travel
    if side and name in ("crossing weave", "cross shuffle", "volta"):
        return {"R": "L", "L": "R"}[side]
    if not side and name == "monterey" and draft.spin:
        return "R" if draft.spin > 0 else "L"
    return side


def _pattern_slots(draft: Draft, name: str, lead: str, *, closed: bool) -> tuple[Slot, ...]:
    """Return the slots of a pattern; with an unknown lead each want knows its left-led double."""
    turned = draft.amount if not draft.turned_first else 0
    right = steps_of(name, closed=closed, lead="R", turn_deg=turned, spin=draft.spin)
    left = steps_of(name, closed=closed, lead="L", turn_deg=turned, spin=draft.spin)
    chosen = left if lead == "L" else right
    start = chosen[0].at
    slots: list[Slot] = []
    for i, (step, other) in enumerate(zip(chosen, left, strict=True)):
        want = _code_want(step, draft, first=i == 0)
        if not lead:
            want = want._replace(under_left=_code_want(other, draft, first=i == 0))
        after = step.at - start.__floor__() if start >= 1 else step.at - 1
        if slots and slots[-1].after == after:
            slots[-1] = Slot((*slots[-1].wants, want), (), after)
        else:
            slots.append(Slot((want,), (), after))
    if draft.turned_first:
        want = slots[0].wants[0]._replace(turn_deg=draft.amount, spin=draft.spin)
        slots[0] = slots[0]._replace(wants=(want, *slots[0].wants[1:]))
    elif draft.amount and 0 <= draft.turn_on <= len(slots):
        slots = _turn_on(slots, draft.turn_on)
    if draft.weight and slots:
        slots[-1] = Slot((slots[-1].wants[0]._replace(weight=draft.weight),), (), slots[-1].after)
    return tuple(slots)


def _turn_on(slots: list[Slot], which: int) -> list[Slot]:
    """Put the pattern's whole turn on the step that is named, from 1; 0 is the last."""
    turns = [w for s in slots for w in s.wants if w.turn_deg]
    if not turns:
        return slots
    total, at = sum(w.turn_deg for w in turns), (which or len(slots)) - 1
    if slots[at].wants and slots[at].wants[0].turn_deg == total:
        return slots

    def there(i: int, slot: Slot) -> Slot:
        wants = tuple(w._replace(turn_deg=total if i == at else 0, spin=turns[0].spin) for w in slot.wants)
        return slot._replace(wants=wants)

    return [there(i, slot) for i, slot in enumerate(slots)]


def _code_want(step: CodeStep, draft: Draft, *, first: bool) -> Want:
    """Return a step of the code as a want; the place "any" is what the words or the pattern's habit say."""
    way = PLACE[step.place]
    if step.place == "any" or (step.place == "fwd" and draft.dirs and not step.turn_deg and _general(draft)):
        way = _any_way(draft, first=first)
    elif (
        step.place == "fwd"
        and step.turn_deg
        and draft.value in ("shuffle", "lock step")
        and draft.dirs
        and not draft.spin
    ):
        way = settle(draft.dirs, way)
    foot = {"B": "both", "N": None}.get(step.foot, step.foot)
    if step.place == "out":
        way = "out"
    spin = (step.turn_deg > 0) - (step.turn_deg < 0)
    verb = EVENT_VERB.get(step.verb, step.verb)
    ref = there(draft) if step.place == "any" and way == "across front" else ""
    return Want(foot, verb, way, abs(step.turn_deg), spin, "", ref, line=draft.line, span=draft.span, lead=first)


def _general(draft: Draft) -> bool:
    return draft.value in ("lock step", "step lock", "toe strut", "heel strut", "rock step", "heel together")


def _any_way(draft: Draft, *, first: bool) -> str:
    """Return the way of a step that the pattern leaves open."""
    usual = read_patterns()[draft.value].travel or "forward"
    way = settle(draft.dirs, "") or usual
    if way in ("right", "left") and not draft.dirs:
        way = usual
    if draft.amount == 180 and not first and draft.value == "shuffle" and not draft.dirs:
        return "forward"
    if way == "together" and first:
        return usual
    return way if way != "in place" or draft.value != "rock step" else usual


def _longer(slots: tuple[Slot, ...]) -> list[tuple[Slot, ...]]:
    """A weave goes on as long as its counts: side, behind, side, across and so on."""
    return [tuple(_shifted(slots, i) for i in range(n)) for n in (3, 6, 8, 2, 5, 7)]


def _shifted(slots: tuple[Slot, ...], i: int) -> Slot:
    slot = slots[i % len(slots)]
    return Slot(slot.wants, slot.hands, Fraction(i))


def _pattern_times(slots: tuple[Slot, ...], times: int) -> tuple[Slot, ...]:
    """Return a pattern several times in a row; from the second on, footwork says who leads."""
    length = slots[-1].after.__floor__() + 1
    left_led = bool(slots[0].wants) and slots[0].wants[0].foot == "L"
    return tuple(
        Slot(
            slot.wants if not k else tuple(_freed(w, left_led=left_led) for w in slot.wants),
            slot.hands,
            slot.after + k * length,
        )
        for k in range(times)
        for slot in slots
    )


def _freed(want: Want, *, left_led: bool) -> Want:
    """A pattern's step whose lead is open again."""
    if want.under_left is not None:
        return want
    double = mirrored_want(want)
    return double._replace(under_left=want) if left_led else want._replace(under_left=double)
