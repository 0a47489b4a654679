"""When share is in the band: edges, and crossings between samples."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from weightshare.pipeline.band import Band, Visits, find_visits

BAND = Band(75.0, 5.0)


def visits(share: Sequence[float], eligible: Sequence[bool] | None = None) -> Visits:
    """Return the visits of a share that is sampled once a second."""
    values = np.asarray(share, dtype=np.float64)
    allowed = ~np.isnan(values) if eligible is None else np.asarray(eligible, dtype=np.bool_)
    return find_visits(BAND, np.arange(values.size, dtype=np.float64), values, allowed)


def stretches(found: Visits) -> list[tuple[float, float]]:
    return [(round(a, 6), round(b, 6)) for a, b in zip(found.enter_s.tolist(), found.leave_s.tolist(), strict=True)]


@pytest.mark.parametrize(
    ("share", "inside"), [(70.0, True), (80.0, True), (75.0, True), (69.99, False), (80.01, False), (np.nan, False)]
)
def test_the_edges_are_inside(share: float, inside: bool) -> None:
    assert bool(BAND.holds(np.array([share]))[0]) is inside


@pytest.mark.parametrize(("target", "tolerance"), [(60.0, 3.3), (75.0, 5.0), (33.3, 0.1), (66.6, 6.6)])
def test_the_filters_rounding_does_not_push_an_edge_out(target: float, tolerance: float) -> None:
    edges = np.array([target - tolerance, target + tolerance])
    for factor in (1.0 - 1e-13, 1.0, 1.0 + 1e-13):
        assert Band(target, tolerance).holds(edges * factor).all()


def test_all_inside_is_one_stretch_from_sample_to_sample() -> None:
    assert stretches(visits([72, 78, 70, 80, 75])) == [(0.0, 4.0)]


def test_crossings_are_interpolated() -> None:
    """From 60 to 76 the lower edge lies at 10/16; from 76 to 84 the upper one at 4/8."""
    found = visits([60, 76, 84])
    assert stretches(found) == [(0.625, 1.5)]
    assert (found.first.tolist(), found.last.tolist()) == ([0], [2])


def test_straight_through_the_band_between_two_samples_counts_where_it_is_inside() -> None:
    assert stretches(visits([60, 100])) == [(0.25, 0.5)]
    assert stretches(visits([100, 60])) == [(0.5, 0.75)]


def test_out_and_in_again_are_two_stretches() -> None:
    assert stretches(visits([75, 85, 75])) == [(0.0, 0.5), (1.5, 2.0)]
    assert stretches(visits([75, 85, 65, 75])) == [(0.0, 0.5), (1.25, 1.75), (2.5, 3.0)]


def test_outside_throughout_is_none() -> None:
    assert stretches(visits([60, 69, 60])) == []
    assert stretches(visits([81, 95, 80.5])) == []


def test_time_next_to_a_sample_that_may_not_count_is_outside() -> None:
    """A missing reading, or one foot off: nothing is known of the way there and back."""
    assert stretches(visits([75, 75, np.nan, 75, 75])) == [(0.0, 1.0), (3.0, 4.0)]
    assert stretches(visits([75] * 5, [True, True, False, True, True])) == [(0.0, 1.0), (3.0, 4.0)]
    assert stretches(visits([75, np.nan, 75])) == []


def test_a_share_that_stands_right_on_an_edge_is_inside() -> None:
    assert stretches(visits([80, 80, 80])) == [(0.0, 2.0)]
    assert stretches(visits([70, 70])) == [(0.0, 1.0)]


def test_one_sample_or_none_has_no_length() -> None:
    assert stretches(visits([75])) == []
    assert stretches(visits([])) == []
