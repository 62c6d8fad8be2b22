"""Left for right in what is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.parts import Hand, Slot, Want

SWAP = {
    "L": "R", "R": "L", "left": "right", "right": "left", "forward L diag": "forward R diag",
    "forward R diag": "forward L diag", "back L diag": "back R diag", "back R diag": "back L diag",
}  # fmt: skip


def mirrored_want(want: Want) -> Want:
    """Return the want with left and right exchanged."""
    return want._replace(
        foot=SWAP.get(want.foot, want.foot) if want.foot else None,
        dir=SWAP.get(want.dir, want.dir),
        spin=-want.spin,
        weight=SWAP.get(want.weight, want.weight),
        ref=SWAP.get(want.ref, want.ref),
        under_left=None,
    )


def mirrored_hand(hand: Hand) -> Hand:
    """Return the hand's part with left and right exchanged."""
    return hand._replace(side=SWAP.get(hand.side, hand.side), toward=SWAP.get(hand.toward, hand.toward))


def mirrored_slot(slot: Slot) -> Slot:
    """Return the slot with left and right exchanged."""
    return slot._replace(wants=tuple(map(mirrored_want, slot.wants)), hands=tuple(map(mirrored_hand, slot.hands)))
