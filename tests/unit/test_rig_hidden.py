"""Hidden cells: each effect is what its words say, by itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.cell import CELLS, PAIR_ID, Cells, hidden_cells, known_calibration
from weightshare.scales.rig.hidden import Hidden, HiddenCells, draw_hidden, hidden_id
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene

ALL = [0, 1, 2, 3]
NOTHING = np.zeros(4)


def plain(**effects: Floats) -> Hidden:
    """Return cells of 1 mN a count and nothing else, but for `effects`."""
    cells = Hidden(np.full(4, 0.001), NOTHING, NOTHING, NOTHING, NOTHING, np.full(4, 30.0), NOTHING, NOTHING)
    return replace(cells, **effects)


def newtons(hidden: Hidden, course_N: list[float], x_part: float | None = None, step_s: float = 0.1) -> Floats:
    """Return what the first cell seems to bear at the end of each piece of a course of loads, held for 1 s each."""
    cells, seen = HiddenCells(hidden, ALL), []
    for piece, load_N in enumerate(course_N):
        time_s = piece + np.arange(1.0, 11.0) * step_s
        loads = np.full((10, 4), load_N)
        place = None if x_part is None else np.full((10, 2), x_part)
        seen.append(cells.counts(time_s, loads, np.zeros((10, 4)), place)[-1, 0] * 0.001)
    return np.array(seen)


def test_plain_cells_show_their_load() -> None:
    assert newtons(plain(), [0.0, 100.0, 300.0, 50.0]) == pytest.approx([0.0, 100.0, 300.0, 50.0])


def test_the_curve_is_that_of_the_calibration_formula() -> None:
    (straight,) = newtons(plain(curve_per_N=np.full(4, 1e-4)), [300.0])
    assert straight + 1e-4 * straight**2 == pytest.approx(300.0)


def test_hysteresis_is_on_the_way_down_only_and_gone_when_unloaded() -> None:
    seen = newtons(plain(hysteresis_per_N=np.full(4, 1e-5)), [100.0, 300.0, 100.0, 0.0, 100.0])
    assert seen == pytest.approx([100.0, 300.0, 100.0 + 4e-5 * 100.0 * 200.0, 0.0, 100.0])


def test_creep_follows_its_load() -> None:
    seen = newtons(plain(creep=np.full(4, 1e-3)), [200.0] * 60)
    assert seen[-1] - 200.0 == pytest.approx(0.2 * (1 - np.exp(-2.0)), rel=0.01)


def test_unequal_cells_feel_left_and_right() -> None:
    cells = plain(tilt=np.full(4, 0.02))
    assert newtons(cells, [100.0], 0.5)[0] == pytest.approx(101.0)
    assert newtons(cells, [100.0], -0.5)[0] == pytest.approx(99.0)


def test_drift_goes_on_with_time() -> None:
    assert newtons(plain(drift_N_per_s=np.full(4, 0.01)), [0.0] * 3)[-1] == pytest.approx(0.03)


def test_the_seed_settles_what_is_hidden() -> None:
    slopes = np.array([cell.newton_per_count for cell in CELLS])
    first, again, other = (draw_hidden(seed, slopes, NOTHING) for seed in (1, 1, 2))
    assert np.array_equal(first.tilt, again.tilt)
    assert not np.array_equal(first.tilt, other.tilt)
    assert np.abs(first.tilt).max() >= 0.01


def test_no_calibration_of_another_scale_is_theirs() -> None:
    """The program knew one by the plain scale's id, and told slopes that are 1 % off as known to 0.02 %."""
    ids = {hidden_id(PAIR_ID, seed) for seed in range(100)}
    assert len(ids) == 100
    assert all(known_calibration(device_id) is None for device_id in ids)
    scene = Scene(Cast(PEOPLE["steady"], FAULTS["clean"], Task(), 7, hidden=True))
    assert VirtualScale(scene).identity.device_id == hidden_id(PAIR_ID, 7)


def test_the_scale_reads_through_them() -> None:
    cells, hidden = Cells(ALL, 3, FAULTS["clean"], hidden=True), hidden_cells(3)
    time_s = np.arange(1.0, 201.0) * 0.01
    counts = cells.read(time_s, np.zeros((200, 4)), 0.01).mean(axis=0)
    assert counts == pytest.approx(hidden.zero_counts, abs=60.0)
