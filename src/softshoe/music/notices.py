"""What is told to the leader before any count: what can't be true of this song, and what to know before trusting it.

Shared by every listener, whatever it hears with.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.errors import Finding, MusicError, SettingError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from softshoe.music.audio import Sound
    from softshoe.music.edges import Edges
    from softshoe.music.songmap import Said

    FloatArray = NDArray[np.float64]

SHORTEST_S = 12.0
SILENCE = 3e-4  # a recording that never rises over about -70 dB is silence
SLOWEST_SAID_BPM, FASTEST_SAID_BPM = 30.0, 260.0
DRIFT = 0.03
LONG_OPENING_S = 2.5


def check_said(said: Said, seconds: float) -> None:
    """Refuse what can't be true of a song so many seconds long; raises SettingError."""
    if said.tempo_bpm is not None and not SLOWEST_SAID_BPM <= said.tempo_bpm <= FASTEST_SAID_BPM:
        raise SettingError("tempo", f"{said.tempo_bpm:g} beats a minute can't be danced",
                           f"songs have between {SLOWEST_SAID_BPM:.0f} and {FASTEST_SAID_BPM:.0f}",
                           "count the beats in 15 seconds and multiply by four")  # fmt: skip
    if said.first_count_s is not None and not 0 <= said.first_count_s < seconds:
        raise SettingError("first count", f"{said.first_count_s:g} s is not in the song",
                           f"the song lasts {seconds:.1f} s", "give the second at which you count one")  # fmt: skip
    if said.metre not in (None, 3, 4):
        what = f"{said.metre} in a bar can't be counted here"
        raise SettingError("metre", what, "dances are counted in threes or fours", "say 3 for a waltz, 4 for all else")
    _check_marks(said, seconds)


def _check_marks(said: Said, seconds: float) -> None:
    """Refuse taps and ones that are not of this song."""
    taps = said.taps_s
    rising = all(a < b for a, b in pairwise(taps))
    if taps and (len(taps) < 2 or not rising or taps[0] < 0 or taps[-1] > seconds + 1):
        why = "they are fewer than two, not in order, or later than its end"
        raise SettingError("taps", "these taps are not of this song", why, "tap along with the song from its start")
    outside = [one for one in said.ones_s if not 0 <= one < seconds]
    if outside or any(a >= b for a, b in pairwise(said.ones_s)):
        what = f"{outside[0]:g} s is not in the song" if outside else "these ones are not in order"
        raise SettingError("one", what, f"the song lasts {seconds:.1f} s", "give seconds at which you count one")


def check_sound(sound: Sound, where: str) -> None:
    """Refuse sound that can't be a song; raises MusicError."""
    if sound.seconds < SHORTEST_S:
        raise MusicError(where, f"only {sound.seconds:.1f} s of sound, too short to count",
                         "a beat and its counts of eight are sure only after some bars",
                         f"use a recording of at least {SHORTEST_S:.0f} s, best the whole song")  # fmt: skip
    if max(float(sound.samples.max()), -float(sound.samples.min())) < SILENCE:
        raise MusicError(where, "the recording is silent", "nothing in it is loud enough to hear",
                         "check that the right file was chosen, and record or copy the song again")  # fmt: skip


def no_beat(where: str) -> MusicError:
    """Return the refusal of sound in which nothing can be counted."""
    return MusicError(where, "no steady beat here", "nothing in this sound comes again and again at even times",
                      "tap the beat along with the song, or give its tempo")  # fmt: skip


def notices(beats_s: FloatArray, before_s: float, span: Edges, said: Said, *, beating: float) -> tuple[Finding, ...]:
    """Return what the leader should know of the song before she trusts the count.

    before_s : how long sound without a pulse went on before the first beat. [s]
    beating : likelihood that there is a steady beat at all, 0 to 1
    """
    from softshoe.music.beats import drift
    from softshoe.music.sure import NO_BEAT

    found = []
    if beating < NO_BEAT and not said.taps_s:
        message = "no steady beat: the beats found may be no beats at all"
        mend = "tap the beat along with the song, or give its tempo"
        found.append(Finding("warning", "no-steady-beat", None, None, message, mend))
    if before_s > LONG_OPENING_S:
        message = f"the beat begins after an opening of {before_s:.0f} s that carries no counts"
        found.append(Finding("note", "slow-opening", None, None, message, "count from the first steady beat"))
    share, place_s = drift(beats_s)
    if share > DRIFT:
        message = f"the tempo changes by {share:.0%}, most at {int(place_s // 60)}:{int(place_s % 60):02d}"
        found.append(Finding("note", "tempo-changes", None, None, message, "listen to that place before you teach it"))
    if span.fades:
        mend = "end after a whole wall, before the fade"
        found.append(Finding("note", "fade", None, None, "the song fades out", mend))
    return tuple(found)
