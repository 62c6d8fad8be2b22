"""Which phrases of a line share the moment of the one before, and which may, where the counts ask for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.parts import Atom


def all_shares(atoms: Sequence[Atom]) -> list[bool]:
    """Return for each atom whether it shares the moment before; a pattern's close ("vine with a touch") does not."""
    out: list[bool] = []
    for i, atom in enumerate(atoms):
        close = i > 0 and bool(atoms[i - 1].length) and not atom.arms_only and atom.name != "turn"
        apart = close or (i > 0 and atom.join == "and" and _clash(atoms[i - 1], atom))
        out.append(not apart and _shares(atom, first=i == 0))
    return out


BESIDE = ("rotate", "shake", "follow", "cross", "rest")  # what a hand may do while it does another thing


STRUCK = ("clap", "snap")  # "clap and reach" is asked for at one moment, where counts don't part them


def _clash(one: Atom, two: Atom) -> bool:
    """ "The right hand punches and comes back": one hand does two things one after the other."""
    if not (one.arms_only and two.arms_only and one.choices[0] and two.choices[0]):
        return False
    pairs = [(a, b) for a in one.choices[0][-1].hands for b in two.choices[0][0].hands]
    return any(
        a.gesture not in (b.gesture, *STRUCK)
        and b.gesture not in BESIDE
        and (a.side == b.side or "both" in (a.side, b.side))
        for a, b in pairs
    )


def _shares(atom: Atom, *, first: bool) -> bool:
    """Return whether the atom shares the moment of what stands before it, as the words stand."""
    if first:
        return False
    if atom.join == "with":
        return True
    return atom.arms_only and atom.join in ("and", "amp", "plus") and not atom.each


def merge_more(atoms: Sequence[Atom], shares: list[bool], over: int) -> list[bool] | None:
    """Share moments until ``over`` fewer are left: hands first, then turns, then feet joined by "and"; None if it
    can't be.
    """
    out = list(shares)
    ranks = (
        lambda a: a.arms_only,
        lambda a: a.name == "turn",
        lambda a: a.join in ("and", "amp") and not a.name,
    )
    for wanted in ranks:
        for i in range(1, len(atoms)):
            if over and not out[i] and wanted(atoms[i]) and len(atoms[i].choices[0]) == 1 and not _once_more(atoms, i):
                out[i] = True
                over -= 1
    return out if over == 0 else None


def unmerge(atoms: Sequence[Atom], shares: list[bool], under: int) -> list[bool] | None:
    """Give moments of their own to what shares one, ``under`` of them."""
    out = list(shares)
    for i in range(1, len(atoms)):
        if under and out[i] and not _together(atoms, i):
            out[i] = False
            under -= 1
    return out if under == 0 else None


def _together(atoms: Sequence[Atom], i: int) -> bool:
    """ "R forward + both arms up (2)", "home and hands to the lap (2)": both at once, and held."""
    if atoms[i].join in ("with", "plus"):
        return True
    hands = [h.gesture for s in atoms[i].choices[0] for h in s.hands]
    moved = bool(hands) and not set(hands) & {*STRUCK, "pat", "drum", "punch"}
    return moved and len(atoms) == 2 and atoms[i].join == "and" and not atoms[0].arms_only


def _once_more(atoms: Sequence[Atom], i: int) -> bool:
    """ "Pat, pat, pat": one thing told twice is done twice, not at once."""
    if atoms[i].join not in ("seq", "stop"):
        return False
    one, two = ([h.gesture for s in a.choices[0] for h in s.hands] for a in atoms[i - 1 : i + 1])
    return atoms[i - 1].arms_only and atoms[i].arms_only and one == two
