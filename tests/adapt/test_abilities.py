from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from adapt.event_checker import broken
from adapt.made_dances import WISHES, as_json, mixes, pattern_dance, wished
from fit.made_maps import all_dances, dance_named
from softshoe.adapt.adapt import adapt
from softshoe.adapt.at_once import moments
from softshoe.adapt.by_hand import instead
from softshoe.adapt.cautions import cautions
from softshoe.adapt.costs import MEANS, WEIGHTS
from softshoe.adapt.hands import GESTURE_ROWS, HAND_ROWS, arms_instead
from softshoe.adapt.limits import LIMITS, abilities
from softshoe.adapt.pattern_rows import pattern_rows_in
from softshoe.adapt.plain import PHRASES, in_plain_words, limit_words
from softshoe.adapt.steps import ROWS, steps_instead
from softshoe.adapt.trade_gestures import TRADE_GESTURES, replacements
from softshoe.adapt.wishes_file import read_wishes, wishes_text
from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, PLACES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot
from softshoe.dance.footwork import mirrored
from softshoe.dance.patterns import patterns
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERBS
from softshoe.errors import WorkbenchError
from softshoe.tables import table
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text
from softshoe.wording.write import write

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SHEETS = Path(__file__).parents[1] / "sheets"
PATTERNS = list(patterns())
MIXES = mixes(100)
ONE_SIDED = ("leg", "arm rests")


def other_way_round(dance: Dance) -> Dance:
    return replace(dance, actions=mirrored(dance.actions), start_weight=dance.start_weight.other)


@pytest.mark.parametrize("wish", WISHES)
def test_every_step_and_pattern_of_the_trade_keeps_the_counts_and_breaks_nothing(wish: str) -> None:
    given, words = wished(wish)
    for name in PATTERNS:
        dance = pattern_dance(name)
        version = adapt(dance, given)
        assert broken(as_json(dance), as_json(version.dance), words) == [], name
        assert version.breaches == (), name


def test_mixed_wishes_break_nothing_come_out_mirrored_and_stay_as_they_are_the_second_time() -> None:
    for number, mix in enumerate(MIXES):
        given, words = wished(*mix)
        for name in PATTERNS[number % 43 :: 43]:
            dance = pattern_dance(name)
            version = adapt(dance, given).dance
            assert broken(as_json(dance), as_json(version), words) == [], (name, mix)
            assert adapt(version, given).dance == version, (name, mix)
            if not any(part in wish for part in ONE_SIDED for wish in mix):
                other = adapt(pattern_dance(name, lead=Foot.LEFT), given).dance
                assert tuple(mirrored(other.actions)) == version.actions, (name, mix)


@pytest.mark.parametrize("dance", all_dances(), ids=lambda dance: dance.title)
def test_whole_dances_keep_their_counts_and_every_wish(dance: Dance) -> None:
    before = as_json(dance)
    for mix in [*((wish,) for wish in WISHES[len(dance.title) % 3 :: 3]), *MIXES[len(dance.title) :: 40]]:
        given, words = wished(*mix)
        version = adapt(dance, given)
        assert broken(before, as_json(version.dance), words) == [], mix
        assert adapt(version.dance, given).dance == version.dance, mix
        if not any(part in wish for part in ONE_SIDED for wish in mix):
            assert mirrored(adapt(other_way_round(dance), given).dance.actions) == version.dance.actions, mix


@pytest.mark.parametrize(
    ("sheet", "mix"),
    [
        ("hand_a/sound/01_apron_pocket_stroll.txt", ("seated", "left arm rests", "nothing above the shoulders")),
        ("hand_a/sound/02_lantern_quay_waltz.txt", ("slower feet", "no crossing")),
    ],
)
def test_a_version_written_as_a_sheet_reads_back_as_the_same_dance(sheet: str, mix: tuple[str, ...]) -> None:
    given, _ = wished(*mix)
    version = adapt(read(sheet_text(SHEETS / sheet)), given).dance
    assert read(write(version)).actions == version.actions


def test_a_dance_that_asks_for_nothing_ruled_out_is_given_back_itself() -> None:
    dance = pattern_dance("side together side touch")
    for wish in ("no turning", "no stamping", "no crossing", "no quick counts", "nothing above the shoulders"):
        version = adapt(dance, wished(wish)[0])
        assert version.dance is dance
        assert version.changes == ()
        assert not version.costs


