"""What a passphrase does: a memory-hard key, and bytes and files that nobody reads or alters without it.

Keys come from scrypt (RFC 7914) with 128 MiB of memory; bytes are sealed by AES-256-GCM (NIST SP 800-38D), each piece
with a nonce of its own. A file is sealed piece by piece, each bound to its place and to whether it is the last one, so
that pieces cannot be left out, doubled or moved. Both are the library's (`cryptography`).
"""

from __future__ import annotations

import hashlib
import hmac
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import IO, Any, Protocol

from weightshare.errors import StoreError
from weightshare.records.whole import new_file, write_all

WORK, BLOCK, LANES = 1 << 17, 8, 1
"""scrypt's N, r and p: 128 r N bytes of memory, 128 MiB."""
_MOST_WORK = 1 << 20
_KEY_BYTES, _SALT_BYTES, _NONCE_BYTES, _TAG_BYTES = 32, 16, 12, 16
PIECE_BYTES = 1 << 20
SHORTEST = 8
"""Characters that a passphrase has at least (NIST SP 800-63B, 5.1.1.1, from memory)."""
WRONG = "the passphrase is wrong, or this was altered"


class Box(Protocol):
    """How a store keeps bytes: as they are, or sealed. `about` says what they are, and has to be the same again."""

    is_sealed: bool

    def seal(self, data: bytes, about: str) -> bytes:
        """Return `data` as it is kept."""

    def open(self, data: bytes, about: str) -> bytes:
        """Return what was kept. Raises StoreError where that was altered, or is about something else."""

    def mark(self, text: str) -> str:
        """Return that by which `text` is found again; of a sealed store it tells nothing without the key."""

    def put(self, source: Path, target: Path, about: str) -> None:
        """Copy a file into the store, whole and synced. Raises OSError."""

    def get(self, source: Path, target: Path, about: str) -> None:
        """Copy a file out of the store. Raises OSError, and StoreError where it was altered."""


class Plain:
    """Keeps bytes as they are."""

    is_sealed = False

    def seal(self, data: bytes, about: str) -> bytes:
        """Return `data`."""
        return data

    def open(self, data: bytes, about: str) -> bytes:
        """Return `data`."""
        return data

    def mark(self, text: str) -> str:
        """Return `text`."""
        return text

    def put(self, source: Path, target: Path, about: str) -> None:
        """Copy a file into the store, whole and synced. Raises OSError."""
        with source.open("rb") as from_file, new_file(target) as to_file:
            while piece := from_file.read(PIECE_BYTES):
                write_all(to_file, piece)

    def get(self, source: Path, target: Path, about: str) -> None:
        """Copy a file out of the store. Raises OSError."""
        self.put(source, target, about)


class Sealed:
    """Keeps bytes sealed by a key of 32 bytes."""

    is_sealed = True

    def __init__(self, key: bytes) -> None:
        from cryptography.hazmat.primitives.ciphers.aead import AESGCM

        # two uses, two keys: what marks a code seals nothing
        self._cipher = AESGCM(_derive(key, "seal"))
        self._mark_key = _derive(key, "mark")

    def seal(self, data: bytes, about: str) -> bytes:
        """Return nonce, sealed bytes and tag."""
        nonce = os.urandom(_NONCE_BYTES)
        return nonce + self._cipher.encrypt(nonce, data, about.encode())

    def open(self, data: bytes, about: str) -> bytes:
        """Return what was sealed. Raises StoreError where it was altered, or is about something else."""
        from cryptography.exceptions import InvalidTag

        try:
            return self._cipher.decrypt(data[:_NONCE_BYTES], data[_NONCE_BYTES:], about.encode())
        except (InvalidTag, ValueError) as error:
            raise StoreError(WRONG) from error

    def mark(self, text: str) -> str:
        """Return a keyed digest of `text` (HMAC-SHA-256, RFC 2104)."""
        return hmac.new(self._mark_key, text.encode(), hashlib.sha256).hexdigest()

    def put(self, source: Path, target: Path, about: str) -> None:
        """Seal a file into the store, whole and synced. Raises OSError."""
        with source.open("rb") as from_file, new_file(target) as to_file:
            for piece in self.seal_pieces(from_file, about):
                write_all(to_file, piece)

    def get(self, source: Path, target: Path, about: str) -> None:
        """Copy a file out of the store, opened. Raises OSError, and StoreError where it was altered."""
        with source.open("rb") as from_file, new_file(target) as to_file:
            for piece in self.open_pieces(from_file, about):
                write_all(to_file, piece)

    def seal_pieces(self, file: IO[bytes], about: str) -> Iterator[bytes]:
        """Yield the pieces of `file`, sealed, in order."""
        for place, piece, is_last in _pieces(file, PIECE_BYTES):
            yield self.seal(piece, _about(about, place, is_last=is_last))

    def open_pieces(self, file: IO[bytes], about: str) -> Iterator[bytes]:
        """Yield the pieces of the sealed `file`, opened. Raises StoreError where one was altered, moved or left out."""
        for place, piece, is_last in _pieces(file, PIECE_BYTES + _NONCE_BYTES + _TAG_BYTES):
            yield self.open(piece, _about(about, place, is_last=is_last))


