"""The server of docs/server.md, walked through for real: install, invite, upload, two workers, a kill, copy, restore.

python benchmarks/server_walk.py [--installed PROGRAM]

Needs Debian's PostgreSQL. PROGRAM is an installed ``softshoe``; else this checkout's. The units are those of the page,
and are looked at by ``systemd-analyze verify`` where PROGRAM is where they say; the web server is nginx with the page's
own lines, and every page is asked for through it, encrypted. What of these two is not there is told and left out.
Everything lies in a folder that is removed at the end. Where SOFTSHOE_FILES and the settings of a store are set, files
are kept in that store.
"""

from __future__ import annotations

import argparse
import http.cookiejar
import json
import os
import re
import shutil
import signal
import ssl
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

PAGE = ROOT / "docs" / "server.md"
NAME = "dances.example"
PORT, TLS_PORT = 5978, 5979
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
        self.environment = {**os.environ, "SOFTSHOE_HOME": str(home),
                            "SOFTSHOE_DATABASE": f"host={room} dbname=softshoe user=softshoe"}  # fmt: skip
        self.environment.pop("PYTHONPATH", None)
        if len(program) > 1:
            self.environment["PYTHONPATH"] = str(ROOT / "src")
        self.python = program[0] if len(program) > 1 else str(Path(program[0]).with_name("python"))
        self.running: list[subprocess.Popen[bytes]] = RUNNING

    def script(self, words: str) -> None:
        """Run a few lines of Python in the program's own surroundings."""
        subprocess.run([self.python, "-c", words], env=self.environment, check=True, cwd="/")

    def run(self, *words: str) -> str:
        """Run a command to its end and return what it prints."""
        done = subprocess.run([*self.program, *words], env=self.environment, check=True, capture_output=True,
                              text=True, cwd="/")  # fmt: skip
        return done.stdout.strip()

    def start(self, *words: str) -> subprocess.Popen[bytes]:
        """Start a program that stays."""
        self.running.append(subprocess.Popen([*self.program, *words], env=self.environment, cwd="/"))
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

    def __init__(self, address: str) -> None:
        self.address, self.cookies = address, http.cookiejar.CookieJar()
        unproved = ssl.create_default_context()
        unproved.check_hostname, unproved.verify_mode = False, ssl.CERT_NONE  # the walk's own certificate
        self.opener = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(self.cookies), urllib.request.HTTPSHandler(context=unproved)
        )
        self.sign = ""

    def ask(self, path: str, data: bytes | None = None, method: str = "") -> tuple[str, str]:
        """Return the address at which the answer came, and the answer."""
        asked = urllib.request.Request(f"{self.address}{path}", data, method=method or None)  # type: ignore[arg-type]
        asked.add_header("sec-fetch-site", "same-origin")
        if self.address.startswith("https"):
            asked.add_header("host", NAME)
        with self.opener.open(asked, timeout=120) as answer:
            words = answer.read().decode("utf-8", "replace")
            self.sign = next(iter(re.findall(r'name="sign" value="(\w+)"', words)), self.sign)
            return answer.url, words

    def form(self, path: str, **fields: str) -> tuple[str, str]:
        """Send a form."""
        return self.ask(path, urllib.parse.urlencode(fields | {"sign": self.sign}).encode())

    def refused(self, path: str) -> int:
        """Return the status with which an address is refused; ends the walk where it is not."""
        try:
            self.ask(path)
        except urllib.error.HTTPError as refused:
            return refused.code
        raise SystemExit(f"{path} should be refused")


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


