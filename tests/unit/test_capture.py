"""The raw record: what was written is read again, a cut is told from damage, and a full disk loses no whole entry."""

from __future__ import annotations

import errno
import json
import os
import stat
import subprocess
import sys
from io import FileIO
from pathlib import Path
from struct import pack
from typing import Any
from zlib import crc32

import pytest

from weightshare.errors import RecordError
from weightshare.scales.capture import (
    MAGIC,
    MAX_PAYLOAD,
    EntryKind,
    RawEntry,
    RawWriter,
    read_capture,
    read_raw,
)

HEAD_BYTES = 18
"""Kind, source, length, instant, and the checksum of these."""
ENTRIES = [
    RawEntry(EntryKind.NOTE, 0, 5, b'{"wall_clock": "2026-11-24T10:15:00+01:00"}'),
    RawEntry(EntryKind.UP, 0, 10, b""),
    RawEntry(EntryKind.TX, 0, 11, b"\x02\x81\x01\0"),
    RawEntry(EntryKind.RX, 0, 2**40, bytes(range(256))),
    RawEntry(EntryKind.UP, 1, 2**40 + 1, b""),
    RawEntry(EntryKind.RX, 1, 2**40 + 2, b"\0"),
    RawEntry(EntryKind.DOWN, 0, 2**40 + 3, "unplugged: Stecker gelöst".encode()),
]


def write(path: Path, *, end: bool = True) -> bytes:
    with RawWriter(path) as raw:
        raw.note(5, '{"wall_clock": "2026-11-24T10:15:00+01:00"}')
        raw.up(10)
        raw.sent(11, b"\x02\x81\x01\0")
        raw.received(2**40, bytes(range(256)))
        raw.up(2**40 + 1, source=1)
        raw.received(2**40 + 2, b"\0", source=1)
        raw.down(2**40 + 3, "unplugged: Stecker gelöst")
        if end:
            raw.end(2**40 + 4)
    return path.read_bytes()


def borders(data: bytes) -> list[int]:
    """Where each entry starts, and where the last one stops."""
    at = len(MAGIC)
    found = [at]
    while at < len(data):
        at += HEAD_BYTES + int.from_bytes(data[at + 2 : at + 6], "little") + 4
        found.append(at)
    return found


def test_what_was_written_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    write(path)
    record = read_raw(path)
    assert record.entries == ENTRIES
    assert record.complete
    assert not record.bare
    assert record.damage == ""
    assert record.sources == [0, 1]
    assert list(record.notes()) == [{"wall_clock": "2026-11-24T10:15:00+01:00"}]
    assert record.entries[-1].reason() == "unplugged: Stecker gelöst"


