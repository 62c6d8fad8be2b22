"""A PostgreSQL of its own for the tests, started for real from Debian's package; none where that is not installed."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

QUICK = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off -c listen_addresses='' -c shared_buffers=16MB"


def programs() -> Path | None:
    """The folder of the newest PostgreSQL's programs."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    return found[-1].parent if found else None


def as_its_user(*words: object) -> list[str]:
    """PostgreSQL refuses to run as root: there the user that its package made runs it."""
    return [*(["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []), *map(str, words)]


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    """The address of a running PostgreSQL; every test that asks makes a database of its own in it."""
    folder = programs()
    if folder is None:
        pytest.skip("PostgreSQL is not installed: on Debian, apt install postgresql")
    room = Path(tempfile.mkdtemp(prefix="pg-"))  # a short name: its socket's may have 107 letters
    room.chmod(0o777)
    data, log = room / "data", room / "log"
    quiet = {"check": True, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    subprocess.run(as_its_user(folder / "initdb", "-D", data, "-U", "softshoe", "-A", "trust", "-N", "-E", "UTF8",
                               "--locale=C.UTF-8"), cwd=room, **quiet)  # fmt: skip
    subprocess.run(as_its_user(folder / "pg_ctl", "-D", data, "-l", log, "-w", "-o", f"-k {room} {QUICK}", "start"),
                   cwd=room, **quiet)  # fmt: skip
    try:
        yield f"host={room} user=softshoe dbname=postgres"
    finally:
        subprocess.run(as_its_user(folder / "pg_ctl", "-D", data, "-m", "immediate", "stop"), cwd=room, **quiet)
        shutil.rmtree(room, ignore_errors=True)


@pytest.fixture
def database(postgresql: str, request: pytest.FixtureRequest) -> str:
    """The address of an empty database of this test."""
    import psycopg

    name = f"t{abs(hash(request.node.name)) % 10**12}"
    with psycopg.connect(postgresql, autocommit=True) as base:
        base.execute(f"create database {name}")
    return postgresql.replace("dbname=postgres", f"dbname={name}")


@pytest.fixture
def shared_database(postgresql: str, database: str) -> str:
    """The same database for a user who is no superuser and can't see past its rules, as an association's should be."""
    import psycopg

    name = re.findall(r"dbname=(\w+)", database)[0]
    with psycopg.connect(postgresql, autocommit=True) as base:
        if base.execute("select 1 from pg_roles where rolname = 'association'").fetchone() is None:
            base.execute("create role association login")
        base.execute(f"alter database {name} owner to association")
    return database.replace("user=softshoe", "user=association")
