"""A table's row as lines of text: cells that hold several lines each are read across, line by line."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


def row_lines(cells: Sequence[Sequence[str]]) -> list[str]:
    """Return the lines of a row whose cells hold these lines.

    >>> row_lines([["1-2", "3-4"], ["Walk R, L", "Rock R"]])
    ['1-2 | Walk R, L', '3-4 | Rock R']
    >>> row_lines([["1-4"], ["Walk forward", "for four counts"], [""]])
    ['1-4 | Walk forward for four counts | ']
    """
    filled = [[line for line in cell if line.strip()] for cell in cells]
    counts = {len(cell) for cell in filled if cell}
    if not counts:
        return []
    if len(counts) == 1 and (many := counts.pop()) > 1:
        return [" | ".join(cell[k] if cell else "" for cell in filled) for k in range(many)]
    return [" | ".join(" ".join(cell) for cell in filled)] if len(filled) > 1 else [line for c in filled for line in c]
