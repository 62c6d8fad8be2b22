"""What the studio takes: start, first page, pages with many people at once over a large repertoire, reading, memory.

python benchmarks/studio.py            all of it, with 10,000 dances and 50 people
python benchmarks/studio.py --dances 100 --people 5
"""

from __future__ import annotations

import argparse
import http.client
import os
import re
import resource
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from importlib.resources import files
from pathlib import Path
from random import Random
from urllib.parse import quote

ROUNDS, PAUSE_S = 20, 1.0
PAGES = ("/", "/dance/{dance}/write", "/dance/{dance}/listen", "/keys")
ROW = re.compile(r"VmRSS:\s+(\d+)")


def percentile(times: list[float], share: float) -> float:
    """The time that this share of them stays under."""
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


class Studio:
    """The program, started on a folder."""

    def __init__(self, home: Path) -> None:
        begun = time.perf_counter()
        run = [sys.executable, "-m", "softshoe", "studio", "--no-browser", "--home", str(home), "--port", "0"]
        self.program = subprocess.Popen(
            run, stdout=subprocess.PIPE, text=True, env={**os.environ, "SOFTSHOE_HOME": str(home)}
        )
        assert self.program.stdout is not None
        link = re.search(r":(\d+)(/\S+)", self.program.stdout.readline())
        assert link is not None
        self.port = int(link[1])
        answer = self.ask("GET", link[2])
        self.cookie = (answer[1].get("set-cookie") or "").partition(";")[0]
        self.first = self.ask("GET", "/")[2]
        self.start_s = time.perf_counter() - begun

    def ask(self, method: str, path: str, body: bytes | None = None) -> tuple[int, dict[str, str], bytes]:
        """Ask an address on a connection of its own."""
        wire = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        wire.request(method, path, body, {"cookie": getattr(self, "cookie", ""), "accept": "*/*"})
        answer = wire.getresponse()
        content = answer.read()
        wire.close()
        return answer.status, {name.lower(): value for name, value in answer.getheaders()}, content

    def memory_mb(self) -> float:
        """The memory it has now."""
        found = ROW.search(Path(f"/proc/{self.program.pid}/status").read_text())
        return int(found[1]) / 1000 if found else 0.0

    def cpu_s(self) -> float:
        """The time of processors that it took so far."""
        parts = Path(f"/proc/{self.program.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(parts[11]) + int(parts[12])) / os.sysconf("SC_CLK_TCK")


def crowd(studio: Studio, dance: str, people: int, *, pause_s: float = 0.0) -> list[float]:
    """Many people ask for pages, each with a pause between that lasts about ``pause_s``; every answer's time [ms]."""
    times: list[float] = []

    def one(seed: int) -> None:
        dice = Random(seed)
        for _ in range(ROUNDS):
            time.sleep(dice.expovariate(1 / pause_s) if pause_s else 0.0)
            path = dice.choice(PAGES).replace("{dance}", dance)
            begun = time.perf_counter()
            status, _, _ = studio.ask("GET", path)
            times.append((time.perf_counter() - begun) * 1000)
            assert status == 200, path

    threads = [threading.Thread(target=one, args=(n,)) for n in range(people)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times


def searching(studio: Studio) -> list[float]:
    """What Keep finds while words are typed; every answer's time [ms]."""
    times = []
    for words in ("", "lant", "vine", "seated", "no turns", "under 110", "two walls", "step touch", "kettel") * 4:
        begun = time.perf_counter()
        assert studio.ask("GET", f"/keep/found?q={quote(words)}")[0] == 200
        times.append((time.perf_counter() - begun) * 1000)
    return times


def reading(studio: Studio, dance: str) -> list[float]:
    """The demo sheet with another letter each time, read by the page; every answer's time [ms]."""
    import json

    sheet = (files("softshoe") / "data" / "demo" / "sheet.txt").read_text("utf-8")
    times = []
    for k in range(40):
        body = json.dumps({"words": sheet + "x" * k}).encode()
        begun = time.perf_counter()
        assert studio.ask("POST", f"/dance/{dance}/write/read", body)[0] == 200
        times.append((time.perf_counter() - begun) * 1000)
    return times[5:]


def main() -> None:
    """Measure all of it and print it."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--dances", type=int, default=10_000)
    asked.add_argument("--people", type=int, default=50)
    said = asked.parse_args()
    sys.path.insert(0, str(Path(__file__).parent))
    from repertoire import filled  # the other benchmark, beside this one
    from softshoe.repertoire.store import Repertoire

    with tempfile.TemporaryDirectory() as room:
        home = Path(room)
        repertoire = Repertoire.at(home)
        filled(repertoire, 0, said.dances, Random(3))
        with repertoire.reading() as base:
            dance = base.value("select uid from dance order by n limit 1")
        studio = Studio(home)
        print(f"start to first page {studio.start_s:.2f} s, {studio.cpu_s():.2f} s of CPU")
        studio.ask("GET", f"/dance/{dance}/write")
        begun_s = studio.cpu_s()
        times = crowd(studio, dance, said.people)
        spent_ms = (studio.cpu_s() - begun_s) / len(times) * 1000
        print(f"{said.people} people at once, {said.dances:,} dances: median {statistics.median(times):.0f} ms, "
              f"p99 {percentile(times, 0.99):.0f} ms, {spent_ms:.1f} ms of CPU a page")  # fmt: skip
        calm = crowd(studio, dance, said.people, pause_s=PAUSE_S)
        print(f"{said.people} people, a page every {PAUSE_S:g} s each: median {statistics.median(calm):.1f} ms, "
              f"p99 {percentile(calm, 0.99):.1f} ms")  # fmt: skip
        typed = searching(studio)
        print(f"search: median {statistics.median(typed):.1f} ms, p99 {percentile(typed, 0.99):.1f} ms")
        alone = crowd(studio, dance, 1)
        print(f"one person: median {statistics.median(alone):.1f} ms, p99 {percentile(alone, 0.99):.1f} ms")
        before = studio.cpu_s()
        read = reading(studio, dance)
        print(f"reading: median {statistics.median(read):.0f} ms, p99 {percentile(read, 0.99):.0f} ms, "
              f"{(studio.cpu_s() - before) / 40 * 1000:.0f} ms of CPU")  # fmt: skip
        before = studio.cpu_s()
        time.sleep(10)
        print(f"idle: {(studio.cpu_s() - before) * 100:.0f} ms of CPU in 10 s · memory {studio.memory_mb():.0f} MB")
        studio.program.terminate()
        studio.program.wait()
        print(f"load of this machine {os.getloadavg()[0]:.1f}, its cores {os.cpu_count()}, "
              f"peak of this program {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1000} MB")  # fmt: skip


if __name__ == "__main__":
    main()
