"""The scores of a listener on one song of which all is known: 0 to 1, from mir_eval where it has them."""

from __future__ import annotations

import warnings
from dataclasses import dataclass

import mir_eval
import numpy as np

Array = np.ndarray
NONE = np.zeros(0)
KEYS = ("beats", "CMLt", "AMLt", "tempo", "downbeats", "metre", "eights", "eights 95", "first count", "phrases")
NEAR_S = 0.07


@dataclass(frozen=True)
class Told:
    """What a listener or tracker says of a song; None where it says nothing."""

    beats: Array
    downbeats: Array | None = None
    eights: Array | None = None
    phrases: Array | None = None
    first_count: float | None = None
    tempo: float | None = None
    metre: int | None = None
    own: object = None  # our listeners' song map before its confidence is calibrated


def numbered(beats: Array, eights: Array) -> Array:
    """Return the number of each beat since the last start of an eight, -1 before the first."""
    if len(eights) == 0:
        return np.full(len(beats), -1)
    last = np.searchsorted(eights, beats + 1e-6, side="right") - 1
    first = np.searchsorted(beats, eights - 1e-6)
    return np.where(last >= 0, np.arange(len(beats)) - first[np.maximum(0, last)], -1)


def plain_eights(told: Told) -> Array:
    """Return eights by the plainest rule, for trackers that stop at the bar: every second bar from the first."""
    return told.downbeats[::2] if told.downbeats is not None else NONE


def eights_right(beats: Array, eights: Array, song) -> float:
    """Return the share of true beats that are found and have the right number in their eight."""
    if len(beats) == 0 or len(eights) == 0:
        return 0.0
    true, number = numbered(song.beats, song.eights), numbered(beats, eights)
    near = np.abs(beats[:, None] - song.beats[None]).argmin(axis=0)
    right = (np.abs(beats[near] - song.beats) < NEAR_S) & (number[near] == true)
    return float(right[true >= 0].mean())


def f_score(found: Array, truth: Array, within_s: float) -> float:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return float(mir_eval.beat.f_measure(truth, found, f_measure_threshold=within_s))


def scores(song, told: Told) -> dict[str, float]:
    """Return the scores of one song; what was not told is left out."""
    half = 30 / song.bpm
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = mir_eval.beat.trim_beats(told.beats)
        truth = mir_eval.beat.trim_beats(song.beats)
        _, cmlt, _, amlt = mir_eval.beat.continuity(truth, found)
    row = {"beats": f_score(found, truth, NEAR_S), "CMLt": float(cmlt), "AMLt": float(amlt)}
    if told.tempo is not None:
        row["tempo"] = float(abs(told.tempo / song.bpm - 1) < 0.04)
    if told.downbeats is not None:
        row["downbeats"] = f_score(
            mir_eval.beat.trim_beats(told.downbeats), mir_eval.beat.trim_beats(song.downbeats), NEAR_S
        )
        eights = told.eights if told.eights is not None else plain_eights(told)
        row["eights"] = eights_right(told.beats, eights, song)
        row["eights 95"] = float(row["eights"] >= 0.95)
    if told.metre is not None:
        row["metre"] = float(told.metre == song.metre)
    if told.first_count is not None:
        row["first count"] = float(abs(told.first_count - song.first_count) < half)
        true = song.phrases[song.phrases >= song.first_count - half]
        row["phrases"] = f_score(told.phrases if told.phrases is not None else NONE, true, half)
    return row
