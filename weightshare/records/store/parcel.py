"""Archives of others, read with care: what leads out of the folder, is doubled, unlisted, altered or swells is refused.

An archive is a zip file that says of itself what is in it. Everything is checked before anything is used.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
import stat
import zipfile
import zlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from weightshare.errors import StoreError
from weightshare.records.manifest import Entry
from weightshare.records.seal import is_altered
from weightshare.records.whole import FOLDER_MODE, new_file, write_all

MOST_FILES = 500_000
MOST_BYTES = 1 << 31
"""Of one file, opened: an hour of eight channels at 1 kHz is a tenth of it."""
MOST_SWELLING = 200
"""How many times its packed size a file, and all of them together, may have: what is measured packs far less."""
SMALL_BYTES = 1 << 20
"""So much may swell as it likes."""
MOST_LIST_BYTES = 1 << 28
"""Of the list of what is in it."""
_BLOCK = 1 << 20
_STAMP = (1980, 1, 1, 0, 0, 0)
"""Of all files in an archive: the same content gives the same bytes."""


@dataclass(frozen=True, slots=True)
class Parcel:
    """An open archive whose names and sizes were checked; its content was not yet."""

    path: Path
    archive: zipfile.ZipFile
    members: Mapping[str, zipfile.ZipInfo]

    def read(self, name: str, most: int = SMALL_BYTES * 64) -> bytes:
        """Return the content of a small file in it. Raises StoreError where there is none, or it is too large."""
        info = self.members.get(name)
        if info is None or info.file_size > most:
            raise StoreError(f"{self.path}: has no {name} that can be used; it is no archive of this program")
        with _told(self.path, name), self.archive.open(info) as file:
            return file.read()

    def read_list(
        self, name: str, schema: str, read: Callable[[Any], Iterable[Entry]], undone: str
    ) -> dict[str, Entry]:
        """Return by name what the archive says in `name` is in it; `read` finds that in the content, a JSON object.

        Raises StoreError where that is of another version than `schema`, was altered, or is no list: then `undone` is
        what did not happen.
        """
        try:
            value: Any = json.loads(self.read(name, MOST_LIST_BYTES))
            if value["schema"] != schema:
                raise StoreError(f"{self.path}: is of another version ({value['schema']}); this program reads {schema}")
            if "checksum" not in value or is_altered(value):
                raise ValueError("altered")
            entries = list(read(value))
        except (ValueError, TypeError, KeyError, RecursionError) as error:
            raise StoreError(f"{self.path}: {name} was altered; {undone}") from error
        return {entry.name: entry for entry in entries}

    def check(self, entries: Mapping[str, Entry], besides: frozenset[str]) -> None:
        """Check that the archive holds the files `entries` and `besides`, and nothing else, each as it was packed.

        Raises StoreError, which names the file, where one is missing, not listed, or was altered.
        """
        for name in sorted((set(entries) | besides) ^ set(self.members)):
            words = "is not listed in it" if name in self.members else "is missing"
            raise StoreError(f"{self.path}: {name} {words}; it was altered, and nothing was taken in")
        for name, entry in entries.items():
            if self.members[name].file_size != entry.bytes or self._digest(name) != entry.sha256:
                raise StoreError(f"{self.path}: {name} was altered; nothing was taken in")

    def _digest(self, name: str) -> str:
        digest = hashlib.sha256()
        with _told(self.path, name), self.archive.open(self.members[name]) as file:
            while block := file.read(_BLOCK):
                digest.update(block)
        return digest.hexdigest()

    def unpack(self, name: str, target: Path) -> None:
        """Write a file of it to `target`, whose folder is made, for its owner only. Raises StoreError and OSError."""
        target.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        with _told(self.path, name), self.archive.open(self.members[name]) as source, new_file(target) as file:
            while block := source.read(_BLOCK):
                write_all(file, block)


@contextmanager
def open_parcel(path: Path, allowed: re.Pattern[str]) -> Iterator[Parcel]:
    """Open the archive at `path`, in which names have to match `allowed` wholly. Raises StoreError."""
    try:
        archive = zipfile.ZipFile(path)
    except (OSError, zipfile.BadZipFile, NotImplementedError, ValueError) as error:
        words = getattr(error, "strerror", None) or "it is no archive, or was cut short"
        raise StoreError(f"{path}: cannot be read: {words}") from error
    with archive:
        yield Parcel(path, archive, _check(path, archive.infolist(), allowed))


def _check(path: Path, infos: list[zipfile.ZipInfo], allowed: re.Pattern[str]) -> dict[str, zipfile.ZipInfo]:
    """Return the members by name. Raises StoreError for what no archive of this program has in it."""
    if len(infos) > MOST_FILES:
        raise StoreError(f"{path}: holds {len(infos)} files; no archive of this program has so many")
    members: dict[str, zipfile.ZipInfo] = {}
    for info in infos:
        name = info.filename
        # orig_filename: what stood there before the library cleaned it
        if not allowed.fullmatch(info.orig_filename) or name != info.orig_filename or name in members:
            raise StoreError(f"{path}: holds a file of the name {name[:80]!r}, which cannot be; nothing was taken in")
        if stat.S_IFMT(info.external_attr >> 16) not in (0, stat.S_IFREG) or info.flag_bits & 1:
            raise StoreError(f"{path}: {name} is no plain file; nothing was taken in")
        if _swells(info.file_size, info.compress_size):
            raise StoreError(f"{path}: {name} would swell to {info.file_size} bytes; nothing was taken in")
        members[name] = info
    # files that share one packed stream swell together
    total = sum(info.file_size for info in infos)
    if total > max(SMALL_BYTES, MOST_SWELLING * path.stat().st_size):
        raise StoreError(f"{path}: would swell to {total} bytes; nothing was taken in")
    return members


def _swells(size: int, packed: int) -> bool:
    return size > MOST_BYTES or (size > SMALL_BYTES and size > MOST_SWELLING * packed)


@contextmanager
def _told(path: Path, name: str) -> Iterator[None]:
    try:
        yield
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise StoreError(f"{path}: {name} was altered or cut short; nothing was taken in") from error


class Packer:
    """Writes an archive, and remembers size and SHA-256 of each file in it."""

    def __init__(self, file: IO[bytes], *, packed: bool = True) -> None:
        how = zipfile.ZIP_DEFLATED if packed else zipfile.ZIP_STORED
        self._archive = zipfile.ZipFile(file, "w", how)
        self._how = how
        self.entries: dict[str, Entry] = {}

    def add(self, name: str, data: bytes) -> None:
        """Add a file of the content `data`. Raises OSError."""
        self._note(name, len(data), hashlib.sha256(data).hexdigest())
        self._archive.writestr(self._info(name), data)

    def add_file(self, name: str, path: Path) -> None:
        """Add the file at `path`. Raises OSError."""
        digest, count = hashlib.sha256(), 0
        info = self._info(name)
        info.file_size = path.stat().st_size
        with path.open("rb") as source, self._archive.open(info, "w") as target:
            while block := source.read(_BLOCK):
                digest.update(block)
                count += len(block)
                target.write(block)
        self._note(name, count, digest.hexdigest())

    def __enter__(self) -> Packer:
        return self

    def __exit__(self, kind: type[BaseException] | None, *_error: object) -> None:
        """Write the archive's own list, which ends it; of one that failed nothing is used any more. Raises OSError."""
        with contextlib.suppress(*(() if kind is None else (OSError, ValueError))):
            self._archive.close()

    def _note(self, name: str, count: int, digest: str) -> None:
        self.entries[name] = Entry(name, count, digest)

    def _info(self, name: str) -> zipfile.ZipInfo:
        info = zipfile.ZipInfo(name, _STAMP)
        info.compress_type = self._how
        info.external_attr = (stat.S_IFREG | 0o600) << 16
        return info
