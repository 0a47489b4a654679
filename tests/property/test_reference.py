"""The analysis against an independent one that walks from sample to sample."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

import weightshare
from tests.property.walk import report, row
from weightshare.model import Floats
from weightshare.pipeline import Analysis

EVENTS = ("off", "one foot", "rail", "lost left", "lost both", "rows lost", "gap", "jump")


class Recording:
    """A made-up person on the plates: times and both forces, NaN where a reading is missing."""

    def __init__(self, time_s: Floats, left: Floats, right: Floats, task: row.Task) -> None:
        self.time_s, self.left, self.right, self.task = time_s, left, right, task

    def __repr__(self) -> str:
        return f"{self.task}, {self.time_s.size} samples from {self.time_s[0]}"


def scipy_low_pass(values: Sequence[float], cutoff_Hz: float, rate_Hz: float) -> Sequence[float]:
    """Filter one gap-free stretch with scipy alone."""
    from scipy.signal import butter, sosfilt, sosfilt_zi

    sections = butter(2, cutoff_Hz, fs=rate_Hz, output="sos")
    filtered, _ = sosfilt(sections, values, zi=sosfilt_zi(sections) * values[0])
    return [float(value) for value in filtered]


@st.composite
def recordings(draw: st.DrawFn) -> Recording:
    """A random walk of share and load, and what may befall it."""
    rate_Hz = draw(st.sampled_from([40.0, 62.5, 80.0, 100.0, 128.0, 200.0]) | st.floats(40.0, 200.0))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    count = round(draw(st.floats(1.0, 14.0)) * rate_Hz)
    target = draw(st.sampled_from([None, 50.0, 60.0, 75.0, 75.0, 90.0]))
    weight_N = draw(st.floats(450.0, 1100.0))
    total = weight_N + rng.normal(0.0, draw(st.sampled_from([0.05, 0.5, 6.0])), count)
    share = wander(rng, count, rate_Hz, draw(st.sampled_from([0.02, 1.0, 4.0, 12.0])))
    share += target or 50.0
    kept = np.ones(count, dtype=np.bool_)
    left_lost, right_lost = ~kept, ~kept
    for kind, place, length in draw(st.lists(st.tuples(st.sampled_from(EVENTS), UNIT, UNIT), max_size=6)):
        event(kind)
        begin = round(place * count)
        rows = slice(begin, begin + max(round(length * 2.0 * rate_Hz), 1))
        short = slice(begin, begin + 1 + round(length * 6))
        if kind == "off":
            total[rows] = rng.uniform(-3.0, 40.0)
        elif kind == "one foot":
            share[rows] = rng.choice([0.5, 99.5])
        elif kind == "rail":
            total[rows] *= rng.uniform(0.7, 1.0)
        elif kind == "jump":
            share[rows] += rng.uniform(-30.0, 30.0)
        elif kind == "lost left":
            left_lost[short] = True
        elif kind == "lost both":
            left_lost[short] = right_lost[short] = True
        else:
            kept[short if kind == "rows lost" else rows] = False
    assume(kept.sum() > 0.7 * count)
    task = draw(tasks(target, weight_N))
    injured = total * np.clip(share, 0.2, 99.8) / 100.0
    left, right = (injured, total - injured) if task.injured == "left" else (total - injured, injured)
    left, right = np.where(left_lost, np.nan, left), np.where(right_lost, np.nan, right)
    time_s = draw(st.sampled_from([0.0, -3.5, 1000.25, 1e6])) + np.arange(count) / rate_Hz
    return Recording(time_s[kept], left[kept], right[kept], task)


UNIT = st.floats(0.0, 1.0)


@st.composite
def tasks(draw: st.DrawFn, target: float | None, weight_N: float) -> row.Task:
    return row.Task(
        injured=draw(st.sampled_from(["left", "right"])),
        target=target,
        tolerance=draw(st.sampled_from([0.5, 2.0, 5.0, 10.0])),
        grace_s=draw(st.sampled_from([0.0, 0.2, 1.0, 2.5])),
        filter_Hz=draw(st.sampled_from([None, 6.0, 6.0, 3.0])),
        body_weight_N=draw(st.sampled_from([None, None, weight_N * 1.01])),
    )


def wander(rng: np.random.Generator, count: int, rate_Hz: float, sd: float) -> Floats:
    """A slow random walk that is drawn back to 0."""
    steps = rng.normal(0.0, sd * math.sqrt(2.0 / rate_Hz), count)
    walk = np.zeros(count)
    for k in range(1, count):
        walk[k] = walk[k - 1] * (1.0 - 1.0 / rate_Hz) + steps[k]
    return walk


def analyse(recording: Recording) -> Analysis:
    task = recording.task
    frame = pd.DataFrame({"time_s": recording.time_s, "left_N": recording.left, "right_N": recording.right})
    side: Any = task.injured
    return weightshare.analyse(
        frame, side, task.target, task.tolerance, task.grace_s, task.filter_Hz, task.body_weight_N
    )


@settings(max_examples=120)
@given(recordings())
def test_the_stages_find_what_a_walk_from_sample_to_sample_finds(recording: Recording) -> None:
    columns = (recording.time_s.tolist(), recording.left.tolist(), recording.right.tolist())
    expected = report.analyse(list(zip(*columns, strict=True)), recording.task, scipy_low_pass)
    assume(expected.weight_margin > 1e-7)  # three seconds just still enough: rounding decides
    found = analyse(recording)
    share = found.share_percent
    same(found.body_weight_N, expected.body_weight_N)
    same(found.on_plates_percent, expected.on_plates_percent)
    same(share.mean, expected.mean)
    same(share.sd, expected.sd)
    same(share.min, expected.low)
    same(share.max, expected.high)
    check_symmetry(found, expected)
    assert [(gap.start_s, gap.end_s) for gap in found.gaps] == expected.gaps
    check_band(found, expected)


def same(found: float | None, expected: float | None) -> None:
    """Hold two figures to be equal but for rounding; None is only None."""
    if found is None or expected is None:
        assert found is expected
    else:
        assert found == pytest.approx(expected, rel=1e-9, abs=1e-6)


def check_symmetry(found: Analysis, expected: report.Report) -> None:
    index = found.symmetry.limb_symmetry_index_percent
    if expected.injured_N is None or expected.uninjured_N is None:
        assert index is None
    else:
        assert index == pytest.approx(100.0 * expected.injured_N / expected.uninjured_N, rel=1e-9)


def check_band(found: Analysis, expected: report.Report) -> None:
    if found.band is None or found.holds is None:
        assert expected.holds == []
        assert found.holds is None
        return
    assert found.band.time_in_band_s == pytest.approx(expected.time_in_band_s, abs=1e-6)
    assert found.band.time_present_s == pytest.approx(expected.time_present_s, abs=1e-6)
    assume(all(abs(hold.held_s - 1.0) > 1e-7 for hold in expected.holds))
    assert [hold.held_s for hold in found.holds] == pytest.approx([hold.held_s for hold in expected.holds], abs=1e-6)
    assert [hold.start_s for hold in found.holds] == pytest.approx([hold.start_s for hold in expected.holds], abs=1e-6)
    assert [hold.end_s for hold in found.holds] == pytest.approx([hold.end_s for hold in expected.holds], abs=1e-6)
    for hold, other in zip(found.holds, expected.holds, strict=True):
        assume(all(abs(plates - 95.0) > 1e-7 for plates in other.plates))
        assert hold.supported == (any(plates < 95.0 for plates in other.plates) if other.weighed else None)


@given(st.integers(0, 2**32 - 1), st.floats(3.0, 8.0), st.floats(40.0, 200.0))
def test_the_plain_loop_of_the_bench_filters_as_scipy_does(seed: int, cutoff_Hz: float, rate_Hz: float) -> None:
    values = np.random.default_rng(seed).normal(300.0, 50.0, 200).tolist()
    by_loop = row.loop_low_pass(values, cutoff_Hz, rate_Hz)
    assert by_loop == pytest.approx(scipy_low_pass(values, cutoff_Hz, rate_Hz), rel=1e-9)
