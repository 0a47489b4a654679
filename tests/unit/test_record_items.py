"""From a raw record to the pipeline's items."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from weightshare.errors import RecordError
from weightshare.exercise import SetSpan
from weightshare.model import Channel, Chunk, Condition, Identity, LinkDown, LinkUp, Quantity, Side
from weightshare.records.raw import read_record, tell_fault, tell_practice, tell_set
from weightshare.scales.capture import RawWriter
from weightshare.scales.frame import encode, encode_samples, to_stream
from weightshare.scales.message import Echo, Reply, Result

SCALE = Identity("00000000000000aa", (1, 0, 0), 1, 1000, 100.0, (Channel(Quantity.FORCE, Side.LEFT),))


def samples(number: int) -> bytes:
    return to_stream(encode_samples(number, 50 * number, 10, np.full((5, 1), number, np.int32)))


def write(path: Path, *, end: bool = True) -> None:
    stream = to_stream(encode(SCALE)) + to_stream(encode(Reply(0x82, 1, Result.DONE)))
    with RawWriter(path) as raw:
        raw.up(10)
        raw.sent(11, b"never fed to the pipeline")
        raw.received(12, stream[:7])
        raw.note(12, tell_practice(1.25))
        raw.received(13, stream[7:] + samples(0) + samples(1)[:4])
        raw.sent(14, b"nor this")
        raw.received(
            15, samples(1)[4:] + to_stream(encode(Echo(1, 2))) + to_stream(encode(Condition(0, 0, None, 0, 0)))
        )
        raw.down(16, "unplugged")
        raw.received(17, samples(2))
        raw.up(18)
        raw.received(19, samples(3) + to_stream(encode(SCALE)) + samples(4))
        raw.note(20, tell_practice(0.1 + 0.2))
        if end:
            raw.end(21)


def test_items_come_in_order_with_their_arrivals(tmp_path: Path) -> None:
    write(tmp_path / "raw.wsr")
    record = read_record(tmp_path / "raw.wsr", whole=True)
    kinds = [type(item) for item in record.items]
    assert kinds == [LinkUp, Identity, Chunk, Condition, LinkDown, LinkUp, Identity, Chunk]
    assert record.items[0] == LinkUp(10)
    assert record.items[4] == LinkDown(16, "unplugged")
    chunk = record.items[2]
    assert isinstance(chunk, Chunk)
    assert chunk.arrival_ns.tolist() == [13, 15]
    assert chunk.sequence.tolist() == [0, 1]
    # a new stream has to say anew who speaks: what comes before that is dropped
    assert isinstance(record.items[-1], Chunk)
    assert record.items[-1].sequence.tolist() == [4]


def test_the_newest_remark_says_where_practice_began_to_the_last_bit(tmp_path: Path) -> None:
    write(tmp_path / "raw.wsr")
    assert read_record(tmp_path / "raw.wsr", whole=True).counting_from_s == 0.1 + 0.2


def test_without_a_remark_all_counts(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(1)
        raw.note(2, '{"something": "else"}')
        raw.end(3)
    assert read_record(tmp_path / "raw.wsr", whole=True).counting_from_s is None


def test_a_record_cut_short_is_read_as_far_as_it_goes_unless_it_has_to_be_whole(tmp_path: Path) -> None:
    write(tmp_path / "raw.wsr", end=False)
    assert not read_record(tmp_path / "raw.wsr", whole=False).complete
    with pytest.raises(RecordError, match=r"raw\.wsr: was cut short"):
        read_record(tmp_path / "raw.wsr", whole=True)


def test_a_set_is_told_where_it_begins_and_again_where_it_ends(tmp_path: Path) -> None:
    first, second = SetSpan(1, 0.1 + 0.2, blind=True), SetSpan(2, 95.5, working=Side.LEFT)
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.note(1, tell_set(first))
        raw.note(2, tell_fault(17.5))
        raw.note(3, tell_set(replace(first, to_s=31.7)))
        raw.note(4, tell_set(second))
        raw.end(5)
    record = read_record(tmp_path / "raw.wsr", whole=True)
    assert record.sets == (SetSpan(1, 0.1 + 0.2, 31.7, blind=True), second)
    assert record.faults_s == (17.5,)


@pytest.mark.parametrize("remark", ['{"set": 3}', '{"fault_s": null}', '{"practice_from_s": "soon"}'])
def test_a_remark_that_tells_nothing_is_refused_with_the_file_named(tmp_path: Path, remark: str) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.note(1, remark)
        raw.end(2)
    with pytest.raises(RecordError, match=r"raw\.wsr: was altered"):
        read_record(tmp_path / "raw.wsr", whole=True)
