"""Files in a store that is reached as S3: kept there before they are called kept, brought back proved."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from softshoe.errors import OutputError, SettingError, UnreadableError
from softshoe.repertoire import bucket as stores
from softshoe.repertoire import originals

if TYPE_CHECKING:
    from collections.abc import Iterator

    from obstore.store import S3Store

ROOT = Path(__file__).parents[2]
OLD = b"an old sheet"


PROGRAMS = (Path(sys.executable).parent, ROOT / ".venv" / "store" / "bin")


@pytest.fixture(scope="module")
def store() -> Iterator[str]:
    """The address of a store that speaks S3, started for real."""
    program = shutil.which("moto_server") or shutil.which("moto_server", path=os.pathsep.join(map(str, PROGRAMS)))
    if program is None:
        pytest.skip("no store that speaks S3 is installed: scripts/setup dev brings one")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    running = subprocess.Popen([program, "-H", "127.0.0.1", "-p", str(port)], stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)  # fmt: skip
    try:
        for _ in range(600):
            with suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=1):
                break
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}"
    finally:
        running.terminate()
        running.wait()


@pytest.fixture
def bucket(store: str, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Iterator[S3Store]:
    """An empty bucket that the settings name."""
    obstore = pytest.importorskip("obstore.store", reason="obstore is not installed: scripts/setup dev brings it")
    name = f"dances-{abs(hash(request.node.name)) % 10**9}"
    for setting, value in {"AWS_ENDPOINT_URL": store, "AWS_ACCESS_KEY_ID": "a", "AWS_SECRET_ACCESS_KEY": "b",
                           "AWS_REGION": "us-east-1", "SOFTSHOE_DATABASE": "host=nowhere",
                           "SOFTSHOE_FILES": f"s3:{name}/files"}.items():  # fmt: skip
        monkeypatch.setenv(setting, value)
    monkeypatch.setattr(stores, "TRIES", 0)
    urllib.request.urlopen(urllib.request.Request(f"{store}/{name}", method="PUT")).close()
    stores._opened.cache_clear()
    yield obstore.S3Store(name, prefix="files", client_options={"allow_http": True})
    stores._opened.cache_clear()


def test_a_file_is_in_the_store_when_it_is_called_kept_and_comes_back_to_an_empty_folder(
    bucket: S3Store, tmp_path: Path
) -> None:
    content = originals.put(tmp_path / "one", OLD)
    assert originals.put(tmp_path / "one", OLD) == content
    key = f"{content[:2]}/{content}"
    assert bytes(bucket.get(key).bytes()) == OLD
    assert originals.got(tmp_path / "other", content) == OLD
    assert originals.here(tmp_path / "third", content).read_bytes() == OLD
    assert [path.name for path in (tmp_path / "third").rglob("*") if path.is_file()] == [content]
    bucket.delete(key)
    assert not originals.here(tmp_path / "fourth", content).exists()
    with pytest.raises(UnreadableError, match="missing"):
        originals.got(tmp_path / "fourth", content)


def test_a_file_that_was_changed_in_the_store_is_not_taken_for_what_it_was(bucket: S3Store, tmp_path: Path) -> None:
    content = originals.put(tmp_path / "one", OLD)
    bucket.put(f"{content[:2]}/{content}", b"another one")
    with pytest.raises(UnreadableError, match="damaged"):
        originals.here(tmp_path / "other", content)
    assert not [path for path in (tmp_path / "other").rglob("*") if path.is_file()]


def test_what_lay_in_the_folder_before_is_brought_there_once(
    bucket: S3Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as alone:
        alone.delenv("SOFTSHOE_FILES")
        kept = {originals.put(tmp_path, f"sheet {k}".encode()) for k in range(3)}
        assert originals.all_sent(tmp_path) == 0
    assert originals.all_sent(tmp_path) == 3
    assert originals.all_sent(tmp_path) == 0
    assert {one["path"].rpartition("/")[2] for page in bucket.list() for one in page} == kept


def test_a_store_that_does_not_answer_keeps_nothing_and_says_so(
    bucket: S3Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with _elsewhere(monkeypatch, AWS_ENDPOINT_URL="http://127.0.0.1:9"):
        for asks in (lambda: originals.put(tmp_path, OLD), lambda: originals.here(tmp_path, "ab" * 32)):
            with pytest.raises(OutputError, match="store of files can't be used"):
                asks()
    with (
        _elsewhere(monkeypatch, SOFTSHOE_FILES="s3:no-such-bucket"),
        pytest.raises(OutputError, match="can't be used"),
    ):
        originals.put(tmp_path, OLD)
    with _elsewhere(monkeypatch, SOFTSHOE_FILES="dances"), pytest.raises(SettingError, match="names no store"):
        originals.put(tmp_path, OLD)
    with monkeypatch.context() as alone:
        alone.delenv("SOFTSHOE_DATABASE")
        assert originals.got(tmp_path, originals.put(tmp_path, b"on a laptop")) == b"on a laptop"


@contextmanager
def _elsewhere(monkeypatch: pytest.MonkeyPatch, **settings: str) -> Iterator[None]:
    with monkeypatch.context() as other:
        for name, value in settings.items():
            other.setenv(name, value)
        stores._opened.cache_clear()
        yield
    stores._opened.cache_clear()
