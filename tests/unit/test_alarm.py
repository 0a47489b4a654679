"""The ceiling's alarm."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.shown import snapshot
from weightshare.exercise import Ceiling, CeilingEvent
from weightshare.model import Side
from weightshare.practice.alarm import SEEN_S, AlarmKeeper
from weightshare.practice.screen import AlarmKind, Step
from weightshare.practice.view import LiveView
from weightshare.state import State
from weightshare.task import Settings

TWENTY = Settings(Side.LEFT, 30.0, ceiling=Ceiling(kg=20.0))
LIMIT_N = 196.133
OVER = CeilingEvent(9.9, None, 26.5 * 9.80665)


def view(time_s: float, age_s: float = 0.01, **more: Any) -> LiveView:
    return LiveView(snapshot(State.IN_BAND, 25.0, time_s=time_s, ceiling_N=LIMIT_N, **more), age_s=age_s)


def test_a_crossing_is_alarmed_about_with_the_first_view_of_it() -> None:
    alarm = AlarmKeeper().push(view(10.0, over_ceiling=True, ceiling_events=(OVER,)), TWENTY)
    assert alarm is not None and alarm.kind is AlarmKind.OVER
    assert alarm.headline == "Less weight on the left foot now."
    assert alarm.words == "now 17.8 kg, at most 26.5 kg, limit 20 kg"


def test_it_stays_two_seconds_after_its_reason_and_then_goes() -> None:
    keeper, ended = AlarmKeeper(), replace(OVER, end_s=10.1)
    keeper.push(view(10.0, over_ceiling=True, ceiling_events=(OVER,)), TWENTY)
    shown = [keeper.push(view(time_s, ceiling_events=(ended,)), TWENTY) for time_s in (10.5, 10.0 + SEEN_S - 0.02)]
    assert all(alarm is not None and alarm.kind is AlarmKind.OVER for alarm in shown)
    assert keeper.push(view(10.0 + SEEN_S + 0.02, ceiling_events=(ended,)), TWENTY) is None


def test_a_crossing_that_was_over_before_anybody_looked_is_alarmed_about_once() -> None:
    keeper = AlarmKeeper()
    assert keeper.push(view(9.0), TWENTY) is None
    ended = replace(OVER, end_s=10.1)
    alarm = keeper.push(view(12.0, ceiling_events=(ended,)), TWENTY)
    assert alarm is not None and alarm.kind is AlarmKind.OVER
    assert keeper.push(view(15.0, ceiling_events=(ended,)), TWENTY) is None


def test_what_passed_before_practice_is_not_alarmed_about_later() -> None:
    assert AlarmKeeper().push(view(12.0, ceiling_events=(replace(OVER, end_s=5.0),)), TWENTY) is None


@pytest.mark.parametrize(
    "missing", [view(10.0, age_s=0.31), view(10.0, ceiling_unread=True), LiveView()], ids=["old", "unread", "none yet"]
)
def test_a_load_that_cannot_be_read_is_an_alarm_of_its_own(missing: LiveView) -> None:
    alarm = AlarmKeeper().push(missing, TWENTY)
    assert alarm is not None and alarm.kind is AlarmKind.UNREAD
    assert alarm.headline == "Hold the rail. Ease the weight off your left foot."
    assert alarm.words.startswith("The load on it cannot be read")


def test_an_alarm_without_a_time_goes_with_its_reason() -> None:
    keeper = AlarmKeeper()
    keeper.push(LiveView(), TWENTY)
    assert keeper.push(view(10.0), TWENTY) is None


def test_old_data_do_not_tell_a_load() -> None:
    stale = view(10.0, age_s=0.4, over_ceiling=True, ceiling_events=(OVER,))
    alarm = AlarmKeeper().push(stale, TWENTY)
    assert alarm is not None and alarm.kind is AlarmKind.UNREAD and "26.5" not in alarm.words


def test_without_a_ceiling_there_is_no_alarm() -> None:
    keeper = AlarmKeeper()
    assert keeper.push(view(10.0, age_s=0.4), replace(TWENTY, ceiling=None)) is None


def test_a_ceiling_in_percent_that_is_not_known_yet_names_no_limit() -> None:
    shot = snapshot(ceiling_N=None, ceiling_unread=True)
    alarm = AlarmKeeper().push(LiveView(shot, age_s=0.01), replace(TWENTY, ceiling=Ceiling(percent=25.0)))
    assert alarm is not None and alarm.words == "The load on it cannot be read."


def test_who_eases_off_sees_it() -> None:
    """The only figure was the greatest so far: it never fell, whatever the person did."""
    keeper, told = AlarmKeeper(), []
    for time_s, load_kg in ((10.0, 26.0), (10.1, 24.0), (10.25, 22.0), (10.5, 19.0)):
        alarm = keeper.push(
            view(time_s, over_ceiling=True, ceiling_events=(OVER,), injured_N=load_kg * 9.80665), TWENTY
        )
        assert alarm is not None
        told.append(alarm.words.partition(",")[0])
    assert told == ["now 26.0 kg", "now 26.0 kg", "now 22.0 kg", "now 19.0 kg"], "five changes a second can be read"


def test_a_limit_that_hangs_on_body_weight_holds_from_when_that_is_known() -> None:
    percent = replace(TWENTY, ceiling=Ceiling(percent=25.0))
    weighing = snapshot(State.WEIGHING, 50.0, body_weight_N=None, ceiling_N=None)
    assert AlarmKeeper().push(LiveView(weighing, age_s=0.5), percent, Step.WEIGH) is None
    known = replace(weighing, body_weight_N=700.0, ceiling_N=175.0)
    assert AlarmKeeper().push(LiveView(known, age_s=0.5), percent, Step.CHECK) is not None


@pytest.mark.parametrize(
    ("step", "note"),
    [
        (Step.WEIGH, "Left and right are not checked yet: are the plates swapped?"),
        (Step.CHECK, "Left and right are not checked yet: are the plates swapped?"),
        (Step.READY, "Practice does not begin while this stands."),
        (Step.PRACTISE, ""),
        (Step.REST, "The next set does not begin while this stands."),
    ],
)
def test_an_alarm_says_what_follows_from_it_at_each_step(step: Step, note: str) -> None:
    alarm = AlarmKeeper().push(view(10.0, over_ceiling=True, ceiling_events=(OVER,)), TWENTY, step)
    assert alarm is not None and alarm.note == note


@pytest.mark.parametrize("step", [Step.CONNECT, Step.ZERO, Step.DONE])
def test_where_nobody_is_to_stand_there_there_is_no_alarm(step: Step) -> None:
    assert AlarmKeeper().push(view(10.0, age_s=0.5), TWENTY, step) is None
