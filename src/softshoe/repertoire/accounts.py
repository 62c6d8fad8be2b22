"""Accounts of an association: who may come in, and with which right.

A leader keeps and changes dances; a reader looks at what is shared. Nobody makes an account without an invitation of a
leader's. A password is kept as Argon2id makes it, a visit's token and an invitation's code as their sha256 only. Every
function works inside the transaction of the base it is given.

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

Role = Literal["leader", "reader"]
INVITED_DAYS = 14
VISIT_DAYS = 30
LEAST_LETTERS = 12
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

    by : the identity of the leader who invites; "" for whoever runs the server
    Raises SettingError where that one may not.
    """
    if by and account(base, by).role != "leader":
        raise SettingError("an invitation", "it can't be made", "a reader may not invite", "ask a leader")
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
    if row is not None and (wait_s := _must_wait_s(row, now)) > 0:
        return Entered(refused=SettingError("coming in", "too many wrong passwords", "somebody has been guessing",
                                            f"wait {wait_s:.0f} seconds and try again"))  # fmt: skip
    right = _right(password, row["secret"] if row is not None else _NOBODY)
    if row is None or not right or row["closed"]:
        if row is not None:
            base.run("update leader set wrong = wrong + 1, wrong_at = :now where uid = :uid", now=_iso(now),
                     uid=row["uid"])  # fmt: skip
        return Entered(refused=SettingError("coming in", "name and password don't belong together",
                                            "one of them is mistyped, or the account is closed",
                                            "try again, or ask a leader for a new invitation"))  # fmt: skip
    base.run("update leader set wrong = 0 where uid = :uid", uid=row["uid"])
    token = secrets.token_urlsafe(32)
    base.run("delete from visit where until < :now", now=_iso(now))
    base.run("insert into visit (token, leader, begun_at, until) values (:token, :uid, :now, :until)",
             token=_hash(token), uid=row["uid"], now=_iso(now),
             until=_iso(now + timedelta(days=VISIT_DAYS)))  # fmt: skip
    return Entered(token)


def visitor(base: Base, token: str, *, now: datetime | None = None) -> Account | None:
    """Return whose visit a token is of; None where it is of none any more."""
    row = base.one("select l.* from visit v join leader l on l.uid = v.leader where v.token = :token "
                   "and v.until >= :now and l.closed = 0", token=_hash(token), now=_iso(now or _now()))  # fmt: skip
    return None if row is None else _account(row)


def leave(base: Base, token: str) -> None:
    """End a visit."""
    base.run("delete from visit where token = :token", token=_hash(token))


def change_password(base: Base, uid: str, old: str, new: str) -> None:
    """Change a password and end all visits; raises SettingError where the old one is wrong or the new one can't be."""
    row = _row(base, uid)
    if not _right(old, row["secret"]):
        raise SettingError("the old password", "it is wrong", "it is not the one you come in with", "type it again")
    set_password(base, uid, new)


def set_password(base: Base, uid: str, new: str) -> None:
    """Give an account a new password and end all its visits."""
    secret = _kept(new, _row(base, uid)["name"])
    base.run("update leader set secret = :secret, wrong = 0 where uid = :uid", secret=secret, uid=uid)
    base.run("delete from visit where leader = :uid", uid=uid)


def set_role(base: Base, uid: str, role: Role) -> None:
    """Make an account a leader's or a reader's."""
    base.run("update leader set role = :role where uid = :uid", role=role, uid=_row(base, uid)["uid"])


def close(base: Base, uid: str) -> None:
    """Close an account: nobody comes in by it any more; its dances stay."""
    base.run("update leader set closed = 1 where uid = :uid", uid=_row(base, uid)["uid"])
    base.run("delete from visit where leader = :uid", uid=uid)


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


def share(base: Base, dance: str, *, by: str, shared: bool = True) -> None:
    """Share a dance with the group, or make it its owner's own again; raises SettingError where it is not ``by``'s."""
    done = base.run("update dance set shared = :shared, owner = case when owner = '' then :by else owner end "
                    "where uid = :dance and owner in (:by, '')", shared=int(shared), dance=dance, by=by)  # fmt: skip
    if not done:
        raise SettingError("this dance", "it can't be shared or taken back by you", "it belongs to somebody else",
                           "ask its owner")  # fmt: skip


def owner(base: Base, dance: str) -> tuple[str, bool]:
    """Return whose a dance is ("" for nobody's, which is everybody's), and whether it is shared."""
    row = base.one("select owner, shared from dance where uid = :dance", dance=dance)
    return ("", False) if row is None else (row["owner"], bool(row["shared"]))


def give_all(base: Base, uid: str) -> int:
    """Give every dance that is nobody's to an account, as after a laptop's folder was brought in; return how many."""
    return base.run("update dance set owner = :uid where owner = ''", uid=_row(base, uid)["uid"])


def _row(base: Base, uid: str) -> Row:
    row = base.one("select * from leader where uid = :uid", uid=uid)
    if row is None:
        raise SettingError("this account", "it is not there", "it was never made", "“softshoe accounts” lists them")
    return row


def _account(row: Row) -> Account:
    return Account(row["uid"], row["name"], cast("Role", row["role"]), row["made_at"], bool(row["closed"]))


def _must_wait_s(row: Row, now: datetime) -> float:
    if row["wrong"] < PATIENCE:
        return 0.0
    wait = timedelta(seconds=min(LONGEST_WAIT_S, 2 ** min(20, row["wrong"] - PATIENCE + 1)))
    left = datetime.fromisoformat(row["wrong_at"]) + wait - now
    return min(wait, left).total_seconds()


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
