"""Write down what librosa says of mel bands and of the demo song's beats: ``python tests/reference/librosa_says.py``.

It compiles itself for a minute each time it is loaded; what it says does not change, so the tests read it from
``librosa_says.npz``. Run this again with another version, or when the demo song has changed.
"""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path

import numpy as np

WRITTEN = Path(__file__).with_suffix(".npz")
RATE_HZ, LOWEST_HZ = 22_050, 100.0
BANDS = ((48, 2048), (12, 4096))  # bands, window in samples


def song_hash(samples: np.ndarray) -> str:
    """Return the name of a song's very samples."""
    return hashlib.sha256(np.rint(samples * 32767).astype(np.int16).tobytes()).hexdigest()


def main() -> None:
    import librosa

    from softshoe.render.demo_song import demo_song

    samples, rate_hz = demo_song()
    _, beats_s = librosa.beat.beat_track(y=samples.mean(axis=0), sr=rate_hz, units="time")
    mel = {
        f"mel_{bands}_{window}": librosa.filters.mel(
            sr=RATE_HZ, n_fft=window, n_mels=bands, fmin=LOWEST_HZ, htk=True, norm=None
        )
        for bands, window in BANDS
    }
    np.savez_compressed(
        WRITTEN, beats_s=beats_s, song=song_hash(samples), version=librosa.__version__, numpy=np.__version__, **mel
    )
    sys.stdout.write(f"{WRITTEN.name}: librosa {librosa.__version__}\n")


if __name__ == "__main__":
    main()
