"""A lesson as plain dicts and lists, and back: what lies in lesson.json. Counts are fractions as text ("3/2")."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, cast

import msgspec

from softshoe.teach.lesson import Lesson

Json = dict[str, Any]


def _plain(value: object) -> str:
    if isinstance(value, Fraction):
        return str(value)
    raise NotImplementedError(f"a lesson holds no {type(value).__name__}")


def _exact(kind: type, value: object) -> object:
    if kind is Fraction and isinstance(value, str):
        return Fraction(value)
    raise NotImplementedError(f"a lesson holds no {kind.__name__}")


def lesson_json(lesson: Lesson) -> Json:
    """Return the lesson as plain dicts and lists."""
    return cast("Json", msgspec.to_builtins(lesson, enc_hook=_plain))


def lesson_from_json(doc: Json) -> Lesson:
    """Read what ``lesson_json`` writes; raises ValueError when it has another shape."""
    return msgspec.convert(doc, Lesson, dec_hook=_exact)
