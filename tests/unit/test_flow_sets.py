"""The order of a session of sets, driven by views alone."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tests.shown import snapshot
from tests.unit.series import make_raise
from weightshare.exercise import Basis, Ceiling, CeilingEvent, Exercise, Phase, SetSpan, Tempo
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.coach import Sets
from weightshare.practice.flow import Action, Flow
from weightshare.practice.screen import AlarmKind, Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import State
from weightshare.task import Goal, Settings

SOURCE = "rig:raiser"
LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 2.0, 1.0))
GOAL = Goal(sets=2, repetitions=10, rest_s=60.0)
UP = (LinkView(SOURCE, LinkState.SAMPLING, "sampling"),)


def view(
    time_s: float, *spans: SetSpan, age_s: float = 0.01, faults_s: tuple[float, ...] = (), **more: Any
) -> LiveView:
    values: dict[str, Any] = {"phase": Phase.BOTTOM, "aim_percent": 50.0, "basis": Basis.HEIGHT} | more
    shot = snapshot(State.AT_BOTTOM, 50.0, time_s=time_s, **values)
    return LiveView(shot, UP, age_s, sets=Sets(spans, faults_s))


def practising(settings: Settings = LOWERING, goal: Goal = GOAL) -> Flow:
    flow = Flow(settings, goal, (SOURCE,))
    flow.update(view(8.0))
    assert flow.press() is Action.BEGIN
    return flow


FIRST = SetSpan(1, 10.0)
DONE = replace(FIRST, to_s=60.0)
SECOND = SetSpan(2, 121.0)


def test_set_rest_set_and_the_end_follow_what_the_session_says() -> None:
    flow = practising()
    seen = []
    for shown in (
        view(9.0),
        view(11.0, FIRST),
        view(61.0, DONE),
        view(119.0, DONE),
        view(122.0, DONE, SECOND),
        view(180.0, DONE, replace(SECOND, to_s=179.0)),
        view(180.1, DONE, replace(SECOND, to_s=179.0)),
    ):
        screen, action = flow.update(shown)
        seen.append((screen.step, action))
    practise, rest = (Step.PRACTISE, Action.NOTHING), (Step.REST, Action.NOTHING)
    finish = (Step.DONE, Action.FINISH)
    assert seen == [practise, practise, rest, rest, practise, finish, (Step.DONE, Action.NOTHING)]
    summary = flow.update(view(181.0))[0].summary
    assert summary is not None and [row.cells[0] for row in summary.rows] == ["1", "2"]


def test_settings_are_locked_from_the_first_set_to_the_last() -> None:
    flow = practising()
    for shown in (view(11.0, FIRST), view(61.0, DONE)):
        flow.update(shown)
        assert flow.locked and not flow.change(replace(LOWERING, target_percent=60.0), GOAL)


def test_a_repetition_that_still_waited_when_the_session_ended_is_in_the_table() -> None:
    """Escape came within a second of the heel's coming down: the record had one more than the summary."""
    flow = practising()
    flow.update(view(20.0, FIRST))
    flow.end()
    before = flow.update(view(20.1))[0].summary
    flow.last = view(20.5, FIRST, repetitions=(make_raise(14.0),))
    after = flow.update(view(20.2))[0].summary
    assert before is not None and after is not None
    assert [summary.rows[0].cells[1] for summary in (before, after)] == ["0", "1"]


def test_keys_ask_for_what_they_can_mean_at_each_step() -> None:
    flow = Flow(LOWERING, GOAL, (SOURCE,))
    flow.update(view(8.0))
    assert (flow.next(), flow.mark()) == (Action.NOTHING, Action.NOTHING)
    flow.press()
    flow.update(view(11.0, FIRST))
    assert (flow.press(), flow.next(), flow.mark()) == (Action.NOTHING, Action.END_SET, Action.FAULT)
    flow.update(view(61.0, DONE))
    assert (flow.press(), flow.next(), flow.mark()) == (Action.BEGIN_SET, Action.BEGIN_SET, Action.NOTHING)
    flow.end()
    assert (flow.next(), flow.mark()) == (Action.NOTHING, Action.NOTHING)


def test_holds_know_no_sets() -> None:
    flow = practising(Settings(Side.RIGHT, 75.0))
    flow.update(view(11.0))
    assert (flow.next(), flow.mark()) == (Action.NOTHING, Action.NOTHING)


def test_the_big_key_ends_a_set_to_exhaustion_only_where_that_was_suggested() -> None:
    flow = practising(goal=replace(GOAL, to_exhaustion=True))
    flow.update(view(20.0, FIRST))
    assert flow.press() is Action.NOTHING
    screen, _action = flow.update(view(20.1, FIRST, faults_s=(20.0,)))
    assert screen.key == words.END_SET and flow.press() is Action.END_SET


def test_escape_in_a_rest_asks_first_and_ends_the_session() -> None:
    flow = practising()
    flow.update(view(61.0, DONE))
    assert flow.escape() is Action.NOTHING
    assert flow.update(view(61.1, DONE))[0].headline == words.ASK_TO_END
    assert flow.press() is Action.NOTHING, "Space answers no: it does not begin the next set"
    assert (flow.escape(), flow.escape()) == (Action.NOTHING, Action.FINISH)


LIMITED = replace(LOWERING, ceiling=Ceiling(kg=60.0))
OVER: dict[str, Any] = {
    "over_ceiling": True,
    "ceiling_N": 588.4,
    "ceiling_events": (CeilingEvent(8.0, None, 650.0),),
}