def _about(about: str, place: int, *, is_last: bool) -> str:
    return f"{about}\n{place}\n{'last' if is_last else 'more'}"


def _pieces(file: IO[bytes], size: int) -> Iterator[tuple[int, bytes, bool]]:
    """Yield place, bytes and whether it is the last of each piece of `file`; an empty file is one empty piece."""
    piece, place = file.read(size), 0
    while True:
        after = file.read(size)
        yield place, piece, not after
        if not after:
            return
        piece, place = after, place + 1


def _derive(key: bytes, use: str) -> bytes:
    """Return the key for one use (HKDF, RFC 5869)."""
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.kdf.hkdf import HKDF

    return HKDF(SHA256(), _KEY_BYTES, None, f"weightshare {use}".encode()).derive(key)


def check_passphrase(passphrase: str) -> str:
    """Return `passphrase`. Raises StoreError where it is too short to protect anything."""
    if len(passphrase) < SHORTEST:
        raise StoreError(
            f"the passphrase has {len(passphrase)} characters; it takes {SHORTEST} or more, best several words"
        )
    return passphrase


def make_lock(passphrase: str, key: bytes | None = None) -> tuple[dict[str, Any], bytes]:
    """Return what is kept of a new lock, and the key behind it; key: that of 32 bytes to put behind it, or a new one.

    The key itself is random: a passphrase that is changed leaves all that was sealed as it is.
    """
    salt, key = os.urandom(_SALT_BYTES), key or os.urandom(_KEY_BYTES)
    lock = {"kdf": "scrypt", "n": WORK, "r": BLOCK, "p": LANES, "salt": salt.hex()}
    lock["key"] = Sealed(_stretch(passphrase, lock)).seal(key, "key").hex()
    return lock, key


def open_lock(lock: Mapping[str, Any], passphrase: str) -> bytes:
    """Return the key behind `lock`. Raises StoreError where the passphrase is wrong or the lock is none of ours."""
    try:
        wrapped = bytes.fromhex(lock["key"])
        stretched = _stretch(passphrase, lock)
    except (KeyError, TypeError, ValueError) as error:
        raise StoreError("the lock was altered, or is of another version of the program") from error
    return Sealed(stretched).open(wrapped, "key")


def _stretch(passphrase: str, lock: Mapping[str, Any]) -> bytes:
    """Return the key that a passphrase stretches to. Raises ValueError for a lock that asks for what it should not."""
    import unicodedata

    from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

    work, block, lanes, salt = int(lock["n"]), int(lock["r"]), int(lock["p"]), bytes.fromhex(lock["salt"])
    if lock["kdf"] != "scrypt" or not 1 << 14 <= work <= _MOST_WORK or (block, lanes) != (BLOCK, LANES):
        raise ValueError("a lock that takes too little work, or too much memory")
    if len(salt) != _SALT_BYTES:
        raise ValueError("a salt of another length")
    # one and the same word, however a keyboard composes its letters
    plain = unicodedata.normalize("NFC", passphrase).encode()
    return Scrypt(salt=salt, length=_KEY_BYTES, n=work, r=block, p=lanes).derive(plain)
