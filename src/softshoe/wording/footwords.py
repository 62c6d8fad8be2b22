"""Clauses for the feet: which verb of the events a doing word and a part of the foot make, and where the foot goes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.mirrors import mirrored_slot
from softshoe.wording.parts import Atom, Slot, Want
from softshoe.wording.plurals import several

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

WALKS = ("march", "walk", "run", "tread", "stroll", "trot", "jog", "strid", "ambl", "saunter")
LED = ("start", "lead", "begin", "first", "from")
BY_TURNS = ("right and left", "left and right")
LASTING = ("drag", "sweep", "hold", "unwind")
PART_VERB = {
    ("step", "heel"): "heel", ("touch", "heel"): "heel", ("heel", "heel"): "heel", ("heel", "toe"): "touch",
    ("step", "toe"): "touch", ("touch", "toe"): "touch", ("point", "toe"): "point", ("point", "heel"): "heel",
    ("raise", "heel"): "raise", ("raise", "toe"): "raise", ("raise", "knee"): "hitch", ("raise", ""): "hitch",
    ("raise", "ankle"): "hitch", ("step", "knee"): "hitch",
    ("lower", "heel"): "lower", ("lower", "toe"): "drop", ("lower", "knee"): "step", ("lower", ""): "lower?",
    ("swing", "toe"): "fan", ("swing", "heel"): "swivel", ("swing", ""): "kick", ("swing", "knee"): "hitch",
    ("open", "toe"): "fan", ("open", "heel"): "swivel", ("close", "toe"): "fan", ("close", "heel"): "swivel",
    ("fan", "heel"): "swivel", ("fan", "toe"): "fan", ("swivel", "toe"): "fan", ("swivel", "heel"): "swivel",
    ("split", "toe"): "fan", ("split", "heel"): "swivel", ("circle", ""): "sweep", ("circle", "toe"): "sweep",
    ("drop", "heel"): "drop", ("drop", "toe"): "drop", ("slap", "heel"): "flick", ("open", ""): "step", ("open",
    "knee"): "swivel", ("close", "knee"): "swivel",
    ("sweep", ""): "sweep", ("circle", "heel"): "sweep", ("close", ""): "step", ("kick", "heel"): "kick",
}  # fmt: skip
BY_NAME = {
    "ball": "step", "skate": "step", "bounce": "lower", "hiproll": "bump", "kneepop": "raise", "crossrock": "rock",
    "paddle": "pivot", "split": "swivel", "slide": "drag",
}  # fmt: skip
OWN_DIR = {"bounce": "down", "skate": "forward diag", "kneepop": "up", "open": "out", "close": "centre"}
CARRYING = ("weight", "bring", "shift", "transfer", "take", "let", "the weight", "com")
LIFTED = ("", "step", "hitch", "raise", "kick", "flick")
TURN_ONLY = "turn?"
SIDED_VERBS = ("swivel", "fan", "bump", "sway", "rock", "step", "", "point", "touch", "heel", "kick", "lunge", "drag")
BARE_PART = {"heel": "heel", "toe": "touch", "knee": "hitch", "ankle": "step"}
PAIR = {"heel": "swivel", "toe": "fan", "knee": "swivel"}


def settle(dirs: list[str], usual: str) -> str:
    """Return the one place that several words of place make together.

    >>> settle(["out", "right"], ""), settle(["forward", "diag"], ""), settle([], "together")
    ('right', 'forward diag', 'together')
    """
    if not dirs:
        return usual
    if "back" in dirs and any(way.startswith("forward ") for way in dirs):
        dirs = [way.replace("forward ", "back ") for way in dirs if way != "back"]
    for way in dirs:
        if way.startswith(("forward ", "back ")) or way in ("across front", "across behind", "centre"):
            return way
    if "diag" in dirs:
        lead = "back" if "back" in dirs else "forward"
        side = next((d[0].upper() + " " for d in dirs if d in ("left", "right")), "")
        return f"{lead} {side}diag"
    plain = [d for d in dirs if d not in ("out", "in", "down", "up")] or dirs
    sided = [d for d in plain if d in ("left", "right")]
    if sided and "side" in plain:
        return sided[-1]
    return plain[-1]


def verb_of(draft: Draft, way: str) -> str:
    """Return the events' verb of a clause, or "" for a plain step left unsaid."""
    name = draft.value if draft.doing in ("verb", "dual") else ""
    if draft.doing == "draw":
        return "sweep"
    if not name or (name == "kneepop" and draft.part in ("heel", "toe") and way not in ("", "up")):
        return _part_alone(draft, way)  # "pop the right heel out in front"
    heel = draft.part == "heel" and name == "rock"
    if heel or (draft.part in ("heel", "toe") and name in ("step", "rock") and way == "down"):
        return _part_alone(draft, way or "down")  # "press its heel down", "set both heels down"
    joined = name == "step" and way in ("together", "centre", "apart")
    if draft.feet == ["both"] and draft.part in PAIR and (joined or (name == "slide" and way)):
        return PAIR[draft.part]  # "bring the heels together"
    if draft.part and (name, draft.part) in PART_VERB and not _crosses_foot(draft, name):
        return PART_VERB[name, draft.part]
    if name == "slide":
        return "drag" if way in ("together", "centre", "in", "") else "slide"
    if (name, "") in PART_VERB:
        return PART_VERB[name, ""]
    if name == "touch" and draft.weight == "take":
        return "touch"
    return BY_NAME.get(name, name)


