"""Body weight, on the plates, who stands and on how many legs."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.plates import analyse, drop, lose, make_block, make_trace, seconds
from weightshare.model import Floats, Side
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.weight import Weight
from weightshare.state import Snapshot, State
from weightshare.task import Settings

OFF = (1.0, 0.0, 0.0)


def live(settings: Settings | None = None) -> Measure:
    return Measure(settings or Settings(Side.LEFT, 75.0, filter_Hz=None))


def weighing(total: Floats, rate_Hz: float = 100.0) -> tuple[float | None, int]:
    """Return body weight and the sample from which it is known."""
    weight = Weight(None, 0.0, 1.0 / rate_Hz)
    standing = weight.push(make_block(np.arange(total.size) / rate_Hz, total / 2, total / 2, rate_Hz))
    return weight.body_weight_N, standing.weight_from


def test_body_weight_is_the_median_of_the_first_three_still_seconds() -> None:
    total = np.full(1000, 700.0)
    total[150:160] = 706.0
    total[400:] = 720.0
    assert weighing(total) == (700.0, 300)


def test_three_seconds_are_three_seconds_at_any_rate() -> None:
    for rate_Hz in (10.0, 40.0, 80.0, 200.0, 1000.0):
        known, since = weighing(np.full(round(5 * rate_Hz), 612.5), rate_Hz)
        assert known == 612.5
        assert since / rate_Hz == pytest.approx(3.0, abs=1.0 / rate_Hz)


def test_an_unsteady_stand_is_no_weight() -> None:
    times = seconds(0, 20)
    assert weighing(700.0 * (1 + 0.015 * np.sqrt(2) * np.sin(20 * times)))[0] is None
    assert weighing(700.0 * (1 + 0.009 * np.sqrt(2) * np.sin(20 * times)))[0] == pytest.approx(700.0, rel=5e-3)


def test_the_weight_waits_for_the_first_still_three_seconds() -> None:
    total = np.full(1000, 700.0)
    total[:450:2] = 800.0
    known, since = weighing(total)
    assert known == 700.0
    assert 740 <= since <= 755


@pytest.mark.parametrize("load_N", [49.0, 50.0])
def test_what_is_not_over_50_N_is_nobodys_weight(load_N: float) -> None:
    assert weighing(np.full(1000, load_N))[0] is None
    assert weighing(np.full(1000, 50.1))[0] == pytest.approx(50.1)


def test_three_seconds_in_two_pieces_are_none() -> None:
    whole = make_trace([(5.9, 350.0, 350.0)])
    assert analyse(lose(whole, 2.9, 3.25)).body_weight_N is None
    assert analyse(drop(whole, 2.9, 3.25)).body_weight_N is None
    assert analyse(whole).body_weight_N == 700.0


def test_a_frame_lost_here_and_there_does_not_keep_a_person_waiting() -> None:
    trace = make_trace([(3.5, 350.0, 350.0)])
    for start in (0.5, 1.2, 2.1):
        trace = drop(trace, start, start + 0.05)
    assert analyse(trace).body_weight_N == 700.0


def test_a_step_off_in_between_begins_the_three_seconds_anew() -> None:
    assert analyse([(2.9, 350.0, 350.0), (0.1, 0.0, 0.0), (2.9, 350.0, 350.0)]).body_weight_N is None


def test_a_given_weight_is_known_at_once_and_never_found_again() -> None:
    analysis = analyse([(5.0, 350.0, 350.0)], body_weight_N=800.0)
    assert analysis.body_weight_N == 800.0
    assert analysis.on_plates_percent == pytest.approx(87.5)


def test_added_weight_is_told_apart() -> None:
    stage = live(Settings(Side.LEFT, 50.0, filter_Hz=None, added_weight_N=100.0))
    stage.push(make_block(seconds(0, 5), 400.0, 400.0))
    assert stage.snapshot().body_weight_N == pytest.approx(700.0)
    assert stage.snapshot().on_plates_percent == pytest.approx(100.0)


def test_weight_is_not_known_backwards() -> None:
    """In the first 3 s nobody knows that 100 N are no person; the load on the plates is not known either."""
    stage = live()
    result = stage.push(make_block(seconds(0, 10), 525.0, 175.0))
    assert np.isnan(result.on_plates_percent[:300]).all()
    np.testing.assert_allclose(result.on_plates_percent[300:], 100.0)
    np.testing.assert_allclose(result.share_percent, 75.0)


def test_someone_stands_from_50_N_and_from_a_fifth_of_body_weight_on() -> None:
    def stands(total_N: float, body_weight_N: float | None) -> bool:
        stage = live(Settings(Side.LEFT, filter_Hz=None, body_weight_N=body_weight_N))
        stage.push(make_block(seconds(0, 1), total_N / 2, total_N / 2))
        share = stage.snapshot().share_percent
        assert (share is None) == (stage.snapshot().state is State.NOBODY)
        return share is not None

    assert stands(50.0, None)
    assert not stands(49.99, None)
    assert stands(140.0, 700.0)
    assert not stands(139.9, 700.0)
    assert not stands(49.0, 60.0)


def test_share_is_never_0_nor_kept_over_when_nobody_stands() -> None:
    stage = live()
    stage.push(make_block(seconds(0, 5), 525.0, 175.0))
    result = stage.push(make_block(seconds(5, 6), 3.0, -1.0))
    assert np.isnan(result.share_percent).all()
    assert stage.snapshot().share_percent is None
    assert stage.snapshot().on_plates_percent is None


def after(left_N: float, right_N: float, seconds_s: float = 2.0) -> Snapshot:
    """Return what is shown after a person of 700 N has stood on both legs, then so."""
    stage = live()
    stage.push(make_block(seconds(0, 5), 525.0, 175.0))
    stage.push(make_block(seconds(5, 5 + seconds_s), left_N, right_N))
    return stage.snapshot()


def test_350_N_on_one_plate_with_the_other_foot_on_the_floor_is_one_foot_off() -> None:
    for left, right in ((350.0, 0.0), (0.0, 350.0), (350.0, 20.9), (700.0, 0.0)):
        shown = after(left, right)
        assert shown.state is State.ONE_FOOT_OFF
        assert str(shown.state) == "one foot is off"
        assert not shown.in_band


def test_under_four_fifths_with_both_feet_is_too_little_on_the_plates() -> None:
    shown = after(419.0, 140.0)
    assert shown.state is State.ELSEWHERE
    assert str(shown.state) == "too little on the plates"
    assert not shown.in_band


def test_a_foot_that_carries_3_percent_and_a_total_of_80_are_just_enough() -> None:
    assert after(679.0, 21.0).state is State.TOO_MUCH
    assert after(420.0, 140.0).state is State.IN_BAND


@pytest.mark.parametrize("filter_Hz", [None, 6.0, 3.0])
def test_the_filters_rounding_takes_no_credit_from_who_is_right_on_the_limit(filter_Hz: float | None) -> None:
    """420 N and 140 N of 700 N are exactly 80 %; after the filter they are a few parts in 1e15 less."""
    analysis = analyse([(30.0, 420.0, 140.0)], filter_Hz=filter_Hz, body_weight_N=700.0)
    assert analysis.total_held_s == pytest.approx(29.99)
    analysis = analyse([(30.0, 37.5, 12.5)], filter_Hz=filter_Hz)
    assert analysis.total_held_s == pytest.approx(29.99)


def test_a_hand_on_the_rail_shows_within_a_second_and_a_half() -> None:
    """Body weight 700, injured 420, other 140, rail 140: share 75.0, 80 % on the plates, the hold is supported."""
    stage = live(Settings(Side.LEFT, 75.0))
    stage.push(make_block(seconds(0, 5), 350.0, 350.0))
    stage.push(make_block(seconds(5, 6.5), 420.0, 140.0))
    shown = stage.snapshot()
    assert shown.body_weight_N == pytest.approx(700.0)
    assert shown.share_percent == pytest.approx(75.0, abs=0.01)
    assert shown.on_plates_percent == pytest.approx(80.0, abs=0.5)
    assert shown.supported
    stage.push(make_block(seconds(6.5, 12), 420.0, 140.0))
    stage.finish()
    (hold,) = stage.tally().holds
    assert hold.supported is True


def test_on_the_plates_is_a_mean_over_one_second() -> None:
    stage = live(Settings(Side.LEFT, filter_Hz=None, body_weight_N=700.0))
    stage.push(make_block(seconds(0, 5), 350.0, 350.0))
    result = stage.push(make_block(seconds(5, 7), 300.0, 330.0))
    expected = np.where(np.arange(200) < 100, 100.0 - 10.0 * (np.arange(200) + 1) / 100.0, 90.0)
    np.testing.assert_allclose(result.on_plates_percent, expected, rtol=1e-9)


@pytest.mark.parametrize("lost", [True, False])
def test_the_second_before_a_gap_is_not_mixed_in_after_it(lost: bool) -> None:
    """Rows that never came and rows without a reading are the same: after a minute only the newest count."""
    stage = live(Settings(Side.LEFT, filter_Hz=None, body_weight_N=700.0))
    stage.push(make_block(seconds(0, 5), 420.0, 140.0))
    if lost:
        stage.push(make_block(seconds(5, 65), np.nan, np.nan))
    result = stage.push(make_block(seconds(65, 65.1), 525.0, 175.0))
    np.testing.assert_allclose(result.on_plates_percent[-10:], 100.0)


def test_a_short_gap_leaves_the_rest_of_its_second() -> None:
    """0.5 s at 80 %, 0.25 s lost, 0.25 s at 100 %."""
    stage = live(Settings(Side.LEFT, filter_Hz=None, body_weight_N=700.0))
    stage.push(make_block(seconds(0, 5), 420.0, 140.0))
    stage.push(make_block(seconds(5.25, 5.5), 525.0, 175.0))
    assert stage.snapshot().on_plates_percent == pytest.approx((50 * 80.0 + 25 * 100.0) / 75.0)


def test_a_rate_beyond_all_sense_asks_for_no_memory() -> None:
    """Two rows a nanosecond apart: the last second would be a thousand million rows."""
    weight = Weight(700.0, 0.0, 1e-9)
    standing = weight.push(make_block([0.0, 1e-9], 350.0, 350.0, 1e9))
    np.testing.assert_allclose(standing.on_plates_percent, 100.0)
