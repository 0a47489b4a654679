"""The raw record of a session: every byte that went over a link, in both directions, with the instant it went.

An append-only file; docs/wire-protocol.md, "The raw record", describes it byte by byte.
"""

from __future__ import annotations

import contextlib
import json
import os
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum
from hashlib import sha256
from io import FileIO
from pathlib import Path
from typing import Any, NamedTuple, Self
from zlib import crc32

from weightshare.errors import RecordError

FAMILY = b"weightshare raw record "
MAGIC = FAMILY + b"1\n"
MAX_PAYLOAD = 1 << 20
"""Bytes of one entry's payload; more is damage, and never a reason to ask for that much memory."""

_HEAD = struct.Struct("<BBIq")
_CRC = struct.Struct("<I")
_PAYLOAD_AT = _HEAD.size + _CRC.size
_ZERO_TAIL = 8
"""So many zero bytes at the end are what a power cut leaves of bytes that never reached the disk."""
_PIECE = 4096


class EntryKind(IntEnum):
    """What an entry of the record tells."""

    RX = 1
    TX = 2
    UP = 3
    DOWN = 4
    NOTE = 5
    END = 6


_KINDS = {int(kind): kind for kind in EntryKind}


class RawEntry(NamedTuple):
    """One entry: what happened on which source, when on the host's monotonic clock, and its bytes."""

    kind: EntryKind
    source: int
    arrival_ns: int
    payload: bytes

    def reason(self) -> str:
        """Why the link went down, of a DOWN entry."""
        return self.payload.decode(errors="replace")

    def note(self) -> dict[str, Any]:
        """The JSON object of a NOTE or END entry."""
        content: dict[str, Any] = json.loads(self.payload)
        return content


@dataclass(frozen=True, slots=True)
class RawRecord:
    """What a raw record, or a file of bare stream bytes, holds."""

    path: Path
    entries: list[RawEntry]
    """All entries but END, in order. Bare bytes are one UP and then RX entries, all at 0 ns."""
    complete: bool
    """Whether the record was brought to its end. Bare bytes always are: nothing tells where they should end."""
    bare: bool = False
    damage: str = ""
    """What is wrong with the file, in words; empty where it is sound or merely cut."""

    @property
    def sources(self) -> list[int]:
        """The sources that entries come from, in increasing order."""
        return sorted({entry.source for entry in self.entries})

    def notes(self) -> Iterator[dict[str, Any]]:
        """The NOTE entries' objects, in order."""
        return (entry.note() for entry in self.entries if entry.kind is EntryKind.NOTE)


class RawWriter:
    """Writes a raw record, entry by entry, straight to the file: what was written outlives the program.

    `target` is the path of a file that does not exist yet, made readable for its owner only; or an unbuffered file that
    is open and empty, and stays the caller's to close. One thread alone may use it. Every method raises OSError where
    the disk fails, after which the file still ends with a whole entry, if the disk lets it.
    """

    def __init__(self, target: Path | FileIO) -> None:
        self._file = _create(target) if isinstance(target, Path) else target
        self._owned = isinstance(target, Path)
        self._size = 0
        self._entries = 0
        self._hash = sha256()
        self._write(MAGIC)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def up(self, arrival_ns: int, source: int = 0) -> None:
        """The link to `source` was opened; a new byte stream begins."""
        self._put(EntryKind.UP, source, arrival_ns, b"")

    def down(self, arrival_ns: int, reason: str = "", source: int = 0) -> None:
        """The link to `source` was lost or closed."""
        self._put(EntryKind.DOWN, source, arrival_ns, reason.encode())

    def received(self, arrival_ns: int, data: bytes, source: int = 0) -> None:
        """Bytes came from the scale."""
        for start in range(0, len(data), MAX_PAYLOAD):
            self._put(EntryKind.RX, source, arrival_ns, data[start : start + MAX_PAYLOAD])

    def sent(self, arrival_ns: int, data: bytes, source: int = 0) -> None:
        """Bytes went to the scale."""
        for start in range(0, len(data), MAX_PAYLOAD):
            self._put(EntryKind.TX, source, arrival_ns, data[start : start + MAX_PAYLOAD])

    def note(self, arrival_ns: int, text: str, source: int = 0) -> None:
        """Write a remark: a JSON object, as text. Raises ValueError where it is none."""
        if not isinstance(json.loads(text), dict):
            raise ValueError(f"a note is a JSON object, not {text!r}")
        self._put(EntryKind.NOTE, source, arrival_ns, text.encode())

    def end(self, arrival_ns: int) -> None:
        """Write the end mark; nothing may follow it."""
        seal = {"entries": self._entries, "sha256": self._hash.hexdigest()}
        self._put(EntryKind.END, 0, arrival_ns, json.dumps(seal).encode())

    def sync(self) -> None:
        """Have the disk keep what was written, through a power cut too."""
        os.fsync(self._file.fileno())

    def close(self) -> None:
        """Close the file, where it was opened here; closing twice is nothing. Without `end` it counts as cut."""
        if self._owned:
            self._file.close()

    def _put(self, kind: EntryKind, source: int, arrival_ns: int, payload: bytes) -> None:
        if len(payload) > MAX_PAYLOAD:
            raise ValueError(f"an entry holds up to {MAX_PAYLOAD} bytes, not {len(payload)}")
        head = _HEAD.pack(kind, source, len(payload), arrival_ns)
        check = crc32(head)
        self._write(head + _CRC.pack(check) + payload + _CRC.pack(crc32(payload, check)))
        self._entries += 1

    def _write(self, data: bytes) -> None:
        rest = memoryview(data)
        try:
            while rest:
                rest = rest[self._file.write(rest) or 0 :]
        except OSError:
            self._take_back()
            raise
        self._size += len(data)
        self._hash.update(data)

    def _take_back(self) -> None:
        """A part of an entry in the middle of a record would be damage; at its end it is only a cut."""
        with contextlib.suppress(OSError):
            self._file.seek(self._size)
            self._file.truncate()


