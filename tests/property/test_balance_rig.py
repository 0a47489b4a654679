"""The comparison of the two sides: every virtual person who stands, many seeds; sides swapped; scaled; cut."""

from __future__ import annotations

import os

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.shifting import shift_forces
from weightshare.metrology.balance import Balance, Verdict, find_balance
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.people import STANDING
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.shift import Shift
from weightshare.scales.rig.visit import measured_visit

SEEDS = 20 * (8 if int(os.environ.get("SOAK_TIMES", "1")) > 1 else 1)
ASKED_S = 10.5


def look(profile_place: int, fault: str, seed: int) -> Balance:
    profile = STANDING[profile_place]
    trace, _ = measured_visit(Cast(profile, FAULTS[fault], Task(), seed), 40.0, 80.0, shifts=[(ASKED_S, Shift())])
    asked = trace.time_s > ASKED_S
    left_N, right_N = trace.columns["left_N"][asked], trace.columns["right_N"][asked]
    return find_balance(trace.time_s[asked], left_N, right_N, body_weight_N=profile.body_weight_N)


@pytest.mark.parametrize("place", range(len(STANDING)), ids=[profile.name for profile in STANDING])
@pytest.mark.parametrize(("fault", "true"), [("mismatch", 2.0), ("clean", 0.0)])
def test_a_side_that_reads_high_is_found_within_half_a_percent(place: int, fault: str, true: float) -> None:
    """All seeds are counted: whoever leans on the rail is never told a figure, everybody else always is."""
    found = [look(place, fault, seed) for seed in range(SEEDS)]
    if STANDING[place].rail_fraction:
        assert all(balance.verdict is Verdict.UNTOLD and "elsewhere" in balance.reason for balance in found)
        return
    off = [abs(balance.mismatch.value - true) if balance.mismatch else np.inf for balance in found]
    assert np.mean(np.array(off) <= 0.5) >= 0.95
    right = Verdict.UNEVEN if true else Verdict.EVEN
    assert np.mean([balance.verdict is right for balance in found]) >= 0.95
    inside = [abs(b.mismatch.value - true) <= b.mismatch.expanded() for b in found if b.mismatch]
    assert np.mean(inside) >= 0.9, "the 95 % interval covers what is true"


@given(st.floats(-0.05, 0.05), st.integers(0, 2**16), st.floats(20.0, 40.0))
def test_swapping_the_sides_mirrors(mismatch: float, seed: int, low: float) -> None:
    time_s, left_N, right_N = shift_forces(mismatch, low=low / 100.0, seed=seed, seconds=30.0)
    there = find_balance(time_s, left_N, right_N, asked_percent=(low, 65.0))
    back = find_balance(time_s, right_N, left_N, asked_percent=(35.0, 100.0 - low))
    assert there.mismatch is not None and back.mismatch is not None
    assert (1 + there.mismatch.value / 100) * (1 + back.mismatch.value / 100) == pytest.approx(1.0, abs=2e-4)
    assert there.low_percent == pytest.approx(100.0 - back.high_percent)


@given(st.floats(0.3, 3.0), st.integers(0, 2**16))
def test_a_heavier_person_changes_nothing(factor: float, seed: int) -> None:
    time_s, left_N, right_N = shift_forces(0.015, seed=seed, seconds=30.0)
    one = find_balance(time_s, left_N, right_N)
    other = find_balance(time_s, factor * left_N, factor * right_N)
    assert one.mismatch is not None and other.mismatch is not None
    assert other.mismatch.value == pytest.approx(one.mismatch.value, abs=1e-6) and other.verdict is one.verdict
