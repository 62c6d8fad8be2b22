"""A dance written as a sheet again, in a style and a language, so that it reads back to an equal dance.

What a good author would fold is folded (halves, sections, walks, named patterns) and the sheet is then read again:
what did not come back equal is written out plainly. Words come from ``data/wording/writing_en.csv`` and its like.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.dance.footwork import state_after
from softshoe.errors import SettingError, WordingError
from softshoe.wording.read import read
from softshoe.wording.retold import by_rules_alone
from softshoe.wording.tongue import LANGUAGES
from softshoe.wording.write_book import STYLES, Book, book
from softshoe.wording.write_check import wrong_folds
from softshoe.wording.write_head import ending_line, header, heading, notes, restart_line, tag_line
from softshoe.wording.write_stretch import Stretch, stretches_of
from softshoe.wording.write_units import Planner
from softshoe.wording.write_words import dropped_moments, plain_moments, reached_moments

if TYPE_CHECKING:
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance
    from softshoe.wording.write_units import Key, Unit

MOST_TRIES = 40


def write(dance: Dance, *, style: str = "short", language: str = "en") -> str:
    """Return the dance as a sheet in a style of ``STYLES`` and a language of ``LANGUAGES``.

    Raises SettingError for a style or a language that is not there.
    """
    _known("style", style, tuple(STYLES))
    _known("language", language, tuple(LANGUAGES))
    words = book(language, style)
    banned: set[Key] = set()
    for _ in range(MOST_TRIES):
        cut = _cut(dance, words, banned)
        text = _text(dance, words, cut)
        if all(unit.kind == "one" for _, units in cut for unit in units):
            return text
        wrong = wrong_folds(dance, _again(text, language), cut)
        if not wrong:
            return text
        banned |= wrong
    return text


def _again(text: str, language: str) -> Dance | None:
    """Return the sheet read again; None where no step is found in it, as when nothing moves."""
    try:
        with by_rules_alone():
            return read(text, language=language)
    except WordingError:
        return None


def _known(what: str, said: str, there: tuple[str, ...]) -> None:
    if said not in there:
        raise SettingError(what, f"there is no {what} “{said}”", f"sheets are written in a few {what}s only",
                           f"choose one of {', '.join(there)}")  # fmt: skip


def _cut(dance: Dance, words: Book, banned: set[Key]) -> list[tuple[Stretch, list[Unit]]]:
    """Return the sections, tags and endings with their units."""
    half = 3 if dance.counts_per_section == 6 else 4
    plain = plain_moments(dance.actions, dance.start_weight)
    return [
        (stretch, Planner(stretch, _in_its_place(words, dance, stretch, plain), banned, half=half).units())
        for stretch in stretches_of(dance)
    ]


def _in_its_place(words: Book, dance: Dance, stretch: Stretch, plain: frozenset[Count]) -> Book:
    danced = tuple(stretch.actions(1, stretch.counts))
    reached, dropped = reached_moments(danced), dropped_moments(danced)
    return replace(words, plain=_plain(dance, stretch, plain), reached=reached, dropped=dropped)


def _plain(dance: Dance, stretch: Stretch, plain: frozenset[Count]) -> frozenset[Count]:
    """Return the moments of a stretch at which footwork leaves one foot for a pivot or a spin."""
    kind, number = stretch.name.split()
    if kind == "section":
        return plain
    extras = dance.tags if kind == "tag" else dance.endings
    extra = extras[int(number) - 1]
    return plain_moments(extra.actions, state_after(dance, extra.after_count)[0])


def _text(dance: Dance, words: Book, cut: list[tuple[Stretch, list[Unit]]]) -> str:
    """Return the sheet with these units."""
    lines = header(dance, words)
    if words.style.name == "table":
        lines += ["", words.say("table", "")]
    tops = [f"\n{heading(section, words)}" for section in dance.sections]
    tops += [f"\n{tag_line(tag, words)}" for tag in dance.tags]
    tops += [f"\n{ending_line(ending, words)}" for ending in dance.endings]
    for i, (top, (_, units)) in enumerate(zip(tops, cut, strict=True)):
        if i == len(dance.sections):
            lines += _restarts(dance, words)
        lines.append(top)
        for unit in units:
            lines += _row(unit, words)
    if len(tops) == len(dance.sections):
        lines += _restarts(dance, words)
    kept = notes(dance)
    lines += ["", *kept] if kept else []
    return "\n".join(lines) + "\n"


def _restarts(dance: Dance, words: Book) -> list[str]:
    lines = [restart_line(restart, words) for restart in dance.restarts]
    return ["", *lines] if lines else []


def _row(unit: Unit, words: Book) -> list[str]:
    said = unit.words.upper() if words.style.name == "large" else unit.words
    arms = unit.arms if words.style.name == "table" else ""
    rows = [words.style.row.format(count=unit.label, words=said, arms=arms)]
    if unit.arms and not arms:
        rows.append(f"    {unit.arms}")
    return [*rows, *(words.style.row.format(count=unit.first, words=over, arms="") for over in unit.over)]
