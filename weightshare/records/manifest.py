"""The seal of a finished session: the size and SHA-256 of each of its files, written last."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterable
from dataclasses import asdict, dataclass
from enum import StrEnum
from pathlib import Path

from weightshare.errors import RecordError
from weightshare.records.whole import write_whole

MANIFEST_NAME = "manifest.json"
SCHEMA = "weightshare.session/1"
_BLOCK = 1 << 20


class Ending(StrEnum):
    """How a session came to its end."""

    COMPLETE = "complete"
    RECOVERED = "recovered"
    """The program was ended in the middle; the rest was made from the raw record afterwards."""
    CUT_SHORT = "cut short"
    """Recording stopped before practice did (a full disk); what is there is sound."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One file of a session: its name, its size in bytes, its SHA-256 in hexadecimal digits."""

    name: str
    bytes: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a finished session is made of. `program` is the version that finished it."""

    ending: Ending
    program: str
    files: tuple[Entry, ...]


def seal(folder: Path, names: Iterable[str], ending: Ending, program: str) -> Manifest:
    """Write the manifest over the files `names` of `folder`, and return it. Raises OSError."""
    manifest = Manifest(ending, program, tuple(_measure(folder / name) for name in sorted(names)))
    write_whole(folder / MANIFEST_NAME, _to_bytes(manifest))
    return manifest


def is_sealed(folder: Path) -> bool:
    """Return whether the session in `folder` was brought to its end."""
    return (folder / MANIFEST_NAME).exists()


def verify(folder: Path, only: Collection[str] | None = None) -> Manifest:
    """Return the manifest of `folder` after each of its files was found as it was sealed.

    only: the names of those that are looked at; None: all. Raises RecordError, which names the file, where one is
    missing, was cut short or altered by as much as one byte, and where one of `only` was never sealed.
    """
    manifest = read_manifest(folder)
    for name in sorted(set(only or ()) - {entry.name for entry in manifest.files}):
        raise RecordError(f"{folder / name}: is no part of its session; this session cannot be trusted")
    for entry in manifest.files:
        if only is None or entry.name in only:
            _check(folder / entry.name, entry)
    return manifest


def read_manifest(folder: Path) -> Manifest:
    """Return the manifest of `folder`, its own seal checked. Raises RecordError."""
    path = folder / MANIFEST_NAME
    try:
        data = path.read_bytes()
        value = json.loads(data)
        files = tuple(Entry(str(row["name"]), int(row["bytes"]), str(row["sha256"])) for row in value["files"])
        manifest = Manifest(Ending(value["ending"]), str(value["program"]), files)
    except FileNotFoundError as error:
        raise RecordError(f"{path}: is missing; this session was not brought to its end") from error
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise RecordError(f"{path}: was altered or cut short; this session cannot be trusted") from error
    # What was read has to be, byte for byte, what would be written: no alteration is too small to be seen.
    if data != _to_bytes(manifest) or any(Path(entry.name).name != entry.name for entry in files):
        raise RecordError(f"{path}: was altered or cut short; this session cannot be trusted")
    return manifest


def _to_bytes(manifest: Manifest) -> bytes:
    value: dict[str, object] = {
        "schema": SCHEMA,
        "ending": manifest.ending.value,
        "program": manifest.program,
        "files": [asdict(entry) for entry in manifest.files],
    }
    value["seal"] = hashlib.sha256(json.dumps(value).encode()).hexdigest()
    return json.dumps(value, indent=1).encode() + b"\n"


def _measure(path: Path) -> Entry:
    digest = hashlib.sha256()
    count = 0
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            digest.update(block)
            count += len(block)
    return Entry(path.name, count, digest.hexdigest())


def _check(path: Path, expected: Entry) -> None:
    try:
        found = _measure(path)
    except FileNotFoundError as error:
        raise RecordError(f"{path}: is missing from its session; this session cannot be trusted") from error
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    if found.bytes < expected.bytes:
        raise RecordError(f"{path}: was cut short, {found.bytes} of its {expected.bytes} bytes are there")
    if found != expected:
        raise RecordError(f"{path}: was altered since the session ended; this session cannot be trusted")
