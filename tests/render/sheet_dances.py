"""Dances and runs that the tests of paper and pages lay out, all made up for them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Counts
from softshoe.fit.run import Run, RunEnding, RunRestart, RunTag, RunWall, Score, Start
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SEATED = read("""Windowsill Wander
Seated * 32 counts * 1 wall * beginner * 100 bpm * intro 16 counts

Section 1: heels, then points
1-4 feet: R heel forward, R home, L heel forward, L home
    arms: both hands rest on the thighs on 1
5-8 feet: R point to side, R home, L point to side, L home
    arms: both hands push forward at chest height on 5, both hands pull back to the chest on 6
Section 2: march, then heels and claps
1-4 feet: march R L R L
    arms: swing both arms
5-8 feet: heels up, heels down, hold, hold
    arms: clap on 7, clap on 8
Section 3: a circle on the floor with each foot
1-4 feet: R foot draws a circle on the floor and ends home
    arms: R hand follows above the foot, palm down
5-8 feet: L foot draws a circle on the floor and ends home
    arms: L hand follows above the foot, palm down
Section 4: open and cross
1-4 feet: R toe tap forward, R home, L toe tap forward, L home
    arms: open both arms wide at shoulder height on 1, cross both arms on the chest on 3
5-8 feet: hold
    arms: hands roll at chest height on 5, hands roll at chest height on 6, pat the thighs on 7, clap on 8
""")
STANDING = read("""Lamplight Ladder
32 counts, 4 walls, improver, 112 bpm, intro 16 counts
Tag at the end of wall 2. Restart on wall 5 after 16 counts.

Section 1: vine, rocking chair
1-4 Vine right, touch left beside right and clap
5-8 Left rocking chair
Section 2: shuffles, rocks
1&2 Shuffle forward left, right, left
3-4 Rock right forward, recover left
5&6 Shuffle back right, left, right
7-8 Rock left back, recover right
Section 3: heels, steps
1&2& Left heel forward, left together, right heel forward, right together
3-4 Step left forward, pivot 1/4 turn right with weight to right (3:00)
5-8 Walk forward left, right, left, right
Section 4: crosses, march
1-2 Cross left over right, point right to right
3-4 Cross right over left, point left to left
5-8 Step left in place, step right in place, step left in place, hold

TAG (4 counts) at the end of wall 2
1-4 Sway right, left, right, left
ENDING: on the last wall, which starts at 9:00, dance 16 counts, then 2 counts more
1-2 Step left forward, pivot 1/4 turn right with weight to right (12:00)
""")
WALTZ = read("""Lantern Waltz
12 counts, 1 wall, beginner, 90 bpm, intro 12 counts, start with the left foot

Section 1: forward and back
1-3 Step left forward, right beside left, left in place
4-6 Step right back, left beside right, right in place
Section 2: sides
1-3 Step left to left, drag right together for 2 counts
4-6 Step right to right, drag left together for 2 counts
""")
HOSTILE = '#read("/etc/passwd") $x$ *b* <script>alert(1)</script> \\ @a ]] {{ 7*7 }} é Ő Ł Καλημέρα Привет 日本 ☺'
DANCES = (SEATED, STANDING, WALTZ)


def run_of(dance: Dance, *, walls: int = 9) -> Run:
    """A run with tags, one of them found in the song, a bridge, a restart and an ending."""
    turn = 90 * ((dance.walls or 1) - 1)
    laid = tuple(
        RunWall(k + 1, 9.0 + 17 * k, 16 if k == 4 and dance.counts > 16 else dance.counts, k * turn % 360)
        for k in range(walls)
    )
    actions = dance.tags[0].actions if dance.tags else ()
    tags = (
        RunTag(2, None, dance.counts, 4, actions, bool(actions)),
        RunTag(6, None, dance.counts, 2, (), False),
        RunTag(None, 3, 8, 4, (), False),
    )
    cuts = (RunRestart(5, 16, "touch in place of the last step"),) if dance.counts > 16 else ()
    ending = RunEnding(walls, 16, 160.0, 0, 90, "on count 16 turn to the front and hold until the sound is gone")
    score = Score(82.0, {"tags": -12.0, "restarts": -6.0})
    return Run(1.0, Start(9.1, 16, "the first beat"), laid, tags, cuts, ending, score, ("One count is one beat.",))


def hostile(dance: Dance) -> Dance:
    """The dance with every word that a person can write made hostile."""
    sections = tuple(replace(section, title=HOSTILE) for section in dance.sections)
    return replace(dance, title=HOSTILE, sections=sections, kept=((3, HOSTILE), (9, "Smile " * 40)))


def twice(dance: Dance) -> Dance:
    """The dance danced twice as one wall: sixty-four counts."""
    span = Counts(Fraction(dance.counts))
    later = tuple(action.later(span) for action in dance.actions)
    more = tuple(replace(s, number=s.number + len(dance.sections), start=s.start + span) for s in dance.sections)
    return replace(dance, counts=2 * dance.counts, sections=dance.sections + more, actions=dance.actions + later)
