"""Slips of the counts: a line lost or doubled, an "&" forgotten, a section or a tag too short, a number wrong."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from .pool import COPIES, LABEL, Sheet, Slip

if TYPE_CHECKING:
    from collections.abc import Iterator


def labelled(sheet: Sheet) -> list[int]:
    """The lines of the wall that begin with counts and hold the steps of those counts alone."""
    out = []
    for number, done in sorted(sheet.on_line.items()):
        label = LABEL.match(sheet.lines[number - 1])
        wholes = {e.action.at.whole for e, _ in done}
        section = sheet.dance.section_at(done[0][0].action.at)
        if label is None or section is None or section.line == number:
            continue
        first = int(label[1])
        starts = (min(wholes), min(wholes) - int(section.start.at) + 1)
        if first in starts:
            out.append(number)
    return out


def sections_of(sheet: Sheet) -> list[list[int]]:
    """The labelled lines of each section."""
    lines = labelled(sheet)
    out = []
    for section in sheet.dance.sections:
        within = [
            n for n in lines
            if section.start.at <= sheet.on_line[n][0][0].action.at.at < (section.start + section.length).at
        ]  # fmt: skip
        out.append(within)
    return out


def plain_sections(sheet: Sheet) -> Iterator[list[int]]:
    """Sections whose lines stand one under the other, all labelled, none copying."""
    if sheet.columns:
        return
    for lines in sections_of(sheet):
        if len(lines) > 2 and not any(COPIES.search(sheet.lines[n - 1]) for n in lines):
            yield lines


def later_copies(sheet: Sheet, number: int) -> bool:
    """Whether a line from here on copies others."""
    return any(COPIES.search(line) for line in sheet.lines[number - 1 :])


def a_line_lost(sheet: Sheet) -> Iterator[Slip]:
    """A line in the middle of a section is left out."""
    for lines in plain_sections(sheet):
        for number in lines[1:-1]:
            if not later_copies(sheet, number) and number + 1 in lines:
                yield Slip(sheet.name, "line lost", "count-missing", sheet.with_line(number, None), number)


def a_line_twice(sheet: Sheet) -> Iterator[Slip]:
    """A line is written twice."""
    for lines in plain_sections(sheet):
        for number in lines[:-1]:
            if not later_copies(sheet, number):
                text = sheet.with_after(number, sheet.lines[number - 1])
                yield Slip(sheet.name, "line twice", "count-twice", text, number + 1)


def a_count_number_twice(sheet: Sheet) -> Iterator[Slip]:
    """A single count bears the number of the one before."""
    for lines in plain_sections(sheet):
        for before, number in pairwise(lines):
            one, two = LABEL.match(sheet.lines[before - 1]), LABEL.match(sheet.lines[number - 1])
            feet = any(e.action.foot for e, _ in sheet.on_line[number]) and any(
                e.action.foot for e, _ in sheet.on_line[before]
            )  # hands alone may share a count with feet
            if (
                one
                and two
                and feet
                and not two[2]
                and int(two[1]) - int(one[2] or one[1]) == 1
                and not later_copies(sheet, number)
            ):
                line = sheet.lines[number - 1]
                new = line[: two.start(1)] + str(int(two[1]) - 1) + line[two.end(1) :]
                yield Slip(sheet.name, "number twice", "count-twice", sheet.with_line(number, new), number,
                           also=frozenset({"count-missing"}))  # fmt: skip


def an_and_forgotten(sheet: Sheet) -> Iterator[Slip]:
    """Three steps stand on two counts: the "&" is forgotten."""
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        at = re.match(r"[\W]*(?:counts? )?(\d+) ?(&|\+|a) ?(\d+)(?!&)", line, re.I)
        if at and len(re.findall(r"\d ?(?:&|\+|a) ?\d", line)) == 1 and not COPIES.search(line):
            wholes = {e.action.at.at for e, _ in done if int(at[1]) % 8 == e.action.at.whole % 8}
            if len(wholes) == 2:
                new = line[: at.start(1)] + f"{at[1]}-{at[3]}" + line[at.end() :]
                yield Slip(sheet.name, "& forgotten", "steps-per-count", sheet.with_line(number, new), number)


LASTING = re.compile(r"hold|drag|slide|clap|and|&|snap", re.I)


def an_and_too_many(sheet: Sheet) -> Iterator[Slip]:
    """Two steps are given three moments."""
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        at = re.match(r"^(\s*)(\d+)(?:-| - |, ?)(\d+)(?=[\s:|])", line)
        feet = [e for e, _ in done if e.action.foot is not None]
        two = at and int(at[3]) - int(at[2]) == 1 and len(done) == len(feet) == 2 and not COPIES.search(line)
        steps = re.search(r"\b(?:walk|step)\b", line, re.I) and not LASTING.search(line)
        if at and two and steps:
            new = f"{at[1]}{at[2]}&{at[3]}{line[at.end() :]}"
            yield Slip(sheet.name, "& too many", "steps-per-count", sheet.with_line(number, new), number)


FEET = re.compile(r"\b(right|left|R|L)(, ?)(right|left|R|L)(, ?)(right|left|R|L)\b(?!,? ?(?:right|left|R|L)\b)", re.I)


def a_step_too_few_or_many(sheet: Sheet) -> Iterator[Slip]:
    """A row of feet has one less, or one more, than its counts."""
    for number in sheet.on_line:
        line = sheet.lines[number - 1]
        rows = list(FEET.finditer(line))
        if len(rows) != 1 or not re.search(r"walk|march|run|shuffle|triple", line, re.I) or COPIES.search(line):
            continue
        at = rows[0]
        if not re.match(r"\W*(?:\(.*\))?\W*$", line[at.end() :]):
            continue
        less = line[: at.end(3)] + line[at.end() :]
        more = line[: at.end()] + at[4] + at[3] + line[at.end() :]
        yield Slip(sheet.name, "step too few", "steps-per-count", sheet.with_line(number, less), number)
        yield Slip(sheet.name, "step too many", "steps-per-count", sheet.with_line(number, more), number)


def headed(sheet: Sheet) -> list[int]:
    """The heading lines of the sections, where each has one of its own."""
    lines = [s.line for s in sheet.dance.sections]
    return lines if all(s.title or not LABEL.match(sheet.lines[s.line - 1]) for s in sheet.dance.sections) else []


def a_section_too_short(sheet: Sheet) -> Iterator[Slip]:
    """The last line of a section is left out."""
    if not headed(sheet):
        return
    for section, lines in zip(sheet.dance.sections, sections_of(sheet), strict=True):
        if (
            len(lines) < 3
            or sheet.columns
            or any(COPIES.search(sheet.lines[n - 1]) for n in lines)
            or later_copies(sheet, lines[-1])
        ):
            continue
        last = sheet.on_line[lines[-1]][-1][0].action.at.whole
        if last == int((section.start + section.length).at) - 1 and lines[-1] in sheet.on_line:
            text = sheet.with_line(lines[-1], None)
            yield Slip(sheet.name, "section short", "section-length", text, lines[-1] - 1)


def a_section_too_long(sheet: Sheet) -> Iterator[Slip]:
    """Two counts more stand at the end of a section."""
    if not headed(sheet):
        return
    for lines in list(plain_sections(sheet))[:-1]:
        number = lines[-1]
        label = LABEL.match(sheet.lines[number - 1])
        if label and int(label[2] or label[1]) == sheet.dance.counts_per_section:
            line = sheet.lines[number - 1]
            pre, rest = line[: label.start(1)], line[label.end() :]
            gap = rest[: len(rest) - len(rest.lstrip(" :.|)"))]
            last = sheet.dance.counts_per_section
            text = sheet.with_after(number, f"{pre}{last + 1}-{last + 2}{gap or ' '}Clap, clap")
            heading = max(s.line for s in sheet.dance.sections if s.line <= number)
            yield Slip(sheet.name, "section long", "section-length", text, number + 1, or_lines=(heading,))


def a_wrong_total(sheet: Sheet) -> Iterator[Slip]:
    """The header states other counts than the sections have."""
    counts = sheet.dance.counts
    place = re.compile(rf"\b{counts}(?=[ -]*(?:counts?|cts?|c)\b)|(?<=counts: ){counts}\b|(?<=count: ){counts}\b|"
                       rf"(?<=count ){counts}\b|(?<=length: ){counts}\b", re.I)  # fmt: skip
    for number in range(1, sheet.first_steps):
        line = sheet.lines[number - 1]
        found = [
            at
            for at in place.finditer(line)
            if not re.search(r"intro|start|after|wait|in\b", line[max(0, at.start() - 12) : at.start()], re.I)
            and not re.match(r"[ -]*(?:counts?|cts?|c)[ -]*(?:intro|in\b)", line[at.end() :], re.I)
        ]
        if found:
            for wrong in {48 if counts != 48 else 32, 64 if counts < 40 else 24}:
                new = line[: found[0].start()] + str(wrong) + line[found[0].end() :]
                yield Slip(sheet.name, "wrong total", "total", sheet.with_line(number, new), number)
            return


WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
ORDER = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII")


def a_section_number_wrong(sheet: Sheet) -> Iterator[Slip]:
    """A section bears the number or letter of the one before it."""
    unit = sheet.dance.counts_per_section
    if sheet.columns:
        return
    for k, section in enumerate(sheet.dance.sections[1:], 1):
        line = sheet.lines[section.line - 1]
        span = re.search(rf"\b{k * unit + 1} ?(?:-|to) ?{k * unit + unit}\b", line[:30])
        if section.line < 2 or line == sheet.lines[sheet.dance.sections[0].line - 1]:
            continue
        forms = [(str(k + 1), str(k)), (WORDS[k % 8], WORDS[k % 8 - 1]), (ORDER[k % 8], ORDER[k % 8 - 1]),
                 (ROMAN[k % 8], ROMAN[k % 8 - 1]), ("ABCDEFGH"[k % 8], "ABCDEFGH"[k % 8 - 1])]  # fmt: skip
        for now, before in forms:
            at = re.match(rf"^([\W_]*(?:section|sec|s|part|block|eight)?[ #]*)({now})(?=[\s:.)\]]|$)", line, re.I)
            if at and not (span and now.isdigit()) and not re.match(r"^\W*\d+ ?-", line):
                word = before.upper() if at[2].isupper() else before.capitalize() if at[2][0].isupper() else before
                text = sheet.with_line(section.line, line[: at.start(2)] + word + line[at.end(2) :])
                yield Slip(sheet.name, "section number", "section-number", text, section.line)
                break
        if span and re.match(r"^(?:[\[(]|.*\bcounts )\d+", line) and headed(sheet) and not LABEL_LIKE.match(line):
            new = line[: span.start()] + f"{(k - 1) * unit + 1}-{k * unit}" + line[span.end() :]
            yield Slip(sheet.name, "section counts", "section-number", sheet.with_line(section.line, new), section.line)


LABEL_LIKE = re.compile(r"^\d+-\d+[ :]+(?:R|L|right|left|step|walk|rock)\b", re.I)
WAYS = (
    a_line_lost, a_line_twice, a_count_number_twice, an_and_forgotten, an_and_too_many, a_step_too_few_or_many,
    a_section_too_short, a_section_too_long, a_wrong_total, a_section_number_wrong,
)  # fmt: skip
