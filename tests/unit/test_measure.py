"""All stages after calibration as one object, as a session uses it: snapshots, other settings, other rates."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.unit.counts import STEP, make_calibration, make_chunk, make_identity
from tests.unit.heels import heeled
from tests.unit.plates import make_block, seconds
from tests.unit.raises import raises
from weightshare.exercise import Exercise
from weightshare.model import Floats, LinkUp, Side
from weightshare.pipeline import Pipeline
from weightshare.pipeline.block import OVERLOAD, Block
from weightshare.pipeline.measure import Measure
from weightshare.state import State
from weightshare.task import Settings

LEFT75 = Settings(Side.LEFT, 75.0, filter_Hz=None)


def stood(settings: Settings = LEFT75) -> Measure:
    """Return what has seen 5 s of 700 N, half on each side."""
    measure = Measure(settings)
    measure.push(make_block(seconds(0, 5), 350.0, 350.0))
    return measure


def overloaded(block: Block) -> Block:
    values = block.values.copy()
    values[0] = np.nan
    return Block(block.interval_s, block.columns, block.time_s, values, block.flags | np.uint8(OVERLOAD))


STATES: dict[State, tuple[float, float]] = {
    State.IN_BAND: (525.0, 175.0),
    State.TOO_LITTLE: (400.0, 300.0),
    State.TOO_MUCH: (650.0, 50.0),
    State.ONE_FOOT_OFF: (700.0, 0.0),
    State.ELSEWHERE: (300.0, 200.0),
    State.NOBODY: (3.0, 2.0),
    State.NO_READING: (np.nan, 350.0),
}


@pytest.mark.parametrize("state", STATES)
def test_the_state_is_that_of_the_newest_sample(state: State) -> None:
    measure = stood()
    measure.push(make_block(seconds(5, 5.1), *STATES[state]))
    shown = measure.snapshot()
    assert shown.state is state
    assert shown.in_band is (state is State.IN_BAND)
    assert (shown.share_percent is None) is (state in (State.NOBODY, State.NO_READING))


def test_before_weighing_is_done_the_state_says_so() -> None:
    measure = Measure(LEFT75)
    assert measure.snapshot().state is State.WAITING
    measure.push(make_block(seconds(0, 1), 525.0, 175.0))
    assert measure.snapshot().state is State.WEIGHING
    assert measure.snapshot().body_weight_N is None


def test_without_a_target_one_stands() -> None:
    assert stood(replace(LEFT75, target_percent=None)).snapshot().state is State.STANDING


def test_an_overload_is_no_share_and_says_what_it_is() -> None:
    measure = stood()
    measure.push(overloaded(make_block(seconds(5, 5.1), 0.0, 350.0)))
    shown = measure.snapshot()
    assert (shown.state, shown.share_percent, shown.left_N, shown.injured_N) == (State.OVERLOAD, None, None, None)
    assert shown.right_N == 350.0
    measure.push(make_block(seconds(5.1, 5.2), 525.0, 175.0))
    assert measure.snapshot().state is State.IN_BAND


def test_an_overloaded_sample_is_outside() -> None:
    measure = stood()
    measure.push(make_block(seconds(5, 7), 525.0, 175.0))
    measure.push(overloaded(make_block(seconds(7, 9), 0.0, 175.0)))
    measure.push(make_block(seconds(9, 11), 525.0, 175.0))
    measure.finish()
    assert [hold.held_s for hold in measure.tally().holds] == pytest.approx([1.99 + 0.002, 1.99])


def test_other_settings_hold_from_the_next_sample_on() -> None:
    measure = stood()
    measure.push(make_block(seconds(5, 8), 525.0, 175.0))
    measure.configure(replace(LEFT75, injured=Side.RIGHT, target_percent=25.0))
    measure.push(make_block(seconds(8, 12), 525.0, 175.0))
    shown = measure.snapshot()
    assert shown.share_percent == pytest.approx(25.0)
    assert shown.injured_N == 175.0
    assert shown.body_weight_N == 700.0
    assert shown.held_s == pytest.approx(3.99)
    measure.finish()
    tally = measure.tally()
    assert tally.share_mean == pytest.approx(25.0)
    assert [(hold.start_s, hold.end_s) for hold in tally.holds] == [(8.0, 11.99)]


def test_means_are_of_all_samples_whenever_practice_begins() -> None:
    live, later = stood(), Measure(replace(LEFT75, counting_from_s=8.0))
    live.push(make_block(seconds(5, 8), 525.0, 175.0))
    live.configure(replace(LEFT75, counting_from_s=8.0))
    live.push(make_block(seconds(8, 12), 630.0, 70.0))
    later.push(make_block(seconds(0, 5), 350.0, 350.0))
    later.push(make_block(seconds(5, 8), 525.0, 175.0))
    later.push(make_block(seconds(8, 12), 630.0, 70.0))
    for measure in (live, later):
        measure.finish()
    assert live.tally() == later.tally()
    assert live.tally().share_mean == pytest.approx((5 * 50.0 + 3 * 75.0 + 4 * 90.0) / 12, abs=0.1)
    assert live.tally().share_min == pytest.approx(50.0)


def test_the_other_sides_load_never_stands_beside_this_sides_share() -> None:
    """The side is changed, and no sample has come yet: what is shown is one side's alone."""
    measure = stood()
    measure.push(make_block(seconds(5, 6), 525.0, 175.0))
    measure.configure(replace(LEFT75, injured=Side.RIGHT))
    shown = measure.snapshot()
    assert (shown.share_percent, shown.injured_N) == (75.0, 525.0)


