"""Notes about people, locked: one file, AES-256-GCM, the key made by scrypt from a passphrase that is kept nowhere.

The file is a line of JSON (form, scrypt's numbers and salt, the nonce, a checksum of what follows) and the locked
notes. The line is authenticated with them. Every change writes the whole file anew under a fresh nonce. Nothing of it
enters the database, its copies, an export or a search, unless it is unlocked and asked for.
"""

from __future__ import annotations

import fcntl
import hashlib
import json
import secrets
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from softshoe.errors import SettingError, UnreadableError
from softshoe.files import write_failure
from softshoe.repertoire.originals import home_for, written
from softshoe.repertoire.plain import plain

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

NAME = "people.locked"
FORM = "softshoe people 1"
N, R, P, KEY_BYTES = 2**17, 8, 1, 32  # 128 MiB and about half a second for each try
LEAST_N, MOST_N, MOST_R, MOST_P = 2**14, 2**20, 32, 16  # of a file that says other numbers
SHORTEST = 8  # letters of a passphrase
LARGEST = 50_000_000


@dataclass(frozen=True, slots=True)
class PersonNote:
    """One note about one person, by whatever name the leader uses."""

    person: str
    words: str
    made_at: str


@dataclass(frozen=True, slots=True)
class Unlocked:
    """The notes, unlocked for as long as this value lives. Its key is never written anywhere."""

    place: Path
    header: dict[str, Any]
    key: bytes
    notes: tuple[PersonNote, ...]

    def about(self, person: str = "") -> tuple[PersonNote, ...]:
        """Return the notes about a person, oldest first; about everybody for ""."""
        return tuple(note for note in self.notes if not person or plain(note.person) == plain(person))

    def holding(self, words: str) -> tuple[PersonNote, ...]:
        """Return the notes that hold all of these words."""
        wanted = plain(words).split()
        return tuple(n for n in self.notes if all(word in plain(f"{n.person} {n.words}") for word in wanted))

    def people(self) -> tuple[str, ...]:
        """Return everybody's name, each once."""
        return tuple(sorted({plain(note.person): note.person for note in self.notes}.values(), key=plain))


def there(home: Path) -> bool:
    """Whether there are locked notes."""
    return (home / NAME).is_file()


def _key(passphrase: str, header: dict[str, Any]) -> bytes:
    n, r, p = int(header["n"]), int(header["r"]), int(header["p"])
    if not (LEAST_N <= n <= MOST_N and 1 <= r <= MOST_R and 1 <= p <= MOST_P):
        raise ValueError("scrypt's numbers are out of all bounds")
    salt = bytes.fromhex(header["salt"])
    return hashlib.scrypt(passphrase.encode(), salt=salt, n=n, r=r, p=p, dklen=KEY_BYTES, maxmem=256 * n * r * p)


def started(home: Path, passphrase: str) -> Unlocked:
    """Begin locked notes; raises SettingError for a short passphrase, or where notes are there already."""
    _long_enough(passphrase)
    with _alone(home):
        if there(home):
            raise SettingError(str(home / NAME), "there are locked notes already", "they have a passphrase of "
                                                                                   "their own",
                               "unlock them with it")  # fmt: skip
        header = {"form": FORM, "kdf": "scrypt", "n": N, "r": R, "p": P, "salt": secrets.token_hex(16)}
        opened = Unlocked(home / NAME, header, _key(passphrase, header), ())
        return _written(opened, ())


def unlocked(home: Path, passphrase: str) -> Unlocked:
    """Unlock the notes.

    Raises SettingError for a wrong passphrase or where there are none, UnreadableError for a damaged file.
    """
    place = home / NAME
    header, sealed = _parts(place)
    try:
        key = _key(passphrase, header)
    except (KeyError, ValueError, TypeError) as wrong:
        raise _damaged(place, "its first line is not what it was") from wrong
    return Unlocked(place, header, key, _opened(place, header, key, sealed))


