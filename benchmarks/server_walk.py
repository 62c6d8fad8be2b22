"""The server of docs/server.md, walked through for real: install, invite, upload, two workers, a kill, copy, restore.

python benchmarks/server_walk.py [--installed PROGRAM]

Needs Debian's PostgreSQL. PROGRAM is an installed ``softshoe``; else this checkout's. Everything lies in a folder that
is removed at the end.
"""

from __future__ import annotations

import argparse
import http.cookiejar
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.parse
import urllib.request
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from postgresql_made import as_its_user, programs  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Iterator

PORT = 5978
PASSWORD = "kettle moss lantern four"
SHEET = """Tin Kettle, 8 counts, seated, 100 bpm
1-4 R heel forward, R home, L heel forward, L home
5-8 Clap, clap, clap, clap"""
QUIET: dict[str, Any] = {"check": True, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
RUNNING: list[subprocess.Popen[bytes]] = []
begun_s = time.monotonic()


def told(words: str) -> None:
    """Tell a step of the walk with its second."""
    print(f"{time.monotonic() - begun_s:6.1f} s  {words}", flush=True)


@contextmanager
def postgresql(room: Path) -> Iterator[Path]:
    """Run a PostgreSQL of our own and yield its folder."""
    folder = programs()
    if folder is None:
        raise SystemExit("PostgreSQL is not installed: on Debian, apt install postgresql")
    room.mkdir()
    room.chmod(0o777)
    subprocess.run(as_its_user(folder / "initdb", "-D", room / "data", "-A", "trust", "-E", "UTF8", "-U", "postgres"),
                   cwd=room, **QUIET)  # fmt: skip
    start = f"-k {room} -c listen_addresses=''"
    subprocess.run(as_its_user(folder / "pg_ctl", "-D", room / "data", "-l", room / "log", "-w", "-o", start, "start"),
                   cwd=room, **QUIET)  # fmt: skip
    try:
        sql(room, "postgres", "create role softshoe login", "create database softshoe owner softshoe")
        yield room
    finally:
        subprocess.run(as_its_user(folder / "pg_ctl", "-D", room / "data", "-m", "fast", "stop"), cwd=room, **QUIET)


def sql(room: Path, database: str, *lines: str) -> None:
    """Say something to the database as its superuser."""
    for line in lines:
        subprocess.run(["psql", "-h", room, "-U", "postgres", "-d", database, "-qc", line], **QUIET)


class Server:
    """A server's settings, its programs and a way to ask its pages."""

    def __init__(self, program: list[str], home: Path, room: Path) -> None:
        self.program = program
        self.environment = {**os.environ, "SOFTSHOE_HOME": str(home), "PYTHONPATH": str(ROOT / "src"),
                            "SOFTSHOE_DATABASE": f"host={room} dbname=softshoe user=softshoe"}  # fmt: skip
        self.running: list[subprocess.Popen[bytes]] = RUNNING

    def run(self, *words: str) -> str:
        """Run a command to its end and return what it prints."""
        done = subprocess.run([*self.program, *words], env=self.environment, check=True, capture_output=True, text=True)
        return done.stdout.strip()

    def start(self, *words: str) -> subprocess.Popen[bytes]:
        """Start a program that stays."""
        self.running.append(subprocess.Popen([*self.program, *words], env=self.environment))
        return self.running[-1]

    def stop(self) -> None:
        """Stop what still runs."""
        for one in self.running:
            one.terminate()
            one.wait(30)
        self.running.clear()

    def until_done(self) -> list[dict[str, Any]]:
        """Wait until every job is over and return them."""
        while True:
            jobs: list[dict[str, Any]] = json.loads(self.run("jobs", "--json"))
            if jobs and all(job["state"] in ("done", "failed", "stopped") for job in jobs):
                return jobs
            time.sleep(1)


class Browser:
    """Somebody's browser: it keeps its cookies and says which page asks."""

    def __init__(self) -> None:
        self.cookies = http.cookiejar.CookieJar()
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies))

    def ask(self, path: str, data: bytes | None = None, method: str = "") -> tuple[str, str]:
        """Return the address at which the answer came, and the answer."""
        asked = urllib.request.Request(f"http://127.0.0.1:{PORT}{path}", data, method=method or None)  # type: ignore[arg-type]
        asked.add_header("sec-fetch-site", "same-origin")
        with self.opener.open(asked, timeout=120) as answer:
            return answer.url, answer.read().decode()

    def form(self, path: str, **fields: str) -> tuple[str, str]:
        """Send a form."""
        return self.ask(path, urllib.parse.urlencode(fields).encode())


def await_pages() -> None:
    """Wait until the pages answer."""
    for _ in range(600):
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{PORT}/enter", timeout=5).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise SystemExit("the pages don't answer")