def test_a_target_that_comes_later_finds_holds() -> None:
    measure = stood(replace(LEFT75, target_percent=None))
    measure.configure(LEFT75)
    measure.push(make_block(seconds(5, 8), 525.0, 175.0))
    assert measure.snapshot().held_s > 2.9
    measure.configure(replace(LEFT75, target_percent=None))
    measure.push(make_block(seconds(8, 9), 525.0, 175.0))
    assert (measure.snapshot().held_s, measure.snapshot().state) == (0.0, State.STANDING)


def test_another_rate_keeps_the_weight_and_the_hold() -> None:
    """A scale that was started anew at 50 Hz: the person is the same, and less than the grace time has passed."""
    measure = stood(Settings(Side.LEFT, 75.0))
    measure.push(make_block(seconds(5, 8), 525.0, 175.0))
    slower = make_block(8.5 + np.arange(200) / 50.0, 525.0, 175.0, rate_Hz=50.0)
    measure.push(slower)
    measure.finish()
    tally = measure.tally()
    assert tally.body_weight_N == pytest.approx(700.0)
    assert len(tally.holds) == 1
    assert tally.holds[0].end_s == pytest.approx(8.5 + 199 / 50.0)
    assert tally.holds[0].held_s == pytest.approx(2.99 + 3.98, abs=0.05)
    assert len(tally.gaps) == 1


def test_a_jitter_of_the_interval_is_no_other_rate() -> None:
    measure = stood()
    block = make_block(5.0 + np.arange(300) * 0.0101, 525.0, 175.0, rate_Hz=100.0 / 1.01)
    measure.push(block)
    assert measure.tally().gaps == ()
    assert measure.tally().rate_Hz == 100.0


def test_a_cut_off_that_the_rate_does_not_allow_is_left_out_and_said() -> None:
    measure = Measure(Settings(Side.LEFT, 75.0))
    measure.push(make_block(np.arange(50) / 10.0, 525.0, 175.0, rate_Hz=10.0))
    assert any("not filtered" in warning for warning in measure.snapshot().warnings)
    np.testing.assert_allclose(measure.snapshot().held_s, 4.9)


def test_reset_forgets_person_and_holds() -> None:
    measure = stood()
    measure.push(make_block(seconds(5, 8), 525.0, 175.0))
    measure.reset()
    assert measure.snapshot() == Measure(LEFT75).snapshot()
    assert measure.tally() == Measure(LEFT75).tally()


def test_an_empty_block_is_nothing() -> None:
    measure = stood()
    before = measure.snapshot()
    assert measure.push(make_block([], 0.0, 0.0)).time_s.size == 0
    assert measure.snapshot() == before


def frames(left_N: float, right_N: float, count: int) -> np.ndarray[tuple[int, int, int], np.dtype[np.int32]]:
    row = [round(1000 + left_N / 0.01), round(1100 + right_N / 0.01)]
    return np.array([[row] * 4] * count, dtype=np.int32)


def played(pipeline: Pipeline) -> None:
    """Two seconds with nobody on, six with 75 % on the left, all of them drifted by 5 N on the right."""
    pipeline.push(LinkUp(0))
    pipeline.push(make_identity())
    for k in range(160):
        left, right = (0.0, 0.0) if k < 40 else (525.0, 175.0)
        pipeline.push(make_chunk([k * 4 * STEP], readings=frames(left, right + 5.0, 1)))
    pipeline.finish()


def test_the_pipelines_trace_is_zeroed_and_unfiltered_and_gives_its_analysis_again() -> None:
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [make_calibration()], keep_trace=True)
    played(pipeline)
    trace = pipeline.trace()
    assert trace.time_s.size == 640
    np.testing.assert_allclose(trace.columns["right_N"][:160], 0.0, atol=1e-9)
    np.testing.assert_allclose(trace.columns["right_N"][160:], 175.0)
    again = Measure(Settings(Side.LEFT, 75.0))
    again.push(make_block(trace.time_s, trace.columns["left_N"], trace.columns["right_N"], 80.0))
    again.finish()
    assert list(again.tally().holds) == list(pipeline.analysis().holds or ())


def test_the_pipeline_without_a_trace_keeps_none() -> None:
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [make_calibration()])
    played(pipeline)
    assert pipeline.trace().time_s.size == 0


def test_a_pipeline_that_is_reset_is_as_good_as_new() -> None:
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [make_calibration()], keep_trace=True)
    played(pipeline)
    first: Floats = pipeline.trace().columns["left_N"]
    analysis = pipeline.analysis()
    pipeline.reset()
    assert pipeline.snapshot().state is State.WAITING
    assert pipeline.trace().time_s.size == 0
    played(pipeline)
    np.testing.assert_array_equal(pipeline.trace().columns["left_N"], first)
    assert pipeline.analysis() == analysis


def test_another_rate_takes_no_repetitions() -> None:
    """A scale that was started anew at 100 Hz instead of 400: its readings are no gaps."""
    trace = heeled(raises((1.0, 1.0, 2.0), 3))
    columns = tuple(trace.columns)
    values = np.stack(list(trace.columns.values()))
    early_s = seconds(0, 3, 400.0)
    measure = Measure(Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, body_weight_N=700.0))
    still = np.repeat(values[:, :1], early_s.size, axis=1)
    measure.push(Block(1 / 400.0, columns, early_s, still, np.zeros(early_s.size, dtype=np.uint8)))
    measure.push(Block(0.01, columns, trace.time_s + 3.01, values, np.zeros(trace.time_s.size, dtype=np.uint8)))
    measure.finish()
    assert len(measure.tally().repetitions) == 3 and measure.tally().rejected == ()
