"""Endurance to exhaustion: what ends a set, how many count, how the two legs compare."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.series import make_raise, make_series
from weightshare.errors import OptionError
from weightshare.exercise import (
    FOOT_LEFT,
    HALF_WAY,
    LEAN,
    LOW,
    SHORT,
    UNREAD,
    Basis,
    Exercise,
    Rejected,
    Repetition,
    SetSpan,
    Tempo,
)
from weightshare.model import Side
from weightshare.pipeline.endurance import FAULT, OFF_TEMPO, TOO_LOW, Session, StoppingRules, Verdict, compare, judge
from weightshare.task import Settings

TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
"""A cycle of 5 s, as in `make_series`."""
GOING_ON = Verdict(4, None, None)


def starting(*starts_s: float) -> list[Repetition]:
    return [make_raise(start_s) for start_s in starts_s]


def test_a_set_in_which_nothing_went_wrong_goes_on() -> None:
    assert judge(make_series([80.0, 90.0, 70.0, 68.0]), TEMPO) == GOING_ON
    assert judge([], TEMPO) == Verdict(0, None, None)


def test_the_first_one_under_its_part_of_the_best_so_far_ends_it() -> None:
    """75 % of 100 mm; 70 mm was still well over 75 % of 80."""
    verdict = judge(make_series([80.0, 70.0, 100.0, 74.9, 100.0]), TEMPO)
    assert verdict == Verdict(3, 19.0, TOO_LOW)


def test_a_height_right_on_its_part_of_the_best_counts() -> None:
    assert judge(make_series([100.0, 75.0])).reason is None


def test_how_low_is_too_low_can_be_set() -> None:
    heights = make_series([100.0, 60.0, 40.0])
    assert judge(heights, rules=StoppingRules(least_height_percent=50.0)) == Verdict(2, 14.0, TOO_LOW)


@pytest.mark.parametrize("more", [{"basis": Basis.FORCE}, {"basis": Basis.PACED}])
def test_only_a_measured_height_can_be_too_low(more: dict[str, Basis]) -> None:
    assert judge(make_series([100.0, 10.0], **more)).reason is None
    assert judge([make_raise(0.0), make_raise(5.0, height_injured_mm=None)]).reason is None


def test_the_working_leg_s_height_is_followed() -> None:
    repetitions = [make_raise(0.0, height_uninjured_mm=100.0), make_raise(5.0, height_uninjured_mm=50.0)]
    assert judge(repetitions, injured_works=False) == Verdict(1, 9.0, TOO_LOW)
    assert judge(repetitions).reason is None


@pytest.mark.parametrize("late_s", [1.3, -1.3])
def test_the_second_in_a_row_that_misses_the_tempo_ends_it(late_s: float) -> None:
    """A quarter of 5 s may be missed: 1.25 s."""
    second_s, third_s = 5.0 + late_s, 10.0 + 2.0 * late_s
    verdict = judge(starting(0.0, second_s, third_s, third_s + 5.0), TEMPO)
    assert verdict == Verdict(2, third_s + 4.0, OFF_TEMPO)


def test_one_miss_is_let_pass_and_so_are_two_that_are_parted() -> None:
    assert judge(starting(0.0, 7.0, 12.0, 19.0), TEMPO) == GOING_ON
    assert judge(starting(0.0, 6.2, 12.4, 18.6), TEMPO) == GOING_ON


def test_without_a_tempo_none_is_missed() -> None:
    assert judge(starting(0.0, 20.0, 40.0, 60.0)) == GOING_ON


def test_how_often_and_how_far_the_tempo_may_be_missed_can_be_set() -> None:
    late = starting(0.0, 7.0, 14.0, 21.0)
    assert judge(late, TEMPO, rules=StoppingRules(tempo_tolerance_percent=40.0)) == GOING_ON
    assert judge(late, TEMPO, rules=StoppingRules(tempo_missed=1)) == Verdict(1, 11.0, OFF_TEMPO)
    assert judge(late, TEMPO, rules=StoppingRules(tempo_missed=4)) == GOING_ON


def test_readings_that_were_missing_are_not_held_against_the_tempo() -> None:
    late = starting(0.0, 10.0, 20.0, 25.0)
    lost = [Rejected(5.0, 9.0, UNREAD), Rejected(15.0, 19.0, UNREAD)]
    assert judge(late, TEMPO).reason == OFF_TEMPO
    assert judge(late, TEMPO, rejected=lost) == GOING_ON


def test_a_fault_ends_it_and_what_was_not_over_does_not_count() -> None:
    repetitions = make_series([80.0] * 4)
    assert judge(repetitions, TEMPO, faults_s=[13.9]) == Verdict(2, 13.9, FAULT)
    assert judge(repetitions, TEMPO, faults_s=[14.0, 3.0]) == Verdict(0, 3.0, FAULT)
    assert judge(repetitions, TEMPO, faults_s=[14.0]) == Verdict(3, 14.0, FAULT)


@pytest.mark.parametrize(
    ("reason", "told"), [(LOW, TOO_LOW), (HALF_WAY, None), (FOOT_LEFT, FOOT_LEFT), (SHORT, None), (LEAN, None)]
)
def test_an_attempt_that_came_to_nothing_ends_it(reason: str, told: str | None) -> None:
    repetitions = starting(0.0, 5.0, 15.0)
    verdict = judge(repetitions, rejected=[Rejected(10.0, 13.0, reason)])
    assert verdict == (Verdict(3, None, None) if told is None else Verdict(2, 13.0, told))


def test_what_came_before_the_first_repetition_was_no_attempt() -> None:
    assert judge(starting(5.0, 10.0), rejected=[Rejected(1.0, 2.0, LOW)]) == Verdict(2, None, None)
    assert judge([], rejected=[Rejected(1.0, 2.0, LOW)]) == Verdict(0, None, None)


def test_what_came_first_ends_it() -> None:
    repetitions = make_series([100.0, 100.0, 50.0, 100.0])
    assert judge(repetitions, TEMPO, faults_s=[20.0]).reason == TOO_LOW
    assert judge(repetitions, TEMPO, faults_s=[12.0]) == Verdict(2, 12.0, FAULT)


def test_judged_one_by_one_the_verdict_is_the_same_from_the_stop_on() -> None:
    repetitions = make_series([100.0, 90.0, 80.0, 60.0, 90.0, 50.0])
    verdicts = [judge(repetitions[:count], TEMPO) for count in range(7)]
    assert [verdict.count for verdict in verdicts] == [0, 1, 2, 3, 3, 3, 3]
    assert {verdict.reason for verdict in verdicts[:4]} == {None}
    assert set(verdicts[4:]) == {Verdict(3, 19.0, TOO_LOW)}


@pytest.mark.parametrize(
    "values", [{"least_height_percent": 0.0}, {"tempo_missed": 0}, {"tempo_tolerance_percent": 150.0}]
)
def test_rules_out_of_their_range_are_refused(values: dict[str, float]) -> None:
    with pytest.raises(OptionError):
        StoppingRules(**values)  # type: ignore[arg-type]


def test_the_legs_compare_by_count_height_and_load_travel() -> None:
    """12 to 16; 60 to 80 and 70 to 100 mm; 12 x 20 to 16 x 30 J. The other leg's own figures are not asked."""
    injured = make_series([70.0, 50.0] * 6, load_travel_injured_J=20.0, load_travel_uninjured_J=None)
    other = [
        make_raise(5.0 * k, height_uninjured_mm=60.0 + 40.0 * (k % 2), load_travel_uninjured_J=30.0) for k in range(16)
    ]
    symmetry = compare(injured, other)
    assert symmetry.count_percent == pytest.approx(75.0)
    assert symmetry.mean_height_percent == pytest.approx(75.0)
    assert symmetry.best_height_percent == pytest.approx(70.0)
    assert symmetry.load_travel_percent == pytest.approx(50.0)
    assert symmetry.reasons == ()


