"""Flashes counted in pictures, as WCAG 2.2 defines them (2.3.1 and its "general flash and red flash thresholds").

A flash is a pair of opposing changes of relative luminance by a tenth or more of the greatest, the darker of them below
0.80. More than three in any second may not cover more than a quarter of any ten degrees of sight, which is a quarter
of 341 by 256 of a page of 1024 by 768: a thirty-sixth of it.
"""

from __future__ import annotations

import numpy as np

CHANGE, DARK, MOST = 0.1, 0.8, 3
MOST_OF_PAGE = 1 / 36


def luminance(grey: np.ndarray) -> np.ndarray:
    """Relative luminance of a grey picture, 0 to 1, from its bytes."""
    share = grey / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def swings(light: np.ndarray) -> np.ndarray:
    """Whether each cell of (n, cells) ends a swing of a tenth or more at each frame, opposite to its last one."""
    found = np.zeros(light.shape, bool)
    turned, way = light[0].copy(), np.zeros(light.shape[1])
    for k, now in enumerate(light):
        far = now - turned
        ends = (np.abs(far) >= CHANGE) & (np.sign(far) != way) & (np.minimum(now, turned) < DARK)
        further = np.sign(far) == way
        found[k] = ends
        way = np.where(ends, np.sign(far), way)
        turned = np.where(ends | further, now, turned)
    return found


def flashing_share(light: np.ndarray, times_s: np.ndarray) -> float:
    """The greatest share of cells that flash more than three times in any one second; light: (n, cells)."""
    ends = swings(light)
    worst = 0.0
    for start_s in times_s:
        within = (times_s >= start_s) & (times_s < start_s + 1.0)
        worst = max(worst, float((ends[within].sum(axis=0) > 2 * MOST).mean()))
    return worst
