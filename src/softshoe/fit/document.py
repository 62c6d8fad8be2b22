"""A run as JSON and back: the shape that ``softshoe fit --json`` prints. Seconds rounded to the millisecond."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from softshoe.dance.document import action_from_json as event_from_json
from softshoe.dance.document import arm_json
from softshoe.dance.feet import Weight
from softshoe.fit.run import Run, RunEnding, RunRestart, RunTag, RunWall, Score, Start

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.action import Action
    from softshoe.fit.advice import Advice
    from softshoe.fit.lay import FitResult

Json = dict[str, Any]


def _seconds(value: float) -> float:
    return round(value, 3)


def action_json(action: Action) -> Json:
    """Return one action of a tag, its moment counted from 0 where the tag begins."""
    return {
        "t": str(action.at.moment),
        "foot": action.foot.value if action.foot else None,
        "action": action.verb,
        "dir": action.dir.value if action.dir else None,
        "turn": action.turn_deg,
        "weight": action.weight_said.value if action.weight_said else None,
        "arms": [arm_json(arm) for arm in action.arms],
        "line": action.line,
    }


def action_from_json(row: Json) -> Action:
    """Read what ``action_json`` writes."""
    said = Weight(row["weight"]) if row["weight"] else None
    return replace(event_from_json(row), weight_said=said)


def _tag_json(tag: RunTag) -> Json:
    where = {"after_wall": tag.after_wall} if tag.after_wall is not None else {"in_wall": tag.in_wall}
    events = [action_json(a) for a in tag.actions]
    return {**where, "at_count": tag.at_count, "counts": tag.counts, "written": tag.written, "events": events}


def _tag(row: Json) -> RunTag:
    actions = tuple(action_from_json(e) for e in row.get("events", ()))
    written = row.get("written", False)
    return RunTag(row.get("after_wall"), row.get("in_wall"), row["at_count"], row["counts"], actions, written)


def _ending_json(ending: RunEnding) -> Json:
    written = {"counts": ending.counts, "events": [action_json(a) for a in ending.actions]} if ending.actions else {}
    return {
        "wall": ending.wall,
        "at_count": ending.at_count,
        "time_s": _seconds(ending.time_s),
        "facing": ending.facing_deg,
        "turn": ending.turn_deg,
        "what": ending.what,
        **written,
    }


def _ending(row: Json) -> RunEnding:
    actions = tuple(action_from_json(e) for e in row.get("events", ()))
    place = (row["wall"], row["at_count"], row["time_s"], row["facing"], row["turn"], row["what"])
    return RunEnding(*place, actions, row.get("counts", 0))


def run_json(run: Run) -> Json:
    """Return the run as plain dicts and lists, every key there; tags and a written ending carry their ``events``."""
    start = run.start
    return {
        "beats_per_count": int(run.beats_per_count) if run.beats_per_count >= 1 else run.beats_per_count,
        "start": {"time_s": _seconds(start.time_s), "intro_counts": start.intro_counts, "sign": start.sign},
        "walls": [
            {"wall": w.wall, "start_s": _seconds(w.start_s), "counts": w.counts, "facing": w.facing_deg}
            for w in run.walls
        ],
        "tags": [_tag_json(tag) for tag in run.tags],
        "restarts": [{"wall": r.wall, "after_count": r.after_count, "change": r.change} for r in run.restarts],
        "ending": _ending_json(run.ending) if run.ending else None,
        "score": {"total": run.score.total, "parts": dict(run.score.parts)},
        "why": list(run.why),
    }


def run_from_json(doc: Json) -> Run:
    """Read what ``run_json`` writes; raises KeyError or ValueError when it has another shape."""
    return Run(
        beats_per_count=float(doc["beats_per_count"]),
        start=Start(**doc["start"]),
        walls=tuple(RunWall(w["wall"], w["start_s"], w["counts"], w["facing"]) for w in doc["walls"]),
        tags=tuple(_tag(row) for row in doc["tags"]),
        restarts=tuple(RunRestart(**row) for row in doc["restarts"]),
        ending=_ending(doc["ending"]) if doc["ending"] else None,
        score=Score(doc["score"]["total"], dict(doc["score"]["parts"])),
        why=tuple(doc["why"]),
    )


def advice_json(found: Iterable[Advice]) -> list[Json]:
    """Return advice as a list: what to do, the score then, and the run where there is one."""
    return [
        {"kind": one.kind, "words": one.words, "total": one.total, "run": run_json(one.run) if one.run else None}
        for one in found
    ]


def fit_json(result: FitResult) -> Json:
    """Return what ``softshoe fit --json`` prints."""
    from softshoe.dance.document import finding_json

    return {"runs": [run_json(run) for run in result.runs], "findings": [finding_json(f) for f in result.findings]}
