"""A sheet with some of its words put otherwise; every word of what is read keeps its place in the sheet itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.tongue import Heard

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.wording.referring import Edit


def respelled(text: str, edits: Iterable[Edit]) -> Heard:
    """Return the sheet with the edits made, in order; they must not overlap."""
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
