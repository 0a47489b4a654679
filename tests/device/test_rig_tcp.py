"""The virtual scales on real TCP ports, from another process: one client after another, cables pulled, clean ends."""

from __future__ import annotations

import json
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from weightshare.model import Chunk, Identity
from weightshare.records.calibration import read_calibration
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Ping, Start, Stop, Who, encode, to_stream
from weightshare.scales.message import Echo, Message, Reply
from weightshare.scales.rig.carrier import CARRIERS
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.cell import LEFT_ID, PAIR_ID, RIGHT_ID, rig_calibration
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.local import HostClock
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene
from weightshare.scales.rig.serve import TcpPort, open_tcp, serve

LIMIT_S = 20.0

Rig = subprocess.Popen[str]
StartRig = Callable[..., tuple[Rig, list[int]]]


@pytest.fixture
def start_rig() -> Iterator[StartRig]:
    """Start `weightshare rig` with options; returns the process and the ports that it names."""
    running: list[Rig] = []

    def start(*options: str, ports: int = 1) -> tuple[Rig, list[int]]:
        command = [sys.executable, "-m", "weightshare", "rig", *options]
        rig = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        running.append(rig)
        assert rig.stdout is not None
        sources = [rig.stdout.readline().strip() for _ in range(ports)]
        assert all(source.startswith("tcp://127.0.0.1:") for source in sources), sources
        return rig, [int(source.rpartition(":")[2]) for source in sources]

    yield start
    for rig in running:
        if rig.poll() is None:
            rig.kill()
        rig.communicate(timeout=LIMIT_S)


class Client:
    """Speaks with one scale over a socket; closed at the end of its `with`."""

    def __init__(self, port: int) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port), timeout=LIMIT_S)
        self.decoder = StreamDecoder()
        self.messages: list[Message] = []

    def say(self, *commands: Who | Start | Stop | Ping) -> None:
        self.socket.sendall(b"".join(to_stream(encode(command)) for command in commands))

    def wait_for(self, enough: Callable[[list[Message]], bool]) -> list[Message]:
        """Listen until what came is enough; fail after a while."""
        end = time.monotonic() + LIMIT_S
        while not enough(self.messages):
            assert time.monotonic() < end, self.messages[-3:]
            data = self.socket.recv(65536)
            assert data, "the rig closed the link"
            self.messages += self.decoder.feed(data, time.monotonic_ns())
        return self.messages

    def __enter__(self) -> Client:
        return self

    def __exit__(self, *error: object) -> None:
        self.socket.close()


def rows(messages: list[Message]) -> int:
    return sum(chunk.readings[:, :, 0].size for chunk in messages if isinstance(chunk, Chunk))


def first_tick(messages: list[Message]) -> int:
    return next(int(message.tick[0]) for message in messages if isinstance(message, Chunk))


def end_with(rig: Rig, number: signal.Signals) -> int:
    rig.send_signal(number)
    return rig.wait(timeout=LIMIT_S)


def test_samples_come_at_their_rate_and_commands_are_answered(start_rig: StartRig) -> None:
    _, (port,) = start_rig("--tcp", "0", "--rate", "80")
    with Client(port) as client:
        client.say(Who(1), Start(2), Ping(77))
        messages = client.wait_for(lambda messages: rows(messages) >= 80)
        identity = next(message for message in messages if isinstance(message, Identity))
        assert (identity.device_id, identity.rate_Hz, len(identity.channels)) == (PAIR_ID, 80.0, 6)
        assert {chunk.step[0] for chunk in messages if isinstance(chunk, Chunk)} == {12_500}
        assert any(isinstance(message, Echo) and message.nonce == 77 for message in messages)
        assert client.decoder.counts.lost_frames == 0
        client.say(Stop(3))
        client.wait_for(lambda messages: any(isinstance(m, Reply) and m.token == 3 for m in messages))


def test_one_client_after_the_other_meets_the_same_scale_with_its_ticks_running(start_rig: StartRig) -> None:
    _, (port,) = start_rig("--tcp", "0")
    with Client(port) as first, Client(port) as second:
        first.say(Who(1), Start(2))
        first.wait_for(lambda messages: rows(messages) >= 30)
        second.say(Who(4), Start(5))  # waits for its turn
        first.socket.close()
        messages = second.wait_for(lambda messages: rows(messages) >= 10)
        assert next(message for message in messages if isinstance(message, Identity)).boot_count == 1
        assert first_tick(messages) > first_tick(first.messages) + 300_000


