"""The questions of ``softshoe adapt --ask``: what a dancer would rather do or leave out, in plain words, never why."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from softshoe.adapt.limits import LIMITS, abilities

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities

OPENING = (
    "A few questions about how you would like to dance. Answer y for yes; Enter is no.\n"
    "Nobody asks for a reason, and nothing is kept unless you ask for it."
)
# Questions that are settled by an answer before them.
SETTLED = {
    "chair": ("seat",),
    "left foot": ("feet", "right foot"),
    "right foot": ("feet",),
    "right hand": ("left hand",),
    "slow feet": ("feet",),
    "one leg": ("seat", "feet"),
    "turning": ("seat", "chair", "feet"),
    "overhead": ("high arms",),
    "one thing": ("feet",),
}
ORDER = (
    "seat", "chair", "feet", "left foot", "right foot", "left hand", "right hand", "turning", "high arms", "overhead",
    "crossing", "impact", "one leg", "quick", "small", "slow feet", "one thing",
)  # fmt: skip


def asked_wishes() -> tuple[Abilities, str]:
    """Ask on the terminal and return the abilities, and the wishes in plain words with commas between."""
    click.echo(OPENING)
    limits: list[str] = []
    for one in ORDER:
        if not set(SETTLED.get(one, ())) & set(limits) and click.confirm(LIMITS[one].ask, default=False):
            limits.append(one)
    given = abilities("these wishes", limits)
    words = ", ".join(LIMITS[one].say for one in limits)
    again = f'softshoe adapt SHEET --for "{words}"' if words else "softshoe adapt SHEET --to standing"
    click.echo(f"\nThank you. The same again without questions: {again}\n")
    return given, words
