"""When sets begin and end, by sample time."""

from __future__ import annotations

from typing import Any

import pytest

from tests.shown import snapshot
from weightshare.exercise import Basis, Exercise, Repetition, SetSpan
from weightshare.model import Side
from weightshare.practice.coach import Coach, Sets, choose_leg, is_there, own_repetitions
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings

LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING)


def lift(start_s: float | None, end_s: float | None = None) -> Repetition:
    if end_s is None and start_s is not None:
        end_s = start_s + 4.0
    return Repetition(Basis.HEIGHT, start_s, None, None, end_s)


def shot(time_s: float, *starts_s: float, **more: Any) -> Snapshot:
    lifts = tuple(lift(start_s) for start_s in starts_s)
    values: dict[str, Any] = {"time_s": time_s, "repetitions": lifts, "basis": Basis.HEIGHT, "state": State.AT_BOTTOM}
    return snapshot(share=50.0, **(values | more))


def begun(goal: Goal, settings: Settings = LOWERING, basis: Basis = Basis.HEIGHT) -> Coach:
    coach = Coach(settings, goal)
    assert coach.begin(10.0, basis) is not None
    return coach


def test_a_set_ends_where_its_last_repetition_ended() -> None:
    """What is begun a moment later is one too many, and belongs to no set."""
    coach = begun(Goal(sets=2, repetitions=2))
    assert coach.push(shot(20.0, 12.0)) is None
    ended = coach.push(shot(27.0, 12.0, 18.0))
    assert ended is not None and ended.to_s is not None and 22.0 < ended.to_s < 22.0 + 1e-9
    assert coach.sets.under_way is None and not coach.is_done
    assert own_repetitions(ended, shot(40.0, 9.0, 12.0, 18.0, 22.5)) == (lift(12.0), lift(18.0))


def test_a_last_repetition_without_an_end_ends_the_set_at_the_newest_sample() -> None:
    coach = begun(Goal(repetitions=1))
    ended = coach.push(shot(27.0, repetitions=(Repetition(Basis.FORCE, 12.0, None, None, None),)))
    assert ended is not None and ended.to_s is not None and 27.0 < ended.to_s < 27.0 + 1e-9


def test_the_next_set_begins_by_itself_when_the_rest_is_over_and_the_last_ends_all() -> None:
    coach = begun(Goal(sets=2, repetitions=1, rest_s=30.0, blind_sets=(2,)))
    coach.push(shot(17.0, 12.0))
    assert coach.sets.rest_until_s(coach.goal) == pytest.approx(46.0)
    assert coach.push(shot(45.9, 12.0, 40.0)) is None
    second = coach.push(shot(46.1, 12.0, 40.0))
    assert second == SetSpan(2, second.from_s if second else 0.0, blind=True) and second.from_s > 46.1
    assert coach.push(shot(50.0, 12.0, 40.0)) is None, "a repetition of the rest belongs to no set"
    assert coach.push(shot(55.0, 12.0, 40.0, 47.0)) is not None and coach.is_done
    assert coach.begin(60.0, Basis.HEIGHT) is None and coach.sets.rest_until_s(coach.goal) is None


def test_a_key_begins_the_next_set_at_once_and_ends_one_early() -> None:
    coach = begun(Goal(sets=3))
    assert coach.begin(11.0, Basis.HEIGHT) is None, "one is under way"
    assert coach.end(20.0) == SetSpan(1, 10.0, 20.0)
    assert coach.end(21.0) is None
    assert coach.begin(22.0, Basis.HEIGHT) == SetSpan(2, 22.0)


def test_to_exhaustion_a_set_ends_by_hand_alone() -> None:
    coach = begun(Goal(repetitions=1, to_exhaustion=True))
    assert coach.push(shot(27.0, 12.0, 18.0)) is None
    assert coach.sets.under_way is not None


