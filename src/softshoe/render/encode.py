"""Pictures and sound into one film file: H.264 and AAC in mp4, colours of BT.709, chapters, playable while it loads.

A picture that did not change is not encoded twice: it stands until the next one comes (for a second at most, so that
players can begin anywhere), and the film's rate follows what moves. Sound is laid beside the pictures second by second,
so nothing waits in memory. All of it is done by one hand beside the one that draws: the next picture is drawn
meanwhile.
"""

from __future__ import annotations

import threading
from fractions import Fraction
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


class FilmFile:
    """One film being written, frame by frame."""

    def __init__(self, path: Path, *, width: int, height: int, fps: int, sound: Sound) -> None:
        import av
        from av.video.reformatter import ColorRange, Colorspace

        self.width, self.height, self.fps = width, height, fps
        self._box = av.open(str(path), "w", options={"movflags": "+faststart"})
        options = {"preset": PRESET, "crf": CRF, "forced-idr": "1"}
        video: Any = self._box.add_stream("libx264", rate=fps, options=options)
        video.width, video.height, video.pix_fmt = width, height, "yuv420p"
        context = video.codec_context
        context.colorspace, context.color_range = Colorspace.ITU709, ColorRange.MPEG
        context.color_primaries, context.color_trc, context.gop_size, context.thread_count = 1, 1, GROUP_S * fps, 1
        self._video, self._sound = video, sound_stream(self._box, sound)
        self._frame = av.VideoFrame(width, height, "yuv420p")
        self._frame.colorspace, self._frame.color_range = Colorspace.ITU709, ColorRange.MPEG
        self._planes = [_plane(plane) for plane in self._frame.planes]
        self._shown, self._encoded, self._begun = 0, -1, -GROUP_S * fps
        self._changed, self._hand = True, _Hand()

    def chapters(self, chapters: Sequence[tuple[float, float, str]]) -> None:
        """Name the parts of the film: (start [s], end [s], title)."""
        self._box.set_chapters(
            [
                {
                    "id": k + 1,
                    "start": round(start_s * 1000),
                    "end": round(end_s * 1000),
                    "time_base": Fraction(1, 1000),
                    "metadata": {"title": title},
                }
                for k, (start_s, end_s, title) in enumerate(chapters)
            ]
        )

    def see(self, planes: Planes, *, left: int = 0, top: int = 0) -> None:
        """Lay a piece of picture in film colours (``film_colours``) on what was seen so far; all numbers are even.

        The planes are read a little later: they are not to be drawn on again."""
        self._changed = True
        self._hand.do(lambda: self._lay(planes, left, top))

    def _lay(self, planes: Planes, left: int, top: int) -> None:
        high, wide = planes[0].shape
        for k, part in enumerate(planes):
            less = 1 if k == 0 else 2
            rows, columns = slice(top // less, (top + high) // less), slice(left // less, (left + wide) // less)
            self._planes[k][rows, columns] = part

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
        self._hand.do(lambda: self._encode(place, begins=begins))

    def _encode(self, place: int, *, begins: bool) -> None:
        from av.video.frame import PictureType

        self._frame.pict_type = PictureType.I if begins else PictureType.NONE
        self._frame.pts, self._frame.time_base = place, Fraction(1, self.fps)
        self._box.mux(self._video.encode(self._frame))

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
        self._box.close()

    def _finish(self) -> None:
        self._sound.close()
        self._box.mux(self._video.encode(None))

    def abandon(self) -> None:
        """Let go of a film that will not be finished."""
        self._hand.drop()
        self._sound.leave()
        self._box.close()


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
