"""All versions on the same counts: one sheet for a mixed room.

Side by side in normal print; in large and giant print one under the other, those who do the same named together.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING, Any

from softshoe.dance.footwork import wall_events
from softshoe.render.look import palette
from softshoe.render.page import SMALLEST_PT, WORDS_PT, margins
from softshoe.render.phrase_words import action_words, arm_words, sentence
from softshoe.render.sheet_content import VERSION_NAMES, head_words
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_notes import ASK
from softshoe.render.sheet_rows import local_label, span_label

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance, Section
    from softshoe.fit.run import Run
    from softshoe.render.page import Edition, Paper

MOST_COLUMNS = 4
AIR = (1.0, 0.75, 0.5)  # between the rows: a little less may save a page
SAME, EVERYBODY = "the same", "Everybody"
MOST_LETTERS = {"large": 1300, "largest": 700}  # of a few counts, for which a page has room
STILL = ("hold", "feet still")
TOP_MM = 11.0


def everyone_pdf(
    dance: Dance,
    versions: Sequence[Version],
    run: Run | None = None,
    *,
    paper: Paper = "a4",
    bound: bool = False,
    edition: Edition = "normal",
) -> bytes:
    """Return all versions as a PDF tagged to PDF/UA-1; at most three versions beside the dance.

    ``bound`` leaves room for holes: along the top where the page lies across a binder, else at the inner edge."""
    from softshoe.render.pdf import fewest_pages, pdf

    values = everyone_values(dance, versions, run, paper=paper)
    if edition != "normal":
        sections = under_each_other(values)
        longest = max((_letters(row) for section in sections for row in section["rows"]), default=0)
        size = {"size_pt": WORDS_PT[edition], "margin": margins(bound), "breakable": longest > MOST_LETTERS[edition]}
        return pdf("everyone_large.typ", values | size | {"sections": sections})
    values["margin"] = {"top": margins(bound)["inside"] if bound else TOP_MM}
    return fewest_pages("everyone.typ", [values | {"air": air} for air in AIR])


def everyone_values(dance: Dance, versions: Sequence[Version], run: Run | None, *, paper: Paper) -> dict[str, Any]:
    """Return what the page is set from."""
    shown = [(_own_name(dance), dance), *((VERSION_NAMES[v.kind], v.dance) for v in versions)][:MOST_COLUMNS]
    events = [wall_events(d) for _, d in shown]
    return {
        "title": dance.title or "A dance without a name",
        "head": " ".join(head_words(dance, run, None)),
        "paper": paper,
        "colour": palette(),
        "names": [name for name, _ in shown],
        "small_pt": SMALLEST_PT,
        "sections": [
            {"name": section_name(dance, s, events[0]), "number": str(s.number),
             "rows": _rows(dance, s, events)} for s in dance.sections
        ],
        "ask": ASK,
    }  # fmt: skip


def under_each_other(values: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the sections of ``everyone_values``: for each few counts who does what, those who do the same together."""
    names = values["names"]

    def told(row: list[str]) -> list[dict[str, str]]:
        words = [row[1], *(row[1] if cell == SAME else cell for cell in row[2:])]
        who = {said: [name for name, own in zip(names, words, strict=True) if own == said] for said in words}
        return [{"who": EVERYBODY if len(those) == len(names) > 1 else "; ".join(those), "words": said}
                for said, those in who.items()]  # fmt: skip

    return [
        section | {"rows": [{"counts": row[0], "told": told(row)} for row in section["rows"]]}
        for section in values["sections"]
    ]


def _letters(row: dict[str, Any]) -> int:
    return sum(len(one["who"]) + len(one["words"]) for one in row["told"])


def _own_name(dance: Dance) -> str:
    return "Seated" if dance.seated else "Standing"


def _rows(dance: Dance, section: Section, events: Sequence[tuple[Event, ...]]) -> list[list[str]]:
    """One row for each few counts; a version that does what the first does says so."""
    per_line = 3 if dance.metre == "3/4" else 2
    parts = [_by_line(dance, section, mine, per_line) for mine in events]
    rows = []
    for k in range(-(-int(section.length.n) // per_line)):
        cells = [_cell(part.get(k, []), section) for part in parts]
        same = [SAME if words == cells[0] else words for words in cells[1:]]
        first, last = k * per_line + 1, min((k + 1) * per_line, int(section.length.n))
        rows.append([span_label([str(n) for n in range(first, last + 1)]), cells[0], *same])
    return rows


def _by_line(dance: Dance, section: Section, events: Sequence[Event], per_line: int) -> dict[int, list[Event]]:
    mine = [e for e in events if dance.section_at(e.action.at) == section]

    def line(event: Event) -> int:
        return max(0, int((event.action.at.at - section.start.at) // Fraction(per_line)))

    return {k: list(found) for k, found in groupby(mine, key=line)}


def _cell(events: Sequence[Event], section: Section) -> str:
    """Feet and arms of these counts as one sentence, each with its count."""
    told: list[tuple[str, str]] = []
    before = None
    for event in events:
        feet, arms = (
            action_words(event.action, facing_deg=event.facing_deg, before=before),
            arm_words(event.action.arms),
        )
        rests = event.action.verb == "arms" or (event.action.verb == "hold" and arms)
        words = ", ".join(w for w in ("" if rests else feet, arms) if w)
        label, _ = local_label(event.action.at, section.start)
        if told and told[-1][1] == words:
            told[-1] = (told[-1][0] if words in STILL else f"{told[-1][0]} and {label}", words)
        else:
            told.append((label, words))
        before = event.action
    if len(told) == 1 and " and " not in told[0][0]:
        return sentence(told[0][1]) + "."
    return sentence("; ".join(f"{label} {words}" for label, words in told)) + "."
