"""The studio's templates: files of ``data/studio``, everything that is put into them escaped."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

FOLDER = Path(str(files("softshoe").joinpath("data/studio")))
FONTS = Path(str(files("softshoe").joinpath("data/fonts")))


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(FOLDER), autoescape=True, undefined=StrictUndefined, trim_blocks=True, auto_reload=False
    )


def rendered(name: str, **values: object) -> str:
    """Return a template of ``data/studio`` filled in; a value that is missing is a fault of the program."""
    return _environment().get_template(name).render(**values)
