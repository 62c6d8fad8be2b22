"""Finding on a server: PostgreSQL for real, every dance some leader's, each seeing her own and what is shared.

python benchmarks/repertoire_server.py [--dances 10000] [--leaders 20]

Needs Debian's PostgreSQL, which runs with its ordinary settings. Every leader has as many dances and shares a third of
them, so that she sees about a third of everything; in the end everything is shared.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
import time
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from jobs import postgresql
from repertoire import QUERIES, _sheet, made_up, percentile
from softshoe.base import open_postgresql
from softshoe.repertoire.accounts import Account
from softshoe.repertoire.dances import keep
from softshoe.repertoire.find import find
from softshoe.repertoire.store import Repertoire

if TYPE_CHECKING:
    from softshoe.repertoire.dances import Sheet

SHARED = 1 / 3
ROUNDS = 10


def filled(kept: Repertoire, dances: int, leaders: int) -> float:
    """Keep dances, each for one of the leaders, a third of them shared; return milliseconds for each."""
    known: dict[str, Sheet] = {}
    dice, spent = Random(11), 0.0
    every = [(one, dice.random() < SHARED) for one in made_up(dances, dice)]
    for who in range(leaders):
        hers = every[who::leaders]
        sheets = [(_sheet(known, words, dance), shared) for (words, dance), shared in hers]
        start = time.perf_counter()
        with replace(kept, viewer=f"leader-{who}").writing() as base:
            for sheet, shared in sheets:
                put = keep(base, sheet, uid="new")
                if shared:
                    base.run("update dance set shared = 1 where uid = :uid", uid=put.dance)
        spent += time.perf_counter() - start
    return spent / dances * 1000


def server_ms(postmaster: int) -> float:
    """Return the milliseconds of CPU that PostgreSQL has taken for those that asked, those that went included."""
    ticks = 0
    for path in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            words = path.read_text().rpartition(")")[2].split()
            if path.parent.name == str(postmaster):
                ticks += int(words[13]) + int(words[14])
            elif int(words[1]) == postmaster:
                ticks += int(words[11]) + int(words[12])
    return ticks * 1000 / os.sysconf("SC_CLK_TCK")


def told(who: str, kept: Repertoire, postmaster: int) -> None:
    """Tell how long finding takes, one question after another as a page asks: on the wall, and of CPU on both sides."""
    wall: list[float] = []
    cpu: dict[str, float] = {}
    for query in QUERIES:
        find(kept, query, most=20)
        before = server_ms(postmaster) + time.process_time() * 1000
        for _ in range(ROUNDS):
            start = time.perf_counter()
            find(kept, query, most=20)
            wall.append((time.perf_counter() - start) * 1000)
        cpu[query] = (server_ms(postmaster) + time.process_time() * 1000 - before) / ROUNDS
    slowest = "; ".join(f"“{query}” {cpu[query]:.0f}" for query in sorted(cpu, key=lambda one: cpu[one])[-4:])
    print(f"{who} sees {find(kept, '').total}: CPU {statistics.median(cpu.values()):.1f} ms median, "
          f"{max(cpu.values()):.1f} ms the slowest query; wall {statistics.median(wall):.1f} ms median, "
          f"{percentile(wall, 0.99):.1f} ms p99; load {os.getloadavg()[0]:.1f}; slowest: {slowest}",
          flush=True)  # fmt: skip


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--dances", type=int, default=10_000)
    parser.add_argument("--leaders", type=int, default=20)
    said = parser.parse_args()
    with postgresql() as server, tempfile.TemporaryDirectory() as room:
        base = open_postgresql(f"{server}postgres")
        base.run("create role association login")
        base.run("create database dances owner association")
        base.close()
        kept = Repertoire.at(Path(room), url=server.replace("user=softshoe", "user=association") + "dances")
        print(f"kept in {filled(kept, said.dances, said.leaders):.1f} ms each", flush=True)
        with kept.reading() as base:
            base.run("analyze")
            size = base.value("select pg_database_size(current_database()) as size")
        print(f"{size / 1e6:.0f} MB", flush=True)
        place = server.split()[0].removeprefix("host=")
        postmaster = int((Path(place) / "data" / "postmaster.pid").read_text().split()[0])
        told("whoever runs the server", kept, postmaster)
        told("a leader", kept.seen_by(Account("leader-0", "", "leader", "")), postmaster)
        with kept.writing() as base:
            base.run("update dance set shared = 1")
            base.run("update word set whose = '' where whose = 'leader-0'")
        told("a leader, everything shared,", kept.seen_by(Account("leader-0", "", "leader", "")), postmaster)


if __name__ == "__main__":
    main()
