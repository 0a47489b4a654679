"""From counts to newtons, and what the newtons are worth."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.unit.points import GRAVITY, SLOPE, ZERO, Plate, make_points
from weightshare.errors import InputError
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.point import Points
from weightshare.metrology.transfer import AIR, CORNER, CURVE, MASSES, SCATTER, budget_N, fit_transfer
from weightshare.metrology.transfer import GRAVITY as OF_GRAVITY

EXACT = Plate(sd_N=0.0)


def newtons(points: Points) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    force_N = points.force_N(GRAVITY)
    assert force_N is not None
    return force_N.ravel()


@pytest.mark.parametrize(("curve", "degree"), [(0.0, 1), (4e-6, 2), (-4e-6, 2)])
def test_a_calibration_file_gives_the_loads_back(tmp_path: Path, curve: float, degree: int) -> None:
    points = make_points(tmp_path / "points.csv", replace(EXACT, curve_per_N=curve))
    transfer = fit_transfer(points, GRAVITY, degree)
    assert transfer is not None
    channel = transfer.channel(3, 0.5, 588.6)
    over_zero = points.y - channel.zero_counts
    force_N = channel.newton_per_count * over_zero + channel.newton_per_count2 * over_zero**2
    np.testing.assert_allclose(force_N, newtons(points), atol=0.02)
    np.testing.assert_allclose(transfer.force_N(points.y), force_N, atol=1e-6)
    assert channel.zero_counts == pytest.approx(ZERO, abs=10.0)
    assert (channel.index, channel.standard_uncertainty_N, channel.range_N) == (3, 0.5, 588.6)


def test_a_straight_line_has_no_curve(tmp_path: Path) -> None:
    transfer = fit_transfer(make_points(tmp_path / "points.csv", EXACT), GRAVITY, 1)
    assert transfer is not None and transfer.newton_per_count2 == 0.0
    assert transfer.newton_per_count == pytest.approx(SLOPE, rel=1e-6)


def test_the_zero_is_found_far_away(tmp_path: Path) -> None:
    """Raw counts stand ten million off; no point has nothing on."""
    points = make_points(tmp_path / "points.csv", replace(EXACT, curve_per_N=4e-6))
    some = points.x > 0.0
    far = Points(points.x[some], points.y[some] + 1e7, "mass_kg", "counts", points.line[some])
    transfer = fit_transfer(far, GRAVITY, 2)
    assert transfer is not None
    assert transfer.zero_counts == pytest.approx(1e7 + ZERO, abs=100.0)


def test_x_and_y_are_no_newtons() -> None:
    points = Points(np.arange(5.0), np.arange(5.0), "x", "y", np.arange(2, 7))
    assert points.force_N() is None
    assert fit_transfer(points, GRAVITY, 1) is None


def test_counts_that_never_change_are_told() -> None:
    points = Points(np.arange(5.0), np.full(5, 7.0), "load_N", "counts", np.arange(2, 7))
    with pytest.raises(InputError, match="counts are all the same"):
        fit_transfer(points, GRAVITY, 1)


def test_a_curve_that_turns_is_refused() -> None:
    counts = np.linspace(-10.0, 10.0, 9)
    points = Points(counts**2, counts, "load_N", "counts", np.arange(2, 11))
    with pytest.raises(InputError, match="turns between the points"):
        fit_transfer(points, GRAVITY, 2)


def test_the_budget_has_every_part(tmp_path: Path) -> None:
    """At 60 kg: masses 1e-4, gravity 1e-4 / 9.81, air 1.5e-4 / sqrt 3, a corner of 1 % over sqrt 3; by hand."""
    points = make_points(tmp_path / "points.csv", Plate())
    transfer = fit_transfer(points, GRAVITY, 1)
    assert transfer is not None
    parts = budget_N(transfer, points, Estimate(GRAVITY, 1e-4), 1e-4, 0.01)
    assert set(parts) == {SCATTER, CURVE, CORNER, MASSES, OF_GRAVITY, AIR}
    assert parts[SCATTER] == transfer.fit.residual_sd
    assert parts[CURVE] == pytest.approx(float(transfer.fit.predict(points.y.max()).u), rel=0.01)
    assert parts[MASSES] == pytest.approx(0.05886)
    assert parts[OF_GRAVITY] == pytest.approx(0.006)
    assert parts[AIR] == pytest.approx(588.6 * 1.5e-4 / math.sqrt(3.0))
    assert parts[CORNER] == pytest.approx(5.886 / math.sqrt(3.0))


def test_what_is_not_known_is_no_part_of_the_budget(tmp_path: Path) -> None:
    points = make_points(tmp_path / "points.csv", replace(EXACT, column="load_N", unit=GRAVITY))
    transfer = fit_transfer(points, GRAVITY, 1)
    assert transfer is not None
    assert set(budget_N(transfer, points, Estimate(GRAVITY, 1e-4), None, 0.0)) == {SCATTER, CURVE}
