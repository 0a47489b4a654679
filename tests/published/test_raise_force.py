"""What mechanics says of the total force of a heel raise, and what two recordings of quiet standing may not contain.

Source of the sinusoid's figures: elementary mechanics, F = m (g + a): a centre of mass that goes up and down by h as a
sinusoid of frequency f changes the total by (h/2) (2 pi f)^2 / g of body weight. Source of the impulse: Newton's second
law; from rest to rest the momentum is the same, so that the total's impulse is body weight times duration. The
recordings are those of `test_standing`: dos Santos and others (2017), PeerJ 5:e3626.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import weightshare
from tests.published.test_standing import recording
from tests.unit.raises import raises
from weightshare.model import HEIGHT_COLUMNS, SIDE_COLUMNS, STANDARD_GRAVITY, Floats, Side, Trace
from weightshare.pipeline.analysis import nominal_interval_s
from weightshare.pipeline.block import Block
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.tape import integrate
from weightshare.state import Results
from weightshare.task import Settings

WEIGHT_N = 700.0
SENSOR_SD_MM = 0.5
"""Standard deviation of a heel sensor's noise."""


def measured(trace: Trace, body_weight_N: float | None = None) -> tuple[Results, float]:
    """Return what the stages make of a trace, and the body weight that they find, N."""
    measure = Measure(Settings(Side.LEFT, body_weight_N=body_weight_N))
    values = np.stack([trace.columns[name] for name in SIDE_COLUMNS])
    flags = np.zeros(trace.time_s.size, dtype=np.uint8)
    results = measure.push(Block(nominal_interval_s(trace.time_s), SIDE_COLUMNS, trace.time_s, values, flags))
    weight_N = measure.snapshot().body_weight_N
    assert weight_N is not None
    return results, weight_N


def rising_and_falling(height_m: float, frequency_Hz: float, rate_Hz: float) -> Trace:
    """Return five seconds of standing and six sinusoidal rises, even on both sides; force from the place alone."""
    time_s = np.arange(round((5.0 + 6.0 / frequency_Hz) * rate_Hz)) / rate_Hz

    def place_m(at_s: Floats) -> Floats:
        moving = np.clip(at_s - 5.0, 0.0, None)
        return 0.5 * height_m * (1.0 - np.cos(2.0 * np.pi * frequency_Hz * moving))

    step_s = 1e-4
    acceleration = (place_m(time_s + step_s) - 2.0 * place_m(time_s) + place_m(time_s - step_s)) / step_s**2
    half_N = 0.5 * WEIGHT_N * (1.0 + acceleration / STANDARD_GRAVITY)
    return Trace(time_s, dict.fromkeys(SIDE_COLUMNS, half_N))


@pytest.mark.parametrize("rate_Hz", [60.0, 80.0, 110.0])
@pytest.mark.parametrize(("a_minute", "percent"), [(30.0, 5.0), (15.0, 1.3)])
def test_a_sinusoidal_rise_of_10_cm_changes_the_total_by(a_minute: float, percent: float, rate_Hz: float) -> None:
    """+-5.0 % of body weight at 30 a minute, +-1.3 % at 15, to the digit given, after the live filter too."""
    results, weight_N = measured(rising_and_falling(0.1, a_minute / 60.0, rate_Hz))
    assert weight_N == pytest.approx(WEIGHT_N)
    steady = results.time_s > 5.0 + 60.0 / a_minute
    change = 100.0 * ((results.left_N + results.right_N)[steady] / weight_N - 1.0)
    assert change.max() == pytest.approx(percent, abs=0.05)
    assert change.min() == pytest.approx(-percent, abs=0.05)


def impulse_over_weight(results: Results, weight_N: float, begin_s: float, end_s: float) -> float:
    """Return the total's impulse between two instants over body weight times the time between them."""
    inside = (results.time_s >= begin_s) & (results.time_s <= end_s)
    time_s, total_N = results.time_s[inside], (results.left_N + results.right_N)[inside]
    impulse, read_s = integrate(time_s, total_N[None])
    assert read_s == pytest.approx(time_s[-1] - time_s[0])
    return float(impulse[0] / (weight_N * read_s))