def test_a_known_pattern_is_made_over_as_a_whole() -> None:
    def feet(name: str, *limits: str) -> list[tuple[str | None, str, str | None]]:
        actions = adapt(pattern_dance(name), abilities("x", limits)).dance.actions
        return [(a.foot and a.foot.value, a.verb, a.dir and a.dir.value) for a in actions]

    assert feet("vine", "crossing")[1] == ("L", "step", "together")
    assert feet("step pivot half", "turning") == [("R", "rock", "forward"), ("L", "recover", "in place")]
    assert feet("coaster step", "quick") == [("R", "touch", "back"), ("R", "step", "forward")]
    assert feet("shuffle forward", "quick") == [("R", "step", "forward"), ("L", "touch", "together")]


def test_arms_only_is_a_dance_of_its_own() -> None:
    def arms(name: str) -> list[tuple[str, str]]:
        actions = adapt(pattern_dance(name), abilities("x", ("feet",))).dance.actions
        return [(arm.side.value, arm.gesture) for a in actions for arm in a.arms]

    assert arms("stomp") == [("both", "pat")]
    assert arms("vine") == [("R", "reach"), ("both", "roll"), ("R", "reach"), ("both", "snap")]
    assert arms("step pivot half") == [("R", "push"), ("L", "circle")]
    for dance in all_dances():
        moved = {a.at.whole for a in dance.actions if a.foot is not None or a.arms}
        now = {a.at.whole for a in adapt(dance, abilities("x", ("feet",))).dance.actions if a.arms}
        still = moved - now  # a shape that is held for a count, never longer
        assert not [n for n in still if n - 1 not in now], dance.title


def test_own_arms_stay_where_the_feet_rest() -> None:
    for dance in all_dances():
        own = {m.at: m.arms for m, _ in moments(dance.actions) if m.arms and m.arms[0].gesture != "follow"}
        now = {m.at: m.arms for m, _ in moments(adapt(dance, abilities("x", ("feet",))).dance.actions)}
        assert all(now[at] == arms for at, arms in own.items()), dance.title


def test_sections_that_come_again_get_the_same_version() -> None:
    waltz = dance_named("millpond")
    for limits in (("seat",), ("feet",), ("crossing",), ("chair",)):
        events = as_json(adapt(waltz, abilities("x", limits)).dance)["events"]
        one, four = ([(e["foot"], e["action"], e["arms"]) for e in events if a <= int(e["t"]) < a + 3] for a in (3, 21))
        assert one == four


# --- tables ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("limit", [one for one in LIMITS.values() if one.ask], ids=lambda limit: limit.id)
def test_every_limit_has_a_question_and_words_that_lead_back_to_it(limit: object) -> None:
    one = next(found for found in LIMITS.values() if found is limit)
    assert one.ask.endswith("?")
    assert one.id in in_plain_words(one.say).limits
    assert one.reason
    assert one.source


def test_every_verb_a_limit_rules_out_has_a_replacement_that_is_more_than_standing_still() -> None:
    for limit in LIMITS.values():
        if limit.id in ("seat", "feet"):  # a standing dance goes by "to seat"; resting feet have hands.csv
            continue
        for verb in limit.verbs:
            rows = [row for row in ROWS if limit.id in row.limits and ("*" in row.verbs or verb in row.verbs)]
            assert rows or limit.id == "to seat", (limit.id, verb)


def test_hands_have_something_for_every_step_that_moves() -> None:
    told = {row.verbs for row in HAND_ROWS if "*" in row.dirs or row.verbs == "point"}
    assert {verb.name for verb in VERBS} - told == {"arms", "hold"}


def test_the_tables_name_only_verbs_gestures_limits_and_figures_that_there_are() -> None:
    known = {*LIMITS, "weight", "near", "room"}
    verbs = {verb.name for verb in VERBS} | {"*", "="}
    gestures = {gesture.name for gesture in GESTURES} | {"*", "="}
    assert all(set(row.limits) <= known and set(row.verbs) <= verbs and row.instead in verbs for row in ROWS)
    assert all(set(row.gestures) <= gestures and row.instead in gestures for row in GESTURE_ROWS)
    assert all(row.reason and row.source for row in (*ROWS, *GESTURE_ROWS))
    assert {row["pattern"] for row in table("adapt/trade_versions")} == set(PATTERNS)
    assert all(row["pattern"] in PATTERNS or row["written"] for row in table("adapt/patterns"))


