"""Pages for the browser: one file each, style and faces inside, no script, opened from disk.

Words are escaped by the page maker; only our own pictures are put in as they are.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from softshoe.render.look import palette

if TYPE_CHECKING:
    from jinja2 import Environment

FACES = (
    ("Atkinson Hyperlegible", 400, "AtkinsonHyperlegible-Regular.woff2"),
    ("Atkinson Hyperlegible", 700, "AtkinsonHyperlegible-Bold.woff2"),
    ("B612", 700, "B612-Bold.woff2"),
)


@cache
def _pages() -> Environment:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    def source(name: str) -> str:
        return files("softshoe").joinpath(f"data/pages/{name}").read_text("utf-8")

    return Environment(loader=FunctionLoader(source), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
                       lstrip_blocks=True)  # fmt: skip


@cache
def style() -> str:
    """Return the one style of our pages: faces, colours, and how things lie."""
    faces = "".join(
        f"@font-face{{font-family:'{family}';font-weight:{weight};font-display:swap;"
        f"src:url(data:font/woff2;base64,{_face(name)}) format('woff2')}}\n"
        for family, weight, name in FACES
    )
    colours = "".join(f"--{name.replace('_', '-')}:{value};" for name, value in palette().items())
    text = files("softshoe").joinpath("data/pages/style.css").read_text("utf-8")
    return f"{faces}:root{{{colours}}}\n{text}"


def _face(name: str) -> str:
    return b64encode(files("softshoe").joinpath(f"data/fonts/{name}").read_bytes()).decode("ascii")


def page_html(name: str, values: dict[str, Any]) -> str:
    """Return the page ``name`` filled with these values."""
    from markupsafe import Markup

    def drawn(picture: Any) -> Markup:
        return Markup(picture.svg)  # our own marks; their words were escaped where they were drawn

    return _pages().get_template(name).render(**values, style=Markup(style()), drawn=drawn)
