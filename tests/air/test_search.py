"""Who is found by Bluetooth, and what the commands make of it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading

import pytest

from tests.air.host import LEFT_ADDRESS, RIGHT_ADDRESS, Air, virtual_pair
from tests.air.peripheral import Peripheral, bathroom_scale, frames_service
from weightshare.errors import DeviceError
from weightshare.scales.air.search import AirFound, look, search
from weightshare.scales.air.transport import AirTransport
from weightshare.scales.air.trouble import SWITCHED_OFF
from weightshare.scales.discovery import Reach, list_air, probe

THIRD, SHOP, HEADPHONES = "00:00:5E:00:53:33", "00:00:5E:00:53:44", "00:00:5E:00:53:55"


def test_every_kind_of_scale_is_found_the_strongest_first_and_nothing_else() -> None:
    third = Peripheral(THIRD, "a neighbour's", frames_service(), rssi=-88)
    others = [
        third,
        bathroom_scale(SHOP),
        Peripheral(HEADPHONES, "headphones", {"0000110b-0000-1000-8000-00805f9b34fb": []}),
    ]
    _, (left, right) = virtual_pair()
    right.rssi = -40
    told: list[AirFound] = []
    with Air(left, right, *others) as air:
        found = search(0.4, tell=told.append)
        assert "Connect" not in air.stack.calls
    assert [each.address for each in found] == [RIGHT_ADDRESS, LEFT_ADDRESS, SHOP, THIRD]
    assert found[2] == AirFound(SHOP, "Bathroom scale", -55, "weight-scale")
    assert {each.address for each in told} == {each.address for each in found}


def test_a_connected_scale_and_one_that_is_off_are_not_heard() -> None:
    _, (left, right) = virtual_pair()
    left.is_on = False
    with Air(left, right):
        transport = AirTransport(RIGHT_ADDRESS)
        transport.open()
        assert search(0.3) == []
        transport.close()
        assert [each.address for each in search(0.3)] == [RIGHT_ADDRESS]


def test_a_search_lets_a_connection_in_between() -> None:
    _, pair = virtual_pair()
    stop = threading.Event()
    with Air(*pair):
        looking = threading.Thread(target=search, args=(60.0,), kwargs={"stop": stop})
        looking.start()
        transport = AirTransport(LEFT_ADDRESS)
        transport.open()
        transport.close()
        assert looking.is_alive()
        stop.set()
        looking.join(5.0)
        assert not looking.is_alive()


def test_what_bluetooth_lacks_is_told_in_words() -> None:
    with Air(powered=False):
        assert look() == SWITCHED_OFF
        with pytest.raises(DeviceError, match="switched off"):
            search(0.1)
    with Air():
        assert look() == ""


def test_who_is_heard_is_described_and_can_be_asked() -> None:
    _, (left, _right) = virtual_pair()
    with Air(left, bathroom_scale(SHOP)):
        near, shop = list_air(0.3)
        assert near == Reach(f"ble:{LEFT_ADDRESS}", "left plate, Bluetooth, signal -55 dBm")
        assert "settled readings only" in shop.description
        assert probe(near).answer == "scale 5053000000000002 (virtual left)"
        assert "store-bought" in probe(shop).answer


def test_the_command_lists_them() -> None:
    command = [sys.executable, "-W", "error", "-m", "weightshare", "scales", "--json", "--probe"]
    with Air(*virtual_pair()[1]):
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=os.environ)
    told = json.loads(done.stdout)
    assert (done.stderr, told["bluetooth"]) == ("", None)
    by_air = {each["source"]: each["device_id"] for each in told["scales"] if each["source"].startswith("ble:")}
    assert by_air == {f"ble:{LEFT_ADDRESS}": "5053000000000002", f"ble:{RIGHT_ADDRESS}": "5053000000000003"}
