"""The pieces a lesson is put together from, and the clock that lays them one after another.

A piece is sentences, then a card or counts danced with what is said on them. Its beats are seconds from where the
dancing begins, so a piece can be moved, left out, repeated or danced at another speed, its words with it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.teach.lesson import Lesson, Passage
from softshoe.teach.voice import (
    AFTER_S,
    CAPTION_LEAST_S,
    PAUSE_S,
    Wanted,
    captions_of,
    one_at_a_time,
    spoken_s,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from softshoe.teach.lesson import Beat, FigureKind, View, Voice

REMARK = 0  # rank: nothing is said over a sentence, and each has its own time


@dataclass(frozen=True, slots=True)
class Said:
    """Words on a beat of a piece (its index), the seconds they may last."""

    beat: int
    words: str
    voice: Voice
    room_s: float


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece: ``kind`` is a row of ``lesson_parts.csv``, ``section`` the section it teaches (0: none).

    ``names`` names every beat in the lesson's text. ``marks`` are beats at which a passage of another title begins.
    ``rest_s`` is how long a card stays after its sentences. ``length_s`` is how long is danced; with ``song`` the
    recording plays from the first to the last of these seconds at ``pace``.
    """

    kind: str
    title: str
    figure: FigureKind
    view: View = "mirror"
    section: int = 0
    remarks: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    rest_s: float = 0.0
    beats: tuple[Beat, ...] = ()
    names: tuple[str, ...] = ()
    said: tuple[Said, ...] = ()
    length_s: float = 0.0
    marks: tuple[tuple[int, str], ...] = ()
    song: bool = False
    pace: float = 1.0

    @property
    def step_s(self) -> float:
        """The length of its first count in seconds."""
        return self.beats[0].step_s

    @property
    def seconds(self) -> float:
        """How long the piece takes."""
        return sum(map(remark_s, self.remarks)) + (PAUSE_S + self.rest_s if not self.beats else self.length_s)


def remark_s(words: str) -> float:
    """Return how long a sentence takes with the pause behind it."""
    return max(spoken_s(words) + PAUSE_S, CAPTION_LEAST_S + 0.01)


def seconds(pieces: Iterable[Piece]) -> float:
    """Return how long pieces take one after another."""
    return sum(piece.seconds for piece in pieces)


def at_speed(piece: Piece, step_s: float) -> Piece:
    """Return the piece danced with counts of another length."""
    by = step_s / piece.step_s
    beats = tuple(replace(beat, at_s=beat.at_s * by, step_s=beat.step_s * by) for beat in piece.beats)
    said = tuple(replace(one, room_s=one.room_s * by) for one in piece.said)
    return replace(piece, beats=beats, said=said, length_s=(piece.length_s - AFTER_S) * by + AFTER_S)


def let_in(wanted: Sequence[Wanted], at_s: Sequence[float]) -> tuple[Said, ...]:
    """Return what is said of what wants to be said on beats at these seconds: never two voices at once."""
    beat = {second: index for index, second in enumerate(at_s)}
    kept = one_at_a_time(
        [replace(want, at_s=want.at_s + 1.0) for want in wanted]
    )  # a word on the first beat begins early
    places = {(want.at_s + 1.0, want.words): want.at_s for want in wanted}
    return tuple(Said(beat[places[cue.at_s, cue.words]], cue.words, cue.voice, cue.room_s) for cue in kept)


def lesson_of(title: str, pieces: Sequence[Piece], *, told: tuple[str, ...] = ()) -> Lesson:
    """Return the lesson of these pieces, one after another from second 0."""
    passages: list[Passage] = []
    wanted: list[Wanted] = []
    now_s, song_start_s, pace = 0.0, None, 1.0
    for piece in pieces:
        start_s = now_s
        for words in piece.remarks:
            wanted.append(Wanted(now_s, spoken_s(words), words, "remark", REMARK))
            now_s += remark_s(words)
        if piece.song:
            song_start_s, pace = now_s, piece.pace
        wanted += [Wanted(now_s + piece.beats[s.beat].at_s, s.room_s, s.words, s.voice, REMARK) for s in piece.said]
        end_s = now_s + (piece.length_s if piece.beats else PAUSE_S + piece.rest_s)
        passages += _passages(piece, start_s, now_s, end_s)
        now_s = end_s
    cues = one_at_a_time(wanted)
    music_s = song_start_s if pieces and pieces[0].song else None
    captions = captions_of(cues, length_s=now_s, music_s=music_s)
    return Lesson(title, now_s, tuple(passages), cues, captions, song_start_s, pace, told)


def _passages(piece: Piece, start_s: float, danced_s: float, end_s: float) -> Iterator[Passage]:
    beats = tuple(replace(beat, at_s=beat.at_s + danced_s) for beat in piece.beats)
    firsts = [(0, piece.title), *piece.marks]
    lasts = [at for at, _ in firsts[1:]] + [len(beats)]
    for (first, title), last in zip(firsts, lasts, strict=True):
        begins_s = beats[first].at_s if first else start_s
        ends_s = beats[last].at_s if last < len(beats) else end_s
        yield Passage(title, begins_s, ends_s, piece.figure, piece.view, beats[first:last], piece.lines)
