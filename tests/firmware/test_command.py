"""Every command of the protocol, and everything that is none, against the running firmware."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator

import pytest
from cobs import cobs
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.firmware.boards import Board, shipped
from weightshare.model import Channel, Identity, Quantity, Side
from weightshare.scales.frame import (
    Blink,
    Echo,
    Ping,
    Reply,
    Result,
    Start,
    Stop,
    Who,
    close_body,
    encode,
    to_stream,
)


def test_who_it_is(board: Board) -> None:
    identity = board.ask(Who(7))
    assert isinstance(identity, Identity)
    assert identity.protocol == 1 and identity.firmware == (1, 0, 0)
    assert identity.device_id == "0000112233445566"
    assert identity.tick_rate_Hz == 1_000_000 and identity.rate_Hz == 80.0
    assert identity.name == "weightshare pair"
    assert identity.channels == tuple(
        Channel(Quantity.FORCE, side, 0, y_mm) for side in (Side.LEFT, Side.RIGHT) for y_mm in (198, -198)
    )


def test_ping_is_echoed_with_the_tick_between_two_others(board: Board) -> None:
    first, asked_s = board.ask(Ping(1)), [time.monotonic()]
    second, heard_s = board.ask(Ping(0xFFFFFFFF)), [time.monotonic()]
    assert (first.nonce, second.nonce) == (1, 0xFFFFFFFF)
    board.listen(0.5)
    asked_s.append(time.monotonic())
    third = board.ask(Ping(3))
    heard_s.append(time.monotonic())
    assert first.tick <= second.tick < third.tick
    # each was read between question and answer, however long this computer took over them
    assert asked_s[1] - heard_s[0] - 0.01 < (third.tick - second.tick) / 1e6 < heard_s[1] - asked_s[0] + 0.01


def test_blink_lights_the_light_for_so_long(board: Board) -> None:
    assert board.ask(Blink(5, 200)) == Reply(0x84, 5, Result.DONE)
    board.wait_for(lambda: "light 1" in board.log)
    board.wait_for(lambda: "light 0" in board.log, 1.0)
    assert board.ask(Blink(6, 0)).result is Result.DONE
    board.ask(Blink(7, 65_535))
    board.ask(Blink(8, 0))
    board.wait_for(lambda: [line for line in board.log if "light" in line] == ["light 1", "light 0"] * 2, 1.0)


@pytest.mark.parametrize("rate_Hz", [0.1, 79.9, 80.1, 320.0, 6553.5])
def test_a_rate_that_it_does_not_have_changes_nothing(board: Board, rate_Hz: float) -> None:
    board.begin()
    assert board.ask(Start(2, rate_Hz)) == Reply(0x82, 2, Result.OUT_OF_RANGE)
    before = len(board.heard.chunks)
    board.listen(0.3)
    assert len(board.heard.chunks) > before


def test_stop_while_it_does_not_sample_is_done(board: Board) -> None:
    assert board.ask(Stop(9)) == Reply(0x83, 9, Result.DONE)


@pytest.mark.parametrize(
    ("body", "answer"),
    [
        (b"\x81", Reply(0x81, 0, Result.WRONG_LENGTH)),
        (b"\x81\x05\x00", Reply(0x81, 5, Result.WRONG_LENGTH)),
        (b"\x82\x09\x20", Reply(0x82, 9, Result.WRONG_LENGTH)),
        (b"\x84\x09\x20\x03\x00", Reply(0x84, 9, Result.WRONG_LENGTH)),
        (b"\x85\x04\x03\x02", Reply(0x85, 4, Result.WRONG_LENGTH)),
        (b"\x00", Reply(0x00, 0, Result.UNKNOWN_COMMAND)),
        (b"\x01\x02", Reply(0x01, 2, Result.UNKNOWN_COMMAND)),
        (b"\xff" + bytes(range(1, 255)), Reply(0xFF, 1, Result.UNKNOWN_COMMAND)),
        (b"\x86" + bytes(1023), Reply(0x86, 0, Result.UNKNOWN_COMMAND)),
        (b"\x86" + bytes([3] * 1023), Reply(0x86, 3, Result.UNKNOWN_COMMAND)),
    ],
)
def test_what_is_no_command_is_refused(board: Board, body: bytes, answer: Reply) -> None:
    board.write(to_stream(close_body(body)))
    board.wait_for(lambda: bool(board.heard.replies))
    assert board.heard.replies == [answer]


@pytest.mark.parametrize(
    "noise",
    [
        b"\x03\x03\r\x03\x04\x01",  # what would stop a program at a prompt
        bytes(50),
        to_stream(encode(Who(1)))[:-3] + b"\0",
        to_stream(b"\x81\x01\0\0\0\0"),  # a wrong CRC
        to_stream(close_body(b"")),
        b"\x7f" * 5000 + b"\0",
        cobs.encode(bytes(1029)) + b"\0",
    ],
)
def test_noise_is_passed_over(board: Board, noise: bytes) -> None:
    board.write(noise + b"\0" + to_stream(encode(Ping(4))))
    board.wait_for(lambda: bool(board.heard.echoes))
    assert len(board.heard.messages) == 1 and board.heard.echoes[0].nonce == 4


def test_a_command_may_come_byte_by_byte(board: Board) -> None:
    for byte in to_stream(encode(Ping(5))):
        board.write(bytes([byte]))
        board.listen(0.01)
    board.wait_for(lambda: [echo.nonce for echo in board.heard.echoes] == [5])


def test_a_host_may_come_and_go(board: Board) -> None:
    for nonce in range(3):
        assert board.ask(Ping(nonce)).nonce == nonce
        board.unplug()


def test_each_start_of_the_board_has_its_number(make_board: Callable[..., Board]) -> None:
    board = make_board()
    seen = [board.ask(Who(1)).boot_count]
    for _ in range(2):
        board.stop()
        board.start()
        seen.append(board.ask(Who(1)).boot_count)
    assert seen == [1, 2, 3]


# -- any bytes at all --------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def fuzzed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Board]:
    from tests.firmware.boards import wired

    board = Board(tmp_path_factory.mktemp("fuzzed"), shipped(), wired(shipped())).start()
    yield board
    board.close()


KINDS = st.sampled_from([0x81, 0x82, 0x83, 0x84, 0x85, 0x00, 0x01, 0x86, 0xFF])
BODIES = st.builds(lambda kind, rest: bytes([kind]) + rest, KINDS, st.binary(max_size=40))
FRAMES = BODIES.map(lambda body: to_stream(close_body(body)))
DAMAGED = st.builds(
    lambda frame, at, byte: frame[: at % len(frame)] + byte + frame[at % len(frame) :],
    FRAMES,
    st.integers(0, 60),
    st.binary(min_size=1, max_size=2),
)
NOISE = st.binary(max_size=300)
PIECES = st.lists(st.one_of(FRAMES, DAMAGED, NOISE), max_size=8).map(b"".join)

_nonces = iter(range(1, 2**32))


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(PIECES)
def test_whatever_comes_it_lives_and_what_it_says_is_well_formed(fuzzed: Board, pieces: bytes) -> None:
    nonce = 0xA5000000 + next(_nonces)
    fuzzed.heard.messages.clear()
    fuzzed.write(pieces + b"\0" + to_stream(encode(Ping(nonce))))
    fuzzed.wait_for(lambda: any(echo.nonce == nonce for echo in fuzzed.heard.echoes))
    counts = fuzzed.decoder.counts
    assert counts.damaged == counts.over_long == counts.unknown_kind == 0
    assert counts.wrong_length == counts.wrong_content == 0
    assert fuzzed.runs and fuzzed.complaints == []


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(BODIES)
def test_each_well_formed_frame_has_exactly_one_answer(fuzzed: Board, body: bytes) -> None:
    fuzzed.ask(Stop(0))
    fuzzed.listen(0.05)
    fuzzed.heard.messages.clear()
    nonce = 0x5A000000 + next(_nonces)
    fuzzed.write(to_stream(close_body(body)) + to_stream(encode(Ping(nonce))))
    fuzzed.wait_for(lambda: any(echo.nonce == nonce for echo in fuzzed.heard.echoes))
    answers = [m for m in fuzzed.heard.messages if isinstance(m, (Identity, Reply, Echo))]
    assert len(answers) == 2
    first = answers[0]
    if isinstance(first, Reply):
        assert first.command == body[0] and first.token == (body[1] if len(body) > 1 else 0)
    else:
        assert body[0] == (0x81 if isinstance(first, Identity) else 0x85)
