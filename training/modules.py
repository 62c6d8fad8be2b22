"""Tracker modules as outside tests: music that people wrote in rows, with beats and bars as its rows have them.

Never for training. Played by libopenmpt (BSD-3-Clause; Debian: libopenmpt0), which says at every moment which row of
which pattern sounds. A beat is four rows, the habit of trackers, and a bar four beats, counted from the first row of
each pattern; where the rows go by so quickly that nobody would dance to such beats, a beat is eight rows or sixteen,
and two where they are too slow. Eights, phrases and the first count are not known.
"""

from __future__ import annotations

import ctypes
import ctypes.util
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
from others import truth_of
from synths import RATE_HZ

if TYPE_CHECKING:
    from pathlib import Path

    from band import Truth
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

SUFFIXES = (".mod", ".xm", ".s3m", ".it")
LONGEST_S, SHORTEST_S = 240.0, 30.0
BLOCK = 64  # samples between two looks at the row: 3 ms
ROWS, BAR = 4, 4  # rows a beat, beats a bar
SLOWEST_BPM, FASTEST_BPM = 56.0, 172.0
SLOW_HZ = 11_025  # enough where only the rows are asked for
HIGHEST_NOTE = 120  # above are signs that end a note


@cache
def library() -> Any:
    """Return libopenmpt with the types of what is used of it."""
    name = ctypes.util.find_library("openmpt")
    if name is None:
        raise SystemExit("libopenmpt is not installed (Debian: apt install libopenmpt0)")
    lib, whole, number = ctypes.CDLL(name), ctypes.c_void_p, ctypes.c_int32
    lib.openmpt_module_create_from_memory2.restype = whole
    lib.openmpt_module_create_from_memory2.argtypes = [ctypes.c_char_p, ctypes.c_size_t, *[whole] * 7]
    lib.openmpt_module_read_float_mono.restype = ctypes.c_size_t
    lib.openmpt_module_read_float_mono.argtypes = [whole, number, ctypes.c_size_t, whole]
    lib.openmpt_module_destroy.argtypes = [whole]
    for what in ("row", "order", "pattern"):
        ask = getattr(lib, f"openmpt_module_get_current_{what}")
        ask.argtypes, ask.restype = [whole], number
    lib.openmpt_module_get_num_channels.argtypes = [whole]
    lib.openmpt_module_get_pattern_row_channel_command.argtypes = [whole, *[number] * 4]
    lib.openmpt_module_get_pattern_row_channel_command.restype = ctypes.c_uint8
    return lib


def read(path: Path) -> tuple[Samples, list[tuple[float, int]]]:
    """Return the sound of a module, and when each row begins: (second, number in its pattern)."""
    lib, data = library(), path.read_bytes()
    module = lib.openmpt_module_create_from_memory2(data, len(data), *[None] * 7)
    if not module:
        raise SystemExit(f"{path} is no module that libopenmpt can read")
    block, out, rows, last = (ctypes.c_float * BLOCK)(), [], [], None
    while len(out) * BLOCK < LONGEST_S * RATE_HZ:
        count = lib.openmpt_module_read_float_mono(module, RATE_HZ, BLOCK, block)
        if count == 0:
            break
        row = (lib.openmpt_module_get_current_order(module), lib.openmpt_module_get_current_row(module))
        if row != last:
            rows.append((len(out) * BLOCK / RATE_HZ, row[1]))
            last = row
        out.append(np.frombuffer(block, np.float32, count).copy())
    lib.openmpt_module_destroy(module)
    return np.concatenate(out), rows


def notes(path: Path) -> tuple[list[tuple[float, int]], list[tuple[int, int]]]:
    """Return the rows of a module as ``read`` does, and its notes: (index of the row, number of the sample)."""
    lib, data = library(), path.read_bytes()
    module = lib.openmpt_module_create_from_memory2(data, len(data), *[None] * 7)
    channels = range(lib.openmpt_module_get_num_channels(module))
    block, rows, struck, last, done = (ctypes.c_float * BLOCK)(), [], [], None, 0
    samples = [1] * len(channels)
    while done < LONGEST_S * SLOW_HZ and lib.openmpt_module_read_float_mono(module, SLOW_HZ, BLOCK // 2, block):
        pattern, row = (getattr(lib, f"openmpt_module_get_current_{w}")(module) for w in ("pattern", "row"))
        place = (lib.openmpt_module_get_current_order(module), row)
        if place != last:
            for c in channels:
                note, sample = (
                    lib.openmpt_module_get_pattern_row_channel_command(module, pattern, row, c, k) for k in (0, 1)
                )
                samples[c] = sample or samples[c]
                if 0 < note <= HIGHEST_NOTE:
                    struck.append((len(rows), samples[c]))
            rows.append((done / SLOW_HZ, row))
            last = place
        done += BLOCK // 2
    lib.openmpt_module_destroy(module)
    return rows, struck


def rows_a_beat(at: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return of how many rows a beat is, at each row; ``at`` are their seconds."""
    ends = np.minimum(np.arange(len(at)) + 2 * ROWS, len(at) - 1)
    starts = np.maximum(ends - 2 * ROWS, 0)
    lasts = (at[ends] - at[starts]) / np.maximum(ends - starts, 1)  # of a row, over two beats
    size = np.full(len(at), ROWS)
    for _ in range(2):
        size = np.where(60 / np.maximum(lasts * size, 1e-3) > FASTEST_BPM, size * 2, size)
    return np.where(60 / np.maximum(lasts * size, 1e-3) < SLOWEST_BPM, np.maximum(size // 2, 1), size)


def counted(rows: list[tuple[float, int]]) -> tuple[list[float], list[float]]:
    """Return beats and downbeats of rows. [s]"""
    at, number = np.array([r[0] for r in rows]), np.array([r[1] for r in rows])
    size = rows_a_beat(at)
    return list(at[number % size == 0]), list(at[number % (BAR * size) == 0])


def song(path: Path) -> tuple[Samples, Truth]:
    """Return the sound of a module, at most LONGEST_S long, and what is known of it."""
    sound, rows = read(path)
    beats, downs = counted(rows)
    x = sound / (2 * float(np.abs(sound).max()) + 1e-9)
    return x.astype(np.float32), truth_of(path.stem, 0, beats, BAR, float(beats[-1]), downs)
