"""Records played back as scales, on a clock that jumps."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from weightshare.errors import DeviceError, RecordError
from weightshare.model import Channel, Identity, Quantity, Side
from weightshare.scales.capture import RawWriter
from weightshare.scales.frame import encode, encode_samples, to_stream
from weightshare.scales.link import RecordEndedError
from weightshare.scales.replay import ReplayTransport
from weightshare.scales.rig import StepClock

S = 1_000_000_000
SCALE = Identity("00000000000000aa", (1, 0, 0), 1, 1000, 100.0, (Channel(Quantity.FORCE, Side.LEFT),))


def identity() -> bytes:
    return to_stream(encode(SCALE))


def samples(tick: int, rows: int = 5) -> bytes:
    return to_stream(encode_samples(tick // 50, tick, 10, np.full((rows, 1), 1000, np.int32)))


class Player:
    """Plays a record on a clock that stands still until somebody waits, and notes when what came."""

    def __init__(self, path: Path) -> None:
        self.clock = StepClock()
        self.transport = ReplayTransport(path, self.clock)

    def play(self) -> list[tuple[float, bytes]]:
        """Read until the link is lost or the record is over; return the seconds and the bytes."""
        came = []
        try:
            while True:
                data = self.transport.read(0.05)
                if data:
                    came.append((round(self.clock.now_ns() / S, 2), data))
        except DeviceError as end:
            self.end = end
        return came


def test_bytes_come_when_they_came(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(1000 * S)
        raw.sent(1000 * S, b"who")
        raw.received(1000 * S + S // 2, b"one")
        raw.note(1001 * S, "{}")
        raw.received(1003 * S, b"two")
        raw.received(1003 * S, b"three")
        raw.down(1004 * S, "closed")
        raw.end(1004 * S)
    player = Player(tmp_path / "raw.wsr")
    player.transport.open()
    player.transport.write(b"nobody hears this")
    assert player.play() == [(0.5, b"one"), (3.0, b"twothree")]
    assert player.clock.now_ns() == 4 * S
    assert isinstance(player.end, RecordEndedError)
    with pytest.raises(RecordEndedError):
        player.transport.open()
    player.transport.close()


def test_a_lost_link_is_lost_for_as_long_again(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(0)
        raw.received(S, b"before")
        raw.down(2 * S, "the port was unplugged")
        raw.up(12 * S)
        raw.received(13 * S, b"after")
        raw.down(14 * S, "closed")
    player = Player(tmp_path / "raw.wsr")
    player.transport.open()
    assert player.play() == [(1.0, b"before")]
    assert "in the record: the port was unplugged" in str(player.end)
    assert not isinstance(player.end, RecordEndedError)
    tries = 0
    while player.clock.now_ns() < 12 * S:
        try:
            player.transport.open()
        except DeviceError as error:
            assert "in the record the link was lost" in str(error)
            player.clock.wait(2.0)
            tries += 1
    assert tries == 4
    assert player.clock.now_ns() == 12 * S
    assert player.play() == [(13.0, b"after")]


def test_a_record_cut_without_a_last_word_just_ends(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(0)
        raw.received(S, b"all")
    player = Player(tmp_path / "raw.wsr")
    player.transport.open()
    assert player.play() == [(1.0, b"all")]
    assert isinstance(player.end, RecordEndedError)


def test_a_link_that_came_up_again_without_having_gone_down_is_lost_in_between(tmp_path: Path) -> None:
    with RawWriter(tmp_path / "raw.wsr") as raw:
        raw.up(0)
        raw.received(S, b"first")
        raw.up(2 * S)
        raw.received(3 * S, b"second")
    player = Player(tmp_path / "raw.wsr")
    player.transport.open()
    assert player.play() == [(1.0, b"first")]
    assert not isinstance(player.end, RecordEndedError)
    player.transport.open()
    assert player.play() == [(3.0, b"second")]


def test_bare_bytes_are_paced_by_their_ticks(tmp_path: Path) -> None:
    ticks = [4_294_967_200, 4_294_967_250, 4, 54, 1054]
    stream = samples(0) + identity() + b"".join(samples(tick) for tick in ticks)
    (tmp_path / "bare.bin").write_bytes(stream)
    player = Player(tmp_path / "bare.bin")
    player.transport.open()
    came = player.play()
    assert b"".join(data for _, data in came) == stream
    when = {data: time_s for time_s, data in came}
    assert when[samples(ticks[1])] == 0.05
    assert when[samples(ticks[2])] == 0.1
    assert when[samples(ticks[3])] == 0.15
    assert when[samples(ticks[4])] == 1.15


def test_bare_bytes_of_a_restarted_scale_do_not_make_time_jump(tmp_path: Path) -> None:
    (tmp_path / "bare.bin").write_bytes(identity() + samples(1_000_000) + samples(0) + samples(50))
    player = Player(tmp_path / "bare.bin")
    player.transport.open()
    assert player.play()[-1][0] == 0.05


@pytest.mark.parametrize("content", [b"", b"weightshare raw record 1\n"])
def test_what_holds_nothing_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "none").write_bytes(content)
    with pytest.raises(RecordError, match="none"):
        ReplayTransport(tmp_path / "none")


def test_an_absent_record_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RecordError, match="cannot be read"):
        ReplayTransport(tmp_path / "absent")
