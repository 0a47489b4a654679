"""Holds: grace, stepping off, gaps, support, the filter's delay."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.plates import Stretch, analyse, drop, lose, make_block, make_trace, seconds
from weightshare.model import Side
from weightshare.pipeline import Analysis
from weightshare.pipeline.lowpass import delay_s
from weightshare.pipeline.measure import Measure
from weightshare.task import Settings

IN, LOW, HIGH = (525.0, 175.0), (350.0, 350.0), (630.0, 70.0)
OFF = (2.0, 1.0)


def steps(*parts: tuple[float, tuple[float, float]]) -> list[Stretch]:
    """Return stretches of (seconds, (left, right))."""
    return [(length, left, right) for length, (left, right) in parts]


def holds(analysis: Analysis) -> list[tuple[float, float, float]]:
    assert analysis.holds is not None
    return [(round(hold.start_s, 6), round(hold.end_s, 6), round(hold.held_s, 6)) for hold in analysis.holds]


def test_a_hold_lasts_from_entering_the_band_to_leaving_it() -> None:
    """50 % to 75 % within one interval of 10 ms: the edge at 70 % lies at 20/25 of it; on the way back at 5/25."""
    analysis = analyse(steps((5, LOW), (6, IN), (5, LOW)))
    assert holds(analysis) == [(4.998, 10.992, 5.994)]
    assert analysis.band is not None
    assert analysis.band.time_in_band_s == pytest.approx(5.994)
    assert analysis.band.time_present_s == pytest.approx(15.99)
    assert analysis.total_held_s == analysis.longest_hold_s == pytest.approx(5.994)


def test_a_hold_goes_on_to_the_streams_end() -> None:
    assert holds(analyse(steps((5, LOW), (5, IN)))) == [(4.998, 9.99, 4.992)]


@pytest.mark.parametrize(("outside_s", "number"), [(0.97, 1), (0.99, 1), (1.0, 1), (1.02, 2), (3.0, 2)])
def test_grace_joins_what_is_parted_by_no_more(outside_s: float, number: int) -> None:
    """Twice 2.99 s from sample to sample, and 2 ms to the edge on either side of what lies between them."""
    analysis = analyse(steps((3, IN), (outside_s, LOW), (3, IN)), grace_s=1.01)
    assert analysis.holds is not None
    assert len(analysis.holds) == number
    assert analysis.total_held_s == pytest.approx(5.984)


@pytest.mark.parametrize(("grace_s", "number"), [(0.505, 2), (0.507, 1)])
def test_grace_is_measured_between_the_crossings(grace_s: float, number: int) -> None:
    """Outside from 5/25 of an interval after the last sample inside to 5/25 before the first: 0.51 - 0.004 s."""
    analysis = analyse(steps((3, IN), (0.5, LOW), (3, IN)), grace_s=grace_s)
    assert analysis.holds is not None
    assert len(analysis.holds) == number


def test_time_outside_is_never_counted() -> None:
    analysis = analyse(steps((3, IN), (0.5, HIGH), (3, IN)))
    ((start, end, held),) = holds(analysis)
    assert (start, end) == (0.0, 6.49)
    assert held == pytest.approx(6.49 - 0.51 + 2 * 0.01 / 3, abs=1e-6)


def test_the_end_is_the_instant_at_which_the_band_was_left_for_good() -> None:
    """Not that at which the grace time was over."""
    ((_, end, _),) = holds(analyse(steps((3, IN), (0.5, LOW), (3, IN), (10, LOW)), grace_s=2.0))
    assert end == pytest.approx(6.492)


def test_without_grace_each_visit_is_its_own() -> None:
    assert len(holds(analyse(steps((3, IN), (0.02, LOW), (3, IN)), grace_s=0.0))) == 2


def test_holds_under_a_second_are_not_listed_but_their_time_is_in_the_band() -> None:
    analysis = analyse(steps((3, LOW), (0.9, IN), (5, LOW), (1.1, IN), (5, LOW)))
    assert analysis.band is not None
    assert len(holds(analysis)) == 1
    assert analysis.total_held_s == pytest.approx(1.094)
    assert analysis.band.time_in_band_s == pytest.approx(1.094 + 0.894)


def test_short_visits_within_the_grace_time_make_one_hold() -> None:
    parts = [(0.4, IN), (0.3, LOW)] * 5
    ((_, _, held),) = holds(analyse(steps((3, LOW), *parts, (3, LOW))))
    assert held == pytest.approx(5 * 0.394)


def test_stepping_off_ends_a_hold_at_once_whatever_the_grace() -> None:
    analysis = analyse(steps((3, IN), (0.05, OFF), (3, IN)), grace_s=60.0)
    assert holds(analysis) == [(0.0, 2.99, 2.99), (3.05, 6.04, 2.99)]


@pytest.mark.parametrize("filter_Hz", [None, 3.0, 6.0])
@pytest.mark.parametrize("body_weight_N", [None, 700.0])
def test_stepping_off_at_20_s_ends_the_hold_at_20_s(filter_Hz: float | None, body_weight_N: float | None) -> None:
    analysis = analyse(steps((20, IN), (5, OFF)), filter_Hz=filter_Hz, body_weight_N=body_weight_N)
    ((_, end, _),) = holds(analysis)
    assert end == pytest.approx(20.0, abs=0.1)


def test_350_N_on_one_plate_with_the_other_foot_on_the_floor_gives_no_credit() -> None:
    """A share of 100 % with a target of 100 would be in the band."""
    analysis = analyse(steps((4, LOW), (10, (350.0, 0.0))), target=98.0)
    assert analysis.band is not None
    assert analysis.body_weight_N == 700.0
    assert analysis.band.time_in_band_s == 0.0
    assert analysis.holds == ()


def test_one_foot_off_is_outside_but_within_the_grace_time_no_end() -> None:
    lifted = (700.0, 0.0)
    assert len(holds(analyse(steps((4, IN), (0.5, lifted), (3, IN))))) == 1
    assert len(holds(analyse(steps((4, IN), (1.5, lifted), (3, IN))))) == 2


@pytest.mark.parametrize("way", [lose, drop])
def test_a_gap_is_never_held_and_shorter_than_the_grace_ends_nothing(way: object) -> None:
    trace = make_trace(steps((10, IN)))
    short = lose(trace, 4.0, 4.8) if way is lose else drop(trace, 4.0, 4.8)
    analysis = analyse(short)
    assert holds(analysis) == [(0.0, 9.99, 9.18)]
    assert [(gap.start_s, gap.end_s) for gap in analysis.gaps] == [(3.99, 4.8)]


@pytest.mark.parametrize("filter_Hz", [None, 6.0])
def test_a_gap_longer_than_the_grace_ends_a_hold_at_its_last_reading(filter_Hz: float | None) -> None:
    """Those instants are the stream's own: no delay of the filter is taken off."""
    for trace in (lose(make_trace(steps((10, IN))), 4.0, 5.5), drop(make_trace(steps((10, IN))), 4.0, 5.5)):
        assert holds(analyse(trace, filter_Hz=filter_Hz)) == [(0.0, 3.99, 3.99), (5.5, 9.99, 4.49)]


