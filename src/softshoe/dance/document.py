"""The dance as JSON and back, in the shape of the dance events. Plain dicts and lists; counts as fractions from 0."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any, cast

from softshoe.dance.action import Action, Event
from softshoe.dance.arms import ArmMove
from softshoe.dance.checks.demand import OPINIONS
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Ending, Restart, Section, Tag
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced, state_after, tag_events, wall_events, weight_after
from softshoe.dance.places import Direction
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

Json = dict[str, Any]


# Kinds of finding that are told to people, but are no kind of the dance events.
BESIDE = OPINIONS | {"inferred"}


def arm_json(arm: ArmMove) -> Json:
    """Return one entry of ``arms``."""
    toward = arm.toward.value if arm.toward else None
    return {"side": arm.side.value, "gesture": arm.gesture, "place": arm.place, "toward": toward}


def event_json(event: Event) -> Json:
    """Return one event."""
    action = event.action
    return {
        "t": str(action.at.moment),
        "foot": action.foot.value if action.foot else None,
        "action": action.verb,
        "dir": action.dir.value if action.dir else None,
        "weight": event.weight.value,
        "turn": action.turn_deg,
        "facing": event.facing_deg,
        "arms": [arm_json(arm) for arm in action.arms],
        "line": action.line,
    }


def finding_json(finding: Finding) -> Json:
    """Return one finding."""
    keys = ("severity", "kind", "line", "count", "message", "mend")
    return {key: getattr(finding, key) for key in keys}


def _section_json(section: Section) -> Json:
    counts = section.length.n
    start = section.start.moment
    return {
        "number": section.number,
        "start": int(start) if start.denominator == 1 else str(start),
        "counts": int(counts) if counts.denominator == 1 else str(counts),
        "line": section.line,
    }


def _tag_json(dance: Dance, tag: Tag) -> Json:
    events = [event_json(event) for event in tag_events(dance, tag)]
    return {
        "walls": list(tag.walls),
        "after_count": tag.after_count,
        "counts": tag.counts,
        "then": tag.then,
        "line": tag.line,
        "events": events,
    }


def _ending_json(dance: Dance, ending: Ending) -> Json:
    weight, turned_deg = state_after(dance, ending.after_count)
    facing = (ending.start_facing_deg + turned_deg) % 360
    return {
        "wall": ending.wall,
        "after_count": ending.after_count,
        "counts": ending.counts,
        "start_facing": ending.start_facing_deg,
        "line": ending.line,
        "events": [event_json(e) for e in danced(ending.actions, weight=weight, facing_deg=facing)],
    }


def dance_json(dance: Dance) -> Json:
    """Return the dance as the object that ``softshoe read --json`` prints; every key is there.

    The kinds of its findings are fixed; what stands beside them is told to people alone.
    """
    tempo = dance.tempo_bpm
    return {
        "title": dance.title,
        "counts": dance.counts,
        "walls": dance.walls,
        "level": dance.level,
        "seated": dance.seated,
        "metre": dance.metre,
        "tempo_bpm": list(tempo) if isinstance(tempo, tuple) else tempo,
        "intro_counts": dance.intro_counts,
        "start_weight": dance.start_weight.value,
        "sections": [_section_json(section) for section in dance.sections],
        "events": [event_json(event) for event in wall_events(dance)],
        "tags": [_tag_json(dance, tag) for tag in dance.tags],
        "restarts": [{"walls": list(r.walls), "after_count": r.after_count, "line": r.line} for r in dance.restarts],
        "endings": [_ending_json(dance, ending) for ending in dance.endings],
        "findings": [finding_json(finding) for finding in dance.findings if finding.kind not in BESIDE],
    }


def whole_json(dance: Dance) -> Json:
    """Return the dance with all it keeps besides its events: the sections' own headings, the lines kept as written."""
    doc = dance_json(dance)
    for row, section in zip(doc["sections"], dance.sections, strict=True):
        row["title"] = section.title
    doc["findings"] = [finding_json(finding) for finding in dance.findings]
    return doc | {"kept": [list(line) for line in dance.kept]}


def arm_from_json(row: Mapping[str, Any]) -> ArmMove:
    """Read one entry of ``arms``; raises KeyError or ValueError for another shape."""
    toward = Direction(row["toward"]) if row["toward"] else None
    return ArmMove(Foot(row["side"]), row["gesture"], row["place"], toward)


def action_from_json(row: Mapping[str, Any]) -> Action:
    """Read an event without what it leads to; ``line`` may be missing. Raises KeyError or ValueError as above."""
    return Action(
        at=Count.at_moment(row["t"]),
        foot=Foot(row["foot"]) if row["foot"] else None,
        verb=row["action"],
        dir=Direction(row["dir"]) if row["dir"] else None,
        turn_deg=row["turn"],
        arms=tuple(map(arm_from_json, row["arms"])),
        line=row.get("line", 0),
    )


def _actions(rows: Iterable[Json], weight: Weight) -> tuple[Action, ...]:
    """Read events; a weight that the verb would not give is kept as said."""
    actions = []
    for row in rows:
        plain = action_from_json(row)
        after = Weight(row["weight"])
        said = None if weight_after(plain, weight) is after else after
        actions.append(_with_weight(plain, said))
        weight = after
    return tuple(actions)


def _with_weight(action: Action, said: Weight | None) -> Action:
    return action if said is None else replace(action, weight_said=said)


def dance_from_json(doc: Json) -> Dance:
    """Read what ``dance_json`` or ``whole_json`` writes; raises KeyError or ValueError for another shape."""
    tempo = doc["tempo_bpm"]
    weight = Weight(doc["start_weight"])
    sections = tuple(
        Section(s["number"], Count.at_moment(s["start"]), Counts(Fraction(s["counts"])), s["line"], s.get("title", ""))
        for s in doc["sections"]
    )
    bare = Dance(
        title=doc["title"],
        counts=doc["counts"],
        walls=doc["walls"],
        level=doc["level"],
        seated=doc["seated"],
        metre=doc["metre"],
        tempo_bpm=cast("tuple[float, float]", tuple(tempo)) if isinstance(tempo, list) else tempo,
        intro_counts=doc["intro_counts"],
        start_weight=weight,
        sections=sections,
        actions=_actions(doc["events"], weight),
        restarts=tuple(Restart(tuple(r["walls"]), r["after_count"], r["line"]) for r in doc["restarts"]),
        findings=tuple(Finding(**f) for f in doc["findings"]),
        kept=tuple((number, words) for number, words in doc.get("kept", ())),
    )
    return _with_tags(bare, doc)


def _with_tags(bare: Dance, doc: Json) -> Dance:
    def actions(row: Json) -> tuple[Action, ...]:
        return _actions(row["events"], state_after(bare, row["after_count"])[0])

    tags = tuple(
        Tag(tuple(t["walls"]), t["after_count"], t["counts"], t["then"], actions(t), t["line"]) for t in doc["tags"]
    )
    endings = tuple(
        Ending(e["wall"], e["after_count"], e["counts"], e["start_facing"], actions(e), e["line"])
        for e in doc["endings"]
    )
    return replace(bare, tags=tags, endings=endings)
