"""Sound written to a file: mp3 for players, flac or wav for keeping. Whole or not at all."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from io import BytesIO
from typing import TYPE_CHECKING, Any

from softshoe.errors import OutputError
from softshoe.files import whole

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    import numpy as np
    from numpy.typing import NDArray

    from softshoe.render.band import Samples


@dataclass(frozen=True, slots=True)
class Coding:
    """How one kind of file is coded: container, codec, bits a second (0: the codec's own).

    ``gain`` makes up for a coder that turns the sound down.
    """

    container: str
    codec: str
    bit_rate: int = 0
    gain: float = 1.0


CODINGS = {
    ".mp3": Coding("mp3", "libmp3lame", 224_000, gain=1 / 0.98),
    ".flac": Coding("flac", "flac"),
    ".wav": Coding("wav", "pcm_s16le"),
}
MP3_FRAME, LAME_QUALITY = 1152, 7  # half the time of its usual 5, and nearer to the sound
BLOCK = 1 << 16


def write_track(
    samples: Samples,
    rate_hz: int,
    path: Path,
    *,
    title: str,
    chapters: Sequence[tuple[float, str]] = (),
    album: str = "",
    number: int | None = None,
) -> None:
    """Write sound to a file, its kind told by the name's ending, with its title and chapters.

    album : what tracks of one dance have in common; number : the place among them, from 1.

    samples : (2, n) float32, -1 to 1; louder is cut.
    chapters : (second at which it starts, title), in order; each lasts to the next. Only an mp3 keeps them.

    Raises OutputError when the ending is not known or the file can't be written; then nothing is left behind.
    """
    coding = CODINGS.get(path.suffix.lower())
    if coding is None:
        raise OutputError(
            str(path),
            f"“{path.suffix}” is not a kind of sound file that can be written",
            "the ending of the name says the kind",
            f"end the name in one of {', '.join(CODINGS)}",
        )
    with whole(path) as part:
        write_coded(samples, rate_hz, part, coding, tags(title, album, number), chapters)


def tags(title: str, album: str, number: int | None) -> dict[str, str]:
    """Return the tags a player shows and sorts by; empty ones are left out."""
    told = {"title": title, "album": album, "track": str(number or ""), "genre": "Practice track" if album else ""}
    return {key: value for key, value in told.items() if value}


def write_coded(
    samples: Samples,
    rate_hz: int,
    path: Path,
    coding: Coding,
    metadata: dict[str, str],
    chapters: Sequence[tuple[float, str]],
) -> None:
    """Code the sound and write it."""
    import av

    with av.open(str(path), "w", format=coding.container) as box:
        box.metadata.update(metadata)
        if chapters and coding.container == "mp3":
            box.set_chapters(chapter_marks(chapters, samples.shape[1] / rate_hz))  # type: ignore[arg-type]
        stream: Any = box.add_stream(coding.codec, rate=rate_hz)
        stream.layout = "stereo"
        if coding.bit_rate:
            stream.bit_rate = coding.bit_rate
        for packet in (mp3_packets if coding.container == "mp3" else packets)(stream, samples, rate_hz, coding):
            box.mux(packet)


def chapter_marks(chapters: Sequence[tuple[float, str]], end_s: float) -> list[dict[str, Any]]:
    """Return chapters as the container wants them, in milliseconds."""
    starts = [round(1000 * at_s) for at_s, _ in chapters]
    ends = [*starts[1:], round(1000 * end_s)]
    return [
        {"id": k, "start": start, "end": end, "time_base": Fraction(1, 1000), "metadata": {"title": name}}
        for k, (start, end, (_, name)) in enumerate(zip(starts, ends, chapters, strict=True))
    ]


def packets(stream: Any, samples: Samples, rate_hz: int, coding: Coding) -> Iterator[Any]:
    """Code the sound with the stream's own coder."""
    import av

    for at, block in blocks(samples, coding):
        frame = av.AudioFrame.from_ndarray(block.reshape(1, -1), format="s16", layout="stereo")
        frame.sample_rate, frame.pts = rate_hz, at
        yield from stream.encode(frame)
    yield from stream.encode(None)


def mp3_packets(stream: Any, samples: Samples, rate_hz: int, coding: Coding) -> Iterator[Any]:
    """Code the sound with LAME as a library of its own: PyAV's takes four times as long.

    Players are told what to skip at both ends by what PyAV's tells of a silence that ends as far from a whole frame."""
    import av
    import lameenc
    import numpy as np

    lame = lameenc.Encoder()
    lame.set_channels(2)
    lame.set_in_sample_rate(rate_hz)
    lame.set_bit_rate(coding.bit_rate // 1000)
    lame.set_quality(LAME_QUALITY)
    coded = b"".join(bytes(lame.encode(block)) for _, block in blocks(samples, coding)) + bytes(lame.flush())
    with av.open(BytesIO(coded), "r", format="mp3") as box:
        found = [packet for packet in box.demux(audio=0) if packet.dts is not None]
    silence = np.zeros((2, MP3_FRAME * 2 + samples.shape[1] % MP3_FRAME), np.float32)
    own = list(packets(stream, silence, rate_hz, coding))
    for packet, told in ((found[0], own[0]), (found[-1], own[-1])):
        packet.set_sidedata(told.get_sidedata("skip_samples"))
    for packet in found:
        packet.stream = stream
        yield packet


def blocks(samples: Samples, coding: Coding) -> Iterator[tuple[int, NDArray[np.int16]]]:
    """Cut the sound into blocks of 16-bit numbers, (n, 2), each with the place at which it begins."""
    import numpy as np

    for at in range(0, samples.shape[1], BLOCK):
        block = np.clip(samples[:, at : at + BLOCK].T * np.float32(coding.gain), -1.0, 1.0)
        yield at, np.ascontiguousarray(np.rint(block * 32767).astype(np.int16))