def _create(path: Path) -> FileIO:
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    return FileIO(os.open(path, flags, 0o600), "wb")


def read_raw(path: Path, *, lenient: bool = False) -> RawRecord:
    """Return the raw record in `path`.

    A record that was cut (no end mark, a last entry that is not whole) gives all whole entries and `complete` False.
    One that was altered raises RecordError, which names the file and the byte where the altered entry starts; or, when
    `lenient`, gives all entries before it with `damage` in words. A file that is none or cannot be read: RecordError.
    """
    return _read_record(path, _read_bytes(path), lenient)


def read_capture(path: Path, *, lenient: bool = False) -> RawRecord:
    """Return the capture in `path`: a raw record, or the bare bytes of one scale's stream. Raises as `read_raw`."""
    data = _read_bytes(path)
    if data.startswith(FAMILY):
        return _read_record(path, data, lenient)
    pieces = (data[start : start + _PIECE] for start in range(0, len(data), _PIECE))
    opened = RawEntry(EntryKind.UP, 0, 0, b"")
    return RawRecord(path, [opened, *(RawEntry(EntryKind.RX, 0, 0, piece) for piece in pieces)], True, bare=True)


def _read_record(path: Path, data: bytes, lenient: bool) -> RawRecord:
    if not data.startswith(MAGIC):
        if MAGIC.startswith(data):
            return RawRecord(path, [], complete=False)
        raise RecordError(_tell_family(path, data))
    entries: list[RawEntry] = []
    try:
        complete = _read_entries(data, entries)
    except _DamageError as damage:
        words = f"{path}: the record was altered at byte {damage.at}: {damage}"
        if not lenient:
            raise RecordError(words) from damage
        return RawRecord(path, entries, complete=False, damage=words)
    return RawRecord(path, entries, complete)


class _DamageError(Exception):
    def __init__(self, at: int, words: str) -> None:
        super().__init__(words)
        self.at = at


def _read_bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except IsADirectoryError as error:
        raise RecordError(f"{path}: is a folder; name the capture in it") from error
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error


def _tell_family(path: Path, data: bytes) -> str:
    if data.startswith(FAMILY):
        return f"{path}: byte 0 begins a raw record of another version of this program; read it with that version"
    return f"{path}: is no raw record: byte 0 does not begin one"


def _read_entries(data: bytes, entries: list[RawEntry]) -> bool:
    """Put the entries of `data` into `entries`; return whether the end mark was met. Raises _DamageError."""
    at = len(MAGIC)
    while at < len(data):
        entry = _read_entry(data, at)
        if entry is None:
            return False
        stop = at + _PAYLOAD_AT + len(entry.payload) + _CRC.size
        if entry.kind is EntryKind.END:
            _check_end(data, at, stop, entry, len(entries))
            return True
        entries.append(entry)
        at = stop
    return False


def _read_entry(data: bytes, at: int) -> RawEntry | None:
    """Return the entry that starts at `at`, or None where the file was cut in it. Raises _DamageError."""
    payload_at = at + _PAYLOAD_AT
    if payload_at > len(data):
        return None
    code, source, size, arrival_ns = _HEAD.unpack_from(data, at)
    check = crc32(data[at : at + _HEAD.size])
    if check != _CRC.unpack_from(data, at + _HEAD.size)[0]:
        _check_cut(data, at, payload_at, "an entry's head does not fit its checksum")
        return None
    kind = _KINDS.get(code)
    if kind is None or size > MAX_PAYLOAD:
        raise _DamageError(at, f"an entry of kind {code} and {size} bytes is none that this version writes")
    stop = payload_at + size
    if stop + _CRC.size > len(data):
        return None
    payload = data[payload_at:stop]
    # The checksum runs on from the head's, so that a head goes with its own payload only.
    if crc32(payload, check) != _CRC.unpack_from(data, stop)[0]:
        _check_cut(data, at, stop + _CRC.size, "an entry does not fit its checksum")
        return None
    if kind >= EntryKind.NOTE and not _holds_object(payload):
        raise _DamageError(at, "a note is no JSON object")
    return RawEntry(kind, source, arrival_ns, payload)


def _holds_object(payload: bytes) -> bool:
    try:
        return isinstance(json.loads(payload), dict)
    except ValueError:
        return False


def _check_cut(data: bytes, at: int, stop: int, words: str) -> None:
    """Raise _DamageError unless all from within the entry on is zero, as a power cut leaves what it cut."""
    written = len(data.rstrip(b"\0"))
    if written >= stop or len(data) - written < _ZERO_TAIL:
        raise _DamageError(at, words)


def _check_end(data: bytes, at: int, stop: int, entry: RawEntry, entries: int) -> None:
    seal = entry.note()
    if stop != len(data):
        raise _DamageError(stop, "something follows its end mark")
    if seal.get("entries") != entries or seal.get("sha256") != sha256(data[:at]).hexdigest():
        raise _DamageError(at, "its end mark belongs to other content")
