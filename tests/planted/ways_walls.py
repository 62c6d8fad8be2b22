"""Slips of turns, walls, tags, restarts and of what the header promises or leaves out."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.dance.footwork import state_after

from .pool import Sheet, Slip
from .ways_feet import flip, lead_foot

if TYPE_CHECKING:
    from collections.abc import Iterator

CLOCK = re.compile(r"(?<![\d:])(12|3|6|9)(?=:00|h\b| ?o'?’?clock| o'c)")
NEXT = {"12": "3", "3": "6", "6": "9", "9": "12"}
SWORN = re.compile(r"\bno (?:tags?|restarts?)|tag|restart|bridge|ending|finish", re.I)


def a_wrong_clock(sheet: Sheet) -> Iterator[Slip]:
    """A facing mark is a quarter off."""
    for number in sheet.on_line:
        line = sheet.lines[number - 1]
        marks = list(CLOCK.finditer(line))
        if len(marks) == 1:
            at = marks[0]
            new = line[: at.start()] + NEXT[at[1]] + line[at.end() :]
            yield Slip(sheet.name, "wrong clock", "facing", sheet.with_line(number, new), number)


QUARTER = re.compile(r"(?:1/4|¼|quarter)(?: turn| pivot)?(?: to the)? (left|right|L|R)\b", re.I)


def a_turn_the_other_way(sheet: Sheet) -> Iterator[Slip]:
    """A quarter turn goes the other way, and the facing behind it tells."""
    for number in sheet.on_line:
        line = sheet.lines[number - 1]
        turns = list(QUARTER.finditer(line))
        if (
            len(turns) == 1
            and CLOCK.search(line)
            and not re.search(r"vine|jazz|sailor|monterey|pivot|paddle", line, re.I)
        ):
            yield Slip(sheet.name, "other way", "facing", sheet.with_line(number, flip(line, turns[0])), number)


def a_turn_too_far(sheet: Sheet) -> Iterator[Slip]:
    """A quarter is written for a half, or a half for a quarter."""
    for number in sheet.on_line:
        line = sheet.lines[number - 1]
        turns = list(re.finditer(r"1/4|¼|quarter|1/2|½|half", line, re.I))
        if len(turns) == 1 and len(CLOCK.findall(line)) == 1:
            old = turns[0][0]
            swap = {"1/4": "1/2", "1/2": "1/4", "¼": "½", "½": "¼", "quarter": "half", "half": "quarter"}
            word = swap[old.casefold()]
            word = word.upper() if old.isupper() else word.capitalize() if old[0].isupper() else word
            new = line[: turns[0].start()] + word + line[turns[0].end() :]
            yield Slip(sheet.name, "too far", "facing", sheet.with_line(number, new), number)


NUMBERS = {"one": 1, "two": 2, "four": 4, "single": 1}


def a_wrong_number_of_walls(sheet: Sheet) -> Iterator[Slip]:
    """The header states other walls than the turns make."""
    place = re.compile(r"\b(1|2|4|one|two|four)(?=[ -]*(?:walls?|wl|w)\b)|(?<=walls: )(\d)|(?<=wall: )(\d)", re.I)
    for number in range(1, sheet.first_steps):
        line = sheet.lines[number - 1]
        found = [
            at for at in place.finditer(line) if not re.search(r"after|on|tag|restart", line[: at.start()][-8:], re.I)
        ]
        if len(found) == 1 and sheet.dance.walls is not None:
            for wrong in {1, 2, 4} - {sheet.dance.walls}:
                old = found[0][0]
                word = str(wrong) if old.isdigit() else {1: "one", 2: "two", 4: "four"}[wrong]
                word = word.upper() if old.isupper() and not old.isdigit() else word
                new = line[: found[0].start()] + word + line[found[0].end() :]
                yield Slip(sheet.name, "wrong walls", "walls", sheet.with_line(number, new), number)
            return


TAG_COUNTS = re.compile(r"\b(\d+)(?=[ -]*(?:counts?|cts?)\b)", re.I)
TAG_HEADS = (
    "Tag after wall 2 ({n} counts)", "TAG: {n} counts, at the end of wall 3", "Tag ({n} counts): danced after wall 2",
    "{n} count tag, end of walls 2 and 4",
)  # fmt: skip


def sways(sheet: Sheet, *, names: bool) -> str:
    """Four sways that leave the leading foot free."""
    one, two = ("R", "L") if lead_foot(sheet) == "R" else ("L", "R")
    words = {"R": "right", "L": "left"}
    return (
        f"1-4 Sway {words[one]}, {words[two]}, {words[one]}, {words[two]}"
        if names
        else f"1-4 Sway {one}, {two}, {one}, {two}"
    )


def simple(sheet: Sheet) -> bool:
    """A standing sheet that speaks of no tags yet, whose leading foot is known."""
    return (
        not sheet.columns and not sheet.dance.seated and not SWORN.search(sheet.text) and lead_foot(sheet) in ("R", "L")
    )


def a_tag_of_other_length(sheet: Sheet) -> Iterator[Slip]:
    """A tag's heading states more, or fewer, counts than its steps fill."""
    number_of = len(sheet.lines)
    for tag in sheet.dance.tags:
        line = sheet.lines[tag.line - 1]
        found = [at for at in TAG_COUNTS.finditer(line) if int(at[1]) == tag.counts]
        if len(found) == 1 and tag.line > sheet.body_end:
            for wrong in (tag.counts * 2, tag.counts + 2):
                new = line[: found[0].start()] + str(wrong) + line[found[0].end() :]
                yield Slip(sheet.name, "tag length", "tag-length", sheet.with_line(tag.line, new), tag.line)
    if simple(sheet):
        head = TAG_HEADS[number_of % 4]
        for wrong in (8, 2):
            text = sheet.with_end(f"{head.format(n=wrong)}\n{sways(sheet, names=number_of % 2 == 0)}")
            yield Slip(sheet.name, "tag added", "tag-length", text, len(sheet.text.rstrip().split("\n")) + 1)


