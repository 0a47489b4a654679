"""Each fault of the link does what it says, with time handed in."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Chunk, Condition, Identity
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Ping, Start, Stop, Who, encode, to_stream
from weightshare.scales.message import Echo, Message, Reply
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.link import Station, VirtualLink
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene

MS = 1_000_000
SECOND = 1000 * MS


class Host:
    """Reads a station every 10 ms, pings it every 2 s, and keeps what came and when."""

    def __init__(self, fault: str, seed: int = 1) -> None:
        scene = Scene(Cast(PEOPLE["steady"], FAULTS[fault], Task(), seed))
        self.station = Station(scene, VirtualScale(scene))
        self.decoder = StreamDecoder()
        self.now_ns = 0
        self.pieces: list[tuple[int, bytes]] = []
        self.messages: list[tuple[int, Message]] = []

    def say(self, *commands: Who | Start | Stop | Ping) -> None:
        for command in commands:
            self.station.write(to_stream(encode(command)), self.now_ns)

    def listen(self, seconds: float) -> None:
        until_ns = self.now_ns + round(seconds * SECOND)
        while self.now_ns < until_ns:
            self.now_ns += 10 * MS
            if self.now_ns % (2 * SECOND) == 0:
                self.say(Ping(7))
            data = self.station.read(self.now_ns)
            if data:
                self.pieces.append((self.now_ns, data))
                self.messages += [(self.now_ns, message) for message in self.decoder.feed(data, self.now_ns)]

    def run(self, seconds: float) -> Host:
        self.say(Who(1), Start(2, 100.0))
        self.listen(seconds)
        return self

    def of(self, kind: type) -> list[Message]:
        return [message for _, message in self.messages if isinstance(message, kind)]

    @property
    def frames(self) -> int:
        """How many SAMPLES frames came."""
        return sum(len(chunk.sequence) for chunk in self.of(Chunk) if isinstance(chunk, Chunk))

    @property
    def data(self) -> bytes:
        return b"".join(data for _, data in self.pieces)


@pytest.mark.parametrize("fault", FAULTS)
def test_the_same_seed_gives_the_same_bytes_at_the_same_times(fault: str) -> None:
    assert Host(fault).run(5.0).pieces == Host(fault).run(5.0).pieces


def test_a_clean_link_brings_everything_at_once() -> None:
    host = Host("clean").run(10.0)
    assert host.frames == 500
    assert [type(message) for _, message in host.messages[:2]] == [Identity, Reply]
    assert host.messages[1][0] == 10 * MS
    assert host.decoder.counts.lost_frames == 0


def test_delay_holds_up_both_ways() -> None:
    host = Host("delay").run(5.0)
    assert host.messages[0][0] == 240 * MS
    first = next(ns for ns, message in host.messages if isinstance(message, Chunk))
    assert first == 260 * MS
    host.say(Ping(9))
    sent_ns = host.now_ns
    host.listen(1.0)
    (heard,) = [ns for ns, message in host.messages if isinstance(message, Echo) and message.nonce == 9]
    assert heard == sent_ns + 240 * MS


def test_jitter_brings_bursts_but_loses_nothing() -> None:
    host = Host("jitter").run(20.0)
    arrivals = np.array([ns for ns, _ in host.pieces]) / MS
    gaps = np.diff(arrivals)
    assert gaps.max() > 120
    assert gaps.max() < 245
    assert len(gaps) < 400
    assert host.decoder.counts.lost_frames == 0
    assert host.frames > 950


def test_loss_loses_frames_whole() -> None:
    host = Host("loss").run(60.0)
    counts = host.decoder.counts
    lost = 3000 - host.frames
    assert 5 <= lost <= 35
    assert counts.lost_frames == pytest.approx(lost, abs=3)
    assert counts.damaged == 0


def test_loss_loses_commands_too() -> None:
    lost = 0
    for seed in range(300):
        link = VirtualLink(FAULTS["loss"], seed)
        for k in range(10):
            link.send_command(k, b"x")
        lost += 10 - sum(link.take_command(100) is not None for _ in range(10))
    assert 3 <= lost <= 30


def test_damage_changes_drops_and_adds_bytes() -> None:
    host = Host("damage").run(40.0)
    counts = host.decoder.counts
    assert counts.damaged >= 5
    assert 5 <= 2000 - host.frames <= 30
    clean = Host("clean").run(40.0)
    changes = {len(a) - len(b) for a, b in _differing(clean, host)}
    assert changes == {-1, 0, 1}


def _differing(one: Host, other: Host) -> list[tuple[bytes, bytes]]:
    pairs = zip(one.pieces, other.pieces, strict=True)
    return [(a[1], b[1]) for a, b in pairs if a[1] != b[1]]


def test_the_cable_is_out_for_a_while_several_times() -> None:
    host = Host("unplugged").run(70.0)
    assert [begin_s for begin_s, _ in FAULTS["unplugged"].unplugged_s] == [14.0, 27.0, 44.0, 63.0]
    for begin_s, end_s in FAULTS["unplugged"].unplugged_s[:3]:
        inside = [ns for ns, _ in host.pieces if (begin_s + 0.05) * SECOND < ns < end_s * SECOND]
        assert inside == []
        assert not host.station.is_up(round((begin_s + 0.05) * SECOND))
        assert host.station.is_up(round((end_s + 0.05) * SECOND))
        assert [ns for ns, _ in host.pieces if end_s * SECOND < ns < (end_s + 0.1) * SECOND]


def test_before_the_first_sample_no_cable_is_out() -> None:
    station = Host("unplugged").station
    assert all(station.is_up(k * SECOND) for k in range(100))


def test_a_restart_tells_a_new_boot_count() -> None:
    host = Host("restart").run(20.0)
    host.say(Who(3))
    host.listen(0.1)
    assert [identity.boot_count for identity in host.of(Identity) if isinstance(identity, Identity)] == [1, 2]


def test_a_mute_scale_says_nothing() -> None:
    host = Host("mute").run(5.0)
    assert host.pieces == []


def test_noise_is_bytes_and_never_a_message() -> None:
    host = Host("noise").run(10.0)
    assert host.messages == []
    assert len(host.data) == pytest.approx(20_000, rel=0.02)
    values = np.bincount(np.frombuffer(host.data, np.uint8), minlength=256)
    assert values.min() > 30


def test_noise_does_not_pile_up_while_nobody_reads() -> None:
    host = Host("noise").run(1.0)
    host.now_ns += 600 * SECOND
    assert len(host.station.read(host.now_ns)) <= 2000
    assert len(host.station.read(host.now_ns + 20 * MS)) == 40


def test_silence_is_told_by_the_scale_itself() -> None:
    host = Host("silent").run(20.0)
    last = max(ns for ns, message in host.messages if isinstance(message, Chunk))
    assert last < 15.1 * SECOND
    faults = [state.faults for state in host.of(Condition) if isinstance(state, Condition)]
    assert faults[:14] == [0] * 14
    assert faults[-1] == Condition.CELL_SILENT


def test_the_next_instant_is_when_something_comes() -> None:
    host = Host("clean")
    assert host.station.next_ns(0) == 50 * MS
    host.say(Start(1, 100.0))
    assert host.station.next_ns(0) == 1, "the command is on its way"
    host.station.read(0)
    assert host.station.next_ns(0) == 20 * MS
    assert host.station.next_ns(30 * MS) == 30 * MS + 1
