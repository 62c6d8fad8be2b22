"""The bin: a dance that is taken out of the repertoire lies there whole for three months, and can be put back.

What goes in is what an export of the dance would hold: every text, original, label, note, day, and its runs. The newest
twenty stay whatever their age, so that a wrong clock empties nothing at once.
"""

from __future__ import annotations

import io
import json
import tempfile
import zipfile
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.errors import SettingError
from softshoe.repertoire.dances import kept_dance
from softshoe.repertoire.export import Writer, write_dance, write_run
from softshoe.repertoire.export_read import bring_dance, bring_runs
from softshoe.repertoire.indexed import belongs_anew
from softshoe.repertoire.plain import plain
from softshoe.repertoire.songs import runs_of

if TYPE_CHECKING:
    from softshoe.base import Base, Row

DAYS, NEWEST = 90, 20


@dataclass(frozen=True, slots=True)
class Binned:
    """A dance in the bin; it stays at least until ``until``, an ISO day."""

    uid: str
    title: str
    binned_at: str

    @property
    def until(self) -> str:
        """The day until which it stays at least."""
        return (datetime.fromisoformat(self.binned_at) + timedelta(days=DAYS)).date().isoformat()


def remove(base: Base, home: Path, uid: str, *, now: datetime | None = None) -> Binned:
    """Move a dance into the bin; raises SettingError where it is not there, or is somebody else's."""
    now = now or datetime.now(UTC)
    kept = kept_dance(base, uid)
    owner = base.value("select owner from dance where uid = :uid", uid=uid)
    data = _packed(base, home, uid)
    if not base.run("delete from dance where uid = :uid", uid=uid):
        raise SettingError(kept.title, "it can't be removed by you", "it belongs to somebody else", "ask whose it is")
    for table in ("label", "note"):
        base.run(f"delete from {table} where about = 'dance' and uid = :uid", uid=uid)
    at = now.isoformat(timespec="seconds")
    base.run("delete from binned where uid = :uid", uid=uid)
    base.run("insert into binned (uid, title, title_key, owner, binned_at, packed) values (:uid, :title, :key, "
             ":owner, :at, :data)", uid=uid, title=kept.title, key=plain(kept.title), owner=owner, at=at,
             data=data)  # fmt: skip
    _emptied(base, now)
    return Binned(uid, kept.title, at)


def binned(base: Base) -> tuple[Binned, ...]:
    """Return what lies in the bin, the newest first."""
    rows = base.rows("select uid, title, binned_at from binned order by binned_at desc, title_key")
    return tuple(Binned(row["uid"], row["title"], row["binned_at"]) for row in rows)


def put_back(base: Base, home: Path, name: str) -> str:
    """Put a dance back as it was, by its title or identity; return the title.

    Raises SettingError where the bin has none of that name, or several.
    """
    row = _named(base, name)
    with zipfile.ZipFile(io.BytesIO(bytes(row["packed"]))) as packed:
        files = {one: packed.read(one) for one in packed.namelist()}
    for one in [one for one in files if one.startswith("dances/") and one.endswith("/about.json")]:
        bring_dance(base, home, files, json.loads(files[one]))
    bring_runs(base, files)
    base.run("update dance set owner = :owner where uid = :uid", owner=row["owner"], uid=row["uid"])
    belongs_anew(base, [base.value("select n from dance where uid = :uid", uid=row["uid"])])
    base.run("delete from binned where uid = :uid", uid=row["uid"])
    return str(row["title"])


def _named(base: Base, name: str) -> Row:
    rows = base.rows("select * from binned where title_key = :key or uid = :uid order by binned_at desc",
                     key=plain(name), uid=name.strip())  # fmt: skip
    if len(rows) != 1:
        several = "; ".join(f"{row['uid']}, removed {row['binned_at'][:10]}" for row in rows)
        if several:
            raise SettingError(f"“{name}”", "several dances of that name are in the bin", several, "say the identity")
        raise SettingError(f"“{name}”", "it is not in the bin", f"what was removed stays {DAYS} days",
                           "“softshoe remove --list” lists what is there; “softshoe restore” has older "
                           "copies")  # fmt: skip
    return rows[0]


def _packed(base: Base, home: Path, uid: str) -> bytes:
    """Return a dance and its runs as an export holds them, in one zip."""
    names = {row["content"]: row["name"] for row in base.rows("select content, name from file")}
    data = io.BytesIO()
    with tempfile.TemporaryDirectory() as room, zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as packed:
        writer = Writer(Path(room))
        write_dance(kept_dance(base, uid), home, writer, names)
        for run in runs_of(base, uid):
            write_run(base, run, writer)
        for name in writer.sums:
            packed.write(Path(room) / name, name)
    return data.getvalue()


def _emptied(base: Base, now: datetime) -> None:
    before = (now - timedelta(days=DAYS)).isoformat(timespec="seconds")
    base.run("delete from binned where binned_at < :before and uid not in (select uid from binned order by binned_at "
             f"desc limit {NEWEST})", before=before)  # fmt: skip
