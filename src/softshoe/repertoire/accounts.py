"""Accounts of an association: who may come in, and with which right.

An owner is a leader who also invites and closes accounts; a leader keeps and changes dances; a reader looks at what is
shared. Nobody makes an account without an invitation of an owner's. A password is kept as Argon2id makes it, a visit's
token and an invitation's code as their sha256 only. Every function works inside the transaction of the base it is
given.

Who sees what is the database's own to hold (row-level security): a base opened for an account shows that account's
dances, those that are shared, and those that belong to nobody.
"""

from __future__ import annotations

import hashlib
import secrets
import unicodedata
import uuid
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Literal, cast

from softshoe.errors import SettingError
from softshoe.repertoire.plain import plain

if TYPE_CHECKING:
    from softshoe.base import Base, Row

Role = Literal["owner", "leader", "reader"]
INVITED_DAYS = 14
VISIT_DAYS = 30
LEAST_LETTERS = 12
KEY = 16  # letters that name an invitation
PATIENCE = 5  # so many wrong passwords, then every next try must wait twice as long
LONGEST_WAIT_S = 900
LANES, ROUNDS, MEMORY_KIB = 1, 3, 64 * 1024  # of Argon2id: about RFC 9106's second choice


@dataclass(frozen=True, slots=True)
class Account:
    """Somebody who may come in."""

    uid: str
    name: str
    role: Role
    made_at: str
    closed: bool = False


def invite(base: Base, *, role: Role, by: str = "", now: datetime | None = None) -> str:
    """Return the code of a new invitation: it is said once, works once, and for two weeks.

    by : the identity of the owner who invites; "" for whoever runs the server
    Raises SettingError where that one may not.
    """
    if by and account(base, by).role != "owner":
        raise SettingError("an invitation", "it can't be made", "only an owner invites", "ask an owner")
    now, code = now or _now(), secrets.token_urlsafe(18)
    base.run("insert into invitation (code, role, invited_by, made_at, until) values (:code, :role, :by, :now, :until)",
             code=_hash(code), role=role, by=by, now=_iso(now),
             until=_iso(now + timedelta(days=INVITED_DAYS)))  # fmt: skip
    return code


def invited(base: Base, code: str, *, now: datetime | None = None) -> Role:
    """Return the role that an invitation gives; raises SettingError where it is unknown, used or too old."""
    row = base.one("select role, until, used_by from invitation where code = :code", code=_hash(code.strip()))
    if row is None or row["used_by"] or row["until"] < _iso(now or _now()):
        raise SettingError("the invitation", "it can't be used", "it is unknown, was used before, or is older than "
                           f"{INVITED_DAYS} days", "ask for a new one")  # fmt: skip
    return cast("Role", row["role"])


@dataclass(frozen=True, slots=True)
class Invitation:
    """An invitation that nobody has used yet, good until the day ``until``; ``key`` names it and is not its code."""

    key: str
    role: Role
    by: str
    until: str


def invitations(base: Base, *, now: datetime | None = None) -> tuple[Invitation, ...]:
    """Return the invitations that can still be used, the one that ends first first."""
    rows = base.rows("select i.code as code, i.role as role, l.name as by_name, i.until as until from invitation i "
                     "left join leader l on l.uid = i.invited_by where i.used_by = '' and i.until >= :now "
                     "order by i.until, i.code", now=_iso(now or _now()))  # fmt: skip
    return tuple(Invitation(row["code"][:KEY], row["role"], row["by_name"] or "", row["until"]) for row in rows)


def withdraw(base: Base, key: str) -> bool:
    """Take an invitation back by its key; False where it was used, taken back or too old."""
    mine = [one for one in invitations(base) if one.key == key]
    return bool(mine) and bool(base.run("delete from invitation where code like :start and used_by = ''",
                                        start=f"{key}%"))  # fmt: skip


