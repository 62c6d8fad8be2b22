"""What a sheet says: a dance, its run on a song and its version become the words and signs of one page."""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import median
from typing import TYPE_CHECKING

from softshoe.dance.feet import Weight
from softshoe.dance.footwork import wall_events
from softshoe.render.page import SheetLine, SheetPage, SheetSection
from softshoe.render.phrase_words import sentence
from softshoe.render.sheet_extras import extras, restart_words
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_notes import notes
from softshoe.render.sheet_rail import rail_picture
from softshoe.render.sheet_rows import Line, rests, section_lines
from softshoe.render.sheet_signs import beads_picture, foot_count_words, key_pictures, plan_picture

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import date

    from softshoe.adapt.version import Version
    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance, Section
    from softshoe.figure.motion import Chair
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.render.sheet_signs import Picture

VERSION_NAMES = {
    "standing": "Standing", "supported": "Standing behind a chair", "seated": "Seated", "arms": "Seated, arms only",
    "left": "With the left side only", "right": "With the right side only",
}  # fmt: skip
WALL_WORDS = {1: "facing one wall", 2: "facing two walls", 4: "facing four walls"}
RAIL_LONGEST = 690.0
SAME_TEMPO = 0.03  # a share nobody feels


@dataclass(frozen=True, slots=True)
class Around:
    """What stands round the dance on a sheet: who made it, when, from what, and a picture for each section."""

    song: SongMap | None = None
    song_name: str = ""
    maker: str = ""
    made_on: date | None = None
    edition_note: str = ""
    beads_a_row: int = 4
    picture_of: Callable[[Section], Picture | None] | None = None


def sheet_page(dance: Dance, run: Run | None, version: Version | None, around: Around) -> SheetPage:
    """Return the sheet of this dance; of the version's dance where a version is given."""
    shown = version.dance if version else dance
    events = wall_events(shown)
    sections = tuple(_section(shown, s, events, run, around) for s in shown.sections)
    rail = _rail(shown, run)
    return SheetPage(
        title=shown.title or "A dance without a name",
        under=VERSION_NAMES[version.kind] if version else "",
        head=head_words(shown, run, version),
        sections=sections,
        again="Begin again." if shown.counts else "",
        extras=extras(shown, run, beads_a_row=around.beads_a_row),
        notes=notes(dance, shown, version, around.song),
        key=key_pictures({e.action.foot for e in events}),
        foot=_foot(around),
        rail=rail,
        maker=around.maker,
    )


def _rail(dance: Dance, run: Run | None) -> Picture | None:
    """The rail; whoever sits stays facing the front."""
    if run is None or not run.walls:
        return None
    return rail_picture(run, dance_counts=dance.counts, seated=dance.seated, longest=RAIL_LONGEST)


def head_words(dance: Dance, run: Run | None, version: Version | None) -> tuple[str, ...]:
    """Return the head: what one must know before the first step, as sentences."""
    first, last = dance_words(dance, version)
    return tuple(filter(None, (first, _begins(dance, run), _tempo(dance, run), last)))


def dance_words(dance: Dance, version: Version | None = None) -> tuple[str, str]:
    """Return what is true of the dance on every song: its length, walls and how it is danced; the foot that begins."""
    how = {"supported": "standing behind a chair", "arms": "seated, with the arms"}.get(
        version.kind if version else "", "seated" if dance.seated else "standing"
    )
    walls = WALL_WORDS.get(dance.walls or 0, "")
    level = f"for {dance.level}s" if dance.level else ""
    first = ", ".join(part for part in (foot_count_words(dance.counts), walls, how, level) if part)
    return f"{sentence(first)}.", _starts_with(dance)


SUPPORT_WORDS = {
    "chair back": "Danced behind a chair; one hand always holds its back.",
    "frame": "Danced with a walking frame; one hand always holds it.",
    "wheelchair": "Danced in a wheelchair, brakes on.",
}


def support_words(chair: Chair | None) -> str:
    """Return what holds the dancer of a picture as a sentence; "" on a chair that goes without saying, and for none."""
    return SUPPORT_WORDS.get(chair.kind, "") if chair is not None else ""


def _begins(dance: Dance, run: Run | None) -> str:
    counts = run.start.intro_counts if run else dance.intro_counts
    if counts is None:
        return ""
    when = f"Begins after {foot_count_words(counts)}" if counts else "Begins with the first count"
    return f"{when}, about {round(run.start.time_s)} seconds into the song." if run else f"{when}."


def _tempo(dance: Dance, run: Run | None) -> str:
    """The tempo of this song, and the sheet's where that is another; without a song the sheet's."""
    tempo, heard = dance.tempo_bpm, _danced_at(run)
    low, high = tempo if isinstance(tempo, tuple) else (tempo, tempo)
    words = "" if low is None or high is None else f"{low:g}" if low == high else f"{low:g} to {high:g}"
    if heard is None:
        return f"{words} beats a minute." if words else ""
    here = f"On this song about {heard:.0f} counts a minute"
    same = low is None or high is None or low * (1 - SAME_TEMPO) <= heard <= high * (1 + SAME_TEMPO)
    return f"{here}." if same else f"{here}; the sheet says {words}."


def _danced_at(run: Run | None) -> float | None:
    """Counts a minute of the walls that another follows without a tag; None where no wall can tell."""
    if run is None:
        return None
    held = {tag.after_wall or tag.in_wall for tag in run.tags}
    pairs = zip(run.walls, run.walls[1:], strict=False)
    spans = [(later.start_s - wall.start_s) / wall.counts for wall, later in pairs if wall.wall not in held]
    return 60.0 / median(spans) if spans and median(spans) > 0 else None


def _starts_with(dance: Dance) -> str:
    free = {Weight.LEFT: "right", Weight.RIGHT: "left"}.get(dance.start_weight)
    return f"The {free} foot begins." if free else ""


def _section(dance: Dance, section: Section, events: Sequence[Event], run: Run | None, around: Around) -> SheetSection:
    rows = section_lines(dance, section, events)
    drawn = [sheet_line(row, beads_a_row=around.beads_a_row) for row in rows]
    first = section.start.whole
    last = first + int(section.length.n) - 1
    for after, words in restart_words(dance, run):
        if first <= after <= last:
            k = _line_of(rows, after - first + 1)
            drawn[k] = replace(drawn[k], after=" ".join(filter(None, (drawn[k].after, words))))
    picture = around.picture_of(section) if around.picture_of else None
    counts = f"counts {first}–{last}" if last > first else f"count {first}"
    if all(rests(row) for row in rows):  # the arms are the dance: said once, and no line calls them arms
        counts += "; feet rest"
        drawn = [replace(line, feet=line.arms, arms="") for line in drawn]
    return SheetSection(section_name(dance, section, events), counts, tuple(drawn), picture=picture,
                        number=str(section.number))  # fmt: skip


def _line_of(rows: Sequence[Line], local: int) -> int:
    holds = [any(b.label == str(local) for b in row.beads) for row in rows]
    return holds.index(True) if any(holds) else len(rows) - 1


def sheet_line(row: Line, *, beads_a_row: int) -> SheetLine:
    """Return a line with its signs drawn."""
    plan = plan_picture(row.facing_deg, row.turn_deg) if row.facing_deg is not None else None
    feet = "" if rests(row) else row.feet
    return SheetLine(row.label, beads_picture(row.beads, per_row=beads_a_row), feet, row.arms, plan)


def _foot(around: Around) -> str:
    made = f"{around.made_on.day} {around.made_on:%B %Y}" if around.made_on else ""
    return " · ".join(part for part in (around.maker, made, around.edition_note) if part)
