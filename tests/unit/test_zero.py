"""The zero of a session: the mean of the first still second, where it can be believed."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.counts import FOUR, RATE_HZ, make_calibration, make_chunk, make_identity, make_timed
from weightshare.model import Floats, LinkUp, Side
from weightshare.pipeline import Pipeline
from weightshare.pipeline.calibrate import Calibrator
from weightshare.pipeline.zero import PATIENCE_S, Zero
from weightshare.state import State
from weightshare.task import Settings

SECOND = round(RATE_HZ)


def counts(left_N: object, right_N: object, count: int = SECOND) -> Floats:
    """Return raw readings of loads by the calibration's own zero."""
    left, right = (np.broadcast_to(np.asarray(side, dtype=np.float64), (count,)) for side in (left_N, right_N))
    return np.stack([1000.0 + left / 0.01, 1100.0 + right / 0.01])


def fresh() -> tuple[Zero, Calibrator]:
    calibrator = Calibrator(make_identity(), make_calibration())
    return Zero(calibrator), calibrator


def loads(calibrator: Calibrator, readings: Floats) -> Floats:
    return calibrator.push(make_timed(readings)).values


def test_a_drift_within_20_N_is_taken_off() -> None:
    zero, calibrator = fresh()
    passed = zero.push(make_timed(counts(4.0, -7.5)))
    assert zero.taken is True
    assert zero.warning is None
    assert sum(timed.time_s.size for timed in passed) == SECOND
    np.testing.assert_allclose(loads(calibrator, counts(4.0, -7.5)), 0.0, atol=1e-9)
    np.testing.assert_allclose(loads(calibrator, counts(304.0, 392.5))[:, 0], [300.0, 400.0])


def test_it_is_the_mean_of_the_second() -> None:
    noise: Floats = np.random.default_rng(5).normal(0.0, 1.0, SECOND)
    zero, calibrator = fresh()
    zero.push(make_timed(counts(3.0 + noise, 0.0)))
    assert zero.taken is True
    assert calibrator.zero_counts[0, 0] == pytest.approx(1000.0 + (3.0 + noise.mean()) / 0.01)


@pytest.mark.parametrize(("load_N", "believed"), [(20.0, True), (20.1, False), (-20.0, True), (-20.1, False)])
def test_over_20_N_is_not_believed(load_N: float, believed: bool) -> None:
    zero, calibrator = fresh()
    zero.push(make_timed(counts(0.0, load_N)))
    assert zero.taken is believed
    shown = loads(calibrator, counts(0.0, load_N))[1, 0]
    assert shown == pytest.approx(0.0 if believed else load_N, abs=1e-9)


def test_the_zero_of_a_loaded_plate_is_not_believed_and_says_so() -> None:
    """A crutch leans on the left plate, or a bag stands on it."""
    zero, calibrator = fresh()
    passed = zero.push(make_timed(counts(55.0, 0.0)))
    assert zero.taken is False
    assert zero.warning is not None
    assert "55 N" in zero.warning
    assert "left plate" in zero.warning
    assert sum(timed.time_s.size for timed in passed) == SECOND
    np.testing.assert_allclose(loads(calibrator, counts(55.0, 0.0))[:, 0], [55.0, 0.0], atol=1e-9)


def test_a_load_on_both_parts_of_a_plate_counts_together() -> None:
    calibrator = Calibrator(make_identity(FOUR), make_calibration(4))
    zero = Zero(calibrator)
    zeros = np.array([[1000.0], [1100.0], [1200.0], [1300.0]])
    zero.push(make_timed(np.repeat(zeros + np.array([[0.0], [0.0], [1100.0], [1100.0]]), SECOND, axis=1)))
    assert zero.taken is False
    assert "22 N" in str(zero.warning)
    assert "right plate" in str(zero.warning)


def test_it_waits_for_the_first_still_second() -> None:
    restless = np.where(np.arange(2 * SECOND) % 20 < 10, 15.0, -5.0)
    zero, calibrator = fresh()
    assert zero.push(make_timed(counts(restless, 0.0, 2 * SECOND))) == []
    assert zero.taken is None
    passed = zero.push(make_timed(counts(2.0, 0.0), 2.0))
    assert zero.taken is True
    assert [timed.time_s.size for timed in passed] == [2 * SECOND, SECOND]
    assert calibrator.zero_counts[0, 0] == pytest.approx(1200.0, abs=100.0), "within 1 N"


def test_without_a_still_second_the_calibrations_zero_stands_and_says_so() -> None:
    count = round(PATIENCE_S * RATE_HZ) + 1
    zero, calibrator = fresh()
    passed = zero.push(make_timed(counts(np.where(np.arange(count) % 20 < 10, 15.0, -5.0), 0.0, count)))
    assert zero.taken is False
    assert "not still" in str(zero.warning)
    assert sum(timed.time_s.size for timed in passed) == count
    assert calibrator.zero_counts[0, 0] == 1000.0


def test_a_session_cut_short_gives_out_what_it_held_back() -> None:
    zero, _ = fresh()
    assert zero.push(make_timed(counts(0.0, 0.0)[:, :40])) == []
    passed = zero.finish()
    assert [timed.time_s.size for timed in passed] == [40]
    assert zero.taken is False
    assert "not still" in str(zero.warning)
    assert zero.finish() == []


def test_a_second_with_a_hole_is_no_second() -> None:
    zero, _ = fresh()
    zero.push(make_timed(counts(0.0, 0.0)[:, :70]))
    zero.push(make_timed(counts(0.0, 0.0)[:, :30], 5.0))
    assert zero.taken is None


def test_a_second_without_readings_is_no_second() -> None:
    zero, _ = fresh()
    zero.push(make_timed(counts(np.nan, 0.0)))
    assert zero.taken is None
    assert zero.load_N is None


def test_the_load_in_the_meantime_is_that_of_the_calibrations_own_zero() -> None:
    zero, _ = fresh()
    zero.push(make_timed(counts(30.0, 12.0)[:, :20]))
    assert zero.load_N == pytest.approx(42.0)


def test_reset_begins_anew() -> None:
    zero, _ = fresh()
    zero.push(make_timed(counts(55.0, 0.0)))
    zero.reset()
    assert (zero.taken, zero.warning, zero.load_N) == (None, None, None)
    zero.push(make_timed(counts(0.0, 0.0)))
    assert zero.taken is True


def test_the_pipeline_shows_no_share_while_it_takes_the_zero() -> None:
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [make_calibration()])
    assert pipeline.snapshot().state is State.WAITING
    pipeline.push(LinkUp(0))
    pipeline.push(make_identity())
    pipeline.push(make_chunk([0], rows=40, readings=_frames(400.0, 300.0, 40)))
    shown = pipeline.snapshot()
    assert (shown.state, shown.share_percent, shown.zero_taken) == (State.ZEROING, None, None)


def test_the_analysis_tells_of_a_zero_that_was_not_believed() -> None:
    """Somebody already stands there when the session begins."""
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [make_calibration()])
    pipeline.push(make_identity())
    for k in range(100):
        pipeline.push(make_chunk([k * 4 * 12_500], readings=_frames(400.0, 300.0, 4)))
    pipeline.finish()
    assert pipeline.snapshot().zero_taken is False
    assert pipeline.analysis().body_weight_N == pytest.approx(700.0)
    assert any("400 N lay on the left plate" in warning for warning in pipeline.analysis().warnings)


def _frames(left_N: float, right_N: float, rows: int) -> np.ndarray[tuple[int, int, int], np.dtype[np.int32]]:
    return np.rint(counts(left_N, right_N, rows)).T[None].astype(np.int32)
