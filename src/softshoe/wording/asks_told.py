"""A sheet told whole, with the sections that ask for others and something other told by their words (asks_plan).

The network tells what is danced in sections that stand for themselves; what one section has of another is a matter of
a few words, which rules read more surely.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.asks_names import Above
from softshoe.wording.asks_plan import plans
from softshoe.wording.asks_step import stepper
from softshoe.wording.retell_ask import Answer
from softshoe.wording.retell_codes import codes_of, events_of
from softshoe.wording.whole_ask import Part, words_between
from softshoe.wording.whole_copies import danced_as

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.wording.retell_ask import Words
    from softshoe.wording.whole_ask import Way

SURE = 0.9  # of a plan: all its words were understood
CERTAIN = 0.95  # what the network tells so surely, stays
PARAGRAPH = "\n\n"


def with_plans(text: str, way: Way, *, seated: bool) -> Way:
    """Return a way to tell a sheet with each section told by others whose words say how."""
    parts: list[Part] = []
    above: list[Above] = []
    before = 0
    for k, part in enumerate(way.parts):
        end = way.parts[k + 1].begin if k + 1 < len(way.parts) else _end_of_paragraph(text, part)
        open_ = bool(above) and part.answer.sure < CERTAIN
        one = (_planned(text, part, end, above, seated=seated) if open_ else None) or copied_anew(part, parts)
        parts.append(one)
        codes = tuple(code for code in codes_of(one.answer.events) if code != "end")
        above.append(Above(part.words.text, codes, before, one.answer.counts))
        before += one.answer.counts
    return way._replace(parts=tuple(parts))


def copied_anew(part: Part, before: Sequence[Part]) -> Part:
    """Return a section that is danced as others before it as those are danced now."""
    codes = danced_as(part.copied, [codes_of(one.answer.events) for one in before]) if part.copied else None
    events = events_of([*codes, "end"]) if codes is not None else None
    return part._replace(answer=part.answer._replace(events=tuple(events))) if events else part


def _planned(text: str, part: Part, end: int, above: Sequence[Above], *, seated: bool) -> Part | None:
    """Return a section as its words tell it by those above; None where they don't."""
    for words in _rooms(text, part, end):
        for plan in plans(words.text, above, stepper(seated)):
            codes = danced_as(plan, [one.codes for one in above])
            events = events_of([*codes, "end"]) if codes is not None else None
            if events:
                return Part(part.begin, words, _answer(words, events, part.answer.sure), plan)
    return None


def _rooms(text: str, part: Part, end: int) -> Iterator[Words]:
    """Return the words of a section as the network saw them, and all up to the next one."""
    yield part.words
    room = words_between(text, part.words.block, (part.begin, end))
    if room is not None and room.text != part.words.text:
        yield room


def _answer(words: Words, events: Sequence[dict[str, object]], sure: float) -> Answer:
    """Return what is danced: all of it told by the last line of the words."""
    at, *_ = words.lines[-1]
    answer = Answer(tuple(events), {}, max(sure, SURE), crossed=False)
    return answer._replace(places=dict.fromkeys(range(1, answer.counts + 1), words.place(at, len(words.text))))


def _end_of_paragraph(text: str, part: Part) -> int:
    end = text.find(PARAGRAPH, part.words.span[1])
    return len(text) if end < 0 else end
