"""A dance made over for other bodies: a search within what the abilities leave, each change with its reason.

The counts always stay. A dance that asks for nothing that is ruled out is given back unchanged.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.adapt.alike import alike
from softshoe.adapt.at_once import moments
from softshoe.adapt.cautions import cautions_for
from softshoe.adapt.change import Remade, changed
from softshoe.adapt.kinds import abilities_for, kind_for
from softshoe.adapt.lost import lost_sentences
from softshoe.adapt.search import Asked
from softshoe.adapt.seat_places import in_place
from softshoe.adapt.standing import standing, start_weight
from softshoe.adapt.version import Abilities, Version
from softshoe.adapt.within import breaches_of, half_time, hurried
from softshoe.dance.feet import Weight
from softshoe.dance.footwork import danced, state_after

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from softshoe.adapt.choices import Choice
    from softshoe.adapt.version import Change, Kind
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Section


@dataclass(frozen=True, slots=True)
class _Over:
    """One stretch of actions made over, with what it gave up."""

    made: Remade
    costs: Mapping[str, float]


def adapt(dance: Dance, to: Kind | Abilities) -> Version:
    """Return the version of the dance for a kind, or for what a dancer can and may do.

    Every count of the dance is kept; a dance that is already so is given back unchanged.
    """
    abilities = _for(dance, to)
    kind = kind_for(abilities) if isinstance(to, Abilities) else to
    whole = _over(dance, abilities, dance.actions, dance.start_weight, firm=_firm(dance))
    adapted = _around(dance, abilities, whole.made.actions)
    cautions = dict.fromkeys((*cautions_for(adapted, kind), *abilities.cautions))
    return Version(
        kind,
        adapted,
        tuple(sorted(whole.made.changes, key=lambda change: change.at)),
        tuple(cautions),
        abilities,
        whole.costs,
        lost_sentences(whole.costs),
        breaches_of(adapted, abilities),
    )


def remade_actions(dance: Dance, to: Kind | Abilities, actions: tuple[Action, ...]) -> tuple[Action, ...]:
    """Return other actions written for this dance (a tag found by a fit, say) as danced in such a version."""
    abilities = _for(dance, to)
    start = Weight.SEAT if dance.seated else start_weight(actions)
    return _over(dance, abilities, actions, start).made.actions


def _for(dance: Dance, to: Kind | Abilities) -> Abilities:
    """The abilities; a seated dance stays seated unless it is wanted on the feet or behind a chair."""
    given = to if isinstance(to, Abilities) else abilities_for(to)
    if not dance.seated or given.seated or given.standing or "chair" in given.limits:
        return given
    return replace(given, limits=given.limits | {"seat"})


def _firm(dance: Dance) -> tuple[int, ...]:
    """The counts after which the weight must be where it was: restarts, tags, endings, the end."""
    restarts, tags, endings = dance.restarts, dance.tags, dance.endings
    cuts = [*(r.after_count for r in restarts), *(t.after_count for t in tags), *(e.after_count for e in endings)]
    return (*cuts, dance.counts)


def _over(
    dance: Dance, abilities: Abilities, actions: tuple[Action, ...], start: Weight, *, firm: tuple[int, ...] = ()
) -> _Over:
    first = Remade(actions)
    if dance.seated and not abilities.seated:
        first = standing(actions)
        start = start_weight(first.actions)
    limits = abilities.limits
    if abilities.seated and not dance.seated:
        limits |= {"to seat"}
    found = _searched(dance, limits, first.actions, start, firm)
    return _Over(Remade(found.made.actions, (*first.changes, *found.made.changes)), found.costs)


def _searched(
    dance: Dance, limits: frozenset[str], actions: tuple[Action, ...], start: Weight, firm: tuple[int, ...]
) -> _Over:
    slow = half_time(dance)
    given = moments(actions)
    plain = tuple(moment for moment, _ in given)
    too_quick = hurried(plain, dance) if "to seat" in limits else frozenset()
    if not too_quick and not breaches_of(replace(dance, actions=actions), Abilities("", limits)):
        return _Over(Remade(actions), {})
    weights = [Weight.SEAT] * len(plain)
    if "seat" not in limits:
        by_time = {event.action.at: event.weight for event in danced(actions, weight=start)}
        weights = [by_time[moment.at] for moment in plain]
    cuts = frozenset(
        max((i for i, m in enumerate(plain) if m.at.whole <= count), default=len(plain) - 1) for count in firm
    )
    starts = tuple(i for i, m in enumerate(plain) if m.at in {section.start for section in dance.sections})
    found = alike(Asked(plain, tuple(weights), limits, start, slow, too_quick, cuts, starts), dance.sections)
    choices = in_place(found.choices) if "to seat" in limits else found.choices
    return _Over(_told(choices, [like for _, like in given]), found.given_up)


def _told(choices: Iterable[Choice], likes: list[tuple[Action, ...]]) -> Remade:
    actions: list[Action] = []
    changes: list[Change] = []
    for choice, like in zip(choices, likes, strict=True):
        now = choice.now.actions(like)
        actions += now
        change = changed(choice.was.actions(like), now, choice.was.at, choice.reasons, choice.sources)
        if change is not None:
            changes.append(change)
    return Remade(tuple(actions), tuple(changes))


def _around(dance: Dance, abilities: Abilities, actions: tuple[Action, ...]) -> Dance:
    """The dance around the remade actions: its tags and endings remade too, walls and facings as they are now."""
    if actions == dance.actions and abilities.seated == dance.seated and not _others(dance, abilities):
        return dance
    turns = not dance.seated and not abilities.seated and not {"turning", "chair"} & abilities.limits
    weight = Weight.SEAT if abilities.seated else start_weight(actions) if dance.seated else dance.start_weight
    others = _others(dance, abilities)
    return replace(
        dance,
        walls=dance.walls if turns else 1,
        seated=abilities.seated,
        start_weight=weight,
        actions=actions,
        sections=tuple(_named_anew(dance, actions, section) for section in dance.sections),
        tags=tuple(replace(tag, actions=others.get(tag.actions, tag.actions)) for tag in dance.tags),
        endings=tuple(
            replace(
                ending,
                actions=others.get(ending.actions, ending.actions),
                start_facing_deg=ending.start_facing_deg if turns else 0,
            )
            for ending in dance.endings
        ),
    )


def _others(dance: Dance, abilities: Abilities) -> dict[tuple[Action, ...], tuple[Action, ...]]:
    """Return what tags and endings become where they change."""
    found = {}
    tags = [(tag.actions, tag.after_count, (tag.counts,)) for tag in dance.tags]
    for actions, after_count, firm in (*tags, *((e.actions, e.after_count, ()) for e in dance.endings)):
        start = Weight.SEAT if dance.seated else state_after(dance, after_count)[0]
        over = _over(dance, abilities, actions, start, firm=firm)
        if over.made.actions != actions:
            found[actions] = over.made.actions
    return found


def _named_anew(dance: Dance, actions: tuple[Action, ...], section: Section) -> Section:
    """The section without its written heading where the feet now do something else: a heading that says "vine right"
    is wrong above steps that aren't one; without it the section is named by what it does."""
    first, last = section.start.at, (section.start + section.length).at

    def feet(given: tuple[Action, ...]) -> Counter[tuple[object, ...]]:
        return Counter((a.at, a.foot, a.verb, a.dir, a.turn_deg) for a in given if first <= a.at.at < last)

    return section if feet(actions) == feet(dance.actions) else replace(section, title="")
