"""What she adds to a kept dance in Keep: labels, notes, days on which it was danced; and the bin, with the way back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from softshoe.repertoire import bin as away
from softshoe.repertoire.beside import put_danced, put_label, put_note, take_label
from softshoe.repertoire.dances import now_iso
from softshoe.repertoire.named import named
from softshoe.repertoire.values import Danced
from softshoe.studio.table import Way

if TYPE_CHECKING:
    from softshoe.repertoire.values import KeptDance
    from softshoe.studio.asking import Asked


@dataclass(frozen=True, slots=True)
class Said:
    """What is said about a dance: a label (or a label to take away), a note, or a day with its group and words."""

    dance: str
    label: str = ""
    unlabel: str = ""
    note: str = ""
    day: str = ""
    group: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Which:
    """A dance by its identity."""

    dance: str


def told_of(kept: KeptDance) -> dict[str, Any]:
    """Tell what stands beside a dance."""
    return {
        "labels": list(kept.labels),
        "notes": [{"words": note.words, "day": note.made_at[:10]} for note in kept.notes],
        "songs": [song.title for song in kept.songs],
        "danced": [
            ", ".join(part for part in (one.day, one.group, one.song and f"to “{one.song}”", one.words) if part)
            for one in reversed(kept.danced)
        ],
    }


def say(asked: Asked) -> dict[str, Any]:
    """Put beside a dance what she says about it, and tell all that stands there now."""
    said = asked.json(Said)
    kept = asked.desk.repertoire
    with kept.writing() as base:
        uid = named(base, said.dance)
        if said.label.strip():
            put_label(base, "dance", uid, said.label)
        if said.unlabel:
            take_label(base, "dance", uid, said.unlabel)
        if said.note.strip():
            put_note(base, "dance", uid, said.note.strip(), now_iso())
        if said.day:
            put_danced(base, uid, Danced(said.day, said.group.strip(), "", said.words.strip()))
    return told_of(kept.dance(uid))


def remove(asked: Asked) -> dict[str, Any]:
    """Move a dance into the bin, and tell what lies there."""
    kept = asked.desk.repertoire
    with kept.writing() as base:
        away.remove(base, kept.folder, named(base, asked.json(Which).dance))
    return binned(asked)


def binned(asked: Asked) -> dict[str, Any]:
    """Tell what lies in the bin, the newest first."""
    with asked.desk.repertoire.reading() as base:
        found = away.binned(base)
    return {"bin": [{"dance": one.uid, "title": one.title, "until": one.until} for one in found]}


def back(asked: Asked) -> dict[str, Any]:
    """Put a dance back as it was, and tell what lies in the bin still."""
    kept = asked.desk.repertoire
    with kept.writing() as base:
        away.put_back(base, kept.folder, asked.json(Which).dance)
    return binned(asked)


WAYS = (Way("say", say, "POST"), Way("remove", remove, "POST"), Way("bin", binned), Way("back", back, "POST"))
