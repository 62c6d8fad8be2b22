"""What was heard, in sentences a leader can check by ear."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from typing import TYPE_CHECKING

from softshoe.music.tempo_curve import tempo_words

if TYPE_CHECKING:
    from softshoe.music.songmap import Said, SongMap

NEAR_S = 0.01
WEAK = 0.65
EVEN, FULL_SWING = 0.5, 0.62  # of a beat: where “&” falls
PARTS = {
    "beats": "where the beats fall",
    "tempo": "the speed: half or twice as fast",
    "metre": "whether it is a waltz",
    "downbeats": "which beat begins the bar",
    "eights": "which beat is “one” of the eight",
    "first_count": "where the dance begins",
}
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def counts_between(song: SongMap, start_s: float, end_s: float) -> int:
    """Return how many beats of a song fall from one moment until before another."""
    beats = song.beats_s
    return max(0, bisect_left(beats, end_s - NEAR_S) - bisect_left(beats, start_s - NEAR_S))


def phrase_counts(song: SongMap) -> tuple[int, ...]:
    """Return how many counts each phrase has, the last up to the last beat."""
    ends = (*song.phrases_s[1:], song.end_s)
    return tuple(counts_between(song, start, end) for start, end in zip(song.phrases_s, ends, strict=True))


def clock(seconds: float) -> str:
    """Return a moment of a song, "1:05"."""
    return f"{int(seconds + 0.5) // 60}:{int(seconds + 0.5) % 60:02d}"


def why(song: SongMap) -> tuple[str, ...]:
    """Return sentences on tempo, metre, first count, phrases, extra counts, what to check, what was said."""
    found = [
        f"The tempo {_tempo(song)}.",
        *_octave(song),
        _metre(song),
        *_swing(song),
        _start(song),
        *_phrases(song),
        *_check(song),
    ]
    told = said_words(song.said)
    return (*found, f"You said: {told}; that was kept.") if told else tuple(found)


def _tempo(song: SongMap) -> str:
    words = tempo_words(song.tempo_curve) if song.tempo_curve else f"is {song.tempo_bpm:.0f}"
    if words.startswith("steady at"):
        return f"is steady at {song.tempo_bpm:.1f} beats a minute".replace(".0 ", " ")
    return f"{words} beats a minute" if "changes" not in words else words


def _octave(song: SongMap) -> list[str]:
    others = [a for a in song.alternatives if abs(a.tempo_bpm / song.tempo_bpm - 1) > 0.2 and a.confidence >= 0.1]
    if not others:
        return []
    other = others[0]
    way = "half as fast" if other.tempo_bpm < song.tempo_bpm else "twice as fast"
    return [
        f"It can also be counted {way}, at {other.tempo_bpm:.0f}: one in {max(2, round(1 / other.confidence))} would."
    ]


def _metre(song: SongMap) -> str:
    if song.metre == 3:
        return "Three beats in a bar, a waltz: it is counted in sixes."
    return "Four beats in a bar: it is counted in eights."


def _swing(song: SongMap) -> list[str]:
    swing = song.swing
    if swing is None:
        return []
    doubt = "" if swing.confidence >= WEAK else " That is not sure: listen between the beats."
    if swing.share <= EVEN:
        return [f"It goes evenly: “&” falls half way between the beats.{doubt}"]
    three = ", played in triplets" if swing.triplets else ""
    return [f"It swings{three}: “&” comes late, {_late(swing.share)} through the beat.{doubt}"]


def _late(share: float) -> str:
    return "about two thirds" if share >= FULL_SWING else f"a little past half, at {share:.0%}"


def _start(song: SongMap) -> str:
    before = counts_between(song, 0.0, song.first_count_s)
    if not before:
        return f"The dance begins with the first beat, at {clock(song.first_count_s)}."
    eight = 2 * song.metre
    odd = before % eight
    whole = ("1 count" if before == 1 else f"{before} counts") + (
        f" ({before // eight} times {eight}, and {odd} over)" if odd < before and odd else ""
    )
    return f"The dance begins at {clock(song.first_count_s)}, after {whole} of intro."


def _phrases(song: SongMap) -> list[str]:
    lengths = phrase_counts(song)
    if not lengths:
        return ["No phrases stand out."]
    usual, times = Counter(lengths[:-1] or lengths).most_common(1)[0]
    words = [f"{_number(times)} of {len(lengths)} phrases have {usual} counts." if len(lengths) > 1 else ""]
    eight = 2 * song.metre
    for number, (start, counts) in enumerate(zip(song.phrases_s, lengths[:-1], strict=False), 1):
        over = counts % eight
        if over and counts > eight:
            many = "1 count less" if over == eight - 1 else "1 count more" if over == 1 else f"{over} counts more"
            words.append(f"Phrase {number} (from {clock(start)}) has {many} than whole {_whole(eight)}.")
    return [w[0].upper() + w[1:] for w in words if w]


def _whole(eight: int) -> str:
    return "eights" if eight == 8 else "sixes"


def _number(n: int) -> str:
    return NUMBERS[n] if n < len(NUMBERS) else str(n)


def _check(song: SongMap) -> list[str]:
    sure = {name: getattr(song.confidence, name) for name in PARTS}
    weakest = min(sure, key=lambda name: sure[name])
    if sure[weakest] >= WEAK:
        return []
    return [f"Least sure is {PARTS[weakest]}: play it at {clock(song.first_count_s)} and count along."]


def said_words(said: Said) -> str:
    """Return what the listener said, in words; "" when nothing.

    >>> from softshoe.music.songmap import Said
    >>> said_words(Said(tempo_bpm=112.0, metre=3))
    'the tempo is 112, it is a waltz'
    """
    words = []
    if said.tempo_bpm is not None:
        words.append(f"the tempo is {said.tempo_bpm:g}")
    if said.first_count_s is not None:
        words.append(f"the dance begins at {said.first_count_s:.2f} s")
    if said.metre is not None:
        words.append("it is a waltz" if said.metre == 3 else "it has four in a bar")
    if said.taps_s:
        words.append(f"{len(said.taps_s)} tapped beats")
    if said.ones_s:
        words.append("one at " + ", ".join(f"{one:.1f} s" for one in said.ones_s))
    return ", ".join(words)