def test_every_row_for_a_pattern_is_found_in_that_pattern() -> None:
    for row in table("adapt/patterns"):
        if row["pattern"] not in PATTERNS:
            continue
        given = [m for m, _ in moments(pattern_dance(row["pattern"]).actions)]
        found = {f.row.name for f in pattern_rows_in(given, frozenset(row["limits"].split(";")))}
        assert row["pattern"] in found


def test_every_part_of_the_cost_has_a_weight_and_a_meaning() -> None:
    assert set(WEIGHTS) == set(MEANS)
    assert all(weight > 0 for weight in WEIGHTS.values())
    assert all(MEANS.values())


def test_no_foot_at_all_is_always_the_last_way_out() -> None:
    actions = pattern_dance("cross unwind").actions
    assert steps_instead(actions[:1], frozenset(("crossing", "turning")))[-1].feet == ()


# --- words and files -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "limits"),
    [
        ("seated, left arm only, nothing overhead", {"seat", "right hand", "overhead"}),
        ("I'd rather not lift my arms above my shoulders", {"overhead"}),
        ("I’m in a wheelchair", {"feet", "seat"}),
        ("no turns and no stamping please", {"turning", "impact"}),
        ("left side only", {"right foot", "right hand", "seat", "quick"}),
        ("", set()),
    ],
)
def test_wishes_are_read_in_plain_words(words: str, limits: set[str]) -> None:
    given = in_plain_words(words)
    assert given.limits == limits
    assert in_plain_words(limit_words(given)).limits == limits


@pytest.mark.parametrize(
    ("words", "mend"),
    [("seatd", "“seated”"), ("no quik counts", "“no quick counts”"), ("blue cheese", "say it as one of")],
)
def test_a_word_that_is_no_wish_is_told_with_the_nearest_one(words: str, mend: str) -> None:
    with pytest.raises(WorkbenchError) as wrong:
        in_plain_words(words)
    assert mend in wrong.value.mend


@pytest.mark.parametrize("words", ["arms only, left arm rests, right arm rests", "x" * 500])
def test_wishes_that_leave_nothing_or_never_end_are_refused(words: str) -> None:
    with pytest.raises(WorkbenchError):
        in_plain_words(words)


def test_phrases_never_ask_for_a_reason() -> None:
    said = " ".join(" ".join(words) for words in PHRASES) + " ".join(limit.ask for limit in LIMITS.values())
    told = {row.condition.split()[0].lower().strip("',") for row in cautions().values()} - {"anyone", "high", "knee",
            "chest", "shoulder", "heart", "on", "ankle", "total", "wheelchair"}  # fmt: skip
    assert not [word for word in told if word in said.lower()]


@pytest.mark.parametrize(
    "text",
    ['name = "Tuesday group"\nwishes = ["seated", "nothing overhead"]\ncautions = ["shoulder_90"]\n',
     '{"name": "Tuesday group", "wishes": ["seated", "nothing overhead"], "cautions": ["shoulder_90"]}'],
)  # fmt: skip
def test_a_file_of_wishes_is_toml_or_json(tmp_path: Path, text: str) -> None:
    path = tmp_path / "tuesday"
    path.write_text(text, encoding="utf-8")
    given = read_wishes(path)
    assert given == abilities("Tuesday group", ("seat", "overhead"), ("shoulder_90",))
    path.write_text(wishes_text(given, limit_words(given)), encoding="utf-8")
    assert read_wishes(path).limits == given.limits