def join(base: Base, code: str, name: str, password: str, *, now: datetime | None = None) -> Account:
    """Make the account of somebody who was invited; raises SettingError where code, name or password can't be used."""
    role, name, key = invited(base, code, now=now), " ".join(name.split()), plain(name)
    if not key or len(name) > 60:
        raise SettingError("your name", "it can't be used", "a name has 1 to 60 letters", "choose another")
    if base.one("select 1 as there from leader where name_key = :key", key=key) is not None:
        raise SettingError(f"“{name}”", "this name is taken", "names are told apart without capitals and accents",
                           "add a second name or a place")  # fmt: skip
    new = Account(uuid.uuid4().hex, name, role, _iso(now or _now()))
    base.run("insert into leader (uid, name, name_key, role, secret, made_at) values (:uid, :name, :key, :role, "
             ":secret, :now)", uid=new.uid, name=name, key=key, role=role, secret=_kept(password, name),
             now=new.made_at)  # fmt: skip
    used = base.run("update invitation set used_by = :uid where code = :code and used_by = ''", uid=new.uid,
                    code=_hash(code.strip()))  # fmt: skip
    if not used:
        raise SettingError("the invitation", "it can't be used", "it was used this moment", "ask for a new one")
    return new


@dataclass(frozen=True, slots=True)
class Entered:
    """The answer to a name and a password: the token of a visit, or why there is none. A wrong try is counted, so the
    transaction must be kept in both cases.
    """

    token: str = ""
    refused: SettingError | None = None


def enter(base: Base, name: str, password: str, *, now: datetime | None = None) -> Entered:
    """Begin a visit. A wrong name takes as long as a wrong password, and is answered with the same words."""
    now = now or _now()
    row = base.one("select * from leader where name_key = :key", key=plain(name))
    if row is not None and (refused := _must_wait(row, now)):
        return Entered(refused=refused)
    right = _right(password, row["secret"] if row is not None else _NOBODY)
    if row is None or not right or row["closed"]:
        if row is not None:
            _count_wrong(base, row["uid"], now)
        return Entered(refused=SettingError("coming in", "name and password don't belong together",
                                            "one of them is mistyped, or the account is closed",
                                            "try again, or ask an owner"))  # fmt: skip
    base.run("update leader set wrong = 0 where uid = :uid", uid=row["uid"])
    return Entered(_begun(base, row["uid"], now))


def _begun(base: Base, uid: str, now: datetime) -> str:
    """Begin a visit and return its token."""
    token = secrets.token_urlsafe(32)
    base.run("delete from visit where until < :now", now=_iso(now))
    base.run("insert into visit (token, leader, begun_at, until) values (:token, :uid, :now, :until)",
             token=_hash(token), uid=uid, now=_iso(now), until=_iso(now + timedelta(days=VISIT_DAYS)))  # fmt: skip
    return token


def visitor(base: Base, token: str, *, now: datetime | None = None) -> Account | None:
    """Return whose visit a token is of; None where it is of none any more."""
    row = base.one("select l.* from visit v join leader l on l.uid = v.leader where v.token = :token "
                   "and v.until >= :now and l.closed = 0", token=_hash(token), now=_iso(now or _now()))  # fmt: skip
    return None if row is None else _account(row)


def leave(base: Base, token: str) -> None:
    """End a visit."""
    base.run("delete from visit where token = :token", token=_hash(token))


def change_password(base: Base, uid: str, old: str, new: str, *, now: datetime | None = None) -> Entered:
    """Change a password, end all visits and begin a new one. A wrong old password is counted as one at the door is.

    Raises SettingError where the new one can't be.
    """
    now, row = now or _now(), _row(base, uid)
    if refused := _must_wait(row, now):
        return Entered(refused=refused)
    if not _right(old, row["secret"]):
        _count_wrong(base, uid, now)
        return Entered(refused=SettingError("the old password", "it is wrong", "it is not the one you come in with",
                                            "type it again"))  # fmt: skip
    set_password(base, uid, new)
    return Entered(_begun(base, uid, now))


def set_password(base: Base, uid: str, new: str) -> None:
    """Give an account a new password and end all its visits."""
    secret = _kept(new, _row(base, uid)["name"])
    base.run("update leader set secret = :secret, wrong = 0 where uid = :uid", secret=secret, uid=uid)
    base.run("delete from visit where leader = :uid", uid=uid)


def set_role(base: Base, uid: str, role: Role) -> None:
    """Give an account another role; raises SettingError for the last owner."""
    if role != "owner":
        _not_the_last_owner(base, uid)
    base.run("update leader set role = :role where uid = :uid", role=role, uid=_row(base, uid)["uid"])


