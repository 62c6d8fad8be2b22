"""What was made in a folder, by which key, and with which content: kept as one small file in the folder itself."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.files import content_hash, write_whole

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.jobs.step import Step

State = Literal["to do", "made before", "mended by hand"]
NAME = ".softshoe-made.json"


@dataclass(slots=True)
class Ledger:
    """The record of one folder. A record that can't be read counts as empty: everything is made again."""

    folder: Path
    rows: dict[str, dict[str, object]]

    @classmethod
    def of(cls, folder: Path) -> Ledger:
        """Read the folder's record."""
        try:
            rows = json.loads((folder / NAME).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            rows = {}
        return cls(folder, rows if isinstance(rows, dict) else {})

    def state(self, step: Step, key: str) -> State:
        """Say whether the step must be done."""
        row = self.rows.get(step.name)
        if not isinstance(row, dict) or not all(path.is_file() for path in step.leaves):
            return "to do"
        untouched = row.get("left") == _left(step)
        if not untouched:
            return "mended by hand" if step.mendable else "to do"
        if row.get("mended") and step.mendable:  # a text that is given now wins over the one mended before
            return "mended by hand"
        return "made before" if row.get("key") == key else "to do"

    def note(self, step: Step, key: str, *, mended: bool = False) -> None:
        """Write down that the step is done (or that a hand mended what it left)."""
        self.rows[step.name] = {"key": key, "left": _left(step), "mended": mended}
        write_whole(self.folder / NAME, json.dumps(self.rows, indent=1))

    def forget(self, step: Step) -> None:
        """Take away a value left before by a step that failed now: it would be used as if it still held."""
        if not step.mendable or step.name not in self.rows or self.state(step, "") == "mended by hand":
            return
        for path in step.leaves:
            path.unlink(missing_ok=True)
        del self.rows[step.name]
        write_whole(self.folder / NAME, json.dumps(self.rows, indent=1))


def _left(step: Step) -> dict[str, str]:
    return {path.name: content_hash(path) for path in step.leaves}
