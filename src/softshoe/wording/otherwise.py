"""What a sheet says in words of its own: short words, columns and letters for limbs, counts shouted or in order;
sections that sentences begin.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counts_told import counts_told
from softshoe.wording.limb_letters import limbs_spelled
from softshoe.wording.nth_eights import nth_eights
from softshoe.wording.shortened import spelled_out
from softshoe.wording.sided_columns import sided

if TYPE_CHECKING:
    from softshoe.wording.respelled import Edit


def told_otherwise(text: str) -> list[Edit]:
    """Return what stands for such words; of several ways the first that a sheet has, so that no two meet."""
    return spelled_out(text) or sided(text) or limbs_spelled(text) or counts_told(text) or nth_eights(text)
