"""Sessions on two separate scales over real sockets and pseudo-terminals, by every link: what is seen, what is kept."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.device.pairing import check_again, sitting
from weightshare.model import Chunk, Side
from weightshare.records.manifest import Ending, verify
from weightshare.records.raw import RAW_NAME
from weightshare.records.session import load_session, unfinished
from weightshare.scales.capture import EntryKind, read_raw
from weightshare.scales.rig.carrier import CARRIERS
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID

LIMIT_S = 60.0
USUAL = ("cable",)
"""The link of most pairs; the others go into the long run."""
Wait = Callable[..., None]
Start = Callable[..., "subprocess.Popen[str]"]


@pytest.mark.parametrize(
    "link", [pytest.param(link, marks=() if link in USUAL else pytest.mark.soak) for link in CARRIERS]
)
def test_by_every_link_live_is_later_and_the_share_is_the_true_one(tmp_path: Path, wait_until: Wait, link: str) -> None:
    with sitting(f"steady,link={link},seed=2", tmp_path, speed=2.0) as (pair, engine):
        wait_until(lambda: engine.view().snapshot.held_s > 2.0)
        finished = check_again(engine)
        truth = pair.truth()
    assert finished.analysis is not None and finished.analysis.alignment is not None
    share, told = finished.analysis.share_percent, truth["share_percent"]
    # twice as fast as life, a busy computer's own delays are twice as long; in real time see below
    assert share.min == pytest.approx(told["min"], abs=1.0)
    assert share.max == pytest.approx(told["max"], abs=1.0)
    left, right = finished.analysis.alignment.scales
    assert [(one.device_id, one.side, one.restarts) for one in (left, right)] == [
        (LEFT_ID, Side.LEFT, 0),
        (RIGHT_ID, Side.RIGHT, 0),
    ]
    assert min(left.round_trips, right.round_trips) > 20


def test_clocks_too_unsure_for_the_share_are_told_live_and_later(tmp_path: Path, wait_until: Wait) -> None:
    words = "the two scales agree in time to"
    with sitting("steady,faults=delay", tmp_path) as (_, engine):
        wait_until(lambda: any(words in message for message in engine.view().messages))
        wait_until(lambda: engine.view().snapshot.held_s > 1.0)
        finished = check_again(engine)
    assert finished.analysis is not None and finished.analysis.alignment is not None
    # 120 ms each way: each offset is right to within 120 ms, a rectangle, and there are two; a busy computer adds to it
    assert 0.95 < (finished.analysis.alignment.doubt_ms or 0.0) / (120.0 * 2**0.5 / 3**0.5) < 1.5
    (warning,) = [told for told in finished.analysis.warnings if words in told]
    assert "bring them nearer to the computer, or use cables" in warning


# --- the commands, each a process of its own --------------------------------------------------------------------------


@pytest.fixture
def start() -> Iterator[Start]:
    """Start commands of the program; what still runs at the end is killed."""
    running: list[subprocess.Popen[str]] = []

    def run(*arguments: str) -> subprocess.Popen[str]:
        command = [sys.executable, "-W", "error", "-m", "weightshare", *arguments]
        running.append(subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True))
        return running[-1]

    yield run
    for process in running:
        process.kill()
        process.communicate(timeout=20)


def sources_of(rig: subprocess.Popen[str]) -> list[str]:
    """Return what the rig printed, as options of a session on its two scales."""
    assert rig.stdout is not None
    return [word for _ in range(2) for word in ("--source", rig.stdout.readline().strip())]


def practise(place: Path) -> list[str]:
    return ["practise", "--headless", "--injured", "left", "--target", "75", "--save", str(place)]


def done(process: subprocess.Popen[str]) -> tuple[str, str]:
    out, told = process.communicate(timeout=LIMIT_S)
    assert process.returncode == 0, told
    return out, told


@pytest.mark.skipif(sys.platform == "win32", reason="this system has no pseudo-terminals")
@pytest.mark.parametrize(
    ("way", "link"), [(("--pty",), "cable"), pytest.param(("--tcp", "0"), "bursts", marks=pytest.mark.soak)]
)
def test_the_commands_measure_keep_and_analyse_two_scales(
    tmp_path: Path, start: Start, way: tuple[str, ...], link: str
) -> None:
    """In real time, against the rig's truth; the left scale's ticks wrap after 15 s or later."""
    truth_file, place = tmp_path / "truth.json", tmp_path / "place"
    asked = ("--link", link, "--seed", "4", "--hold-goal", "5", "--truth", str(truth_file))
    rig = start("rig", "--separate", *way, *asked)
    out, told = done(start(*practise(place), *sources_of(rig), "--seconds", "17", "--json"))
    rig.send_signal(signal.SIGTERM)
    assert rig.wait(LIMIT_S) == 0
    analysis, truth = json.loads(out), json.loads(truth_file.read_text())
    share, true_share = analysis["share_percent"], truth["share_percent"]
    assert share["min"] == pytest.approx(true_share["min"], abs=0.2)
    assert share["max"] == pytest.approx(true_share["max"], abs=0.2)
    # one frame in two hundred never comes by that link, and what is not known is not held
    lost = 0.05 if link == "bursts" else 0.0
    assert -0.1 < truth["longest_hold_s"] - analysis["longest_hold_s"] < 0.1 + lost * truth["longest_hold_s"]
    alignment = analysis["alignment"]
    assert alignment["doubt_ms"] < (2.0 if link == "cable" else 10.0)
    for scale, clock in zip(alignment["scales"], truth["clocks"], strict=True):
        assert (scale["device_id"], scale["side"]) == (clock["device_id"], clock["side"])
        assert scale["round_trips"] > 30
    (folder,) = place.iterdir()
    assert told.splitlines()[-1] == f"saved: {folder}"
    assert {"calibration.json", "calibration-2.json"} <= {path.name for path in folder.iterdir()}
    assert json.loads(done(start("analyse", str(folder), "--json"))[0]) == analysis


@pytest.mark.soak
@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is POSIX's")
def test_a_killed_session_on_two_scales_is_recovered_with_all_but_its_last_second(tmp_path: Path, start: Start) -> None:
    place = tmp_path / "place"
    rig = start("rig", "--separate", "--tcp", "0", "--link", "air")
    session = start(*practise(place), *sources_of(rig))
    wait_for(lambda: min(rows_in(place)) > 700)
    rows = rows_in(place)
    session.kill()
    assert session.wait(20) == -9
    (folder,) = unfinished(place)
    raw = (folder / RAW_NAME).read_bytes()
    left = rows_in(place)
    assert all(now >= before for now, before in zip(left, rows, strict=True))

    kept = load_session(folder)
    came = [0, 0]
    for each in (each for batch in kept.batches for each in batch):
        came[each.source] += each.item.readings.shape[0] if isinstance(each.item, Chunk) else 0
    assert came == left
    out, _ = done(start("analyse", "--recover", str(folder), "--json"))
    analysis = json.loads(out)
    assert analysis["duration_s"] > 13.0
    assert analysis["share_percent"]["max"] > 70.0
    assert [scale["side"] for scale in analysis["alignment"]["scales"]] == ["left", "right"]
    assert any("cut short" in words for words in analysis["warnings"])
    assert verify(folder).ending is Ending.RECOVERED
    assert (folder / RAW_NAME).read_bytes() == raw
    assert unfinished(place) == []


def rows_in(place: Path) -> list[int]:
    """How many SAMPLES frames of each of two scales lie in the raw record of the one session in `place`."""
    rows = [0, 0]
    for path in place.glob(f"session-*/{RAW_NAME}"):
        for source in (0, 1):
            entries: list[Any] = [one for one in read_raw(path).entries if one.source == source]
            received = b"".join(one.payload for one in entries if one.kind is EntryKind.RX)
            # what is after the last zero byte is a frame that had not come whole
            rows[source] = sum(frame[1:2] == b"\x02" for frame in received.split(b"\0")[:-1])
    return rows


def wait_for(enough: Callable[[], bool]) -> None:
    pause, end_s = threading.Event(), time.monotonic() + LIMIT_S
    while not enough():
        assert time.monotonic() < end_s
        pause.wait(0.2)
