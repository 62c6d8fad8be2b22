"""The leader's own voice, kept on this computer: one file with her words, used wherever something is said."""

from __future__ import annotations

from typing import TYPE_CHECKING
from zipfile import BadZipFile

import numpy as np

from softshoe.errors import UnreadableError
from softshoe.files import folder_for, whole
from softshoe.home import data_home
from softshoe.render.voice import Spoken, standard_voice
from softshoe.render.voice_recorded import RecordedVoice

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from softshoe.render.voice import Voice
    from softshoe.render.voice_recorded import WordFound

FULL = 32767


def own_voice_file() -> Path:
    """Return where her words are kept, whether or not there are any."""
    return data_home() / "voice" / "own-words.npz"


def keep_own_voice(words: Sequence[WordFound]) -> Path:
    """Keep the words, in place of those kept before. Raises OutputError when the folder can't be written."""
    path = own_voice_file()
    folder_for(path.parent)
    kept: dict[str, np.ndarray] = {
        f"sound {one.word}": np.rint(one.spoken.samples * FULL).astype(np.int16) for one in words
    }
    kept |= {f"vowel {one.word}": np.asarray(one.spoken.vowel_s) for one in words}
    with whole(path) as part, part.open("wb") as file:
        np.savez_compressed(file, allow_pickle=False, **kept)
    return path


def forget_own_voice() -> bool:
    """Take the kept words away; return whether there were any."""
    path = own_voice_file()
    there = path.is_file()
    path.unlink(missing_ok=True)
    return there


def own_words() -> dict[str, Spoken]:
    """Return the words kept, {} for none. Raises UnreadableError for a damaged file."""
    path = own_voice_file()
    if not path.is_file():
        return {}
    try:
        with np.load(path, allow_pickle=False) as kept:
            names = [name.removeprefix("sound ") for name in kept.files if name.startswith("sound ")]
            return {
                name: Spoken(kept[f"sound {name}"].astype(np.float32) / np.float32(FULL), float(kept[f"vowel {name}"]))
                for name in names
            }
    except (OSError, ValueError, KeyError, EOFError, BadZipFile) as wrong:
        raise UnreadableError(str(path), "your recorded words can't be read", str(wrong),
                              "record them again with “softshoe voice import”, or take them away with "
                              "“softshoe voice forget”") from wrong  # fmt: skip


def the_voice() -> Voice:
    """Return the voice to speak with: her own where she recorded one, the workbench's for all other words."""
    words = own_words()
    return RecordedVoice(words, standard_voice()) if words else standard_voice()
