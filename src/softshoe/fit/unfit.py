"""What no run can mend: findings about a dance and a song that do not belong together as they are."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from itertools import pairwise
from statistics import fmean
from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.errors import Finding
from softshoe.fit.drift import drift_findings
from softshoe.fit.grid import counted
from softshoe.fit.rules import limit, most_repairs, part_of
from softshoe.fit.written import written_findings

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.errors import Severity
    from softshoe.fit.run import Run
    from softshoe.fit.tempo import Counting
    from softshoe.music.songmap import SongMap

LEAST_INTRO = {False: (8, 6.0), True: (16, 8.0)}  # seated: counts, seconds
SURE_OF_METRE = 0.6
LASTING_BARS, NEARLY_ALL = 8, 0.9
THIS_IS = {True: "This is a waltz, the song is", False: "This dance is counted in four, the song is"}
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
        f"{THIS_IS[waltz]} in {has}: no run can bring them together.{doubt}",
        f"Choose a song in {asks}; if you hear {asks} beats to a bar, say so: --metre {3 if waltz else 4}.",
    )


def metre_change(song: SongMap) -> tuple[SongMap, tuple[Finding, ...]]:
    """Return the song up to the place where its bars change length for good, and what to say about it."""
    bars = _bars(song)
    lasting = next((k for k in range(LASTING_BARS, len(bars)) if _changes(bars, k, song.metre)), None)
    if lasting is None:
        return song, ()
    at_s = bars[lasting][0]
    other = "three" if song.metre == 4 else "four"
    minutes, seconds = divmod(round(at_s), 60)
    told = Finding(
        "warning",
        "metre",
        None,
        None,
        f"From {minutes}:{seconds:02d} on the song is counted in {other}: the dance is laid up to there.",
        f"End the dance there, or let a dance in {other} follow.",
    )
    return replace(song, end_s=min(song.end_s, at_s)), (told,)


def _bars(song: SongMap) -> list[tuple[float, int]]:
    """Where each bar begins [s] and how many beats it has."""
    at = [bisect_left(song.beats_s, downbeat_s - 1e-6) for downbeat_s in song.downbeats_s]
    return [(start_s, b - a) for start_s, (a, b) in zip(song.downbeats_s, pairwise(at), strict=False)]


def _changes(bars: list[tuple[float, int]], k: int, metre: int) -> bool:
    """True where the bars from here to the end nearly all have the other length, and those before do not."""
    other = 3 if metre == 4 else 4
    after = [beats == other for _, beats in bars[k:]]
    before = [beats == other for _, beats in bars[:k]]
    return (
        bars[k][1] == other
        and len(after) >= LASTING_BARS
        and fmean(after) >= NEARLY_ALL
        and fmean(before) <= 1 - NEARLY_ALL
    )


def findings_of(
    dance: Dance, song: SongMap, chosen: Counting, runs: tuple[Run, ...], every: list[Run]
) -> tuple[Finding, ...]:
    """Return what is wrong or doubtful whichever run is taken."""
    found = (
        _tempo(chosen),
        _no_room(runs),
        *_written(dance, song, every),
        _intro(dance, runs),
        _endings(dance, runs),
        _too_many(dance, runs),
        _phrases_known(song),
        _odd_phrases(song, chosen, runs),
        *_drift(song, runs),
    )
    return tuple(one for one in found if one is not None)


def _written(dance: Dance, song: SongMap, every: list[Run]) -> tuple[Finding, ...]:
    """What is wrong with the sheet's own tags and restarts on this song, where the dance starts as in the best run."""
    as_written = [run for run in every if part_of("off_sheet") not in run.score.parts]
    best = max(as_written, key=lambda run: run.score.total, default=None)
    return written_findings(dance, song, best) if best is not None else ()


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


def _phrases_known(song: SongMap) -> Finding | None:
    if not song.phrases_s:
        return NO_PHRASES
    if max(song.confidence.phrases, default=1.0) >= limit("guess"):
        return None
    message = "The listener is sure of no phrase in the song, so walls are laid without regard to them."
    return replace(NO_PHRASES, message=message)


def _drift(song: SongMap, runs: tuple[Run, ...]) -> tuple[Finding, ...]:
    """How the tempo changes while the best run is danced."""
    if not runs:
        return ()
    grid = counted(song, beats_per_count=runs[0].beats_per_count, start_s=runs[0].start.time_s)
    return drift_findings(grid.times_s)


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
    most = most_repairs().get(dance.level or "")
    if not runs or most is None or dance.tags or dance.restarts:
        return None
    new = {(t.counts, t.at_count) for t in runs[0].tags} | {r.after_count for r in runs[0].restarts}
    if len(new) <= most:
        return None
    message = f"This run needs {len(new)} tag or restart; {dance.level} dancers usually keep {most}."
    mend = "Dance through instead (see the other runs), or choose a plainer song."
    return Finding("note", "level", None, None, message, mend)
