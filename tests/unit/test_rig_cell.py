"""Counts are what a calibrated cell would give, and back again; what real cells add stays within its bounds."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from weightshare.model import NO_READING, Calibration, Floats, Side
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.cell import (
    CHANNELS,
    COLUMNS,
    CREEP,
    FULL_COUNTS,
    LEFT_ID,
    NOISE_N,
    PAIR_ID,
    RANGE_N,
    RIGHT_ID,
    Cells,
    known_calibration,
    rig_calibration,
)

TIME_S: Floats = np.arange(0.0, 60.0, 0.01)
ALL = COLUMNS[PAIR_ID]


def read(load_N: tuple[float, ...], fault: str = "clean", seed: int = 1, columns: tuple[int, ...] = ALL) -> Floats:
    cells = Cells(columns, seed, FAULTS[fault])
    force_N = np.tile(load_N, (2, 1))
    return np.concatenate([cells.read(TIME_S[k : k + 2], force_N, 0.01) for k in range(0, len(TIME_S), 2)])


def newtons(readings: Floats | NDArray[np.int32], calibration: Calibration) -> Floats:
    zero = np.array([channel.zero_counts for channel in calibration.channels])
    scale = np.array([channel.newton_per_count for channel in calibration.channels])
    force_N: Floats = (readings - zero) * scale
    return force_N


@pytest.mark.parametrize(
    "load_N", [(150.0, 200.0, 150.0, 200.0), (60.0, 120.0, 230.0, 300.0), (35.0, 35.0, 315.0, 315.0)]
)
def test_the_calibrated_share_is_right_within_a_tenth_of_a_point(load_N: tuple[float, ...]) -> None:
    zero_N = newtons(read((0.0,) * 4), rig_calibration())[:100].mean(axis=0)
    force_N = newtons(read(load_N), rig_calibration()).mean(axis=0) - zero_N
    truth = 100.0 * sum(load_N[:2]) / sum(load_N)
    assert 100.0 * force_N[:2].sum() / force_N.sum() == pytest.approx(truth, abs=0.1)
    assert force_N.sum() == pytest.approx(sum(load_N), rel=0.001)
    assert not np.allclose(force_N, load_N, atol=1e-3), "real cells are a little off"


def test_the_empty_plates_stand_near_the_calibrations_zero() -> None:
    force_N = newtons(read((0.0,) * 4), rig_calibration())
    assert np.abs(force_N.mean(axis=0)).max() < 2.0
    assert np.abs(force_N.mean(axis=0)).max() > 0.1


def test_noise_grows_with_the_root_of_the_rate() -> None:
    for interval_s in (0.01, 0.001):
        cells = Cells(ALL, 1, FAULTS["clean"])
        counts = cells.read(TIME_S, np.zeros((len(TIME_S), 4)), interval_s)
        noise_N = np.diff(newtons(counts, rig_calibration()), axis=0).std(axis=0) / np.sqrt(2.0)
        assert noise_N == pytest.approx(np.full(4, NOISE_N * np.sqrt(0.01 / interval_s)), rel=0.05)


def test_cells_creep_under_load_and_zero_wanders_slowly() -> None:
    load_N = 500.0
    force_N = newtons(read((load_N,) * 4), rig_calibration())
    crept = force_N[-500:].mean(axis=0) - force_N[:50].mean(axis=0)
    assert crept.mean() == pytest.approx(CREEP * load_N * (1 - np.exp(-2.0)), abs=0.15)
    cells = Cells(ALL, 1, FAULTS["clean"])
    minutes = [cells.read(np.arange(60.0) + 60.0 * k, np.zeros((60, 4)), 1.0) for k in range(60)]
    wander_N = np.array([newtons(minute, rig_calibration()).mean(axis=0) for minute in minutes])
    assert 0.02 < wander_N.std(axis=0).mean() < 0.3


def test_the_same_seed_gives_the_same_counts_however_they_are_asked_for() -> None:
    assert np.array_equal(read((100.0,) * 4), read((100.0,) * 4))
    assert not np.array_equal(read((100.0,) * 4), read((100.0,) * 4, seed=2))


def test_left_and_right_scales_read_their_own_side() -> None:
    load_N = (10.0, 20.0, 30.0, 40.0)
    left = newtons(read(load_N, columns=COLUMNS[LEFT_ID]), rig_calibration(LEFT_ID)).mean(axis=0)
    right = newtons(read(load_N, columns=COLUMNS[RIGHT_ID]), rig_calibration(RIGHT_ID)).mean(axis=0)
    assert [*left, *right] == pytest.approx(load_N, abs=1.5)
    assert [CHANNELS[column].side for column in ALL] == [Side.LEFT, Side.LEFT, Side.RIGHT, Side.RIGHT]
    assert [CHANNELS[column].y_mm > 0 for column in ALL] == [True, False, True, False]


def test_only_the_rigs_own_scales_have_a_calibration_of_their_own() -> None:
    assert known_calibration(PAIR_ID) == rig_calibration()
    assert known_calibration("0011223344556677") is None
    assert [channel.index for channel in rig_calibration(RIGHT_ID).channels] == [0, 1]
    assert all(channel.range_N == RANGE_N for channel in rig_calibration().channels)


def test_a_bag_lies_on_the_left_plate_at_the_start_only() -> None:
    bag_N = newtons(read((0.0,) * 4, "zero-load"), rig_calibration()) - newtons(read((0.0,) * 4), rig_calibration())
    assert bag_N[:250].sum(axis=1).mean() == pytest.approx(78.5, abs=0.1)
    assert np.abs(bag_N[:250, 2:]).max() < 0.01
    assert np.abs(bag_N[261:]).max() < 0.05  # what is left is creep
    right = read((0.0,) * 4, "zero-load", columns=COLUMNS[RIGHT_ID])
    assert np.array_equal(right, read((0.0,) * 4, columns=COLUMNS[RIGHT_ID]))


def test_an_overloaded_cell_stops_at_the_converters_end_and_says_so() -> None:
    cells = Cells(ALL, 1, FAULTS["overload"])
    force_N = np.full((2, 4), 150.0)
    assert np.all(cells.read(np.array([15.0, 15.01]), force_N, 0.01) < FULL_COUNTS)
    assert not cells.overloaded
    pressed = cells.read(np.array([16.5, 16.51]), force_N, 0.01)
    assert np.all(pressed[:, 0] == FULL_COUNTS)
    assert np.all(pressed[:, 1:] < FULL_COUNTS)
    assert cells.overloaded
    assert np.all(Cells(ALL, 1, FAULTS["clean"]).read(TIME_S[:2], np.full((2, 4), 1e6), 0.01) == FULL_COUNTS)


def test_readings_go_missing_singly_and_for_a_while() -> None:
    missing = read((150.0,) * 4, "missing") == NO_READING
    longest = [_longest_run(column) for column in missing.T]
    assert 10 <= max(longest) <= 51
    assert 0.001 < missing.mean() < 0.05
    assert not missing[:300].all(axis=1).any()
    assert not np.any(read((150.0,) * 4) == NO_READING)


def _longest_run(flags: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.astype(int), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))
