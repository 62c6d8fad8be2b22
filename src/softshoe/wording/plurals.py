"""Words that say more than one of what is struck: "5-6 Claps", "1-4 heel taps", "thigh pats"."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

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
