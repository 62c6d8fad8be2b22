"""What the listener says of a song: beats tapped along, kept in a text file.

One tap a line: seconds, or minutes:seconds ("12.48", "1:02.5"). A comma may stand for the point. What follows the first
word of a line, blank lines, and lines that begin with # are passed over, so label tracks of sound editors can be used.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.errors import MusicError

if TYPE_CHECKING:
    from pathlib import Path

TIME = re.compile(r"(?:(\d{1,3}):)?(\d{1,6}(?:[.,]\d{1,9})?)")
LEAST_TAPS = 4
LARGEST_BYTES = 1_000_000


def tap_s(word: str) -> float | None:
    """Return the seconds that a word says, or None when it is no time.

    >>> tap_s("1:02,5"), tap_s("12.48"), tap_s("soon")
    (62.5, 12.48, None)
    """
    match = TIME.fullmatch(word)
    if match is None:
        return None
    return 60 * int(match[1] or 0) + float(match[2].replace(",", "."))


def taps_from(path: Path) -> tuple[float, ...]:
    """Return the tapped beats of a text file in rising order, without doubles. [s]

    Raises MusicError when the file can't be read, a line holds no time, or there are fewer than four taps.
    """
    lines = _lines(path)
    taps: set[float] = set()
    for number, line in enumerate(lines, 1):
        word = line.split(maxsplit=1)[0] if line.strip() else "#"
        if word.startswith("#"):
            continue
        seconds = tap_s(word)
        if seconds is None:
            place, what = f"{path.name}, line {number}", f"“{word[:40]}” is not a time"
            mend = "write one time a line, as in 12.48 or 1:02.5"
            raise MusicError(place, what, "a tap is a number of seconds", mend)
        taps.add(seconds)
    if len(taps) < LEAST_TAPS:
        raise MusicError(path.name, f"only {len(taps)} different taps", "a beat needs at least four taps to be known",
                         "tap along for eight counts or more")  # fmt: skip
    return tuple(sorted(taps))


def _lines(path: Path) -> list[str]:
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise MusicError(path.name, "this is too large for a list of taps", "it holds over a million letters",
                             "choose the text file with the tapped times")  # fmt: skip
        return path.read_text("utf-8-sig").splitlines()
    except UnicodeDecodeError as wrong:
        raise MusicError(path.name, "the taps can't be read", "this is not a text file",
                         "save the times as plain text, one a line") from wrong  # fmt: skip
    except OSError as wrong:
        raise MusicError(path.name, "the taps can't be read", "there is no such file, or it may not be opened",
                         "check the name and the folder") from wrong  # fmt: skip
