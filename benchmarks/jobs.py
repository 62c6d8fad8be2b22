"""Long work measured: kills at random moments, several workers on one PostgreSQL, what a job costs beside its steps.

python benchmarks/jobs.py kill [--times 100]
python benchmarks/jobs.py workers [--films 8] [--most 4]
python benchmarks/jobs.py cost

Films are short ones of a dance of 16 counts on a song of twelve seconds; songs are heard for real; sheets are the
project's own. “kill” ends the worker, or the process of the step that it is at, at a moment drawn over the time that
such a job takes, lets the job end, and then looks at every file and row of it. “workers” needs Debian's PostgreSQL.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "benchmarks")]

from softshoe.files import PART, write_whole  # noqa: E402
from softshoe.jobs.book import Book  # noqa: E402
from softshoe.jobs.door import open_door  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.jobs.door import Door

SHEET = """Tin Kettle, 16 counts, 1 wall, seated, 120 bpm
1-4 Step right to the right, touch left beside right, step left to the left, touch right beside left
5-8 Tap right heel forward, together, tap left heel forward, together
9-12 Clap, clap, hold, clap
13-16 March in place right, left, right, left
"""
KINDS = "kind,heading,steps,reads,queue\nfilm,A short film,jobs_films:film,sheet song,long\n"
BEAT_S, BEATS = 0.5, 24
LONGEST_S = 1800.0
LASTS_S = {"film": 30.0, "listen": 8.0, "import": 8.0}  # about, on two busy cores


def song_json() -> dict[str, Any]:
    """Return the map of a song of 24 beats, made and not heard."""
    from softshoe.music.document import song_json as told
    from softshoe.music.kept import heard_once
    from softshoe.music.listen import counted
    from softshoe.music.songmap import Said

    with tempfile.TemporaryDirectory() as room:
        path = Path(room) / "song.wav"
        played(path, BEATS, 1)
        return told(counted(heard_once(path, where="song.wav"), Said(tempo_bpm=120, first_count_s=0.0)))


def played(path: Path, beats: int, seed: int) -> None:
    """Play a plain beat at 120, a bell on every first of eight; the seed makes each song another file."""
    import wave

    import numpy as np

    rate = 22_050
    sound = np.zeros(int(rate * (beats * BEAT_S + 0.5)), dtype=np.float32)
    t = np.arange(int(0.1 * rate)) / rate
    for k in range(beats):
        at = int(k * BEAT_S * rate)
        sound[at : at + len(t)] += (
            np.sin(2 * np.pi * (60 if k % 2 else 90) * t) * np.exp(-30 * t) * (0.9 if k % 4 else 1)
        )
        if k % 8 == 0:
            sound[at : at + len(t)] += 0.4 * np.sin(2 * np.pi * (660 + seed) * t) * np.exp(-15 * t)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes((sound / 1.5 * 32_000).astype("<i2").tobytes())


def environment(**more: str) -> None:
    """Let the workers find what this file finds."""
    os.environ.update(PYTHONPATH=os.pathsep.join(filter(None, sys.path)), **more)


def kinds(home: Path) -> Path:
    """Write the table of the benchmark's own kinds."""
    path = home / "kinds.csv"
    path.write_text(KINDS, encoding="utf-8")
    return path


