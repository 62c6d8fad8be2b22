"""The walkthrough: the dance taught slowly without the song, section by section.

Order: chair, floor and stop words; each section standing with counts, then seated with words and with the arms (common
practice for chair dances too: feet are seen best on a standing dancer); after every
second section what is known together; tag, restarts and ending; the whole dance once with calls ahead; the way out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Count, Counts
from softshoe.dance.footwork import mirrored
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.fit.run import RunWall
from softshoe.fit.timeline import Moment
from softshoe.teach import cards
from softshoe.teach.calls import spoken
from softshoe.teach.laid import laid_out
from softshoe.teach.lesson import Passage
from softshoe.teach.parts import MotionPart, parts
from softshoe.teach.patterns import pattern_words
from softshoe.teach.script import Says, Script, Stretch
from softshoe.teach.shown import beats_of
from softshoe.teach.voice import AFTER_S
from softshoe.teach.words import number_word

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Section
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Lesson, View

SLOW, TOGETHER, NEARLY = 0.6, 0.75, 0.85  # of the song's speed
SLOW_STEP_S = (0.8, 1.6)
FEW_SECTIONS = 4  # longer dances show each section once seated
TRAVEL_STEPS = 2
CROSSING = (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
WITH: dict[Says, str] = {"arms": ", with arms", "counts": ", with counts"}
ALONG = {Direction.FORWARD: 1, Direction.BACK: -1}


@dataclass(frozen=True, slots=True)
class _Plan:
    """What the walkthrough works from."""

    dance: Dance
    versions: Mapping[str, Version]
    run: Run
    parts: Mapping[str, MotionPart]
    counts_per_min: float
    seat: str

    def step_s(self, share: float) -> float:
        """Seconds of a count at this share of the song's speed, within what can still be danced slowly."""
        low, high = SLOW_STEP_S
        step_s = 60.0 / (self.counts_per_min * share)
        return min(max(step_s, low), high) if share == SLOW else step_s


def walkthrough(dance: Dance, versions: Mapping[str, Version], run: Run, song: SongMap) -> Lesson:
    """Return the walkthrough of a dance: about four minutes for 32 counts.

    ``versions`` by kind: the seated one (or, lacking it, the first) is taught; a standing one is shown before it.
    Keys of motions are those of ``parts.parts``.
    """
    seat = "seated" if "seated" in versions else next(iter(versions))
    counts_per_min = song.tempo_bpm / run.beats_per_count
    plan = _Plan(dance, versions, run, parts(dance, versions, run), counts_per_min, seat)
    script = Script(dance.title)
    figure = plan.parts[f"{seat}:dance"].stance
    for card in (cards.title_card(dance, run, counts_per_min=counts_per_min), cards.chair_card(), cards.stop_card()):
        script.card(card, figure=figure)
    sections = versions[seat].dance.sections
    for index, section in enumerate(sections):
        _section(script, plan, section, sections[:index])
        if index % 2 and len(sections) > 2:
            _together(script, plan, sections[index - 1 : index + 1])
    _extras(script, plan)
    _whole(script, plan)
    script.card(cards.closing_card(), figure=figure)
    return script.lesson()


# One section


def _section(script: Script, plan: _Plan, section: Section, before: Sequence[Section]) -> None:
    """Standing with counts, seated with words, seated with arms; a section known already is only recalled."""
    seated = plan.parts[f"{plan.seat}:dance"]
    name = f"Section {number_word(section.number)}"
    known = _known(seated.actions, section, before)
    feet = any(action.foot is not None for action in _inside(seated.actions, section))
    arms = any(action.arms for action in _inside(seated.actions, section))
    if known:
        _seated(script, plan, section, "arms" if arms else "words", (f"{name}: {known}.",))
        return
    shown = feet and "standing" in plan.versions and plan.seat != "standing"
    if shown:
        _standing(script, plan, section, name)
    if feet:
        lead = ("Now seated, with the words." if not before else "Seated.") if shown else f"{name}, seated."
        _seated(script, plan, section, "words", (lead,))
    if arms:
        lead = ("And now with the arms." if not before else "With the arms.") if feet else f"{name}: arms alone."
        _seated(script, plan, section, "arms", (lead,))
    elif feet and len(plan.versions[plan.seat].dance.sections) <= FEW_SECTIONS:
        _seated(script, plan, section, "counts", ("With the counts.",))


def _standing(script: Script, plan: _Plan, section: Section, name: str) -> None:
    part = plan.parts["standing:feet"]
    view: View = "behind" if _travels(_inside(part.actions, section)) else "mirror"
    taught = any(p.figure == "standing" and p.beats for p in script.passages)
    lead = [f"{name}, standing." if taught else f"{name}. Standing first, feet only."]
    if plan.dance.seated and not taught:
        lead.append("Stay on your chair, and watch the feet.")
    before = next((p.view for p in reversed(script.passages) if p.figure == "standing" and p.beats), None)
    if view != before:
        lead.append("You see the dancer from behind." if view == "behind" else "The dancer faces you, as in a mirror.")
    title = f"Section {section.number}, standing{', from behind' if view == 'behind' else ''}"
    script.dance(_stretch(plan, title, "standing:feet", part, section, says="counts", lead=tuple(lead), view=view))


