"""Well-formedness of a dance: one small function a check, listed in ``CHECKS``; they report, they do not stop.

A check takes the dance and where its header says things (field -> line) and yields findings; kinds and severities are
those
of the dance events. ``findings_of`` runs them all and leaves out what is only the consequence of an error told already.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import walls_of
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced, net_turn_deg, state_after, weight_after
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance, Ending, Tag

Lines = "Mapping[str, int]"
CONSEQUENCE_COUNTS = 8  # so long a clash may be the consequence of the one before
ONE = (Foot.LEFT, Foot.RIGHT)
# What a foot that bears the dancer can do without handing the weight over first.
ON_BEARING = frozenset(
    (
        "swivel",
        "fan",
        "raise",
        "lower",
        "hop",
        "turn",
        "pivot",
        "bump",
        "sway",
        "drop",
        "jump",
        "unwind",
        "grind",
        "hold",
        "arms",
    )
)
NOT_SEATED = {
    "pivot": "a pivot", "unwind": "an unwind", "hop": "a hop", "jump": "a jump", "turn": "a turn on one foot",
}  # fmt: skip
LATERAL_VERBS = frozenset(("step", "rock", "touch", "point", "heel", "kick", "lunge", "stomp", "stomp-up"))
# Gestures that one hand can do together with another.
TOGETHER = frozenset(
    ("raise", "reach", "lower", "open", "close", "wave", "shake", "snap", "rotate", "swing", "sweep", "roll", "circle")
)
CAUSES = frozenset(
    ("count-missing", "count-twice", "steps-per-count", "section-length", "section-number", "word", "foot-missing",
    "direction-missing",
     "unread")
)  # fmt: skip


def extras(dance: Dance) -> tuple[Tag | Ending, ...]:
    """Return the tags and endings."""
    return (*dance.tags, *dance.endings)


def _said(at: Count) -> str:
    return str(at.moment)


def _clashes(actions: Iterable[Action], weight: Weight) -> Iterator[tuple[Action, Weight]]:
    """Yield each action of the foot that bears the dancer; after one of them the next action may be of either foot."""
    unsure = False
    told: Count | None = None
    for action in actions:
        clash = not unsure and _moves_bearing(action, weight)
        if clash and (told is None or action.at.at - told.at >= CONSEQUENCE_COUNTS):
            yield action, weight
            told = action.at
        if clash or action.foot is not None:
            unsure = clash
        weight = weight_after(action, weight)


def _moves_bearing(action: Action, weight: Weight) -> bool:
    """Return whether an action moves the foot that bears, without saying that it goes on bearing."""
    bears = action.foot in ONE and action.foot is not None and action.foot.value == weight.value
    said = action.weight_said is not None and action.weight_said.value == weight.value
    return bears and not said and action.verb not in ON_BEARING


def weight(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The foot that bears the dancer must hand the weight over before it moves.

    "Walk right, left, right, hitch right": the right foot bears on the third count and can't lift on the fourth.
    """
    del lines
    runs: list[tuple[Iterable[Action], Weight]] = [(dance.actions, dance.start_weight)]
    runs += [(extra.actions, state_after(dance, extra.after_count)[0]) for extra in extras(dance)]
    for actions, start in runs:
        for action, _ in _clashes(actions, start):
            foot = action.foot.word if action.foot else ""
            other = action.foot.other.word if action.foot else ""
            yield Finding(
                "error", "weight", action.line, _said(action.at),
                f"The {foot} foot bears the weight here and can't {action.verb} before the {other} foot has taken it.",
                f"Write {other} for {foot} here, or let the {foot} foot only touch before.",
            )  # fmt: skip


def _first_foot(actions: Iterable[Action]) -> Action | None:
    return next((a for a in actions if a.foot in ONE and a.verb not in ON_BEARING), None)


