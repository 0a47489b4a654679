"""Readings channel by channel: what was read is told as it is, and what was not is counted."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from weightshare.model import NO_READING, Channel, Chunk, Condition, Identity, LinkDown, LinkUp, Quantity, Side
from weightshare.workbench.tally import FULL_COUNTS, Tally

CHANNELS = (
    Channel(Quantity.FORCE, Side.LEFT, 0, 198),
    Channel(Quantity.FORCE, Side.LEFT, 0, -198),
    Channel(Quantity.HEEL_HEIGHT, Side.RIGHT, 0, -130),
    Channel(Quantity.TEMPERATURE, None),
)
ROWS = 4
RATE_HZ = 8.0


def identity(boot_count: int = 1) -> Identity:
    return Identity("0011223344556677", (1, 0, 0), boot_count, 1_000_000, RATE_HZ, CHANNELS)


def chunk(first: int, readings: np.ndarray, frame_s: float = ROWS / RATE_HZ) -> Chunk:
    """Return frames numbered from `first` with readings (frames, ROWS, channels), one after the other."""
    number = np.arange(first, first + len(readings))
    step = np.full(len(readings), 125_000, np.uint32)
    arrival_ns = np.rint(1e9 * frame_s * number).astype(np.int64)
    tick = (number * ROWS * 125_000).astype(np.uint32)
    return Chunk(number.astype(np.uint16), tick, step, arrival_ns, readings.astype(np.int32))


def heard(*items: object) -> Tally:
    tally = Tally()
    tally.take(identity())
    tally.hear([LinkUp(0), *items])  # type: ignore[list-item]
    return tally


FRAMES = arrays(np.int32, (6, ROWS, len(CHANNELS)), elements=st.integers(-(2**23), 2**23 - 1))


@given(FRAMES)
def test_totals_are_those_of_all_that_was_read(readings: np.ndarray) -> None:
    totals = heard(chunk(0, readings)).totals()
    flat = readings.reshape(-1, len(CHANNELS)).astype(float)
    for total, column, scale in zip(totals, flat.T, (1, 1, 1e-3, 1e-2), strict=True):
        assert total.mean == pytest.approx(np.mean(column * scale), rel=1e-9, abs=1e-6)
        assert total.sd == pytest.approx(np.std(column * scale, ddof=1), rel=1e-9, abs=1e-6)
        assert (total.least, total.greatest) == pytest.approx((column.min() * scale, column.max() * scale))
        assert total.missing == 0


@given(FRAMES, st.lists(st.integers(1, 5), max_size=4))
def test_cutting_changes_nothing(readings: np.ndarray, cuts: list[int]) -> None:
    edges = [0, *sorted(set(cuts)), len(readings)]
    parts = [chunk(a, readings[a:b]) for a, b in itertools.pairwise(edges) if b > a]
    whole, cut = heard(chunk(0, readings)), heard(*parts)
    assert whole.totals() == cut.totals()
    assert (whole.rate_Hz(), whole.second(2)) == (cut.rate_Hz(), cut.second(2))


def test_a_second_is_told_when_all_of_it_is_there() -> None:
    readings = np.arange(5 * ROWS * 4).reshape(5, ROWS, 4)
    tally = heard(chunk(0, readings[:3]))
    assert tally.second(1) is not None and tally.second(2) is None
    tally.hear([chunk(3, readings[3:])])
    second = tally.second(2)
    assert second is not None and second.means[0] == pytest.approx(readings.reshape(-1, 4)[8:16, 0].mean())


def test_what_was_not_read_is_no_number() -> None:
    readings = np.full((2, ROWS, 4), 7)
    readings[:, :, 1] = NO_READING
    readings[0, 0, 0] = NO_READING
    tally = heard(chunk(0, readings))
    totals = tally.totals()
    assert (totals[0].missing, totals[0].mean) == (1, 7.0)
    assert (totals[1].missing, totals[1].mean, totals[1].sd, totals[1].least) == (8, None, None, None)
    second = tally.second(1)
    assert second is not None and np.isnan(second.means[1])


def test_a_converter_at_its_limit_is_counted() -> None:
    readings = np.zeros((1, ROWS, 4))
    readings[0, :2, 0] = FULL_COUNTS
    readings[0, 2, 0] = -FULL_COUNTS - 1
    readings[0, :, 2] = FULL_COUNTS
    totals = heard(chunk(0, readings)).totals()
    assert [total.at_limit for total in totals] == [3, 0, 0, 0]


def test_frames_that_never_came_are_counted_and_do_not_slow_the_rate() -> None:
    readings = np.zeros((4, ROWS, 4))
    tally = heard(chunk(65_533, readings[:2]), chunk(65_538, readings))
    assert tally.lost_frames == 3
    assert tally.rate_Hz() == pytest.approx(RATE_HZ)


def test_a_rate_that_is_not_what_was_told_shows() -> None:
    tally = heard(chunk(0, np.zeros((40, ROWS, 4)), frame_s=0.4))
    assert tally.rate_Hz() == pytest.approx(10.0)


def test_a_lost_link_counts_once_and_its_gap_is_no_lost_frame() -> None:
    tally = heard(chunk(0, np.zeros((2, ROWS, 4))), LinkDown(1), LinkUp(2), chunk(90, np.zeros((2, ROWS, 4))))
    assert (tally.drops, tally.lost_frames) == (1, 0)
    tally.hear([LinkDown(3)])
    assert tally.drops == 1  # as at the end of a record
    tally.hear([LinkUp(4)])
    assert tally.drops == 2


def test_a_restart_is_seen_by_its_boot_count() -> None:
    tally = heard()
    tally.take(identity())
    assert tally.boots == 0
    tally.take(identity(boot_count=2))
    assert tally.boots == 1


def test_faults_stay_told_and_losses_are_the_newest() -> None:
    tally = heard(Condition(0, 3700, None, 4, Condition.OVERLOAD), Condition(1, 3690, None, 9, Condition.BATTERY_LOW))
    assert tally.faults == Condition.OVERLOAD | Condition.BATTERY_LOW
    assert (tally.lost_on_scale, tally.battery_mV) == (9, 3690)


def test_nothing_is_counted_once_it_is_closed() -> None:
    tally = heard(chunk(0, np.zeros((2, ROWS, 4))))
    tally.close()
    tally.hear([LinkDown(1), chunk(9, np.zeros((2, ROWS, 4)))])
    assert (tally.drops, tally.samples, tally.lost_frames) == (0, 2 * ROWS, 0)


def test_channels_are_called_by_side_and_place() -> None:
    names = [total.name for total in heard(chunk(0, np.zeros((1, ROWS, 4)))).totals()]
    assert names == ["left front force", "left rear force", "right heel height", "unassigned temperature"]


def test_before_a_scale_has_told_who_it_is_there_is_nothing() -> None:
    tally = Tally()
    tally.hear([chunk(0, np.zeros((2, ROWS, 4)))])
    assert (tally.totals(), tally.second(1), tally.rate_Hz(), tally.samples) == ((), None, None, 0)