def test_the_alarm_stands_over_every_step_of_practice_and_in_blind_sets() -> None:
    flow = Flow(LIMITED, GOAL, (SOURCE,))
    flow.update(view(7.0))
    for shown, step in (
        (view(8.0), Step.READY),
        (view(11.0, FIRST), Step.PRACTISE),
        (view(61.0, DONE), Step.REST),
        (view(122.0, DONE, replace(SECOND, blind=True)), Step.PRACTISE),
    ):
        if step is Step.PRACTISE:
            flow.step = step
        screen, _action = flow.update(replace(shown, snapshot=replace(shown.snapshot, **OVER)))
        assert screen.step is step and screen.alarm is not None and screen.alarm.kind is AlarmKind.OVER
        calm, _action = flow.update(
            replace(shown, snapshot=replace(shown.snapshot, time_s=shown.snapshot.time_s or 0.0))
        )
        assert calm.alarm is not None, "it stays for a while"
    lost, _action = flow.update(view(122.0, DONE, SECOND, age_s=3.0))
    assert lost.alarm is not None and lost.alarm.kind is AlarmKind.UNREAD
    flow.end()
    assert flow.update(view(123.0, DONE, SECOND, age_s=9.0))[0].alarm is None


def test_who_is_weighed_and_asked_for_left_and_right_is_warned_too() -> None:
    """A limit of 20 kg: even standing for the scales broke it, and nothing was said before practice."""
    flow = Flow(LIMITED, GOAL, ("tcp://127.0.0.1:7000",))
    weighing = replace(view(3.0).snapshot, state=State.WEIGHING, body_weight_N=None)
    for shot, step in ((weighing, Step.WEIGH), (view(8.0).snapshot, Step.CHECK)):
        screen, _action = flow.update(LiveView(replace(shot, **OVER), UP, 0.01))
        assert screen.step is step and screen.alarm is not None and screen.alarm.kind is AlarmKind.OVER
        assert "No more than 60 kg on the right foot." in screen.note


def test_the_check_of_a_foot_that_may_bear_next_to_nothing_is_done_seated() -> None:
    flow = Flow(replace(LOWERING, ceiling=Ceiling(kg=4.0)), GOAL, ("tcp://127.0.0.1:7000",))
    screen, _action = flow.update(view(8.0, ceiling_N=39.2))
    assert screen.step is Step.CHECK and screen.headline == "Sit on a chair, feet on the plates."


def test_nothing_begins_while_an_alarm_stands() -> None:
    """Space began practice under an alarm that covered all of the screen."""
    flow = Flow(LIMITED, GOAL, (SOURCE,))
    screen, _action = flow.update(view(8.0, **OVER))
    assert screen.key == "" and flow.press() is Action.NOTHING and flow.step is Step.READY
    assert screen.alarm is not None and screen.alarm.note == "Practice does not begin while this stands."
    flow.update(view(11.0))
    assert flow.press() is Action.BEGIN
    flow.update(view(20.0, FIRST))
    screen, _action = flow.update(view(61.0, DONE, **OVER))
    assert screen.key == "" and flow.press() is flow.next() is Action.NOTHING


def test_a_target_over_the_limit_keeps_practice_from_beginning_and_says_why() -> None:
    """75 % of 71 kg under a limit of 20 kg: the aim could not be reached without the alarm, and nothing said so."""
    flow = Flow(replace(LOWERING, ceiling=Ceiling(kg=20.0)), GOAL, (SOURCE,))
    screen, _action = flow.update(view(8.0, ceiling_N=196.1))
    assert screen.step is Step.READY and screen.key == "" and flow.press() is Action.NOTHING
    assert screen.headline == words.CLASH_HEADLINE
    assert screen.note == "75 % on the right foot is 53.5 kg, over the limit of 20.0 kg."
    assert flow.change(LIMITED, GOAL)
    assert flow.update(view(8.1))[0].key == words.START and flow.press() is Action.BEGIN


def test_keys_are_offered_while_a_set_is_under_way() -> None:
    flow = practising()
    screen, _action = flow.update(view(8.5))
    assert screen.hint == "" and (flow.next(), flow.mark()) == (Action.NOTHING, Action.NOTHING)
    assert words.SET_HINT in flow.update(view(11.0, FIRST))[0].hint
    flow.escape()
    assert words.SET_HINT not in flow.update(view(11.1, FIRST))[0].hint


def test_there_is_no_alarm_while_nobody_practises_yet() -> None:
    limited = replace(LOWERING, ceiling=Ceiling(kg=20.0))
    flow = Flow(limited, GOAL, ("tcp://127.0.0.1:7000",))
    assert flow.update(LiveView(links=UP))[0].alarm is None


def test_the_metronome_sounds_in_practice_and_is_seen_with_it() -> None:
    flow = practising()
    rising = view(13.0, FIRST, phase=Phase.RISE, phase_since_s=12.99, age_s=0.01)
    screen, _action = flow.update(rising)
    assert screen.pulse is not None and screen.path is not None and screen.path.beat is not None
    assert screen.path.beat > 0.9
    assert flow.update(view(61.0, DONE))[0].pulse is None


def test_a_silent_window_is_told_of_where_an_alarm_would_need_a_sound() -> None:
    flow = practising(LIMITED)
    flow.silent = True
    assert words.ALARM_SILENT in flow.update(view(11.0, FIRST))[0].warnings
