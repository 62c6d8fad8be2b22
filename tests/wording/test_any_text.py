"""Any text at all gives a dance or a clear refusal, within a bound, and no line is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from softshoe.dance.document import dance_json
from softshoe.errors import UnreadableError, WordingError
from softshoe.wording.read import empty, read
from softshoe.wording.source import decoded
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


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=400))
def test_any_characters_give_an_answer(text: str) -> None:
    assert dance_json(read_or_refused(text))["findings"] is not None


@settings(max_examples=100, deadline=None)
@given(sheets)
def test_any_words_of_the_trade_give_an_answer_with_every_moment_in_order(text: str) -> None:
    dance = read_or_refused(text)
    moments = [action.at for action in dance.actions]
    assert moments == sorted(moments)
    assert dance_json(dance)["title"] is not None


STEPS = "1-4 vine right, touch\n5-8 vine left, touch\n"
LONG = {
    "ten million letters": "walk right left " * 700_000,
    "ten million letters of steps": "T\n" + STEPS * 230_000,
    "many lines": "T\n" + "1-4 vine right, touch\n" * 100_000,
    "many sections": "T\n" + "".join(f"Section {i}\n1-8 march\n" for i in range(50_000)),
    "many lines of prose": "T\n" + "some words here\n" * 25_000 + STEPS,
    "many spoken lines": "T\n" + "heel, toe, heel, toe.\n" * 25_000,
    "a section of itself": "T\nSection 1\n1-4 walk R L R L\n5-8 repeat section 1\nSection 2\n1-8 repeat section 2",
    "repeats of repeats": "T\n1-4 walk R L R L\n"
    + "".join(f"{4 * i + 1}-{4 * i + 4} repeat 1-{4 * i}\n" for i in range(1, 200)),
    "every section repeats all before": "T\nA\n1-8 march\n"
    + "".join(f"Section {i}\nrepeat section 1 to {i - 1}\n" for i in range(2, 40)),
    "a million times": "T\n1-4 walk R L R L x 1000000\n5-8 clap x1000000\nvine right x 999999 times\n",
    "times of times": "T\n1-8 vine right x64, vine left x64 x64 x64\nrepeat 1-8 x64\nrepeat section 1 x64\n",
    "counts without end": "T\n1-99999 march\n1-512 march\nhold for 99999 counts\nhold for 64 counts x64\n" + STEPS,
    "tags without end": "T\n" + STEPS + "Tag (4 counts) after wall 2\n1-4 march\n" * 1000,
    "digits": "1" * 100_000, "brackets": "(" * 100_000, "signs": "1" + "&" * 100_000, "pictures": "\U0001f600" * 50_000,
    "nothing at all": "\0" * 100_000, "from right to left": "\u202e1-4 \u05d0\u05d1 vine right\n" * 2000,
    "accents": "1-4 step " + "\u0301" * 100_000,
    "stars": "*" * 100_000 + " a", "bars": ("|" * 3900 + "\n") * 10 + STEPS,
    "ranges": ("1-2-3-4-" * 480 + "\n") * 5 + STEPS, "one line": "1-8 " + "step right, " * 50_000,
    "many readings": ("1-4 " + "pivot half, heel split, rock right, vine, " * 90 + "\n") * 10,
    "hands": ("1-8 " + "right hand up, left hand down, " * 120 + "\n") * 10,
}  # fmt: skip


@pytest.mark.parametrize("text", LONG.values(), ids=LONG.keys())
def test_the_work_is_bounded_and_what_is_too_much_is_kept(text: str) -> None:
    dance = read_or_refused(text)
    assert len(dance.actions) <= 2000
    last = text.rstrip("\n").rpartition("\n")[2]
    if text.count("\n") > 3000:
        assert any(last in words for _, words in dance.kept)


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=400))
def test_any_bytes_are_words_or_a_plain_refusal(data: bytes) -> None:
    try:
        text = decoded(data)
    except UnreadableError as refused:
        if not refused.mend:
            raise
        return
    assert read_or_refused(text).title is not None


numbers = st.integers(0, 99_999)
nested = st.one_of(
    st.builds("Section {}".format, st.integers(0, 12)), st.builds("{}-{} repeat {}-{}".format, *[numbers] * 4),
    st.builds("repeat section {} x{}".format, st.integers(0, 12), numbers), st.builds("1-{} march".format, numbers),
    st.builds("{}-{} repeat section {} with the other foot".format, *[st.integers(1, 64)] * 3),
    st.builds("{} vine right x{}, repeat x{}".format, numbers, numbers, numbers),
    st.builds("Tag ({} counts) after count {} of wall {}".format, numbers, numbers, numbers),
    st.builds("1-4 walk R, L, R, L".format), st.builds("hold for {} counts".format, numbers),
)  # fmt: skip


@settings(max_examples=100, deadline=None)
@given(st.lists(nested, min_size=1, max_size=12))
def test_copies_of_copies_and_counts_of_any_size_are_bounded(rows: list[str]) -> None:
    dance = read_or_refused("T\n1-4 walk R, L, R, L\n" + "\n".join(rows))
    assert len(dance.actions) <= 2500
    assert dance_json(dance)["findings"] is not None


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet="bcdfghjkmnpqstvwxz ", min_size=3, max_size=30), min_size=1, max_size=6))
def test_a_line_that_is_not_understood_is_kept_and_told(lines: list[str]) -> None:
    strange = [f"zzq {line.strip()}" for line in lines]
    text = "A Name\n1-4 Walk right, left, right, left\n" + "\n".join(strange)
    dance = read(text)
    kept = {n for n, _ in dance.kept}
    told = {f.line for f in dance.findings}
    assert all(n in kept or n in told for n in range(3, 3 + len(strange)))


@pytest.mark.parametrize(
    "words",
    [
        "Then both out before both in: right heel, left heel, right home, left home.",
        "Feet: vine R with touch, vine L with touch. Arms: open on the first step, clap on the touch, both times.",
        "clap 8-1 and 9",
        "1-4 clap, 8-5 9 pat thighs",
    ],
)
def test_words_that_ask_for_both_or_again_in_an_odd_place_are_read(words: str) -> None:
    assert read(f"Kettle\n8 counts, 1 wall, seated\n\nSection 1\n{words}\n").actions
