"""The steps of taking in a folder as a long job: the repertoire and the jobs, neighbours, meet only at the doors."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.errors import SettingError
from softshoe.jobs.kinds import Plan
from softshoe.jobs.step import Step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from softshoe.jobs.kinds import Place

JOURNAL = ".taken-in.jsonl"


def take_in(asked: Mapping[str, Any], place: Place) -> Plan:
    """Tell the step of taking in a folder of sheets, which leaves its report as a page and as JSON.

    asked : "folder", a folder of sheets; "account", for whom they are kept ("" for nobody in particular)
    """
    folder = Path(asked["folder"])
    if not folder.is_dir():
        raise SettingError(str(folder), "there is no such folder", "nothing of that name is a folder here",
                           "check the name")  # fmt: skip
    sheets = sum(path.is_file() for path in folder.rglob("*"))
    left = (place.folder / "report.html", place.folder / "report.json")
    how = {
        "folder": str(folder),
        "home": str(place.home),
        "database": place.database,
        "account": asked.get("account") or "",
    }
    step = Step("take in", "Taking in the sheets", taken_in, how, (), left, hint_s=2 + 0.03 * sheets, apart=True,
                spreads=True)  # fmt: skip
    return Plan((step,), place.folder, left)


def taken_in(step: Step, tell: Callable[[float], None]) -> None:
    """Take in the folder; what was taken in before is known, so that this goes on where it was stopped."""
    import json

    from softshoe.files import write_whole
    from softshoe.repertoire.accounts import account
    from softshoe.repertoire.intake import take_in
    from softshoe.repertoire.intake_report import report_html, report_json
    from softshoe.repertoire.store import Repertoire

    folder = Path(step.settings["folder"])
    kept = Repertoire.at(Path(step.settings["home"]), url=step.settings["database"])
    if step.settings["account"]:
        with kept.reading() as base:
            whose = account(base, step.settings["account"])
        kept = kept.seen_by(whose)
    page, data = step.leaves
    journal = page.with_name(JOURNAL)
    done = take_in(kept, folder, told=lambda many, of: tell(many / max(1, of)), journal=journal)
    write_whole(page, report_html(done, studio=True))
    journal.unlink(missing_ok=True)
    write_whole(data, json.dumps(report_json(done), ensure_ascii=False, indent=1) + "\n")
