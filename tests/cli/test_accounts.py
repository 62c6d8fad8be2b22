"""``softshoe accounts``: whoever runs the server invites, shares and closes by words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.repertoire import accounts as book
from softshoe.repertoire.store import Repertoire

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

    from cli.conftest import Softshoe

PASSWORD = "kettle moss lantern four"


def test_a_group_is_begun_shared_with_and_closed_by_words(
    softshoe: Softshoe, sheet: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(book, "MEMORY_KIB", 64)
    assert "accounts invite owner" in softshoe("accounts").out
    codes = {role: softshoe("accounts", "invite", role).out.strip() for role in ("owner", "leader", "reader")}
    softshoe("keep", sheet)
    with Repertoire.at(tmp_path / "home").writing() as base:
        for name, role in (("Rosa", "owner"), ("Anna", "leader")):
            book.join(base, codes[role], name, PASSWORD)
    listed = softshoe("accounts").out
    assert "invited as reader" in listed
    assert softshoe("accounts", "withdraw", listed.rpartition("(")[2].rstrip(")\n")).code == 0
    assert softshoe("accounts", "withdraw", "none").code == 2
    assert "nobody's" in softshoe("accounts", "share", "Tin").err
    assert "1 dance is Anna's now" in softshoe("accounts", "give", "anna").out
    softshoe("accounts", "share", "Tin")
    assert softshoe("accounts", "dances", "Anna").out == "Tin Kettle (shared)\n"
    softshoe("accounts", "share", "Tin", "--back")
    assert "last owner" in softshoe("accounts", "close", "Rosa").err
    closed = softshoe("accounts", "close", "Anna", "--dances", "give", "--to", "Rosa")
    assert "1 dance seen by nobody else, 0 shared: they are Rosa's now" in closed.out
    assert "Anna: leader" in softshoe("accounts").out
    assert ", closed; 0 dances" in softshoe("accounts").out
    softshoe("accounts", "open", "Anna")
    assert ", closed" not in softshoe("accounts").out
