"""What became of a folder of sheets, grouped by what each needs: to be worked through from the top."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.repertoire.intake import Intake, Taken

QUOTED = re.compile(r"“([^”]+)”")
KEPT = ("kept", "another text", "same title")
DONE = ("sound", "notes", "another text", "same words", "known", "left")
UNREAD = ("no dance", "unreadable", "scan")
MOST_WORDS = 40


@dataclass(frozen=True, slots=True)
class Need:
    """Files that need the same thing: what it is, how it is done, the files with the fewest findings first."""

    name: str
    heading: str
    todo: str
    files: tuple[Taken, ...]


def needs(intake: Intake) -> tuple[Need, ...]:
    """Return the files grouped by what each needs most; every file stands once.

    First what is mended in the sheet, the largest group on top, then what no sheet can be made of, then what needs
    nothing.
    """
    rows = {row["need"]: row for row in table("repertoire/needs")}
    grouped: dict[str, list[Taken]] = {name: [] for name in rows}
    for one in intake.files:
        name = _need(one)
        grouped[name if name in rows else "other"].append(one)
    found = [
        Need(
            name,
            rows[name]["heading"],
            rows[name]["todo"],
            tuple(sorted(files, key=lambda f: (len(f.findings), f.path))),
        )
        for name, files in grouped.items()
        if files
    ]
    return tuple(sorted(found, key=lambda need: (need.name in DONE, need.name in UNREAD, -len(need.files))))


def _need(one: Taken) -> str:
    if one.outcome not in KEPT:
        return one.outcome
    errors = [finding.kind for finding in one.findings if finding.severity == "error"]
    if errors:
        return Counter(errors).most_common(1)[0][0]
    if one.outcome != "kept":
        return one.outcome
    kinds = {finding.kind for finding in one.findings}
    return "unread" if "unread" in kinds or one.unread else "notes" if kinds else "sound"


def strange_words(intake: Intake) -> list[tuple[str, int]]:
    """Return the words that are no step, with the number of sheets that have each, the most frequent first."""
    met: Counter[str] = Counter()
    for one in intake.files:
        met.update({
            found[1].casefold()
            for finding in one.findings
            if finding.kind in ("word", "unread") and (found := QUOTED.search(finding.message))
        })  # fmt: skip
    return [(word, many) for word, many in met.most_common(MOST_WORDS) if many > 1 and len(word) < 40]


def summary(intake: Intake) -> str:
    """Return the whole in a sentence."""
    kept = sum(one.outcome in KEPT for one in intake.files)
    sound = sum(len(need.files) for need in needs(intake) if need.name in ("sound", "notes"))
    look = sum(len(need.files) for need in needs(intake) if need.name not in DONE)
    return f"{len(intake.files)} files: {kept} dances kept, {sound} of them sound; {look} want a look"


def report_json(intake: Intake) -> dict[str, Any]:
    """Return the report as plain dicts and lists."""
    return {
        "folder": intake.folder,
        "seconds": round(intake.seconds, 2),
        "summary": summary(intake),
        "strange_words": [{"word": word, "sheets": many} for word, many in strange_words(intake)],
        "needs": [asdict(need) for need in needs(intake)],
    }


def report_html(intake: Intake, *, base: str = "", studio: bool = False) -> str:
    """Return the report as one page.

    base : the address of the folder, to open its files from the page
    studio : the page is shown in the studio: each finding leads to the dance at its line
    """
    from softshoe.render.html import page_html

    return page_html("import.html", {
        "folder": intake.folder, "summary": summary(intake), "needs": needs(intake), "done": DONE,
        "words": strange_words(intake), "base": base, "studio": studio,
    })  # fmt: skip