@dataclass(slots=True)
class Killing:
    """Jobs that are killed once or oftener, and looked at when they are over."""

    home: Path
    door: Door
    dice: Random
    kills: dict[str, int] = field(default_factory=dict)
    wrong: list[str] = field(default_factory=list)
    twice: int = 0

    def film(self, k: int) -> dict[str, Any]:
        sheet = self.home / f"sheet-{k}.txt"
        sheet.write_text(SHEET.replace("Kettle", f"Kettle {k}"), encoding="utf-8")
        return {"sheet": str(sheet), "song": str(self.home / "song.json")}

    def listen(self, k: int) -> dict[str, Any]:
        song = self.home / f"song-{k}.wav"
        played(song, 80, k)
        return {"song": str(song)}

    def taken_in(self, k: int) -> dict[str, Any]:
        folder = self.home / f"sheets-{k}"
        folder.mkdir()
        for one in range(40):
            text = SHEET.replace("Kettle", f"Basket {k} {one}").replace(
                "left beside", "left" if one % 2 else "left beside"
            )
            (folder / f"{one}.txt").write_text(text, encoding="utf-8")
        return {"folder": str(folder)}

    def one(self, kind: str, k: int, times: int) -> None:
        """Ask for a job, kill it so often, let it end and look."""
        asked = {"film": self.film, "listen": self.listen, "import": self.taken_in}[kind](k)
        job, begun_s = self.door.ask(kind, asked), time.monotonic()
        for _ in range(times):
            while (told := self.door.told(job)).state == "waiting":
                time.sleep(0.05)
            time.sleep(self.dice.uniform(0.0, LASTS_S[kind]))
            if (told := self.door.told(job)).over:
                break
            self.kill(kind)
            self.look(kind, job, whole=False)
        while not (told := self.door.told(job)).over:
            time.sleep(0.1)
            assert time.monotonic() - begun_s < LONGEST_S, told
        if told.fault and "by the computer" in told.fault:  # its step was killed twice: told, and done when asked again
            self.twice += 1
            self.door.again(job)
            while not (told := self.door.told(job)).over:
                time.sleep(0.1)
        if told.state != "done":
            self.wrong.append(f"{kind} {k}: {told}")
        self.look(kind, job, whole=True)
        if kind == "import":
            self.kept(k)

    def kill(self, kind: str) -> None:
        worker = [pid for pid in children(os.getpid()) if "softshoe.jobs.worker" in command(pid)]
        steps = [pid for one in worker for pid in children(one) if "spawn_main" in command(pid)]
        picked = steps if steps and self.dice.random() < 0.3 else worker
        for pid in picked[:1]:
            os.kill(pid, signal.SIGKILL)
            self.kills[kind] = self.kills.get(kind, 0) + 1

    def look(self, kind: str, job: str, *, whole: bool) -> None:
        """Look whether every file that shows is whole, all of them where the job is over, which it is once."""
        folder = self.home / "jobs" / job
        for path in folder.iterdir() if folder.is_dir() else ():
            if not path.name.startswith(".") and (told := unsound(path)):
                self.wrong.append(f"{kind} {job}: {path.name}: {told}")
        if whole:
            left = [path.name for path in folder.glob(f"{PART}*")]
            row = Book(self.home).row(job)
            if left or row["ends"] != row["attempt"] or not all(path.is_file() for path in self.door.told(job).made):
                self.wrong.append(f"{kind} {job}: ended {row['ends']} times, left over {left}")

    def kept(self, k: int) -> None:
        """Look whether every sheet is kept once, with its very words."""
        from softshoe.repertoire.store import Repertoire

        with Repertoire.at(self.home).reading() as base:
            for path in (self.home / f"sheets-{k}").iterdir():
                rows = base.rows("select words from dance_text where words = :words", words=path.read_text("utf-8"))
                if len(rows) != 1:
                    self.wrong.append(f"{path}: kept {len(rows)} times")


def unsound(path: Path) -> str:
    """Return what is wrong with a file that shows, "" where it is whole."""
    import av

    try:
        if path.suffix == ".json":
            json.loads(path.read_text("utf-8"))
        elif path.suffix == ".mp4":
            with av.open(str(path)) as film:
                frames = sum(1 for _ in film.decode(video=0))
            return "" if frames > 100 else f"{frames} frames"
        elif not path.stat().st_size:
            return "empty"
    except (OSError, ValueError) as wrong:
        return str(wrong)
    return ""


def children(pid: int) -> list[int]:
    """Return the processes that a process started (Linux)."""
    found: list[int] = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        found += map(int, task.read_text().split())
    return found


def command(pid: int) -> str:
    """Return a process's command line."""
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
    except OSError:
        return ""


def kill(times: int) -> None:
    """Kill jobs at random moments and tell what was lost."""
    environment()
    with tempfile.TemporaryDirectory() as room:
        home = Path(room)
        write_whole(home / "song.json", json.dumps(song_json()))
        with open_door(home, kinds=kinds(home)) as door:
            killing = Killing(home, door, Random(19))
            k = 0
            while sum(killing.kills.values()) < times:
                kind = ("film", "listen", "import")[k % 3]
                killing.one(kind, k, 1 if kind == "film" else 2)
                k += 1
                print(k, kind, killing.kills, killing.wrong, flush=True)
            jobs = door.all()
    done = sum(one.state == "done" for one in jobs)
    print(f"killed {killing.kills}; {len(jobs)} jobs asked, {done} done, {killing.twice} of them when asked again, for "
          f"their step was killed twice; wrong: {killing.wrong or 'nothing'}")  # fmt: skip


