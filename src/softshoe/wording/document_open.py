"""The paragraphs of an OpenDocument text (ISO/IEC 26300): tables by rows, lists with their numbers or dashes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.document_rows import row_lines

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element

TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
LINES = frozenset((f"{TEXT}p", f"{TEXT}h"))
LEFT_OUT = frozenset((f"{TEXT}tracked-changes", f"{TEXT}note", f"{TEXT}sequence-decls"))
MOST_SPACES = 200
DEEPEST = 60


def paragraphs_of_odt(content: Element, styles: Element | None) -> list[str]:
    """Return the lines of a document's text, in order."""
    numbered = {
        style.get(f"{STYLE}name", "")
        for root in (content, styles)
        if root is not None
        for style in root.iter(f"{TEXT}list-style")
        if next(iter(style), style).tag == f"{TEXT}list-level-style-number"
    }
    body = next((node for node in content.iter() if node.tag.endswith("}text") and len(node)), None)
    return [line for line in _lines(body, numbered, 0) if line is not None] if body is not None else []


def _lines(node: Element, numbered: set[str], depth: int) -> Iterator[str]:
    if depth > DEEPEST:
        raise ValueError("nested too deep")
    for child in node:
        if child.tag in LINES:
            yield from _words(child).split("\n")
        elif child.tag == f"{TABLE}table-row":
            yield from row_lines([list(_lines(cell, numbered, depth + 1)) for cell in child])
        elif child.tag == f"{TEXT}list":
            yield from _listed(child, numbered, depth)
        elif child.tag not in LEFT_OUT:
            yield from _lines(child, numbered, depth + 1)


def _listed(node: Element, numbered: set[str], depth: int) -> Iterator[str]:
    counting = node.get(f"{TEXT}style-name", "") in numbered
    for n, item in enumerate(node.findall(f"{TEXT}list-item"), 1):
        for k, line in enumerate(_lines(item, numbered, depth + 1)):
            yield line if k else (f"{n}. " if counting else "- ") + line


def _words(paragraph: Element) -> str:
    out = [paragraph.text or ""]
    stack = [(child, True) for child in reversed(paragraph)]
    while stack:
        node, opening = stack.pop()
        if not opening:
            out.append(node.tail or "")
            continue
        stack.append((node, False))
        if node.tag == f"{TEXT}s":
            out.append(" " * min(int(node.get(f"{TEXT}c", "1")), MOST_SPACES))
        elif node.tag == f"{TEXT}tab":
            out.append("\t")
        elif node.tag == f"{TEXT}line-break":
            out.append("\n")
        elif node.tag not in LEFT_OUT:
            out.append(node.text or "")
            stack.extend((child, True) for child in reversed(node))
    return "".join(out)