def test_the_bytes_are_those_that_the_protocol_page_shows(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    with RawWriter(path) as raw:
        raw.up(1_000_000_000)
        raw.received(1_000_000_001, bytes.fromhex("04 04 82 09 05 ec 3c 55 9d 00"))
    page = Path(__file__).parents[2] / "docs" / "wire-protocol.md"
    shown = page.read_text(encoding="utf-8").split("<!-- raw record -->")[1]
    hex_lines = [line for line in shown.splitlines() if line.startswith("    ")]
    assert path.read_bytes() == b"".join(map(bytes.fromhex, hex_lines))


@pytest.mark.skipif(os.name != "posix", reason="file modes are a POSIX thing")
def test_only_the_owner_may_read_a_record(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    write(path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_record_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    before = write(path)
    with pytest.raises(FileExistsError):
        RawWriter(path)
    assert path.read_bytes() == before


def test_an_open_file_may_be_handed_in_and_stays_open(tmp_path: Path) -> None:
    with FileIO(tmp_path / "raw", "wb") as file:
        with RawWriter(file) as raw:
            raw.up(10)
            raw.sync()
        assert not file.closed
    assert read_raw(tmp_path / "raw").entries == [RawEntry(EntryKind.UP, 0, 10, b"")]


def test_a_cut_at_any_byte_gives_all_whole_entries(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = write(path)
    stops = borders(data)
    for length in range(len(data)):
        path.write_bytes(data[:length])
        record = read_raw(path)
        whole = sum(stop <= length for stop in stops[1:])
        assert record.entries == ENTRIES[:whole], length
        assert not record.complete


def test_any_flipped_byte_is_noticed_with_the_file_and_the_place(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = write(path)
    starts = borders(data)[:-1]
    for at in range(len(data)):
        for flip in (0x01, 0x80):
            path.write_bytes(data[:at] + bytes([data[at] ^ flip]) + data[at + 1 :])
            with pytest.raises(RecordError) as caught:
                read_raw(path)
            start = max((start for start in starts if start <= at), default=0)
            assert f"byte {start}" in str(caught.value)
            assert str(path) in str(caught.value)
            assert "\n" not in str(caught.value)


def test_a_lenient_reader_gets_what_stands_before_the_damage(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = bytearray(write(path))
    start = borders(bytes(data))[3]
    data[start + HEAD_BYTES + 7] ^= 0x20
    path.write_bytes(data)
    record = read_raw(path, lenient=True)
    assert record.entries == ENTRIES[:3]
    assert not record.complete
    assert f"byte {start}" in record.damage


@pytest.mark.parametrize("taken_out", [1, 3])
def test_an_entry_taken_out_or_put_in_is_noticed(tmp_path: Path, taken_out: int) -> None:
    path = tmp_path / "raw"
    data = write(path)
    stops = borders(data)
    entry = data[stops[taken_out] : stops[taken_out + 1]]
    for altered in (data.replace(entry, b"", 1), data.replace(entry, entry * 2, 1)):
        path.write_bytes(altered)
        with pytest.raises(RecordError, match="belongs to other content"):
            read_raw(path)


def test_two_entries_changed_round_are_noticed(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = write(path)
    at = borders(data)
    path.write_bytes(data[: at[1]] + data[at[2] : at[3]] + data[at[1] : at[2]] + data[at[3] :])
    with pytest.raises(RecordError, match="belongs to other content"):
        read_raw(path)


def test_bytes_after_the_end_mark_are_noticed(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = write(path)
    path.write_bytes(data + b"x")
    with pytest.raises(RecordError, match=f"byte {len(data)}: something follows"):
        read_raw(path)


@pytest.mark.parametrize("kept", [0, 7, HEAD_BYTES, HEAD_BYTES + 100])
def test_zeros_that_a_power_cut_leaves_are_a_cut(tmp_path: Path, kept: int) -> None:
    path = tmp_path / "raw"
    data = write(path)
    start = borders(data)[3]
    path.write_bytes(data[: start + kept] + bytes(4096))
    record = read_raw(path)
    assert record.entries == ENTRIES[:3]
    assert not record.complete


@pytest.mark.parametrize("payload", [b"[1]", b"{", b"\xff"])
def test_a_note_that_is_no_json_object_is_damage_whatever_its_checksum(tmp_path: Path, payload: bytes) -> None:
    path = tmp_path / "raw"
    data = write(path, end=False)
    path.write_bytes(data + seal(pack("<BBIq", EntryKind.NOTE, 0, len(payload), 0), payload))
    with pytest.raises(RecordError, match=f"byte {len(data)}: a note is no JSON object"):
        read_raw(path)


def seal(head: bytes, payload: bytes) -> bytes:
    return head + pack("<I", crc32(head)) + payload + pack("<I", crc32(head + payload))


def test_an_absurd_length_is_damage_and_asks_for_no_memory(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = write(path, end=False)
    head = pack("<BBIq", EntryKind.RX, 0, 2**32 - 1, 0)
    path.write_bytes(data + head + pack("<I", crc32(head)))
    with pytest.raises(RecordError, match=f"byte {len(data)}: .*4294967295 bytes"):
        read_raw(path)


def test_another_version_is_told_from_no_record_at_all(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    path.write_bytes(b"weightshare raw record 2\nwhatever")
    for read in (read_raw, read_capture):
        with pytest.raises(RecordError, match="another version"):
            read(path)
    path.write_bytes(b"something else entirely, and more of it")
    with pytest.raises(RecordError, match="no raw record"):
        read_raw(path)


@pytest.mark.parametrize("read", [read_raw, read_capture])
def test_what_cannot_be_read_is_told_in_one_line(tmp_path: Path, read: Any) -> None:
    with pytest.raises(RecordError, match=r"missing: cannot be read \(No such file"):
        read(tmp_path / "missing")
    with pytest.raises(RecordError, match="is a folder"):
        read(tmp_path)


def test_bare_bytes_are_one_stream(tmp_path: Path) -> None:
    path = tmp_path / "bare"
    data = os.urandom(10_000)
    path.write_bytes(data)
    record = read_capture(path)
    assert record.bare
    assert record.complete
    assert record.entries[0] == RawEntry(EntryKind.UP, 0, 0, b"")
    assert b"".join(entry.payload for entry in record.entries) == data
    write(tmp_path / "raw")
    assert read_capture(tmp_path / "raw").entries == ENTRIES


def test_large_pieces_are_divided(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    data = os.urandom(MAX_PAYLOAD + 5)
    with RawWriter(path) as raw:
        raw.received(1, data)
        raw.sent(2, data)
        with pytest.raises(ValueError, match="holds up to"):
            raw.note(3, json.dumps({"long": "x" * MAX_PAYLOAD}))
        raw.end(4)
    record = read_raw(path)
    assert [len(entry.payload) for entry in record.entries] == [MAX_PAYLOAD, 5] * 2
    assert b"".join(entry.payload for entry in record.entries) == data * 2


@pytest.mark.parametrize("text", ["[1]", "words", ""])
def test_a_note_is_a_json_object(tmp_path: Path, text: str) -> None:
    with RawWriter(tmp_path / "raw") as raw, pytest.raises(ValueError, match=r"\w+"):
        raw.note(1, text)


class NarrowFile(FileIO):
    """A file on a disk with little room: it takes what fits and then fails, as a real one does."""

    room = 0

    def write(self, data: Any, /) -> int:
        part = memoryview(data)[: self.room]
        if not part:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self.room -= len(part)
        return super().write(part)


def test_a_full_disk_loses_no_whole_entry_and_tells_the_caller(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    with NarrowFile(path, "wb") as file:
        file.room = 300
        raw = RawWriter(file)
        raw.received(1, bytes(100))
        with pytest.raises(OSError, match="No space left"):
            raw.received(2, bytes(200))
        assert path.stat().st_size == len(MAGIC) + HEAD_BYTES + 100 + 4
        file.room = 1000  # somebody made room
        raw.received(3, bytes(30))
        raw.end(4)
    record = read_raw(path)
    assert [entry.arrival_ns for entry in record.entries] == [1, 3]
    assert record.complete


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_disk_that_is_full_from_the_start_is_told(tmp_path: Path) -> None:
    with FileIO("/dev/full", "wb") as full, pytest.raises(OSError, match="No space left"):
        RawWriter(full)


_DYING = """
import os, signal, sys
from pathlib import Path
from weightshare.scales.capture import RawWriter
raw = RawWriter(Path(sys.argv[1]))
for number in range(1000):
    raw.received(number, bytes([number % 256]) * 40)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL is a POSIX thing")
def test_a_killed_program_loses_nothing_that_was_written(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", _DYING, str(path)], cwd=root, timeout=60, check=False)
    assert done.returncode == -9
    record = read_raw(path)
    assert not record.complete
    assert [entry.arrival_ns for entry in record.entries] == list(range(1000))
