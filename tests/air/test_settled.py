"""Store-bought scales on the real bleak: they wake, say a settled reading, and sleep again."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.air.host import Air
from tests.air.peripheral import (
    WEIGHT_MEASUREMENT,
    Peripheral,
    Refusal,
    bathroom_scale,
    frames_service,
)
from weightshare.errors import OptionError
from weightshare.scales.air.settled import (
    ASLEEP,
    NO_READINGS,
    TELLS_MORE,
    Heard,
    SettledLink,
    SettledPhase,
    listen_to,
)
from weightshare.scales.air.trouble import SWITCHED_OFF
from weightshare.scales.air.weighing import MassUnit

LEFT_ADDRESS, RIGHT_ADDRESS = "00:00:5E:00:53:21", "00:00:5E:00:53:22"
"""Addresses that are set aside for documentation. Source: RFC 7042, 2.1.2."""
IN_KG, IN_LB, FAILED = bytes.fromhex("00A83A"), bytes.fromhex("015843"), bytes.fromhex("00FFFF")
"""75.08 kg; 172.40 lb; the scale could not weigh. Source: tests/published/test_weighing.py."""
WITHIN_S = 20.0


class Listening:
    """Links that hand what they hear to a list, and a bounded wait for what is to come."""

    def __init__(self) -> None:
        self.heard: list[tuple[str, Heard]] = []
        self._links: list[SettledLink] = []
        self._pause = threading.Event()

    def to(self, address: str) -> SettledLink:
        link = listen_to(f"ble:{address}", lambda heard: self.heard.append((address, heard)))
        self._links.append(link)
        link.start()
        return link

    def until(self, holds: Callable[[], object]) -> None:
        for _ in range(round(WITHIN_S / 0.01)):
            if holds():
                return
            self._pause.wait(0.01)
        pytest.fail(f"waited in vain: {[link.status for link in self._links]}")

    def stop(self) -> None:
        for link in self._links:
            link.stop()


@pytest.fixture
def listening() -> Iterator[Listening]:
    made = Listening()
    yield made
    made.stop()


def says(air: Air, scale: Peripheral, value: bytes) -> bool:
    """Have a scale indicate `value`; return whether somebody had subscribed."""
    return bool(air.do(air.stack.notify, scale, WEIGHT_MEASUREMENT, value))


def test_readings_come_one_by_one(listening: Listening) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    with Air(scale) as air:
        link = listening.to(LEFT_ADDRESS)
        listening.until(lambda: link.status.phase is SettledPhase.LISTENING)
        for value in (IN_KG, IN_LB, FAILED):
            assert says(air, scale, value)
        listening.until(lambda: len(listening.heard) == 3)
        listening.until(lambda: link.status.battery_percent is not None)
        assert (link.status.name, link.status.battery_percent) == ("Bathroom scale", 76)
        listening.stop()
        assert not scale.connected
    found = [heard.weighing for _, heard in listening.heard]
    assert [each and each.load_kg for each in found] == [75.08, pytest.approx(78.1993, abs=1e-4), None]
    assert found[1] is not None and found[1].unit is MassUnit.LB
    stamps = [heard.arrived_ns for _, heard in listening.heard]
    assert stamps == sorted(stamps)


def test_the_reading_that_wakes_a_scale_is_not_lost(listening: Listening) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    with Air(scale) as air:
        scale.on_subscribe = lambda: air.stack.notify(scale, WEIGHT_MEASUREMENT, IN_KG)
        listening.to(LEFT_ADDRESS)
        listening.until(lambda: listening.heard)
        listening.stop()


def test_a_scale_that_sleeps_between_two_readings_is_heard_again(listening: Listening) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    scale.is_on = False
    with Air(scale) as air:
        scale.on_subscribe = lambda: air.stack.notify(scale, WEIGHT_MEASUREMENT, IN_KG)
        link = listening.to(LEFT_ADDRESS)
        for count in (1, 2):
            air.do(air.stack.switch, scale, True)
            listening.until(lambda count=count: len(listening.heard) == count)  # type: ignore[misc]
            air.do(air.stack.switch, scale, False)
            listening.until(lambda: link.status.words == ASLEEP)
        assert link.status.phase is SettledPhase.SEARCHING
        listening.stop()


def test_two_scales_take_turns_at_the_radio(listening: Listening) -> None:
    scales = bathroom_scale(LEFT_ADDRESS), bathroom_scale(RIGHT_ADDRESS, "Other scale")
    scales[0].is_on = False
    with Air(*scales) as air:
        links = [listening.to(scale.address) for scale in scales]
        listening.until(lambda: links[1].status.phase is SettledPhase.LISTENING)
        air.do(air.stack.switch, scales[0], True)
        listening.until(lambda: links[0].status.phase is SettledPhase.LISTENING)
        for scale in scales:
            assert says(air, scale, IN_KG)
        listening.until(lambda: len(listening.heard) == 2)
        assert sorted(address for address, _ in listening.heard) == [LEFT_ADDRESS, RIGHT_ADDRESS]
        listening.stop()


def test_what_cannot_be_read_is_handed_on_with_the_reason(listening: Listening) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    with Air(scale) as air:
        link = listening.to(LEFT_ADDRESS)
        listening.until(lambda: link.status.phase is SettledPhase.LISTENING)
        says(air, scale, bytes.fromhex("10A83A"))
        listening.until(lambda: listening.heard)
        listening.stop()
    ((_, heard),) = listening.heard
    assert heard.weighing is None and "flag 4" in heard.fault and heard.raw == bytes.fromhex("10A83A")


@pytest.mark.parametrize("refusal", [Refusal.FAILS, Refusal.ABORTS, Refusal.VANISHES])
def test_a_connection_that_comes_to_nothing_is_tried_again(listening: Listening, refusal: Refusal) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    scale.refusals.append(refusal)
    with Air(scale) as air:
        link = listening.to(LEFT_ADDRESS)
        listening.until(lambda: link.status.phase is SettledPhase.LISTENING)
        assert says(air, scale, IN_KG)
        listening.until(lambda: listening.heard)
        listening.stop()


@pytest.mark.parametrize(
    ("services", "words"), [(frames_service(), TELLS_MORE), ({}, NO_READINGS)], ids=["more", "nothing"]
)
def test_another_device_is_refused_with_what_to_do(
    listening: Listening, services: dict[str, object], words: str
) -> None:
    device = Peripheral(LEFT_ADDRESS, "device", services)  # type: ignore[arg-type]
    with Air(device):
        link = listening.to(LEFT_ADDRESS)
        listening.until(lambda: link.status.phase is SettledPhase.REFUSED)
        assert link.status.words == words
        listening.stop()


def test_bluetooth_that_is_off_is_told_and_noticed_when_it_is_on(listening: Listening) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    with Air(scale, powered=False) as air:
        link = listening.to(LEFT_ADDRESS)
        listening.until(lambda: link.status.phase is SettledPhase.REFUSED)
        assert link.status.words == SWITCHED_OFF
        air.do(air.stack.set_powered, True)
        listening.until(lambda: link.status.phase is SettledPhase.LISTENING)
        listening.stop()


def test_a_source_that_is_not_by_air_is_refused() -> None:
    with pytest.raises(OptionError, match="ble:AA:BB:CC:DD:EE:FF"):
        listen_to("serial:/dev/ttyACM0", lambda _heard: None)


def command(*words: str) -> list[str]:
    return [sys.executable, "-m", "weightshare", "practise", "--headless", "--injured", "left", *words]


def run_until(words: list[str], wanted: str) -> tuple[str, str, int]:
    """Run a command until it says `wanted` on stderr, then interrupt it; return what it said, and its exit status."""
    with subprocess.Popen(words, env=os.environ, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:
        assert run.stderr is not None and run.stdout is not None
        said = []
        for line in run.stderr:
            said.append(line)
            if wanted in line:
                run.send_signal(signal.SIGINT)
                break
        said += run.stderr.readlines()
        return run.stdout.read(), "".join(said), run.wait(WITHIN_S)


def test_the_command_leads_to_settled_readings_by_itself(tmp_path: Path) -> None:
    scale = bathroom_scale(LEFT_ADDRESS)
    with Air(scale) as air:
        scale.on_subscribe = lambda: air.stack.notify(scale, WEIGHT_MEASUREMENT, IN_KG)
        words = command("--source", f"ble:{LEFT_ADDRESS}", "--save", str(tmp_path))
        shown, said, status = run_until(words, "75.1 kg")
    assert status == 130 and "left foot: 75.1 kg" in shown and "kept: " in said
    assert len(list(tmp_path.glob("readings-*.jsonl"))) == 1
    assert list(tmp_path.glob("session-*")) == [], "the session that could not be leaves nothing behind"


def test_a_pair_is_read_when_asked_for() -> None:
    scales = bathroom_scale(LEFT_ADDRESS), bathroom_scale(RIGHT_ADDRESS)
    with Air(*scales) as air:
        for scale in scales:
            scale.on_subscribe = lambda scale=scale: air.stack.notify(scale, WEIGHT_MEASUREMENT, IN_KG)
        sources = [word for scale in scales for word in ("--source", f"ble:{scale.address}")]
        words = command("--settled", *sources, "--json", "--no-save")
        shown, said, status = run_until(words, "share 50 % injured")
    assert status == 130 and "cannot time a hold" in said
    assert json.loads(shown)["readings"][-1]["share_percent"] == 50.0
