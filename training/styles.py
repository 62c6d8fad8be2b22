# ruff: noqa: E501, RUF005 -- tables of patterns, one style a paragraph
"""The styles a band can play, as tables.

A pattern is one bar: its letters are spread evenly over the beats of the bar. Drums: ``x`` strong, ``o`` soft, ``g`` barely
there, ``.`` nothing. Bass: ``r`` root, ``5`` fifth below or above, ``3`` third, ``6`` sixth, ``8`` octave, ``a`` a step before
the next root, ``-`` goes on. Chords: ``X`` held to the next stroke, ``x`` short, ``o`` short and soft. Broken chords: digits
are chord notes from low to high. Programs are General MIDI numbers from 0.
"""

from __future__ import annotations

from dataclasses import dataclass

# General MIDI percussion keys
DRUM_KEYS = {
    "kick": 36, "snare": 38, "rim": 37, "clap": 39, "hat": 42, "open": 46, "pedal": 44, "ride": 51, "crash": 49,
    "tamb": 54, "bell": 56, "shaker": 70, "cabasa": 69, "conga": 63, "tumba": 64, "slap": 62, "bongo": 60, "lowbongo": 61,
    "claves": 75, "block": 76, "triangle": 81, "timbale": 65, "bassdrum": 35, "tom": 45, "snare2": 40, "hightom": 50,
    "lowtom": 41, "cup": 53, "china": 52, "splash": 55, "ride2": 59, "agogo": 67, "lowagogo": 68, "lowtimbale": 66,
    "guiro": 73, "lowblock": 77, "vibraslap": 58, "tri2": 80,
}  # fmt: skip

PIANO, ORGAN, ACCORDION, GUITAR, STRINGS = (0, 1, 4, 5), (16, 17, 18, 19), (21, 23), (24, 25, 26, 27), (48, 49, 50, 51)
CLEAN, DIRTY, BASS, SYNTH_BASS = (25, 26, 27, 28), (29, 30), (32, 33, 34, 35), (38, 39)
BRASS, REEDS, PIPES, SYNTH_LEAD, PADS = (
    (56, 57, 60, 61),
    (64, 65, 66, 71),
    (72, 73, 75),
    (80, 81, 84, 87),
    (88, 89, 90, 91),
)
FOLK, VOICES, STABS, BELLS = (22, 105, 110, 111, 40), (52, 53, 54), (62, 63, 55), (9, 11, 12, 13)


@dataclass(frozen=True)
class Style:
    """One way to play: tempo range in beats a minute, patterns of which a song draws, and who may play them."""

    bpm: tuple[float, float]
    drums: tuple[dict[str, str], ...]
    bass: tuple[str, ...]
    chords: tuple[str, ...]
    comp: tuple[int, ...]
    lead: tuple[int, ...]
    low: tuple[int, ...] = BASS
    broken: tuple[str, ...] = ()
    swing: tuple[float, float] = (0.5, 0.52)  # where the second half of a beat falls
    metre: int = 4
    electronic: float = 0.0  # likelihood of a drum machine, pumping and filters
    bare: float = 0.06  # likelihood of no drums at all
    span: int = 1  # how many bars a pattern lasts
    crunch: float = 0.0  # likelihood of distorted guitars
    alone: float = 0.0  # likelihood that one player and a singer are all there is


