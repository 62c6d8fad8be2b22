"""Reading a recording: any sound file, or the sound of a film, as samples.

Samples are (2, n) float32, left and right, at 44 100 Hz, with full scale at 1. Sample 0 is the start of the file.
Decoding libraries are loaded only when a file is read.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from softshoe.errors import Finding, MusicError, SettingError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path
    from typing import BinaryIO

    import numpy as np
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float32]
    Piece = tuple[float, float | None]

RATE_HZ = 44_100
LOUDEST = 4.0  # +12 dB over full scale: a damaged file, not a loud one
LATE_FILM_S = 0.1  # a film whose sound begins later than this is given silence in front
BROKEN_SHARE = 0.01  # more samples than this that are no numbers: the file is not worth mending
OTHER_SOUND = "play the file in a music player; if it plays there, save it again as mp3 or wav and use that"
EXACT = frozenset({"ogg", "flac", "wav", "mov", "mp4", "m4a", "matroska", "webm"})  # seeking finds the very sample
SEEK_S = 4.0
LISTS = frozenset({"hls", "concat", "concatf", "dash", "imf", "image2", "ffmetadata"})


@dataclass(frozen=True, slots=True, eq=False)
class Sound:
    """A recording: ``samples`` (2, n) float32 at ``rate_hz``; how many packets of it were damaged; what was noticed.

    ``start_s`` is the second of the file at which sample 0 is heard; more than 0 in a piece cut out of a longer one.
    """

    samples: FloatArray
    rate_hz: int = RATE_HZ
    damaged_packets: int = 0
    findings: tuple[Finding, ...] = ()
    start_s: float = 0.0

    @property
    def seconds(self) -> float:
        """How long the recording is. [s]"""
        return int(self.samples.shape[1]) / self.rate_hz

    def mono(self, rate_hz: int) -> FloatArray:
        """Return the mean of both channels at another rate, shape (n,), float32."""
        import numpy as np
        import soxr

        both = np.asarray(self.samples.mean(axis=0, dtype=np.float32))
        if rate_hz == self.rate_hz:
            return both
        return np.asarray(soxr.resample(both, self.rate_hz, rate_hz), dtype=np.float32)


def heard(path: Path, *, longest_s: float = 1200.0, from_s: float = 0.0, to_s: float | None = None) -> Sound:
    """Return the sound of a sound file or film: mp3, ogg, flac, wav, m4a, opus, mp4, webm and most others.

    longest_s : longer recordings are refused before they are decoded. [s]
    from_s, to_s : the piece of the file to hear; to its end when None. [s]

    Raises MusicError when there is no such file, it may not be read, it holds no sound, or it is too long or too
    damaged; SettingError when the piece can't be. A file that was cut short is read as far as it goes, with a finding.
    """
    import av.error

    where = path.name or str(path)
    _check_piece(from_s, to_s)
    try:
        with _opened(path, where) as file:
            return _decoded(file, where, longest_s, (from_s, to_s))
    except (av.error.FFmpegError, OSError, ValueError) as wrong:
        raise MusicError(where, "this is not a sound file that can be opened", _plain(wrong), OTHER_SOUND) from wrong


def _opened(path: Path, where: str) -> BinaryIO:
    """Return the file, open for reading, or say why it can't be."""
    try:
        if path.is_dir():
            raise MusicError(where, "this is a folder, not a song", "a song is one file", "choose a file in the folder")
        file = path.open("rb")
    except FileNotFoundError as wrong:
        mend = "check the spelling, and that the disk or stick it is on is plugged in"
        raise MusicError(where, "there is no such file", f"nothing is at {path}", mend) from wrong
    except PermissionError as wrong:
        mend = "copy it to a folder of your own, or ask its owner to let you read it"
        raise MusicError(
            where, "this file may not be read", "this computer refuses to open it for you", mend
        ) from wrong
    if not file.read(1):
        file.close()
        raise MusicError(where, "the file is empty", "it holds 0 bytes", "copy or download the song again")
    file.seek(0)
    return file


def _plain(wrong: Exception) -> str:
    """Return the reason in words for a person."""
    if "moov" in str(wrong):
        return "its index is missing: it was cut off while being copied"
    return "its contents are not those of any sound format known here, or too damaged"


