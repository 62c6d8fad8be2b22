"""What stands beside the words while they are typed: counts, what bears, where she looks, what was found."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from softshoe.dance.counts import Count
from softshoe.dance.footwork import danced, state_after, wall_events
from softshoe.errors import WordingError
from softshoe.studio.desk import read_words

if TYPE_CHECKING:
    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding

SEVERITY = {"error": "To mend", "warning": "Please check", "note": "Good to know"}
USUAL_BPM = 100.0


def read_view(words: str) -> dict[str, Any]:
    """Return the reading of a sheet: the dance in a sentence, its lines with their counts, and what was found.

    ``lines`` holds only lines that dance; ``moment`` counts from 0, in quarters of a count where need be.
    """
    if not words.strip():
        return {"title": "", "about": "", "lines": [], "findings": [], "sound": False, "tempo": USUAL_BPM}
    dance = dance_of(words)
    return {
        "title": dance.title,
        "about": about(dance),
        "counts": dance.counts,
        "lines": lines(dance),
        "findings": [finding(k, one) for k, one in enumerate(dance.findings)],
        "sound": not dance.findings,
        "tempo": tempo_of(dance),
    }


def dance_of(words: str) -> Dance:
    """Return the dance of these words; one without steps and with a finding where they hold none."""
    try:
        return read_words(words).dance
    except WordingError:
        from softshoe.wording.read import empty

        return empty(words)


def tempo_of(dance: Dance) -> float:
    """Return the tempo at which the figure dances: that of the sheet, the middle of a range, else a usual one."""
    if dance.tempo_bpm is None:
        return USUAL_BPM
    return dance.tempo_bpm if isinstance(dance.tempo_bpm, float | int) else sum(dance.tempo_bpm) / 2


def about(dance: Dance) -> str:
    """Return the dance in one sentence."""
    parts = [f"{dance.counts} counts"]
    if dance.walls:
        parts.append(f"{dance.walls} wall" + ("s" if dance.walls != 1 else ""))
    if dance.level:
        parts.append(dance.level)
    parts.append("seated" if dance.seated else "standing")
    return ", ".join(parts)


def lines(dance: Dance) -> list[dict[str, Any]]:
    """Return every line that dances: its events one by one, and what bears and faces when it is over."""
    found: dict[int, list[dict[str, Any]]] = {}
    where: dict[int, str] = {}
    for event in wall_events(dance):
        found.setdefault(event.action.line, []).append(told(event, called(dance, event.action.at)))
    for number, tag in enumerate(dance.tags, 1):
        for event in danced(tag.actions, weight=state_after(dance, tag.after_count)[0]):
            found.setdefault(event.action.line, []).append(told(event, event.action.at.label))
            where[event.action.line] = f"tag {number}"
    for ending in dance.endings:
        weight, _ = state_after(dance, ending.after_count)
        for event in danced(ending.actions, weight=weight, facing_deg=ending.start_facing_deg):
            found.setdefault(event.action.line, []).append(told(event, event.action.at.label))
            where[event.action.line] = "ending"
    return [{"line": line, "part": where.get(line, ""), "events": events} for line, events in sorted(found.items())]


def called(dance: Dance, at: Count) -> str:
    """Return a count as it is called in its section: one to eight, one to six in a waltz."""
    section = dance.section_at(at)
    return Count(at.at - section.start.at + 1).label if section and at.at >= section.start.at else at.label


def told(event: Event, label: str) -> dict[str, Any]:
    """Return one event in words and numbers; ``label`` is its count as a leader calls it."""
    from softshoe.render.phrase_words import action_words, arm_words

    action = event.action
    return {
        "label": label,
        "moment": float(action.at.moment),
        "foot": action.foot.value if action.foot else "",
        "feet": action_words(action),
        "arms": arm_words(action.arms),
        "weight": event.weight.value,
        "facing": event.facing_deg,
        "turn": action.turn_deg,
    }


def finding(number: int, one: Finding) -> dict[str, Any]:
    """Return a finding as the page shows it."""
    return {"number": number, "severity": one.severity, "head": SEVERITY[one.severity], "line": one.line or 0,
            "message": one.message, "mend": one.mend or ""}  # fmt: skip
