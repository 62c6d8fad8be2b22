"""The paragraphs of an Office Open XML text (ISO/IEC 29500): tables by rows, lists with their numbers or dashes."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from softshoe.wording.document_rows import row_lines

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
FALLBACK = "{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback"  # a second copy of the same words
AS_TEXT = {f"{W}tab": "\t", f"{W}br": "\n", f"{W}cr": "\n", f"{W}noBreakHyphen": "-"}
LEFT_OUT = frozenset((FALLBACK, f"{W}del", f"{W}instrText", f"{W}footnoteReference"))
DEEPEST = 60


def paragraphs_of_docx(document: Element, numbering: Element | None) -> list[str]:
    """Return the lines of a document's body, in order."""
    body = document.find(f"{W}body")
    return list(_Walk(_marks(numbering)).lines(body)) if body is not None else []


class _Walk:
    """Walks a body once; numbered lists count on as they go."""

    def __init__(self, marks: dict[tuple[str, str], str]) -> None:
        self.marks, self.counted = marks, Counter[tuple[str, str]]()

    def lines(self, node: Element, depth: int = 0) -> Iterator[str]:
        """Yield the lines of everything inside a node."""
        if depth > DEEPEST:
            raise ValueError("nested too deep")
        for child in node:
            if child.tag == f"{W}p":
                yield from (self._mark(child) + _words(child)).split("\n")
            elif child.tag == f"{W}tbl":
                for row in child.iter(f"{W}tr"):
                    yield from row_lines([list(self.lines(cell, depth + 1)) for cell in row.findall(f"{W}tc")])
            elif child.tag not in LEFT_OUT:
                yield from self.lines(child, depth + 1)

    def _mark(self, paragraph: Element) -> str:
        """Return the number or dash before a list's paragraph."""
        number = paragraph.find(f"{W}pPr/{W}numPr")
        if number is None:
            return ""
        key = (_value(number.find(f"{W}numId")), _value(number.find(f"{W}ilvl")) or "0")
        form = self.marks.get(key)
        if form in (None, "bullet"):
            return "- " if form else ""
        self.counted[key] += 1
        return f"{self.counted[key]}. "


def _words(paragraph: Element) -> str:
    out: list[str] = []
    stack = list(reversed(paragraph))
    while stack:
        node = stack.pop()
        if node.tag == f"{W}t":
            out.append(node.text or "")
        elif node.tag in AS_TEXT:
            out.append(AS_TEXT[node.tag])
        elif node.tag == f"{W}p":
            out.append("\n")
            stack.extend(reversed(node))
        elif node.tag not in LEFT_OUT and node.tag != f"{W}pPr":
            stack.extend(reversed(node))
    return "".join(out)


def _value(node: Element | None) -> str:
    return "" if node is None else node.get(f"{W}val", "")


def _marks(numbering: Element | None) -> dict[tuple[str, str], str]:
    """Return for each (list, level) "bullet" or the form of its numbers."""
    if numbering is None:
        return {}
    forms = {
        (one.get(f"{W}abstractNumId", ""), level.get(f"{W}ilvl", "0")): _value(level.find(f"{W}numFmt"))
        for one in numbering.findall(f"{W}abstractNum")
        for level in one.findall(f"{W}lvl")
    }
    lists = {one.get(f"{W}numId", ""): _value(one.find(f"{W}abstractNumId")) for one in numbering.findall(f"{W}num")}
    return {(n, level): form for n, kind in lists.items() for (other, level), form in forms.items() if other == kind}
