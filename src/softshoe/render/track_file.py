"""Sound written to a file: mp3 for players, flac or wav for keeping. Whole or not at all."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from softshoe.errors import OutputError
from softshoe.files import whole

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from softshoe.render.band import Samples


@dataclass(frozen=True, slots=True)
class Coding:
    """How one kind of file is coded: container, codec, sample format, bits a second (0: the codec's own), options.

    ``gain`` makes up for a coder that turns the sound down.
    """

    container: str
    codec: str
    samples: str
    bit_rate: int = 0
    options: tuple[tuple[str, str], ...] = ()
    gain: float = 1.0


# The mp3 coder at level 7 takes half the time of its usual 5, and comes as near to the sound; at 160 kbit/s it turns
# the sound down to 95 %.
CODINGS = {
    ".mp3": Coding("mp3", "libmp3lame", "fltp", 160_000, (("compression_level", "7"),), gain=1 / 0.95),
    ".flac": Coding("flac", "flac", "s16"),
    ".wav": Coding("wav", "pcm_s16le", "s16"),
}
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
        stream: Any = box.add_stream(coding.codec, rate=rate_hz, options=dict(coding.options))
        stream.layout, stream.format = "stereo", coding.samples
        if coding.bit_rate:
            stream.bit_rate = coding.bit_rate
        for frame in frames(samples, rate_hz, coding):
            box.mux(stream.encode(frame))
        box.mux(stream.encode(None))


def chapter_marks(chapters: Sequence[tuple[float, str]], end_s: float) -> list[dict[str, Any]]:
    """Return chapters as the container wants them, in milliseconds."""
    starts = [round(1000 * at_s) for at_s, _ in chapters]
    ends = [*starts[1:], round(1000 * end_s)]
    return [
        {"id": k, "start": start, "end": end, "time_base": Fraction(1, 1000), "metadata": {"title": name}}
        for k, (start, end, (_, name)) in enumerate(zip(starts, ends, chapters, strict=True))
    ]


def frames(samples: Samples, rate_hz: int, coding: Coding) -> Iterator[Any]:
    """Cut the sound into blocks for a coder that wants floats side by side or 16-bit numbers in turn."""
    import av
    import numpy as np

    for at in range(0, samples.shape[1], BLOCK):
        block = np.clip(samples[:, at : at + BLOCK], -1.0, 1.0) * np.float32(coding.gain)
        if coding.samples == "s16":
            block = np.rint(block.T.reshape(1, -1) * 32767).astype(np.int16)
        frame = av.AudioFrame.from_ndarray(np.ascontiguousarray(block), format=coding.samples, layout="stereo")
        frame.sample_rate, frame.pts = rate_hz, at
        yield frame