@pytest.mark.parametrize(
    "content",
    [b"\xff\xfe\x00", b"wishes = 5", b"[1, 2]", b"{", b"name = 7", b'wishes = ["seatd"]', b'diagnosis = "x"',
     b'cautions = ["nobody"]', b"x" * 30_000, b'{"wishes": ' + b"[" * 5000,
     json.dumps({"wishes": ["seated"] * 50}).encode(),
     b'name = "a\\nb"'],
)  # fmt: skip
def test_a_broken_file_is_told_with_what_would_mend_it(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "wishes.toml"
    path.write_bytes(content)
    with pytest.raises(WorkbenchError) as wrong:
        read_wishes(path)
    assert wrong.value.mend


# --- by hand ---------------------------------------------------------------------------------------------------------


def test_a_count_put_in_by_hand_wins_and_is_told_where_it_asks_for_more() -> None:
    version = adapt(dance_named("copper_kettle"), abilities("x", ("impact",)))
    kept, none = instead(version, "12=touch L beside R")
    assert none == ()
    now = next(a for a in kept.dance.actions if a.at.whole == 12)
    assert (now.foot, now.verb) == (Foot.LEFT, "touch")
    broke, told = instead(version, "32=stomp up R beside L")
    assert any("no stamping" in words for words in told)
    assert [breach.limit for breach in broke.breaches] == ["impact"]
    assert broke.changes[-1].reason == "put in by hand"


def test_a_foot_put_in_by_hand_that_bears_the_dancer_is_told() -> None:
    version = adapt(dance_named("copper_kettle"), "standing")
    _, told = instead(version, "2=step L forward")
    assert any("moves while it bears" in words for words in told)


@pytest.mark.parametrize("given", ["", "13", "13=", "x=step", "99=touch R beside L", "13=wibble", "13" + "=" * 300])
def test_nonsense_put_in_by_hand_is_refused(given: str) -> None:
    version = adapt(dance_named("copper_kettle"), "standing")
    with pytest.raises(WorkbenchError):
        instead(version, given)


@pytest.mark.parametrize(
    "wish",
    ["nothing above the shoulders", "arms low", "small movements", "left arm rests", "no crossing", "supported",
     "hands in front", "open hands"],
)  # fmt: skip
def test_every_gesture_in_every_place_keeps_the_wish_and_moves_on(wish: str) -> None:
    ways = (None, Direction.UP, Direction.FORWARD, Direction.ACROSS_FRONT, Direction.LEFT)
    moves = [
        ArmMove(side, gesture.name, place, ways[(i + j) % len(ways)])
        for i, gesture in enumerate(GESTURES)
        for j, place in enumerate((*PLACES, None))
        for side in (Foot.BOTH, Foot.LEFT)
        if place != "foot"
    ]
    held = [Action(Count(Fraction(n)), None, "arms", arms=(arm,)) for n, arm in enumerate(moves, 1)]
    given, words = wished(wish)
    dance = replace(pattern_dance("hold"), actions=tuple(held), counts=len(held), sections=())
    version = adapt(dance, given).dance
    assert broken(as_json(dance), as_json(version), words) == []
    assert all(action.arms for action in version.actions)


def test_a_hand_that_no_longer_follows_a_foot_is_no_second_thing_to_think_of() -> None:
    follows = (ArmMove(Foot.RIGHT, "follow", "foot"),)
    sweep = Action(Count(Fraction(1)), Foot.RIGHT, "sweep", Direction.CENTRE, arms=follows)
    dance = replace(dance_named("cushion"), actions=(sweep,), counts=1, sections=())
    given, words = wished("one thing at a time", "right leg rests", "seated")
    assert broken(as_json(dance), as_json(adapt(dance, given).dance), words) == []


ASKED_BY = {"overhead": "overhead", "shoulder": "high arms", "crossing": "crossing", "behind": "behind"}


def test_the_table_of_the_trade_tells_of_each_gesture_what_the_limits_find_in_it() -> None:
    assert len(TRADE_GESTURES) == 88
    for one in TRADE_GESTURES.values():
        for asks, limit in ASKED_BY.items():
            found = any(LIMITS[limit].of_arm(one.arm(side)) for side in (Foot.LEFT, Foot.RIGHT))
            assert (asks in one.asks) == found, (one.id, asks)
        assert ("both" in one.asks) == (one.gesture in LIMITS["left hand"].gestures), one.id
        assert "grip" in one.asks or one.gesture not in LIMITS["grip"].gestures, one.id


def test_a_gesture_of_the_trade_that_is_ruled_out_becomes_the_one_most_like_it() -> None:
    for one, other, limits in replacements():
        for limit in (limit for limit in limits if limit in LIMITS and "hand" not in limit):
            for side in (Foot.LEFT, Foot.RIGHT):
                arm, wanted = one.arm(side), other.arm(side)
                if not LIMITS[limit].of_arm(arm):
                    continue  # what the events do not tell: a grip, a thumb
                assert not LIMITS[limit].of_arm(wanted), (one.id, limit)
                found = arms_instead((arm,), frozenset({limit}), None)
                assert wanted in [move for arms in found for move in arms.arms], (one.id, limit)
