"""The record of two scales played back as two, on a clock that jumps."""

from __future__ import annotations

from pathlib import Path

import pytest

from weightshare.errors import DeviceError, RecordError
from weightshare.scales.capture import RawWriter
from weightshare.scales.link import RecordEndedError
from weightshare.scales.playing import PlayedTransport, play
from weightshare.scales.replay import ReplayTransport
from weightshare.scales.rig import StepClock

MS = 1_000_000


def open_both(path: Path) -> tuple[int, PlayedTransport, PlayedTransport]:
    """Return when the right one was opened, ns, and both."""
    left, right = play(path, StepClock())
    assert isinstance(left, PlayedTransport) and isinstance(right, PlayedTransport)
    left.open()
    left.read(0.0)
    right.open()
    opened_ns = right.now_ns()
    right.read(0.0)
    return opened_ns, left, right


@pytest.fixture
def record(tmp_path: Path) -> Path:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(1000 * MS)
        raw.up(1001 * MS, 1)
        raw.sent(1010 * MS, b"ping", 0)
        raw.received(1020 * MS, b"left")
        raw.received(1021 * MS, b"right", 1)
        raw.received(1022 * MS, b"left again")
        raw.down(1100 * MS, "pulled", 1)
        raw.up(1400 * MS, 1)
        raw.received(1410 * MS, b"right again", 1)
        raw.down(1500 * MS, "closed")
        raw.down(1501 * MS, "closed", 1)
        raw.end(1502 * MS)
    return tmp_path / "raw.wsr"


def test_each_scale_gets_its_own_at_the_instants_of_the_record(record: Path) -> None:
    opened_ns, left, right = open_both(record)
    said: list[bytes] = []
    left.said = said.append
    began_ns = opened_ns - MS
    assert left.read(0.05) == b"left"
    assert said == [b"ping"]
    assert left.now_ns() - began_ns == 20 * MS
    assert right.read(0.0) == b"", "the left one has not passed on yet what it was given"
    assert left.read(0.0) == b"", "it is the right one's turn"
    assert right.read(0.05) == b"right"
    assert right.now_ns() - began_ns == 21 * MS
    right.read(0.0)
    assert left.read(0.05) == b"left again"
    assert left.now_ns() - began_ns == 22 * MS


def test_a_link_that_was_lost_is_lost_again_and_comes_back(record: Path) -> None:
    _, left, right = open_both(record)
    assert left.read(0.05) == b"left"
    left.read(0.0)
    assert right.read(0.05) == b"right"
    right.read(0.0)
    assert left.read(0.05) == b"left again"
    left.read(0.0)
    with pytest.raises(DeviceError, match="in the record: pulled"):
        right.read(0.1)
    right.close()
    right.open()
    assert right.read(0.05) == b"right again"


def test_the_end_of_one_scale_does_not_hold_up_the_other(record: Path) -> None:
    _, left, right = open_both(record)
    while not right.read(0.05):
        left.read(0.05)
    with pytest.raises(DeviceError):
        while not right.read(0.05):
            left.read(0.05)
    right.close()
    right.open()
    with pytest.raises(RecordEndedError):
        while True:
            right.read(0.05)
            left.read(0.05)
    left.close()
    left.close()
    with pytest.raises(RecordEndedError):
        while True:
            right.read(0.05)


def test_a_record_that_was_cut_ends_where_it_was_cut(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(0)
        raw.up(0, 1)
        raw.received(0, b"right", 1)
        raw.received(MS, b"left")
    _, left, right = open_both(tmp_path / "raw.wsr")
    with pytest.raises(RecordEndedError, match="at its end"):
        right.read(0.05)
    assert left.read(0.05) == b"left"
    with pytest.raises(RecordEndedError, match="at its end"):
        left.read(0.05)


def test_the_record_of_one_scale_is_played_as_one(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(0)
        raw.received(MS, b"both")
    (transport,) = play(tmp_path / "raw.wsr")
    assert isinstance(transport, ReplayTransport)


def test_a_record_of_three_is_refused(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        for source in range(3):
            raw.up(0, source)
        raw.received(MS, b"one")
    with pytest.raises(RecordError, match="one or two scales"):
        play(tmp_path / "raw.wsr")
