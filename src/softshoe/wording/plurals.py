"""Words that say more than one of what is struck: "5-6 Claps", "1-4 heel taps", "thigh pats"."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.drafts import Draft
    from softshoe.wording.stage import Ready

STRUCK = frozenset(("clap", "snap", "pat", "touch", "stomp", "stomp-up", "heel", "kick", "punch"))
WORDS = ("claps", "snaps", "clicks", "pats", "slaps", "taps", "touches", "stomps", "stamps", "digs", "kicks", "punches",
         "stomp-up")  # fmt: skip


def several(draft: Draft) -> bool:
    """Return whether a clause names what is struck in the plural, and not how often."""
    told = draft.times > 1 or draft.counts or draft.at or draft.alternate or draft.amount
    at = next((i for i, t in enumerate(draft.tokens) if t.kind in DOING and t.low.endswith(WORDS)), -1)
    if draft.value not in STRUCK or told or at < 0:
        return False
    does = any(t.kind in ("foot", "footpart") for t in draft.tokens[:at])  # "the right foot kicks"
    return not does or draft.tokens[at].low.endswith(TAPS)


TAPS = ("taps", "touches")
DOING = frozenset(("gest", "verb"))


def strike_each(items: Sequence[Ready]) -> None:
    """ "5-6 Clap", "7-8 thighs": struck on either count, but among counts of which each two hold one slow movement."""
    pairs = [_of_two(one) for one in items]
    for k, one in enumerate(items):
        beside = [pairs[j] for j in (k - 1, k + 1) if 0 <= j < len(items)]
        slow = any(p is not None and (p == "feet" or p == pairs[k]) for p in beside)
        if pairs[k] in SOUNDING and not slow:
            one.atoms[0].many = True


SOUNDING = frozenset(("clap", "snap", "pat"))


def _of_two(one: Ready) -> str | None:
    """Return what is struck once on two counts, or "feet" where one movement of theirs takes both."""
    label = one.item.label
    two = label is not None and len(label.places) == 2 and all(p.denominator == 1 for p in label.places)
    if not two or label is None or label.floats or one.repeat is not None or len(one.atoms) != 1:
        return None
    atom = one.atoms[0]
    slots = atom.choices[0]
    if len(slots) != 1 or atom.times > 1 or atom.counts or atom.at or atom.on_verb:
        return None
    if atom.arms_only:
        return slots[0].hands[0].gesture if len(slots[0].hands) == 1 else None
    return None if atom.holds else "feet"
