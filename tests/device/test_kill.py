"""The program killed in the middle of a session: what is left, and what is made of it."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from weightshare.model import Chunk
from weightshare.records.lock import is_held
from weightshare.records.manifest import Ending, verify
from weightshare.records.raw import RAW_NAME
from weightshare.records.session import load_session, unfinished
from weightshare.scales.capture import EntryKind, read_raw

ROWS_A_FRAME = 4

Start = Callable[..., "subprocess.Popen[str]"]


@pytest.fixture
def start(tmp_path: Path, tiny_calibration: Path) -> Iterator[Start]:
    """Start the program on a session; what still runs at the end is killed."""
    running: list[subprocess.Popen[str]] = []

    def run(source: str, *arguments: str) -> subprocess.Popen[str]:
        command = [sys.executable, "-m", "weightshare", "practise", "--headless", "--source", source]
        command += ["--calibration", str(tiny_calibration), "--injured", "right", "--target", "75"]
        command += ["--save", str(tmp_path / "place"), *arguments]
        running.append(subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True))
        return running[-1]

    yield run
    for process in running:
        process.kill()
        process.communicate(timeout=20)


def frames_in(place: Path) -> int:
    """How many SAMPLES frames lie in the raw record of the one session in `place`."""
    found = list(place.glob(f"session-*/{RAW_NAME}"))
    if not found:
        return 0
    received = b"".join(entry.payload for entry in read_raw(found[0]).entries if entry.kind is EntryKind.RX)
    return sum(frame[1:2] == b"\x02" for frame in received.split(b"\0"))


@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is POSIX's")
def test_a_killed_session_keeps_all_but_its_last_second_and_is_recovered(
    tmp_path: Path, tiny_scale: Callable[..., Any], stand: Callable[..., Any], start: Start, wait_until: Any
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=4)
    place = tmp_path / "place"
    process = start(host.source)
    wait_until(lambda: frames_in(place) > 200, within_s=60.0)
    assert unfinished(place) == []
    process.kill()
    sent = host.scale.frames_sent
    assert process.wait(20) == -9
    (folder,) = unfinished(place)
    assert not is_held(folder)
    assert not list(folder.glob("*.part"))
    a_second = host.scale.rate_Hz * host.scale.speed / ROWS_A_FRAME
    assert frames_in(place) >= sent - a_second

    raw = (folder / RAW_NAME).read_bytes()
    session = load_session(folder)
    samples = sum(item.readings.shape[0] * item.readings.shape[1] for item in session.items if isinstance(item, Chunk))
    assert samples == frames_in(place) * ROWS_A_FRAME

    again = start(host.source, "--seconds", "3")
    _, told = again.communicate(timeout=60)
    assert again.returncode == 0
    assert f"a session was cut short; finish it: weightshare analyse --recover {folder}" in told.splitlines()

    command = [sys.executable, "-m", "weightshare", "analyse", "--recover", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)
    assert "cut short" in done.stdout
    assert verify(folder).ending is Ending.RECOVERED
    assert (folder / RAW_NAME).read_bytes() == raw
    assert unfinished(place) == []
