"""A file sealed by a passphrase: a line that says what it is, a line with its lock, then sealed pieces."""

from __future__ import annotations

import json
from pathlib import Path

from weightshare.errors import StoreError
from weightshare.records.store.cipher import Sealed, check_passphrase, make_lock, open_lock
from weightshare.records.whole import new_file, write_all

FIRST_LINE = b"weightshare sealed 1\n"
_MOST_LOCK_BYTES = 4096


def is_envelope(path: Path) -> bool:
    """Return whether the file at `path` is sealed. Raises OSError."""
    with path.open("rb") as file:
        return file.read(len(FIRST_LINE)) == FIRST_LINE


def seal_file(source: Path, target: Path, passphrase: str) -> None:
    """Write `source` to `target`, sealed. Raises StoreError for a passphrase that is too short, and OSError."""
    lock, key = make_lock(check_passphrase(passphrase))
    line = json.dumps(lock).encode() + b"\n"
    with source.open("rb") as from_file, new_file(target) as to_file:
        write_all(to_file, FIRST_LINE + line)
        for piece in Sealed(key).seal_pieces(from_file, line.decode()):
            write_all(to_file, piece)


def unseal_file(source: Path, target: Path, passphrase: str) -> None:
    """Write what is sealed in `source` to `target`, for its owner only. Raises StoreError where the passphrase is wrong
    or the file was altered, and OSError."""
    with source.open("rb") as from_file, new_file(target) as to_file:
        line = from_file.read(len(FIRST_LINE)) and from_file.readline(_MOST_LOCK_BYTES)
        try:
            key = open_lock(json.loads(line), passphrase)
            for piece in Sealed(key).open_pieces(from_file, line.decode()):
                write_all(to_file, piece)
        except (StoreError, ValueError, RecursionError) as error:
            words = str(error) if isinstance(error, StoreError) else "was altered or cut short"
            raise StoreError(f"{source}: {words}; nothing was taken in") from error
