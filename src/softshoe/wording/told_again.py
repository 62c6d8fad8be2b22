"""A move told again on its own count stands once: "jazz box R, L next to R on 4", "cross, side (cross L over R on 1)".

Where a named pattern has a move on that count, the words told are danced in its stead; where the words before named the
same move, what is told again only adds the foot or the way that they left out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.laid import Laid
    from softshoe.wording.parts import Atom, Slot, Want


def lay_once(laid: Laid, place: Fraction, slot: Slot, atom: Atom) -> None:
    """Lay a move told for a count, once with the move that lies there already if it tells that one again."""
    more = slot.wants[0] if len(slot.wants) == 1 else None
    there = [e for e in laid.at if e[0] == place and len(e[1].wants) == 1] if more is not None else []
    for at, told, owner in there:
        both = _put_together(told.wants[0], more) if more is not None and not slot.hands else None
        if both is not None:
            laid.at[laid.at.index((at, told, owner))] = (at, told._replace(wants=(both,)), owner)
            atom.heading = True  # it only says once more what is danced
            return
    named = next((e for e in there if e[2].name), None)
    if named is not None and more is not None:
        laid.at.remove(named)
        was = named[1].wants[0]
        if was.verb == more.verb and not more.dir:
            more = more._replace(dir=was.dir)
        slot = slot._replace(wants=(more,), hands=(*named[1].hands, *slot.hands))
    laid.at.append((place, slot, atom))


def _put_together(one: Want, more: Want) -> Want | None:
    """Return one move of two that differ in nothing that both tell; None where they do, or where nothing moves."""
    if one.verb != more.verb or one.turn_deg != more.turn_deg or one.verb == "hold":
        return None
    if not _agree(one.foot, more.foot) or not _agree(one.dir, more.dir):
        return None
    return one._replace(foot=one.foot or more.foot, dir=one.dir or more.dir)


def _agree(one: str | None, more: str | None) -> bool:
    return not one or not more or one == more