def test_a_gap_right_at_the_grace_time_ends_nothing() -> None:
    trace = lose(make_trace(steps((10, IN))), 4.0, 4.99)
    assert len(holds(analyse(trace, grace_s=1.0000001))) == 1
    assert len(holds(analyse(trace, grace_s=0.99))) == 2


def test_a_reading_missing_here_and_there_is_outside_for_its_two_intervals() -> None:
    trace = lose(make_trace(steps((10, IN))), 4.0, 4.01, "right_N")
    analysis = analyse(trace, filter_Hz=6.0)
    assert holds(analysis) == [(0.0, 9.99, 9.97)]
    assert analysis.gaps == ()


def test_the_filters_delay_is_taken_off_crossings() -> None:
    """A slow way from 50 to 100 % and back crosses 70 and 80 % at instants known beforehand."""
    times = seconds(0, 40)
    share = 50.0 + 50.0 * (1.0 - np.abs(times - 20.0) / 20.0)
    stage = Measure(Settings(Side.LEFT, 75.0))
    stage.push(make_block(times, 7.0 * share, 7.0 * (100.0 - share)))
    stage.finish()
    found = [(hold.start_s, hold.end_s) for hold in stage.tally().holds]
    np.testing.assert_allclose(found, [(8.0, 12.0), (28.0, 32.0)], atol=0.001)


