"""What a clause of a chair class has the hands do; what it leaves out is that of the clauses beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.chair_gestures import inferred, whither
from softshoe.wording.chair_parts import (
    BACKWARD,
    GOES,
    HEIGHTS,
    LASTING,
    MIRROR,
    OWN,
    SOUNDS,
    Beat,
    DeclinedError,
    HandPart,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.chair_clauses import Clause
    from softshoe.wording.chair_parts import State

BACK = ("back", "comes back", "come back", "return")


class Hands:
    """One clause for the hands, ``at`` that place among the clauses of its section."""

    def __init__(self, clauses: Sequence[Clause], at: int, state: State) -> None:
        self.clauses, self.at, self.state = clauses, at, state
        self.c = clauses[at]
        self.side, self.gest, self.place = self.c.side, self.c.gest, self.c.place
        self.dirs = list(dict.fromkeys([*self.c.dirs, "in"] if self.c.home else self.c.dirs))
        self.turned = False  # a side told of both hands is where they go

    def beats(self) -> list[Beat]:
        """Return the hands' part; none where the clause only says who moves next."""
        c, state = self.c, self.state
        if c.limb == "foot" or (c.limb == "same" and c.join != "during") or "other" in (self.side, c.limb):
            raise DeclinedError("whose hand")
        if self._named_twice():
            raise DeclinedError("one hand after the other, or in two places")
        self._sideways()
        if self._bare() and not self._borrowed():
            state.side = ""
            return []
        self._sided()
        rises = "up" in self.dirs or "down" in self.dirs
        if rises and c.ends("palm", "palms") and not (self.gest or self.place):
            raise DeclinedError("palms turn or hands rise")
        self._gesture()
        way = self._way()
        self._checked(way)
        self._remember(way)
        side = (state.lead or "R") if c.turn and self.side == "both" else self.side
        return [Beat(hands=(HandPart(side, self.gest, self.place, way),))]

    def _named_twice(self) -> bool:
        """ "Wave your right hand and rest your right hand": what lasts is done beside what the hand named next does."""
        c, before = self.c, self.clauses[self.at - 1] if self.at else None
        if before is None or c.counted or before.sentence != c.sentence or before.gest not in LASTING:
            return False
        return c.side == before.side and c.side in OWN and c.limb == before.limb == "hand"

    def _sideways(self) -> None:
        """ "Clap right", "both arms swing right, left": a side that is a way."""
        c = self.c
        lone = self.side in OWN and not c.limb
        if lone and self.place and not self.gest and self.state.side == "both" and self.state.way in MIRROR:
            raise DeclinedError("one hand, or both to a side")
        if lone and self.gest == "roll":
            raise DeclinedError("one hand rolls")
        if lone and self.gest == "clap":
            self.dirs, self.side = [OWN[self.side]], "both"
        elif lone and not self.dirs and not self.place and (self.state.side == "both" or self._goes_on_sideways()):
            self.turned = True
            self.dirs, self.side = [OWN[self.side]], ""

    def _goes_on_sideways(self) -> bool:
        """ "R arm swings R, L, R": the hand is told, and goes to and fro."""
        state = self.state
        return not self.gest and state.side in OWN and state.limbed and state.way in MIRROR

    def _bare(self) -> bool:
        """Return whether nothing is told but who moves, and how high."""
        return not (self.gest or self.dirs) and (
            not self.place or (self.c.level and self.side in OWN and not self.c.limb)
        )

    def _borrowed(self) -> bool:
        """Take what is done from the clauses beside; return False where only a hand is named for what follows."""
        c, state, height = self.c, self.state, self.place
        if not self.side and (c.times or c.slow) and state.gest and c.limb != "hand":
            self.gest, self.place = state.gest, height or state.place
            return True
        if not self.side:
            if c.limb and not c.counted:
                return False
            raise DeclinedError("nothing is done")
        ahead = self._ahead()
        opens = self.at == 0 or self.clauses[self.at - 1].sentence != c.sentence or bool(c.label)
        if ahead is not None and ahead.gest == "clap":
            raise DeclinedError("one hand claps")
        if ahead is not None and (not state.gest or (ahead.gest and ahead.side in OWN and opens)):
            self.gest, self.place, self.dirs = ahead.gest, ahead.place, list(ahead.dirs)
        elif self._begins_again():
            self.gest, self.place, way = state.outward
            self.dirs = ["side"] if way in MIRROR else [way] if way else []
        elif state.gest:
            self.gest, self.place = state.gest, state.place
            own = state.way in MIRROR and self.side in OWN
            self.dirs = ["side"] if own else [state.way] if state.way else []
        else:
            raise DeclinedError("nothing to do")
        self.place = height or self.place
        self.dirs = ["apart"] if self.side == "both" and self.dirs == ["side"] else self.dirs
        return True

    def _ahead(self) -> Clause | None:
        """Return the next clause of the sentence that says what is done, behind hands named alone."""
        for c in self.clauses[self.at + 1 :]:
            if c.sentence != self.c.sentence or c.label:
                return None
            if c.gest or c.place or c.dirs:
                return c
            if not c.side:
                return None
        return None

    def _begins_again(self) -> bool:
        """ "Reach with the right and rest it; with the left and rest it": the other hand goes out."""
        state = self.state
        back = state.gest in BACKWARD and bool(state.outward[0])
        other = self.side in OWN and self.side != state.lone
        ahead = self.clauses[self.at + 1] if self.at + 1 < len(self.clauses) else None
        if not (back and other) or ahead is None or ahead.sentence != self.c.sentence:
            return False
        return ahead.gest in BACKWARD or (not ahead.gest and (bool(ahead.place) or ahead.dirs == ["in"]))

    def _sided(self) -> None:
        """Settle who moves, as far as the words say it."""
        c, state = self.c, self.state
        if self.gest == "pat" and not self.place and self.at + 1 < len(self.clauses):
            behind = self.clauses[self.at + 1]
            self.place = behind.place if behind.gest == "pat" and behind.sentence == c.sentence else ""
        if self.gest == "pat":
            self.place = state.patted = self.place or state.patted
        if not self.side and self.gest == "snap" and self.at + 1 < len(self.clauses):
            behind = self.clauses[self.at + 1]
            self.side = behind.side if behind.gest == "snap" and behind.sentence == c.sentence else ""
        lone = state.lone if self.gest and self.gest not in SOUNDS and not c.times else ""
        if (
            not self.side
            and not c.limb
            and lone in OWN
            and any(w.kind == "gest" and w.text.endswith("s") for w in c.words)
        ):
            self.side = lone  # "3-4 lifts up"
        many = any(w.kind == "place" and w.text.endswith("s") for w in c.words)
        if not self.side and self.gest == "pat" and many and not c.limb:
            self.side = "both"
        if state.both and self.side in OWN and not c.limb and not self.dirs:
            if self.gest not in ("sweep", "swing"):
                raise DeclinedError("one hand, or both to a side")
            self.dirs, self.side = [OWN[self.side]], "both"
        self.side = self.side or state.side

    def _gesture(self) -> None:
        """Settle what is done."""
        c, state = self.c, self.state
        own = self.gest not in (*GOES, "sweep", "swing", "open", "raise")
        if self.place and self.side in OWN and self.dirs in (["right"], ["left"]) and own:
            crossed, self.dirs = self.dirs[0] != OWN[self.side], []
            if crossed and self.place != "shoulder":
                raise DeclinedError("the other side’s place")
            if crossed and self.gest not in ("pat", "drum"):
                self.gest = "rest" if c.upon or self.gest == "rest" else "cross"
        if self.gest == "close" and self.place in ("lap", "thigh"):
            self.gest = "lower"
        if not self.gest and len(self.dirs) == 1 and self.dirs[0] in state.meant:
            self.gest = state.meant[self.dirs[0]]
            self.dirs = [] if self.dirs[0] in ("in", "out") else self.dirs
        self.gest = self.gest or inferred(c, state, self.place, self.dirs[0] if self.dirs else "")
        if self.gest in ("clap", "roll") or (self.gest in ("pat", "snap", "drum") and not self.side):
            self.side = "both"
        if not self.side and (c.limb == "that" or self.gest in BACKWARD):
            self.side = state.lone
        self.side = self.side or "both"

    def _way(self) -> str:
        """Return where they go."""
        dirs = self.dirs
        if len(dirs) > 1:
            dirs = [d for d in dirs if d not in ("out", "in")]
        if "across" in dirs and len(dirs) == 2:
            dirs = [d for d in dirs if d != "across"]
        if len(dirs) > 1 and self.gest in ("raise", "reach", "lower", "open") and dirs[0] in ("up", "down"):
            dirs = dirs[1:]
        if len(dirs) > 1:
            raise DeclinedError("several ways")
        way = dirs[0] if dirs else ""
        if way == "up" and not self.c.gest and self.place == "overhead" and self.side in OWN:
            way = ""  # "R arm up overhead"
        if self.gest == "pull" and way == "in" and any(w.text.startswith(BACK) for w in self.c.words):
            way = "back"
        if self.gest in ("roll", "circle") and way:
            raise DeclinedError("which way round")
        return whither(self.gest, self.side, way, self.place)

    def _checked(self, way: str) -> None:
        """Decline what may mean something else."""
        c = self.c
        on = any(w.kind == "on" or w.text == "on" for w in c.words)
        plural = any(w.kind == "gest" and w.text.endswith("s") for w in c.words)
        strange = (
            (self.gest == "lower" and self.state.step and not (c.limb or c.side or self.place)),
            (self.gest != "cross" and any("wrist" in w.text for w in c.words)),
            (self.gest == "raise" and self.place == "knee"),
            (self.gest == "drum" and self.side == "both" and not c.turn),
            (self.gest in SOUNDS and len(c.at) == 2 and not c.ranged and not on and not plural),
        )
        if any(strange):
            raise DeclinedError(f"{self.gest} {way}")

    def _remember(self, way: str) -> None:
        """Leave for the next clauses what they may lean on."""
        c, state, gest = self.c, self.state, self.gest
        if gest in GOES or gest in ("raise", "open") or (c.gest and c.gest not in (*BACKWARD, "cross")):
            state.out = c.gest or gest if c.gest not in (*BACKWARD, "cross") else gest
        kept = state.sentence == c.sentence
        if not self.place and state.height and (gest == "pull" or (gest == state.gest and kept and gest not in SOUNDS)):
            self.place = state.height
        if c.level or (self.place in HEIGHTS and gest in LASTING):
            state.height, state.sentence = self.place, c.sentence
        state.gest, state.place, state.way, state.lone = gest, self.place, way, self.side
        if (c.side and not self.turned) or c.limb == "hand":
            state.side = "" if gest in ("clap", "roll") else c.side or "both"
            state.limbed = c.limb == "hand" and c.dirs in (["right"], ["left"])
        if c.join not in ("with", "during"):
            state.step = ""
        if gest not in BACKWARD:
            state.outward = (gest, self.place, way)