def _parts(place: Path) -> tuple[dict[str, Any], bytes]:
    try:
        if place.stat().st_size > LARGEST:
            raise _damaged(place, "it is far larger than any notes")
        line, _, sealed = place.read_bytes().partition(b"\n")
    except FileNotFoundError as err:
        raise SettingError(str(place), "there are no locked notes", "nothing was written yet",
                           "“softshoe notes add NAME WORDS” begins them") from err  # fmt: skip
    except OSError as err:
        raise UnreadableError(str(place), "the locked notes can't be read", err.strerror or str(err),
                              "look at the rights of the file") from err  # fmt: skip
    try:
        header = json.loads(line)
        if header["form"] != FORM:
            raise SettingError(str(place), "the locked notes are of another softshoe", f"their form is "
                                                                                       f"“{header['form']}”",
                               "bring softshoe up to date")  # fmt: skip
        if header["sha256"] != hashlib.sha256(sealed).hexdigest():
            raise _damaged(place, "its checksum does not agree: it is cut short or changed")
    except (ValueError, KeyError, TypeError) as wrong:
        raise _damaged(place, "its first line is not what it was") from wrong
    return header, sealed


def _damaged(place: Path, why: str) -> UnreadableError:
    return UnreadableError(str(place), "the locked notes are damaged", why,
                           "“softshoe restore FILE” puts them back from a packed backup")  # fmt: skip


def _opened(place: Path, header: dict[str, Any], key: bytes, sealed: bytes) -> tuple[PersonNote, ...]:
    from cryptography.exceptions import InvalidTag
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    try:
        clear = AESGCM(key).decrypt(bytes.fromhex(header["nonce"]), sealed, _bound(header))
    except InvalidTag as wrong:
        raise SettingError(str(place), "this is not the passphrase", "the notes don't open with it",
                           "try again; without it nobody can read them, not even this program") from wrong  # fmt: skip
    except (ValueError, KeyError) as wrong:
        raise _damaged(place, "its first line is not what it was") from wrong
    return tuple(PersonNote(**row) for row in json.loads(clear))


def _bound(header: dict[str, Any]) -> bytes:
    """The part of the header that is authenticated with the notes."""
    return json.dumps({key: header[key] for key in ("form", "kdf", "n", "r", "p", "salt")}, sort_keys=True).encode()


def _written(opened: Unlocked, notes: tuple[PersonNote, ...]) -> Unlocked:
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    nonce = secrets.token_bytes(12)
    clear = json.dumps([asdict(note) for note in notes], ensure_ascii=False).encode()
    sealed = AESGCM(opened.key).encrypt(nonce, clear, _bound(opened.header))
    header = {**opened.header, "nonce": nonce.hex(), "sha256": hashlib.sha256(sealed).hexdigest()}
    try:
        written(opened.place, json.dumps(header).encode() + b"\n" + sealed)
    except OSError as wrong:
        raise write_failure(opened.place, wrong) from wrong
    return Unlocked(opened.place, header, opened.key, notes)


@contextmanager
def _alone(home: Path) -> Iterator[None]:
    """Let one program at a time change the file."""
    home_for(home)
    with (home / f".{NAME}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _fresh(opened: Unlocked) -> tuple[PersonNote, ...]:
    """The notes as they are now: another program may have written since they were unlocked."""
    header, sealed = _parts(opened.place)
    return _opened(opened.place, header, opened.key, sealed)


def added(opened: Unlocked, person: str, words: str) -> Unlocked:
    """Write a note about a person; raises SettingError for one without a name or words."""
    if not person.strip() or not words.strip():
        raise SettingError("the note", "a name or the words are missing", "a note is about somebody and says something",
                           "softshoe notes add NAME WORDS")  # fmt: skip
    note = PersonNote(" ".join(person.split()), words.strip(), datetime.now(UTC).isoformat(timespec="seconds"))
    with _alone(opened.place.parent):
        return _written(opened, (*_fresh(opened), note))


def forgotten(opened: Unlocked, person: str) -> tuple[Unlocked, int]:
    """Remove every note about a person for good; return how many there were."""
    with _alone(opened.place.parent):
        notes = _fresh(opened)
        left = tuple(note for note in notes if plain(note.person) != plain(person))
        return _written(opened, left), len(notes) - len(left)


def relocked(opened: Unlocked, passphrase: str) -> Unlocked:
    """Lock the notes with another passphrase."""
    _long_enough(passphrase)
    with _alone(opened.place.parent):
        header = {**opened.header, "n": N, "r": R, "p": P, "salt": secrets.token_hex(16)}
        return _written(Unlocked(opened.place, header, _key(passphrase, header), ()), _fresh(opened))


def _long_enough(passphrase: str) -> None:
    if len(passphrase) < SHORTEST:
        raise SettingError("the passphrase", "it is too short", f"it has fewer than {SHORTEST} letters",
                           "take a sentence or four words that only you would put together")  # fmt: skip