def close(base: Base, uid: str) -> None:
    """Close an account: nobody comes in by it any more, and its dances stay its own. Raises SettingError for the last
    owner.
    """
    _not_the_last_owner(base, uid)
    base.run("update leader set closed = 1 where uid = :uid", uid=_row(base, uid)["uid"])
    base.run("delete from visit where leader = :uid", uid=uid)


def reopen(base: Base, uid: str) -> None:
    """Open an account again that was closed."""
    base.run("update leader set closed = 0, wrong = 0 where uid = :uid", uid=_row(base, uid)["uid"])


def _not_the_last_owner(base: Base, uid: str) -> None:
    row = _row(base, uid)
    others = base.value(
        "select count(*) as many from leader where role = 'owner' and closed = 0 and uid <> :uid", uid=uid
    )
    if row["role"] == "owner" and not row["closed"] and not others:
        raise SettingError(row["name"], "this is the last owner", "somebody must be able to invite and to remove",
                           "make somebody else an owner first")  # fmt: skip


def account(base: Base, uid: str) -> Account:
    """Return an account; raises SettingError where there is none."""
    return _account(_row(base, uid))


def accounts(base: Base) -> tuple[Account, ...]:
    """Return all accounts, by name."""
    return tuple(map(_account, base.rows("select * from leader order by name_key")))


def account_named(base: Base, name: str) -> Account:
    """Return the account of a name; raises SettingError where there is none."""
    row = base.one("select * from leader where name_key = :key", key=plain(name))
    if row is None:
        raise SettingError(f"“{name}”", "there is no such account", "nobody has that name",
                           "“softshoe accounts” lists them")  # fmt: skip
    return _account(row)


def _row(base: Base, uid: str) -> Row:
    row = base.one("select * from leader where uid = :uid", uid=uid)
    if row is None:
        raise SettingError("this account", "it is not there", "it was never made", "“softshoe accounts” lists them")
    return row


def _account(row: Row) -> Account:
    return Account(row["uid"], row["name"], cast("Role", row["role"]), row["made_at"], bool(row["closed"]))


def _must_wait(row: Row, now: datetime) -> SettingError | None:
    """Return why nobody may try now, where too many tries were wrong."""
    if row["wrong"] < PATIENCE:
        return None
    wait = timedelta(seconds=min(LONGEST_WAIT_S, 2 ** min(20, row["wrong"] - PATIENCE + 1)))
    left = datetime.fromisoformat(row["wrong_at"]) + wait - now
    left_s = min(wait, left).total_seconds()
    if left_s <= 0:
        return None
    return SettingError("coming in", "too many wrong passwords", "somebody has been guessing",
                        f"wait {left_s:.0f} seconds and try again")  # fmt: skip


def _count_wrong(base: Base, uid: str, now: datetime) -> None:
    base.run("update leader set wrong = wrong + 1, wrong_at = :now where uid = :uid", now=_iso(now), uid=uid)


def _kept(password: str, name: str) -> str:
    """Return what is kept of a password; raises SettingError for one that is too easy."""
    from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

    if len(password) < LEAST_LETTERS or plain(name) in plain(password) or len(set(password)) < 5:
        raise SettingError("the password", "it is too easy", f"a password has at least {LEAST_LETTERS} letters, not "
                           "your name and not one letter over and over", "take four or five words that don't belong "
                           "together")  # fmt: skip
    made = Argon2id(salt=secrets.token_bytes(16), length=32, iterations=ROUNDS, lanes=LANES, memory_cost=MEMORY_KIB)
    return made.derive_phc_encoded(_letters(password))


def _right(password: str, kept: str) -> bool:
    from cryptography.exceptions import InvalidKey
    from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

    try:
        Argon2id.verify_phc_encoded(_letters(password), kept)
    except InvalidKey:
        return False
    return True


# What is kept of no password at all: a name that nobody has is looked at just as long.
_NOBODY = f"$argon2id$v=19$m={MEMORY_KIB},t={ROUNDS},p={LANES}$" + "A" * 22 + "$" + "A" * 43


def _letters(password: str) -> bytes:
    return unicodedata.normalize("NFC", password).encode()


def _hash(said: str) -> str:
    return hashlib.sha256(said.encode()).hexdigest()


def _now() -> datetime:
    return datetime.now(UTC)


def _iso(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds")
