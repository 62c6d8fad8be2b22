"""What a header usually states: intro, tempo, level, walls, counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance


def not_stated(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """Something usual is left out: intro, tempo, level, walls or counts."""
    usual = {
        "intro": (dance.intro_counts, "how many counts go by before the first"), "tempo": (dance.tempo_bpm,
        "the tempo"),
        "level": (dance.level, "the level"), "walls": (None, "the number of walls"), "counts": (None,
        "the number of counts"),
    }  # fmt: skip
    for name, (value, words) in usual.items():
        if value is None and name not in lines:
            yield Finding(
                "note", "not-stated", None, None, f"The sheet does not say {words}.", f"Add {words} to the header."
            )
