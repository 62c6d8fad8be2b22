"""Which piece of a recording is which word: a recogniser's guess at each, laid against the order they were asked in.

Words may be missing, said twice (the last take counts), or have a cough between them. Where no recogniser is installed
there must be as many pieces as words.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from softshoe.render.voice_aligner import HEARD_HZ, pcm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.render.band import Samples

# What it costs to take a piece for a word: heard as that word, not made out, heard as another.
AS_ASKED, NOT_MADE_OUT, AS_ANOTHER = 0.0, 0.55, 0.95
UNSURE = 1.45  # the last two, where pieces and words are not equally many: a wrong word is worse than a missing one
LEFT_OUT = 0.7  # a piece that is no word, or a word that is not there: two of them cost more than one doubtful pair
EARLIER_TAKE = 0.69  # of two takes the first is left out


def heard_as(piece: Samples, rate_hz: int, words: Sequence[str]) -> str | None:
    """Return which of the words this piece sounds like most, None where none is made out or there is no recogniser."""
    decoder = _recogniser(tuple(sorted(set(words))))
    if decoder is None:
        return None
    decoder.start_utt()
    decoder.process_raw(pcm(piece, rate_hz), full_utt=True)
    decoder.end_utt()
    guess = decoder.hyp()
    return guess.hypstr if guess else None


@lru_cache(maxsize=2)
def _recogniser(words: tuple[str, ...]) -> Any:
    try:
        import pocketsphinx

        decoder = pocketsphinx.Decoder(samprate=HEARD_HZ, lm=None, loglevel="FATAL")
        decoder.add_jsgf_string("words", f"#JSGF V1.0; grammar words; public <word> = {' | '.join(words)} ;")
        decoder.activate_search("words")
    except (ImportError, RuntimeError, ValueError):
        return None
    return decoder


def told_apart(guesses: Sequence[str | None], words: Sequence[str]) -> list[int | None]:
    """Return for each word the piece that holds it, None where it is missing.

    >>> told_apart(["one", None, "two", "two", "four"], ["one", "two", "three", "four"])
    [0, 3, None, 4]
    >>> told_apart(["one", "two", None, "four"], ["one", "two", "three", "four"])
    [0, 1, 2, 3]
    """
    rows, columns = len(words), len(guesses)
    cost = [[0.0] * (columns + 1) for _ in range(rows + 1)]
    step = [[""] * (columns + 1) for _ in range(rows + 1)]
    for i in range(rows + 1):
        for j in range(columns + 1):
            ways = []
            if i and j:
                ways.append((cost[i - 1][j - 1] + _doubt(guesses[j - 1], words[i - 1], even=rows == columns), "pair"))
            if j:
                again = j < columns and guesses[j - 1] is not None and guesses[j] == guesses[j - 1]
                ways.append((cost[i][j - 1] + (EARLIER_TAKE if again else LEFT_OUT), "piece"))
            if i:
                ways.append((cost[i - 1][j] + LEFT_OUT, "word"))
            if ways:
                cost[i][j], step[i][j] = min(ways, key=lambda way: way[0])
    return _walked(step, rows, columns)


def _doubt(guess: str | None, word: str, *, even: bool) -> float:
    if guess == word:
        return AS_ASKED
    if not even:
        return UNSURE
    return NOT_MADE_OUT if guess is None else AS_ANOTHER


def _walked(step: list[list[str]], i: int, j: int) -> list[int | None]:
    out: list[int | None] = [None] * i
    while i or j:
        way = step[i][j]
        if way == "pair":
            out[i - 1] = j - 1
        i -= way in ("pair", "word")
        j -= way in ("pair", "piece")
    return out
