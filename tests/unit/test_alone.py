"""One load on each plate in turn."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.metrology.alone import compare_turns, find_turns, gains_of, is_off
from weightshare.metrology.balance import Verdict
from weightshare.metrology.estimate import Estimate
from weightshare.model import Floats, Side


def turns(left_N: float = 510.0, right_N: float = 500.0, leak_N: float = 0.0) -> tuple[Floats, Floats, Floats]:
    """Nothing for 3 s, 6 s on the left, nothing, 6 s on the right, nothing; `leak_N` on the plate beside."""
    rng = np.random.default_rng(4)
    time_s = np.arange(2000) / 100.0
    left, right = (((time_s > a) & (time_s < a + 6.0)).astype(float) for a in (3.0, 11.0))
    noise = 0.3 * rng.standard_normal((2, time_s.size))
    return time_s, left * left_N + right * leak_N + noise[0], right * right_N + left * leak_N + noise[1]


def test_each_side_is_read_where_it_bears_the_load_alone() -> None:
    found = find_turns(*turns())
    assert found.left is not None and found.right is not None
    assert found.left.value == pytest.approx(510.0, abs=0.3) and found.right.value == pytest.approx(500.0, abs=0.3)
    balance = compare_turns(found)
    assert balance.mismatch is not None and balance.mismatch.value == pytest.approx(2.0, abs=0.1)
    assert balance.verdict is Verdict.UNEVEN and not found.leaks


def test_two_sides_that_read_alike_are_even() -> None:
    assert compare_turns(find_turns(*turns(500.0))).verdict is Verdict.EVEN


@pytest.mark.parametrize(
    ("cut", "missing"), [(slice(0, 1000), "the right plate"), (slice(1000, None), "the left plate")]
)
def test_a_plate_that_never_bore_it_is_named(cut: slice, missing: str) -> None:
    time_s, left_N, right_N = turns()
    balance = compare_turns(find_turns(time_s[cut], left_N[cut], right_N[cut]))
    assert balance.verdict is Verdict.UNTOLD and missing in balance.reason


def test_nothing_at_all_names_both_plates() -> None:
    time_s = np.arange(500) / 100.0
    reason = compare_turns(find_turns(time_s, np.zeros(500), np.zeros(500))).reason
    assert "the left plate and on the right plate" in reason


@pytest.mark.parametrize("leak_N", [12.0, -12.0])
def test_an_empty_plate_that_is_pushed_or_lifted_is_seen(leak_N: float) -> None:
    assert find_turns(*turns(leak_N=leak_N)).leaks


def test_a_known_mass_tells_what_each_side_reads_too_much() -> None:
    """510 N of 50 kg x 10 m/s^2 is 2 % high; u of the mass, 0.05 kg of 50 kg, is 0.1 %."""
    gains = gains_of(find_turns(*turns()), 50.0, 0.05, gravity_m_s2=10.0)
    assert gains[Side.LEFT].value == pytest.approx(2.0, abs=0.1)
    assert gains[Side.RIGHT].value == pytest.approx(0.0, abs=0.1)
    assert 0.10 < gains[Side.LEFT].u < 0.15


@pytest.mark.parametrize(
    ("percent", "u", "off"),
    [(-9.26, 0.05, True), (9.26, 0.05, True), (0.9, 0.05, False), (-1.2, 0.05, True), (1.2, 1.0, False)],
)
def test_a_side_is_off_beyond_a_percent_and_its_own_uncertainty(percent: float, u: float, off: bool) -> None:
    assert is_off(Estimate(percent, u)) is off