def a_tag_that_ends_wrong(sheet: Sheet) -> Iterator[Slip]:
    """A tag leaves the leading foot bearing."""
    if simple(sheet):
        lead = "right" if lead_foot(sheet) == "R" else "left"
        other = "left" if lead == "right" else "right"
        end = state_after(sheet.dance, sheet.dance.counts)[0]
        if end.value in ("L", "R") and end.value != lead_foot(sheet):
            head = TAG_HEADS[len(sheet.lines) % 4].format(n=2)
            text = sheet.with_end(f"{head}\n1-2 Step {lead} forward, touch {other} beside {lead}")
            yield Slip(sheet.name, "tag ends wrong", "free-foot", text, len(sheet.text.rstrip().split("\n")) + 2)


RESTARTS = ("Restart: wall 3 after {n} counts", "Restart on wall 5 after {n} counts", "Wall 4: restart after count {n}")


def a_restart_on_the_wrong_foot(sheet: Sheet) -> Iterator[Slip]:
    """A restart comes where the leading foot bears."""
    if not simple(sheet):
        return
    lead = lead_foot(sheet)
    wrong = [n for n in range(4, sheet.dance.counts) if state_after(sheet.dance, n)[0].value == lead and n % 2 == 0]
    for n in wrong[:2]:
        words = RESTARTS[(n + len(sheet.lines)) % 3].format(n=n)
        line = len(sheet.text.rstrip().split("\n")) + 1
        yield Slip(sheet.name, "restart below", "free-foot", sheet.with_end(words), line)
        yield Slip(
            sheet.name, "restart above", "free-foot", sheet.with_after(sheet.first_steps - 1, words), sheet.first_steps
        )


def a_place_that_is_not(sheet: Sheet) -> Iterator[Slip]:
    """A restart, tag or ending is placed at a count that the dance hasn't."""
    if not simple(sheet):
        return
    beyond = sheet.dance.counts + 8
    line = len(sheet.text.rstrip().split("\n")) + 1
    words = RESTARTS[len(sheet.lines) % 3].format(n=beyond)
    yield Slip(sheet.name, "restart beyond", "place", sheet.with_end(words), line)
    yield Slip(
        sheet.name, "restart beyond above", "place", sheet.with_after(sheet.first_steps - 1, words), sheet.first_steps
    )
    tag = f"Tag on wall 2 after count {beyond} (4 counts)\n{sways(sheet, names=True)}"
    yield Slip(sheet.name, "tag beyond", "place", sheet.with_end(tag), line)


PROMISES = (
    "Tag after wall 2, see below.",
    "Restart on wall 3.",
    "One tag, 4 counts, after wall 3.",
    "One restart, on wall 5.",
)