def _leads(dance: Dance, after: int = 0) -> Action | None:
    """Return the first single foot that moves after a whole count, if nothing of both feet comes before it; at the
    start of the dance a step on the "&" before count 1 is the first.
    """
    for action in dance.actions:
        if (after and action.at.whole <= after) or action.foot is None:
            continue
        return action if action.foot in ONE and action.verb not in ON_BEARING else None
    return None


def free_foot(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The dance, a tag and a restart must leave free the foot that moves next.

    A dance that begins with the right foot can't end with the weight on it.
    """
    del lines
    lead = _leads(dance)
    if dance.seated or lead is None or lead.foot is None:
        return
    foot = lead.foot
    end = state_after(dance, dance.counts)[0]
    last = dance.actions[-1] if dance.actions else None
    if end.value == foot.value and last is not None:
        yield _wrong_free(foot, last.line, _said(last.at), "The dance ends")
    for restart in dance.restarts:
        if state_after(dance, restart.after_count)[0].value == foot.value and restart.after_count < dance.counts:
            yield _wrong_free(foot, restart.line, str(restart.after_count - 1), "The restart comes")
    for tag in dance.tags:
        after = tag.after_count if tag.then == "continue" else 0
        goes_on = _leads(dance, after)
        if goes_on is None or goes_on.foot is None or not tag.actions:
            continue
        events = danced(tag.actions, weight=state_after(dance, tag.after_count)[0])
        if events[-1].weight.value == goes_on.foot.value:
            yield _wrong_free(goes_on.foot, tag.actions[-1].line, _said(tag.actions[-1].at), "The tag ends")


def _wrong_free(foot: Foot, line: int, count: str, what: str) -> Finding:
    return Finding(
        "error", "free-foot", line, count,
        f"{what} with the weight on the {foot.word} foot, and the {foot.word} foot moves next.",
        "Let the last step be a touch, or add a step that hands the weight over.",
    )  # fmt: skip


def walls(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The number of walls follows from the net turn: none 1, half 2, a quarter 4. Only what is stated is checked."""
    if "walls" not in lines:
        return
    net = net_turn_deg(dance)
    turned = walls_of(net)
    if turned is not None and dance.walls != turned:
        ways = {0: "where it began", 90: "a quarter to the right", 180: "half round", 270: "a quarter to the left"}
        yield Finding(
            "error", "walls", lines["walls"], None,
            f"The dance ends {ways[net]}, so it has {turned} wall{'s' * (turned > 1)}, not {dance.walls}.",
            f"Write {turned} wall{'s' * (turned > 1)}, or change a turn.",
        )  # fmt: skip


def total(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The sections add up to the counts stated."""
    written = sum(int(section.length.n) for section in dance.sections)
    if "counts" in lines and dance.sections and written != dance.counts:
        yield Finding(
            "error", "total", lines["counts"], None,
            f"The sections add up to {written} counts; {dance.counts} are stated.",
            f"Write {written} counts, or look for a section too many or too few.",
        )  # fmt: skip


def tag_length(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A tag's or ending's steps fill the counts stated for it."""
    del lines
    for extra in extras(dance):
        if not extra.actions:
            continue
        filled = max(action.at.whole for action in extra.actions)
        if filled != extra.counts:
            yield Finding(
                "error", "tag-length", extra.line, None,
                f"{extra.counts} counts are stated here; the steps fill {filled}.",
                f"Write {filled} counts, or fill the others.",
            )  # fmt: skip


def place(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A tag, restart or ending is placed at a count that the dance has."""
    del lines
    named = [("tag", t.after_count, t.line) for t in dance.tags]
    named += [("restart", r.after_count, r.line) for r in dance.restarts]
    named += [("ending", e.after_count, e.line) for e in dance.endings]
    for what, after, line in named:
        if not 0 < after <= dance.counts:
            yield Finding(
                "error", "place", line, None,
                f"The {what} is placed after count {after}; the dance has {dance.counts}.",
                "Name a count of the dance.",
            )  # fmt: skip


def side(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A foot that goes to the other side crosses, and the words must say so; a mirrored half mirrors throughout."""
    del lines
    told = False
    for action in all_actions(dance):
        wrong = (action.foot is Foot.RIGHT and action.dir is Direction.LEFT) or (
            action.foot is Foot.LEFT and action.dir is Direction.RIGHT
        )
        if wrong and action.verb in LATERAL_VERBS and action.foot is not None and action.dir is not None:
            told = True
            yield Finding(
                "error", "side", action.line, _said(action.at),
                f"The {action.foot.word} foot can't go to the {action.dir.value} without crossing the other.",
                f"Write {action.foot.word} for {action.dir.value}, or say that it crosses.",
            )  # fmt: skip
    if not told:
        yield from _unmirrored(dance)


def all_actions(dance: Dance) -> list[Action]:
    """Return the actions of the wall, its tags and endings."""
    return [*dance.actions, *(a for extra in extras(dance) for a in extra.actions)]


def _unmirrored(dance: Dance) -> Iterator[Finding]:
    """A half that mirrors the half before it in all but one side is meant to mirror it there too."""
    by_count: dict[int, list[Action]] = {}
    for action in dance.actions:
        by_count.setdefault(action.at.whole, []).append(action)
    for first, length in _halves(dance):
        one = [a for n in range(first, first + length) for a in by_count.get(n, ())]
        two = [a for n in range(first + length, first + 2 * length) for a in by_count.get(n, ())]
        wrong = _one_wrong_side(one, two, length)
        if wrong is not None:
            message = "All else here mirrors the counts before, but this goes to the same side."
            yield Finding(
                "error", "side", wrong.line, _said(wrong.at), message, "Write right for left here, or left for right."
            )
            return


def _halves(dance: Dance) -> Iterator[tuple[int, int]]:
    """Yield stretches that may mirror each other (first, length): sections in pairs, halves and quarters of one."""
    starts = [(int(s.start.at), int(s.length.n)) for s in dance.sections]
    for (first, length), (_, after) in zip(starts[::2], starts[1::2], strict=False):
        if length == after:
            yield first, length
    for first, length in starts:
        for part in (length // 2, length // 4):
            if part > 1:
                yield from ((at, part) for at in range(first, first + length - 2 * part + 1, 2 * part))


def _one_wrong_side(one: list[Action], two: list[Action], length: int) -> Action | None:
    """Return the one action of the second half whose side is not mirrored, when all others are and sides are named."""
    if len(one) != len(two) or len(one) < 2:
        return None
    wrong: list[Action] = []
    sided = 0
    for a, b in zip(one, two, strict=True):
        want = a.mirrored
        if b.at.at - a.at.at != length or (b.foot, b.verb, b.turn_deg) != (want.foot, want.verb, want.turn_deg):
            return None
        if (b.dir is not want.dir and b.dir is not a.dir) or len(a.arms) != len(b.arms):
            return None
        bad = b.dir is not want.dir or (a.foot is not None and _arms_unmirrored(want.arms, a.arms, b.arms))
        if any(x.gesture != y.gesture or x.place != y.place for x, y in zip(want.arms, b.arms, strict=True)):
            return None
        sided += want.dir is not a.dir or want.foot is not a.foot or want.arms != a.arms
        if bad:
            wrong.append(b)
    return wrong[0] if len(wrong) == 1 and sided > 1 else None


def _arms_unmirrored(want: tuple[ArmMove, ...], one: tuple[ArmMove, ...], two: tuple[ArmMove, ...]) -> bool:
    if want == one:
        return False
    towards = [(w, a, b) for w, a, b in zip(want, one, two, strict=True)]
    return any(
        (b.toward is not w.toward and b.toward is a.toward)
        or (b.side is not w.side and b.side is a.side and w.toward is not None)
        for w, a, b in towards
    )


def arms(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A hand is asked for one thing, and one place, at a moment."""
    del lines
    told: set[tuple[ArmMove, ...]] = set()
    for action in all_actions(dance):
        if action.arms in told:
            continue
        for i, one in enumerate(action.arms):
            other = next((o for o in action.arms[:i] if _both_at_once(o, one)), None)
            if other is not None:
                told.add(action.arms)
                who = {Foot.LEFT: "left hand", Foot.RIGHT: "right hand"}.get(one.side, "hands")
                yield Finding(
                    "error", "arms", action.line, _said(action.at),
                    f"The {who} can't {other.gesture} and {one.gesture} at one moment.",
                    "Give one of the two a count of its own.",
                )  # fmt: skip
                break


def _both_at_once(one: ArmMove, two: ArmMove) -> bool:
    shared = one.side is two.side or Foot.BOTH in (one.side, two.side)
    if not shared or one == two:
        return False
    if one.gesture == two.gesture:
        return one.place != two.place and None not in (one.place, two.place)
    return not (one.gesture in TOGETHER and two.gesture in TOGETHER)


def seated(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """What can't be done on a chair: turns, pivots, hops, jumps, both feet in the air."""
    del lines
    if not dance.seated:
        return
    for action in all_actions(dance):
        what = NOT_SEATED.get(action.verb) or ("a turn" if action.turn_deg else "")
        if not what and action.foot is Foot.BOTH and VERB[action.verb].lifts:
            what = f"a {action.verb} of both feet"
        if what:
            yield Finding(
                "error", "seated", action.line, _said(action.at),
                f"The dance is seated, and {what} can't be danced on a chair.",
                "Give these counts a step that the chair allows: a touch, a march, a floor circle.",
            )  # fmt: skip
            return


def not_stated(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """Something usual is left out: intro, tempo, level, walls or counts."""
    usual = {
        "intro": (dance.intro_counts, "how many counts go by before the first"), "tempo": (dance.tempo_bpm,
        "the tempo"),
        "level": (dance.level, "the level"), "walls": (None, "the number of walls"), "counts": (None,
        "the number of counts"),
    }  # fmt: skip
    for name, (value, words) in usual.items():
        if value is None and name not in lines:
            yield Finding(
                "note", "not-stated", None, None, f"The sheet does not say {words}.", f"Add {words} to the header."
            )


Check = "Callable[[Dance, Mapping[str, int]], Iterator[Finding]]"
CHECKS: tuple[Callable[[Dance, Mapping[str, int]], Iterator[Finding]], ...] = (
    weight, free_foot, walls, total, tag_length, place, side, arms, seated, not_stated,
)  # fmt: skip
# A check whose finding would only repeat the cause named here.
AFTER = {
    "free-foot": CAUSES | {"weight", "seated"}, "walls": CAUSES | {"facing", "weight", "seated"},
    "total": frozenset(("section-length", "section-number", "count-missing", "count-twice")),
    "side": CAUSES | {"weight"},
    "tag-length": frozenset(("count-missing", "count-twice")),
}  # fmt: skip
NEAR_LINES = 4


def findings_of(
    dance: Dance, lines: Mapping[str, int] | None = None, told: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    """Run all checks; ``told`` are findings made already, whose consequences are left out."""
    found: list[Finding] = list(told)
    for check in CHECKS:
        for finding in check(dance, lines or {}):
            errors = [f for f in found if f.severity == "error"]
            if any(f.kind in AFTER.get(finding.kind, ()) for f in errors):
                continue
            if finding.kind == "weight" and any(f.kind in CAUSES and _near(f, finding) for f in errors):
                continue
            found.append(finding)
    return tuple(found)


def _near(cause: Finding, finding: Finding) -> bool:
    """Return whether a finding stands within a few lines behind its possible cause."""
    return cause.line is not None and finding.line is not None and 0 <= finding.line - cause.line <= NEAR_LINES
