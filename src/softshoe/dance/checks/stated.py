"""What a header usually states: intro, tempo, level, walls, counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance


def not_stated(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The header says what is usual: intro, tempo, level, walls, counts. What is left out is told in one note.

    "Kettle Stroll, 32 counts, 4 walls": neither tempo nor intro nor level.
    """
    usual = (
        ("intro", dance.intro_counts, "how many counts go by before the first"),
        ("tempo", dance.tempo_bpm, "the tempo"), ("level", dance.level, "the level"),
        ("walls", None, "the number of walls"), ("counts", None, "the number of counts"),
    )  # fmt: skip
    missing = [words for name, value, words in usual if value is None and name not in lines]
    if missing:
        listed = " and ".join(filter(None, (", ".join(missing[:-1]), missing[-1])))
        yield Finding(
            "note", "not-stated", None, None, f"The sheet does not say {listed}.", f"Add {listed} to the header."
        )
