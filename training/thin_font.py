"""Write a sound font without the presets and samples that no song here asks for, so that it is quicker to carry.

    python training/thin_font.py IN.sf3 OUT.sf3 [--without 6 7 8 ...]

Presets of bank 0 (but those left out) and the drum kits keep their sound to the last bit; samples nobody plays then are
gone. For .sf3 files, whose samples stand one after another as they are.
"""

from __future__ import annotations

import argparse
import struct
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

SIZES = {
    b"phdr": 38, b"pbag": 4, b"pmod": 10, b"pgen": 4, b"inst": 22, b"ibag": 4, b"imod": 10, b"igen": 4, b"shdr": 46,
}  # fmt: skip
NOWHERE = 99
KITS = (0, 8, 16, 24, 25, 32, 40)
INSTRUMENT, SAMPLE = 41, 53  # generators of the SoundFont 2.04 specification


def chunks(data: bytes, at: int, end: int) -> Iterator[tuple[bytes, int, int]]:
    """Yield name, start and size of the chunks between two places; some files leave out the byte after an odd size."""
    while at < end:
        name, size = data[at : at + 4], struct.unpack("<I", data[at + 4 : at + 8])[0]
        yield name, at + 8, size
        after = at + 8 + size
        at = after + (size & 1 if data[after : after + 4] not in (b"LIST", b"smpl", b"sm24") else 0)


def chunk(name: bytes, data: bytes) -> bytes:
    """Return a chunk of even size."""
    data += b"\0" * (len(data) & 1)
    return name + struct.pack("<I", len(data)) + data


def pointed(
    rows: dict[bytes, list[bytes]], heads: bytes, bags: bytes, what: int, wanted: set[int], at: int
) -> set[int]:
    """Return what the wanted presets (or instruments) point at."""
    number = lambda row, place: struct.unpack("<H", row[place : place + 2])[0]  # noqa: E731
    bag_rows, gen_rows = rows[bags], rows[bags[:1] + b"gen"]
    found = set()
    for i in wanted:
        for bag in range(number(rows[heads][i], at), number(rows[heads][i + 1], at)):
            for g in range(number(bag_rows[bag], 0), number(bag_rows[bag + 1], 0)):
                kind, value = struct.unpack("<HH", gen_rows[g])
                if kind == what:
                    found.add(value)
    return found


def thinned(data: bytes, without: tuple[int, ...]) -> bytes:
    """Return the font without what is not asked for."""
    parts = {data[at : at + 4]: (at + 4, at + size) for _, at, size in chunks(data, 12, len(data))}
    sound = next(at for name, at, _ in chunks(data, *parts[b"sdta"]) if name == b"smpl")
    tables = {name: data[at : at + size] for name, at, size in chunks(data, *parts[b"pdta"])}
    rows = {k: [tables[k][i : i + n] for i in range(0, len(tables[k]), n)] for k, n in SIZES.items()}
    presets = set()
    for i, head in enumerate(rows[b"phdr"][:-1]):
        program, bank = struct.unpack("<HH", head[20:24])
        if (bank == 0 and program not in without) or (bank == 128 and program in KITS):
            presets.add(i)
        else:  # so that nobody finds it
            rows[b"phdr"][i] = head[:22] + struct.pack("<H", NOWHERE) + head[24:]
    instruments = pointed(rows, b"phdr", b"pbag", INSTRUMENT, presets, 24)
    used = sorted(pointed(rows, b"inst", b"ibag", SAMPLE, instruments, 20))
    spans = {i: struct.unpack("<II", rows[b"shdr"][i][20:28]) for i in used}
    least = min(used, key=lambda i: spans[i][1] - spans[i][0])
    kept, places = bytearray(), {}
    for i in used:
        start, end = spans[i]
        places[i] = (len(kept), len(kept) + end - start)
        kept += data[sound + start : sound + end]
    heads = []
    for i, row in enumerate(rows[b"shdr"][:-1]):
        source = i if i in places else least
        heads.append(row[:20] + struct.pack("<II", *places[source]) + rows[b"shdr"][source][28:])
    tables[b"phdr"] = b"".join(rows[b"phdr"])
    tables[b"shdr"] = b"".join([*heads, rows[b"shdr"][-1]])
    info = data[parts[b"INFO"][0] - 4 : parts[b"INFO"][1]]
    lists = (info, b"sdta" + chunk(b"smpl", bytes(kept)), b"pdta" + b"".join(chunk(k, tables[k]) for k in SIZES))
    return chunk(b"RIFF", b"sfbk" + b"".join(chunk(b"LIST", part) for part in lists))


def main() -> None:
    """Thin a font."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("font", type=Path)
    ask.add_argument("out", type=Path)
    ask.add_argument("--without", type=int, nargs="*", default=(), help="programs of bank 0 to leave out")
    args = ask.parse_args()
    args.out.write_bytes(thinned(args.font.read_bytes(), tuple(args.without)))


if __name__ == "__main__":
    main()
