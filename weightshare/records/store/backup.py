"""The whole store as one archive, and back."""

from __future__ import annotations

import contextlib
import json
import re
import shutil
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from weightshare.errors import StoreError
from weightshare.records.manifest import Entry
from weightshare.records.seal import sealed
from weightshare.records.store.check import check_store
from weightshare.records.store.cipher import WRONG
from weightshare.records.store.latch import needs_passphrase, told, unlock
from weightshare.records.store.parcel import Packer, Parcel, open_parcel
from weightshare.records.store.schema import DATABASE_NAME
from weightshare.records.store.store import INBOX_NAME, SESSIONS_NAME, Store, Tell, is_store, quiet
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import kept_files
from weightshare.records.whole import FOLDER_MODE, naming, open_private, sync_file, sync_folder

SCHEMA = "weightshare.backup/1"
LIST_NAME = "backup.json"
_NAMES = re.compile(
    rf"{re.escape(LIST_NAME)}|{re.escape(DATABASE_NAME)}|{SESSIONS_NAME}/[0-9a-f]{{32}}/\w[\w.-]{{0,99}}"
)


@dataclass(frozen=True, slots=True)
class Backed:
    """What came of a backup: how many sessions are in it, what in the store is not as it was taken in, in words, and
    whether it was written."""

    sessions: int
    faults: tuple[str, ...] = ()
    is_written: bool = True


def backup_store(store: Store, target: Path, tell: Tell = quiet, *, damaged: bool = False) -> Backed:
    """Write the whole store to the new archive `target`, once all in it was found as it was taken in.

    Where it was not, nothing is written; with `damaged`, all that is there. A sealed store stays sealed in it. Nothing
    is changed meanwhile. Sessions that are being recorded are not in it. Where it fails nothing is left at `target`.
    Raises StoreError where there is such a file, and OSError.
    """
    if target.exists():
        raise StoreError(f"{target}: there is such a file already; give another name")
    found = check_store(store, tell)
    # a list that can be had anew is no reason to be without a backup
    if len(found.faults) > found.mendable and not damaged:
        return Backed(0, found.faults, is_written=False)
    note_trail(store, "backed up", None, target.name)
    with (
        whole_archive(target) as part,
        part.open("r+b") as file,
        Packer(file, packed=not store.box.is_sealed) as packer,
    ):
        packed, missing = _pack(store, packer, tell)
        _add_list(packer, store, missing)
    return Backed(len(packed), found.faults)


def _pack(store: Store, packer: Packer, tell: Tell) -> tuple[list[str], list[str]]:
    """Add database and sessions, as they are at one instant; return the ids of those, and of those without files."""
    with store.writing() as db, TemporaryDirectory(prefix="weightshare-") as name:
        copy = Path(name) / DATABASE_NAME
        _copy_database(store.database, copy)
        packer.add_file(DATABASE_NAME, copy)
        idents = [ident for (ident,) in db.execute("SELECT id FROM session ORDER BY id")]
        packed = [ident for ident in idents if (store.sessions / ident).is_dir()]
        for done, ident in enumerate(packed):
            tell(done, len(packed))
            _add_session(packer, store.sessions / ident)
    return packed, sorted(set(idents) - set(packed))


def _copy_database(source: Path, target: Path) -> None:
    """Copy a database as it was when it was changed last; who holds it for writing cannot read it by the page."""
    open_private(target).close()
    with (
        told(target),
        contextlib.closing(sqlite3.connect(source)) as db,
        contextlib.closing(sqlite3.connect(target)) as copy,
    ):
        db.backup(copy)
        # one file, without a log beside it
        copy.execute("PRAGMA journal_mode = DELETE")


def _add_session(packer: Packer, folder: Path) -> None:
    for path in kept_files(folder):
        packer.add_file(f"{SESSIONS_NAME}/{folder.name}/{path.name}", path)


def _add_list(packer: Packer, store: Store, missing: list[str]) -> None:
    files = [asdict(entry) for entry in packer.entries.values()]
    made_at = store.clock().isoformat(timespec="seconds")
    content = sealed({"schema": SCHEMA, "made_at": made_at, "files": files, "missing": missing})
    packer.add(LIST_NAME, json.dumps(content, indent=1).encode())