def test_no_hold_begins_before_the_person_was_seen_to_stand() -> None:
    """Who steps on in the band crosses nothing; taking off the delay would put the start before the step."""
    analysis = analyse(steps((1, OFF), (5, IN)), filter_Hz=6.0)
    assert analysis.band is not None
    ((start, _, held),) = holds(analysis)
    assert start == pytest.approx(1.0, abs=0.1)
    assert start >= 1.0
    assert held <= analysis.band.time_in_band_s <= analysis.band.time_present_s


def test_support_is_marked_where_the_load_was_elsewhere_for_a_second() -> None:
    rail = (450.0, 150.0)
    stands = analyse(steps((4, IN), (5, IN), (1, LOW)), body_weight_N=700.0)
    leans = analyse(steps((4, IN), (5, rail), (1, LOW)), body_weight_N=700.0)
    touches = analyse(steps((4, IN), (0.1, rail), (4, IN)), body_weight_N=700.0)
    assert [hold.supported for hold in stands.holds or ()] == [False]
    assert [hold.supported for hold in leans.holds or ()] == [True]
    assert [hold.supported for hold in touches.holds or ()] == [False]


def test_support_before_the_hold_is_not_the_holds() -> None:
    analysis = analyse(steps((5, (300.0, 300.0)), (5, IN)), body_weight_N=700.0)
    assert [hold.supported for hold in analysis.holds or ()] == [False]


def test_support_is_not_known_without_body_weight() -> None:
    analysis = analyse(steps((2.5, IN), (5, OFF)))
    assert analysis.body_weight_N is None
    assert [hold.supported for hold in analysis.holds or ()] == [None]


def test_body_weight_that_came_with_the_sample_after_a_hold_tells_nothing_of_it() -> None:
    """Share leaves the band between 2.99 and 3.00 s; the first three still seconds end with the sample at 3.00 s."""
    analysis = analyse(steps((3, IN), (3, LOW)))
    assert analysis.body_weight_N == 700.0
    assert analysis.holds is not None
    assert [hold.supported for hold in analysis.holds] == [None]


def test_a_share_from_the_first_sample_on_is_held_from_there() -> None:
    assert holds(analyse(steps((5, IN)), filter_Hz=6.0)) == [(0.0, 4.99, 4.99)]


def test_both_sides_count_as_the_injured_one() -> None:
    trace = make_trace(steps((10, (175.0, 525.0))))
    stage = Measure(Settings(Side.RIGHT, 75.0))
    stage.push(make_block(trace.time_s, trace.columns["left_N"], trace.columns["right_N"]))
    stage.finish()
    assert [hold.held_s for hold in stage.tally().holds] == pytest.approx([9.99])


def test_holds_count_from_the_time_that_is_asked_for() -> None:
    """Before practice the person is weighed and checked: that is no practice."""
    stage = Measure(Settings(Side.LEFT, 75.0, filter_Hz=None, counting_from_s=6.0))
    stage.push(make_block(seconds(0, 10), *IN))
    stage.finish()
    (hold,) = stage.tally().holds
    assert (hold.start_s, hold.end_s) == (6.0, 9.99)


def test_held_seconds_grow_while_a_hold_is_under_way() -> None:
    """What is shown is late by the filter's delay and no more; at the end nothing is missing."""
    stage = Measure(Settings(Side.LEFT, 75.0, body_weight_N=700.0))
    shown = []
    for k in range(10):
        stage.push(make_block(seconds(k, k + 1), *IN))
        shown.append(stage.snapshot().held_s)
    np.testing.assert_allclose(shown, np.arange(1, 11) - 0.01 - delay_s(6.0))
    assert stage.snapshot().holding
    stage.finish()
    assert stage.snapshot().held_each_s == pytest.approx((9.99,))