def walk(program: list[str], room: Path) -> None:
    """Walk through all of it."""
    home = room / "home"
    with postgresql(room / "pg") as database:
        server = Server(program, home, database)
        told(f"installed: {server.run('--version')}")
        codes = [server.run("accounts", "invite", role) for role in ("leader", "leader", "reader")]
        server.start("serve", "--port", str(PORT))
        await_pages()
        told("the pages answer; three invitations")
        anna, bert, rosa = Browser(), Browser(), Browser()
        for code, name, browser in zip(codes, ("Anna", "Bert", "Rosa"), (anna, bert, rosa), strict=True):
            address, _ = browser.form("/join", code=code, name=name, password=PASSWORD)
            assert address.endswith(f":{PORT}/"), address
        told(server.run("accounts").replace("\n", "; "))
        dance = uploaded(anna)
        told("Anna wrote a dance and sent a recording: both are kept")
        assert "Tin Kettle" in server.run("find", "kettle")
        try:
            bert.ask(f"/dance/{dance}/write")
            raise SystemExit("Bert sees a dance of Anna's")
        except urllib.error.HTTPError as refused:
            told(f"Bert asks for Anna's dance: {refused.code}")
        jobs = worked(server, room)
        told(f"two workers, one of them killed: {', '.join(sorted(job['kind'] + ' ' + job['state'] for job in jobs))}")
        found = server.run("find", "--most", "100")
        server.stop()
        copied(room, database, home)
        told("copied; the machine is lost")
    shutil.rmtree(home)
    with postgresql(room / "pg2") as database:
        restored(room, database, home)
        server = Server(program, home, database)
        assert server.run("find", "--most", "100") == found
        server.start("serve", "--port", str(PORT))
        await_pages()
        again = Browser()
        again.form("/enter", name="anna", password=PASSWORD)
        assert "Tin Kettle" in again.ask(f"/dance/{dance}/write")[1]
        server.stop()
        told(f"restored: the same {len(found.splitlines())} lines found, Anna comes in and sees her dance")


def uploaded(anna: Browser) -> str:
    """Write a dance and send a song, as the pages do; return the dance's identity."""
    address, _ = anna.ask("/start/new", b"")
    dance = address.split("/dance/")[1].split("/")[0]
    stroke = json.dumps({"window": "walk", "made_from": 0, "words": SHEET}).encode()
    anna.ask(f"/dance/{dance}/write/stroke", stroke)
    anna.ask(f"/dance/{dance}/write/keep", b"{}")
    from softshoe.render.demo_song import write_demo_song

    with tempfile.TemporaryDirectory() as folder:
        song = Path(folder) / "song.flac"
        write_demo_song(song)
        anna.ask(f"/dance/{dance}/listen/come?name=Walking.flac", song.read_bytes(), "PUT")
    return dance


def worked(server: Server, room: Path) -> list[dict[str, Any]]:
    """Ask for long work, start two workers, kill one while it is at it, and wait for the end."""
    asking = room / "ask.py"
    sheets = ROOT / "tests" / "sheets" / "own"
    asking.write_text(
        "import os, sys\nfrom pathlib import Path\nfrom softshoe.jobs.door import open_door\n"
        "with open_door(Path(os.environ['SOFTSHOE_HOME']), database=os.environ['SOFTSHOE_DATABASE']) as door:\n"
        f"    sheets = sorted(map(str, Path({str(sheets)!r}).glob('*.txt')))\n"
        f"    door.ask('import', {{'folder': {str(sheets)!r}}})\n"
        "    door.ask('booklet', {'sheets': sheets[:4]})\n    door.ask('booklet', {'sheets': sheets[4:8]})\n"
    )
    subprocess.run([sys.executable, asking], env=server.environment, check=True)
    first, _ = server.start("jobs", "work", "--lanes", "1"), server.start("jobs", "work", "--lanes", "1")
    while not [job for job in json.loads(server.run("jobs", "--json")) if job["state"] == "doing"]:
        time.sleep(0.2)
    first.send_signal(signal.SIGKILL)
    first.wait()
    server.running.remove(first)
    return server.until_done()


def copied(room: Path, database: Path, home: Path) -> None:
    """Copy as the docs say."""
    with (room / "softshoe.dump").open("wb") as dump:
        subprocess.run(["pg_dump", "-h", database, "-U", "postgres", "--format", "custom", "softshoe"], stdout=dump,
                       check=True)  # fmt: skip
    subprocess.run(["tar", "--create", "--file", room / "softshoe-files.tar", "--directory", home, "files", "studio"],
                   check=True)  # fmt: skip
    sums = subprocess.run(
        ["sha256sum", "softshoe.dump", "softshoe-files.tar"], cwd=room, check=True, capture_output=True
    )
    (room / "softshoe.sha256").write_bytes(sums.stdout)


def restored(room: Path, database: Path, home: Path) -> None:
    """Bring the copy back as the docs say."""
    home.mkdir()
    subprocess.run(["sha256sum", "--check", "--quiet", "softshoe.sha256"], cwd=room, check=True)
    subprocess.run(["pg_restore", "-h", database, "-U", "postgres", "--exit-on-error", "--dbname", "softshoe",
                    room / "softshoe.dump"], check=True)  # fmt: skip
    subprocess.run(["tar", "--extract", "--file", room / "softshoe-files.tar", "--directory", home], check=True)
    listed = subprocess.run(
        ["find", home / "files", "-type", "f", "-printf", "%f  %p\\n"], check=True, capture_output=True
    )
    subprocess.run(["sha256sum", "--check", "--quiet"], input=listed.stdout, check=True)


def main() -> None:
    """Walk."""
    parser = argparse.ArgumentParser(description="The server of docs/server.md, walked through for real.")
    parser.add_argument("--installed", help="the softshoe program to walk with")
    said = parser.parse_args()
    program = [said.installed] if said.installed else [sys.executable, "-m", "softshoe"]
    room = Path(tempfile.mkdtemp(prefix="walk-"))
    room.chmod(0o755)
    try:
        walk(program, room)
    finally:
        for one in RUNNING:
            one.kill()
        shutil.rmtree(room, ignore_errors=True)


if __name__ == "__main__":
    main()
