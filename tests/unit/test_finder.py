"""Looking for scales: over real TCP and a real pseudo-terminal; what the air brings is told, as no radio is here."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from tests.seated import Seated
from weightshare.errors import DeviceError, OptionError
from weightshare.scales.air.search import AirFound
from weightshare.scales.discovery import Reach
from weightshare.scales.finder import VIRTUAL, Finder, Found, Sort, Way
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID

WITHIN_S = 15.0
NEAR = AirFound("00:00:5E:00:53:01", "blue plate", -61, "weightshare")
STORE = AirFound("00:00:5E:00:53:02", "a bathroom scale", -80, "weight-scale")


class Air:
    """What is heard by Bluetooth, as a test says; one search is one turn."""

    def __init__(self, *heard: AirFound, trouble: str = "") -> None:
        self.heard, self.trouble, self.turns = list(heard), trouble, 0
        self._next = threading.Event()

    def search(self, _seconds: float) -> list[AirFound]:
        self.turns += 1
        # as a real search takes its time
        self._next.wait(0.02)
        if self.trouble:
            raise DeviceError(self.trouble)
        return list(self.heard)


def no_ports() -> list[Reach]:
    return []


@contextmanager
def looking(finder: Finder) -> Iterator[Finder]:
    finder.start()
    try:
        yield finder
    finally:
        finder.ask_to_stop()
        assert finder.join(WITHIN_S)


def until(holds: Callable[[], bool]) -> None:
    end_s = time.monotonic() + WITHIN_S
    while not holds():
        assert time.monotonic() < end_s, "it did not come in time"
        time.sleep(0.01)


def by_source(finder: Finder) -> dict[str, Found]:
    return {one.source: one for one in finder.found}


@pytest.fixture
def seated() -> Iterator[Seated]:
    made = Seated()
    yield made
    made.close()


def test_scales_on_the_network_are_asked_who_they_are(seated: Seated) -> None:
    left, right = seated.open_tcp()
    with looking(Finder((left, right), no_ports, Air().search)) as finder:
        until(lambda: len(finder.found) == 3)
        found = by_source(finder)
    ids = [one.identity.device_id for one in finder.found if one.identity is not None]
    assert sorted(ids) == sorted([LEFT_ID, RIGHT_ID])
    assert found[left].sort is Sort.SCALE and found[left].way is Way.NETWORK and found[left].name
    assert finder.found[-1].source == VIRTUAL, "the virtual ones come last"


@pytest.mark.skipif(sys.platform == "win32", reason="this system has no pseudo-terminals")
def test_ports_that_the_system_lists_are_asked_and_dropped_when_they_go(seated: Seated) -> None:
    ports = [Reach(source, "a serial port") for source in seated.open_pty()]
    with looking(Finder((), lambda: ports, Air().search)) as finder:
        until(lambda: sum(one.way is Way.CABLE and one.sort is Sort.SCALE for one in finder.found) == 2)
        finder.hold([ports[0].source])
        gone = ports.pop(1)
        until(lambda: gone.source not in by_source(finder))
        kept = ports.pop(0)
        time_to_look = by_source(finder)
        assert kept.source in time_to_look, "one that somebody holds stays"


def test_a_port_without_a_scale_says_so_with_its_remedy() -> None:
    with looking(Finder(("tcp://127.0.0.1:1",), no_ports, Air().search)) as finder:
        until(lambda: "tcp://127.0.0.1:1" in by_source(finder))
        one = by_source(finder)["tcp://127.0.0.1:1"]
    assert one.sort is Sort.NONE and "switch the scale on" in one.said


def test_what_is_heard_by_air_is_told_with_its_kind_and_signal() -> None:
    with looking(Finder((), no_ports, Air(NEAR, STORE).search)) as finder:
        until(lambda: len(finder.found) == 3)
        found = by_source(finder)
    assert found[f"ble:{NEAR.address}"].sort is Sort.SCALE
    assert found[f"ble:{NEAR.address}"].signal_dBm == -61
    assert found[f"ble:{STORE.address}"].sort is Sort.SETTLED


def test_who_is_not_heard_any_more_is_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("weightshare.scales.finder.FORGET_AFTER_S", 0.1)
    air = Air(NEAR)
    with looking(Finder((), no_ports, air.search)) as finder:
        until(lambda: len(finder.found) == 2)
        air.heard.clear()
        until(lambda: len(finder.found) == 1)


def test_why_nothing_is_heard_is_told_and_listening_begins_when_it_can(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("weightshare.scales.finder.ASK_AGAIN_S", 0.05)
    air = Air(NEAR, trouble="Bluetooth is off; switch it on")
    with looking(Finder((), no_ports, air.search)) as finder:
        until(lambda: finder.trouble != "" and finder.has_looked)
        assert finder.trouble == "Bluetooth is off; switch it on"
        air.trouble = ""
        until(lambda: len(finder.found) == 2 and not finder.trouble)


def test_a_scale_that_is_switched_on_later_is_found(seated: Seated, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("weightshare.scales.finder.ASK_AGAIN_S", 0.1)
    monkeypatch.setattr("weightshare.scales.finder.LOOK_EVERY_S", 0.05)
    left, _right = seated.open_tcp()
    seated.close()
    with looking(Finder((left,), no_ports, Air().search)) as finder:
        until(lambda: finder.has_looked)
        assert by_source(finder)[left].sort is Sort.NONE
        again = Seated()
        again.open_tcp(int(left.rpartition(":")[2]))
        try:
            until(lambda: by_source(finder)[left].sort is Sort.SCALE)
        finally:
            again.close()


def test_an_address_is_taken_with_or_without_its_kind() -> None:
    finder = Finder((), no_ports, Air().search)
    finder.add(" 192.168.0.20:7000 ")
    finder.add("tcp://192.168.0.20:7000")
    finder.add("serial:COM9")
    again = finder.again()
    assert again._also == ("tcp://192.168.0.20:7000", "serial:COM9")
    for wrong in ("", "nonsense", "192.168.0.20", "192.168.0.20:99999", "serial:"):
        with pytest.raises(OptionError):
            finder.add(wrong)
