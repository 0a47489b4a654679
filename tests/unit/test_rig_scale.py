"""The scale's side of the protocol, byte for byte, tick for tick, with time handed in."""

from __future__ import annotations

import struct

import pytest

from tests.unit.wire import BLINK, PING, SECOND, START, STOP, WHO, ask, bodies, command, make, samples, start
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.cell import LEFT_ID, PAIR_ID, RIGHT_ID
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene


def test_who_is_answered_with_the_identity_byte_for_byte() -> None:
    channels = b"".join(struct.pack("<BBhh", 1, side, 0, y) for side in (1, 2) for y in (120, -120))
    channels += b"".join(struct.pack("<BBhh", 2, side, 0, -90) for side in (1, 2))
    name = b"virtual pair"
    expected = b"\x01\x01" + bytes.fromhex(PAIR_ID) + bytes((1, 0, 0)) + struct.pack("<HIHB", 1, 1_000_000, 1000, 6)
    assert ask(make(), SECOND, command(WHO, 7)) == [expected + channels + bytes([len(name)]) + name]


@pytest.mark.parametrize(("device_id", "side"), [(LEFT_ID, 1), (RIGHT_ID, 2)])
def test_a_separate_scale_has_the_channels_of_its_side(device_id: str, side: int) -> None:
    scale = VirtualScale(Scene(Cast(PEOPLE["steady"], FAULTS["clean"], Task())), device_id)
    (body,) = ask(scale, SECOND, command(WHO, 7))
    assert body[2:10].hex() == device_id
    assert body[21] == 3
    assert [(body[22 + at], body[23 + at]) for at in (0, 6, 12)] == [(1, side), (1, side), (2, side)]


@pytest.mark.parametrize(
    ("data", "answer"),
    [
        (command(START, 9, 0x20, 0x03), (START, 9, 0)),
        (command(STOP, 3), (STOP, 3, 0)),
        (command(BLINK, 4, 0xE8, 0x03), (BLINK, 4, 0)),
        (command(0x90, 5, 1, 2, 3), (0x90, 5, 1)),
        (command(0x90), (0x90, 0, 1)),
        (command(0x02, 7), (0x02, 7, 1)),
        (command(WHO), (WHO, 0, 2)),
        (command(WHO, 1, 2), (WHO, 1, 2)),
        (command(START, 9), (START, 9, 2)),
        (command(STOP, 3, 3), (STOP, 3, 2)),
        (command(PING, 8, 8, 8), (PING, 8, 2)),
        (command(START, 9, 99, 0), (START, 9, 3)),
        (command(START, 9, 0x11, 0x27), (START, 9, 3)),
    ],
)
def test_commands_are_answered_as_the_protocol_says(data: bytes, answer: tuple[int, ...]) -> None:
    assert ask(make(), SECOND, data) == [bytes((4, *answer))]


def test_ping_is_answered_with_the_tick_at_which_it_was_read() -> None:
    scale = make(start_tick=5)
    assert ask(scale, 123_456_789, command(PING, 4, 3, 2, 1)) == [b"\x05\x04\x03\x02\x01" + struct.pack("<I", 123_461)]


def test_blink_is_kept_for_who_looks() -> None:
    scale = make()
    ask(scale, 0, command(BLINK, 4, 0xE8, 0x03))
    assert scale.blinked_ms == [1000]


@pytest.mark.parametrize(
    "data",
    [
        b"\0\0\0",
        b"\x05\x81\x01\0",
        command(WHO, 1)[:-3] + b"\x55\0",
        b"\x02\x00",
        bytes(range(1, 200)) * 20 + b"\0",
        command(*([0x90] * 1020)) + b"\0",
    ],
    ids=["empty", "bad cobs", "bad crc", "short", "long", "longest"],
)
def test_damage_is_not_answered_and_what_follows_is(data: bytes) -> None:
    scale = make()
    before = ask(scale, SECOND, data)
    assert before in ([], [bytes((4, 0x90, 0x90, 1))])
    for byte in command(STOP, 3):
        scale.receive(bytes([byte]), 2 * SECOND)
    assert bodies(scale, 2 * SECOND) == [bytes((4, STOP, 3, 0))]


def test_nothing_is_sent_unasked() -> None:
    scale = make()
    assert bodies(scale, 20 * SECOND) == []
    assert scale.next_ns() is None