@contextlib.contextmanager
def whole_archive(target: Path) -> Iterator[Path]:
    """Hand out a new file beside `target`, which takes its place at the end; where that fails, nothing is left.

    Raises OSError, which names `target`.
    """
    part = target.with_name(target.name + ".part")
    with naming(target):
        try:
            open_private(part).close()
            yield part
            sync_file(part)
            part.replace(target)
        except BaseException:
            part.unlink(missing_ok=True)
            raise
    sync_folder(target.parent)


@dataclass(frozen=True, slots=True)
class Restored:
    """What came of a restoring: how many sessions there are, of how many the files were missing in the damaged store,
    whether the store is sealed, and whether its passphrase was tried."""

    sessions: int
    missing: int = 0
    is_sealed: bool = False
    is_tried: bool = False


def restore_store(source: Path, place: Path, passphrase: str | None = None) -> Restored:
    """Make the store in the archive `source` anew in `place`, where there is none.

    A damaged store is restored as it was backed up, without the files that were missing. Everything is checked before
    the store is there; of a sealed one the passphrase, too, where one is given. Raises StoreError where the archive was
    altered, the passphrase is wrong, or there is something in `place` already, and OSError.
    """
    if is_store(place) or (place.is_dir() and any(place.iterdir())):
        raise StoreError(f"{place}: holds a store or other files; restore to another folder with --store DIR")
    with open_parcel(source, _NAMES) as parcel:
        missing: set[str] = set()
        entries = parcel.read_list(LIST_NAME, SCHEMA, partial(_listed, missing), "nothing was restored")
        parcel.check(entries, frozenset({LIST_NAME}))
        part = place.with_name(place.name + ".part")
        _clear(part)
        try:
            with naming(place):
                return _restore(parcel, entries, missing, part, place, passphrase=passphrase)
        finally:
            _clear(part)


def _restore(
    parcel: Parcel, entries: Mapping[str, Entry], missing: set[str], part: Path, place: Path, *, passphrase: str | None
) -> Restored:
    place.parent.mkdir(parents=True, exist_ok=True)
    for folder in (part, part / SESSIONS_NAME, part / INBOX_NAME):
        folder.mkdir(mode=FOLDER_MODE)
    for name in entries:
        parcel.unpack(name, part / name)
    idents = _session_ids(part / DATABASE_NAME, parcel.path)
    folders = {path.name for path in (part / SESSIONS_NAME).iterdir()}
    if idents != folders | missing or folders & missing:
        raise StoreError(f"{parcel.path}: its database and its sessions do not go together; nothing was restored")
    is_sealed = needs_passphrase(part)
    if is_sealed and passphrase is not None:
        _try(part / DATABASE_NAME, parcel.path, passphrase)
    if place.is_dir():
        place.rmdir()
    part.replace(place)
    sync_folder(place.parent)
    return Restored(len(folders), len(missing), is_sealed, is_sealed and passphrase is not None)


def _try(path: Path, archive: Path, passphrase: str) -> None:
    """Open every patient's row with `passphrase`. Raises StoreError where that cannot be."""
    with contextlib.closing(sqlite3.connect(path)) as db:
        try:
            box = unlock(db, passphrase, path)
            for ident, body in db.execute("SELECT id, body FROM patient"):
                box.open(body, f"patient {ident}")
        except StoreError as error:
            raise StoreError(f"{archive}: {WRONG}; nothing was restored") from error


def _session_ids(path: Path, archive: Path) -> set[str]:
    try:
        with contextlib.closing(sqlite3.connect(path)) as db:
            if db.execute("PRAGMA integrity_check").fetchone() != ("ok",):
                raise sqlite3.DatabaseError("integrity")
            return {ident for (ident,) in db.execute("SELECT id FROM session")}
    except sqlite3.Error as error:
        raise StoreError(f"{archive}: its database is damaged; nothing was restored") from error


def _clear(folder: Path) -> None:
    if folder.is_dir():
        shutil.rmtree(folder)


def _listed(missing: set[str], value: Any) -> Iterable[Entry]:
    """Return the files that a backup's list names; `missing` gets the sessions whose files were not there."""
    missing.update(map(str, value.get("missing", ())))
    return (Entry(str(row["name"]), int(row["bytes"]), str(row["sha256"])) for row in value["files"])
