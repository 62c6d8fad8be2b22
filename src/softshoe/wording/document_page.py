"""The words of a web page: blocks are lines, a table's row is one line, scripts and styles are none."""

from __future__ import annotations

from html.parser import HTMLParser

from softshoe.wording.document_rows import row_lines

BLOCKS = frozenset(
    ("p", "div", "h1", "h2", "h3", "h4", "h5", "h6", "section", "article", "header", "footer", "main", "dt", "dd", "dl",
     "blockquote", "figure", "figcaption", "address", "ul", "ol", "table", "br", "hr", "form", "nav", "aside", "pre")
)  # fmt: skip
UNSEEN = frozenset(("script", "style", "head", "template", "noscript", "svg", "select", "button"))


def words_of_page(page: str) -> str:
    """Return the words of a page, a block a line.

    >>> words_of_page("<h1>Tin Kettle</h1><ol><li>Walk R<li>Walk L</ol><table><tr><td>1-2<td>Rock</table>")
    'Tin Kettle\\n1. Walk R\\n2. Walk L\\n1-2 | Rock'
    """
    reader = _Page()
    reader.feed(page)
    reader.close()
    reader.end_row()
    reader.end_line()
    return "\n".join(reader.lines)


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.lines: list[str] = []
        self.words: list[str] = []
        self.row: list[list[str]] | None = None
        self.lists: list[int | None] = []
        self.unseen = 0

    def handle_starttag(self, tag: str, _attrs: list[tuple[str, str | None]]) -> None:
        if tag in UNSEEN:
            self.unseen += 1
        elif tag in ("tr", "td", "th"):
            self._cell(tag)
        elif tag == "li":
            self.end_line()
            self.words.append(self._bullet())
        elif tag in BLOCKS:
            self.end_line()
            if tag in ("ul", "ol"):
                self.lists.append(1 if tag == "ol" else None)

    def handle_endtag(self, tag: str) -> None:
        if tag in UNSEEN:
            self.unseen = max(0, self.unseen - 1)
        elif tag in ("tr", "table", "tbody", "thead"):
            self.end_row()
        elif tag in BLOCKS or tag in ("li", "td", "th"):
            self.end_line()
            if tag in ("ul", "ol") and self.lists:
                self.lists.pop()

    def handle_data(self, data: str) -> None:
        if not self.unseen:
            self.words.append(data)

    def _cell(self, tag: str) -> None:
        if tag == "tr":
            self.end_row()
            self.row = []
        else:
            self.end_line()
            self.row = self.row if self.row is not None else []
            self.row.append([])

    def _bullet(self) -> str:
        number = self.lists[-1] if self.lists else None
        if number is None:
            return "- "
        self.lists[-1] = number + 1
        return f"{number}. "

    def end_line(self) -> None:
        """What was heard since the last line becomes a line, of the cell where there is one."""
        line = " ".join("".join(self.words).split())
        self.words = []
        if not line:
            return
        if self.row:
            self.row[-1].append(line)
        else:
            self.lines.append(line)

    def end_row(self) -> None:
        """The row becomes its lines."""
        self.end_line()
        row, self.row = self.row, None
        self.lines.extend(row_lines(row or []))
