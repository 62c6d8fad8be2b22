"""What the report says, as rows: findings in four parts, the walls of the song, cautions, versions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.adapt.cautions import cautions, cautions_for
from softshoe.dance.counts import Count
from softshoe.dance.facing import clock
from softshoe.render.page import sure_words
from softshoe.render.phrase_words import sentence
from softshoe.render.sheet_content import VERSION_NAMES
from softshoe.render.sheet_notes import change_rows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.cautions import Caution
    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding
    from softshoe.fit.run import Run, RunWall
    from softshoe.music.songmap import SongMap

SEVERITIES = {"error": "To mend", "warning": "Please check", "note": "Good to know"}
WHY = {
    "weight": "A foot that bears the dancer can't step before the weight has gone to the other.",
    "free-foot": "The next wall begins with a foot that must be free then.",
    "count-missing": "Nothing is written for a count, so dancers would stand there without a step.",
    "count-twice": "Two lines fill the same count, so nobody can tell which to dance.",
    "steps-per-count": "The steps don't come out even with the counts given for them.",
    "section-length": "A section has eight counts, six in a waltz; music and dance part where one doesn't.",
    "total": "The head promises another number of counts than the sections hold.",
    "section-number": "Sections are danced in the order of their numbers.",
    "facing": "The turns lead to another wall than the one written.",
    "walls": "The turns of one time through decide how many walls there are.",
    "tag-length": "The steps of the tag don't fill its counts.",
    "place": "It stands at a count that the dance doesn't have.",
    "side": "The foot or arm goes to a side that doesn't go with what stands around it.",
    "word": "The word is in no table of steps.",
    "direction-missing": "Without a direction the step can be danced in several ways.",
    "foot-missing": "Without a foot the step can be danced in two ways.",
    "arms": "A hand can be in one place at a time.",
    "seated": "It can't be done on a chair.",
    "promise": "The head speaks of a part that isn't there, or leaves one out.",
    "not-a-sheet": "No steps could be found.",
    "ambiguous": "The words can be read in two ways; one was taken.",
    "unread": "The line was not understood, so it is kept as it stands.",
    "little-time": "Films have 120 counts a minute or so, and a foot goes no faster there than a brisk walker's.",
    "little-room": "No leg goes through the other one or through the chair.",
    "not-stated": "Sheets usually say it; no step depends on it.",
}
ON_SONG = "The dance on this song"
SONG_KINDS = {"tempo", "song", "beat", "intro", "phrases"}  # kinds of what laying on a song finds
ALWAYS = ("stop_signs", "warmup")
SEVERITY_WORDS = {"stop": "leave out until asked", "warn": "take care", "note": "know this"}


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One finding in its four parts; ``line`` is the line's own words."""

    severity: str
    where: str
    line: str
    what: str
    why: str
    mend: str


@dataclass(frozen=True, slots=True)
class WallRow:
    """One wall, or what comes after it, in the song's time."""

    name: str
    at: str
    facing: str
    what: str


@dataclass(frozen=True, slots=True)
class SureRow:
    """One thing heard: what, how sure in words, how to say it better."""

    what: str
    found: str
    sure: str
    mend: str


@dataclass(frozen=True, slots=True)
class VersionPart:
    """A version by name with its changes: count, was, now, reason."""

    name: str
    changes: tuple[tuple[str, str, str, str], ...]


def finding_rows(
    findings: Sequence[Finding], lines: Sequence[str], *, whole: str = "The whole sheet"
) -> tuple[FindingRow, ...]:
    """Return the findings, the worst first, in the order of the lines; ``lines`` are those of the sheet as written,
    ``whole`` what a finding without a line or a count is about."""
    order = list(SEVERITIES)
    ranked = sorted(findings, key=lambda f: (order.index(f.severity), f.line or 0))
    return tuple(_finding(f, lines, whole) for f in ranked)


