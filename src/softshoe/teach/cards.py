"""The words of the cards and remarks around a walkthrough: short sentences, each no longer than a caption.

Rules kept: no promise of benefit, no "easy" or "just", what to do rather than what to avoid; the stop words are those
of the cautions table, and the person's own clinician comes first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.adapt.cautions import cautions
from softshoe.teach.words import number_word

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run, RunTag

STOP = "stop_signs"
WALLS = {1: "always facing the front", 2: "two walls", 4: "four walls"}


@dataclass(frozen=True, slots=True)
class Card:
    """A card: its title, the lines written on it, the sentences spoken meanwhile."""

    title: str
    lines: tuple[str, ...]
    spoken: tuple[str, ...]


def title_card(dance: Dance, run: Run, *, counts_per_min: float) -> Card:
    """Return the name, the length, where it starts."""
    walls = WALLS.get(dance.walls or 1, "")
    length = f"{dance.counts} counts, {walls}".removesuffix(", ")
    start = f"starts after {run.start.intro_counts} counts"
    spoken = (
        f"{dance.title}.",
        f"{number_word(dance.counts).capitalize()} counts, {walls}.".replace(", .", "."),
        f"The dance starts after {number_word(run.start.intro_counts)} counts of music.",
    )
    return Card(dance.title, (length, start, f"about {counts_per_min:.0f} counts a minute"), spoken)


def chair_card() -> Card:
    """Return the check of chair and floor."""
    lines = ("a firm chair without wheels, on a dry, level floor", "feet flat, sit well back", "room to both sides")
    spoken = (
        "First the chair: firm, without wheels, on a dry and level floor.",
        "Sit well back, both feet flat. Put bags and sticks behind you.",
        "Look for one metre of room in front and to both sides.",
        "If you stand: firm shoes, clear floor, and a chair back within reach.",
    )
    return Card("Chair and floor", lines, spoken)


def care_lines(*, seated: bool) -> tuple[str, ...]:
    """Return the usual cautions as the lines of a title card that nobody reads aloud."""
    place = "a firm chair without wheels, on a dry, level floor" if seated else "a dry, level floor, firm shoes"
    return place, f"stop and get help: {cautions()[STOP].watch}", "your own doctor or therapist comes first"


def stop_card() -> Card:
    """Return the stop words, as the cautions table has them, and whom to ask."""
    signs = cautions()[STOP].watch.split(", ")
    half = (len(signs) + 1) // 2
    spoken = (
        "Work within comfort.",
        f"Stop if there is {', '.join(signs[:half])},",
        f"{', '.join(signs[half:-1])}, {signs[-1]}.".lstrip(", "),
        "Then stop at once, and get help.",
        "What your own doctor or therapist has told you comes first.",
        "Seated or standing: choose for yourself, and change at any time.",
    )
    return Card("When to stop", (*signs, "stop and get help"), spoken)


def closing_card() -> Card:
    """Return what comes after: the song, then the cool-down."""
    lines = (
        "now with the music, slowly first",
        "afterwards: roll the shoulders, breathe out",
        "sit a while, have some water",
    )
    spoken = (
        "Now dance it with the music, slowly first.",
        "Afterwards roll the shoulders, and breathe out.",
        "Sit a while, have some water, and stand up slowly.",
    )
    return Card("Now with the music", lines, spoken)


def tag_remark(tag: RunTag, words: str) -> tuple[str, ...]:
    """Return what is said before a tag is taught."""
    where = (
        f"after wall {number_word(tag.after_wall)}" if tag.after_wall else f"in wall {number_word(tag.in_wall or 1)}"
    )
    return (f"{where.capitalize()} the song has {number_word(tag.counts)} counts more.", f"There we dance: {words}.")


def restart_card(run: Run) -> Card:
    """Return what is said of the run's restarts."""
    lines = tuple(f"wall {r.wall}: stop after count {r.after_count}, begin again" for r in run.restarts)
    spoken = tuple(
        f"Wall {number_word(r.wall)} stops after count {number_word(r.after_count)}: begin again from the top."
        for r in run.restarts
    )
    return Card("Restart", lines, spoken)
