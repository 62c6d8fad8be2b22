"""A song is heard in a process of its own, with limits of time and memory: a broken file can't take the studio along.

What was heard lies in the user's cache, as for the command line; the wave for the picture lies beside it.
"""

from __future__ import annotations

import re
import threading
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal

from softshoe.errors import MusicError, WorkbenchError
from softshoe.files import write_whole
from softshoe.studio.alone import done_alone

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from softshoe.jobs.step import Step
    from softshoe.music.listen import Hearsay
    from softshoe.music.songmap import Said, SongMap

MOST_CPU_S = 900
MOST_BYTES = 6_000_000_000
MOST_S = 1200.0
HINT_S, HINT_A_MB_S = 5.0, 0.25
WAVE_HZ = 25
CONTENT = re.compile(r"[0-9a-f]{64}")
State = Literal["heard", "hearing", "failed"]


@dataclass(frozen=True, slots=True)
class Hearing:
    """How it goes: ``share`` 0 to 1 is an estimate from the size of the file; ``wrong`` is why it failed."""

    state: State
    share: float = 0.0
    words: str = ""
    wrong: WorkbenchError | None = None


def hear(step: Step, _: Callable[[float], None]) -> None:
    """Hear a song and draw its wave: the work of the process. Raises MusicError."""
    _limited()
    from softshoe.music.audio import heard
    from softshoe.music.kept import heard_once
    from softshoe.render.song_wave import PIECES_HZ, wave_of

    try:
        heard_once(step.reads[0], where=step.settings["name"])
        swing = wave_of(heard(step.reads[0])).swing
    except MemoryError as wrong:
        raise MusicError(step.settings["name"], "it can't be heard", "it asks for more memory than a song may have",
                         "save it again as mp3 or wav, or choose another file") from wrong  # fmt: skip
    import numpy as np

    width = PIECES_HZ // WAVE_HZ
    whole = swing[: len(swing) // width * width].reshape(-1, width).max(axis=1)
    write_whole(step.leaves[0], (255 * whole).astype(np.uint8).tobytes())


def _limited() -> None:
    """Bound what this process may take."""
    import resource

    for what, most in ((resource.RLIMIT_CPU, MOST_CPU_S), (resource.RLIMIT_AS, MOST_BYTES)):
        _, hard = resource.getrlimit(what)
        resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))


@dataclass(slots=True)
class Hearings:
    """The songs that are being heard, by the sha256 of their recordings. ``waves`` is the folder of waves."""

    waves: Path
    _now: dict[str, Hearing] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def wave(self, content: str) -> bytes:
        """Return the swing of a song, 0 to 255, ``WAVE_HZ`` a second; b"" where it was not heard here."""
        if not CONTENT.fullmatch(content):
            return b""
        try:
            return (self.waves / f"{content}.wave").read_bytes()
        except OSError:
            return b""

    def told(self, content: str) -> Hearing:
        """Return how the hearing of a recording goes."""
        with self._lock:
            now = self._now.get(content)
        if now is not None:
            return now
        return Hearing("heard", 1.0) if self.wave(content) else Hearing("failed")

    def begin(self, path: Path, content: str, name: str, then: Callable[[], None]) -> None:
        """Hear a recording, unless it is being heard; ``then`` is done before it counts as heard."""
        with self._lock:
            if self._now.get(content, Hearing("failed")).state == "hearing":
                return
            self._now[content] = Hearing("hearing", 0.0, "Listening to the song")
        from softshoe.jobs.step import Step

        step = Step("listen", "Listening to the song", hear, {"name": name}, (path,), (self.waves / f"{content}.wave",))
        threading.Thread(target=self._heard, args=(step, content, then), daemon=True).start()

    def _heard(self, step: Step, content: str, then: Callable[[], None]) -> None:
        try:
            if not step.leaves[0].is_file():
                self._child(step, content)
            self._put(content, share=0.97, words="Counting")
            then()
            now = Hearing("heard", 1.0, "Heard")
        except WorkbenchError as wrong:
            now = Hearing("failed", 0.0, "", wrong)
        except Exception as wrong:  # whatever it was, nobody is left waiting for it
            told = MusicError(step.settings["name"], "it was not heard to its end", str(wrong),
                              "try once more; if it stays so, save it again as mp3 or wav")  # fmt: skip
            now = Hearing("failed", 0.0, "", told)
        with self._lock:
            self._now[content] = now

    def _child(self, step: Step, content: str) -> None:
        hint_s = HINT_S + HINT_A_MB_S * step.reads[0].stat().st_size / 1e6

        def waiting(gone: float) -> None:
            if gone > MOST_S:
                raise MusicError(step.settings["name"], "it can't be heard", "it takes far too long",
                                 "save it again as mp3 or wav, or choose another file")  # fmt: skip
            self._put(content, share=min(0.95, gone / (gone + hint_s / 2)), words="Listening to the song")

        done_alone(step, waiting=waiting)

    def _put(self, content: str, *, share: float, words: str) -> None:
        with self._lock:
            self._now[content] = replace(self._now[content], share=share, words=words)


@lru_cache(maxsize=2)
def _hearsay(path: Path, name: str) -> Hearsay:
    from softshoe.music.kept import heard_once

    return heard_once(path, where=name)


@lru_cache(maxsize=32)
def counted_so(path: Path, name: str, said: Said) -> SongMap:
    """Return a recording that was heard, counted with the listener's word; raises MusicError, SettingError."""
    from softshoe.music.listen import counted

    return counted(_hearsay(path, name), said)


def lines_view(song: SongMap) -> list[dict[str, Any]]:
    """Return the song as lines of counts, as the picture of a song has them."""
    from softshoe.render.song_lines import song_lines

    return [
        {"kind": line.kind, "number": line.number, "beats": [round(at, 3) for at in line.beats_s], "ends": line.ends_s,
         "ones": line.ones, "extra": line.extra, "begins": line.begins, "sure": line.certainty or "",
         "tempo": line.tempo_bpm}
        for line in song_lines(song)
    ]  # fmt: skip
