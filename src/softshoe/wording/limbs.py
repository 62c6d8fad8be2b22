"""Lines that say whose they are: "Arms: …", "Feet 1-4: …", "Arms 1: …. Feet 1: …"."""

from __future__ import annotations

import re
from functools import lru_cache

from softshoe.wording.headings import LIMB
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.shape import shape


@lru_cache(maxsize=MOST_KEPT)
def limb_of(text: str) -> tuple[str, int]:
    """Return "arms", "feet" or "" for a line that names its limb ("arms: …"), and where its words begin."""
    found = LIMB.match(text)
    if not found:
        return "", 0
    return ("arms" if found[1] else "feet"), found.end()


def limbs_in_a_row(text: str) -> list[tuple[int, str]]:
    """Return the parts of a line that names its limbs one behind the other ("Arms 1: …. Feet 1: …"); [] for others."""
    found = list(LIMBS.finditer(text)) if text.count(":") > 1 else []
    before = text[: found[0].start("limb")] if found else ""
    if len(found) < 2 or not (COUNTED.fullmatch(before) or not before.strip(" (-–—•*")):
        return []
    cuts = [m.start("limb") for m in found]
    parts = [(a, text[a:b]) for a, b in zip(cuts, [*cuts[1:], len(text)], strict=True)]
    return sorted(parts, key=lambda part: limb_of(part[1])[0] == "arms")  # hands are laid over what the feet do


COUNTED = shape(r"\s*[(\[]?(?:counts?\s*|cts?\s*)?\d{1,3}\s*[-–]\s*\d{1,3}[)\]]?\s*[:.)]?\s*", re.IGNORECASE)
LIMBS = shape(
    r"(?:^|[.;|,/(]|\s{2}|(?<=\d)\s|(?<=\d[:.)])\s)\W*"
    r"(?P<limb>(?:arms?|hands?|fists?|fingers|palms|upper body|feet|foot(?:work)?|legs?|lower body)"
    r"(?:\s*\(both\)|,?\s+both)?"
    r"\s*(?:(?:on|counts?|cts?)?\s*\d{1,2}(?:\s*(?:-|–|&|,|to|and)\s*\d{1,2})*)?\s*:)",
    re.IGNORECASE,
)
