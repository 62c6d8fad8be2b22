"""A film's own colours: brightness at every pixel, two colour differences at every second one (BT.709, limited range).

Pictures of films are drawn in these colours from the start: every colour is turned once, when it is first used, and no
pixel ever is. Soft edges mix two colours in equal shares either way, so the picture is the same (ITU-R BT.709-6, 3).
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Planes = tuple[Pixels, Pixels, Pixels]

RED, GREEN, BLUE = 0.2126, 0.7152, 0.0722
ALL_BUT_LOWEST = np.uint32(0xFEFEFEFE)


@cache
def film_colour(colour: str) -> str:
    """Return "#rrggbb" as brightness and the two differences to blue and red, in the same writing.

    >>> film_colour("#ffffff"), film_colour("#000000")
    ('#eb8080', '#108080')
    """
    red, green, blue = (int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5))
    bright = RED * red + GREEN * green + BLUE * blue
    parts = (
        16 + 219 * bright,
        128 + 224 * (blue - bright) / (2 * (1 - BLUE)),
        128 + 224 * (red - bright) / (2 * (1 - RED)),
    )
    return "#" + "".join(f"{round(part):02x}" for part in parts)


def planes_of(pixels: Pixels) -> Planes:
    """Return the planes of a picture drawn in film colours: brightness (h, w), and both differences (h / 2, w / 2).

    pixels : (h, w, 4) of even sides. Four neighbours are averaged, up in one direction and down in the other, so that
        nothing drifts.
    """
    packed = pixels.view(np.uint32)[:, :, 0]
    over, under = packed[0::2], packed[1::2]
    rows = (over | under) - (((over ^ under) & ALL_BUT_LOWEST) >> np.uint32(1))
    one, other = rows[:, 0::2], rows[:, 1::2]
    mean = (one & other) + (((one ^ other) & ALL_BUT_LOWEST) >> np.uint32(1))
    colours = mean.view(np.uint8).reshape(*mean.shape, 4)
    return pixels[:, :, 0], colours[:, :, 1], colours[:, :, 2]
