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
    from collections.abc import Mapping

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run, RunRestart, RunTag

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


def closing_card(*, danced: bool = False) -> Card:
    """Return what comes after: the song, unless it was ``danced`` already, then the cool-down."""
    song, say = ("now with the music, slowly first",), ("Now dance it with the music, slowly first.",)
    lines = ("roll the shoulders, breathe out", "sit a while, have some water", "stand up slowly")
    spoken = (
        "Afterwards roll the shoulders, and breathe out." if not danced else "Roll the shoulders, and breathe out.",
        "Sit a while, have some water, and stand up slowly.",
    )
    if danced:
        return Card("To end with", lines, spoken)
    return Card("Now with the music", (*song, f"afterwards: {lines[0]}", *lines[1:2]), (*say, *spoken))


def rest_card() -> Card:
    """Return a rest before the song."""
    lines = ("a short rest", "have some water", "breathe out")
    return Card(
        "A rest", lines, ("Rest a while, and have some water.", "Could you talk now? Then go on when you like.")
    )


def tag_remark(tag: RunTag, words: str, cut: RunRestart | None = None, *, heard: str = "") -> tuple[str, ...]:
    """Return what is said before a tag is taught; ``cut``: the restart that cuts its wall short; ``heard``: what tells
    it by ear."""
    many = f"{number_word(tag.counts)} counts"
    dance = f"There we dance: {words}."
    by_ear = (heard,) if heard else ()
    if cut is not None:
        stops = f"Wall {number_word(cut.wall)} stops after count {number_word(cut.after_count)}."
        return stops, f"Then the song has {many} more.", dance, *by_ear, "Then begin again from the top."
    if tag.after_wall:
        return f"After wall {number_word(tag.after_wall)} the song has {many} more.", dance, *by_ear
    place = f"In wall {number_word(tag.in_wall or 1)}, after count {number_word(tag.at_count)},"
    return f"{place} come {many} more.", dance, "Then go on where you were."


def restart_card(run: Run, heard: Mapping[int, str], *, standing: bool = False) -> Card:
    """Return what is said of the run's restarts; ``heard``: what tells the cut of a wall by ear; ``standing``: how the
    foot is freed is told too."""
    tags = {tag.after_wall for tag in run.tags}
    lines, spoken = [], []
    for cut in run.restarts:
        then = ("then the tag", "dance the tag, then begin again") if cut.wall in tags else ("begin again", "")
        lines.append(f"wall {cut.wall}: stop after count {cut.after_count}, {then[0]}")
        what = then[1] or "begin again from the top"
        spoken.append(f"Wall {number_word(cut.wall)} stops after count {number_word(cut.after_count)}: {what}.")
        spoken += [heard[cut.wall]] if heard.get(cut.wall) else []
        if standing and cut.change:
            spoken.append(f"Standing, {cut.change}.")
    return Card("Restart", tuple(lines), tuple(spoken))
