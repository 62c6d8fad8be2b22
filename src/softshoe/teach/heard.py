"""What is heard where a tag begins or is over, or a wall is cut: a new part of the song, where the song map is sure."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.fit.run import RunRestart
    from softshoe.fit.timeline import Moment
    from softshoe.music.songmap import SongMap

SURE = 0.7  # surer than this a phrase is told
NEAR_BEATS = 0.5
BEGINS = "You hear it begin: a new part of the song."
OVER = "You hear it end: then a new part of the song begins."
CUT = "You hear it: a new part of the song begins there."


def tag_heard(moments: Sequence[Moment], song: SongMap, tag: int) -> str:
    """Return the sentence that tells a tag (its place in the run's tags) by ear; "" where nothing sure is heard."""
    within = [k for k, moment in enumerate(moments) if moment.tag == tag]
    if not within:
        return ""
    if _part_begins(song, moments[within[0]].at_s):
        return BEGINS
    after = within[-1] + 1
    return OVER if after < len(moments) and _part_begins(song, moments[after].at_s) else ""


def cut_heard(moments: Sequence[Moment], song: SongMap, cut: RunRestart) -> str:
    """Return the sentence that tells by ear where a wall is cut; "" where nothing sure is heard."""
    after = next((m for m in moments if m.part in ("wall", "tag") and _later(m, cut)), None)
    return CUT if after is not None and _part_begins(song, after.at_s) else ""


def _later(moment: Moment, cut: RunRestart) -> bool:
    """True for what is danced after the wall that is cut: its tag, or the next wall."""
    return moment.wall > cut.wall or (moment.part == "tag" and moment.wall == cut.wall)


def _part_begins(song: SongMap, at_s: float) -> bool:
    near_s = NEAR_BEATS * 60.0 / song.tempo_bpm
    return any(
        abs(phrase_s - at_s) <= near_s and sure >= SURE
        for phrase_s, sure in zip(song.phrases_s, song.confidence.phrases, strict=False)
    )