def test_two_separate_scales_stand_under_one_person(start_rig: StartRig) -> None:
    _, ports = start_rig("--tcp", "0", "--separate", "--person", "quiet", ports=2)
    assert ports[1] == ports[0] + 1
    with Client(ports[0]) as left, Client(ports[1]) as right:
        for client in (left, right):
            client.say(Who(1), Start(2, 50.0))
        both = [client.wait_for(lambda messages: rows(messages) >= 50) for client in (left, right)]
    identities = [next(m for m in messages if isinstance(m, Identity)) for messages in both]
    assert [identity.device_id for identity in identities] == [LEFT_ID, RIGHT_ID]
    assert [{channel.side for channel in identity.channels} for identity in identities] == [{"left"}, {"right"}]
    assert abs(first_tick(both[0]) - first_tick(both[1])) > 1_000_000_000


@pytest.mark.parametrize(("number", "status"), [(signal.SIGTERM, 0), (signal.SIGINT, 130)])
def test_it_ends_cleanly_and_writes_the_truth(
    start_rig: StartRig, tmp_path: Path, number: signal.Signals, status: int
) -> None:
    files = ("--truth", str(tmp_path / "truth.json"), "--truth-trace", str(tmp_path / "forces.csv"))
    rig, (port,) = start_rig("--tcp", "0", "--injured", "right", "--target", "60", "--seed", "3", *files)
    with Client(port) as client:
        client.say(Who(1), Start(2))
        client.wait_for(lambda messages: rows(messages) >= 50)
        assert end_with(rig, number) == status
    _, err = rig.communicate(timeout=LIMIT_S)
    assert "Traceback" not in err
    truth = json.loads((tmp_path / "truth.json").read_text())
    assert (truth["injured_side"], truth["seed"], truth["band"]["target_percent"]) == ("right", 3, 60.0)
    assert truth["duration_s"] >= 0.49
    assert len((tmp_path / "forces.csv").read_text().splitlines()) == truth["samples"] + 1
    assert sorted(path.name for path in tmp_path.iterdir()) == ["forces.csv", "truth.json"]


def test_an_exercise_is_asked_for_by_options(start_rig: StartRig, tmp_path: Path) -> None:
    asked = ("--stage", "lowering", "--tempo", "1-1-3", "--surface", "step", "--working", "right", "--sets", "1")
    more = ("--repetitions", "4", "--rest", "20", "--reference-height-mm", "90", "--placement", "40")
    files = ("--truth", str(tmp_path / "truth.json"), "--truth-trace", str(tmp_path / "course.csv"))
    rig, (port,) = start_rig("--tcp", "0", "--person", "raiser", *asked, *more, *files)
    with Client(port) as client:
        client.say(Who(1), Start(2))
        client.wait_for(lambda messages: rows(messages) >= 30)
        end_with(rig, signal.SIGTERM)
    truth = json.loads((tmp_path / "truth.json").read_text())
    assert (truth["exercise"], truth["tempo"], truth["surface"]) == ("lowering", "1-1-3-1", "step")
    assert truth["heel_sensors"] == {"fitted": True, "placement_mm": 40.0}
    assert "left_heel_height_mm" in (tmp_path / "course.csv").read_text().splitlines()[0]


def test_scales_without_height_sensors_have_forces_alone(start_rig: StartRig) -> None:
    _, (port,) = start_rig("--tcp", "0", "--heels", "none")
    with Client(port) as client:
        client.say(Who(1))
        messages = client.wait_for(lambda messages: any(isinstance(message, Identity) for message in messages))
    identity = next(message for message in messages if isinstance(message, Identity))
    assert {channel.quantity.name for channel in identity.channels} == {"FORCE"}


def test_without_a_visit_there_is_no_truth_and_that_is_said(start_rig: StartRig, tmp_path: Path) -> None:
    rig, _ = start_rig("--tcp", "0", "--seconds", "0.2", "--truth", str(tmp_path / "truth.json"))
    assert rig.wait(timeout=LIMIT_S) == 0
    assert "nothing was sampled" in rig.communicate(timeout=LIMIT_S)[1]
    assert list(tmp_path.iterdir()) == []


def test_a_client_that_does_not_read_stops_nobody(start_rig: StartRig) -> None:
    rig, (port,) = start_rig("--tcp", "0", "--rate", "1000")
    with Client(port) as deaf, Client(port) as other:
        deaf.say(Start(1))
        other.say(Who(1))
        deaf.socket.close()
        other.wait_for(lambda messages: any(isinstance(message, Identity) for message in messages))
    assert end_with(rig, signal.SIGTERM) == 0