def _crosses_foot(draft: Draft, name: str) -> bool:
    """ "Cross right over left" is a step; "cross right toe over left" is what the toe does."""
    return name == "step" and bool(draft.dir) and not (draft.dir == "across front" and draft.refs and draft.feet)


def _part_alone(draft: Draft, way: str) -> str:
    """ "Heels up", "R heel forward", "toes right", "knee up": the part of the foot is the doing word."""
    if draft.part in ("heel", "toe"):
        if way == "up":
            return "raise"
        if way == "down":
            return "lower" if draft.part == "heel" else "drop"
        if draft.feet == ["both"]:
            return PAIR[draft.part]
        if way == "centre" and draft.part == "heel" and draft.feet:
            return "step"  # "R heel forward, R heel home"
        if way == "out" and draft.part == "toe" and not any(t.low.endswith("toes") for t in draft.tokens):
            return "touch"  # "R toe out" reaches to the side; "R toes out" fans
        if way in ("out", "in") or (way == "centre" and draft.part == "toe"):
            return PAIR[draft.part]
    return BARE_PART.get(draft.part, "")


def want_of(draft: Draft, foot: str | None) -> Want:
    """Return what one foot is asked for by a clause."""
    if draft.value == "recover" and draft.dirs in (["forward"], ["back"]) and draft.tokens_say(*CARRYING):
        draft = replace(draft, dirs=[])  # "bring the weight forward again onto the right"
    way = settle(draft.dirs, draft.dir or OWN_DIR.get(draft.value, ""))
    verb = verb_of(draft, way)
    if draft.value == "step" and draft.part in ("heel", "toe") and way in ("up", "down"):
        verb = _part_alone(draft, way)  # "both heels go up"
    if verb == "sway" and way in ("forward", "back"):
        verb = "rock"  # "lean back onto the right"
    if verb == "raise":
        verb, way = ("flick", "back") if way in ("across behind", "back") else (verb, "up")
    if way in ("across front", "across behind") and draft.tokens_say("shin", "calf") and verb in LIFTED:
        verb = "hook"
    if verb == "kick" and "up" in draft.dirs and way in ("across behind", "back"):
        verb, way = "flick", "back"
    if verb == "stomp" and (way == "up" or draft.weight == "no"):
        verb, way = "stomp-up", "" if way == "up" else way
    if verb in SIDED_VERBS and not draft.dirs and draft.travel:
        way = {"R": "right", "L": "left"}[draft.travel]
        if verb == "drag" and draft.feet[:1] in (["L"], ["R"]) and draft.feet[0] != draft.travel:
            way = "together"  # "slide left to right"
    inferred = ""
    if verb in ("step", "rock", "") and not way and _bare_side(draft) and not draft.amount:
        inferred = "side" if draft.doing else "bare"
    if way == "across front" and not draft.refs and any(t.low == "in front" for t in draft.tokens):
        inferred = inferred or "in front"
    if verb == "drag" and draft.value == "slide" and not way and _bare_side(draft) and not draft.refs:
        verb, inferred = "slide", "side"  # "slide right" travels; "slide left to right" draws in
    if draft.doing == "verb" and draft.dir == "across behind" and not draft.dirs and draft.tokens_say("lock", "lk"):
        way = "lock"
    if draft.amount and not (verb or foot) and way in ("", "in place"):
        verb = TURN_ONLY
    if verb == "" and foot is None and draft.turning and not way:
        verb = TURN_ONLY
    return Want(
        foot, verb or "step", way, draft.amount, draft.spin, draft.weight, there(draft),
        draft.alternate, draft.line, draft.span, inferred=inferred, square=_leads_to(draft),
        returns=_comes_back(draft),
        goes_on=_walks(draft) and (not draft.feet or draft.tokens_say(*LED, *BY_TURNS)),
    )  # fmt: skip


