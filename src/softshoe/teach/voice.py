"""Who speaks when: wanted words are let in by rank, never two at once, and written as captions.

A count or cue sounds a little before its second, since the vowel falls on it; a remark begins there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.teach.lesson import Caption, Cue, Voice

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

ONSET_S = 0.1
NEARLY_S = 0.01
GAP_S = 0.04
LEAD_S = 0.075  # most words are heard 0.03 to 0.12 s before their vowel: captions come in the middle of that
# Words that begin with a hiss and another consonant are heard longer before it, those that begin with it hardly at all:
# measured on 209 cues of ten dances.
HISSES, HISS_S = ("sc", "sh", "sk", "sl", "sm", "sn", "sp", "st", "sw", "thr"), 0.14
OPENS, OPEN_S = ("arm", "eight", "elbow", "open", "out"), 0.02
LIGHT_WORDS, LIGHT_S = frozenset(("a", "and", "from", "on", "the", "to")), 0.1  # said quickly, before the stress
WORD_S, BREATH_S = 0.33, 0.15  # a word spoken slowly and clearly; before and after
JOIN_S = 0.6  # between the end of one word and the next on the same caption
JOINED_MOST_S = 6.6
FOUR, THREE = 4, 3  # counts told together: half a section of eight, half a section of six
OF_EIGHT = ("seven", "eight")
SHORT_CUE_S = 1.2
PAUSE_S, AFTER_S = 0.3, 0.6  # between sentences; after something danced
LINE_CHARS = 42
COMMA_CHARS = 16  # so much less even a break after a comma may be
CAPTION_LEAST_S, CAPTION_MOST_S = 0.834, 7.0  # five sixths of a second and a little
READ_WORD_S = 60 / 140
DIGITS = {w: str(n) for n, w in enumerate(("one", "two", "three", "four", "five", "six", "seven", "eight"), start=1)}


@dataclass(frozen=True, slots=True)
class Wanted:
    """Words that want to be said; a lower rank comes first when two would sound together."""

    at_s: float
    room_s: float
    words: str
    voice: Voice
    rank: int

    @property
    def begins_s(self) -> float:
        """When the sound may begin."""
        return self.at_s if self.voice == "remark" else self.at_s - ONSET_S

    @property
    def ends_s(self) -> float:
        """When the sound is over at the latest."""
        return self.at_s + self.room_s


def count_room_s(step_s: float) -> float:
    """Return how long a word on every count may last."""
    return max(0.2, step_s - ONSET_S - GAP_S - 0.005)


def spoken_s(words: str) -> float:
    """Return about how long words take to say slowly and clearly, in seconds."""
    return BREATH_S + WORD_S * len(words.split())


def fitting(words: str, room_s: float) -> str:
    """Return the words, the last things left out until they can be said in the room; the first thing always stays.

    >>> fitting("roll, pat, clap", 1.0)
    'roll, pat'
    """
    items = words.split(", ")
    while len(items) > 1 and spoken_s(", ".join(items)) > room_s + NEARLY_S:
        items.pop()
    return ", ".join(items)


def first_fitting(ways: Sequence[str], room_s: float) -> str:
    """Return the first wording that can be said whole in the room; where none can, the last, cut to fit.

    >>> first_fitting(("jazz box, quarter right, to the back", "quarter right, to the back", "jazz box"), 2.2)
    'quarter right, to the back'
    """
    return next((words for words in ways if spoken_s(words) <= room_s + NEARLY_S), fitting(ways[-1], room_s))


def one_at_a_time(wanted: Iterable[Wanted]) -> tuple[Cue, ...]:
    """Return the cues let in: none begins before the one before it is over."""
    taken: list[Wanted] = []
    for want in sorted(wanted, key=lambda w: (w.rank, w.at_s)):
        if want.begins_s >= 0 and all(_apart(want, other) for other in taken):
            taken.append(want)
    return tuple(Cue(w.at_s, w.room_s, w.words, w.voice) for w in sorted(taken, key=lambda w: w.at_s))


def _apart(a: Wanted, b: Wanted) -> bool:
    return a.begins_s >= b.ends_s + GAP_S or b.begins_s >= a.ends_s + GAP_S


def captions_of(cues: Sequence[Cue], *, length_s: float, music_s: float | None = None) -> tuple[Caption, ...]:
    """Return what is said as captions: counts of one breath together, each long enough to be read.

    ``music_s`` is when music starts to sound, if it does.
    """
    rows = [(cue.at_s, cue.at_s + cue.room_s, cue.words, cue.voice) for cue in cues]
    together = FOUR if any(cue.words in OF_EIGHT for cue in cues) else THREE
    said = [(start, end, words) for start, end, words in _breaths(rows, together) if words]
    if music_s is not None and (not said or said[0][0] > music_s + CAPTION_LEAST_S):
        said.insert(0, (music_s, music_s + 2.0, "[music starts]"))
    captions: list[Caption] = []
    for index, (begins, end, words) in enumerate(said):
        until = said[index + 1][0] if index + 1 < len(said) else length_s
        start = max(begins, captions[-1].end_s) if captions else begins
        until = max(until, min(start + CAPTION_LEAST_S, until + LEAD_S))  # the next one lets it be read
        wanted = max(end, start + CAPTION_LEAST_S, start + READ_WORD_S * len(words.split()))
        stop = min(wanted, until, start + CAPTION_MOST_S)
        if stop - start >= CAPTION_LEAST_S:
            captions.append(Caption(start, stop, two_lines(words)))
    return tuple(captions)


def _breaths(rows: Sequence[tuple[float, float, str, str]], together: int) -> list[tuple[float, float, str]]:
    """Put counts and short cues that follow one another on one caption: "1 2 3 4", "heel, home, heel, home"."""
    said: list[tuple[float, float, str]] = []
    joined = 0
    for index, (start, end, words, voice) in enumerate(rows):
        word = DIGITS.get(words, words)
        before = rows[index - 1] if index else None
        short = before is not None and (voice == "count" or max(end - start, before[1] - before[0]) < SHORT_CUE_S)
        joins = before is not None and short and before[3] == voice != "remark" and start - before[1] < JOIN_S
        if said and joins and joined < together and word != "1" and _room_on_line(said[-1], word, end):
            joined += 1
            first, _, so_far = said[-1]
            said[-1] = (first, end, f"{so_far}, {word}")
        else:
            joined = 1
            said.append((start if voice == "remark" else max(0.0, start - _lead_s(words)), end, word))
    return said


def _lead_s(words: str) -> float:
    """About how long before its stressed vowel a count or cue is heard. [s]"""
    parts = words.split()
    light = next((k for k, word in enumerate(parts) if word not in LIGHT_WORDS), 0)
    word = parts[light] if parts else ""
    own_s = HISS_S if word.startswith(HISSES) else OPEN_S if word.startswith(OPENS) else LEAD_S
    return own_s + LIGHT_S * light


def _room_on_line(said: tuple[float, float, str], word: str, end: float) -> bool:
    return len(said[2]) + len(word) + 2 <= LINE_CHARS and end - said[0] <= JOINED_MOST_S


def two_lines(words: str) -> str:
    """Return words broken into at most two lines of 42 characters, after a comma if
    that is nearly even; longer words are cut at a word.

    >>> two_lines("sit well back, feet flat on the floor, and let your arms hang loose")
    'sit well back, feet flat on the floor,\\nand let your arms hang loose'
    """
    if len(words) <= LINE_CHARS:
        return words
    parts = words.split(" ")
    breaks = [i for i in range(1, len(parts)) if len(" ".join(parts[:i])) <= LINE_CHARS]
    if not breaks:
        return words[:LINE_CHARS]
    at = min(breaks, key=lambda i: _unevenness(parts, i))
    second = " ".join(parts[at:])
    if len(second) > LINE_CHARS:
        at = breaks[-1]
        second = " ".join(parts[at:])[:LINE_CHARS].rsplit(" ", 1)[0]
    return f"{' '.join(parts[:at])}\n{second}"


def _unevenness(parts: Sequence[str], at: int) -> int:
    apart = abs(len(" ".join(parts[:at])) - len(" ".join(parts[at:])))
    return apart - COMMA_CHARS * parts[at - 1].endswith((",", ".", ":"))
