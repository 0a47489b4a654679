"""The virtual scales on real pseudo-terminals, through pyserial."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import serial

from weightshare.model import Chunk, Identity
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Start, Stop, Who, encode, to_stream
from weightshare.scales.message import Message, Reply
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID
from weightshare.scales.rig.link import Station
from weightshare.scales.rig.local import HostClock
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene
from weightshare.scales.rig.serve import serve
from weightshare.scales.rig.terminal import Terminals

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="this system has no pseudo-terminals")
LIMIT_S = 20.0

Rig = subprocess.Popen[str]
StartRig = Callable[..., tuple[Rig, list[str]]]


@pytest.fixture
def start_rig() -> Iterator[StartRig]:
    """Start `weightshare rig --pty` with options; returns the process and the devices that it names."""
    running: list[Rig] = []

    def start(*options: str, devices: int = 1) -> tuple[Rig, list[str]]:
        command = [sys.executable, "-m", "weightshare", "rig", "--pty", *options]
        rig = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        running.append(rig)
        assert rig.stdout is not None
        return rig, [rig.stdout.readline().strip().removeprefix("serial:") for _ in range(devices)]

    yield start
    for rig in running:
        if rig.poll() is None:
            rig.terminate()
        rig.communicate(timeout=LIMIT_S)


def say(port: serial.Serial, *commands: Who | Start | Stop) -> None:
    port.write(b"".join(to_stream(encode(command)) for command in commands))


def listen(port: serial.Serial, enough: Callable[[list[Message]], bool]) -> tuple[list[Message], StreamDecoder]:
    """Read until what came is enough; fail after a while."""
    decoder, messages = StreamDecoder(), list[Message]()
    end = time.monotonic() + LIMIT_S
    while not enough(messages):
        assert time.monotonic() < end, messages[-3:]
        messages += decoder.feed(port.read(max(port.in_waiting, 1)), time.monotonic_ns())
    return messages, decoder


def rows(messages: list[Message]) -> int:
    return sum(chunk.readings[:, :, 0].size for chunk in messages if isinstance(chunk, Chunk))


@pytest.mark.parametrize("baud", [115_200, 2_000_000])
def test_samples_come_through_pyserial_undamaged(start_rig: StartRig, baud: int) -> None:
    _, (device,) = start_rig("--rate", "1000")
    with serial.Serial(device, baud, timeout=1.0, exclusive=True) as port:
        say(port, Who(1), Start(2))
        messages, decoder = listen(port, lambda messages: rows(messages) >= 1000)
        assert isinstance(messages[0], Identity)
        assert messages[1] == Reply(0x82, 2, messages[1].result)  # type: ignore[union-attr]
        assert (decoder.counts.damaged, decoder.counts.lost_frames) == (0, 0)
        say(port, Stop(3))


def test_a_host_may_come_and_go(start_rig: StartRig) -> None:
    _, (device,) = start_rig()
    ticks = []
    for _ in range(2):
        with serial.Serial(device, 115_200, timeout=1.0, exclusive=True) as port:
            say(port, Who(1), Start(2))
            messages, _ = listen(port, lambda messages: rows(messages) >= 20)
            ticks.append([int(message.tick[0]) for message in messages if isinstance(message, Chunk)][-1])
    assert ticks[1] > ticks[0]


@pytest.fixture
def quick_device() -> Iterator[Path]:
    """Serve a scale whose cable comes out in a thread of this process, 20 times as fast as life."""
    clock = HostClock(20.0)
    scene = Scene(Cast(PEOPLE["steady"], FAULTS["unplugged"], Task()))
    station = Station(scene, VirtualScale(scene, power_on_ns=clock.now_ns()))
    terminals = Terminals([station], ["scale"])
    thread = threading.Thread(target=serve, args=(terminals.ports, clock, 60.0))
    thread.start()
    yield terminals.ports[0].path
    thread.join(LIMIT_S)
    terminals.close()
    assert not thread.is_alive()


def test_a_pulled_cable_takes_the_device_away_and_brings_it_back_under_its_name(quick_device: Path) -> None:
    end = time.monotonic() + LIMIT_S
    with serial.Serial(str(quick_device), 115_200, timeout=0.05) as port:
        say(port, Who(1), Start(2))
        with pytest.raises(OSError):  # SerialException is one
            while time.monotonic() < end:
                port.read(max(port.in_waiting, 1))
    assert not quick_device.exists()
    pause = threading.Event()
    while not quick_device.exists():
        assert time.monotonic() < end
        pause.wait(0.01)
    with serial.Serial(str(quick_device), 115_200, timeout=1.0) as port:
        say(port, Who(3))
        listen(port, lambda messages: rows(messages) > 0)


def test_two_separate_scales_have_a_device_each(start_rig: StartRig) -> None:
    _, devices = start_rig("--separate", devices=2)
    ids = []
    for device in devices:
        with serial.Serial(device, 115_200, timeout=1.0) as port:
            say(port, Who(1))
            messages, _ = listen(port, bool)
            ids.append(messages[0].device_id if isinstance(messages[0], Identity) else "")
    assert ids == [LEFT_ID, RIGHT_ID]
    assert [Path(device).name for device in devices] == ["left", "right"]


@pytest.mark.parametrize(("number", "status"), [(signal.SIGTERM, 0), (signal.SIGINT, 130)])
def test_nothing_is_left_behind(start_rig: StartRig, number: signal.Signals, status: int) -> None:
    rig, (device,) = start_rig()
    assert Path(device).exists()
    rig.send_signal(number)
    assert rig.wait(timeout=LIMIT_S) == status
    assert not Path(device).parent.exists()
    assert "Traceback" not in rig.communicate(timeout=LIMIT_S)[1]


def test_what_nobody_reads_is_lost_and_holds_up_nothing(start_rig: StartRig) -> None:
    _, (device,) = start_rig("--rate", "1000")
    handle = os.open(device, os.O_RDWR | os.O_NOCTTY)
    try:
        os.write(handle, to_stream(encode(Start(1))))
        deadline = time.monotonic() + LIMIT_S
        # 16 kB a second fill a terminal's buffer of a few kB at once; the scale has to go on all the same
        while _unread(handle) < 2000:
            assert time.monotonic() < deadline
        with serial.Serial(device, 115_200, timeout=1.0) as port:
            say(port, Who(2))
            messages, _ = listen(port, lambda messages: rows(messages) >= 100)
        assert isinstance(messages[0], Identity)
    finally:
        os.close(handle)


def _unread(handle: int) -> int:
    """How many bytes wait to be read."""
    import array
    import fcntl
    import termios

    count = array.array("i", [0])
    fcntl.ioctl(handle, termios.FIONREAD, count)
    return count[0]
