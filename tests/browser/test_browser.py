"""The studio in a real browser: every scene of ``scenes``, played in order, all in one browser.

What they need: Chromium (Debian's package, or the one that CHROMIUM names), Node, and the three packages of
``package.json`` (``npm ci --prefix tests/browser``). PICTURES names a folder for pictures of every screen; ONLY plays
the scenes whose names hold these words. RECORDING names a recording on which the whole job is played too.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from studio.songs import song_wav

HERE = Path(__file__).parent
SCENE = re.compile(r'^(?:if \(recording\) )?scene\("(.+?)", ', re.M)
FILES = [
    file
    for file in sorted((HERE / "scenes").glob("*.mjs"))
    if "recording" not in file.stem or "RECORDING" in os.environ
]
NAMES = [name for file in FILES for name in SCENE.findall(file.read_text("utf-8"))]
LONGEST_S = 600


def missing() -> str:
    """What is missing to play the scenes, in words; "" for nothing."""
    chromium = os.environ.get("CHROMIUM") or "/usr/bin/chromium"
    if not shutil.which("node"):
        return "there is no Node here: apt install nodejs npm"
    if not Path(chromium).exists():
        return f"there is no browser at {chromium}: apt install chromium"
    if not (HERE / "node_modules" / "playwright-core").is_dir():
        return "the browser's hand is missing: npm ci --prefix tests/browser"
    return ""


def played(folder: Path) -> dict[str, Any]:
    """Play the scenes; every scene that was played with what became of it."""
    (folder / "Copper Lane.wav").write_bytes(song_wav(seconds=36.0))
    source = str(HERE.parents[1] / "src")
    told = subprocess.run(
        ["node", "play.mjs", str(folder), sys.executable, os.environ.get("PICTURES", "")],
        cwd=HERE, capture_output=True, text=True, timeout=LONGEST_S, env={**os.environ, "PYTHONPATH": source},
    )  # fmt: skip
    rows = [json.loads(line) for line in told.stdout.splitlines() if line.startswith("{")]
    return {row["name"]: row for row in rows} | {"": {"held": False, "wrong": told.stderr[-2000:]}}


def test_there_are_scenes_and_no_two_have_one_name() -> None:
    assert len(NAMES) > 10
    assert len(set(NAMES)) == len(NAMES)


def test_every_scene_of_the_studio_holds(tmp_path: Path, subtests: pytest.Subtests) -> None:
    if why := missing():
        pytest.skip(why)
    seen = played(tmp_path)
    for name in NAMES:
        if os.environ.get("ONLY", "") in name:
            with subtests.test(name):
                row = seen.get(name, seen[""])
                assert row["held"], row["wrong"]
