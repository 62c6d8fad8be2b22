"""Whose a dance is, and who else sees it: shared with the group, taken back, given to another account.

A dance is its account's own until it is shared; one that is nobody's is everybody's. Every function works inside the
transaction of the base it is given.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.errors import SettingError
from softshoe.repertoire.accounts import account
from softshoe.repertoire.indexed import belongs_anew
from softshoe.repertoire.plain import plain

if TYPE_CHECKING:
    from softshoe.base import Base

Which = Literal["all", "mine", "shared"]
WHICH = {"all": "1 = 1", "mine": "owner = :viewer", "shared": "(shared = 1 or owner = '')"}


@dataclass(frozen=True, slots=True)
class Belongs:
    """A dance and whose it is: ``whose`` the account's identity, "" for nobody's, which is everybody's."""

    uid: str
    title: str
    whose: str
    shared: bool


@dataclass(frozen=True, slots=True)
class Left:
    """What became of the dances of an account: how many were its own alone, how many were shared."""

    alone: int
    shared: int


def share(base: Base, dance: str, *, by: str, shared: bool = True) -> None:
    """Share a dance with the group, or make it its account's own again; raises SettingError where it is not ``by``'s.

    by : the account that asks; "" for whoever runs the server, who may for everybody
    """
    row = base.one("select n, owner from dance where uid = :dance", dance=dance)
    if row is None or row["owner"] not in ("", by or row["owner"]):
        raise SettingError("this dance", "it can't be shared or taken back by you", "it belongs to somebody else",
                           "ask whose it is")  # fmt: skip
    if not row["owner"] and not by:
        raise SettingError("this dance", "it can't be shared or taken back", "it is nobody's, so everybody sees it",
                           "give it to somebody first")  # fmt: skip
    base.run("update dance set shared = :shared, owner = :owner where n = :n", shared=int(shared),
             owner=row["owner"] or by, n=row["n"])  # fmt: skip
    belongs_anew(base, [row["n"]])


def belongs(base: Base, dance: str) -> Belongs | None:
    """Return whose a dance is; None where there is none, or none that may be seen."""
    row = base.one("select uid, title, owner, shared from dance where uid = :dance", dance=dance)
    return None if row is None else Belongs(row["uid"], row["title"], row["owner"], bool(row["shared"]))


def listed(
    base: Base, *, viewer: str, which: Which = "all", words: str = "", most: int = 50, after: int = 0
) -> tuple[tuple[Belongs, ...], int]:
    """Return dances by title with whose they are, ``most`` of them after so many, and how many there are.

    viewer : the account that "mine" speaks of
    words : what their titles hold
    """
    asked = {"viewer": viewer} if which == "mine" else {}
    where = f"{WHICH[which]} and title_key like :some"
    some = "%" + plain(words).replace("%", "").replace("_", "") + "%"
    rows = base.rows(f"select uid, title, owner, shared from dance where {where} order by title_key, n limit :most "
                     "offset :after", some=some, most=most, after=after, **asked)  # fmt: skip
    total = int(base.value(f"select count(*) as many from dance where {where}", some=some, **asked))
    return tuple(Belongs(row["uid"], row["title"], row["owner"], bool(row["shared"])) for row in rows), total


def left_by(base: Base, uid: str) -> Left:
    """Return how many dances are an account's."""
    rows = base.rows("select shared, count(*) as many from dance where owner = :uid group by shared", uid=uid)
    many = {row["shared"]: int(row["many"]) for row in rows}
    return Left(many.get(0, 0), many.get(1, 0))


def give_all(base: Base, uid: str, *, of: str = "") -> Left:
    """Give every dance of an account to another, as they are, the bin too; return how many.

    of : whose they are; "" for nobody's, as after a laptop's folder was brought in
    Raises SettingError where there is no such account, or it is closed.
    """
    heir = account(base, uid)
    if heir.closed or heir.role == "reader":
        raise SettingError(heir.name, "dances can't be given to this account", "it is closed, or a reader's",
                           "choose a leader")  # fmt: skip
    given, numbers = left_by(base, of), _numbers(base, of)
    base.run("update dance set owner = :uid where owner = :of", uid=uid, of=of)
    base.run("update binned set owner = :uid where owner = :of", uid=uid, of=of)
    belongs_anew(base, numbers)
    return given


def to_the_group(base: Base, of: str) -> Left:
    """Make every dance of an account everybody's; return how many. What lies in its bin stays its own."""
    given, numbers = left_by(base, of), _numbers(base, of)
    base.run("update dance set owner = '', shared = 0 where owner = :of", of=of)
    belongs_anew(base, numbers)
    return given


def _numbers(base: Base, of: str) -> list[int]:
    return [int(row["n"]) for row in base.rows("select n from dance where owner = :of", of=of)]
