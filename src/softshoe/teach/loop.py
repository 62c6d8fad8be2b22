"""One section of the dance on the song's own seconds, to be danced round and round."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.errors import SettingError
from softshoe.teach.laid import laid_out
from softshoe.teach.lesson import Cue, Lesson, Passage
from softshoe.teach.pieces import let_in
from softshoe.teach.shown import beats_of
from softshoe.teach.voice import Wanted, captions_of, count_room_s, fitting
from softshoe.teach.wholes import figure_of
from softshoe.teach.words import count_word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.fit.timeline import Moment
    from softshoe.teach.calls import Speech
    from softshoe.teach.laid import Laid

CALL, COUNT = range(2)


def section_loop(
    dance: Dance,
    version: Version,
    run: Run,
    timeline: Sequence[Moment],
    *,
    section: int,
    pace: float = 1.0,
    speech: Speech = "both",
) -> Lesson:
    """Return one round of a section, as it is danced the first time: its last second is its first again.

    The song's second ``t`` is the lesson's ``song_start_s + t / pace``, as ever; here it began before the lesson.
    ``speech``: the name of each half on its first count and counts besides, counts alone, or nothing.
    Raises SettingError where the dance has no such section or it is nowhere danced whole.
    """
    first, last = _moments(dance, timeline, section)
    start_s, end_s = timeline[first].at_s, timeline[last].at_s
    at_s = tuple((moment.at_s - start_s) / pace for moment in timeline)
    laid = laid_out(dance, version, run, timeline, at_s)
    beats = tuple(beats_of(laid, length_s=at_s[-1] + laid.step_s))[first:last]
    said = let_in(list(_said(laid, first, last, speech)), at_s) if speech != "none" else ()
    cues = tuple(Cue(at_s[one.beat], one.room_s, one.words, one.voice) for one in said)
    length_s = (end_s - start_s) / pace
    passage = Passage(f"Section {section}", 0.0, length_s, figure_of(version), "mirror", beats)
    return Lesson(
        title=f"{dance.title}, section {section}",
        length_s=length_s,
        passages=(replace(passage, beats=tuple(replace(beat, wall=None) for beat in beats)),),
        cues=cues,
        captions=captions_of(cues, length_s=length_s),
        song_start_s=-start_s / pace,
        pace=pace,
    )


def _moments(dance: Dance, timeline: Sequence[Moment], section: int) -> tuple[int, int]:
    """The first moment of the section and the one behind its last, where it is first danced whole and goes on."""
    known = [one for one in dance.sections if one.number == section]
    if not known:
        raise SettingError("--section", f"there is no section {section}", f"the dance has {len(dance.sections)}",
                           f"say a number from 1 to {len(dance.sections)}")  # fmt: skip
    counts = range(known[0].start.whole, known[0].start.whole + int(known[0].length.n))
    for at in range(len(timeline) - len(counts)):
        here = timeline[at : at + len(counts)]
        if [m.count.whole if m.part == "wall" and m.count else 0 for m in here] == list(counts):
            return at, at + len(counts)
    raise SettingError("--section", f"section {section} is nowhere danced whole", "the run on this song cuts it",
                       "choose another section, or another song")  # fmt: skip


def _said(laid: Laid, first: int, last: int, speech: Speech) -> Iterator[Wanted]:
    groups = {
        block.first + group.first - block.groups[0].first: group.words
        for block in laid.blocks
        for group in block.groups
        if block.part == "wall"
    }
    for index in range(first, last):
        count = laid.moments[index].count
        room_s = count_room_s(laid.at_s[index + 1] - laid.at_s[index])
        if speech == "both" and index in groups:
            room_s += laid.step_s
            yield Wanted(laid.at_s[index], room_s, fitting(groups[index], room_s), "cue", CALL)
        elif count is not None:
            word = count_word(count.whole, per_section=laid.per_section)
            yield Wanted(laid.at_s[index], room_s, word, "count", COUNT)
