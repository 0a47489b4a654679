"""The receiving end of a link: live and from its record, the same is heard."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.model import Channel, Chunk, Condition, Identity, LinkDown, LinkUp, Quantity, RoundTrip, Side
from weightshare.scales.capture import EntryKind, RawEntry, RawRecord, RawWriter, read_capture, read_raw
from weightshare.scales.decoder import merge
from weightshare.scales.frame import Echo, Kind, Ping, Reply, Result, Start, encode, encode_samples, to_stream
from weightshare.scales.receiver import Heard, Receiver, replay

SCALE = Identity(
    "0011223344556677", (1, 0, 0), 1, 1000, 100.0, tuple(Channel(Quantity.FORCE, side) for side in Side), "plates"
)


def samples(number: int, rows: int = 5) -> bytes:
    readings = np.arange(2 * rows, dtype=np.int32).reshape(rows, 2) * 1000 + number
    return to_stream(encode_samples(number, number * rows * 10, 10, readings))


def told(*messages: Identity | Condition | Reply | Echo) -> bytes:
    return b"".join(to_stream(encode(message)) for message in messages)


def as_values(items: Sequence[Heard]) -> list[object]:
    return [
        [getattr(item, name).tolist() for name in Chunk.__slots__] if isinstance(item, Chunk) else item
        for item in items
    ]


def test_a_link_is_heard_from_up_to_down() -> None:
    receiver = Receiver()
    assert receiver.up(1) == [LinkUp(1)]
    assert receiver.feed(told(SCALE), 2) == [SCALE]
    (chunk,) = receiver.feed(samples(0), 3)
    assert isinstance(chunk, Chunk)
    assert chunk.arrival_ns.tolist() == [3]
    assert receiver.down(4, "unplugged") == [LinkDown(4, "unplugged")]


def test_after_a_new_link_the_scale_has_to_say_anew_who_it_is() -> None:
    receiver = Receiver()
    receiver.up(1)
    receiver.feed(told(SCALE) + samples(0) + samples(1)[:9], 2)
    receiver.down(3)
    receiver.up(4)
    assert receiver.feed(samples(1)[9:] + samples(2), 5) == []
    assert receiver.decoder.identity is None
    assert receiver.feed(told(SCALE), 6) == [SCALE]
    assert (receiver.counts.damaged, receiver.counts.before_identity) == (2, 1)


def write_session(path: Path) -> list[Heard]:
    """Write the record of a session with a lost link; return what was heard while it went on."""
    state, echo = Condition(5, 3300, None, 0, 0), Echo(7, 8)
    reply = Reply(Kind.START, 1, Result.DONE)
    receiver = Receiver()
    heard: list[Heard] = []
    with RawWriter(path) as raw:
        raw.note(0, '{"target_percent": 75}')
        for start in (1000, 2000):
            raw.up(start)
            heard += receiver.up(start)
            raw.sent(start + 1, to_stream(encode(Start(1))))
            stream = told(SCALE, reply) + b"".join(map(samples, range(30))) + told(state, echo) + samples(30)
            for number, at in enumerate(range(0, len(stream), 37), start=start + 2):
                raw.received(number, stream[at : at + 37])
                raw.sent(number, to_stream(encode(Start(2))))
                heard += receiver.feed(stream[at : at + 37], number)
            raw.received(start + 900, b"another scale's", source=1)
            raw.down(start + 950, "unplugged")
            heard += receiver.down(start + 950, "unplugged")
        raw.end(3000)
    return heard


def test_a_record_is_heard_as_it_was_live(tmp_path: Path) -> None:
    live = write_session(tmp_path / "raw")
    receiver = Receiver()
    replayed = replay(read_raw(tmp_path / "raw"), receiver=receiver)
    assert as_values(replayed) == as_values(merge(live))
    kinds = [LinkUp, Identity, Reply, Chunk, Condition, Echo, Chunk, LinkDown] * 2
    assert [type(item) for item in replayed] == kinds
    assert receiver.counts.samples == 62
    assert receiver.counts.dropped == 0


def test_a_ping_and_its_echo_are_a_round_trip_live_and_later(tmp_path: Path) -> None:
    ping, receiver = to_stream(encode(Ping(7))), Receiver()
    heard: list[Heard] = []
    with RawWriter(tmp_path / "raw") as raw:
        for start in (1000, 5000):
            raw.up(start)
            heard += receiver.up(start)
            raw.sent(start + 1, ping[:4])
            receiver.sent(ping[:4], start + 1)
            raw.sent(start + 2, ping[4:])
            receiver.sent(ping[4:], start + 2)
            for number, data in enumerate((told(SCALE), samples(0), told(Echo(7, 88), Echo(7, 89), Echo(9, 90)))):
                raw.received(start + 10 + number, data)
                heard += receiver.feed(data, start + 10 + number)
        raw.end(9000)
    assert as_values(replay(read_raw(tmp_path / "raw"))) == as_values(heard)
    # an answer that comes twice, or to what nobody asked, is no round trip
    assert [item for item in heard if isinstance(item, RoundTrip)] == [
        RoundTrip(1002, 1012, 88),
        RoundTrip(5002, 5012, 88),
    ]
    assert [item for item in heard if isinstance(item, Echo)] == [Echo(7, 89), Echo(9, 90)] * 2


def test_an_echo_from_before_its_ping_is_no_round_trip() -> None:
    receiver = Receiver()
    receiver.up(0)
    receiver.sent(to_stream(encode(Ping(7))), 50)
    assert receiver.feed(told(Echo(7, 88)), 49) == [Echo(7, 88)]
    assert receiver.feed(told(Echo(7, 88)), 51) == [RoundTrip(50, 51, 88)]


def test_each_source_is_heard_by_itself(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw") as raw:
        for source in (0, 1):
            raw.up(source, source)
            raw.received(10 + source, told(SCALE)[:20], source)
        for source in (0, 1):
            raw.received(20 + source, told(SCALE)[20:] + samples(source), source)
    record = read_raw(tmp_path / "raw")
    for source in (0, 1):
        up, identity, chunk = replay(record, source)
        assert (up, identity) == (LinkUp(source), SCALE)
        assert isinstance(chunk, Chunk)
        assert chunk.sequence.tolist() == [source]
    assert replay(record, source=2) == []


def test_bare_bytes_are_heard_as_one_link(tmp_path: Path) -> None:
    path = tmp_path / "bare"
    path.write_bytes(b"".join(map(samples, range(5))) + told(SCALE) + b"".join(map(samples, range(5, 500))))
    up, identity, chunk = replay(read_capture(path))
    assert (up, identity) == (LinkUp(0), SCALE)
    assert isinstance(chunk, Chunk)
    assert chunk.sequence.tolist() == list(range(5, 500))


def test_a_record_that_was_cut_gives_what_came_before(tmp_path: Path) -> None:
    path = tmp_path / "raw"
    live = write_session(path)
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 3])
    record = read_raw(path)
    assert not record.complete
    replayed = replay(record)
    chunk = next(item for item in replayed if isinstance(item, Chunk))
    whole = next(item for item in merge(live) if isinstance(item, Chunk))
    assert 0 < len(chunk.sequence) <= len(whole.sequence)
    np.testing.assert_array_equal(chunk.readings, whole.readings[: len(chunk.sequence)])


events = st.lists(
    st.one_of(
        st.integers(0, 200).map(samples),
        st.just(told(SCALE)),
        st.just(told(Condition(1, 2, 3.0, 4, 5))),
        st.binary(min_size=1, max_size=20),
        st.sampled_from([EntryKind.UP, EntryKind.DOWN]),
    ),
    max_size=40,
)


@given(events, st.lists(st.integers(1, 60), min_size=1, max_size=20))
@settings(deadline=None, max_examples=60)
def test_live_in_any_pieces_and_replayed_is_the_same(events: list[bytes | EntryKind], sizes: list[int]) -> None:
    entries: list[RawEntry] = []
    stream = b""
    for event in [*events, EntryKind.DOWN]:
        if isinstance(event, bytes):
            stream += event
            continue
        borders = [0, *np.cumsum(np.resize(sizes, len(stream))).tolist()]
        pieces = [stream[start:stop] for start, stop in pairwise(borders) if start < len(stream)]
        entries += [RawEntry(EntryKind.RX, 0, len(entries) + number, piece) for number, piece in enumerate(pieces)]
        entries.append(RawEntry(event, 0, len(entries), b""))
        stream = b""
    live, receiver = Receiver(), Receiver()
    heard: list[Heard] = []
    for entry in entries:
        if entry.kind is EntryKind.RX:
            heard += live.feed(entry.payload, entry.arrival_ns)
        else:
            heard += live.up(entry.arrival_ns) if entry.kind is EntryKind.UP else live.down(entry.arrival_ns)
    replayed = replay(RawRecord(Path("none"), entries, complete=True), receiver=receiver)
    assert as_values(replayed) == as_values(merge(heard))
    assert receiver.counts == live.counts


def test_the_record_of_an_hour_is_read_and_replayed_in_about_a_second(tmp_path: Path) -> None:
    import time

    path = tmp_path / "raw"
    frame = samples(0)
    with RawWriter(path) as raw:
        raw.up(0)
        raw.received(1, told(SCALE))
        for number in range(72_000):
            raw.received(number * 50_000_000, frame)
        raw.end(1)
    began_s = time.process_time()
    items = replay(read_raw(path))
    spent_s = time.process_time() - began_s
    assert isinstance(items[-1], Chunk)
    assert items[-1].readings.shape == (72_000, 5, 2)
    # Two thirds of a second where this was written; the bound leaves room for a slower machine.
    assert spent_s < 4.0


def test_only_its_own_bytes_are_heard_whatever_lies_between() -> None:
    entries = [
        RawEntry(EntryKind.RX, 0, 1, told(SCALE) + samples(0)[:4]),
        RawEntry(EntryKind.TX, 0, 2, b"\0\0\0"),
        RawEntry(EntryKind.NOTE, 0, 3, b"{}"),
        RawEntry(EntryKind.RX, 0, 4, samples(0)[4:]),
    ]
    identity, chunk = replay(RawRecord(Path("none"), entries, complete=True))
    assert identity == SCALE
    assert isinstance(chunk, Chunk)
    assert chunk.arrival_ns.tolist() == [4]


@pytest.mark.parametrize("reason", ["", "closed", "Stecker gelöst"])
def test_the_reason_of_a_lost_link_is_kept(tmp_path: Path, reason: str) -> None:
    with RawWriter(tmp_path / "raw") as raw:
        raw.down(5, reason)
    assert replay(read_raw(tmp_path / "raw")) == [LinkDown(5, reason)]
