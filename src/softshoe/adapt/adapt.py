"""A dance made over for other bodies: a chain of small changes, each with its reason. The counts always stay."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.adapt.abilities import kind_for, softened
from softshoe.adapt.arms import arms_only
from softshoe.adapt.cautions import cautions_for
from softshoe.adapt.change import Remade
from softshoe.adapt.one_sided import one_sided
from softshoe.adapt.seated import seated
from softshoe.adapt.standing import standing, start_weight
from softshoe.adapt.supported import supported
from softshoe.adapt.version import Abilities, Kind, Version
from softshoe.dance.feet import Foot, Weight

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Section

    Link = Callable[[tuple[Action, ...]], Remade]

ON_CHAIR: tuple[Kind, ...] = ("seated", "arms", "left", "right")


@dataclass(frozen=True, slots=True)
class _Chain:
    links: tuple[Link, ...]

    def __call__(self, actions: tuple[Action, ...]) -> Remade:
        made = Remade(actions)
        for link in self.links:
            step = link(made.actions)
            made = Remade(step.actions, (*made.changes, *step.changes))
        return made


def adapt(dance: Dance, to: Kind | Abilities) -> Version:
    """Return the version of the dance for a kind, or for what a dancer can and may do.

    Every count of the dance is kept; a dance that is already so is given back unchanged.
    """
    abilities = to if isinstance(to, Abilities) else None
    kind = to if not isinstance(to, Abilities) else kind_for(to)
    chain = _Chain((*_links(dance, kind), *((lambda a: softened(a, abilities),) if abilities else ())))
    made = chain(dance.actions)
    adapted = _as_kind(dance, kind, made.actions, chain)
    found = dict.fromkeys((*cautions_for(adapted, kind), *(abilities.cautions if abilities else ())))
    return Version(kind, adapted, tuple(sorted(made.changes, key=lambda change: change.at)), tuple(found))


def remade_actions(dance: Dance, kind: Kind, actions: tuple[Action, ...]) -> tuple[Action, ...]:
    """Return other actions written for this dance (a tag found by a fit, say) as danced in a version of this kind."""
    return _Chain(_links(dance, kind))(actions).actions


def _links(dance: Dance, kind: Kind) -> tuple[Link, ...]:
    on_chair = kind in ON_CHAIR
    links: list[Link] = []
    if on_chair and not dance.seated:
        links.append(lambda actions: seated(actions, counts_per_min=_counts_per_min(dance)))
    if not on_chair and dance.seated:
        links.append(standing)
    last: dict[Kind, Link] = {
        "supported": supported,
        "arms": arms_only,
        "left": lambda actions: one_sided(actions, Foot.LEFT),
        "right": lambda actions: one_sided(actions, Foot.RIGHT),
    }
    return (*links, *((last[kind],) if kind in last else ()))


def _counts_per_min(dance: Dance) -> float | None:
    return max(dance.tempo_bpm) if isinstance(dance.tempo_bpm, tuple) else dance.tempo_bpm


def _as_kind(dance: Dance, kind: Kind, actions: tuple[Action, ...], chain: _Chain) -> Dance:
    """The dance around the remade actions: its tags and endings remade too, walls and facings as the kind has them."""
    if actions == dance.actions and (kind in ON_CHAIR) == dance.seated:
        return dance
    chair = kind in ON_CHAIR
    turns = kind == "standing" and not dance.seated
    weight = Weight.SEAT if chair else start_weight(actions) if dance.seated else dance.start_weight
    return replace(
        dance,
        walls=dance.walls if turns else 1,
        seated=chair,
        start_weight=weight,
        actions=actions,
        sections=tuple(_named_anew(dance, actions, section) for section in dance.sections),
        tags=tuple(replace(tag, actions=chain(tag.actions).actions) for tag in dance.tags),
        endings=tuple(
            replace(e, actions=chain(e.actions).actions, start_facing_deg=e.start_facing_deg if turns else 0)
            for e in dance.endings
        ),
    )


def _named_anew(dance: Dance, actions: tuple[Action, ...], section: Section) -> Section:
    """The section without its written heading where the feet now do something else: a heading that says "vine right"
    is wrong above steps that aren't one; without it the section is named by what it does."""
    first, last = section.start.at, (section.start + section.length).at

    def feet(danced: tuple[Action, ...]) -> list[tuple[object, ...]]:
        return [(a.at, a.foot, a.verb, a.dir, a.turn_deg) for a in danced if first <= a.at.at < last]

    return section if feet(actions) == feet(dance.actions) else replace(section, title="")
