"""Listening to a song: from sound to beats, bars, counts of eight, phrases and the first count, and how sure each is.

What the listener says always wins: a tempo, a first count, a metre, taps, ones. Sound is heard once; each new word is
answered from what was heard. Nothing heavy is loaded before listening.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.music.moved import moved_said
from softshoe.music.notices import check_said, check_sound, no_beat
from softshoe.music.songmap import Said

if TYPE_CHECKING:
    from softshoe.errors import Finding
    from softshoe.music.audio import Sound
    from softshoe.music.engine import Engine, Heard, Listener, SampleArray
    from softshoe.music.songmap import SongMap


@dataclass(frozen=True, slots=True, eq=False)
class Hearsay:
    """What was heard in a recording: enough to count it again in under a second, whatever the listener says.

    by : the name of the listener that heard it
    seconds, start_s : how long the recording is, and where in its file it begins [s]
    where : what to call the song in errors
    onsets : shape (n,), ``ear.ONSETS_HZ`` a second, what begins to sound in the middle and high range; None: not known
    """

    heard: Heard
    by: str
    seconds: float
    start_s: float = 0.0
    findings: tuple[Finding, ...] = ()
    where: str = "the song"
    onsets: SampleArray | None = None


def listen(
    sound: Sound,
    *,
    said: Said | None = None,
    where: str = "the song",
    engine: Engine | None = None,
    by: Listener | None = None,
) -> SongMap:
    """Return the song, counted.

    said : what the listener says, in seconds of the file; it wins over what is heard, and has confidence 1
    where : what to call the song in errors
    engine : count by rule what this engine hears; the usual listener when None
    by : the listener to use; the usual one when None

    Raises MusicError when the sound is too short, silent, or has no beat at all; SettingError when what was said can't
    be.
    """
    if engine is not None:
        from softshoe.music.by_rule import ByRule

        by = ByRule(engine)
    check_said(moved_said(said or Said(), -sound.start_s), sound.seconds)
    return counted(hears(sound, where=where, by=by), said)


def hears(sound: Sound, *, where: str = "the song", by: Listener | None = None) -> Hearsay:
    """Return what is heard in a recording, to be counted by ``counted``; raises MusicError when it can't be a song."""
    from softshoe.music.engine import listener
    from softshoe.music.swing import off_beats

    check_sound(sound, where)
    ear = by or listener()
    heard = ear.heard(sound.mono(ear.rate_hz))
    return Hearsay(heard, ear.name, sound.seconds, sound.start_s, sound.findings, where, off_beats(sound))


def counted(heard: Hearsay, said: Said | None = None) -> SongMap:
    """Return what was heard, counted with the listener's word; errors as in ``listen``."""
    from softshoe.music.finished import finished
    from softshoe.music.tapped import in_place

    told = moved_said(said or Said(), -heard.start_s)
    check_said(told, heard.seconds)
    meant = in_place(told, *heard.heard.beat_curve())
    found = _by_parts(heard, meant) or heard.heard.counted(meant)
    if found is None:
        raise no_beat(heard.where)
    return finished(replace(found, said=told), heard)


def _by_parts(heard: Hearsay, told: Said) -> SongMap | None:
    """Return a medley counted part by part; None for a song of one tempo, or when the listener gave it."""
    from softshoe.music.medley import counted_parts, parts_of

    if told.tempo_bpm or told.taps_s:
        return None
    cuts = parts_of(*heard.heard.beat_curve())
    return counted_parts(heard.heard, told, cuts, heard.seconds) if cuts else None
