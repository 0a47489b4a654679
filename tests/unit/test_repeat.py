"""How a person differs from day to day."""

from __future__ import annotations

import math
from datetime import date, timedelta

import numpy as np
import pytest
from scipy import stats

from weightshare.metrology.repeat import Repeat, day_to_day

FIRST = date(2026, 3, 2)
VALUES = (84.0, 87.5, 85.0, 88.5, 86.0)


def on_days(values: tuple[float, ...], step: int = 3) -> list[Repeat]:
    return [Repeat(FIRST + timedelta(days=step * number), value) for number, value in enumerate(values)]


def test_mean_and_spread_are_those_of_the_days() -> None:
    found = day_to_day(on_days(VALUES))
    assert found is not None
    assert found.mean.value == pytest.approx(np.mean(VALUES))
    assert found.sd == pytest.approx(stats.tstd(VALUES))
    assert found.mean.u == pytest.approx(stats.sem(VALUES))
    assert found.mean.interval() == pytest.approx(stats.t.interval(0.95, 4, np.mean(VALUES), stats.sem(VALUES)))
    assert (found.days, found.sessions, found.first, found.last) == (5, 5, FIRST, FIRST + timedelta(days=12))


@pytest.mark.parametrize("count", [0, 1, 2])
def test_less_than_three_days_tell_nothing(count: int) -> None:
    assert day_to_day(on_days(VALUES[:count])) is None


def test_sessions_of_one_day_count_as_their_mean() -> None:
    """Five sets on one good day are no five days."""
    one_day = [Repeat(FIRST, value) for value in VALUES]
    assert day_to_day(one_day) is None
    later = [Repeat(FIRST + timedelta(days=number), 80.0 + number) for number in (1, 2)]
    found = day_to_day(one_day + later)
    assert found is not None
    assert (found.days, found.sessions) == (3, 7)
    assert found.mean.value == pytest.approx((np.mean(VALUES) + 81.0 + 82.0) / 3)


def test_the_order_of_sessions_does_not_matter() -> None:
    assert day_to_day(on_days(VALUES)[::-1]) == day_to_day(on_days(VALUES))


def test_a_session_without_the_measure_is_passed_over() -> None:
    assert day_to_day([*on_days(VALUES), Repeat(FIRST, math.nan)]) == day_to_day(on_days(VALUES))


def test_a_trend_is_told_and_not_taken_out() -> None:
    rising = tuple(75.0 + 2.0 * number + wobble for number, wobble in enumerate((0.1, -0.2, 0.15, -0.1, 0.05)))
    found = day_to_day(on_days(rising))
    assert found is not None
    assert found.trends
    assert not found.detrended
    assert found.mean.value == pytest.approx(np.mean(rising))
    line = stats.linregress(np.arange(5) * 3.0 / (365.25 / 12.0), rising)
    assert found.trend.per_month.value == pytest.approx(line.slope)
    assert found.trend.per_month.u == pytest.approx(line.stderr)


def test_what_only_wobbles_has_no_trend() -> None:
    found = day_to_day(on_days(VALUES))
    assert found is not None
    assert not found.trends


def test_taken_out_when_asked_it_is_the_last_day_that_is_told_of() -> None:
    rising = tuple(75.0 + 2.0 * number + wobble for number, wobble in enumerate((0.1, -0.2, 0.15, -0.1, 0.05)))
    plain, without = day_to_day(on_days(rising)), day_to_day(on_days(rising), detrend=True)
    assert plain is not None
    assert without is not None
    assert without.detrended
    assert without.sd < 0.2 * plain.sd
    x = np.arange(5.0)
    (slope, start), covariance = np.polyfit(x, rising, 1, cov=True)
    assert without.mean.value == pytest.approx(start + 4.0 * slope)
    assert without.mean.u == pytest.approx(math.sqrt(np.array([4.0, 1.0]) @ covariance @ np.array([4.0, 1.0])))
    assert without.mean.dof == 3.0


def test_on_three_days_of_two_hundred_people_the_interval_covers_the_truth() -> None:
    """Student's t, not the normal distribution: with three days the normal one covers only some 81 % of them."""
    rng = np.random.default_rng(7)
    covered = 0
    for _ in range(200):
        found = day_to_day(on_days(tuple((85.0 + 2.5 * rng.standard_normal(3)).tolist())))
        assert found is not None
        low, high = found.mean.interval()
        covered += low <= 85.0 <= high
    # binomial, n = 200, p = 0.95: 99.9 % of all such counts lie in it
    assert 179 <= covered <= 199
