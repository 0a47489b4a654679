"""The live line of a session in the terminal."""

from __future__ import annotations

import io
from dataclasses import replace

from weightshare.exercise import Basis, Exercise, Phase, Repetition, SetSpan
from weightshare.model import Side
from weightshare.practice.coach import Sets
from weightshare.practice.terminal import LiveLine, live_text, state_text
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings

UP = (LinkView("rig:", LinkState.SAMPLING, "connected"),)
LOST = (LinkView("rig:", LinkState.LOST, "the cable is out; trying to connect again"),)
HOLDING = Snapshot(
    State.IN_BAND, 12.34, 1000, 200.0, 600.0, 75.02, 588.399, 800.0, 100.0, holding=True, held_s=7.25,
    held_each_s=(31.0,),
)  # fmt: skip
GOAL = Goal(30.0, 3)


def view(snapshot: Snapshot = HOLDING, links: tuple[LinkView, ...] = UP, age_s: float = 0.02) -> LiveView:
    return LiveView(snapshot, links, age_s)


def test_the_line_has_state_share_load_and_holds() -> None:
    text = live_text(view(), GOAL)
    for part in ("in the band ", "share  75.0 %", "60.0 kg", "held   7.2 s of 30", "holds 1 of 3"):
        assert part in text


def test_what_is_not_known_is_a_dash_and_never_a_zero() -> None:
    nobody = Snapshot(State.NOBODY, 3.0)
    assert "share  --.- % | --.- kg" in live_text(view(nobody), GOAL)


def test_an_old_number_is_not_shown() -> None:
    text = live_text(view(age_s=0.4), GOAL)
    assert "75.0" not in text
    assert "60.0" not in text
    assert "held  --.- s of 30" in text, "held seconds stood still on the line while nothing came"
    assert text.startswith("no data")
    assert live_text(view(links=LOST, age_s=0.4), GOAL).startswith("the cable is out")


def test_weight_elsewhere_is_said() -> None:
    assert state_text(view(replace(HOLDING, supported=True))) == "in the band, part of the weight is elsewhere"


def test_before_the_first_sample_the_link_is_what_is_said() -> None:
    assert state_text(view(Snapshot(), LOST, float("inf"))) == "the cable is out; trying to connect again"
    assert state_text(view(Snapshot(), UP, float("inf"))) == "waiting for the scales"


def test_a_pipe_gets_a_line_at_each_change_only() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, GOAL)
    for time_s, state in ((1.0, State.NOBODY), (1.02, State.NOBODY), (2.0, State.IN_BAND), (2.02, State.IN_BAND)):
        line.show(view(replace(HOLDING, time_s=time_s, state=state)), time_s)
    line.close()
    assert stream.getvalue() == "    1.00 s  nobody on the scales\n    2.00 s  in the band\n"


def test_before_the_first_samples_a_pipe_gets_nothing() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, GOAL)
    line.show(view(Snapshot(), LOST, float("inf")), 0.0)
    assert stream.getvalue() == ""
    line.show(view(Snapshot(State.ZEROING), UP), 0.1)
    assert stream.getvalue() == "taking zero\n"


def test_messages_and_a_loss_are_told_once() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, GOAL)
    troubled = replace(view(), messages=("the link was lost",), recording="the disk is full")
    line.show(troubled, 0.0)
    line.show(troubled, 1.0)
    assert stream.getvalue().count("note: the link was lost\n") == 1
    assert stream.getvalue().count("note: the disk is full\n") == 1


def test_a_standing_warning_is_told_once_though_its_figures_change() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, GOAL)
    for apart in ("9 ms only, which makes 1.2", "9 ms only, which makes 1.1", "10 ms only, which makes 1.0"):
        warning = f"the two scales agree in time to {apart} points of the share doubtful"
        line.show(replace(view(replace(HOLDING, warnings=(warning,))), messages=(warning, "lost at 3 s")), 0.0)
    line.show(replace(view(), messages=("lost at 3 s", "lost at 5 s")), 1.0)
    assert stream.getvalue().count("agree in time") == 1
    assert stream.getvalue().count("lost at") == 2, "what happened twice is told twice"


def test_a_terminal_line_is_written_over_and_cut_to_its_width() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, GOAL, columns=40)
    line.show(view(), 0.0)
    line.show(view(), 0.05)
    line.show(view(), 0.2)
    line.close()
    *drawn, after = stream.getvalue().split("\r\x1b[K")[1:]
    assert [len(text) for text in drawn] == [39, 39]
    assert after == ""
    assert "\n" not in stream.getvalue()


def test_a_message_does_not_break_into_the_line() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, GOAL, columns=200)
    line.show(view(), 0.0)
    line.show(replace(view(), messages=("the link was lost",)), 0.2)
    assert "\r\x1b[Knote: the link was lost\n\r\x1b[K" in stream.getvalue()


LIFTS = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING)
SETS = Goal(sets=3, repetitions=10, rest_s=60.0)


def lifting(*spans: SetSpan, count: int = 2, time_s: float = 30.0, age_s: float = 0.02) -> LiveView:
    lifts = tuple(Repetition(Basis.HEIGHT, 12.0 + 5.0 * place, None, None, None) for place in range(count))
    snapshot = replace(HOLDING, time_s=time_s, repetitions=lifts, phase=Phase.LOWERING)
    return LiveView(snapshot, UP, age_s, sets=Sets(spans))


def test_in_a_set_the_line_has_the_phase_and_the_count() -> None:
    text = live_text(lifting(SetSpan(1, 10.0)), SETS, LIFTS)
    assert "| down |" in text and text.endswith("set 1 of 3: 2 of 10 raises") and "held" not in text
    assert "down" not in live_text(lifting(SetSpan(1, 10.0), age_s=0.4), SETS, LIFTS)
    assert live_text(lifting(), SETS, LIFTS).endswith("3 sets to do")
    assert live_text(lifting(SetSpan(1, 10.0), count=1), replace(SETS, to_exhaustion=True)).endswith("3: 1 raise")


def test_in_a_rest_the_line_says_how_long_it_lasts() -> None:
    assert live_text(lifting(SetSpan(1, 10.0, 25.0)), SETS, LIFTS).endswith("2 of 10 raises, rest until 85 s")


def test_a_pipe_gets_a_line_for_each_repetition_and_each_rest() -> None:
    stream = io.StringIO()
    line = LiveLine(stream, SETS, settings=LIFTS)
    for time_s, state, count, to_s in (
        (11.0, State.AT_BOTTOM, 0, None),
        (13.0, State.IN_BAND, 0, None),
        (17.0, State.AT_BOTTOM, 1, None),
        (30.0, State.AT_BOTTOM, 2, 25.0),
    ):
        shown = lifting(SetSpan(1, 10.0, to_s), count=count, time_s=time_s)
        line.show(replace(shown, snapshot=replace(shown.snapshot, state=state)), time_s)
    assert stream.getvalue().splitlines() == [
        "   11.00 s  set 1 of 3: 0 of 10 raises",
        "   17.00 s  set 1 of 3: 1 of 10 raises",
        "   30.00 s  set 1 of 3: 2 of 10 raises, rest until 85 s",
    ]
