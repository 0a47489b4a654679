"""What can keep a scale from being opened, on the real bleak: each in words with the remedy, nothing left behind."""

from __future__ import annotations

import asyncio
import threading
import time
from collections import deque
from collections.abc import Callable

import pytest

from tests.air.bus import SHUT, Bus
from tests.air.host import LEFT_ADDRESS, RIGHT_ADDRESS, Air, virtual_pair
from tests.air.peripheral import COMMANDS, FRAMES, SERVICE, Characteristic, Peripheral, Refusal, bathroom_scale
from tests.air.watching import until
from weightshare.errors import DeviceError
from weightshare.scales.air import connection, trouble
from weightshare.scales.air.loop import air_loop
from weightshare.scales.air.transport import AirTransport
from weightshare.scales.discovery import ask

ELSEWHERE = "00:00:5E:00:53:77"


def refusal(address: str = LEFT_ADDRESS) -> str:
    """Return the words with which opening is refused."""
    with pytest.raises(DeviceError) as raised:
        AirTransport(address).open()
    assert str(raised.value).startswith(f"ble:{address}: ")
    return str(raised.value).removeprefix(f"ble:{address}: ")


def no_task_left() -> bool:
    """Return whether the loop has nothing under way but its own waiting, and the watches over the bus."""

    async def others() -> list[str]:
        return [str(task.get_coro()) for task in asyncio.all_tasks() if task is not asyncio.current_task()]

    # what waits for something is told together with what it waits for
    known = "AirLoop._serve", "_monitor_bus_disconnect", "_await_end", "wait_for"
    return all(any(name in each for name in known) for each in air_loop().run(others(), 5.0))


def test_a_scale_says_who_it_is_and_what_it_is_like() -> None:
    _, pair = virtual_pair()
    with Air(*pair) as air:
        transport = AirTransport(RIGHT_ADDRESS.lower())
        transport.open()
        identity = ask(transport)
        until(lambda: transport.about.battery_percent is not None)
        about = transport.about
        transport.close()
        transport.close()
        until(no_task_left)
        assert air.stack.calls.index("StartNotify") < air.stack.calls.index("WriteValue")
    assert identity is not None and identity.name == "virtual right"
    assert (about.manufacturer, about.model) == ("A workshop", "Plate 2")
    assert transport.told == "battery 76 %, A workshop, Plate 2"
    assert (about.battery_percent, about.rssi_dBm) == (76, -55)
    assert transport.about == about
    assert not pair[1].connected


@pytest.mark.parametrize(
    ("has_adapter", "powered", "words"),
    [(False, True, trouble.NO_ADAPTER), (True, False, trouble.SWITCHED_OFF)],
)
def test_an_adapter_that_is_absent_or_off_is_told(has_adapter: bool, powered: bool, words: str) -> None:
    with Air(has_adapter=has_adapter, powered=powered):
        assert refusal() == words
        assert no_task_left()


def test_a_service_that_does_not_run_is_told() -> None:
    with Air(has_stack=False):
        assert trouble.NO_SERVICE in refusal()


def test_a_machine_without_a_bus_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=/nowhere/bus")
    assert trouble.NO_SERVICE in refusal()


def test_a_user_who_may_not_is_told() -> None:
    with Air(*virtual_pair()[1], bus=Bus(SHUT)):
        assert trouble.NOT_ALLOWED in refusal()


def test_a_scale_that_is_not_near_is_told_and_disturbs_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection, "FIND_S", 0.3)
    with Air(*virtual_pair()[1]) as air:
        assert refusal(ELSEWHERE) == trouble.NOT_NEARBY
        assert "Connect" not in air.stack.calls
        assert no_task_left()


