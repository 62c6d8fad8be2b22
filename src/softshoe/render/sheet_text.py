"""The sheet as plain text, in words that this program's own reader reads back."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.dance.counts import Count
from softshoe.dance.facing import clock
from softshoe.dance.footwork import danced, state_after, wall_events
from softshoe.render.page import listed
from softshoe.render.phrase_words import sentence
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_notes import care_note
from softshoe.render.sheet_rows import Line, lines, rests, section_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Ending, Tag

HEIGHT = re.compile(r", (\w+ height)\b")
INDENT = "      "


def dance_text(dance: Dance) -> str:
    """Return the dance as a sheet in plain text: its head, one line for each few counts, tags, restarts, endings."""
    events = wall_events(dance)
    out = [dance.title, head_line(dance), *_promises(dance)]
    for section in dance.sections:
        rows = section_lines(dance, section, events)
        feet = " (feet rest)" if all(rests(row) for row in rows) else ""
        out += ["", f"Section {section.number}: {section_name(dance, section, events)}{feet}", *_written(rows)]
    for tag in dance.tags:
        out += ["", *_tag(dance, tag)]
    for ending in dance.endings:
        out += ["", *_ending(dance, ending)]
    return "\n".join(out) + "\n"


def care_text(dance: Dance) -> str:
    """Return the cautions as notes below a sheet in plain text."""
    return "\n" + "".join(f"Note: {words}\n" for words in care_note(dance, None).words)


def head_line(dance: Dance) -> str:
    """Return the head as one line of the trade's own words."""
    tempo = dance.tempo_bpm
    said = [
        f"{dance.counts} counts",
        f"{dance.walls} wall{'' if dance.walls == 1 else 's'}" if dance.walls else "",
        dance.level or "",
        "seated" if dance.seated else "",
        "waltz" if dance.metre == "3/4" else "",
        ""
        if tempo is None
        else (f"{tempo[0]:g} to {tempo[1]:g} bpm" if isinstance(tempo, tuple) else f"{tempo:g} bpm"),
        "" if dance.intro_counts is None else f"intro {dance.intro_counts} counts",
        "" if dance.start_weight.free is None else f"start with the {dance.start_weight.free.word} foot",
    ]
    return ", ".join(part for part in said if part)


def _written(rows: tuple[Line, ...]) -> Iterator[str]:
    """Yield each line: the feet with the arms below; where feet rest, the arms alone, since they are the dance."""
    for row in rows:
        label = row.label.replace("–", "-")
        feet = row.feet.rstrip(".")
        arms = _arms(row)
        if rests(row):
            yield f"{label:<5} {sentence(arms)}"
            continue
        yield f"{label:<5} {'hold' if feet.casefold() == 'feet still' else feet}"
        if arms:
            yield f"{INDENT}arms: {arms}"


def _arms(row: Line) -> str:
    """Return what the arms of a line do, each with its count; one thing on all its counts is told once."""
    called, words = [on for on, _ in row.arms_on], {words for _, words in row.arms_on}
    if len(words) == 1 and len(called) > 1 and called == [bead.label for bead in row.beads]:
        return f"{_arm('', words.pop())} on each count"
    return ", ".join(_arm(on, words) for on, words in row.arms_on)


def _arm(called: str, words: str) -> str:
    words = words.replace(" round each other", "")
    return HEIGHT.sub(r" at \1", words) + (f" on {called}" if called else "")


def _follows(dance: Dance, actions: tuple[Action, ...], after_count: int, facing_deg: int = 0) -> Iterator[str]:
    events = danced(actions, weight=state_after(dance, after_count)[0], facing_deg=facing_deg)
    per_line = 3 if dance.metre == "3/4" else 2
    return _written(lines(events, first=Count.at_moment(0), per_line=per_line, seated=dance.seated))


def _promises(dance: Dance) -> Iterator[str]:
    """What the head tells of tags and restarts."""
    for tag in dance.tags:
        at_end = tag.then == "start" and tag.after_count >= dance.counts
        yield f"Tag at the end of {_walls(tag.walls)}." if at_end else f"Bridge in {_walls(tag.walls)}."
    for restart in dance.restarts:
        yield f"Restart on {_walls(restart.walls)} after {restart.after_count} counts."


def _walls(walls: tuple[int, ...]) -> str:
    return f"wall{'' if len(walls) == 1 else 's'} {listed([str(w) for w in walls])}"


def _tag(dance: Dance, tag: Tag) -> Iterator[str]:
    if tag.then == "start" and tag.after_count >= dance.counts:
        yield f"TAG ({tag.counts} counts) at the end of {_walls(tag.walls)}"
    else:
        goes_on = f", then go on with count {tag.after_count + 1}" if tag.then == "continue" else ""
        yield f"BRIDGE ({tag.counts} counts) in {_walls(tag.walls)} after count {tag.after_count}{goes_on}"
    yield from _follows(dance, tag.actions, tag.after_count)


def _ending(dance: Dance, ending: Ending) -> Iterator[str]:
    wall = "the last wall" if ending.wall == "last" else f"wall {ending.wall}"
    turned = state_after(dance, ending.after_count)[1]
    starts = f", which starts at {clock(ending.start_facing_deg)}"
    yield f"ENDING: on {wall}{starts}, dance {ending.after_count} counts, then {ending.counts} counts more"
    yield from _follows(dance, ending.actions, ending.after_count, (ending.start_facing_deg + turned) % 360)