@pytest.fixture
def quick_port() -> Iterator[TcpPort]:
    """Serve a scale whose cable comes out in a thread of this process, 8 times as fast as life: out for 0.3 s."""
    clock = HostClock(8.0)
    scene = Scene(Cast(PEOPLE["steady"], FAULTS["unplugged"], Task()))
    (port,) = open_tcp([Station(scene, VirtualScale(scene, power_on_ns=clock.now_ns()))], 0)
    thread = threading.Thread(target=serve, args=([port], clock, 30.0))
    thread.start()
    yield port
    thread.join(LIMIT_S)
    port.close()
    assert not thread.is_alive()


def test_a_pulled_cable_cuts_the_client_off_and_refuses_others_for_a_while(quick_port: TcpPort) -> None:
    with Client(quick_port.number) as client:
        client.say(Who(1), Start(2))
        with pytest.raises((ConnectionError, AssertionError)) as cut:
            client.wait_for(lambda messages: rows(messages) > 100_000)
        assert "closed the link" in str(cut.value) or isinstance(cut.value, ConnectionError)
        assert rows(client.messages) == pytest.approx(1400, abs=60)
    with pytest.raises(ConnectionRefusedError):
        Client(quick_port.number)
    with reconnect(quick_port.number) as again:
        again.say(Who(3))
        again.wait_for(lambda messages: rows(messages) > 100)
        # 16.5 s after the first sample at the earliest, by ticks of 1 MHz
        assert first_tick(again.messages) > 16_400_000


def reconnect(number: int) -> Client:
    """Try until something listens again."""
    end, pause = time.monotonic() + LIMIT_S, threading.Event()
    while True:
        try:
            client = Client(number)
        except ConnectionRefusedError:
            assert time.monotonic() < end
        else:
            # a port that nothing listens on can, seldom, be met by the very socket that asks for it
            if client.socket.getsockname() != client.socket.getpeername():
                return client
            client.socket.close()
        pause.wait(0.01)


def run(*options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "weightshare", "rig", *options]
    return subprocess.run(command, capture_output=True, text=True, timeout=LIMIT_S, check=False)


def test_a_port_in_use_is_said_in_one_line() -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        done = run("--tcp", str(taken.getsockname()[1]))
    assert done.returncode == 3
    assert "in use" in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert done.stdout == ""


def test_of_two_ports_one_in_use_is_too_many() -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        done = run("--tcp", str(taken.getsockname()[1] - 1), "--separate")
    assert done.returncode == 3
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ((), "--tcp PORT"),
        (("--tcp", "70000"), "--tcp 70000 is out of range"),
        (("--tcp", "65535", "--separate"), "--tcp 65535 is out of range"),
        (("--tcp", "x"), "--tcp"),
        (("--tcp", "0", "--pty"), "--pty"),
        (("--tcp", "0", "--person", "bob"), "--person bob"),
        (("--tcp", "0", "--faults", "flood"), "--faults flood"),
        (("--tcp", "0", "--target", "101"), "--target 101"),
        (("--tcp", "0", "--rate", "5"), "--rate 5"),
        (("--tcp", "0", "--hold-goal", "0"), "--hold-goal 0"),
        (("--tcp", "0", "--seed", "-1"), "--seed -1"),
        (("--tcp", "0", "--seconds", "-1"), "--seconds -1"),
        (("--tcp", "0", "--truth-trace", "t.csv"), "--truth-trace"),
    ],
)
def test_wrong_use_is_one_line_and_status_2(options: tuple[str, ...], says: str) -> None:
    done = run(*options)
    assert done.returncode == 2
    assert says in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert done.stdout == ""


@pytest.mark.parametrize("option", ["--truth", "--write-calibration"])
def test_a_file_in_no_folder_is_refused_at_the_start(option: str, tmp_path: Path) -> None:
    done = run("--tcp", "0", option, str(tmp_path / "none" / "file.json"))
    assert done.returncode == 2
    assert f"{option} {tmp_path}" in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_people_faults_and_links_are_listed_each_with_its_words() -> None:
    listed = run("--list").stdout
    things: list[Any] = [*PEOPLE.values(), *FAULTS.values(), *CARRIERS.values()]
    assert [thing.name for thing in things if f"\n  {thing.name:16}{thing.words}\n" not in listed] == []


def test_the_calibration_is_written_and_read_back(tmp_path: Path) -> None:
    assert run("--write-calibration", str(tmp_path / "pair.json")).returncode == 0
    assert read_calibration(tmp_path / "pair.json") == rig_calibration()
    assert run("--separate", "--write-calibration", str(tmp_path / "both.json")).returncode == 0
    assert read_calibration(tmp_path / "both-left.json") == rig_calibration(LEFT_ID)
    assert read_calibration(tmp_path / "both-right.json") == rig_calibration(RIGHT_ID)
