"""A sheet with some of its words put otherwise; every word of what is read keeps its place in the sheet itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.tongue import Heard

if TYPE_CHECKING:
    from collections.abc import Sequence


class Edit(NamedTuple):
    """Words that stand instead of a stretch of the sheet."""

    start: int
    end: int
    words: str


def respelled(text: str, edits: Sequence[Edit]) -> Heard:
    """Return the sheet with the edits made, in order; they must not overlap."""
    if not edits:
        return Heard(text, text, "en")
    out: list[str] = []
    joints: list[tuple[int, int]] = [(0, 0)]
    at = length = 0
    for edit in sorted(edits):
        before = text[at : edit.start]
        out += [before, edit.words]
        length += len(before)
        joints.append((length, edit.start))
        length += len(edit.words)
        joints.append((length, edit.end))
        at = edit.end
    out.append(text[at:])
    joints.append((length + len(text) - at, len(text)))
    return Heard(text, "".join(out), "en", tuple(joints))