@pytest.mark.parametrize("rate_Hz", [10.0, 12.5, 80.0, 100.0, 128.0, 333.3, 1000.0])
def test_rate_rows_sequence_and_ticks_are_exact(rate_Hz: float) -> None:
    scale = make()
    scale.receive(start(rate_Hz), SECOND)
    step = round(1e6 / rate_Hz)
    frames = samples(scale, 11 * SECOND)
    rows = frames[0][3]
    assert rows == 1 or rows * step <= 50_000
    assert [sequence for sequence, *_ in frames] == list(range(len(frames)))
    assert [tick for _, tick, *_ in frames] == [1_000_000 + step + k * rows * step for k in range(len(frames))]
    assert {(s, m) for *_, s, m in frames} == {(step, rows)}
    assert len(frames) * rows == 10_000_000 // step // rows * rows


def test_each_frame_leaves_as_its_last_sample_is_taken() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    sent = [ns for ns, frame in scale.advance(SECOND // 2) if len(frame) > 20]
    assert sent == [20_000_000 * (k + 1) for k in range(25)]
    assert scale.next_ns() == 520_000_000
    assert scale.advance(519_999_999) == []
    assert len(scale.advance(520_000_000)) == 1


def test_rate_0_is_the_scales_own() -> None:
    scale = make(rate_Hz=80.0)
    assert ask(scale, 0, start(0.0)) == [bytes((4, START, 9, 0))]
    assert {step for *_, step, _ in samples(scale, SECOND)} == {12_500}


def test_start_while_sampling_goes_on_at_the_new_rate_from_sequence_0() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    assert samples(scale, SECOND)[-1][0] == 49
    scale.receive(start(50.0), SECOND)
    again = samples(scale, 2 * SECOND)
    assert again[0] == (0, 1_020_000, 20_000, 1)
    assert len(again) == 50


def test_a_rate_it_does_not_have_changes_nothing() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    scale.receive(start(5.0), SECOND // 2)
    frames = samples(scale, SECOND)
    assert [sequence for sequence, *_ in frames] == list(range(50))


def test_stop_stops() -> None:
    scale = make()
    scale.receive(start(), 0)
    bodies(scale, SECOND)
    assert ask(scale, SECOND, command(STOP, 2)) == [bytes((4, STOP, 2, 0))]
    assert bodies(scale, 20 * SECOND) == []


def test_ticks_and_sequence_wrap() -> None:
    scale = make(start_tick=2**32 - 500_000)
    scale.receive(start(100.0), 0)
    ticks = [tick for _, tick, *_ in samples(scale, SECOND)]
    assert ticks == [(2**32 - 500_000 + 10_000 + 20_000 * k) % 2**32 for k in range(50)]
    assert ask(scale, 2 * SECOND, command(PING, 1, 0, 0, 0))[-1] == struct.pack("<BII", 5, 1, 1_500_000)
    scale._run.frames = 65_535  # type: ignore[union-attr]
    assert [sequence for sequence, *_ in samples(scale, 2 * SECOND + 45_000_000)] == [65_535, 0]


def test_condition_comes_once_a_second_while_sampling() -> None:
    scale = make()
    scale.receive(start(100.0), 0)
    conditions = [body for body in bodies(scale, 5 * SECOND + 20_000_000) if body[0] == 3]
    ticks = [struct.unpack_from("<I", body, 1)[0] for body in conditions]
    assert ticks == [1_010_000 + 1_000_000 * k for k in range(5)]
    assert struct.unpack("<BIHhIH", conditions[0])[2:] == (0, 2150, 0, 0)


def test_the_same_seed_gives_the_same_bytes_however_time_is_handed_in() -> None:
    streams = []
    for cuts in ([30 * SECOND], [k * SECOND // 7 for k in range(1, 211)], [12 * SECOND, 30 * SECOND]):
        scale = make()
        scale.receive(start(100.0), 0)
        streams.append([frame for cut in cuts for frame in scale.advance(cut)])
    assert streams[0] == streams[1] == streams[2]
    other = make(seed=2)
    other.receive(start(100.0), 0)
    assert [frame for _, frame in other.advance(30 * SECOND)] != [frame for _, frame in streams[0]]
