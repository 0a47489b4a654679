"""What a scale on trial reads, held against numpy on the same readings."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from numpy.typing import NDArray

from weightshare.model import (
    NO_READING,
    Calibration,
    Channel,
    ChannelCalibration,
    Chunk,
    Condition,
    Identity,
    LinkDown,
    Quantity,
    Side,
)
from weightshare.practice.startmeter import Meter, plates_of

RATE_HZ, ROWS, PER_COUNT = 80.0, 4, 0.01
LEFT, RIGHT = Side


def identity(*sides: Side | None) -> Identity:
    channels = tuple(Channel(Quantity.FORCE, side, 0, 0) for side in sides)
    return Identity("00112233445566aa", (1, 0, 0), 1, 1_000_000, RATE_HZ, channels, "a scale")


def calibration(count: int) -> Calibration:
    channels = tuple(ChannelCalibration(index, 1000.0, PER_COUNT) for index in range(count))
    return Calibration("00112233445566aa", date(2026, 11, 2), channels)


def chunk(rows: NDArray[np.int64], at_s: float) -> Chunk:
    """Return one frame of readings (samples, channels) that came at `at_s`."""
    one = np.array([0])
    readings = rows.astype(np.int32)[None]
    return Chunk(
        one.astype(np.uint16), one.astype(np.uint32), one.astype(np.uint32), np.array([round(at_s * 1e9)]), readings
    )


def feed(meter: Meter, counts: NDArray[np.int64], begin_s: float = 50.0) -> None:
    for first in range(0, len(counts), ROWS):
        meter.hear([chunk(counts[first : first + ROWS], begin_s + (first + ROWS) / RATE_HZ)])


def test_level_and_noise_are_numpys() -> None:
    counts = np.random.default_rng(3).normal(6000.0, 25.0, (160, 4)).round().astype(np.int64)
    meter = Meter()
    meter.take(identity(LEFT, LEFT, RIGHT, RIGHT), calibration(4))
    feed(meter, counts)
    left, right = meter.seen().plates
    force_N = (counts - 1000.0) * PER_COUNT
    for plate, columns in ((left, [0, 1]), (right, [2, 3])):
        whole = force_N[:, columns].sum(axis=1)
        assert plate.in_newtons
        assert plate.level == pytest.approx(np.mean(whole[-16:]), rel=1e-12)
        assert plate.sd == pytest.approx(np.std(whole[-80:], ddof=1), rel=1e-9)
    assert (left.side, right.side) == (LEFT, RIGHT)


def test_the_rate_is_that_of_this_computers_clock() -> None:
    meter = Meter()
    meter.take(identity(LEFT), calibration(1))
    feed(meter, np.full((80, 1), 1000))
    assert meter.seen().rate_Hz is None, "a second is too short to tell"
    feed(meter, np.full((400, 1), 1000), 51.0)
    seen = meter.seen()
    assert seen.rate_Hz == pytest.approx(RATE_HZ, rel=1e-6) and seen.told_rate_Hz == RATE_HZ


def test_counts_are_told_where_there_is_no_calibration() -> None:
    meter = Meter()
    meter.take(identity(None), None)
    feed(meter, np.full((160, 1), 4321))
    (plate,) = meter.seen().plates
    assert (plate.side, plate.level, plate.sd, plate.in_newtons) == (None, 4321.0, 0.0, False)


def test_a_missing_reading_leaves_no_level_rather_than_a_wrong_one() -> None:
    counts = np.full((160, 1), 6000)
    counts[-3] = NO_READING
    meter = Meter()
    meter.take(identity(LEFT), calibration(1))
    feed(meter, counts)
    assert meter.seen().plates[0].level is None


def test_a_lost_link_forgets_what_was_read() -> None:
    meter = Meter()
    meter.take(identity(LEFT), calibration(1))
    feed(meter, np.full((160, 1), 6000))
    meter.hear([LinkDown(0, "gone")])
    seen = meter.seen()
    assert (seen.plates[0].level, seen.rate_Hz, seen.newest_ns) == (None, None, None)


def test_battery_and_faults_are_the_scales_own() -> None:
    meter = Meter()
    meter.take(identity(LEFT), None)
    assert meter.seen().battery_mV is None
    meter.hear([Condition(0, 3700, None, 0, Condition.OVERLOAD)])
    assert (meter.seen().battery_mV, meter.seen().faults) == (3700, Condition.OVERLOAD)


def test_plates_come_left_before_right_and_height_is_no_plate() -> None:
    told = identity(RIGHT, LEFT, RIGHT)
    channels = (*told.channels, Channel(Quantity.HEEL_HEIGHT, LEFT, 0, 0))
    both = Identity("1" * 16, (1, 0, 0), 1, 1_000_000, RATE_HZ, channels)
    assert plates_of(both) == ((LEFT, (1,)), (RIGHT, (0, 2)))