def _check_piece(from_s: float, to_s: float | None) -> None:
    if from_s < 0 or (to_s is not None and not to_s > from_s):
        what = f"the piece from {from_s:g} s to {'the end' if to_s is None else f'{to_s:g} s'} is none"
        raise SettingError("the piece", what, "it must begin in the file and end after it begins",
                           "give two moments of the file, the earlier one first, such as 3:10 and 6:40")  # fmt: skip


def _decoded(file: BinaryIO, where: str, longest_s: float, piece: Piece) -> Sound:
    import av

    from_s, to_s = piece
    cut = from_s > 0 or to_s is not None
    if to_s is not None and to_s - from_s > longest_s:
        raise _too_long(where, longest_s)

    # Nothing but this very file is read: a list of other places, inside it, is not followed.
    with av.open(file, mode="r", options={"protocol_whitelist": "none"}) as box:
        streams = box.streams.audio
        if not streams or LISTS & set(box.format.name.split(",")):
            why = "it is a picture, a film without sound or a list of other files"
            raise MusicError(where, "there is no sound in this file", why, "choose the song itself: mp3, m4a, ogg, wav")
        if not cut and (box.duration is None or box.duration / av.time_base > longest_s):
            _refuse_long(box, where, longest_s)
            box.seek(0)
        begin_s = _sought(box, from_s) if cut else 0.0
        samples, damaged, late_s = _samples(box, where, longest_s, piece if cut else (0.0, None), begin_s)
        kind = box.format.name
        channels = streams[0].codec_context.channels
    samples, findings = _cleaned(samples, where, channels)
    if late_s > LATE_FILM_S:
        samples = _later(samples, late_s)
    findings += _notices(damaged, kind)
    return Sound(samples, RATE_HZ, damaged, findings, from_s)


def _sought(box: Any, from_s: float) -> float:
    """Go to a little before the piece where this can be done to the sample; return how early decoding may begin. [s]"""
    if from_s < SEEK_S or not set(box.format.name.split(",")) & EXACT:
        return 0.0
    stream = box.streams.audio[0]
    at_s = from_s - SEEK_S / 2
    box.seek(round(at_s / float(stream.time_base)) + (stream.start_time or 0), stream=stream)
    return at_s


def _refuse_long(box: Any, where: str, longest_s: float) -> None:
    """Add up the packets without decoding them; what a file says of its own length is not always so."""
    seconds = 0.0
    for packet in box.demux(box.streams.audio[0]):
        seconds += float((packet.duration or 0) * (packet.time_base or 0))
        if seconds > longest_s:
            raise _too_long(where, longest_s)


def _too_long(where: str, longest_s: float) -> MusicError:
    return MusicError(
        where,
        f"longer than {longest_s / 60:.0f} minutes",
        "a dance is laid on one song, and this is a whole programme or a mix",
        "say where the song lies in it, as in “softshoe listen MIX --from 3:10 --to 6:40”, or cut it out and use that",
    )


def _frames(box: Any, hurt: list[int]) -> Iterator[Any]:
    """Yield what can be decoded; count in ``hurt`` what can't."""
    import av.error

    packets = box.demux(box.streams.audio[0])
    while True:
        try:
            packet = next(packets)
        except StopIteration:
            return
        except (av.error.InvalidDataError, av.error.EOFError):
            hurt[0] += 1
            return
        try:
            yield from packet.decode()
        except (av.error.InvalidDataError, av.error.EOFError):
            hurt[0] += 1


def _samples(box: Any, where: str, longest_s: float, piece: Piece, begin_s: float) -> tuple[FloatArray, int, float]:
    """Return the samples of a piece, the number of damaged packets, and how late a film's sound begins. [s]"""
    import numpy as np
    from av.audio.resampler import AudioResampler

    if piece != (0.0, None):
        return _piece(box, where, longest_s, piece, begin_s)
    room = np.empty((2, int((longest_s + 1) * RATE_HZ)), np.float32)  # pages never written take no memory
    shape = AudioResampler(format="fltp", layout="stereo", rate=RATE_HZ)
    n, hurt, late_s = 0, [0], None

    def put(frame: Any) -> None:
        nonlocal n
        for out in shape.resample(frame):
            if n + out.samples > room.shape[1]:
                raise _too_long(where, longest_s)
            room[:, n : n + out.samples] = out.to_ndarray()
            n += out.samples

    for frame in _frames(box, hurt):
        if late_s is None:
            late_s = float(frame.time or 0.0) - (box.start_time or 0) / 1_000_000 if box.streams.video else 0.0
        put(frame)
    if n:
        put(None)
    if not n:
        raise MusicError(where, "the file opens but holds no sound", "not one sample could be decoded", OTHER_SOUND)
    return room[:, :n].copy(), hurt[0], late_s or 0.0


