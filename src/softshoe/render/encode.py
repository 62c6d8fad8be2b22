"""Pictures and sound into one film file: H.264 and AAC in mp4, colours of BT.709, chapters, playable while it loads.

A picture that did not change is not encoded twice: it stands until the next one comes (for a second at most, so that
players can begin anywhere), and the film's rate follows what moves. Sound is laid beside the pictures second by second,
so nothing waits in memory. All of it is done by one hand beside the one that draws: the next picture is drawn
meanwhile.
"""

from __future__ import annotations

import threading
from fractions import Fraction
from functools import partial
from queue import Queue
from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.render.encode_sound import sound_stream

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from softshoe.render.encode_sound import Sound
    from softshoe.render.film_colours import Planes

PRESET, CRF, GROUP_S = "veryfast", "22", 4
LONGEST_HELD_S = 1
AT_THE_END = 4  # frames follow each other at their usual step there: what is written as a film's length rests on it
WAITING = 12  # so many pieces of picture may wait to be encoded


class _Pictures:
    """The pictures of one file."""

    def __init__(self, path: Path, *, width: int, height: int, fps: int) -> None:
        import av
        from av.video.reformatter import ColorRange, Colorspace

        self.box, self._fps = av.open(str(path), "w", options={"movflags": "+faststart"}), fps
        options = {"preset": PRESET, "crf": CRF, "forced-idr": "1"}
        self._video: Any = self.box.add_stream("libx264", rate=fps, options=options)
        self._video.width, self._video.height, self._video.pix_fmt = width, height, "yuv420p"
        context = self._video.codec_context
        context.colorspace, context.color_range = Colorspace.ITU709, ColorRange.MPEG
        context.color_primaries, context.color_trc, context.gop_size, context.thread_count = 1, 1, GROUP_S * fps, 1
        self._frame = av.VideoFrame(width, height, "yuv420p")
        self._frame.colorspace, self._frame.color_range = Colorspace.ITU709, ColorRange.MPEG
        self._planes = [_plane(plane) for plane in self._frame.planes]

    def lay(self, planes: Planes, left: int, top: int) -> None:
        """Lay a piece on what was seen so far."""
        high, wide = planes[0].shape
        for k, part in enumerate(planes):
            less = 1 if k == 0 else 2
            rows, columns = slice(top // less, (top + high) // less), slice(left // less, (left + wide) // less)
            self._planes[k][rows, columns] = part

    def encode(self, place: int, *, begins: bool) -> None:
        """Encode what is seen as the frame of this place."""
        from av.video.frame import PictureType

        self._frame.pict_type = PictureType.I if begins else PictureType.NONE
        self._frame.pts, self._frame.time_base = place, Fraction(1, self._fps)
        self.box.mux(self._video.encode(self._frame))

    def finish(self) -> None:
        """Encode what the coder still holds."""
        self.box.mux(self._video.encode(None))


class FilmFile:
    """One film being written, frame by frame: into one file, or in several colourings into as many."""

    def __init__(self, paths: Sequence[Path], *, width: int, height: int, fps: int, sound: Sound) -> None:
        self.width, self.height, self.fps = width, height, fps
        self._files = [_Pictures(path, width=width, height=height, fps=fps) for path in paths]
        self._sound = sound_stream([file.box for file in self._files], sound)
        self._shown, self._encoded, self._begun = 0, -1, -GROUP_S * fps
        self._changed, self._hand = True, _Hand()

    def chapters(self, chapters: Sequence[tuple[float, float, str]]) -> None:
        """Name the parts of the film: (start [s], end [s], title)."""
        marks: list[Any] = [
            {
                "id": k + 1,
                "start": round(start_s * 1000),
                "end": round(end_s * 1000),
                "time_base": Fraction(1, 1000),
                "metadata": {"title": title},
            }
            for k, (start_s, end_s, title) in enumerate(chapters)
        ]
        for file in self._files:
            file.box.set_chapters(marks)

    def see(self, *planes: Planes, left: int = 0, top: int = 0) -> None:
        """Lay a piece of picture in film colours (``film_colours``), for each file its own, on what was seen so far;
        all numbers are even.

        The planes are read a little later: they are not to be drawn on again."""
        self._changed = True
        for file, own in zip(self._files, planes, strict=True):
            self._hand.do(partial(file.lay, own, left, top))

    def show(self) -> None:
        """Add one frame of the picture as it stands, and the sound that goes with it."""
        if self._changed or self._shown - self._encoded >= LONGEST_HELD_S * self.fps:
            self._picture(self._shown)
        self._shown += 1
        if self._shown % self.fps == 0:
            self._hear()

    def _picture(self, place: int) -> None:
        """Have the picture encoded as the frame of this place; a group of frames begins every few seconds."""
        begins = place - self._begun >= GROUP_S * self.fps
        self._begun = place if begins else self._begun
        self._encoded, self._changed = place, False
        for file in self._files:
            self._hand.do(partial(file.encode, place, begins=begins))

    def _hear(self) -> None:
        until_s = Fraction(self._shown, self.fps)
        self._hand.do(lambda: self._sound.until(until_s))

    def close(self) -> None:
        """Write what is left and finish the file."""
        for place in range(max(self._encoded + 1, self._shown - AT_THE_END), self._shown):
            self._picture(place)  # the last picture lasts to the end
        self._hear()
        self._hand.do(self._finish)
        self._hand.end()
        for file in self._files:
            file.box.close()

    def _finish(self) -> None:
        self._sound.close()
        for file in self._files:
            file.finish()

    def abandon(self) -> None:
        """Let go of a film that will not be finished."""
        self._hand.drop()
        self._sound.leave()
        for file in self._files:
            file.box.close()


class _Hand:
    """Does what it is given, one after the other, beside whoever gives it; what fails there is raised the next time."""

    def __init__(self) -> None:
        self._work: Queue[Callable[[], None] | None] = Queue(WAITING)
        self._wrong: BaseException | None = None
        self._thread = threading.Thread(target=self._go, daemon=True)
        self._thread.start()

    def _go(self) -> None:
        while (work := self._work.get()) is not None:
            if self._wrong is not None:
                continue
            try:
                work()
            except BaseException as wrong:  # told to whoever gives the next work
                self._wrong = wrong

    def do(self, work: Callable[[], None]) -> None:
        """Give it this to do; waits while much is waiting."""
        if self._wrong is not None:
            raise self._wrong
        self._work.put(work)

    def end(self) -> None:
        """Wait until all is done."""
        self._work.put(None)
        self._thread.join()
        if self._wrong is not None:
            raise self._wrong

    def drop(self) -> None:
        """End at once; what waits is not done."""
        self._wrong = self._wrong or RuntimeError("dropped")
        if self._thread.is_alive():
            self._work.put(None)
            self._thread.join()


def _plane(plane: Any) -> NDArray[np.uint8]:
    """The bytes of one plane as rows, padding included; writing to them writes the picture."""
    rows: NDArray[np.uint8] = np.frombuffer(plane, np.uint8).reshape(plane.height, plane.line_size)
    return rows