@pytest.mark.parametrize(
    ("how", "words"),
    [
        (Refusal.FAILS, "connecting failed (br-connection-unknown)"),
        (Refusal.HANGS, trouble.NO_ANSWER),
        (Refusal.VANISHES, "connecting failed (failed to discover services, device disconnected)"),
    ],
)
def test_a_connection_that_comes_to_nothing_is_told_and_can_be_made_again(
    how: Refusal, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, (left, right) = virtual_pair()
    left.refusals = deque([how])
    with Air(left, right), monkeypatch.context() as hurried:
        hurried.setattr(connection, "CONNECT_S", 0.5)
        assert words in refusal()
        until(no_task_left)
        assert not left.connected
        transport = AirTransport(LEFT_ADDRESS)
        transport.open()
        assert ask(transport) is not None
        transport.close()


def test_a_try_that_aborts_is_made_again_at_once_and_is_no_loss() -> None:
    """BlueZ then says that it is disconnected, while bleak is still connecting."""
    _, (left, right) = virtual_pair()
    left.refusals = deque([Refusal.ABORTS, Refusal.ABORTS])
    with Air(left, right) as air:
        transport = AirTransport(LEFT_ADDRESS)
        transport.open()
        assert air.stack.calls.count("Connect") == 3
        assert ask(transport) is not None
        assert transport.read(0.0) == b""
        transport.close()


@pytest.mark.parametrize(("mtu", "payload"), [(23, 20), (100, 97), (162, 159)])
def test_a_link_that_carries_too_little_is_not_begun(mtu: int, payload: int) -> None:
    _, (left, right) = virtual_pair()
    left.mtu = mtu
    with Air(left, right):
        assert refusal().startswith(f"the link carries too little: {payload} bytes, 160 are needed; ")
        assert left.written == [] and not left.connected


def test_a_link_that_carries_just_enough_is() -> None:
    _, (left, right) = virtual_pair()
    left.mtu = 163
    with Air(left, right):
        transport = AirTransport(LEFT_ADDRESS)
        transport.open()
        transport.close()


@pytest.mark.parametrize(
    ("services", "words"),
    [
        ({}, connection.NO_SCALE),
        (bathroom_scale("").services, connection.OTHER_KIND),
        ({SERVICE: [Characteristic(FRAMES, ["notify"])]}, "only in part"),
        ({SERVICE: [Characteristic(COMMANDS, ["write"])]}, "only in part"),
    ],
)
def test_what_is_no_scale_of_ours_is_told(services: dict[str, list[Characteristic]], words: str) -> None:
    device = Peripheral(ELSEWHERE, "a device", services)
    with Air(device):
        assert words in refusal(ELSEWHERE)
        assert not device.connected


def test_without_bleak_the_words_say_what_is_missing() -> None:
    assert trouble.words_for(ModuleNotFoundError("bleak")) == trouble.NO_BLEAK


@pytest.mark.parametrize("begun", [True, False])
def test_who_waits_for_a_connection_can_be_called_off(begun: bool) -> None:
    _, (left, right) = virtual_pair()
    left.refusals = deque([Refusal.HANGS])
    said: list[str] = []

    def wait() -> None:
        said.append(refusal())

    with Air(left, right) as air:
        transport = AirTransport(LEFT_ADDRESS)
        waiting = threading.Thread(target=_open_and_note, args=(transport, said))
        if not begun:
            transport.interrupt()
        waiting.start()
        if begun:
            until(lambda: "Connect" in air.stack.calls)
        began_s = time.monotonic()
        transport.interrupt()
        waiting.join(5.0)
        assert time.monotonic() - began_s < 2.0
        until(no_task_left)
        assert not left.connected
    assert said == [f"ble:{LEFT_ADDRESS}: connecting was given up"]


def _open_and_note(transport: AirTransport, said: list[str]) -> None:
    try:
        transport.open()
    except DeviceError as error:
        said.append(str(error))


def test_a_scale_that_was_left_connected_is_found() -> None:
    """BlueZ keeps a connection whose program crashed, and a connected scale makes itself heard no more."""
    _, (left, right) = virtual_pair()
    with Air(left, right):
        first = AirTransport(LEFT_ADDRESS)
        first.open()
        second = AirTransport(LEFT_ADDRESS)
        second.open()
        assert ask(second) is not None
        second.close()
        first.close()


def test_nothing_can_be_read_or_written_that_is_not_open() -> None:
    transport = AirTransport(LEFT_ADDRESS)
    doings: list[Callable[[], object]] = [lambda: transport.read(0.0), lambda: transport.write(b"\0")]
    for doing in doings:
        with pytest.raises(DeviceError, match="the link is not open"):
            doing()
