"""The sound of a film: encoded second by second beside the pictures, or taken as it is from another film of one lesson.

Editions of a film sound alike. What was encoded once is copied packet by packet: the same sound to the last sample.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from softshoe.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    Sound = tuple[NDArray[np.float32], int] | Path
    """Samples (2, n) from -1 to 1 and their rate [Hz]; or a film whose sound is taken."""

BIT_RATE = 144_000
# The fast search is nearer to the sound than the slow one. Without the tools that look for what both sides share, for
# noise and for beats inside a frame it is as near at this rate as with them at 160 kbit/s (31 dB below a walkthrough's
# sound), in a file as large, and a third cheaper.
OPTIONS = {"aac_coder": "fast", "aac_ms": "0", "aac_is": "0", "aac_pns": "0", "aac_tns": "0"}


class SoundStream(Protocol):
    """The sound of one film, laid into its file bit by bit."""

    def until(self, time_s: Fraction) -> None:
        """Lay the sound up to this second."""

    def close(self) -> None:
        """Lay what is left."""

    def leave(self) -> None:
        """Let go of what is open."""


def sound_stream(boxes: Sequence[Any], sound: Sound) -> SoundStream:
    """Return the sound as a stream of open films; raises OutputError when a film has none to take."""
    return _Taken(boxes, sound) if isinstance(sound, Path) else _Encoded(boxes, *sound)


def _laid(packet: Any, boxes: Sequence[Any], streams: Sequence[Any]) -> None:
    """Lay one packet into all films."""
    import av

    for box, stream in zip(boxes[1:], streams[1:], strict=True):
        same = av.Packet(bytes(packet))
        same.pts, same.dts, same.duration = packet.pts, packet.dts, packet.duration
        same.time_base, same.is_keyframe, same.stream = packet.time_base, packet.is_keyframe, stream
        box.mux(same)
    packet.stream = streams[0]
    boxes[0].mux(packet)


class _Encoded:
    """Samples, encoded as they are needed, so that nothing waits in memory; silence fills what they lack."""

    def __init__(self, boxes: Sequence[Any], samples: NDArray[np.float32], rate_hz: int) -> None:
        self._boxes, self._samples, self._rate_hz, self._heard = boxes, samples, rate_hz, 0
        self._streams = [box.add_stream("aac", rate=rate_hz, layout="stereo", options=OPTIONS) for box in boxes]
        for stream in self._streams:
            stream.bit_rate = BIT_RATE

    def until(self, time_s: Fraction) -> None:
        """Encode up to this second."""
        import av

        last = int(time_s * self._rate_hz)
        while self._heard < last:
            end = min(self._heard + self._rate_hz, last)
            part = np.zeros((2, end - self._heard), np.float32)
            given = self._samples[:, self._heard : end]
            part[:, : given.shape[1]] = given
            frame = av.AudioFrame.from_ndarray(part, "fltp", "stereo")
            frame.sample_rate, frame.pts, frame.time_base = self._rate_hz, self._heard, Fraction(1, self._rate_hz)
            self._lay(frame)
            self._heard = end

    def close(self) -> None:
        """Encode what the coder still holds."""
        self._lay(None)

    def _lay(self, frame: Any) -> None:
        """Encode it once, for all films."""
        for packet in self._streams[0].encode(frame):
            _laid(packet, self._boxes, self._streams)

    def leave(self) -> None:
        """Nothing is open."""


class _Taken:
    """The packets of another film's sound."""

    def __init__(self, boxes: Sequence[Any], path: Path) -> None:
        import av

        try:
            self._from = av.open(str(path))
        except (av.FFmpegError, OSError) as wrong:
            raise _no_sound(path, str(wrong)) from wrong
        if not self._from.streams.audio:
            self._from.close()
            raise _no_sound(path, "it has none")
        self._boxes, stream = boxes, self._from.streams.audio[0]
        self._streams = [box.add_stream_from_template(stream) for box in boxes]
        self._packets: Iterator[Any] = (packet for packet in self._from.demux(stream) if packet.dts is not None)
        self._next: Any = next(self._packets, None)

    def until(self, time_s: Fraction) -> None:
        """Copy what begins before this second."""
        while self._next is not None and self._next.dts * self._next.time_base < time_s:
            _laid(self._next, self._boxes, self._streams)
            self._next = next(self._packets, None)

    def close(self) -> None:
        """Everything was copied."""
        self.leave()

    def leave(self) -> None:
        """Close the other film."""
        self._from.close()


def _no_sound(path: Path, why: str) -> OutputError:
    return OutputError(str(path), "no sound can be taken from this film", why, "make that film again, then this one")
