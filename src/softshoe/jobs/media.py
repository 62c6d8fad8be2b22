"""Steps that make what is seen and heard: films and tracks, each with its captions and chapters."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import MusicError
from softshoe.files import write_whole
from softshoe.jobs import values

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from softshoe.adapt.version import Version
    from softshoe.figure.motion import Motion
    from softshoe.jobs.step import Step
    from softshoe.render.encode_sound import Sound
    from softshoe.render.film_edition import Edition
    from softshoe.render.track import Song, SoundKind
    from softshoe.render.voice import Voice
    from softshoe.teach.calls import Speech
    from softshoe.teach.lesson import Lesson
    from softshoe.teach.parts import MotionPart

SOUND_SHARE = 0.1
FULL_PACE = 100
CARD_S = 12.0


def walkthrough(step: Step, tell: Callable[[float], None]) -> None:
    """Film the walkthrough kept in lesson.json; it is taught without the song, which may come at its end."""
    _film(step, values.the_lesson(step.leaves[0].parent), tell)


def dance_film(step: Step, tell: Callable[[float], None]) -> None:
    """Film one version of the dance, at tempo, over the song or the plain rhythm."""
    version = values.version_of(step)
    lesson = _at_tempo(step.leaves[0].parent, version, FULL_PACE, card_s=CARD_S, room=step.settings.get("room", ""))
    _film(step, lesson, tell, also=(version,))


def track(step: Step, tell: Callable[[float], None]) -> None:
    """Record one practice track with its captions."""
    from softshoe.render.captions import captions_of
    from softshoe.render.track import lesson_sound, write_track

    speech: Speech = "both" if step.settings["spoken"] else "none"
    folder = step.leaves[0].parent
    seated = values.versions(values.the_dance(folder))["seated"]
    lesson = _at_tempo(folder, seated, step.settings["pace"], speech=speech, fading=False)
    tell(0.1)
    samples = lesson_sound(lesson, song=_song(step), voice=_voice(lesson), sound=step.settings["sound"])
    tell(0.7)
    chapters = [(passage.start_s, passage.title) for passage in lesson.passages]
    title = f"{lesson.title}, {step.settings['pace']} %{'' if step.settings['spoken'] else ', no voice'}"
    write_track(samples, _rate_hz(), step.leaves[0], title=title, chapters=chapters, album=lesson.title,
                number=step.settings["number"])  # fmt: skip
    write_whole(step.leaves[1], captions_of(lesson))


def _film(step: Step, lesson: Lesson, tell: Callable[[float], None], *, also: tuple[Version, ...] = ()) -> None:
    from softshoe.render.captions import captions_of, chapters_of
    from softshoe.render.film import film

    path, contrast = step.leaves[0], step.leaves[3] if step.settings.get("contrast") else None
    sound = _sound(step, lesson)
    tell(SOUND_SHARE)
    film(lesson, motions(path.parent, lesson, also=also), sound, path, edition=_edition(step), contrast=contrast,
         progress=lambda share: tell(SOUND_SHARE + share * (1 - SOUND_SHARE)))  # fmt: skip
    for captions, chapters in zip(step.leaves[1::3], step.leaves[2::3], strict=True):
        write_whole(captions, captions_of(lesson))
        write_whole(chapters, chapters_of(lesson))


def _sound(step: Step, lesson: Lesson) -> Sound:
    """Return what is heard in a film: of an edition, the plain film whose sound it takes."""
    from softshoe.render.track import lesson_sound

    if step.settings.get("edition"):
        return step.reads[-1]
    song = _song(step) if lesson.song_start_s is not None else None
    sound: SoundKind = "groove" if song is None and step.settings["sound"] == "song" else step.settings["sound"]
    return lesson_sound(lesson, song=song, voice=_voice(lesson), sound=sound), _rate_hz()


def _edition(step: Step) -> Edition:
    """How the film is drawn: whose look, which edition."""
    from softshoe.render.film_edition import edition_of
    from softshoe.render.look_guise import guise_of

    return edition_of(step.settings.get("edition", ""), guise_of(**step.settings.get("guise", {})))[0]


def motions(folder: Path, lesson: Lesson, *, also: tuple[Version, ...] = ()) -> dict[str, Motion]:
    """Return the motion of every name the lesson's beats use."""
    from softshoe.teach.parts import parts

    dance = values.the_dance(folder)
    shown = values.versions(dance) | {version.kind: version for version in also}
    known = parts(dance, shown, values.the_run(folder))
    used = {beat.motion for passage in lesson.passages for beat in passage.beats if beat.motion}
    return {name: _moved(known[name]) for name in sorted(used & known.keys())}


def _moved(part: MotionPart) -> Motion:
    from softshoe.dance.footwork import danced
    from softshoe.figure.move import move

    events = danced(part.actions, weight=part.start_weight)
    counts = float(part.counts)
    return move(events, counts=counts, stance=part.stance, arms=part.arms, loop=part.loop, support=part.support)


def _at_tempo(
    folder: Path,
    version: Version,
    pace: int,
    *,
    speech: Speech = "both",
    card_s: float = 0.0,
    fading: bool = True,
    room: str = "",
) -> Lesson:
    from softshoe.fit.timeline import timeline
    from softshoe.teach.at_tempo import at_tempo
    from softshoe.teach.room import room_of

    dance, run, song = values.the_dance(folder), values.the_run(folder), values.the_song(folder)
    moments = timeline(dance, run, song)
    return at_tempo(dance, version, run, song, moments, pace=pace / FULL_PACE, speech=speech, card_s=card_s,
                    fading=fading, room=room_of(room))  # fmt: skip


def _song(step: Step) -> Song | None:
    """Return the recording where it was asked for; raises MusicError when only its count was given."""
    return recording(step.reads[-1]) if step.settings["sound"] == "song" else None


def recording(path: Path) -> Song:
    """Return a recording's samples and rate; raises MusicError when only its count was given."""
    from softshoe.music.audio import heard

    if path.suffix.casefold() == ".json":
        raise MusicError(str(path), "there is no recording to play", "only the song's count was given",
                         "give the recording itself, or leave --sound song away")  # fmt: skip
    sound = heard(path)
    return sound.samples, sound.rate_hz


def _voice(lesson: Lesson) -> Voice | None:
    from softshoe.render.voice_own import the_voice

    return the_voice() if lesson.cues else None


def _rate_hz() -> int:
    from softshoe.render.voice import RATE_HZ

    return RATE_HZ