def units(room: Path, program: str) -> None:
    """Have the page's units looked at by systemd."""
    blocks = re.findall(r"`/etc/systemd/system/([\w@.-]+)`.*?```ini\n(.*?)```", PAGE.read_text("utf-8"), re.S)
    assert len(blocks) == 2, "the page has two units"
    if shutil.which("systemd-analyze") is None or not all(f"ExecStart={program} " in words for _, words in blocks):
        told("the units are not looked at: there is no systemd-analyze, or the program is not where they say")
        return
    for name, words in blocks:
        path = room / name.replace("@", "@1")
        path.write_text(words)
        said = subprocess.run(["systemd-analyze", "verify", path], capture_output=True, text=True, check=False)
        assert said.returncode == 0, said.stderr
        assert str(path) not in said.stderr, said.stderr
    told("systemd finds nothing wrong with the two units")


@contextmanager
def web_server(room: Path) -> Iterator[str]:
    """Run nginx with the page's own lines and yield its address; the program's own where nginx is not there."""
    if shutil.which("nginx") is None:
        told("nginx is not there: the pages are asked for without a web server before them")
        yield f"http://127.0.0.1:{PORT}"
        return
    subprocess.run(["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", f"/CN={NAME}",
                    "-keyout", room / "dances.key", "-out", room / "dances.pem"], **QUIET)  # fmt: skip
    (block,) = re.findall(r"```nginx\n(.*?)```", PAGE.read_text("utf-8"), re.S)
    for theirs, ours in (("listen 443 ssl", f"listen 127.0.0.1:{TLS_PORT} ssl"), ("/etc/ssl", str(room)),
                         ("127.0.0.1:5078", f"127.0.0.1:{PORT}")):  # fmt: skip
        assert theirs in block, theirs
        block = block.replace(theirs, ours)
    path = room / "nginx.conf"
    path.write_text(f"user root;\npid {room}/nginx.pid;\nerror_log {room}/nginx.log;\nevents {{}}\nhttp {{\n"
                    f"access_log off;\nclient_body_temp_path {room}/body;\n{block}}}\n")  # fmt: skip
    subprocess.run(["nginx", "-t", "-c", path], **QUIET)
    running = subprocess.Popen(["nginx", "-c", path, "-g", "daemon off;"])
    try:
        yield f"https://127.0.0.1:{TLS_PORT}"
    finally:
        running.terminate()
        running.wait(30)


def walk(program: list[str], room: Path) -> None:
    """Walk through all of it."""
    home = room / "home"
    units(room, program[0])
    with postgresql(room / "pg") as database, web_server(room) as address:
        server = Server(program, home, database)
        told(f"installed: {server.run('--version')}")
        code = server.run("accounts", "invite", "owner")
        server.start("serve", "--port", str(PORT), "--name", NAME)
        await_pages()
        rosa, anna, bert, carl = (Browser(address) for _ in range(4))
        rosa.form("/join", code=code, name="Rosa", password=PASSWORD)
        for name, role, browser in (("Anna", "leader", anna), ("Bert", "leader", bert), ("Carl", "reader", carl)):
            rosa.ask("/group")
            code = re.findall(r"<kbd>(\S+)</kbd>", rosa.form("/group/invite", role=role)[1])[0]
            assert browser.form("/join", code=code, name=name, password=PASSWORD)[0] == f"{address}/"
        told(f"the pages answer at {address}; an owner joined by a code of the command, three more by codes of hers")
        told(server.run("accounts").replace("\n", "; "))
        dance = uploaded(server, anna, room)
        told("Anna wrote a dance and sent a recording: both are kept")
        assert "Tin Kettle" in server.run("find", "kettle")
        told(f"Bert asks for Anna's dance: {bert.refused(f'/dance/{dance}/write')}")
        shared(dance, anna, bert, carl)
        told("shared, two others see it; taken back, they are told that it is not there")
        jobs = worked(server)
        told(f"two workers, one of them killed: {', '.join(sorted(job['kind'] + ' ' + job['state'] for job in jobs))}")
        found = server.run("find", "--most", "100")
        server.stop()
        copied(room, database, home)
        told("copied; the machine is lost")
    shutil.rmtree(home)
    with postgresql(room / "pg2") as database, web_server(room) as address:
        restored(room, database, home)
        server = Server(program, home, database)
        assert server.run("find", "--most", "100") == found
        server.start("serve", "--port", str(PORT), "--name", NAME)
        await_pages()
        again = Browser(address)
        again.form("/enter", name="anna", password=PASSWORD)
        assert "Tin Kettle" in again.ask(f"/dance/{dance}/write")[1]
        if server.environment.get("SOFTSHOE_FILES"):
            shutil.rmtree(home / "files")
            assert len(again.ask(f"/dance/{dance}/listen/sound")[1]) > 100_000
            told("the folder of files was emptied: the recording is played from the store")
        told(f"restored: the same {len(found.splitlines())} lines found, Anna comes in and sees her dance")
        left(server, again)
        server.stop()


