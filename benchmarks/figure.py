"""How fast the figure moves, and the worst it does, over the sound dances.

python benchmarks/figure.py [folder of dance events]
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.dance.document import dance_from_json
from softshoe.dance.footwork import wall_events
from softshoe.figure.balance import centre_of_mass
from softshoe.figure.motion import JOINT
from softshoe.figure.move import danced
from softshoe.figure.truths import breaches

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.figure.motion import Stance

ROUNDS = 5
SHEETS = Path(__file__).parents[1] / "tests" / "sheets" / "sound"


def stance_of(dance: Dance) -> Stance:
    return "seated" if dance.seated else "standing"


def seconds_for_64(dance: Dance) -> tuple[float, int]:
    """The least time of some rounds for 64 counts of a dance, and how many poses that is."""
    counts = 64 * 1.0
    least, frames = float("inf"), 0
    for _ in range(ROUNDS):
        start = time.perf_counter()
        made = danced(wall_events(dance), counts=dance.counts, stance=stance_of(dance), loop=True)
        frames = len(made.motion.facing_deg)
        least = min(least, time.perf_counter() - start)
    return least * counts / dance.counts, round(frames * counts / dance.counts)


def worst(dance: Dance) -> str:
    """Slip, floor, reach and sink of one dance, and how many truths it breaks."""
    made = danced(wall_events(dance), counts=dance.counts, stance=stance_of(dance), loop=True)
    points = made.motion.frames.points_m
    low = min(float(points[:, JOINT[f"{side}_{j}"], 1].min()) for side in ("left", "right") for j in ("heel", "toe"))
    sink = float(points[:, JOINT["pelvis"], 1].max() - points[:, JOINT["pelvis"], 1].min())
    height = float(centre_of_mass(points, made.body)[:, 1].mean())
    return (
        f"breaks {len(breaches(made))}, under the floor {-min(low, 0) * 1000:.2f} mm, misses "
        f"{made.miss_m.max() * 1000:.1f} mm on the way, pelvis {sink * 100:.1f} cm, centre of mass {height:.3f} m"
    )


def main() -> None:
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else SHEETS
    for path in sorted(folder.glob("*.json")):
        dance = dance_from_json(json.loads(path.read_text(encoding="utf-8")))
        took, poses = seconds_for_64(dance)
        print(f"{dance.title}: 64 counts {took * 1000:.0f} ms, {poses / took:,.0f} poses a second; {worst(dance)}")


if __name__ == "__main__":
    main()