def _finding(finding: Finding, lines: Sequence[str], whole: str) -> FindingRow:
    parts = [f"line {finding.line}" if finding.line else "", _count_words(finding.count)]
    written = lines[finding.line - 1].strip() if finding.line and finding.line <= len(lines) else ""
    return FindingRow(
        severity=SEVERITIES[finding.severity],
        where=sentence(", ".join(filter(None, parts))) or (ON_SONG if finding.kind in SONG_KINDS else whole),
        line=written,
        what=finding.message,
        why=WHY.get(finding.kind, ""),
        mend=finding.mend or "Nothing needs to be done.",
    )


def _count_words(moment: str | None) -> str:
    return f"count {Count.at_moment(moment).label}" if moment is not None else ""


def time_words(seconds: float) -> str:
    """Return a time in the song as a clock shows it.

    >>> time_words(65.4)
    '1:05'
    """
    return f"{round(seconds) // 60}:{round(seconds) % 60:02d}"


def wall_rows(run: Run, *, dance_counts: int) -> tuple[WallRow, ...]:
    """Return the song from the first count to the ending, one row a wall, a tag, the ending."""
    return tuple(_wall_rows(run, dance_counts))


def _wall_rows(run: Run, dance_counts: int) -> Iterator[WallRow]:
    for wall in run.walls:
        yield WallRow(f"Wall {wall.wall}", time_words(wall.start_s), clock(wall.facing_deg),
                      _wall_words(run, wall, dance_counts))  # fmt: skip
        for tag in run.tags:
            found = "as written" if tag.written else "found in the song"
            if tag.after_wall == wall.wall:
                yield WallRow("Tag", "", "", f"{tag.counts} counts after wall {wall.wall}, {found}")
            elif tag.in_wall == wall.wall:
                yield WallRow("Bridge", "", "", f"{tag.counts} counts after count {tag.at_count}, {found}")
    if run.ending is not None:
        end = run.ending
        yield WallRow("Ending", time_words(end.time_s), clock(end.facing_deg), f"{end.what} (wall {end.wall})")


def _wall_words(run: Run, wall: RunWall, dance_counts: int) -> str:
    cut = next((r for r in run.restarts if r.wall == wall.wall), None)
    if cut is not None:
        change = f", {cut.change}" if cut.change else ""
        return f"stops after count {cut.after_count}{change}; begin again"
    return "whole" if wall.counts >= dance_counts else f"{wall.counts} counts"


def sure_rows(song: SongMap) -> tuple[SureRow, ...]:
    """Return what was heard, how sure that is, and the option that says it better; what was said is not guessed."""
    sure, said = song.confidence, song.said

    def row(what: str, found: str, confidence: float, told: object, mend: str) -> SureRow:
        return SureRow(what, found, "you said it" if told else sure_words(confidence), mend)

    weakest = min(sure.phrases, default=0.0)
    at_one = f"--first-count {song.first_count_s:.1f}"
    return (
        row("Tempo", f"{song.tempo_bpm:.0f} beats a minute", sure.tempo, said.tempo_bpm or said.taps_s,
            f"--tempo {song.tempo_bpm:.0f}"),
        row("Beats in a bar", str(song.metre), sure.metre, said.metre, f"--metre {song.metre}"),
        row("Beats", f"{len(song.beats_s)} beats", sure.beats, said.taps_s, "--tap beats.txt"),
        row("The one of each bar", f"{len(song.downbeats_s)} bars", sure.downbeats, None, at_one),
        row("Count 1 of wall 1", f"{song.first_count_s:.1f} seconds into the song", sure.first_count,
            said.first_count_s is not None, at_one),
        row("Phrases", f"{len(song.phrases_s)} phrases", weakest, None, at_one),
    )  # fmt: skip


def caution_rows(dance: Dance, versions: Sequence[Version]) -> tuple[Caution, ...]:
    """Return the rows of the cautions table that the dance and its versions touch, besides those for everyone."""
    touched = set(cautions_for(dance, "seated" if dance.seated else "standing"))
    for version in versions:
        touched.update(version.cautions)
    return tuple(row for row in cautions().values() if row.id in touched and row.id not in ALWAYS)


def version_parts(dance: Dance, versions: Sequence[Version]) -> tuple[VersionPart, ...]:
    """Return each version with what it changes and why, in the sheet's own sentences."""
    return tuple(VersionPart(VERSION_NAMES[v.kind], change_rows(dance, v)) for v in versions)
