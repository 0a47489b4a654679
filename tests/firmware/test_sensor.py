"""Converters and sensors at their pins and buses: pulse by pulse, and with everything that can be wrong with one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.firmware.boards import Board, shipped, wired
from weightshare.model import NO_READING, Condition, Quantity

HEEL: dict[str, Any] = {
    "quantity": "heel height",
    "side": "left",
    "y_mm": -90,
    "driver": "register",
    "address": 41,
    "register_bits": 16,
    "setup": [[0x0101, 3], [0x0202, 1]],
    "ready": [0x0031, 1],
    "reading": [0x0096, 2],
    "clear": [[0x0086, 1]],
    "factor": 1000,
    "offset": -35_000,
    "least": 1,
    "most": 400,
}
HEEL_PART: dict[str, Any] = {
    "address": 41,
    "register_bits": 16,
    "setup": [[0x0101, 3], [0x0202, 1]],
    "ready": [0x0031, 1],
    "data": [0x0096, 2],
    "clear": 0x0086,
    "value": 60,
    "rate_Hz": 50,
}
BUS = {"id": 0, "scl": 9, "sda": 8}


def rows_of(board: Board, seconds: float = 1.5) -> NDArray[np.int32]:
    channels = len(board.begin().channels)
    board.wait_for(lambda: bool(board.heard.conditions), seconds + 5)
    board.listen(max(0.0, seconds - 1))
    return np.concatenate([chunk.readings.reshape(-1, channels) for chunk in board.heard.chunks])


def with_cells(**about: object) -> tuple[dict[str, Any], dict[str, Any]]:
    """Settings and world of the standard build, whose first converter is `about`."""
    settings = shipped()
    world = wired(settings)
    world["converters"][0] |= about
    return settings, world


@pytest.mark.parametrize("pulses", [25, 26, 27])
def test_the_pulses_choose_input_and_gain(make_board: Callable[..., Board], pulses: int) -> None:
    """The simulated converter adds 100,000 for 26 pulses and 200,000 for 27, from the next reading on."""
    settings = shipped()
    for channel in settings["channels"]:
        channel["pulses"] = pulses
    board = make_board(settings)
    first = rows_of(board)[:, 0]
    read = first[first != NO_READING]
    assert len(read) > 50
    assert (read // 100_000 == pulses - 25).all()
    assert board.complaints == []


@pytest.mark.parametrize("pulses", [24, 28])
def test_the_simulated_converter_would_tell_of_other_pulses(make_board: Callable[..., Board], pulses: int) -> None:
    """That the tests above can fail: a driver altered to give one pulse too few or too many is told of."""
    board = make_board(start=False)
    driver = board.flash / "scale" / "twowire.py"
    text = driver.read_text()
    assert "range(self._pulses - 24)" in text
    driver.write_text(text.replace("range(self._pulses - 24)", f"range({pulses - 24})"))
    board.start()
    rows_of(board)
    assert board.complaints


def test_the_clock_is_high_only_while_no_interrupt_may_come(make_board: Callable[..., Board]) -> None:
    """That it is looked at: a driver that leaves interrupts on is told of."""
    board = make_board(start=False)
    driver = board.flash / "scale" / "twowire.py"
    driver.write_text(driver.read_text().replace("state = disable_irq()", "state = False"))
    board.start()
    rows_of(board)
    assert "clock high while an interrupt may come" in board.complaints


@pytest.mark.parametrize("count", [0, 1, -1, 0x7FFFFE, -0x7FFFFE])
@pytest.mark.parametrize("reverse", [False, True])
def test_sign_and_direction(make_board: Callable[..., Board], count: int, reverse: bool) -> None:
    settings, world = with_cells(base=count, rate_Hz=80, still=True)
    settings["channels"][0]["reverse"] = reverse
    board = make_board(settings, world)
    first = rows_of(board, 1.0)[:, 0]
    assert set(first[first != NO_READING].tolist()) == {-count if reverse else count}
    assert board.heard.conditions[-1].faults == 0


@pytest.mark.parametrize("kind", ["never", "short"])
def test_a_cell_that_does_not_answer(make_board: Callable[..., Board], kind: str) -> None:
    settings, world = with_cells(kind=kind)
    board = make_board(settings, world)
    rows = rows_of(board, 2.5)
    assert (rows[:, 0] == NO_READING).all()
    assert (rows[1:, 1:] != NO_READING).mean() > 0.9
    assert all(condition.faults == Condition.CELL_SILENT for condition in board.heard.conditions)
    assert board.runs and board.complaints == []


def test_a_cell_that_falls_silent_is_told_within_a_second(make_board: Callable[..., Board]) -> None:
    board = make_board(*with_cells(silent_after_ms=2500))
    rows = rows_of(board, 4.5)
    faults = [condition.faults for condition in board.heard.conditions]
    assert faults[0] == 0 and faults[-1] == Condition.CELL_SILENT
    assert (rows[-40:, 0] == NO_READING).all()


@pytest.mark.parametrize("kind", ["saturated", "saturated low"])
def test_a_cell_at_its_limit(make_board: Callable[..., Board], kind: str) -> None:
    board = make_board(*with_cells(kind=kind))
    first = rows_of(board)[:, 0]
    limit = 0x7FFFFF if kind == "saturated" else -0x800000
    assert set(first[first != NO_READING].tolist()) == {limit}
    assert board.heard.conditions[-1].faults == Condition.OVERLOAD


def test_a_reading_serves_two_rows_at_most(make_board: Callable[..., Board]) -> None:
    """A converter at 10 a second under rows at 80: each reading is in two of them, and then there is none."""
    settings = shipped()
    board = make_board(settings, wired(settings, rate_Hz=10))
    first = rows_of(board, 3.0)[:, 0]
    read = first[first != NO_READING]
    assert 0.15 < len(read) / len(first) < 0.35
    assert np.unique(read, return_counts=True)[1].max() == 2
    assert (np.diff(np.unique(read)) == 1).all()


def test_two_converters_of_unlike_rates(make_board: Callable[..., Board]) -> None:
    """A quicker one loses some conversions, a slower one serves some rows twice; no row is without a reading."""
    settings = shipped()
    world = wired(settings)
    world["converters"][0]["rate_Hz"], world["converters"][1]["rate_Hz"] = 84, 76
    board = make_board(settings, world)
    rows = rows_of(board, 4.0)
    for cell in (0, 1):
        read = rows[rows[:, cell] != NO_READING, cell]
        assert len(read) > 0.9 * len(rows)  # on a busy computer some callbacks of the simulated timer come in a bunch
        assert (np.diff(read) >= 0).all()
        assert np.unique(read, return_counts=True)[1].max() <= 2
    assert len(np.unique(rows[:, 1])) < 0.97 * len(rows)


def with_heel(**part: object) -> tuple[dict[str, Any], dict[str, Any]]:
    settings = shipped()
    settings["buses"] = [BUS]
    settings["channels"].append(dict(HEEL))
    world = wired(settings)
    world["devices"] = [HEEL_PART | part]
    return settings, world


def test_a_distance_sensor_gives_the_height_of_the_heel(make_board: Callable[..., Board]) -> None:
    """60 mm away, mounted 35 mm below the resting heel: 25 mm, in micrometres; at 50 a second, under rows at 80."""
    board = make_board(*with_heel())
    heel = rows_of(board, 2.0)[:, 4]
    assert board.heard.identities[0].channels[4].quantity is Quantity.HEEL_HEIGHT
    assert set(heel.tolist()) <= {25_000, NO_READING}
    assert (heel == 25_000).mean() > 0.9
    assert board.complaints == []


def test_a_sensor_that_sees_nothing_is_not_set_up_again(make_board: Callable[..., Board]) -> None:
    """The simulated sensor would tell of a register that it does not know: each of its set-up is taken once."""
    board = make_board(*with_heel(value=8190, strict=True))
    assert set(rows_of(board, 3.0)[:, 4].tolist()) == {NO_READING}
    assert board.complaints == []


@pytest.mark.parametrize("value", [0, 401, 8190])
def test_a_distance_that_cannot_be_meant_is_none(make_board: Callable[..., Board], value: int) -> None:
    board = make_board(*with_heel(value=value))
    assert set(rows_of(board)[:, 4].tolist()) == {NO_READING}


def test_a_missing_distance_sensor_spoils_no_forces(make_board: Callable[..., Board]) -> None:
    settings, world = with_heel()
    world["devices"] = []
    board = make_board(settings, world)
    rows = rows_of(board, 2.0)
    assert (rows[:, 4] == NO_READING).all()
    assert (rows[1:, :4] != NO_READING).mean() > 0.9
    assert board.heard.conditions[-1].faults == 0
    assert board.complaints == []


def test_a_sensor_that_is_plugged_in_late_is_set_up(make_board: Callable[..., Board]) -> None:
    board = make_board(*with_heel(there_after_ms=2500))
    heel = rows_of(board, 5.0)[:, 4]
    assert (heel[:40] == NO_READING).all()
    assert 25_000 in heel[-80:]


def test_a_converter_on_a_bus(make_board: Callable[..., Board]) -> None:
    settings = shipped()
    settings["buses"] = [BUS]
    settings["channels"] = [
        {"quantity": "force", "side": side, "driver": "register", "address": address, "ready": [0, 32],
         "reading": [0x12, 3], "signed": True, "setup": [[0, 0x86], [1, 0x3C]]}
        for side, address in (("left", 42), ("right", 43))
    ]  # fmt: skip
    part = {"data": [0x12, 3], "ready": [0, 32], "setup": [[0, 0x86], [1, 0x3C]], "rate_Hz": 320}
    values = {42: -70_000, 43: 0x7FFFFF}
    world = {"light": 2, "devices": [part | {"address": address, "value": value} for address, value in values.items()]}
    board = make_board(settings, world)
    rows = rows_of(board)
    for column, value in enumerate(values.values()):
        assert set(rows[:, column].tolist()) <= {value, NO_READING}
        assert (rows[:, column] == value).mean() > 0.9
    assert board.heard.conditions[-1].faults == Condition.OVERLOAD
    assert board.complaints == []


@pytest.mark.parametrize(("counts", "mV", "faults"), [(65_535, 8400, 0), (25_000, 3204, Condition.BATTERY_LOW)])
def test_the_battery(make_board: Callable[..., Board], counts: int, mV: int, faults: int) -> None:
    settings = shipped() | {"battery": {"pin": 1, "full_mV": 8400, "low_mV": 3300}}
    board = make_board(settings, wired(settings) | {"analogue": {"1": counts}})
    rows_of(board, 1.0)
    assert (board.heard.conditions[-1].battery_mV, board.heard.conditions[-1].faults) == (mV, faults)
