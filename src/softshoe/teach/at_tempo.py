"""The dance at tempo, on the song: films of the whole dance and practice tracks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.teach.calls import Speech, spoken
from softshoe.teach.cards import care_lines
from softshoe.teach.laid import USUAL_ROOM, laid_out
from softshoe.teach.lesson import EVEN, Lesson, Passage, View
from softshoe.teach.shown import beats_of
from softshoe.teach.voice import captions_of, one_at_a_time
from softshoe.teach.wholes import figure_of, marks

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.fit.timeline import Moment
    from softshoe.music.songmap import SongMap
    from softshoe.teach.laid import Laid
    from softshoe.teach.lesson import Beat
    from softshoe.teach.room import Room

CLEAR = 0.5


def at_tempo(
    dance: Dance,
    version: Version,
    run: Run,
    song: SongMap,
    timeline: Sequence[Moment],
    *,
    pace: float = 1.0,
    speech: Speech = "both",
    card_s: float = 0.0,
    fading: bool = True,
    room: Room = USUAL_ROOM,
) -> Lesson:
    """Return the lesson of the whole dance on the song.

    ``pace`` is the share of the song's speed (0.7, 0.85, 1.0); ``speech`` whether cues and counts are spoken, counts
    only, or nothing; ``card_s`` seconds of a title card before the song; ``room`` and
    ``fading`` as in ``laid.laid_out``. Keys of motions are those of ``parts.parts``.
    """
    at_s = tuple(card_s + moment.at_s / pace for moment in timeline)
    laid = laid_out(dance, version, run, timeline, at_s, room=room, fading=fading)
    length_s = card_s + song.end_s / pace
    cues = one_at_a_time(spoken(laid, speech=speech))
    beats = tuple(beats_of(laid, length_s=length_s))
    return Lesson(
        title=dance.title,
        length_s=length_s,
        passages=tuple(_passages(dance, laid, beats, card_s=card_s, length_s=length_s)),
        cues=cues,
        captions=captions_of(cues, length_s=length_s, music_s=card_s),
        song_start_s=card_s,
        pace=pace,
        swing=swing_of(song),
    )


def swing_of(song: SongMap) -> float:
    """Return where "&" falls in a song, half way where nothing else is clearly heard."""
    return song.swing.share if song.swing is not None and song.swing.confidence >= CLEAR else EVEN


def _passages(
    dance: Dance, laid: Laid, beats: tuple[Beat, ...], *, card_s: float, length_s: float
) -> Iterator[Passage]:
    figure = figure_of(laid.version)
    view: View = "behind" if any(action.turn_deg for action in laid.version.dance.actions) else "mirror"
    if card_s > 0:
        yield Passage(dance.title, 0.0, card_s, figure, view, (), care_lines(seated=laid.version.dance.seated))
    starts = [(0, "Intro"), *marks(laid)]
    ends = [first for first, _ in starts[1:]] + [len(beats)]
    for (first, title), last in zip(starts, ends, strict=True):
        start_s = card_s if first == 0 else laid.at_s[first]
        end_s = length_s if last == len(beats) else laid.at_s[last]
        yield Passage(title, start_s, end_s, figure, view, beats[first:last])