@pytest.mark.parametrize("tempo", [(0.8, 0.4, 1.0), (1.0, 1.0, 2.0), (2.0, 2.0, 4.0)])
def test_from_standing_to_standing_the_impulse_is_body_weight_times_duration(tempo: tuple[float, float, float]) -> None:
    """Within 0.5 %, with quiet standing's own noise, for one raise after the other and for all of them."""
    scene = raises(tempo, 5, pause_s=2.0)
    results, weight_N = measured(scene.trace())
    rests_s = [4.0, *(one.end_s + 1.5 for one in scene.truth)]
    for begin_s, end_s in (*pairwise(rests_s), (rests_s[0], rests_s[-1])):
        assert impulse_over_weight(results, weight_N, begin_s, end_s) == pytest.approx(1.0, abs=0.005)


def test_from_standing_to_the_middle_of_a_rise_it_is_not() -> None:
    """The body has speed by then: a bound of 0.5 % does tell rest from movement."""
    scene = raises((0.8, 0.4, 1.0), 1)
    results, weight_N = measured(scene.trace())
    middle_s = 0.5 * (scene.truth[0].start_s + scene.truth[0].top_s)
    assert impulse_over_weight(results, weight_N, middle_s - 1.0, middle_s) > 1.005


@pytest.mark.parametrize("trial", ["PDS13OR1", "PDS13OR2"])
def test_so_it_is_in_the_recordings(checkout: Path, trial: str) -> None:
    """Within 0.5 % over the whole minute, and over each ten seconds of it."""
    frame = recording(checkout, trial)
    columns = {name: frame[name].to_numpy(dtype=np.float64) for name in SIDE_COLUMNS}
    results, weight_N = measured(Trace(frame["time_s"].to_numpy(dtype=np.float64), columns))
    assert impulse_over_weight(results, weight_N, 0.0, 60.0) == pytest.approx(1.0, abs=0.005)
    for begin_s in range(0, 60, 10):
        assert impulse_over_weight(results, weight_N, begin_s, begin_s + 10.0) == pytest.approx(1.0, abs=0.005)


@pytest.mark.parametrize("trial", ["PDS13OR1", "PDS13OR2"])
@pytest.mark.parametrize("seed", range(3))
def test_a_minute_of_quiet_standing_contains_no_repetition(checkout: Path, trial: str, seed: int) -> None:
    """The recording with heels that stand still, as a sensor with noise and drift would see them."""
    frame = recording(checkout, trial)
    rng = np.random.default_rng(seed)
    for name in HEIGHT_COLUMNS:
        drift_mm = np.linspace(0.0, rng.uniform(-5.0, 5.0), len(frame))
        frame[name] = 3.0 + drift_mm + rng.normal(0.0, SENSOR_SD_MM, len(frame))
    analysis = weightshare.analyse(frame, "left", 75.0)
    assert analysis.basis is not None
    assert analysis.repetitions == () and analysis.rejected == ()


def test_a_heel_that_does_go_up_in_them_is_found(checkout: Path) -> None:
    """The same recording with one raise of 60 mm put under it: what the test above looks for can be seen."""
    frame = with_one_raise(recording(checkout, "PDS13OR1"))
    assert len(weightshare.analyse(frame, "left", 75.0).repetitions) == 1


def with_one_raise(frame: pd.DataFrame) -> pd.DataFrame:
    time_s = frame["time_s"].to_numpy(dtype=np.float64)
    raised_mm = 30.0 * (1.0 - np.cos(2.0 * np.pi * np.clip((time_s - 20.0) / 4.0, 0.0, 1.0)))
    return frame.assign(**dict.fromkeys(HEIGHT_COLUMNS, raised_mm))
