"""Any text at all gives a dance or a clear refusal, within a bound, and no line is lost."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from softshoe.dance.document import dance_json
from softshoe.errors import WordingError
from softshoe.wording.read import empty, read
from softshoe.wording.vocabulary import phrases

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

WORDS = sorted(" ".join(phrase) for listed in phrases().values() for phrase, _ in listed)
COUNTS = (
    "1",
    "1-4",
    "5-8",
    "1&2",
    "3a4",
    "&7",
    "1,2,3",
    "(1)",
    "On 1",
    "9-16",
    "Counts 1 to 8",
    "[1-8]",
    "S1",
    "Part Two",
    "5.",
)
words = st.sampled_from(WORDS)
line = st.builds(
    lambda c, ws, m: f"{c} {m.join(ws)}",
    st.sampled_from(COUNTS),
    st.lists(words, max_size=7),
    st.sampled_from([" ", ", ", " & "]),
)
sheets = st.lists(line, min_size=1, max_size=14).map(lambda rows: "A Name\n" + "\n".join(rows))


def read_or_refused(text: str) -> Dance:
    try:
        return read(text)
    except WordingError as refused:
        if not refused.mend:
            raise
        return empty(text)


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=400))
def test_any_characters_give_an_answer(text: str) -> None:
    assert dance_json(read_or_refused(text))["findings"] is not None


@settings(max_examples=250, deadline=None)
@given(sheets)
def test_any_words_of_the_trade_give_an_answer_with_every_moment_in_order(text: str) -> None:
    dance = read_or_refused(text)
    moments = [action.at for action in dance.actions]
    assert moments == sorted(moments)
    assert dance_json(dance)["title"] is not None


@pytest.mark.parametrize(
    "text",
    [
        "walk right left " * 700_000,
        "T\n" + "1-4 vine right, touch\n" * 100_000,
        "T\nSection 1\n1-4 walk R L R L\n5-8 repeat section 1\nSection 2\n1-8 repeat section 2\n",
        "T\n1-4 walk R L R L\n" + "".join(f"{4 * i + 1}-{4 * i + 4} repeat 1-{4 * i}\n" for i in range(1, 200)),
        "1" * 100_000, "(" * 100_000, "1" + "&" * 100_000, "\U0001f600" * 50_000, "1-8 " + "step right, " * 50_000,
    ],
    ids=["ten million letters", "many lines", "a section that repeats itself", "repeats of repeats", "digits",
    "brackets",
         "signs", "pictures", "one line"],
)  # fmt: skip
def test_the_time_is_bounded(text: str) -> None:
    start = time.perf_counter()
    read_or_refused(text)
    assert time.perf_counter() - start < 10


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet="bcdfghjkmnpqstvwxz ", min_size=3, max_size=30), min_size=1, max_size=6))
def test_a_line_that_is_not_understood_is_kept_and_told(lines: list[str]) -> None:
    strange = [f"zzq {line.strip()}" for line in lines]
    text = "A Name\n1-4 Walk right, left, right, left\n" + "\n".join(strange)
    dance = read(text)
    kept = {n for n, _ in dance.kept}
    told = {f.line for f in dance.findings}
    assert all(n in kept or n in told for n in range(3, 3 + len(strange)))
