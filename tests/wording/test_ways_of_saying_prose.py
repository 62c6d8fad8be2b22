"""Prose that tells its counts: before the words, behind them, spoken, wrapped over lines, with talk between."""

from __future__ import annotations

import pytest

from .saying import reads_as

SEATED = "Probe\nseated, 1 wall, beginner, 100 bpm, intro 16\n\n"
OUT_AND_HOME = "1-2 right foot out to the side, right foot home\n3-4 left foot out to the side, left foot home"
HEELS = "5-6 right heel forward, right foot home\n7-8 left heel forward, left foot home"
PLAIN = f"{OUT_AND_HOME}\n{HEELS}"


@pytest.mark.parametrize(
    "words",
    [
        # the count behind its words
        "Right foot out to the side on 1 and home on 2. Left foot out to the side on 3 and home on 4. "
        "Right heel forward on 5, right foot home on 6. Left heel forward on 7 and left foot home on 8.",
        # the count before them
        "On 1 right foot out to the side, on 2 home. On 3 left foot out to the side, on 4 home. "
        "On 5 right heel forward, on 6 right foot home, on 7 left heel forward, and on 8 left foot home.",
        "On count 1 put the right foot out to the side. On count 2 bring it home. On count 3 put the left foot "
        "out to the "
        "side. On count 4 bring it home. On count 5 right heel forward. On count 6 right foot home. On count 7 "
        "left heel "
        "forward. On count 8 left foot home.",
        # both in one paragraph
        "On 1 the right foot goes out to the side and comes home on 2. Left foot out to the side on 3, home on "
        "4. Then "
        "right heel forward on 5, right foot home on 6, and on 7 the left heel forward, and left foot home on 8.",
        # spoken numbers behind
        "Right foot out to the side, one. Bring it home, two. Left foot out to the side, three. Home, four. "
        "Right heel "
        "forward, five, and home, six. Left heel forward, seven, and home, eight.",
        "Right foot out to the side, one, home, two, left foot out to the side, three, home, four. And then: "
        "right heel "
        "forward, five, home, six, left heel forward, seven, home, eight.",
        # wrapped over lines
        "For the first eight, put the right foot out to the side on 1 and bring\n"
        "it home on 2. Then put the left foot out to the side on 3 and bring it\n"
        "home on 4. After that, right heel forward on 5, right foot home on 6,\n"
        "left heel forward on 7 and left foot home on 8.",
        # a copy announced and told in full
        "On 1 put the right foot out to the side. On 2 bring it home. Other side: on 3 put the left foot out to "
        "the side. "
        "On 4 bring it home. Now the heels. On 5 right heel forward, on 6 home. Same again: on 7 left heel "
        "forward, on 8 "
        "home.",
        # talk between
        "Feet flat to begin. Right foot out to the side on 1, home on 2. Left foot out to the side on 3, home on "
        "4. Now "
        "your heels. Right heel forward on 5, home on 6. Lovely. Left heel forward on 7, home on 8. There we are.",
    ],
)
def test_prose_tells_its_counts_wherever_they_stand(words: str) -> None:
    reads_as(words, PLAIN, SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "On count 1 right heel forward. Hold for 3. On count 5 right foot home. Hold for three counts.",
        "On 1 right heel forward, hold for 3. On 5 right foot home, hold for 3.",
        "On count 1 right heel forward and hold for 3 counts. On count 5 right foot home and hold for three.",
        "On count 1 put the right heel forward. Hold 2, 3, 4. On count 5 right foot home. Hold 6, 7, 8.",
        "1 right heel forward, hold for 3\n5 right foot home, hold for 3",
        "1-4 Right heel forward, and hold\n5-8 Right foot home, and hold",
        "1-4 Right heel forward (hold)\n5-8 Right foot home (hold)",
        "Counts 1-4: right heel forward and stay there.\nCounts 5-8: right foot home and stay there.",
    ],
)
def test_what_is_held_fills_the_counts_to_the_next(words: str) -> None:
    reads_as(words, "1 right heel forward\n2-4 hold\n5 right foot home\n6-8 hold", SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "Roll the hands at chest height for two counts. Clap on count 3. Hold on count 4.\nAnd again for counts "
        "5 to 8.",
        "Roll the hands at chest height for two counts, clap on count 3 and hold on count 4.\nThe same again on "
        "5 to 8.",
        "1-2 roll the hands at chest height\n3 clap\n4 hold\nOnce more for 5-8.",
        "1-4 roll the hands at chest height for two counts, clap, hold\n5-8 and once more",
        "1-4 roll the hands at chest height for two, clap, hold\n5-8 ditto",
        "For counts 1 and 2 roll the hands at chest height. On 3 clap. On 4 hold. Repeat for counts 5 to 8.",
        "1-2 roll the hands at chest height, 3 clap, 4 hold\n5-8 do all of that again",
        "1,2 roll hands at chest height; 3 clap; 4 hold; 5-8 all of that once more",
    ],
)
def test_lengths_in_words_and_copies_over_later_counts(words: str) -> None:
    plain = "1-2 roll the hands at chest height\n3 clap\n4 hold\n5-6 roll the hands at chest height\n7 clap\n8 hold"
    reads_as(words, plain, SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "Both hands pat the thighs, one, two. Clap, three, four. Pat again, five, six, and clap, seven, eight.",
        "Pat, pat on the thighs, one, two. Clap, clap, three, four. Pat, pat, five, six. Clap, clap, seven, eight.",
        "1-4 pat thighs, pat thighs, clap, clap\n5-8 repeat",
        "1-2 pat the thighs twice\n3-4 clap twice\n5-6 pat the thighs twice\n7-8 clap twice",
        "1-2 pat, pat with both hands on the thighs\n3-4 clap, clap\n5-8 again",
        "1-2 two pats on the thighs\n3-4 two claps\n5-6 two pats on the thighs\n7-8 two claps",
        "Pat the thighs on 1 and 2, clap on 3 and 4, pat the thighs on 5 and 6, clap on 7 and 8.",
        "1 2 pat thighs x2\n3 4 clap x2\n5-8 same again",
    ],
)
def test_a_beat_told_for_two_counts_is_heard_twice(words: str) -> None:
    plain = "1 pat the thighs\n2 pat the thighs\n3 clap\n4 clap\n5 pat the thighs\n6 pat the thighs\n7 clap\n8 clap"
    reads_as(words, plain, SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "1-4 Stamp right, left, right, left. Is anybody in?\n5-6 Wave your right hand for two counts. Hello, "
        "hedgehog!\n"
        "7-8 Put both hands on your knees, and hold. No wriggling, Grandad!",
        "1-4 Stamp right, left, right, left (mind the teacups)\n5-6 wave the right hand (hello, Vera)\n"
        "7-8 hands on knees, hold (everybody asleep?)",
        "1-4 Stamp right, left, right, left - lovely noise!\n5-6 Wave the right hand.\n7-8 Hands on knees, hold.",
        "Off we go then!\n1-4 Stamp right, left, right, left\n5-6 wave the right hand\n7-8 hands on knees, hold\n"
        "Wasn't that grand?",
        "1-4 Stamp right, left, right, left. Louder than last week, please.\n5-6 Wave the right hand. To your "
        "neighbour.\n"
        "7-8 Hands on knees, hold. Breathe.",
        "1-4 Stamp right, left, right, left\n(the cat won't mind)\n5-6 wave the right hand\n7-8 hands on knees, hold",
        "1-4 Stamp right, left, right, left [careful with handbags]\n5-6 wave the right hand [royal style]\n"
        "7-8 hands on knees, hold\nTea afterwards, as usual. Margaret",
        "1-4: Stamp right, left, right, left. 5-6: Wave the right hand. Cheerio! 7-8: Hands on knees, hold.",
    ],
)
def test_talk_between_the_steps_is_no_step_and_no_error(words: str) -> None:
    plain = "1-4 stamp right, left, right, left\n5-6 wave the right hand\n7-8 rest both hands on the knees, hold"
    reads_as(words, plain, SEATED)