def test_what_was_not_measured_everywhere_has_no_symmetry_and_says_so() -> None:
    injured = [make_raise(0.0), make_raise(5.0, load_travel_injured_J=None)]
    symmetry = compare(injured, [make_raise(0.0, height_uninjured_mm=None)])
    assert symmetry.count_percent == 200.0
    assert (symmetry.mean_height_percent, symmetry.best_height_percent, symmetry.load_travel_percent) == (None,) * 3
    assert len(symmetry.reasons) == 3
    assert "other leg" in symmetry.reasons[0] and "injured leg" in symmetry.reasons[2]


def test_a_leg_without_repetitions_has_only_its_count() -> None:
    one = [make_raise(0.0)]
    weak, unknown = compare([], one), compare(one, [])
    assert weak.count_percent == 0.0 and len(weak.reasons) == 3
    assert unknown.count_percent is None and len(unknown.reasons) == 4
    assert "needs a repetition of the injured leg" in weak.reasons[0]
    assert unknown.reasons[0] == "the symmetry of the count is not known: the other leg's is 0"


def test_the_two_legs_newest_sets_stand_beside_each_other() -> None:
    """The other leg first, then the injured one; a fault marked in its set ends it."""
    single = Settings(Side.LEFT, exercise=Exercise.SINGLE_RAISE)
    spans = (SetSpan(1, 0.0, 50.0, Side.RIGHT), SetSpan(2, 60.0, 100.0, Side.LEFT))
    done = [*starting(10.0, 15.0, 20.0, 25.0), *starting(65.0, 70.0, 75.0)]
    over_s = done[-2].end_s
    assert over_s is not None
    endurance = Session(single, done, [], spans, [over_s + 0.1]).compare_legs()
    assert endurance is not None
    assert (endurance.injured.count, endurance.injured.reason) == (2, FAULT)
    assert (endurance.uninjured.count, endurance.uninjured.reason) == (4, None)
    assert endurance.symmetry.count_percent == 50.0


def test_a_set_that_was_begun_and_left_is_not_the_newest() -> None:
    single = Settings(Side.LEFT, exercise=Exercise.SINGLE_RAISE)
    spans = (SetSpan(1, 0.0, 50.0, Side.RIGHT), SetSpan(2, 60.0, 100.0, Side.LEFT), SetSpan(3, 160.0, None, Side.RIGHT))
    done = [*starting(10.0, 15.0, 20.0, 25.0), *starting(65.0, 70.0, 75.0)]
    endurance = Session(single, done, [], spans).compare_legs()
    assert endurance is not None
    assert (endurance.uninjured.set_number, endurance.uninjured.count) == (1, 4)
    tried = Session(single, done, [Rejected(170.0, 171.0, LOW)], spans).compare_legs()
    assert tried is not None and (tried.uninjured.set_number, tried.uninjured.count) == (3, 0)


def test_legs_are_compared_where_each_had_a_set_of_its_own() -> None:
    single = Settings(Side.LEFT, exercise=Exercise.SINGLE_RAISE)
    both = (SetSpan(1, 0.0, 50.0, Side.RIGHT), SetSpan(2, 60.0, 100.0, Side.LEFT))
    assert Session(single, [], [], both[:1]).compare_legs() is None
    assert Session(replace(single, exercise=Exercise.RAISE), [], [], both).compare_legs() is None
