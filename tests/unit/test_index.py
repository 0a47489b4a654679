"""Symmetry of any measure: both sides, uncertainty, cautions; and a reason instead of an index that misleads."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.plates import make_trace
from tests.unit.test_answer import BOTH, RAISE, RAISED, asked
from weightshare.cli import main
from weightshare.cli.symmetry import KINDS
from weightshare.exercise import Exercise
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.heel import STANDARD_HEEL, height_u_mm
from weightshare.metrology.index import BOTH_INJURED, STEERED, Index, Kind, compare, mean_of, sum_of
from weightshare.model import Side
from weightshare.pipeline.endurance import Session
from weightshare.records.symmetry import SHOWN_EVEN, SUPPORTED, TOGETHER, Told, indices_of, peak_forces_N
from weightshare.task import Settings

Capture = pytest.CaptureFixture[str]
STAND = Settings(Side.LEFT)


def of(indices: tuple[Index, ...]) -> dict[Kind, Index]:
    return {one.kind: one for one in indices}


sizes = st.floats(0.5, 1000.0)


@given(sizes, sizes, st.floats(1e-3, 50.0), st.floats(1e-3, 50.0), st.floats(-1.0, 1.0))
def test_swapping_the_sides_mirrors(i: float, u: float, u_i: float, u_u: float, r: float) -> None:
    one = compare(Kind.MEAN_FORCE, Estimate(i, u_i), Estimate(u, u_u), correlation=r)
    two = compare(Kind.MEAN_FORCE, Estimate(u, u_u), Estimate(i, u_i), correlation=r)
    assert one.limb_symmetry_index is not None and two.limb_symmetry_index is not None
    assert one.limb_symmetry_index.value * two.limb_symmetry_index.value == pytest.approx(1e4)
    for name in ("symmetry_index", "symmetry_angle"):
        ours, theirs = getattr(one, name), getattr(two, name)
        assert ours.value == pytest.approx(-theirs.value, abs=1e-9)
        assert ours.u == pytest.approx(theirs.u, rel=1e-6, abs=1e-9)


@given(sizes, sizes, st.sampled_from(list(Kind)))
def test_another_unit_leaves_the_indices_alone(i: float, u: float, kind: Kind) -> None:
    one = compare(kind, Estimate(i, 0.1 * i), Estimate(u, 0.1 * u))
    two = compare(kind, Estimate(8.0 * i, 0.8 * i), Estimate(8.0 * u, 0.8 * u))
    for name in ("limb_symmetry_index", "symmetry_index", "symmetry_angle"):
        assert getattr(one, name).value == pytest.approx(getattr(two, name).value)
        assert getattr(one, name).u == pytest.approx(getattr(two, name).u)


ONE = Estimate(20.0, 1.0)


@pytest.mark.parametrize(
    ("injured", "uninjured", "given", "reason"),
    [
        (None, None, "", "it was measured on neither side"),
        (None, ONE, "", "it was not measured on the injured side"),
        (ONE, None, "", "it was not measured on the other side"),
        (ONE, Estimate(0.0, 1.0), "", "the other side's mean force in standing is 0"),
        (Estimate(0.0, 1.0), ONE, "", "the injured side carried nothing"),
        (ONE, ONE, STEERED, STEERED),
        (ONE, ONE, BOTH_INJURED, BOTH_INJURED),
    ],
)
def test_one_sided_data_have_a_reason_and_no_number(
    injured: Estimate | None, uninjured: Estimate | None, given: str, reason: str
) -> None:
    found = compare(Kind.MEAN_FORCE, injured, uninjured, reason=given)
    assert found.reason.startswith(reason)
    assert (found.limb_symmetry_index, found.symmetry_index, found.symmetry_angle) == (None, None, None)
    assert (found.injured, found.uninjured) == (injured, uninjured)
    told = Told(found).to_json()
    assert told["limb_symmetry_index_percent"] is None and told["reason"]
    assert "Infinity" not in json.dumps(told) and "NaN" not in json.dumps(told)


def test_no_repetition_on_the_injured_leg_is_an_index_of_nought() -> None:
    """None was done where they were counted: that is measured, and no missing value."""
    found = compare(Kind.REPETITIONS, Estimate(0.0, math.nan), Estimate(20.0, math.nan))
    assert found.limb_symmetry_index is not None and found.limb_symmetry_index.value == 0.0


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_what_is_no_size_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="to compare"):
        compare(Kind.HEIGHT, Estimate(value, 1.0), ONE)


def test_an_uncertainty_that_is_not_known_stays_so() -> None:
    found = compare(Kind.HEIGHT, ONE, Estimate(25.0, math.nan))
    assert found.limb_symmetry_index is not None and math.isnan(found.limb_symmetry_index.u)
    told: Any = Told(found).to_json()
    assert told["limb_symmetry_index_percent"] == {"value": 80.0, "uncertainty": None}


def test_every_measure_says_when_it_misleads() -> None:
    for kind in Kind:
        cautions = compare(kind, ONE, ONE).cautions
        assert any("the other leg may be weakened too" in words for words in cautions)
        assert len(cautions) >= 2
    assert any("no pass mark" in words for words in compare(Kind.MEAN_FORCE, ONE, ONE).cautions)
    assert any("before work does" in words for words in compare(Kind.REPETITIONS, ONE, ONE).cautions)


def test_means_and_sums_carry_the_spread_of_the_repetitions() -> None:
    mean, total = mean_of([80.0, 82.0, 84.0]), sum_of([80.0, 82.0, 84.0])
    assert mean is not None and total is not None
    assert (mean.value, mean.u, mean.dof) == pytest.approx((82.0, 2.0 / math.sqrt(3.0), 2.0))
    assert (total.value, total.u) == pytest.approx((246.0, 2.0 * math.sqrt(3.0)))
    one = mean_of([80.0])
    assert one is not None and math.isnan(one.u)
    assert mean_of([]) is None and sum_of([]) is None


def test_what_the_instrument_has_wrong_is_no_smaller_in_the_mean() -> None:
    mean, total = mean_of([80.0, 82.0, 84.0], 1.5), sum_of([80.0, 82.0, 84.0], 4.5)
    assert mean is not None and total is not None
    assert mean.u == pytest.approx(math.hypot(2.0 / math.sqrt(3.0), 1.5)) and total.u == pytest.approx(3.0 * mean.u)
    assert mean.dof == pytest.approx(2.0 * (mean.u / (2.0 / math.sqrt(3.0))) ** 4) == total.dof
    alike = mean_of([80.0, 80.0], 1.5)
    assert alike is not None and (alike.u, alike.dof) == (1.5, math.inf)


def test_standing_has_both_forces_with_their_uncertainty() -> None:
    trace = make_trace([(20.0, 300.0, 400.0)])
    found = of(indices_of(asked(trace, STAND), trace))
    mean, peak = found[Kind.MEAN_FORCE], found[Kind.PEAK_FORCE]
    assert mean.injured is not None and mean.uninjured is not None and mean.limb_symmetry_index is not None
    assert (mean.injured.value, mean.uninjured.value) == pytest.approx((300.0, 400.0))
    assert mean.limb_symmetry_index.value == pytest.approx(75.0)
    assert 0.0 < mean.limb_symmetry_index.u < 5.0
    assert peak.injured is not None and peak.injured.value == pytest.approx(300.0)
    # 6.9 points of share at a share of 42.9 %
    assert mean.reliability.mdc_percent == pytest.approx(6.9 / (1.0 - 3.0 / 7.0) ** 2)
    assert SHOWN_EVEN not in mean.cautions


def test_a_peak_leaves_stepping_on_and_off_out() -> None:
    trace = make_trace(
        [(2.0, 0.0, 0.0), (0.3, 900.0, 900.0), (10.0, 300.0, 400.0), (0.3, 20.0, 900.0), (2.0, 0.0, 0.0)]
    )
    peaks = peak_forces_N(trace, replace(STAND, filter_Hz=None), 700.0)
    assert peaks == {Side.LEFT: 300.0, Side.RIGHT: 400.0}
    assert peak_forces_N(make_trace([(5.0, 0.0, 10.0)]), STAND, None) is None


@pytest.mark.parametrize("target", [75.0, 50.0])
def test_a_steered_share_is_no_symmetry_and_an_even_one_was_asked_for(target: float) -> None:
    trace = make_trace([(20.0, 350.0, 350.0)])
    mean = of(indices_of(asked(trace, replace(STAND, target_percent=target)), trace))[Kind.MEAN_FORCE]
    assert mean.reason == (STEERED if target == 75.0 else "")
    assert (SHOWN_EVEN in mean.cautions) and mean.injured is not None


def test_nobody_on_the_plates_has_reasons() -> None:
    trace = make_trace([(5.0, 0.0, 0.0)])
    for one in indices_of(asked(trace, STAND), trace):
        assert one.reason == "it was measured on neither side"


def test_one_foot_in_the_air_is_no_index() -> None:
    trace = make_trace([(20.0, 700.0, 0.0)])
    for one in indices_of(asked(trace, STAND), trace):
        assert one.reason.startswith("the other side's") and one.limb_symmetry_index is None


def test_raises_on_two_legs_compare_heels() -> None:
    found = of(indices_of(asked(RAISED, RAISE, BOTH)))
    assert set(found) == {Kind.HEIGHT, Kind.BEST_HEIGHT, Kind.LOAD_TRAVEL}
    height = found[Kind.HEIGHT]
    assert height.limb_symmetry_index is not None and height.limb_symmetry_index.value == pytest.approx(100.0, abs=0.5)
    assert TOGETHER in height.cautions
    assert found[Kind.LOAD_TRAVEL].reason == ""
    lowering = replace(RAISE, exercise=Exercise.LOWERING, target_percent=75.0)
    steered = of(indices_of(asked(RAISED, lowering, BOTH)))
    assert steered[Kind.LOAD_TRAVEL].reason == STEERED and steered[Kind.HEIGHT].reason == ""


def test_both_sides_injured_is_no_index_of_anything() -> None:
    found = indices_of(asked(RAISED, RAISE, BOTH), both_injured=True)
    assert {one.reason for one in found} == {BOTH_INJURED}
    assert all(one.injured is not None for one in found)


def test_single_leg_sets_compare_what_each_leg_came_to() -> None:
    """Six raises: three in a set on the other leg, three in one on the injured leg."""
    single = replace(RAISE, exercise=Exercise.SINGLE_RAISE, target_percent=None)
    appraisal = asked(RAISED, RAISE, BOTH)
    spans = (replace(BOTH[0], working=Side.RIGHT), replace(BOTH[1], working=Side.LEFT))
    done = appraisal.analysis.repetitions
    endurance = Session(single, done, [], spans).compare_legs()
    assert endurance is not None
    found = of(indices_of(replace(appraisal, analysis=replace(appraisal.analysis, endurance=endurance))))
    assert set(found) == {Kind.REPETITIONS, Kind.HEIGHT, Kind.BEST_HEIGHT, Kind.LOAD_TRAVEL}
    count, height = found[Kind.REPETITIONS], found[Kind.HEIGHT]
    assert count.limb_symmetry_index is not None and count.limb_symmetry_index.value == pytest.approx(100.0)
    assert math.isnan(count.limb_symmetry_index.u) and "-6.2 to 6.5" in count.reliability.words
    # raises as alike as these leave what the sensor is worth, the standard build's
    assert height.injured is not None and height.injured.u == pytest.approx(height_u_mm(STANDARD_HEEL, 75.0), rel=1e-3)


def test_work_on_one_leg_alone_is_no_comparison() -> None:
    """The other leg's heel, in the air, was compared with the working one's."""
    single = replace(RAISE, exercise=Exercise.SINGLE_RAISE, target_percent=None)
    assert indices_of(replace(asked(RAISED, RAISE, BOTH), settings=single)) == ()


def test_support_is_told() -> None:
    appraisal = asked(RAISED, RAISE, BOTH)
    rows = tuple(replace(one, supported=True) for one in appraisal.analysis.repetitions)
    leaning = replace(appraisal, analysis=replace(appraisal.analysis, repetitions=rows))
    assert all(SUPPORTED in one.cautions for one in indices_of(leaning))


def test_two_values_by_command(capsys: Capture) -> None:
    assert main(["symmetry", "--kind", "hold-time", "--values", "21", "30", "--json"]) == 0
    (one,) = json.loads(capsys.readouterr().out)["indices"]
    assert one["measure"] == "hold time on one leg" and one["unit"] == "s"
    assert one["limb_symmetry_index_percent"]["value"] == pytest.approx(70.0)
    assert main(["symmetry", "--kind", "repetitions", "--values", "21", "0"]) == 0
    out = capsys.readouterr().out
    assert "no index: the other side's repetitions on one leg is 0" in out and "-6.2 to 6.5" in out
    assert [Kind[name] for name in KINDS.values()] == list(Kind)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "give a session's folder, or --kind"),
        (("--kind", "height"), "give a session's folder, or --kind"),
        (("--kind", "height", "--values", "-1", "3"), "--values -1 is out of range"),
        (("--kind", "height", "--values", "nan", "3"), "--values nan is out of range"),
        (("nowhere",), "is no folder of a session, and there is no store"),
        ((".", "--kind", "height"), "go without a session"),
    ],
)
def test_bad_use_is_one_line(words: tuple[str, ...], said: str, capsys: Capture) -> None:
    assert main(["symmetry", *words]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and said in err
