"""What scales can have wrong, by air: told in words with the remedy, before anybody stands on them."""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.air.host import LEFT_ADDRESS, RIGHT_ADDRESS, Air, virtual_scales
from tests.air.peripheral import Peripheral, bathroom_scale, frames_service
from tests.air.practising import COMMAND, practising
from weightshare.model import Side
from weightshare.task import Settings

RIGHT_75 = Settings(Side.RIGHT, 75.0)
PAIR = (LEFT_ADDRESS, RIGHT_ADDRESS)
SHOP, THIRD = "00:00:5E:00:53:44", "00:00:5E:00:53:33"


def refused(save: Path, addresses: Sequence[str]) -> str:
    """Return the one line with which a session on the scales at `addresses` is refused."""
    sources = [part for address in addresses for part in ("--source", f"ble:{address}")]
    fixed = ["--injured", "right", "--target", "75", "--headless", "--save", str(save), "--json"]
    done = subprocess.run(
        [*COMMAND, "practise", *sources, *fixed], capture_output=True, text=True, check=False, timeout=60
    )
    told = done.stderr.splitlines()
    assert done.returncode == 3 and done.stdout == "", told
    return told[-1]


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        ("steady,faults=other-protocol", ["version 2", "bring"]),
        ("steady,faults=same-side", ["both", "left"]),
        ("steady,cells=hidden", ["no calibration", "weightshare calibrate run --source ble:"]),
    ],
)
def test_scales_that_cannot_be_practised_on_are_refused_in_one_line(
    spec: str, words: list[str], tmp_path: Path
) -> None:
    _, pair = virtual_scales(spec, RIGHT_75)
    with Air(*pair):
        said = refused(tmp_path / "place", PAIR)
    assert all(word in said for word in words), said


def test_a_store_bought_scale_in_place_of_one_of_them_is_refused(tmp_path: Path) -> None:
    _, (left, _right) = virtual_scales("steady", RIGHT_75)
    with Air(left, bathroom_scale(SHOP)):
        assert "not beside a store-bought one" in refused(tmp_path / "place", (LEFT_ADDRESS, SHOP))


def test_a_third_scale_nearby_is_left_alone(tmp_path: Path) -> None:
    _, pair = virtual_scales("steady", RIGHT_75)
    third = Peripheral(THIRD, "a neighbour's", frames_service(), rssi=-20)
    with Air(third, *pair) as air, practising(tmp_path, PAIR, "--seconds", "3") as practice:
        analysis = practice.finish()
        assert air.stack.calls.count("Connect") == 2
    assert third.written == [] and analysis["samples"] > 200


@pytest.mark.soak
def test_a_battery_that_is_low_is_told_while_practice_goes_on(tmp_path: Path) -> None:
    _, pair = virtual_scales("steady,faults=battery-low", RIGHT_75)
    with Air(*pair), practising(tmp_path, PAIR, "--seconds", "60") as practice:
        said = practice.until_told("battery is low")
        assert "charge it" in practice.told[-1], practice.told
        assert practice.is_running and not any("saved" in line for line in practice.told[:said])