def test_a_metronome_leads_in_and_waits_until_someone_stands_there() -> None:
    coach = begun(Goal(sets=2, repetitions=1, rest_s=10.0), basis=Basis.PACED)
    assert coach.sets.newest == SetSpan(1, 10.0, paced_from_s=14.0)
    coach.end(20.0)
    away = shot(31.0, basis=Basis.PACED, state=State.NOBODY)
    assert coach.push(away) is None
    second = coach.push(shot(35.0, basis=Basis.PACED))
    assert second is not None and second.paced_from_s == pytest.approx(39.0)


def test_the_working_leg_is_that_of_the_settings_in_single_leg_work_only() -> None:
    single = Settings(Side.RIGHT, 75.0, exercise=Exercise.SINGLE_RAISE, working=Side.LEFT)
    for settings, working in ((single, Side.LEFT), (LOWERING, None)):
        assert begun(Goal(), settings).sets.spans[0].working is working


def test_to_exhaustion_the_legs_take_turns_and_the_good_one_begins() -> None:
    single = Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_RAISE)
    coach = begun(Goal(sets=2, to_exhaustion=True), single)
    coach.end(20.0)
    coach.begin(30.0, Basis.HEIGHT)
    assert [span.working for span in coach.sets.spans] == [Side.LEFT, Side.RIGHT]
    assert choose_leg(LOWERING, coach.goal, 1) is None


def test_the_other_leg_is_asked_for_its_own_share() -> None:
    single = Settings(Side.RIGHT, 100.0, exercise=Exercise.SINGLE_RAISE)
    other = single.for_leg(Side.LEFT)
    assert (other.working_side, other.target_percent) == (Side.LEFT, 0.0)
    assert single.for_leg(Side.RIGHT) is single.for_leg(None) is single
    assert LOWERING.for_leg(LOWERING.injured.other) is LOWERING


def test_with_nobody_there_a_stopping_rule_ends_the_set() -> None:
    """A fault was marked: attended that is told to the person, unattended it ends the set."""
    for unattended in (False, True):
        coach = Coach(LOWERING, Goal(to_exhaustion=True), unattended=unattended)
        coach.begin(10.0, Basis.HEIGHT)
        coach.mark_fault(25.0)
        ended = coach.push(shot(27.0, 12.0, 18.0))
        assert (ended is not None) is unattended


@pytest.mark.parametrize("exercise", [None, Exercise.HOLD, Exercise.HEEL_HOLD])
def test_holds_have_no_sets(exercise: Exercise | None) -> None:
    coach = Coach(Settings(Side.LEFT, 75.0, exercise=exercise), Goal())
    assert coach.begin(10.0, None) is None and coach.push(shot(20.0)) is None and not coach.is_done


def test_a_fault_is_marked_in_a_set_only() -> None:
    coach = Coach(LOWERING, Goal())
    assert not coach.mark_fault(5.0)
    coach.begin(10.0, Basis.HEIGHT)
    assert coach.mark_fault(12.0)
    coach.end(20.0)
    assert not coach.mark_fault(21.0) and coach.sets.faults_s == (12.0,)


def test_nothing_is_done_before_there_are_samples() -> None:
    coach = begun(Goal(rest_s=0.0))
    coach.end(20.0)
    assert coach.push(Snapshot()) is None and coach.sets == Sets((SetSpan(1, 10.0, 20.0),))


@pytest.mark.parametrize("state", list(State))
def test_only_who_stands_there_with_a_known_weight_could_begin(state: State) -> None:
    there = {State.IN_BAND, State.TOO_LITTLE, State.TOO_MUCH, State.STANDING, State.AT_BOTTOM, State.ELSEWHERE}
    assert is_there(snapshot(state)) is (state in there | {State.HEELS_DOWN})
    assert not is_there(snapshot(state, body_weight_N=None))


def test_a_rest_goes_on_while_the_alarm_stands() -> None:
    coach = begun(Goal(sets=2, repetitions=1, rest_s=30.0))
    coach.push(shot(17.0, 12.0))
    for alarm in ({"over_ceiling": True}, {"ceiling_unread": True}):
        assert coach.push(shot(46.1, 12.0, **alarm)) is None
    assert coach.push(shot(46.2, 12.0)) is not None