def _seated(script: Script, plan: _Plan, section: Section, says: Says, lead: tuple[str, ...]) -> None:
    what = "feet" if says == "words" else "dance"
    key = f"{plan.seat}:{what}"
    title = f"Section {section.number}, seated{WITH.get(says, '')}"
    script.dance(_stretch(plan, title, key, plan.parts[key], section, says=says, lead=lead, view="mirror"))


def _stretch(
    plan: _Plan,
    title: str,
    key: str,
    part: MotionPart,
    section: Section,
    *,
    says: Says,
    lead: tuple[str, ...],
    view: View,
) -> Stretch:
    return Stretch(
        title=title,
        key=key,
        part=part,
        first=section.start.whole,
        counts=int(section.length.n),
        step_s=plan.step_s(SLOW),
        says=says,
        lead=lead,
        view=view,
        per_section=plan.dance.counts_per_section,
        section=section.number,
    )


def _inside(actions: Sequence[Action], section: Section) -> list[Action]:
    end = (section.start + section.length).at
    return [action for action in actions if section.start.at <= action.at.at < end]


def _known(actions: Sequence[Action], section: Section, before: Sequence[Section]) -> str:
    """ "the same again" or "the same, other side" where an earlier section teaches this one; else ""."""
    here = _from_one(_inside(actions, section), section)
    for earlier in before:
        there = _from_one(_inside(actions, earlier), earlier)
        if here == there:
            return f"the same as section {number_word(earlier.number)}"
        if here == mirrored(there):
            return f"section {number_word(earlier.number)}, other side"
    return ""


def _from_one(actions: Sequence[Action], section: Section) -> tuple[Action, ...]:
    back = Counts(Fraction(1) - section.start.at)
    return tuple(action.later(back) for action in actions)


def _travels(actions: Sequence[Action]) -> bool:
    """True where a section turns, crosses or moves along: it is seen best from behind."""
    along = sum(ALONG.get(a.dir, 0) for a in actions if a.dir and VERB[a.verb].takes_weight and a.verb != "rock")
    return abs(along) >= TRAVEL_STEPS or any(a.turn_deg or a.dir in CROSSING for a in actions)


# Sections together, tags, the whole


def _together(script: Script, plan: _Plan, known: Sequence[Section]) -> None:
    first, last = known[0], known[-1]
    key = f"{plan.seat}:dance"
    lead = (f"Sections {number_word(first.number)} and {number_word(last.number)} together, a little faster.",)
    counts = sum(int(section.length.n) for section in known)
    script.dance(
        Stretch(
            title=f"Sections {first.number} and {last.number} together",
            key=key,
            part=plan.parts[key],
            first=first.start.whole,
            counts=counts,
            step_s=plan.step_s(TOGETHER),
            says="calls",
            lead=lead,
            view="mirror",
            per_section=plan.dance.counts_per_section,
        )
    )


def _extras(script: Script, plan: _Plan) -> None:
    """Each tag once, then restarts and the closing shape."""
    taught: list[tuple[Action, ...]] = []
    for index, tag in enumerate(plan.run.tags):
        part = plan.parts[f"{plan.seat}:tag{index}"]
        if part.actions in taught:
            continue
        taught.append(part.actions)
        lead = cards.tag_remark(tag, pattern_words(part.actions))
        _extra(script, plan, "Tag", f"{plan.seat}:tag{index}", "arms", lead)
    if plan.run.restarts:
        script.card(cards.restart_card(plan.run), figure=plan.parts[f"{plan.seat}:dance"].stance)
    if plan.run.ending:
        _extra(script, plan, "Ending", f"{plan.seat}:close", "arms", ("On the last beat open the arms, and hold.",))


def _extra(script: Script, plan: _Plan, title: str, key: str, says: Says, lead: tuple[str, ...]) -> None:
    part = plan.parts[key]
    script.dance(
        Stretch(
            title=title,
            key=key,
            part=part,
            first=1,
            counts=part.counts,
            step_s=plan.step_s(SLOW),
            says=says,
            lead=lead,
            view="mirror",
            per_section=plan.dance.counts_per_section,
        )
    )


def _whole(script: Script, plan: _Plan) -> None:
    """The whole dance once, a little slower than the song, with the count-in and the calls ahead of it."""
    start_s = script.now_s
    script.say(("Now the whole dance, without the music.", "The next move is called before it comes."))
    version = plan.versions[plan.seat]
    step_s, per = plan.step_s(NEARLY), plan.dance.counts_per_section
    moments = [Moment(i * step_s, "intro", None, 0, 0, to_go=per - i) for i in range(per)]
    for count in range(1, plan.dance.counts + 1):
        moments.append(Moment((per + count - 1) * step_s, "wall", Count(Fraction(count)), 1, 0))
    run = replace(plan.run, walls=(RunWall(1, 0.0, plan.dance.counts, 0),), tags=(), restarts=(), ending=None)
    at_s = tuple(script.now_s + moment.at_s for moment in moments)
    laid = laid_out(plan.dance, version, run, moments, at_s)
    end_s = at_s[-1] + step_s + AFTER_S
    beats = tuple(replace(beat, wall=None) for beat in beats_of(laid, length_s=end_s))
    wanted = list(spoken(laid, finish=False))
    passage = Passage("The whole dance", start_s, end_s, plan.parts[f"{plan.seat}:dance"].stance, "mirror", beats)
    script.add(wanted, passage)
