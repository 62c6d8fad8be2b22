"""The small words below a dance: chair and floor, whom to ask, what was worked out and how sure, what was kept."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from softshoe.adapt.cautions import cautions
from softshoe.render.page import SheetNote, listed, sure_words
from softshoe.render.phrase_words import action_words, arm_words, sentence
from softshoe.render.sheet_signs import foot_count_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.adapt.version import Version
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance
    from softshoe.music.songmap import SongMap

CHAIR = (
    "A firm chair without wheels, on a dry and level floor. Sit well back; both feet reach the floor, or stand on a "
    "firm block. Room for an arm to each side."
)
BEHIND = "A heavy chair that doesn't slide, its back toward you, a hand on it. A dry and level floor, shoes that hold."
FLOOR = "A dry and level floor, shoes that hold the foot, a chair within reach for whoever wants to sit."
ASK = (
    "Whoever has a condition, an operation or an injury asks her own surgeon, doctor or therapist first: their "
    "instruction comes before this sheet."
)
ANYONE = ("anyone", "anyone seated", "anyone able to stand")
MOST_CHANGES = 6
GUESSES = {"ambiguous", "inferred", "word"}


def notes(base: Dance, dance: Dance, version: Version | None, song: SongMap | None) -> tuple[SheetNote, ...]:
    """Return the notes that this sheet needs, the cautions first."""
    made = (care_note(dance, version), _guesses(dance, song), _changes(base, version), _kept(dance))
    return tuple(note for note in made if note is not None)


def care_note(dance: Dance, version: Version | None) -> SheetNote:
    """Return the chair and the floor, when to stop, and whom to ask, as the cautions table says it."""
    place = CHAIR if dance.seated else (BEHIND if version and version.kind == "supported" else FLOOR)
    stop = cautions()["stop_signs"]
    said = [place, f"{stop.adaptation.capitalize()} at {stop.watch}."]
    named = condition_names(version)
    touched = f" These steps touch: {'; '.join(named)}." if named else ""
    return SheetNote("Before you begin", (*said, ASK + touched), care=True)


def condition_names(version: Version | None) -> list[str]:
    """Return the conditions that what is left in a version touches, each once."""
    table = cautions()
    rows = [table[one].condition for one in (version.cautions if version else ()) if one in table]
    return list(dict.fromkeys(name for name in rows if name not in ANYONE))


def _guesses(dance: Dance, song: SongMap | None) -> SheetNote | None:
    said = [f.message if f.line is None else f"Line {f.line}: {f.message}" for f in dance.findings
            if f.severity == "warning" and f.kind in GUESSES]  # fmt: skip
    said += list(song_guesses(song)) if song else []
    return SheetNote("What was worked out, and how sure", tuple(said)) if said else None


def song_guesses(song: SongMap) -> Iterator[str]:
    """Yield what was heard in the song with how sure it is; what the listener said is not guessed."""
    sure = song.confidence
    if song.said.tempo_bpm is None and not song.said.taps_s:
        yield f"Tempo, {song.tempo_bpm:.0f} beats a minute: {sure_words(sure.tempo)}."
    if song.said.first_count_s is None:
        yield f"Where count 1 falls, {song.first_count_s:.1f} seconds into the song: {sure_words(sure.first_count)}."
    unsure = [str(k + 1) for k, value in enumerate(sure.phrases) if sure_words(value) == "please check"]
    if unsure and len(unsure) < len(sure.phrases):
        which = f"phrases {listed(unsure)}" if len(unsure) > 1 else f"phrase {unsure[0]}"
        yield f"The beginning of {which} of the song: please check."


def change_rows(base: Dance, version: Version) -> tuple[tuple[str, str, str, str], ...]:
    """Return what a version changes, one row a count, in the sheet's words: count, was, now, why."""
    rows = []
    for at, found in groupby(sorted(version.changes, key=lambda c: c.at), key=lambda c: c.at):
        changes = list(found)
        was, now = (_at(d, at) for d in (base, version.dance))
        if not was or not now or was == now:
            was, now = (
                ", ".join(dict.fromkeys(words)) for words in zip(*((c.was, c.now) for c in changes), strict=True)
            )
        reasons = dict.fromkeys(sentence(c.reason.rstrip(".")) for c in changes)
        rows.append((at.label, was, now, ". ".join(reasons) + "."))
    return tuple(rows)


def _at(dance: Dance, at: Count) -> str:
    mine = [a for a in dance.actions if a.at == at]
    phrases = [w for a in mine for w in (action_words(a), arm_words(a.arms)) if w]
    return ", ".join(w for w in phrases if w != "feet still" or len(phrases) == 1)


def _changes(dance: Dance, version: Version | None) -> SheetNote | None:
    if version is None or not version.changes:
        return None
    rows = change_rows(dance, version)
    said = [f"Count {at}: {now}, in place of {was}. {reason}" for at, was, now, reason in rows[:MOST_CHANGES]]
    more = len(rows) - len(said)
    if more > 0:
        changes = foot_count_words(more).replace("count", "change")
        said.append(f"And {changes} more: the report lists them all.")
    return SheetNote("What this version changes", tuple(said))


def _kept(dance: Dance) -> SheetNote | None:
    """Lines kept as written: nothing is dropped."""
    if not dance.kept:
        return None
    return SheetNote("Kept as written", tuple(f"Line {number}: {words}" for number, words in dance.kept))
