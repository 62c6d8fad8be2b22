"""A step sheet read: text in, dance out, whatever its style; what is wrong or unclear stands in its findings.

How it is read once: read_once; the ways in which it may be meant: read_ways.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.dance import Dance
from softshoe.dance.feet import Weight
from softshoe.errors import Finding, WordingError
from softshoe.wording.header import head_of
from softshoe.wording.lines import lines_of
from softshoe.wording.otherwise import told_otherwise
from softshoe.wording.outlined import AS_SORTED, metre_of
from softshoe.wording.read_once import by_rules, heard_twice, level_of
from softshoe.wording.read_ways import by_kinds, by_paragraphs, by_whole, for_the_author, laid_otherwise, plainly
from softshoe.wording.respelled import respelled
from softshoe.wording.retold import retelling
from softshoe.wording.tongue import heard
from softshoe.wording.unread import LONGEST_SHEET, all_lines
from softshoe.wording.whole_ask import Way
from softshoe.wording.whole_weigh import agreed, told_whole

if TYPE_CHECKING:
    from collections.abc import Container

    from softshoe.wording.reading import Reading

OF_THE_WHOLE = ("free-foot", "walls", "facing", "level")  # told of the dance, however its lines are cut
NO_DANCE = "No steps could be found in this text."


def read(text: str, *, language: str = "") -> Dance:
    """Read a sheet in a language ("en", "de", "fr", "es"; "" for the one it seems to be in).

    Raises WordingError only where no step can be found at all, SettingError for a language that is not there.

    >>> read("Tiny\\n1-2 Step right forward, step left together").counts
    2
    """
    return reading(text, language=language).dance


def reading(text: str, *, language: str = "") -> Reading:
    """Read a sheet and keep the account of its words. Raises as ``read`` does.

    >>> sheet = reading("Tiny\\n1-2 Step right forward, step left together")
    >>> [(piece.role, sheet.account.words(piece)) for piece in sheet.account.pieces][:3]
    [('title', 'Tiny'), ('count', '1-2'), ('event', 'Step right forward,')]
    """
    words = heard(text, language)
    spelled = respelled(words.english, told_otherwise(words.english) if not words.joints else ())
    laid = (spelled, *(laid_otherwise(spelled.english) if not words.joints else ()))
    now = laid[-1].english
    plain = plainly(now) if not words.joints else respelled(now, ())
    found = rules = by_rules(plain.english)
    way = told_whole(words.english, found) if not words.joints else Way()
    if retelling() and not agreed(found, way.parts):
        found = found and heard_twice(plain.english, found, AS_SORTED)
        if not words.joints and _amiss(found):
            plain, found = by_kinds(now, plain, found)
    if not words.joints and not for_the_author(found) and _amiss(found, but=OF_THE_WHOLE):
        plain, found = by_paragraphs(now, plain, found)
    for step in (plain, *reversed(laid)):
        found = found and step.back(found)
    found = by_whole(words.english, found, way, rules)
    if found is None:
        raise WordingError("the sheet", "no steps could be found", "no line names a count and a step",
                           "write one line a step, with its count before it: “1 step right forward”")  # fmt: skip
    return words.back(found)


def _amiss(found: Reading | None, but: Container[str] = ()) -> bool:
    """Return whether something is told of a reading but notes, what is left unread, and these kinds."""
    return found is None or any(
        f.severity != "note" and f.kind != "unread" and f.kind not in but for f in found.dance.findings
    )


def empty(text: str) -> Dance:
    """Return a dance without steps for a text that holds none, with the finding that says so; all lines are kept."""
    lines = [(line.number, line.text) for line in lines_of(text[:LONGEST_SHEET]) if line.text.strip()]
    head = head_of(lines[:40], lines[0][1] if lines else "")
    finding = Finding("error", "not-a-sheet", None, None, NO_DANCE, "Write one line a step, with its count before it.")
    weight = Weight.SEAT if head.seated else Weight.BOTH
    return Dance(
        head.title, head.counts or 1, None, level_of(head), bool(head.seated), metre_of(head), head.tempo, head.intro,
        weight,
        (), (), findings=(finding,), kept=all_lines(text),
    )  # fmt: skip
