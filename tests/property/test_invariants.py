"""What holds of every trace, whatever it is."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import weightshare
from weightshare.model import Floats
from weightshare.pipeline import Analysis

RATE_HZ = 50.0
OPTIONS = {"target_percent": 70.0, "tolerance_percent": 4.0, "grace_s": 0.5}


@st.composite
def people(draw: st.DrawFn) -> pd.DataFrame:
    """Someone who wanders about 70 % on the left side, steps off and on, lifts a foot; readings go missing."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    count = draw(st.integers(60, 600))
    slow = rng.normal(0.0, draw(st.floats(0.1, 8.0)), count // 25 + 2)
    share = 70.0 + np.interp(np.arange(count) / 25.0, np.arange(slow.size), slow)
    total = 700.0 + rng.normal(0.0, 0.5, count)
    lost = np.zeros(count, dtype=np.bool_)
    kinds = st.sampled_from(["off", "one foot", "rail", "lost"])
    for kind, begin, length in draw(st.lists(st.tuples(kinds, st.integers(0, 599), st.integers(1, 80)), max_size=5)):
        rows = slice(begin, begin + length)
        total[rows] = {"off": 8.0, "rail": 600.0}.get(kind, 700.0)
        share[rows] = 99.0 if kind == "one foot" else share[rows]
        lost[rows] |= kind == "lost"
    left = np.where(lost, np.nan, total * share / 100.0)
    return pd.DataFrame({"time_s": np.arange(count) / RATE_HZ, "left_N": left, "right_N": total - left})


def analyse(frame: pd.DataFrame, injured: Any = "left", **options: Any) -> Analysis:
    return weightshare.analyse(frame, injured, **(OPTIONS | options))


def instants(analysis: Analysis) -> Floats:
    assert analysis.holds is not None
    return np.array([[hold.start_s, hold.end_s, hold.held_s] for hold in analysis.holds]).reshape(-1, 3)


def held_s(analysis: Analysis) -> float:
    assert analysis.total_held_s is not None
    return analysis.total_held_s


def figures(analysis: Analysis) -> list[float | None]:
    share = analysis.share_percent
    return [analysis.on_plates_percent, share.mean, share.sd, share.min, share.max, held_s(analysis)]


def same(found: list[float | None], expected: list[float | None]) -> None:
    numbers = [[np.nan if value is None else value for value in values] for values in (found, expected)]
    assert numbers[0] == pytest.approx(numbers[1], rel=1e-7, abs=1e-6, nan_ok=True)


@given(people())
def test_swapping_the_sides_and_the_injured_one_changes_nothing(frame: pd.DataFrame) -> None:
    swapped = frame.rename(columns={"left_N": "right_N", "right_N": "left_N"})
    same(figures(analyse(swapped, "right")), figures(analyse(frame)))


@given(people())
def test_the_other_side_is_the_mirror_image(frame: pd.DataFrame) -> None:
    ours, theirs = analyse(frame), analyse(frame, "right", target_percent=30.0)
    share, mirror = ours.share_percent, theirs.share_percent
    if share.mean is not None:
        same([mirror.mean], [100.0 - share.mean])
        same([mirror.sd], [share.sd])
    if share.min is not None and share.max is not None:
        same([mirror.min, mirror.max], [100.0 - share.max, 100.0 - share.min])
    np.testing.assert_allclose(instants(theirs), instants(ours), atol=1e-6)
    check_signs(ours, theirs)


def check_signs(ours: Analysis, theirs: Analysis) -> None:
    """The symmetry index and angle change their sign, the limb symmetry index is turned upside down."""
    mine, other = ours.symmetry, theirs.symmetry
    if mine.limb_symmetry_index_percent is None or other.limb_symmetry_index_percent is None:
        assert mine == other
        return
    assert mine.symmetry_index_percent is not None
    assert mine.symmetry_angle_percent is not None
    same([other.symmetry_index_percent], [-mine.symmetry_index_percent])
    same([other.symmetry_angle_percent], [-mine.symmetry_angle_percent])
    same([other.limb_symmetry_index_percent], [1e4 / mine.limb_symmetry_index_percent])


@given(people(), st.floats(0.5, 2.0))
def test_scaling_both_forces_leaves_the_share(frame: pd.DataFrame, factor: float) -> None:
    """Nobody stands below 50 N, so what is scaled stays over or under it."""
    scaled = frame.assign(left_N=frame["left_N"] * factor, right_N=frame["right_N"] * factor)
    found = analyse(scaled, filter_Hz=None, body_weight_N=700.0 * factor)
    expected = analyse(frame, filter_Hz=None, body_weight_N=700.0)
    same(figures(found), figures(expected))
    np.testing.assert_allclose(instants(found), instants(expected), atol=1e-6)


@given(people(), st.sampled_from([-50.0, 0.25, 3600.0, 1e6]))
def test_shifting_time_shifts_instants_and_nothing_else(frame: pd.DataFrame, shift_s: float) -> None:
    ours, later = analyse(frame), analyse(frame.assign(time_s=frame["time_s"] + shift_s))
    same(figures(later), figures(ours))
    np.testing.assert_allclose(instants(later), instants(ours) + np.array([shift_s, shift_s, 0.0]), atol=1e-6)
    gaps = [[(gap.start_s, gap.end_s) for gap in analysis.gaps] for analysis in (later, ours)]
    np.testing.assert_allclose(gaps[0], np.array(gaps[1]) + shift_s, atol=1e-6)


@given(people(), st.integers(0, 599), st.integers(1, 60), st.sampled_from([["left_N"], ["left_N", "right_N"]]))
def test_losing_readings_never_raises_held_seconds(
    frame: pd.DataFrame, begin: int, length: int, columns: list[str]
) -> None:
    """Body weight is given: found later, it would judge less. The filter is off: started anew it is another signal.
    Rows that show that the person stepped off are kept: without them two holds may count as one."""
    lossy = frame.copy()
    rows = frame.index.isin(range(begin, begin + length)) & ~(frame["left_N"] + frame["right_N"] < 100.0)
    lossy.loc[rows, columns] = np.nan
    options: dict[str, Any] = {"filter_Hz": None, "body_weight_N": 700.0, "grace_s": 60.0}
    whole, less = analyse(frame, **options), analyse(lossy, **options)
    assert whole.band is not None
    assert less.band is not None
    assert less.band.time_in_band_s <= whole.band.time_in_band_s + 1e-9
    assert held_s(less) <= held_s(whole) + 1e-9


@given(people())
def test_rows_left_out_are_readings_missing(frame: pd.DataFrame) -> None:
    """A row without readings says no more than no row at all; but the trace's ends are those of its rows."""
    lost = frame["left_N"].isna()
    lost.iloc[[0, -1]] = False
    assume(lost.mean() < 0.4)  # else the nominal interval is that of the gaps
    with_rows, without = analyse(frame), analyse(frame[~lost])
    same(figures(without), figures(with_rows))
    np.testing.assert_allclose(instants(without), instants(with_rows), atol=1e-6)
    assert [hold.supported for hold in without.holds or ()] == [hold.supported for hold in with_rows.holds or ()]
    assert without.gaps == with_rows.gaps


@settings(max_examples=200)
@given(people(), st.sampled_from([None, 6.0, 3.0]))
def test_nothing_is_held_that_was_not_stood(frame: pd.DataFrame, filter_Hz: float | None) -> None:
    analysis = analyse(frame, filter_Hz=filter_Hz)
    assert analysis.band is not None
    for start, end, held in instants(analysis):
        assert 1.0 <= held <= end - start + 1e-9
        assert frame["time_s"].iloc[0] <= start <= end <= frame["time_s"].iloc[-1]
    assert held_s(analysis) <= analysis.band.time_in_band_s + 1e-9
    assert analysis.band.time_in_band_s <= analysis.band.time_present_s + 1e-9
    assert analysis.band.time_present_s <= analysis.duration_s + 1e-9


@given(people())
def test_a_longer_grace_joins_holds_and_adds_no_time(frame: pd.DataFrame) -> None:
    short, long = analyse(frame, grace_s=0.1), analyse(frame, grace_s=3.0)
    assert short.band is not None
    assert long.band is not None
    assert long.band.time_in_band_s == pytest.approx(short.band.time_in_band_s, abs=1e-9)
    assert held_s(long) >= held_s(short) - 1e-9