STYLES: dict[str, Style] = {
    "two_step": Style(
        (84, 160),
        ({"kick": "x...x...", "snare": "..x...x.", "hat": "x.x.x.x."}, {"kick": "x...x...", "rim": "..x...x.", "hat": "xoxoxoxo"},
         {"kick": "x...x..o", "snare": "..x...x.", "tamb": "..x...x."}),
        ("r...5...", "r...5..a", "r...5.r."), ("..x...x.", "..x...xo", "..x..ox."), GUITAR + PIANO, FOLK + GUITAR + REEDS),
    "train": Style(
        (88, 150),
        ({"kick": "x.x.x.x.", "snare": "ggxgggxgggxgggxg"}, {"kick": "x...x...", "snare": "goxogoxogoxogoxo", "hat": "..x...x."}),
        ("r...5...", "r.5.r.5."), ("..x...x.", ".ox..ox."), GUITAR, FOLK + GUITAR),
    "shuffle": Style(
        (80, 150),
        ({"kick": "x...x...", "snare": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x.x.x.x.", "snare": "..x...x.", "ride": "x.xox.xo"},
         {"kick": "x..ox...", "snare": "..x...x.", "hat": "x.x.x.x."}),
        ("r.3.5.6.", "r.r.5.5.", "rr33556a"), ("..x...x.", ".x.x.x.x", "x..xx..x"), CLEAN + ORGAN + PIANO, GUITAR + REEDS + (22,),
        swing=(0.62, 0.68)),
    "swing": Style(
        (90, 170),
        ({"ride": "x.xox.xo", "pedal": "..x...x.", "kick": "g.g.g.g."}, {"hat": "x.xox.xo", "kick": "x.x.x.x.", "snare": "..o...o."},
         {"ride": "x.xox.xo", "pedal": "..x...x.", "snare": ".g...g.."}),
        ("r.3.5.a.", "r.5.6.a.", "r.3.5.3."), ("...x..x.", ".x...x..", "x.x.x.x.", "..x...x."), PIANO + (26,), BRASS + REEDS,
        swing=(0.6, 0.68)),
    "foxtrot": Style(
        (100, 140),
        ({"kick": "x...x...", "snare": "..o...o.", "hat": "x.x.x.x."}, {"bassdrum": "x...x...", "hat": "..x...x."}),
        ("r...5...", "r.3.5.a."), ("..x...x.", "x.x.x.x."), PIANO + STRINGS, BRASS + REEDS, swing=(0.5, 0.62)),
    "march": Style(
        (96, 132),
        ({"bassdrum": "x...x...", "snare": "..x...x."}, {"bassdrum": "x...x...", "snare": "x.xxx.xxx.xxx.xx", "crash": "o......."},
         {"bassdrum": "x.x.x.x.", "snare": "oxoxoxox"}),
        ("r...5...", "r.r.5.5."), ("..x...x.", ".x.x.x.x"), BRASS + STRINGS, BRASS + PIPES, low=(58, 57, 43), bare=0.15),
    "polka": Style(
        (96, 140),
        ({"kick": "x.x.x.x.", "snare": ".x.x.x.x"}, {"bassdrum": "x...x...", "snare": "..x...x.", "hat": "xoxoxoxo"}),
        ("r.5.r.5.", "r...5..."), (".x.x.x.x", "..x...x."), ACCORDION + (58, 24), ACCORDION + REEDS + (22,), low=(32, 58, 43)),
    "music_hall": Style(
        (96, 150), ({"bassdrum": "x...x...", "snare": "..o...o."}, {"block": "x.x.x.x.", "kick": "x...x..."}),
        ("r...5...", "r...5..a"), ("..x...x.",), (0, 3, 21), REEDS + BRASS + (0, 72), swing=(0.5, 0.6), bare=0.3),
    "pop": Style(
        (84, 140),
        ({"kick": "x...x...", "snare": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x..xx...", "snare": "..x...x.", "hat": "xoxoxoxo"},
         {"kick": "x...xx..", "snare": "..x...x.", "hat": "xxxxxxxx", "shaker": "oooooooooooooooo"},
         {"kick": "x..o..x.", "snare": "..x...x.", "ride": "x.x.x.x."}),
        ("r.r.r.r.", "r..r....", "rrrrrrrr", "r.......", "r..r..5."), ("X.......", "X...X...", "x.x.x.x.", "X..X..X."),
        PIANO + CLEAN + STRINGS + PADS, VOICES + SYNTH_LEAD + REEDS + GUITAR, broken=("01210121", "02132132"), electronic=0.3),
    "pop16": Style(
        (72, 116),
        ({"kick": "x..x..x...x.....", "snare": "....x.......x...", "hat": "xoxoxoxoxoxoxoxo"},
         {"kick": "x.....x.x.x.....", "snare": "....x..g.g..x...", "hat": "xxxxxxxxxxxxxxxx"}),
        ("r..r..r...5.....", "r.....r.r...5..."), ("X.......", "x..x..x.", "X..X..X.X..X..X."), PIANO + CLEAN + PADS,
        VOICES + SYNTH_LEAD + REEDS, broken=("0123210121012321",), electronic=0.4, swing=(0.5, 0.5)),
    "rock": Style(
        (92, 150),
        ({"kick": "x...x...", "snare": "..x...x.", "hat": "xxxxxxxx"}, {"kick": "x.ox.o..", "snare": "..x...x.", "crash": "x.x.x.x."},
         {"kick": "x..xx...", "snare": "..x...x.", "open": "x.x.x.x."}, {"kick": "x.x.x.x.", "snare": "..x...x.", "ride": "x.x.x.x."}),
        ("rrrrrrrr", "r.r.r.r.", "r..rr..."), ("X.......", "xxxxxxxx", "X..X....", "x.xxx.xx"), DIRTY + (28,), DIRTY + VOICES + (16,)),
    "boogie_rock": Style(
        (110, 165), ({"kick": "x...x.x.", "snare": "..x...x.", "ride": "xxxxxxxx"}, {"kick": "x...x...", "snare": "..x...x.", "hat": "xxxxxxxx"}),
        ("rr55rr66", "r3568653", "rrrr5555"), ("xxooxxoo", ".x..x.x."),
        DIRTY + CLEAN + PIANO, REEDS + DIRTY + PIANO, swing=(0.5, 0.6)),
    "country_rock": Style(
        (96, 140), ({"kick": "x..xx...", "snare": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x...x.x.", "snare": "..x...x.", "tamb": "xoxoxoxo"}),
        ("r.r.5.5.", "r..r5...", "rrrr5555"), ("X...X...", "xxoxxxox", "x.oxx.ox"), GUITAR + (29,), FOLK + GUITAR + (29,)),
    "disco": Style(
        (108, 132),
        ({"kick": "x.x.x.x.", "snare": "..x...x.", "open": ".x.x.x.x"}, {"kick": "x.x.x.x.", "clap": "..x...x.", "hat": "xoxoxoxoxoxoxoxo", "open": ".x.x.x.x"}),
        ("r8r8r8r8", "r.8.r.8.", ".r8.r8r8", "rr88rr88"), ("..x.x..x", ".x.x.x.x", "x.ox.ox.", "X......."),
        CLEAN + STRINGS + PIANO, STRINGS + BRASS + VOICES, low=(33, 36, 38), electronic=0.4),
    "house": Style(
        (116, 130),
        ({"kick": "x.x.x.x.", "clap": "..x...x.", "open": ".x.x.x.x"}, {"kick": "x.x.x.x.", "hat": ".x.x.x.x", "shaker": "oooooooooooooooo"}),
        (".r.r.r.r", "..r...r...r...r.", ".rr..rr."), ("x..x..x.", "x..x..x...x..x..", "X......."), PIANO + STABS + PADS,
        SYNTH_LEAD + VOICES, low=SYNTH_BASS, broken=("0123012301230123", "0321032103210321"), electronic=1.0),
    "trance": Style(
        (124, 145), ({"kick": "x.x.x.x.", "open": ".x.x.x.x", "clap": "..x...x."}, {"kick": "x.x.x.x.", "hat": "oxoxoxox"}),
        (".r.r.r.r", ".rrr.rrr.rrr.rrr"), ("X.......", "x.xx.xx.x.xx.xx."), SYNTH_LEAD + PADS + STABS, SYNTH_LEAD, low=SYNTH_BASS,
        broken=("0213021302130213", "0123210301232103"), electronic=1.0),
    "synthpop": Style(
        (96, 138), ({"kick": "x...x...", "snare": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x.x.x.x.", "snare": "..x...x.", "hat": "xxxxxxxx"}),
        ("rrrrrrrr", "r8r8r8r8", "rrrrrrrrrrrrrrrr"), ("X.......", "x.x.x.x.", "..x...x."), STABS + PADS + SYNTH_LEAD, SYNTH_LEAD + VOICES,
        low=SYNTH_BASS, broken=("0121012101210121",), electronic=0.9),
    "hiphop": Style(
        (76, 104), ({"kick": "x..x....x.x.....", "snare": "....x.......x...", "hat": "x.x.x.x.x.x.x.xx"},
         {"kick": "x.....x...x.....", "clap": "....x.......x...", "hat": "xxxxxxxxxxxxxxxx"}),
        ("r..r....r.......", "r.....r...5....."), ("X.......", "x..x...."), PIANO + PADS + BELLS, VOICES + SYNTH_LEAD + BELLS, low=(33, 38, 39),
        electronic=0.8, swing=(0.5, 0.5)),
    "reggaeton": Style(
        (84, 104), ({"kick": "x.x.x.x.", "snare": "...x..x....x..x."}, {"kick": "x...x...x...x...", "rim": "...x..x....x..x.", "hat": "x.x.x.x.x.x.x.x."}),
        ("r...r...", "r..r..r.", "r......."), ("..x...x.", "X......."), BELLS + CLEAN + PADS, VOICES + SYNTH_LEAD, low=(33, 38), electronic=0.8),
    "funk": Style(
        (88, 118), ({"kick": "x.x....x..x.....", "snare": "....x..g.g..x..g", "hat": "xoxoxoxoxoxoxoxo"}, {"kick": "x..x..x.....x...", "snare": "....x.......x..x", "hat": "xxxxxxxxxxxxxxxx"}),
        ("r..r..8...5.a...", "r.r...8.r...5.8."), ("..x..x..x..x..x.", "x..xx..x.x..x..x", ".xx..xx..xx..xx."), CLEAN + ORGAN + BRASS,
        BRASS + REEDS + ORGAN, low=(33, 36, 37)),
    "motown": Style(
        (96, 134), ({"kick": "x..xx..x", "snare": "x.x.x.x.", "tamb": "..x...x."}, {"kick": "x.x.x.x.", "snare": "..x...x.", "tamb": "xoxoxoxo"}),
        ("r..r5.a.", "r.3.5.6.", "r..rr.5."), ("..x...x.", "x.x.x.x.", "X..x...."), PIANO + CLEAN + STRINGS, VOICES + REEDS + BRASS),
    "cha_cha": Style(
        (108, 128), ({"bell": "x.x.x.x.", "conga": "......xx", "tumba": ".......o", "kick": "x...x..."}, {"hat": "x.x.x.x.", "rim": "..x...xx", "conga": "..x...xx", "kick": "x..x...."}),
        ("r..5..r.", "r..r..5.", "...r..5."), ("..x...xx", "x.x.x.xx", ".x.xx.x."), PIANO + CLEAN, BRASS + PIPES + REEDS),
    "salsa": Style(
        (84, 112), ({"claves": "..x.x...x..x..x.", "conga": "..x...xx..x...xx", "bell": "x.x.x.xxx.x.x.xx"}, {"timbale": "x.xxx.xxx.xxx.xx", "conga": "..x...xx..x...xx", "kick": "...x..x....x..x."}),
        ("...r..5....r..a.", "r..5..8.r..5..8."), ("x.xx.xx.x.xx.xx.", "..x..x.x..x..x.x"), PIANO, BRASS + PIPES),
    "samba": Style(
        (92, 124), ({"tamb": "xooxxooxxooxxoox", "bassdrum": "o...x...o...x...", "snare": "x..x..x.x..x.x.."}, {"hat": "xxxxxxxxxxxxxxxx", "kick": "x..xx..xx..xx..x", "rim": "x..x..x...x..x.."}),
        ("r..r5..5r..r5..5", "r...5..r"), ("x..x..x...x.x...", ".x.xx.x."), CLEAN + PIANO, PIPES + REEDS + VOICES),
    "bossa": Style(
        (100, 144), ({"rim": "x..x..x...x..x..", "hat": "xxxxxxxxxxxxxxxx", "kick": "x..xx..xx..xx..x"}, {"shaker": "xoxoxoxo", "rim": "x..x..x.", "kick": "x..xx..x"}),
        ("r..55..r", "r..r5..5"), ("x..x..x.", "x.x..x.x", "x..x.x.."), (24, 26, 4), PIPES + REEDS + VOICES),
    "rumba": Style(
        (88, 124), ({"claves": "x..x...x..x.x...", "conga": "..x...xx..x...xx", "shaker": "xoxoxoxo"}, {"kick": "x...x.x.", "rim": "x..x...x..x.x...", "bongo": "xoooxoooxoooxooo"}),
        ("r...5.8.", "r..5..8."), ("..xx..x.", "x..x..x."), GUITAR + PIANO, GUITAR + BRASS + PIPES),
    "tango": Style(
        (104, 132), ({"kick": "x.x.x.x.", "snare": ".......x"}, {"kick": "x..xx.x.", "snare": "......xx"}),
        ("r.r.5.5.", "r..r5.r.", "r.5.r.5."), ("x.x.x.x.", "x..xx.x.", "x.x.x.xx"), ACCORDION + STRINGS + (0,), STRINGS + ACCORDION + (40,), bare=0.4),
    "reggae": Style(
        (68, 92), ({"kick": "..x...x.", "rim": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x.x.x.x.", "snare": "..x...x.", "hat": "xxxxxxxx"}, {"kick": "....x...", "rim": "....x...", "hat": "xoxoxoxo"}),
        ("r..r..5.", ".rr.5.3.", "r.3.5..."), (".x.x.x.x", ".x.x.x.x", ".xo.xo.x"), ORGAN + CLEAN, VOICES + BRASS + ORGAN, swing=(0.5, 0.6)),
    "ballad": Style(
        (60, 92), ({"kick": "x...x...", "snare": "..x...x.", "hat": "x.x.x.x."}, {"kick": "x..ox...", "rim": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x.......", "snare": "....x...", "hat": "x.x.x.x."}),
        ("r.......", "r...5...", "r..r5..."), ("X.......", "X...X...", "X.X.X.X."), PIANO + GUITAR + STRINGS + PADS, VOICES + PIPES + STRINGS + REEDS,
        broken=("01232123", "02132132", "0123"), bare=0.2),
    "ballad_128": Style(
        (60, 88), ({"kick": "x.....x.....", "snare": "...x.....x..", "hat": "xxxxxxxxxxxx"}, {"kick": "x....xx.....", "snare": "...x.....x..", "ride": "xooxooxooxoo"}),
        ("r.....5.....", "r..r..5..a..", "r..3..5..6.."), ("xxxxxxxxxxxx", "X...........", "xooxooxooxoo"), PIANO + CLEAN + ORGAN, VOICES + REEDS + STRINGS,
        broken=("012321012321", "012012012012")),
    "slow_rock": Style(
        (66, 104), ({"kick": "x....xx..x..", "snare": "...x.....x..", "ride": "xxxxxxxxxxxx"}, {"kick": "x.....x.....", "snare": "...x.....x..", "open": "x..x..x..x.."}),
        ("r..r..5..5..", "r..rr.5..a.."), ("xxxxxxxxxxxx", "X.....X....."), DIRTY + PIANO + ORGAN, REEDS + DIRTY + VOICES, broken=("012321012321",)),
    "jig": Style(
        (96, 128), ({"bassdrum": "x..x..x..x..", "snare": "xoxxoxxoxxox"}, {"lowbongo": "xooxooxooxoo", "kick": "x.....x....."}),
        ("r.....5.....", "r..5..r..5.."), ("x..x..x..x..", "x.ox.ox.ox.o"), GUITAR + (21, 105), FOLK + PIPES + (21,), bare=0.3),
    "reel": Style(
        (100, 124), ({"bassdrum": "x...x...", "snare": "xooxxoox"}, {"lowbongo": "xoxoxoxoxoxoxoxo", "kick": "x.x.x.x."}),
        ("r...5...", "r.5.r.5."), ("x.x.x.x.", "xoxoxoxo"), GUITAR + (21, 105), FOLK + PIPES + (21,), bare=0.3),
    "bluegrass": Style(
        (104, 150), ({"kick": "x...x...", "snare": "..x...x."},), ("r...5...", "r.5.r.5."), ("..x...x.", ".ox..ox."), (25, 24), (105, 40, 25),
        broken=("0213021302130213", "0123012301230123"), bare=0.8),
    "quick_folk": Style(
        (96, 140), ({"tamb": "x.x.x.x.", "kick": "x...x..."}, {"clap": "..x...x.", "kick": "x...x..."}), ("r...5...", "r...r..."),
        ("xoxoxoxo", "x.oxx.ox", "x.xox.xo"), GUITAR + (105, 21), VOICES + FOLK + PIPES, broken=("01210121",), bare=0.5),
    "hand_drums": Style(
        (80, 130), ({"conga": "x.oxx.oxx.oxx.ox", "tumba": "x...x...x...x...", "shaker": "oooooooo"}, {"bongo": "xoxoxoxo", "lowbongo": "x...x..x", "clap": "..x...x."}),
        ("r.......", "r..r...."), ("X.......", "x..x..x."), (12, 24, 108), PIPES + VOICES + (12, 108)),
    "gospel": Style(
        (76, 130), ({"clap": "..x...x.", "kick": "x...x...", "tamb": "xoxoxoxo"}, {"kick": "x..xx...", "snare": "..x...x.", "ride": "x.xox.xo"}),
        ("r.3.5.6.", "r..r5.a."), ("x..x..x.", "X...X...", "..x...x."), ORGAN + PIANO, VOICES, swing=(0.5, 0.67)),
    "waltz": Style(
        (84, 160), ({"kick": "x.....", "snare": "..o.o."}, {"kick": "x.....", "hat": "..x.x."}, {"bassdrum": "x.....", "snare": "..x.x.", "triangle": "x....."}, {"kick": "x.....", "snare": "....x.", "hat": "x.x.x."}),
        ("r.....", "r...5.", "r.3.5."), ("..x.x.", "..x.x.", "X....."), ACCORDION + PIANO + STRINGS + GUITAR, STRINGS + ACCORDION + REEDS + PIPES, metre=3, bare=0.2),
    "country_waltz": Style(
        (84, 130), ({"kick": "x.....", "snare": "..x.x.", "hat": "xoxoxo"}, {"kick": "x.....", "rim": "....x.", "hat": "x.x.x."}),
        ("r.....", "r...a."), ("..x.x.", "..xox.", "x.x.x."), GUITAR + PIANO, FOLK + VOICES + GUITAR, broken=("012321",), metre=3),
    "slow_waltz": Style(
        (72, 100), ({"kick": "x.....", "snare": "..o.o.", "ride": "x.x.x."}, {"kick": "x....o", "snare": "....x.", "hat": "xoxoxo"}),
        ("r.....", "r.5.8."), ("X.....", "..x.x."), PIANO + STRINGS + PADS, STRINGS + VOICES + PIPES, broken=("012321", "012121"), metre=3, bare=0.3),
    "jazz_waltz": Style(
        (110, 165), ({"ride": "x.xxx.", "pedal": "..x...", "kick": "x....."}, {"ride": "x.x.xo", "snare": "...g..", "pedal": "..x.x."}),
        ("r.3.5.", "r...5.", "r.5.a."), ("...x..", "..x..x", "x..x.."), PIANO + (26,), REEDS + BRASS + (11,), swing=(0.58, 0.67), metre=3),
    "pop_waltz": Style(
        (84, 150), ({"kick": "x.....", "snare": "....x.", "hat": "xoxoxo"}, {"kick": "x..x..", "snare": "....x.", "hat": "xxxxxx"}, {"kick": "x.....", "snare": "..x.x.", "tamb": "x.x.x."}),
        ("r.....", "r.r.r.", "rrrrrr"), ("X.....", "x.x.x.", "xxxxxx"), PIANO + CLEAN + PADS + DIRTY, VOICES + SYNTH_LEAD, broken=("012321",), metre=3, electronic=0.3),
    "techno": Style(
        (120, 140), ({"kick": "x.x.x.x.", "open": ".x.x.x.x"}, {"kick": "x.x.x.x.", "hat": "..x...x...x...x.", "clap": "..x...x.", "rim": "...x..x....x..x."}),
        (".r.r.r.r", ".rr..rr..rr..rr.", "r..r..r...r..r.."), ("...x....", "x..x..x..x..x...", "X......."), STABS + PADS + SYNTH_LEAD, SYNTH_LEAD + PADS,
        low=SYNTH_BASS, broken=("0012001200120013", "0213", "01020103"), electronic=1.0, bare=0.0),
    "eurodance": Style(
        (124, 150), ({"kick": "x.x.x.x.", "clap": "..x...x.", "open": ".x.x.x.x"}, {"kick": "x.x.x.x.", "snare": "..x...x.", "hat": "xoxoxoxoxoxoxoxo", "open": ".x.x.x.x"}),
        (".r.r.r.r", ".r.8.r.8", "rr8rrr8r"), ("x..x..x.", "x.x..x.xx..x.x..", ".x.x.x.x"), STABS + PIANO + SYNTH_LEAD, SYNTH_LEAD + VOICES,
        low=SYNTH_BASS, broken=("0120120120120123", "0321"), electronic=1.0, bare=0.0),
    "schlager": Style(
        (116, 136), ({"kick": "x.x.x.x.", "snare": "..x...x.", "hat": ".x.x.x.x"}, {"kick": "x.x.x.x.", "clap": "..x...x.", "tamb": "oxoxoxox"}),
        ("r.r.5.5.", "r8r85858", ".r.r.5.5"), (".x.x.x.x", "X...X...", "..x...x."), STRINGS + PIANO + ACCORDION + STABS, VOICES + BRASS + SYNTH_LEAD,
        electronic=0.7),
    "electro": Style(
        (96, 132), ({"kick": "x.....x...x.....", "snare": "....x.......x...", "hat": "x.xxx.xxx.xxx.xx"}, {"kick": "x..x..x...x..x..", "clap": "....x.......x..x", "open": "..x...x...x...x."}),
        ("r..r..r.r..r..8.", "rr.rr.rrrr.rr.8r"), ("X.......", "x..x....x..x....", "..x...x."), STABS + PADS + BELLS, SYNTH_LEAD + BELLS, low=SYNTH_BASS,
        broken=("0123", "03120312", "0102030201020302"), electronic=1.0, bare=0.0, swing=(0.5, 0.5)),
    "breakbeat": Style(
        (96, 140), ({"kick": "x.x.......xx....", "snare": "....x..g.g..x..g", "ride": "x.x.x.x.x.x.x.x."}, {"kick": "x.....x...x.....x..x......x.....", "snare": "....x..g.g..x.......x..g.g..x.gx", "hat": "xoxoxoxoxoxoxoxoxoxoxoxoxoxoxoxo"}),
        ("r.....r...r.....", "r..r......5.....", "r..............."), ("X.......", "x.....x...x....."), STABS + PADS + PIANO, SYNTH_LEAD + VOICES + PADS, low=SYNTH_BASS,
        broken=("0123", "0213"), electronic=0.9, bare=0.0, swing=(0.5, 0.5)),
    "half_time": Style(
        (66, 92), ({"kick": "x......x..x.....", "snare": "........x.......", "hat": "xxxxxxxxxxxxxxxx"}, {"kick": "x.....x.....x...", "clap": "........x.......", "hat": "x.x.x.xxx.x.xxxx"}),
        ("r.......r.....5.", "r..............."), ("X.......", "x..x..x."), PADS + BELLS + PIANO, VOICES + SYNTH_LEAD + BELLS, low=(33, 38, 39), electronic=0.8, swing=(0.5, 0.5)),
    "synthwave": Style(
        (80, 118), ({"kick": "x...x...", "snare": "..x...x.", "hat": "xxxxxxxx"}, {"kick": "x.x.x.x.", "snare": "..x...x.", "tom": ".......x"}),
        ("rrrrrrrrrrrrrrrr", "r.rrr.rrr.rrr.rr", "rrrrrrrr"), ("X.......", "X...X..."), PADS + STRINGS + STABS, SYNTH_LEAD, low=SYNTH_BASS,
        broken=("0123210121", "0231023102310231"), electronic=1.0, bare=0.0),
    "chip": Style(
        (100, 165), ({"kick": "x...x...", "snare": "..x...x.", "hat": "xxxxxxxx"}, {"kick": "x..x..x.", "snare": "..x...x.", "hat": "x.xxx.xxx.xxx.xx"}),
        ("r8r8r8r8", "r.r8r.r8", "r.5.8.5."), ("X.......", "x.x.x.x.", "x..x..x."), SYNTH_LEAD, SYNTH_LEAD, low=SYNTH_BASS, broken=("0123012301230123", "0120120120120120", "02130213"),
        electronic=1.0, bare=0.1),
    "punk": Style(
        (84, 110), ({"kick": "x.x.x.x.x.x.x.x.", "snare": "..x...x...x...x.", "hat": "x.x.x.x.x.x.x.x."}, {"kick": "x...x.x.x...x.x.", "snare": "..x...x...x...x.", "crash": "x...x...x...x..."}),
        ("rrrrrrrrrrrrrrrr", "r.r.r.r.r.r.r.r."), ("xxxxxxxxxxxxxxxx", "x.xxx.xxx.xxx.xx", "X......."), DIRTY, DIRTY + VOICES, crunch=1.0, bare=0.0),
    "hard_rock": Style(
        (88, 148), ({"kick": "x..x....", "snare": "..x...x.", "crash": "x.x.x.x."}, {"kick": "x..xxx..", "snare": "..x...x.", "open": "x.x.x.x."}, {"kick": "x...x..xx..xx...", "snare": "..x...x...x...x.", "hat": "x.x.x.x.x.x.x.x."}),
        ("rrrrrrrr", "r..rr...", "r.rrr.rr"), ("x..xx...", "X.......", "x.oxooxo", "xooxooxo", "x.....xx"), DIRTY, DIRTY + VOICES + (18,), crunch=1.0, bare=0.02),
    "metal": Style(
        (88, 140), ({"kick": "x.xxx.xxx.xxx.xx", "snare": "....x.......x...", "crash": "x.x.x.x."}, {"kick": "xxxxxxxxxxxxxxxx", "snare": "....x.......x...", "ride": "x.x.x.x."}),
        ("r.rrr.rrr.rrr.rr", "rrrrrrrrrrrrrrrr"), ("x.xxx.xxx.xxx.xx", "xooxooxooxooxoxo", "X......."), DIRTY, DIRTY, crunch=1.0, bare=0.0),
    "shuffle_rock": Style(
        (88, 140), ({"kick": "x...x..o", "snare": "..x...x.", "hat": "xoxoxoxo"}, {"kick": "x.x.x.x.", "snare": "..x...x.", "crash": "x.x.x.x."}),
        ("rrrrrrrr", "rr55rr55", "r.3.5.6."), ("xxxxxxxx", "x..xx..x", "X..x...."), DIRTY + CLEAN + PIANO, DIRTY + VOICES + REEDS, swing=(0.6, 0.67), crunch=0.6, bare=0.0),
    "brass_band": Style(
        (84, 132), ({"bassdrum": "x...x...", "snare": "..x...x."}, {"bassdrum": "x...x...", "snare": "xoxoxxxx", "crash": "x...x..."}, {"bassdrum": "x..x..x.", "snare": "xxoxxoxo"}),
        ("r...5...", "r.5.r.5.", "r.3.5.a."), ("..x...x.", ".x.x.x.x", "X...X..."), BRASS, BRASS, low=(58, 57), bare=0.3),
    "cumbia": Style(
        (84, 112), ({"shaker": "x.xxx.xx", "conga": "..xx..xx", "kick": "x...x..."}, {"cabasa": "xoxxxoxx", "bell": "x.x.x.x.", "tumba": "x..xx..x"}),
        ("r...5.8.", "r..5r..5", "r...r.5."), (".x.x.x.x", "..x...x."), ACCORDION + PIANO, ACCORDION + BRASS + PIPES),
    "bachata": Style(
        (112, 140), ({"bongo": "xoxoxoxo", "cabasa": "xxoxxxox", "kick": "x......."}, {"bongo": "x.oxx.ox", "cabasa": "xoxoxoxo", "tumba": "......x."}),
        ("r..rr.5.", "r...r.5."), ("..x...x.", "x..x..x."), GUITAR, GUITAR + VOICES, broken=("01232101", "03210321"), bare=0.0),
    "merengue": Style(
        (120, 160), ({"tamb": "x.xxx.xx", "kick": "x.x.x.x.", "conga": "..x...xx"}, {"cabasa": "xooxxoox", "tumba": "x...x.xx"}), ("r...5...", "r.r.5.5."), (".x.x.x.x", "x.xx.xx."),
        PIANO + ACCORDION, BRASS + REEDS + ACCORDION),
    "soca": Style(
        (108, 140), ({"kick": "x.x.x.x.", "snare": "...x..x....x..x."}, {"kick": "x.x.x.x.", "bell": "x..x..x.x..x..x.", "snare": "......x.......x."}), ("r..r..5.", ".r.r.5.5"), (".x.x.x.x", "x..x..x."),
        STABS + PIANO, BRASS + VOICES, electronic=0.5),
    "chaal": Style(
        (84, 110), ({"tumba": "x...x...", "conga": ".oxo.oxo", "clap": "..x...x."}, {"kick": "x..xx..x", "lowbongo": "x...x..x", "bongo": ".xox.xox"}), ("r...r...", "r..r5..."), ("X.......", "..x...x."),
        PADS + (104, 21), (104, 21, 71) + VOICES, swing=(0.58, 0.67), electronic=0.4),
    "soul_68": Style(
        (52, 76), ({"kick": "x....xx.....", "snare": "...x.....x..", "hat": "xxxxxxxxxxxx"}, {"kick": "x.....x..x..", "rim": "...x.....x..", "ride": "x.xx.xx.xx.x"}), ("r....5r...a.", "r..3..5..a..", "r..........."),
        ("xxxxxxxxxxxx", "X.....X.....", "...x.....x.."), PIANO + ORGAN + CLEAN, VOICES + REEDS + BRASS, broken=("012321012321",)),
    "musette": Style(
        (110, 175), ({"kick": "x.....", "snare": "..o.o."}, {"bassdrum": "x.....", "hat": "..x.x."}), ("r.....", "r.5.5."), ("..x.x.", "..x.x.", "..xox."), ACCORDION + (24,), ACCORDION, metre=3, bare=0.35),
    "folk_waltz": Style(
        (90, 150), ({"tamb": "..x.x.", "kick": "x....."}, {"lowbongo": "x.....", "bongo": "..o.o."}), ("r.....", "r...5."), ("x.oxox", "x.xoxo", "X....."), GUITAR + (105, 21), VOICES + FOLK + PIPES,
        broken=("012321", "0123"), metre=3, bare=0.5, alone=0.3),
    "rock_waltz": Style(
        (84, 160), ({"kick": "x.....", "snare": "..x.x.", "crash": "x....."}, {"kick": "x..x..", "snare": "....x.", "hat": "xxxxxx"}, {"kick": "x....x", "snare": "....x.", "ride": "xxxxxx"}),
        ("rrrrrr", "r.r.r."), ("xxxxxx", "X.....", "x.oxxo"), DIRTY + CLEAN, DIRTY + VOICES, metre=3, crunch=0.7, bare=0.0),
    "electro_waltz": Style(
        (90, 150), ({"kick": "x.....", "clap": "..x.x.", "hat": "xoxoxo"}, {"kick": "x.x.x.", "snare": "....x.", "open": ".x.x.x"}), ("r.r.r.", ".r.r.r", "r....."), ("X.....", "..x.x.", "x.xx.x"), PADS + STABS + BELLS,
        SYNTH_LEAD, low=SYNTH_BASS, broken=("012", "0123", "012321"), metre=3, electronic=1.0, bare=0.0),
    "singer_guitar": Style(
        (66, 132), ({"kick": "x...x...", "tamb": "..x...x."},), ("r...5...", "r......."), ("x.oxxoxo", "X..x..xo", "x.x.xoxo", "xoxoxoxo"), GUITAR, VOICES + GUITAR, broken=("02132132", "01231213", "0213"), bare=0.85, alone=0.8),
    "piano_alone": Style(
        (60, 140), ({"kick": "x......."},), ("r...5...", "r.......", "r.5.8.5."), ("..x...x.", "X.......", ".x.x.x.x"), (0, 1, 2, 3), (0, 1, 2), broken=("0123", "02132123", "01210121"), bare=0.95, alone=0.7),
    "chamber": Style(
        (66, 132), ({"bassdrum": "x......."},), ("r.......", "r...5...", "r.3.5.3.", "r.r.r.r."), ("X.......", ".x.x.x.x", "xxxxxxxx", "x.x.x.x."), STRINGS + PIPES + REEDS, STRINGS + PIPES + REEDS + BRASS, low=(42, 43, 70, 58),
        broken=("0123", "02120212"), bare=0.8),
    "chamber_three": Style(
        (72, 150), ({"bassdrum": "x....."},), ("r.....", "r.3.5.", "r...5."), ("..x.x.", "X.....", "x.x.x."), STRINGS + PIPES + (0, 46), STRINGS + PIPES + REEDS, low=(42, 43, 70), broken=("012321", "012"), metre=3, bare=0.8),
    "circle_drums": Style(
        (76, 140), ({"conga": "x.oxx.oxx.oxx.ox", "tumba": "x...x...x...x..."}, {"bongo": "x.xx.xx.", "lowbongo": "x...x..x", "clap": "..x...x."}, {"tumba": "x..x..x.", "conga": "..xx..xx", "bell": "x.xx.xx.xx.x.xx."}, {"tom": "x..xx.x.", "clap": "x.x.x.x."}),
        ("r.......",), ("X.......",), (12,), (12, 75), alone=0.8, bare=0.0),
}  # fmt: skip

HELD_OUT = ("rumba", "slow_rock", "reel", "synthpop", "country_waltz")
"""Styles that no training song has; they are for testing alone."""