def _piece(box: Any, where: str, longest_s: float, piece: Piece, begin_s: float) -> tuple[FloatArray, int, float]:
    """Return the samples from one second of the file to another, as ``_samples`` does; decoding begins at ``begin_s``
    or a little before."""
    import numpy as np
    from av.audio.resampler import AudioResampler

    shape, hurt = AudioResampler(format="fltp", layout="stereo", rate=RATE_HZ), [0]
    stream = box.streams.audio[0]
    begun_s = (box.start_time or 0) / 1e6 if box.streams.video else (stream.start_time or 0) * float(stream.time_base)
    first, last = round(piece[0] * RATE_HZ), None if piece[1] is None else round(piece[1] * RATE_HZ)
    at, kept, held = -1, [], 0
    for frame in _frames(box, hurt):
        if at < 0:
            at = max(0, round((begin_s if frame.time is None else frame.time - begun_s) * RATE_HZ))
        for out in shape.resample(frame):
            part = out.to_ndarray()[:, max(0, first - at) : None if last is None else max(0, last - at)]
            at += out.samples
            kept += [part] if part.shape[1] else []
            held += part.shape[1]
        if held > longest_s * RATE_HZ:
            raise _too_long(where, longest_s)
        if last is not None and at >= last:
            break
    if not held:
        raise SettingError("the piece", f"nothing of the file lies after {piece[0]:.0f} s",
                           f"it ends at {max(0, at) / RATE_HZ:.0f} s", "give an earlier moment")  # fmt: skip
    return np.concatenate(kept, axis=1), hurt[0], 0.0


def _cleaned(samples: FloatArray, where: str, channels: int) -> tuple[FloatArray, tuple[Finding, ...]]:
    """Refuse what can't be music, mend single broken samples, and scale a mix of more channels into range."""
    import numpy as np

    findings: tuple[Finding, ...] = ()
    peak = float(max(samples.max(), -samples.min()))  # a NaN anywhere makes this NaN
    if not np.isfinite(peak):
        broken = ~np.isfinite(samples)
        if broken.mean() > BROKEN_SHARE:
            why = f"{broken.mean():.0%} of it are no numbers at all"
            raise MusicError(where, "the file is too damaged to use", why, OTHER_SOUND)
        samples = np.where(broken, np.float32(0), samples)
        peak = float(np.abs(samples).max())
        message = "a few samples of the recording are broken; they are played as silence"
        mend = "use another copy of the song if you hear clicks"
        findings = (Finding("warning", "damaged-sound", None, None, message, mend),)
    if peak > LOUDEST:
        why = f"its loudest moment is {20 * np.log10(peak):.0f} dB over full scale, which is noise from damage"
        raise MusicError(where, "the file is too damaged to use", why, "copy or download the song again")
    if channels > 2 and peak > 1.0:
        samples = samples / np.float32(peak)
    return samples, findings


def _later(samples: FloatArray, late_s: float) -> FloatArray:
    import numpy as np

    return np.pad(samples, ((0, 0), (round(late_s * RATE_HZ), 0)))


def _notices(damaged: int, kind: str) -> tuple[Finding, ...]:
    found = []
    if damaged:
        message = f"{damaged} piece{'s' if damaged > 1 else ''} of the recording could not be read and were left out"
        mend = "use another copy of the song if its beats come out wrong"
        found.append(Finding("warning", "damaged-sound", None, None, message, mend))
    if kind == "aac":
        message = "a bare .aac file begins about 23 thousandths of a second late"
        found.append(Finding("note", "late-sound", None, None, message, "save the song as m4a for exact times"))
    return tuple(found)