def a_promise_not_kept(sheet: Sheet) -> Iterator[Slip]:
    """The header tells a tag or restart that is nowhere."""
    if not SWORN.search(sheet.text) and sheet.first_steps > 2:
        words = PROMISES[len(sheet.text) % 4]
        text = sheet.with_after(sheet.first_steps - 1, words)
        yield Slip(sheet.name, "promise", "promise", text, sheet.first_steps)


def a_tag_denied(sheet: Sheet) -> Iterator[Slip]:
    """The header says that there are no tags, and one follows."""
    if simple(sheet) and sheet.first_steps > 2:
        words = ("No tags, no restarts", "No tags", "No restarts, no tags.", "There are no tags.")[len(sheet.text) % 4]
        text = sheet.with_after(2, words)
        text = text.rstrip("\n") + f"\nTag after wall 2 (4 counts)\n{sways(sheet, names=True)}\n"
        yield Slip(sheet.name, "denied", "promise", text, 3)


def a_wall_not_said(sheet: Sheet) -> Iterator[Slip]:
    """A tag or a restart does not say on which wall it comes."""
    if not simple(sheet) or sheet.dance.counts < 24:
        return
    line = len(sheet.text.rstrip().split("\n")) + 1
    if len(sheet.text) % 2:
        text = sheet.with_end(f"TAG - 4 counts\n{sways(sheet, names=True)}")
        yield Slip(sheet.name, "tag without wall", "ambiguous", text, line, "warning")
    free = [n for n in (16, 8, 24) if state_after(sheet.dance, n)[0].value not in ("both", lead_foot(sheet))]
    if free:
        text = sheet.with_end(f"Restart after {free[0]} counts")
        yield Slip(sheet.name, "restart without wall", "ambiguous", text, line, "warning")


def a_tag_gone(sheet: Sheet) -> Iterator[Slip]:
    """The header tells a tag whose steps are taken out of the sheet."""
    for tag in sheet.dance.tags:
        told = [n for n in range(1, sheet.first_steps) if re.search(r"\btag", sheet.lines[n - 1], re.I)]
        steps = [a.line for a in tag.actions]
        if told and tag.line > sheet.body_end and len(sheet.dance.tags) == 1:
            lines = [line for n, line in enumerate(sheet.lines, 1) if not tag.line <= n <= max(steps)]
            yield Slip(sheet.name, "tag gone", "promise", "\n".join(lines), told[0])


LEFT_OUT = {
    "intro": r"[,.;|/•-]*\s*\(?(?:intro(?:duction)?:? *\(?(?:of )?\d+ *(?:counts?|cts?|c)?\)?|"
    r"\d+[ -]*(?:counts?|ct|c)[ -]*intro|start after \d+(?: counts?)?)\)?",
    "tempo": r"[,.;|/•-]*\s*(?:tempo:? *|about *)?\d+ ?bpm",
    "level": r"[,.;|/•-]*\s*(?:absolute beginner|beginner|improver|intermediate|advanced)\b",
    "walls": r"[,.;|/•-]*\s*(?:\d|one|two|four)[ -]walls?\b",
}
SAYS = {"intro": "how many counts", "tempo": "tempo", "level": "level", "walls": "number of walls"}


def something_not_stated(sheet: Sheet) -> Iterator[Slip]:
    """The intro, the tempo, the level or the walls are left out of the header."""
    head = "\n".join(sheet.lines[: sheet.first_steps - 1])
    rest = "\n".join(sheet.lines[sheet.first_steps - 1 :])
    for what, pattern in LEFT_OUT.items():
        places = list(re.finditer(pattern, head, re.I))
        others = (
            re.search(
                what.rstrip("s") if what != "tempo" else "tempo|beats",
                head[: places[0].start()] + head[places[0].end() :],
                re.I,
            )
            if places
            else True
        )
        said = any(f.kind == "not-stated" and SAYS[what] in f.message for f in sheet.dance.findings)
        if len(places) == 1 and not others and not said and places[0].start() > len(sheet.lines[0]):
            text = head[: places[0].start()] + head[places[0].end() :] + "\n" + rest
            yield Slip(sheet.name, f"no {what}", "not-stated", text, None, "note")


WAYS = (
    a_wrong_clock, a_turn_the_other_way, a_turn_too_far, a_wrong_number_of_walls, a_tag_of_other_length,
    a_tag_that_ends_wrong, a_restart_on_the_wrong_foot, a_place_that_is_not, a_promise_not_kept, a_tag_denied,
    a_wall_not_said, a_tag_gone, something_not_stated,
)  # fmt: skip