@contextmanager
def postgresql() -> Iterator[str]:
    """Yield the address of a PostgreSQL of our own, with its ordinary settings."""
    from postgresql_made import as_its_user, programs

    folder = programs()
    if folder is None:
        raise SystemExit("PostgreSQL is not installed: on Debian, apt install postgresql")
    room = Path(tempfile.mkdtemp(prefix="pg-"))
    room.chmod(0o777)
    start = f"-k {room} -c listen_addresses=''"
    quiet: dict[str, Any] = {"check": True, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": room}
    subprocess.run(as_its_user(folder / "initdb", "-D", room / "data", "-U", "softshoe", "-A", "trust", "-E", "UTF8",
                               "--locale=C.UTF-8"), **quiet)  # fmt: skip
    subprocess.run(as_its_user(folder / "pg_ctl", "-D", room / "data", "-l", room / "log", "-w", "-o", start, "start"),
                   **quiet)  # fmt: skip
    try:
        yield f"host={room} user=softshoe dbname="
    finally:
        subprocess.run(as_its_user(folder / "pg_ctl", "-D", room / "data", "-m", "fast", "stop"), **quiet)


def workers(films: int, most: int) -> None:
    """Make the same films with one worker, two, four …, and tell how many a minute."""
    import psycopg

    with postgresql() as server, tempfile.TemporaryDirectory() as room:
        song = Path(room) / "song.json"
        write_whole(song, json.dumps(song_json()))
        for many in [count for count in (1, 2, 4, 8) if count <= most]:
            with psycopg.connect(f"{server}postgres", autocommit=True) as base:
                base.execute(f"create database films{many}")
            home = Path(room) / str(many)
            home.mkdir()
            told = made(home, f"{server}films{many}", song, films, many)
            print(f"{many} workers: {told}", flush=True)


def made(home: Path, url: str, song: Path, films: int, many: int) -> str:
    """Make films with so many workers and return what that took."""
    environment(SOFTSHOE_DATABASE=url)
    table, before = kinds(home), resource.getrusage(resource.RUSAGE_CHILDREN)
    words = [sys.executable, "-m", "softshoe.jobs.worker", str(home), "--server", "--lanes", "1", "--kinds", str(table)]
    with open_door(home, database=url, kinds=table) as door:
        started = [subprocess.Popen(words, stdin=subprocess.PIPE) for _ in range(many)]
        time.sleep(20)  # until all are there
        load, begun_s = os.getloadavg()[0], time.monotonic()
        for k in range(films):
            sheet = home / f"{k}.txt"
            sheet.write_text(SHEET.replace("Kettle", f"Kettle {k}"), encoding="utf-8")
            door.ask("film", {"sheet": str(sheet), "song": str(song)})
        while not all(one.over for one in door.all()):
            time.sleep(0.2)
        spent_s = time.monotonic() - begun_s
        ends = [row["ends"] for row in Book(home, url).rows()]
        assert [one.state for one in door.all()] == ["done"] * films
    for one in started:
        assert one.stdin is not None
        one.stdin.close()
        one.wait()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return (f"{films} films in {spent_s:.0f} s, {60 * films / spent_s:.1f} a minute; {cpu_s:.0f} s of CPU in all, "
            f"{cpu_s / films:.1f} a film; each ended {'once' if set(ends) == {1} else sorted(set(ends))}; "
            f"load {load:.1f} before, "
            f"{os.getloadavg()[0]:.1f} at the end")  # fmt: skip


def cost() -> None:
    """Tell what a job costs beside its steps."""
    environment()
    with tempfile.TemporaryDirectory() as room:
        home = Path(room)
        song = home / "song.json"
        write_whole(song, json.dumps(song_json()))
        with open_door(home, kinds=kinds(home)) as door:
            sheets = []
            for k in range(30):
                sheets.append(home / f"{k}.txt")
                sheets[-1].write_text(SHEET.replace("Kettle", f"Kettle {k}"), encoding="utf-8")
            taken = []
            for sheet in sheets:
                begun_s = time.perf_counter()
                door.ask("listen", {"song": str(song), "said": {}, "words": sheet.name})
                taken.append(time.perf_counter() - begun_s)
            begun_s = time.monotonic()
            while not any(one.state != "waiting" for one in door.all()):
                time.sleep(0.02)
            first_s = time.monotonic() - begun_s
            done_before = sum(one.over for one in door.all())
            begun_s = time.monotonic()
            while not all(one.over for one in door.all()):
                time.sleep(0.05)
            each_s = (time.monotonic() - begun_s) / (30 - done_before)
    print(f"asked in {1000 * statistics.median(taken):.0f} ms; the first begins after {first_s:.1f} s (a worker "
          f"starts); then {each_s:.2f} s for a job of one step in a process of its own")  # fmt: skip


def main() -> None:
    """Run what is asked for."""
    parser = argparse.ArgumentParser(description="Long work measured.")
    parts = parser.add_subparsers(dest="what", required=True)
    parts.add_parser("kill").add_argument("--times", type=int, default=100)
    some = parts.add_parser("workers")
    some.add_argument("--films", type=int, default=8)
    some.add_argument("--most", type=int, default=4)
    parts.add_parser("cost")
    said = parser.parse_args()
    if said.what == "kill":
        kill(said.times)
    elif said.what == "workers":
        workers(said.films, said.most)
    else:
        cost()


if __name__ == "__main__":
    main()