def there(draft: Draft) -> str:
    """Return the foot named as the place to go to; "across" is across the other foot, named or not."""
    if draft.refs:
        return draft.refs[0]
    across = any(t.kind == "dir" and t.low.startswith("across") for t in draft.tokens)
    return "other" if across or (draft.doing == "pattern" and draft.tokens_say("cross")) else ""


ONTO = ("onto", "on", "upon", "on the", "onto the", "to", "on to")
RETURNING = ("return", "com", "go", "goes", "settle", "shift", "fall", "rock", "lean", "replace")


def _comes_back(draft: Draft) -> str:
    """ "Return to left", "rock back onto the left", "forward onto the left": the foot that may take its weight back."""
    if draft.doing not in ("", "verb") or draft.value not in ("", "step", "rock", "sway") or draft.dir or draft.part:
        return ""
    said = draft.tokens_say(*RETURNING) or (not draft.doing and draft.dirs in (["back"], ["forward"]))
    if not said or draft.amount:
        return ""
    sided = draft.dirs[-1:] in (["left"], ["right"]) and set(draft.dirs[:-1]) <= {"back", "forward"}
    if not draft.feet and sided and draft.tokens_say("return", "com", "shift"):
        return draft.dirs[-1][0].upper()
    foot = draft.feet[0] if len(draft.feet) == 1 and set(draft.dirs) <= {"back", "forward"} else ""
    words = [t for t in draft.tokens if t.kind != "fill"]
    onto = any(a.low in ONTO and b.kind in ("side", "foot") for a, b in pairwise(words))
    return foot if foot in ("L", "R") and onto else ""


def _leads_to(draft: Draft) -> int:
    """ "Turn right (3:00)": where it is not said how far, the facing says it."""
    if (draft.turning or draft.value == "pivot") and not draft.amount and draft.square < 0 and draft.facing is not None:
        return draft.facing
    return draft.square


def _walks(draft: Draft) -> bool:
    return draft.doing == "verb" and draft.value == "step" and draft.tokens_say(*WALKS)


def _bare_side(draft: Draft) -> bool:
    """ "Step right" names foot and side in one word."""
    return len(draft.feet) == 1 and any(t.kind == "side" and t.value == draft.feet[0] for t in draft.tokens)


def feet_of(draft: Draft) -> list[str | None]:
    """Return the feet a clause moves, one after the other; both where the verb is one of both."""
    feet: list[str | None] = list(draft.feet)
    if draft.doing == "dual" and draft.value == "lower" and not feet:
        return ["same"]
    if draft.value in ("swivel", "split", "bounce", "jump") and draft.doing == "verb":
        if not feet:
            return ["both"]
        if draft.value in ("swivel", "split") and draft.dirs == [] and len(feet) >= 1 and not draft.part:
            return feet
    if draft.value == "unwind":
        return ["both"]
    return feet or [None]


def _side_list(draft: Draft, feet: list[str | None]) -> list[Want]:
    """ "Twist right, left": the sides are where both heels go; "bump R R L": where the hips go."""
    ways = {"R": "right", "L": "left"}
    one = want_of(draft, None)
    return [one._replace(foot="both" if one.verb != "bump" else None, dir=ways.get(f or "", one.dir)) for f in feet]


def foot_atom(draft: Draft) -> Atom | None:
    """Return the atom of a clause for the feet; None when it asks for nothing."""
    if draft.value == "recover" and not draft.feet and draft.dirs[-1:] in (["left"], ["right"]):
        draft = replace(draft, feet=[draft.dirs[-1][0].upper()], dirs=[])  # "recover (back) to the left"
    if draft.value in ("pivot", "paddle") and draft.feet in (["L"], ["R"]) and not (draft.spin or draft.dirs):
        draft = replace(draft, spin=1 if draft.feet == ["R"] else -1, feet=[])  # "half pivot left": where it turns
    feet = feet_of(draft)
    hips = draft.doing == "verb" and draft.value in ("bump", "hiproll")
    twisted = (
        draft.doing == "verb" and draft.value in ("swivel", "fan") and not draft.part and not draft.dirs and draft.feet
    )
    if hips or twisted:
        wants = _side_list(draft, list(draft.feet) or [None])
    else:
        wants = [want_of(draft, foot) for foot in feet]
    if draft.doing == "verb" and draft.value == "split":
        wants = [wants[0]._replace(foot="both", dir="apart"), wants[0]._replace(foot="both", dir="centre")]
    slots = tuple(Slot((want,)) for want in wants)
    atom = Atom([slots], draft.join, draft.span, draft.line, counts=draft.counts, at=draft.at, each=draft.each)
    atom.lasts = wants[-1].verb in LASTING or wants[-1].goes_on
    atom.amps, atom.times, atom.walks, atom.many = draft.amps, draft.times, _walks(draft), several(draft)
    _choices(atom, draft, wants)
    if draft.times > 1:
        atom.choices = [times_over(c, draft.times) for c in atom.choices] + atom.choices
    if wants[0].verb == TURN_ONLY:
        atom.name = "turn"
    return atom


