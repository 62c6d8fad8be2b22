"""What arrays say of thousands of walls is what the score says of each."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from fit.made_maps import made_map
from fit.planted import stepping
from softshoe.fit.edges import NONE, TIE, Ground, edges_anywhere
from softshoe.fit.grid import counted
from softshoe.fit.pins import Pins
from softshoe.fit.rules import Weights
from softshoe.fit.score import misfits
from softshoe.fit.steps import Step

LENGTHS = [8, 16, 16, 18, 24, 32, 32, 35, 40, 48, 64]


@pytest.mark.parametrize("number", range(12))
def test_every_edge_charges_what_the_score_says(number: int) -> None:
    random = Random(number)
    level = random.choice(["beginner", "improver"])
    dance = stepping(random.choice([16, 32, 64]), turn_deg=random.choice([0, 90]), level=level)
    phrases = [random.choice(LENGTHS) for _ in range(random.randint(1, 5))]
    song = made_map(phrases, confidence=tuple(round(random.uniform(0, 1), 2) for _ in phrases))
    late = 16 + random.randrange(sum(phrases))
    beats = tuple(beat + (2.0 if index >= late else 0.0) for index, beat in enumerate(song.beats_s))
    grid = counted(replace(song, beats_s=beats, end_s=beats[-1] + 0.6), beats_per_count=1.0, start_s=beats[16])
    ground = Ground(dance, grid, Pins(), Weights())
    edges = edges_anywhere(ground, 0)
    there = np.argwhere((edges.what != NONE) & np.isfinite(edges.alone[:, :, 0]))
    for at, column in random.sample(there.tolist(), min(150, len(there))):
        what = int(edges.what[at, column])
        step = ground.repairs[what - 1].step(0, at) if what else Step(0, at, min(dance.counts, grid.total - at))
        over = grid.total - step.end < 5
        charged = sum(misfits(dance, grid, step, Weights()).values()) + (ground.closing(step) if over else 0.0)
        assert edges.alone[at, column] == pytest.approx(np.zeros(ground.facings) + charged, abs=60 * TIE)
        assert edges.to[at, column] == (grid.total if over else step.end)
