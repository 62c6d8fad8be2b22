"""What no run can mend: findings about a dance and a song that do not belong together as they are."""

from __future__ import annotations

from itertools import pairwise
from statistics import fmean
from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.errors import Finding
from softshoe.fit import score as sc
from softshoe.fit.grid import counted

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance, Level
    from softshoe.errors import Severity
    from softshoe.fit.run import Run
    from softshoe.fit.tempo import Counting
    from softshoe.music.songmap import SongMap

REPAIRS_AT_MOST: dict[Level, int] = {"absolute beginner": 0, "beginner": 1, "improver": 2, "intermediate": 3}
LEAST_INTRO = {False: (8, 6.0), True: (16, 8.0)}  # seated: counts, seconds
SURE_OF_PHRASES, SURE_OF_METRE = 0.6, 0.6
NO_PHRASES = Finding(
    "note",
    "phrases",
    None,
    None,
    "No phrases were found in the song, so walls are laid without regard to them.",
    "Listen where verses and choruses begin.",
)


def metre_finding(dance: Dance, song: SongMap) -> Finding | None:
    """A waltz on a song in four, or the other way round."""
    waltz = dance.metre == "3/4"
    if waltz == (song.metre == 3):
        return None
    asks, has = ("three", "four") if waltz else ("four", "three")
    sure = song.confidence.metre
    doubt = f" The listener is only {sure:.0%} sure of that." if sure < SURE_OF_METRE else ""
    return Finding(
        "error",
        "metre",
        None,
        None,
        f"The dance is counted in {asks} and the song in {has}: no run can bring them together.{doubt}",
        f"Choose a song in {asks}; if you hear {asks} beats to a bar, say so: --metre {3 if waltz else 4}.",
    )


def findings_of(
    dance: Dance, song: SongMap, chosen: Counting, runs: tuple[Run, ...], every: list[Run]
) -> tuple[Finding, ...]:
    """Return what is wrong or doubtful whichever run is taken."""
    found = (
        _tempo(chosen),
        _no_room(runs),
        _sheet_against_song(dance, song, every),
        _intro(dance, runs),
        _endings(dance, runs),
        _too_many(dance, runs),
        None if song.phrases_s else NO_PHRASES,
        _odd_phrases(song, chosen, runs),
    )
    return tuple(one for one in found if one is not None)


def _tempo(chosen: Counting) -> Finding | None:
    if chosen.suits:
        return None
    severity: Severity = "warning" if chosen.verdict.startswith("too") else "note"
    message = (
        f"The song gives {chosen.counts_per_min:.0f} counts a minute: {chosen.verdict} for the people of this dance."
    )
    return Finding(severity, "tempo", None, None, message, "Choose another song, or a practice track at another pace.")


def _no_room(runs: tuple[Run, ...]) -> Finding | None:
    if runs:
        return None
    message = "There are no counts to dance after the first count."
    return Finding("error", "song", None, None, message, "Say where count 1 is: --first-count.")


def _odd_phrases(song: SongMap, chosen: Counting, runs: tuple[Run, ...]) -> Finding | None:
    """Phrases of an odd number of counts are nearly always a slip in the beat, not in the music."""
    if not runs:
        return None
    grid = counted(song, beats_per_count=chosen.beats_per_count, start_s=song.first_count_s)
    odd = [(a.at, b.at - a.at) for a, b in pairwise(grid.phrases) if (b.at - a.at) % 2 and song.metre == 4]
    if not odd:
        return None
    at, counts = odd[0]
    minutes, seconds = divmod(round(grid.times_s[at]), 60)
    message = f"The phrase that begins at {minutes}:{seconds:02d} has {counts} counts: the beat may have slipped there."
    return Finding("note", "beat", None, None, message, "Listen to that place, and tap the beat along if it is wrong.")


def _best(runs: list[Run], *, honours: bool) -> Run | None:
    fits = [r for r in runs if (sc.SHEET_PART not in r.score.parts) == honours]
    return max(fits, key=lambda r: r.score.total, default=None)


def _sheet_against_song(dance: Dance, song: SongMap, every: list[Run]) -> Finding | None:
    """A written tag or restart that leaves phrases missed which another place would meet."""
    if not (dance.tags or dance.restarts):
        return None
    as_written, other = _best(every, honours=True), _best(every, honours=False)
    if as_written is None or other is None or other.score.total <= as_written.score.total:
        return None
    line = (dance.restarts or dance.tags)[0].line
    message = f"The sheet's own {_said_places(dance)} do not fall where this song asks for them."
    unsure = not song.confidence.phrases or fmean(song.confidence.phrases) < SURE_OF_PHRASES
    return Finding(
        "warning" if unsure else "error",
        "written-repair",
        line,
        None,
        message,
        f"This song asks for: {_places(other)}.",
    )


def _said_places(dance: Dance) -> str:
    said = [f"restart on wall {w} after count {r.after_count}" for r in dance.restarts for w in r.walls]
    said += [f"tag of {t.counts} counts on wall {w} after count {t.after_count}" for t in dance.tags for w in t.walls]
    return " and ".join(said)


def _places(run: Run) -> str:
    said = [f"restart on wall {r.wall} after count {r.after_count}" for r in run.restarts]
    said += [f"tag of {t.counts} counts after wall {t.after_wall}" for t in run.tags if t.after_wall]
    return " and ".join(said) or "no tag and no restart"


def _intro(dance: Dance, runs: tuple[Run, ...]) -> Finding | None:
    if not runs:
        return None
    start = runs[0].start
    counts, seconds = LEAST_INTRO[dance.seated]
    if start.intro_counts >= counts and start.time_s >= seconds:
        return None
    message = f"The song gives only {start.intro_counts} counts before the first, {start.time_s:.0f} s into it."
    return Finding("note", "intro", None, None, message, "Count the dancers in aloud before the music starts.")


def _endings(dance: Dance, runs: tuple[Run, ...]) -> Finding | None:
    if not (dance.endings and runs and runs[0].ending):
        return None
    if runs[0].ending.what.startswith("the ending as written"):
        return None
    said, does = dance.endings[0], runs[0].ending
    faces = "" if dance.seated else f", begun facing {clock(said.start_facing_deg)}"
    here = "" if dance.seated else f", begun facing {clock(runs[0].walls[-1].facing_deg)}"
    message = (
        f"The written ending closes a last wall{faces} after count {said.after_count + said.counts}; "
        f"this song stops on count {does.at_count} of wall {does.wall}{here}."
    )
    return Finding("warning", "ending", said.line or None, None, message, f"For this song: {does.what}.")


def _too_many(dance: Dance, runs: tuple[Run, ...]) -> Finding | None:
    if not runs or dance.level not in REPAIRS_AT_MOST or dance.tags or dance.restarts:
        return None
    new = {(t.counts, t.at_count) for t in runs[0].tags} | {r.after_count for r in runs[0].restarts}
    most = REPAIRS_AT_MOST[dance.level]
    if len(new) <= most:
        return None
    message = f"This run needs {len(new)} tag or restart; {dance.level} dancers usually keep {most}."
    mend = "Dance through instead (see the other runs), or choose a plainer song."
    return Finding("note", "level", None, None, message, mend)
