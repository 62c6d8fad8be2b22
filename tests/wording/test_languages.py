"""German, French and Spanish: written and read again equal, recognised, and placed where they stand in the sheet.

Checked by machine alone: that a dancer of the language would say it so is not tested here.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from dance.sound_dances import HIPS, PLACES_OF, sound_dances
from softshoe.dance.action import Action
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Section
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import weight_after
from softshoe.dance.places import Direction
from softshoe.errors import SettingError
from softshoe.wording.mend import mended
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text
from softshoe.wording.tongue import LANGUAGES, heard, language_of, pieces, tongue
from softshoe.wording.vocabulary import phrases, table
from softshoe.wording.write import write
from softshoe.wording.write_book import STYLES

SHEETS = Path(__file__).parents[1] / "sheets"
SOUND = sorted((SHEETS / "sound").glob("*.txt"))
ENGLISH = sorted(SHEETS.rglob("*.txt"))
OTHERS = sorted(set(LANGUAGES) - {"en"})
SLOW = (HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much)
assert len(SOUND) == 9
assert len(ENGLISH) > 100
GERMAN = """Titel: Kupferkessel und Käse
Counts: 8
Wände: 2

Abschnitt 1 [1-8] Vor und zurück
1-2: Rechten Fuß nach vorn setzen, linken Fuß an rechten heransetzen und klatschen.
3&4: Shuffle vorwärts mit rechts
5-6: Linken Fuß nach vorn setzen, Pivot 1/2 Drehung nach rechts (6:00)
7-8: LF nach vorn, RF neben LF auftippen
Hinweis: lächeln
"""


def plain_dance(actions: list[Action]) -> Dance:
    """Sections of eight filled by these actions, a count each."""
    counted = [Action(Count(Fraction(n)), a.foot, a.verb, a.dir, a.turn_deg) for n, a in enumerate(actions, 1)]
    while len(counted) % 8:
        counted.append(Action(Count(Fraction(len(counted) + 1)), None, "hold"))
    sections = tuple(Section(k + 1, Count(Fraction(8 * k + 1)), Counts(Fraction(8))) for k in range(len(counted) // 8))
    return Dance("Lantern", len(counted), 1, None, False, "4/4", None, None, Weight.LEFT, sections, tuple(counted))


OTHER_SIDE = {
    Foot.RIGHT: (Direction.LEFT, Direction.FORWARD_LEFT, Direction.BACK_LEFT),
    Foot.LEFT: (Direction.RIGHT, Direction.FORWARD_RIGHT, Direction.BACK_RIGHT),
}
BEFORE = {"drop": ("touch", Direction.FORWARD), "lower": ("raise", Direction.UP)}


def everywhere(verb: str) -> list[Action]:
    """The verb with each foot to each place it allows; a foot that bears is freed by a step of the other."""
    at = Count(Fraction(1))
    one, both = PLACES_OF[verb]
    out: list[Action] = []
    weight = Weight.LEFT
    for foot in (Foot.RIGHT, Foot.LEFT):
        for place in one:
            if verb in ("sway", "drag") and place in OTHER_SIDE[foot]:
                continue  # the hips go over the named foot; a foot drawn "to the left" is drawn to the left foot
            bearing = foot.other if verb not in ("turn", "hop") else foot
            more = [] if weight.value == bearing.value else [Action(at, bearing, "step", Direction.IN_PLACE)]
            if verb in BEFORE:
                more.append(Action(at, foot, *BEFORE[verb]))
            for action in (*more, Action(at, foot, verb, place)):
                weight = weight_after(action, weight)
                out.append(action)
    for place in both:
        out += [Action(at, Foot.BOTH, *BEFORE[verb])] if verb in BEFORE else []
        out.append(Action(at, Foot.BOTH, verb, place))
    return out + [Action(at, None, verb, way) for way in HIPS if verb == "bump"]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("verb", sorted(set(PLACES_OF) - {"arms", "hold"}))
def test_every_verb_to_every_place_reads_back_in_every_language(verb: str, language: str) -> None:
    dance = plain_dance(everywhere(verb))
    for style in STYLES if language == "en" else ("sentences", "short"):
        again = read(write(dance, style=style, language=language), language=language)
        assert again.actions == dance.actions, style


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("style", sorted(STYLES))
@settings(max_examples=4, deadline=None, suppress_health_check=SLOW)
@given(dance=sound_dances())
def test_what_is_written_in_a_language_reads_back_equal(style: str, language: str, dance: Dance) -> None:
    assert read(write(dance, style=style, language=language), language=language) == dance


@pytest.mark.parametrize("style", ["spoken", "table"])
def test_parts_of_a_turn_are_no_counts_in_another_language(style: str) -> None:
    steps = "1 Touch R fwd 1/4 turn R\n2& Rock R fwd, step L back\n3 Step R fwd 1/4 turn L\n4 Step L back 1/2 turn L\n"
    dance = read(f"Lantern\n3/4 time\n2 walls\n{steps}5-6 Hold\n")
    assert len(dance.sections) == 1
    assert read(write(dance, style=style, language="fr"), language="fr") == dance


@pytest.mark.parametrize("language", OTHERS)
def test_one_step_that_turns_all_the_way_round_is_no_pair_of_steps_where_its_foot_is_named_first(language: str) -> None:
    ending = "Ending (1 counts) on the last wall, which starts at 12:00: dance to count 1\n1 Step R fwd a full turn R"
    ending += " and reach the right hand up\n"
    dance = read(f"Lantern\n1 wall\n1 Step L fwd\n2 Step R fwd a full turn R\n3-8 Hold\n\n{ending}")
    assert [a.turn_deg for a in (*dance.actions[:2], *dance.endings[0].actions)] == [0, 360, 360]
    for style in STYLES:
        assert read(write(dance, style=style, language=language), language=language) == dance, style


@pytest.mark.parametrize(("steps", "turns"), [("1-2 R fwd full turn R", [180, 180]), ("1 R fwd full turn R", [360])])
def test_the_counts_say_if_a_foot_that_goes_forward_turns_round_in_two_steps_or_in_one(
    steps: str, turns: list[int]
) -> None:
    dance = read(f"Lantern\n{steps}\n3-8 Hold\n")
    assert [action.turn_deg for action in dance.actions if action.verb == "step"] == turns


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.stem)
def test_a_sheet_in_another_language_is_recognised_and_read(path: Path, language: str) -> None:
    dance = read(sheet_text(path))
    for style in ("sentences", "table", "short"):
        sheet = write(dance, style=style, language=language)
        assert language_of(sheet) == language
        assert read(sheet) == dance


def test_an_english_sheet_is_never_taken_for_another() -> None:
    assert [path.name for path in ENGLISH if language_of(sheet_text(path)) != "en"] == []


def test_what_is_read_stands_where_the_sheet_has_it() -> None:
    dance = read(GERMAN)
    spans = [GERMAN[slice(*action.span)] for action in dance.actions if action.span is not None]
    assert spans[:2] == ["Rechten Fuß nach vorn setzen", "linken Fuß an rechten heransetzen"]
    assert [action.line for action in dance.actions] == [6, 6, 7, 7, 7, 8, 8, 9, 9]


def test_title_headings_and_notes_stay_in_their_own_words() -> None:
    dance = read(GERMAN)
    assert dance.title == "Kupferkessel und Käse"
    assert dance.sections[0].title == "Vor und zurück"
    assert (10, "Hinweis: lächeln") in dance.kept


@pytest.mark.parametrize("change", [str.upper, lambda t: t.replace("ü", "ue").replace("ä", "ae").replace("ß", "ss")])
def test_capitals_and_typed_out_dots_make_no_difference(change: object) -> None:
    assert callable(change)
    assert read(change(GERMAN)).actions == read(GERMAN).actions


def test_accents_left_out_are_understood() -> None:
    sheet = "Poser le pied droit en arrière, poser le pied gauche à côté du droit"
    bare = sheet.replace("è", "e").replace("à", "a").replace("ô", "o")
    assert heard(bare, "fr").english == heard(sheet, "fr").english


def test_a_fault_is_told_on_its_line_in_any_language() -> None:
    finding = next(f for f in read(GERMAN.replace("Wände: 2", "Wände: 1")).findings if f.severity == "error")
    assert (finding.kind, finding.line) == ("walls", 3)


def test_english_words_are_not_mended_into_another_language() -> None:
    sheet = GERMAN.replace("auftippen", "auftuppen")
    assert mended(sheet, read(sheet)) is None


def test_an_unknown_language_names_those_there_are() -> None:
    with pytest.raises(SettingError, match="there is no language") as caught:
        heard("1 step right", "xx")
    assert "de" in caught.value.mend


@pytest.mark.parametrize("language", OTHERS)
def test_every_row_that_english_writes_has_its_row_in_the_language(language: str) -> None:
    """Patterns may be left unnamed, and what falls back on a plainer row may be missing."""
    there = {(row["kind"], row["key"]) for row in table(f"writing_{language}.csv")}
    wanted = {(row["kind"], row["key"]) for row in table("writing_en.csv")}
    assert {row for row in wanted - there if row[0] not in ("pattern", "the", "case")} == set()


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_that_is_written_can_be_read(language: str) -> None:
    known = {word for listed in tongue(language).phrases.values() for words, _ in listed for word in words}
    known |= {word for listed in phrases().values() for words, _ in listed for word in words}
    known |= {"bpm", "l", "r", "g", "d", "i"}
    rows = [
        row for row in table(f"writing_{language}.csv") if row["kind"] not in ("case", "join", "head", "level", "extra")
    ]
    said = {w for row in rows for column in ("words", "short", "spoken") for w in pieces(_filled(row[column] or ""))}
    assert {w for w in said if w.isalpha() and w not in known} == set()


def _filled(words: str) -> str:
    return " ".join(part.partition("}")[2] if "}" in part else part for part in words.split("{"))