def _choices(atom: Atom, draft: Draft, wants: list[Want]) -> None:
    """Some words stand for one moment or for two: "pivot ½" alone, "cross rock", "heel split"."""
    first = wants[0]
    if draft.value in ("pivot", "paddle") and draft.doing == "verb":
        one = (Slot((first._replace(foot=None),)),)
        lead = first._replace(
            verb="step",
            foot=first.foot,
            dir="forward",
            turn_deg=0,
            spin=0,
            weight="",
            inferred="the step before the pivot",
        )
        atom.choices = [one, (Slot((lead,)), *one)]
        atom.name = "pivot"
    elif draft.value == "split":
        atom.choices = [atom.choices[0], atom.choices[0][:1]]
    elif first.verb == "rock" and len(wants) == 1:
        back = Want(None, "recover", "", line=first.line, span=first.span, inferred="the recover")
        atom.choices.append((Slot((first,)), Slot((back,))))
    elif first.verb == "hold" and draft.counts:
        atom.choices = [tuple(Slot((first,)) for _ in range(min(draft.counts, 64)))]
        atom.counts = None


def times_over(slots: tuple[Slot, ...], times: int) -> tuple[Slot, ...]:
    """Return the slots several times; where weight changes hands the foot named first only leads."""
    if len({w.foot for slot in slots for w in slot.wants if w.foot in ("R", "L")}) > 1:
        return slots * times  # "lift right knee, lower, lift left knee, lower x2"
    wants = [w for slot in slots for w in slot.wants]
    if wants and all(w.alternate and w.foot in ("R", "L") and w.verb not in TAKES for w in wants):
        other = tuple(map(mirrored_slot, slots))  # "four knee lifts, alternating, right first"
        return tuple(slot for n in range(times) for slot in (other if n % 2 else slots))
    out = list(slots)
    for _ in range(times - 1):
        out += [Slot(tuple(_again(w) for w in slot.wants), slot.hands, slot.after) for slot in slots]
    return tuple(out)


TAKES = ("step", "recover", "rock")


def _again(want: Want) -> Want:
    if (want.verb not in TAKES and not (want.verb == "sway" and want.alternate)) or want.foot not in ("R", "L"):
        return want
    way = "side" if want.dir in ("right", "left") else want.dir
    way = {"forward R diag": "forward diag", "forward L diag": "forward diag"}.get(way, way)
    return want._replace(foot=None, dir=way, ref="", alternate=True)


def with_draft(atom: Atom, draft: Draft) -> None:
    """Add what a remark says (weight, facing, counts, times) to the atom before it."""
    if draft.facing is not None:
        atom.facings.append((draft.facing, draft.facing_at))
    if draft.at:
        atom.at = (*atom.at, *draft.at) if draft.join == "and" and atom.at and atom.at[-1] < draft.at[0] else draft.at
    if draft.counts:
        atom.counts = draft.counts
    if draft.times > 1:
        atom.choices = [times_over(c, draft.times) for c in atom.choices] + atom.choices
        atom.times = draft.times
    if draft.each:
        atom.each = True
    atom.whole = atom.whole or draft.whole
    if draft.weight and draft.weight != "?":
        atom.choices = [_weighted(c, draft.weight) for c in atom.choices]


def _weighted(slots: tuple[Slot, ...], weight: str) -> tuple[Slot, ...]:
    if not slots or not slots[-1].wants:
        return slots
    last = slots[-1]
    wants = tuple(
        w._replace(weight=weight, verb="stomp-up" if w.verb == "stomp" and weight == "no" else w.verb)
        for w in last.wants
    )
    return (*slots[:-1], Slot(wants, last.hands, last.after))
