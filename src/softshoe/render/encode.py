"""Pictures and sound into one film file: H.264 and AAC in mp4, colours of BT.709, chapters, playable while it loads.

A picture that did not change is not encoded twice: it stands until the next one comes (for a second at most, so that
players can begin anywhere), and the film's rate follows what moves. Sound is laid beside the pictures second by second,
so nothing waits in memory.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from softshoe.render.film_colours import Planes

PRESET, CRF, GROUP_S = "veryfast", "22", 4
LONGEST_HELD_S = 1
AT_THE_END = 4  # frames follow each other at their usual step there: what is written as a film's length rests on it
THREADS = 2  # the next picture is drawn while this one is encoded
AUDIO_BIT_RATE = 160_000
AUDIO = {"aac_coder": "fast"}  # nearer to the sound at this rate than the slower search, and a third cheaper


class FilmFile:
    """One film being written, frame by frame."""

    def __init__(
        self, path: Path, *, width: int, height: int, fps: int, sound: NDArray[np.float32], rate_hz: int
    ) -> None:
        import av
        from av.video.reformatter import ColorRange, Colorspace

        self.width, self.height, self.fps = width, height, fps
        self._sound, self._rate_hz, self._heard = sound, rate_hz, 0
        self._box = av.open(str(path), "w", options={"movflags": "+faststart"})
        options = {"preset": PRESET, "crf": CRF, "forced-idr": "1"}
        video: Any = self._box.add_stream("libx264", rate=fps, options=options)
        video.width, video.height, video.pix_fmt = width, height, "yuv420p"
        context = video.codec_context
        context.colorspace, context.color_range = Colorspace.ITU709, ColorRange.MPEG
        context.color_primaries, context.color_trc, context.gop_size, context.thread_count = (
            1,
            1,
            GROUP_S * fps,
            THREADS,
        )
        self._video = video
        self._audio: Any = self._box.add_stream("aac", rate=rate_hz, layout="stereo", options=AUDIO)
        self._audio.bit_rate = AUDIO_BIT_RATE
        self._frame = av.VideoFrame(width, height, "yuv420p")
        self._frame.colorspace, self._frame.color_range = Colorspace.ITU709, ColorRange.MPEG
        self._planes = [_plane(plane) for plane in self._frame.planes]
        self._shown, self._encoded, self._begun = 0, -1, -GROUP_S * fps
        self._changed = True

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
        """Lay a piece of picture in film colours (``film_colours``) on what was seen so far; all numbers are even."""
        self._changed = True
        high, wide = planes[0].shape
        for k, part in enumerate(planes):
            less = 1 if k == 0 else 2
            rows, columns = slice(top // less, (top + high) // less), slice(left // less, (left + wide) // less)
            self._planes[k][rows, columns] = part

    def show(self) -> None:
        """Add one frame of the picture as it stands, and the sound that goes with it."""
        if self._changed or self._shown - self._encoded >= LONGEST_HELD_S * self.fps:
            self._encode(self._shown)
        self._shown += 1
        if self._shown % self.fps == 0:
            self._hear(self._shown * self._rate_hz // self.fps)

    def _encode(self, place: int) -> None:
        """Encode the picture as the frame of this place; a group of frames begins every few seconds."""
        from av.video.frame import PictureType

        begins = place - self._begun >= GROUP_S * self.fps
        self._frame.pict_type = PictureType.I if begins else PictureType.NONE
        self._begun = place if begins else self._begun
        self._frame.pts, self._frame.time_base = place, Fraction(1, self.fps)
        self._box.mux(self._video.encode(self._frame))
        self._encoded, self._changed = place, False

    def close(self) -> None:
        """Write what is left and finish the file."""
        for place in range(max(self._encoded + 1, self._shown - AT_THE_END), self._shown):
            self._encode(place)  # the last picture lasts to the end
        self._hear(self._shown * self._rate_hz // self.fps)
        self._box.mux(self._audio.encode(None))
        self._box.mux(self._video.encode(None))
        self._box.close()

    def abandon(self) -> None:
        """Let go of a film that will not be finished."""
        self._box.close()

    def _hear(self, until: int) -> None:
        import av

        while self._heard < until:
            end = min(self._heard + self._rate_hz, until)
            part = np.zeros((2, end - self._heard), np.float32)
            given = self._sound[:, self._heard : end]
            part[:, : given.shape[1]] = given
            frame = av.AudioFrame.from_ndarray(part, "fltp", "stereo")
            frame.sample_rate, frame.pts, frame.time_base = self._rate_hz, self._heard, Fraction(1, self._rate_hz)
            self._box.mux(self._audio.encode(frame))
            self._heard = end


def _plane(plane: Any) -> NDArray[np.uint8]:
    """The bytes of one plane as rows, padding included; writing to them writes the picture."""
    rows: NDArray[np.uint8] = np.frombuffer(plane, np.uint8).reshape(plane.height, plane.line_size)
    return rows
