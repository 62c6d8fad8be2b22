"""How fast films are made: drawing alone, and a film with the dancer against the encoder alone on blank frames.

    python benchmarks/film.py [--seconds 20] [--width 1280] [--height 720] [--edition "high contrast"]
    python benchmarks/film.py --made FOLDER [--seconds 120] [--every]

``--made`` films the beginning of the walkthrough, and of the seated dance, of a folder that “softshoe make” has left,
with their own sound (``--every``: and in every edition, with the sound of the plain film); besides processor time it
tells the time on the clock, drawing and encoding side by side.

Drawing alone is wanted at 120 frames a second or more at 1280 by 720.

Speeds are frames a second of processor time on one core, so that a busy machine does not spoil them.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.dance.action import Action, Event
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.figure.move import move
from softshoe.jobs import media, values
from softshoe.render.encode import CRF, PRESET, FilmFile
from softshoe.render.film import film
from softshoe.render.film_colours import planes_of
from softshoe.render.film_edition import edition_of
from softshoe.render.film_page import Painter
from softshoe.render.screen_time import Schedule
from softshoe.render.track import lesson_sound
from softshoe.render.voice import RATE_HZ as VOICE_HZ
from softshoe.render.voice import WordBank, standard_voice
from softshoe.teach.lesson import Beat, Caption, Lesson, Passage

if TYPE_CHECKING:
    from collections.abc import Callable

EDITIONS = ("portrait", "reduced motion", "high contrast")
FPS, RATE_HZ, STEP_S, COUNTS = 25, 48_000, 0.55, 8
MOVES = (Direction.FORWARD, Direction.CENTRE, Direction.RIGHT, Direction.CENTRE)


def events() -> tuple[Event, ...]:
    """Steps forward and to the side with alternate feet, arms pushed and pulled: something moves on every count."""
    actions = [
        Action(
            Count.at_moment(k),
            Foot.RIGHT if k % 8 < 4 else Foot.LEFT,
            "step",
            MOVES[k % 4] if k < 4 else MOVES[k % 4].mirrored,
            arms=(ArmMove(Foot.BOTH, "push" if k % 2 == 0 else "pull", "chest"),),
        )
        for k in range(COUNTS)
    ]
    return tuple(Event(action, Weight.SEAT, 0) for action in actions)


def lesson(seconds: float) -> Lesson:
    """Nothing but dancing, a caption every four counts."""
    beats = tuple(
        Beat(
            k * STEP_S,
            STEP_S,
            str(k % 8 + 1),
            "seated:dance",
            Count(Fraction(k % 8 + 1)),
            1,
            1,
            0,
            "step out",
            "step home",
        )
        for k in range(int(seconds / STEP_S))
    )
    captions = tuple(
        Caption(k * STEP_S, (k + 3) * STEP_S, "step out and home, push and pull") for k in range(0, len(beats), 4)
    )
    return Lesson(
        "bench", seconds, (Passage("The whole dance", 0.0, seconds, "seated", "mirror", beats),), (), captions
    )


def speed(frames: int, work: Callable[[], None]) -> float:
    """Return frames a second of processor time."""
    start = time.process_time()
    work()
    return frames / (time.process_time() - start)


def same_frames(path: Path) -> tuple[float, int]:
    """Processor seconds of the encoder alone, given the very pictures of a film, and how many pictures they are."""
    import av

    spent, shown = 0.0, 0
    with tempfile.TemporaryDirectory() as left, av.open(str(path)) as box, av.open(f"{left}/again.mp4", "w") as out:
        stream: Any = out.add_stream("libx264", rate=FPS, options={"preset": PRESET, "crf": CRF})
        stream.width, stream.height, stream.pix_fmt = box.streams.video[0].width, box.streams.video[0].height, "yuv420p"
        stream.codec_context.thread_count = 1
        for picture in box.decode(video=0):
            picture.pict_type, shown = 0, shown + 1
            start = time.process_time()
            out.mux(stream.encode(picture))
            spent += time.process_time() - start
        start = time.process_time()
        out.mux(stream.encode(None))
        spent += time.process_time() - start
    return spent, shown


def made_films(folder: Path, seconds: float, editions: tuple[str, ...]) -> None:
    """Film what a folder's lessons show, each against the encoder alone on the same pictures."""
    seated = values.versions(values.the_dance(folder))["seated"]
    walk, dance = values.the_lesson(folder), media._at_tempo(folder, seated, 100, card_s=media.CARD_S)
    voice, whole_used, whole_alone = WordBank(standard_voice()), 0.0, 0.0
    for name, whole in (("walkthrough", walk), ("dance", dance)):
        cut = replace(whole, length_s=min(seconds, whole.length_s))
        samples = lesson_sound(whole, song=None, voice=voice, sound="groove")[:, : round(cut.length_s * VOICE_HZ)]
        motions = media.motions(folder, whole, also=(seated,))
        with tempfile.TemporaryDirectory() as left:
            plain = Path(left) / "plain.mp4"
            for words in ("", *editions):
                path = Path(left) / "edition.mp4" if words else plain
                clock, used = time.perf_counter(), time.process_time()
                film(cut, motions, plain if words else (samples, VOICE_HZ), path, edition=edition_of(words)[0])
                clock, used = time.perf_counter() - clock, time.process_time() - used
                alone, shown = same_frames(path)
                whole_used, whole_alone = whole_used + used, whole_alone + alone
                print(
                    f"{name:12s}{words:16s}{cut.length_s:4.0f} s, {shown} pictures: film {used:.1f} s of processor,"
                    f" {clock:.1f} s by the clock; encoder alone {alone:.1f} s; {used / alone:.2f} x and"
                    f" {clock / alone:.2f} x",
                    flush=True,
                )
    print(f"all together: {whole_used:.1f} s of processor, encoder alone {whole_alone:.1f} s: "
          f"{whole_used / whole_alone:.2f} x")  # fmt: skip


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=20.0)
    parser.add_argument("--width", type=int, default=1280)
    parser.add_argument("--height", type=int, default=720)
    parser.add_argument("--edition", default="", help="an edition of the film, in words")
    parser.add_argument(
        "--every", action="store_true", help="with --made: in every edition, the plain film's sound taken"
    )
    parser.add_argument("--made", type=Path, help="a folder that make has left")
    chosen = parser.parse_args()
    if chosen.made is not None:
        made_films(chosen.made, chosen.seconds, EDITIONS if chosen.every else ())
        return
    frames = round(chosen.seconds * FPS)
    size = {"width": chosen.width, "height": chosen.height}
    sound = np.random.default_rng(0).normal(0, 0.05, (2, round(chosen.seconds * RATE_HZ))).astype(np.float32)
    motions = {"seated:dance": move(events(), counts=COUNTS, stance="seated", loop=True)}
    taught = lesson(chosen.seconds)
    edition, _ = edition_of(chosen.edition)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "film.mp4"

        def blank(*, handed_in: bool) -> None:
            out = FilmFile([Path(folder) / "blank.mp4"], **size, fps=FPS, sound=(sound, RATE_HZ))
            white = planes_of(np.full((chosen.height, chosen.width, 4), 255, np.uint8))
            out.see(white)
            for _ in range(frames):
                if handed_in:
                    out.see(white)
                out.show()
            out.close()

        def danced() -> None:
            film(taught, motions, (sound, RATE_HZ), path, **size, fps=FPS, edition=edition)

        def drawn() -> None:
            tall = edition.layout.height > edition.layout.width
            page = {"width": size["height"], "height": size["width"]} if tall else size
            painter, schedule = Painter(taught, motions, **page, edition=edition), Schedule(taught)
            for k in range(frames):
                painter.paint(schedule.at(k / FPS))

        drawing = speed(frames, drawn)
        stands = speed(frames, lambda: blank(handed_in=False))
        handed = speed(frames, lambda: blank(handed_in=True))
        film_speed = speed(frames, danced)
        encoder = frames / same_frames(path)[0]
        mb_a_minute = path.stat().st_size / 1e6 / chosen.seconds * 60
    print(f"drawing alone                       {drawing:7.1f} frames a second")
    print(f"blank frames handed in and encoded  {handed:7.1f} frames a second")
    print(f"one blank frame that stands         {stands:7.1f} frames a second")
    print(f"encoder alone on the same pictures  {encoder:7.1f} frames a second")
    print(f"film                                {film_speed:7.1f} frames a second, {film_speed / FPS:.2f} x playing")
    print(f"film / blank frames                 {film_speed / handed:7.2f}")
    print(f"time of the film / of its encoder   {encoder / film_speed:7.2f}")
    print(f"size                                {mb_a_minute:7.1f} MB a minute")


if __name__ == "__main__":
    main()
