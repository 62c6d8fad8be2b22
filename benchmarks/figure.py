"""How fast the figure moves, and the worst of every truth over the test dances in all versions and over made dances.

python benchmarks/figure.py [--every N] [--generated N]   (--every 4 looks at each fourth dance only)
"""

from __future__ import annotations

import argparse
import json
import random
import time
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from softshoe.adapt.adapt import adapt
from softshoe.adapt.version import Kind
from softshoe.dance.action import Action
from softshoe.dance.counts import Count
from softshoe.dance.document import dance_from_json
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced as events_of
from softshoe.dance.footwork import wall_events, weight_after
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.figure.move import danced
from softshoe.figure.truths import measures

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance
    from softshoe.figure.danced import Danced, Measure
    from softshoe.figure.motion import Support

SHEETS = Path(__file__).parents[1] / "tests" / "sheets"
HELD: dict[str, Support] = {"supported": "chair back", "arms": "wheelchair"}
TAKING = ("step", "rock", "stomp", "lunge", "sway", "recover")
FREE = ("touch", "point", "heel", "kick", "flick", "hitch", "hook", "scuff", "brush", "drag", "fan")
GAPS = (Fraction(1), Fraction(1), Fraction(1), Fraction(1, 2), Fraction(2))


def versions(every: int) -> Iterator[tuple[str, Danced]]:
    """Every sound test dance in every version, with its name."""
    for path in sorted(p for p in SHEETS.rglob("*.json") if "sound" in p.parts)[::every]:
        dance: Dance = dance_from_json(json.loads(path.read_text(encoding="utf-8")))
        for kind in get_args(Kind):
            made = adapt(dance, kind).dance
            on: Support = HELD.get(kind) or ("chair" if made.seated else "free")
            events = wall_events(made)
            yield f"{path.stem}, {kind}", danced(events, counts=made.counts, stance="standing", support=on, loop=True)


def generated(n: int) -> Iterator[tuple[str, Danced]]:
    """Made dances in which only a free foot moves, standing and seated."""
    for number in range(n):
        rng = random.Random(number)
        seated = number % 3 == 2
        moment, weight, actions = Fraction(0), Weight.SEAT if seated else Weight.LEFT, []
        for _ in range(rng.randint(8, 24)):
            foot = weight.free or rng.choice((Foot.LEFT, Foot.RIGHT))
            own = Direction.RIGHT if foot is Foot.RIGHT else Direction.LEFT
            verb = rng.choice((*TAKING, *FREE))
            ways = (own, Direction.FORWARD, Direction.BACK, Direction.TOGETHER)
            fixed = verb in ("recover", "hook", "hitch", "flick")
            way = VERB[verb].home if fixed else rng.choice(ways)
            turn = rng.choice((0, 0, 0, 90, -90)) if verb == "step" and not seated else 0
            actions.append(Action(Count.at_moment(moment), foot, verb, way, turn_deg=turn))
            weight = weight_after(actions[-1], weight)
            moment += rng.choice(GAPS)
        events = events_of(actions, weight=Weight.SEAT if seated else Weight.LEFT)
        on: Support = "chair" if seated else "free"
        yield f"made {number}", danced(events, counts=float(moment) + 1, stance="standing", support=on)


def report(motions: Iterator[tuple[str, Danced]], heading: str) -> None:
    """Print the worst of every truth, and how many motions break it."""
    worst: dict[str, tuple[Measure, str]] = {}
    broken: dict[str, int] = {}
    count = clean = 0
    for name, made in motions:
        count += 1
        found = measures(made)
        clean += not any(one.broken for one in found)
        for one in found:
            if one.truth not in worst or one.value - one.limit > worst[one.truth][0].value - worst[one.truth][0].limit:
                worst[one.truth] = one, name
        for truth in {one.truth for one in found if one.broken}:
            broken[truth] = broken.get(truth, 0) + 1
    print(f"\n{heading}: {count} motions, {clean} break nothing")
    for truth, (one, name) in worst.items():
        told = f"{one.value:.4f} of at most {one.limit:.4f}, {one.limb}, moment {one.moment:.2f}, {name}"
        print(f"  {truth}: broken in {broken.get(truth, 0)}; worst {told}")


def speed() -> None:
    """Print how long 64 counts take against how long they are danced at 120 counts a minute, and poses a second."""
    for path in sorted((SHEETS / "sound").glob("*.json"))[:4]:
        dance = dance_from_json(json.loads(path.read_text(encoding="utf-8")))
        on: Support = "chair" if dance.seated else "free"
        least, poses = float("inf"), 0
        for _ in range(3):
            start = time.process_time()
            made = danced(wall_events(dance), counts=dance.counts, stance="standing", support=on, loop=True)
            least, poses = min(least, time.process_time() - start), len(made.motion.facing_deg)
        took = least * 64 / dance.counts
        print(f"{dance.title}: 64 counts in {took * 1000:.0f} ms, {32 / took:.0f} times as fast as danced, "
              f"{poses / least:,.0f} poses a second")  # fmt: skip


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--generated", type=int, default=0)
    given = parser.parse_args()
    speed()
    report(versions(given.every), "test dances in all versions")
    if given.generated:
        report(generated(given.generated), "made dances")


if __name__ == "__main__":
    main()