def shared(dance: str, anna: Browser, bert: Browser, carl: Browser) -> None:
    """Anna shares a dance and takes it back."""
    anna.ask("/group/dances")
    anna.form("/group/share", dance=dance, to="group")
    for other in (bert, carl):
        assert "Tin Kettle" in other.ask(f"/dance/{dance}/write")[1]
    anna.form("/group/share", dance=dance, to="me")
    assert {other.refused(f"/dance/{dance}/write") for other in (bert, carl)} == {404}


def left(server: Server, anna: Browser) -> None:
    """Anna takes another password and goes; then the server's command closes her account and gives her dances away."""
    anna.ask("/group/password")
    new = "five quiet ladders sing"
    assert "is changed" in anna.form("/group/password", old=PASSWORD, new=new, again=new)[1]
    assert anna.form("/leave")[0].endswith("/enter")
    anna.form("/enter", name="anna", password=new)
    told(server.run("accounts", "close", "Anna", "--dances", "give", "--to", "Bert"))
    assert anna.ask("/")[0].endswith("/enter")


def uploaded(server: Server, anna: Browser, room: Path) -> str:
    """Write a dance and send a song, as the pages do; return the dance's identity."""
    address, _ = anna.ask("/start/new", b"")
    dance = address.split("/dance/")[1].split("/")[0]
    stroke = json.dumps({"window": "walk", "made_from": 0, "words": SHEET}).encode()
    anna.ask(f"/dance/{dance}/write/stroke", stroke)
    anna.ask(f"/dance/{dance}/write/keep", b"{}")
    song = room / "song.flac"
    server.script("from pathlib import Path\nfrom softshoe.render.demo_song import write_demo_song\n"
                  f"write_demo_song(Path({str(song)!r}))")  # fmt: skip
    anna.ask(f"/dance/{dance}/listen/come?name=Walking.flac", song.read_bytes(), "PUT")
    return dance


def worked(server: Server) -> list[dict[str, Any]]:
    """Ask for long work, start two workers, kill one while it is at it, and wait for the end."""
    sheets = ROOT / "tests" / "sheets" / "own"
    server.script(
        "import os, sys\nfrom pathlib import Path\nfrom softshoe.jobs.door import open_door\n"
        "with open_door(Path(os.environ['SOFTSHOE_HOME']), database=os.environ['SOFTSHOE_DATABASE']) as door:\n"
        f"    sheets = sorted(map(str, Path({str(sheets)!r}).glob('*.txt')))\n"
        f"    door.ask('import', {{'folder': {str(sheets)!r}}})\n"
        "    door.ask('booklet', {'sheets': sheets[:4]})\n    door.ask('booklet', {'sheets': sheets[4:8]})\n"
    )
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
    subprocess.run(["tar", "--create", "--file", room / "softshoe-files.tar", "--directory", home, "--exclude",
                    "./jobs", "--exclude", "*.mp4", "--exclude", "*.mp3", "."], check=True)  # fmt: skip
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
    room = Path(tempfile.mkdtemp(prefix="walk-"))  # a short name: a socket's may have 107 letters
    room.chmod(0o755)
    try:
        walk(program, room)
    finally:
        for one in RUNNING:
            one.kill()
        shutil.rmtree(room, ignore_errors=True)


if __name__ == "__main__":
    main()
