"""A session of sets in the window: what keys ask for, what is painted between sets, what is heard."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.shown import snapshot
from tests.window.conftest import Bench, fresh
from weightshare.exercise import Basis, Ceiling, CeilingEvent, Exercise, Phase, SetSpan, Tempo
from weightshare.practice.coach import Sets
from weightshare.practice.screen import Pulse, Screen, Step
from weightshare.practice.tone import Cue
from weightshare.practice.view import LiveView
from weightshare.state import State
from weightshare.task import Goal
from weightshare.window.main import PracticeWindow
from weightshare.window.sound import SoundOutput

Key = Qt.Key
UNDER_WAY = Sets((SetSpan(1, 30.0),))
RESTING = Sets((SetSpan(1, 10.0, 35.0),))
GOAL = Goal(sets=3, repetitions=10, rest_s=60.0)


class Heard(SoundOutput):
    """A loudspeaker that remembers what it was asked to play."""

    def __init__(self) -> None:
        super().__init__()
        self.cues: list[Cue] = []
        self.pulses: list[Pulse | None] = []

    def play(self, cue: Cue) -> bool:
        self.cues.append(cue)
        return True

    def beat(self, pulse: Pulse | None) -> None:
        self.pulses.append(pulse)


def lifting(sets: Sets, phase: Phase = Phase.LOWERING, **more: Any) -> LiveView:
    shot: dict[str, Any] = {
        "phase": phase,
        "phase_since_s": 39.2,
        "aim_percent": 75.0,
        "basis": Basis.HEIGHT,
        "heels_seen": True,
        "left_height_mm": 60.0,
        "right_height_mm": 55.0,
    }
    return fresh(snapshot(**(shot | more)), sets=sets)


def practising(bench: Bench, *, blind: bool = False, size: tuple[int, int] = (1366, 768)) -> PracticeWindow:
    """Return a window in its first set of ten lowerings with three quarters of the load."""
    window = bench.open(size=size)
    window.sound = Heard()
    settings = replace(
        window.flow.settings, exercise=Exercise.LOWERING, tempo=Tempo(1, 1, 2, 1), ceiling=Ceiling(kg=90.0)
    )
    assert window.flow.change(settings, replace(GOAL, blind_sets=(1,) if blind else ()))
    show(bench, window, fresh(snapshot(State.TOO_LITTLE)))
    press(bench, window, Key.Key_S)
    press(bench, window, Key.Key_Space)
    assert bench.feed.asked[-1] == "begin"
    span = replace(UNDER_WAY.spans[0], blind=blind)
    show(bench, window, lifting(Sets((span,))))
    bench.app.processEvents()
    return window


def show(bench: Bench, window: PracticeWindow, view: LiveView) -> Screen:
    bench.feed.shown = view
    window.tick()
    assert window.screen_shown is not None
    return window.screen_shown


def press(bench: Bench, window: PracticeWindow, key: Key) -> None:
    QTest.keyClick(window.board, key)
    bench.app.processEvents()


def heard(window: PracticeWindow) -> Heard:
    assert isinstance(window.sound, Heard)
    return window.sound


def texts(window: PracticeWindow) -> dict[str, str]:
    return {line.name: line.text for _view, line in window.board.lines()}


def test_keys_end_a_set_mark_a_fault_and_begin_the_next(bench: Bench) -> None:
    window = practising(bench)
    press(bench, window, Key.Key_M)
    assert bench.feed.asked[-1] == "fault"
    press(bench, window, Key.Key_N)
    assert bench.feed.asked[-1] == "end set"
    assert show(bench, window, lifting(RESTING, Phase.BOTTOM)).step is Step.REST
    press(bench, window, Key.Key_Space)
    press(bench, window, Key.Key_N)
    assert bench.feed.asked[-2:] == ["begin set", "begin set"]
    press(bench, window, Key.Key_M)
    assert bench.feed.asked[-1] == "begin set", "in a rest there is nothing to mark"
    two = Sets((*RESTING.spans, SetSpan(2, 40.0)))
    assert show(bench, window, lifting(two)).step is Step.PRACTISE
    assert texts(window)["holds"] == "2 of 3"


def test_a_set_shows_corridor_heels_count_and_the_phase(bench: Bench) -> None:
    window = practising(bench)
    said = texts(window)
    assert said["held"] == "0" and said["held beside"] == "of 10" and said["holds label"] == "set"
    assert "down" in said.values() and "heel" in said
    assert not window.board.path.isHidden() and not any(view.isHidden() for view in window.board.heels.values())


def test_a_rest_shows_its_clock_and_nothing_of_the_path(bench: Bench) -> None:
    window = practising(bench)
    show(bench, window, lifting(RESTING, Phase.BOTTOM))
    assert texts(window)["clock"] == "0:55"
    assert window.board.path.isHidden() and window.board.figures.isHidden() and not window.board.key.isHidden()
    assert window.bar.target.isEnabled() is False


def test_the_sets_done_lead_to_a_table(bench: Bench) -> None:
    window = practising(bench)
    done = Sets(tuple(SetSpan(n, 10.0 * n, 10.0 * n + 8.0) for n in (1, 2, 3)))
    show(bench, window, lifting(done, Phase.BOTTOM))
    bench.until(lambda: window.runner.ended is not None)
    window.tick()
    assert window.flow.step is Step.DONE and texts(window)["cell 3 0 0"] == "3"
    assert window.board.course.geometry().width() > 300


def test_what_the_last_view_before_the_end_has_is_in_the_summary(bench: Bench) -> None:
    """The session was over between two paints, and its last repetition was in neither of them."""
    window = practising(bench)
    done = Sets(tuple(SetSpan(n, 10.0 * n, 10.0 * n + 8.0) for n in (1, 2, 3)))
    bench.feed.shown, bench.feed.is_over = lifting(done, Phase.BOTTOM), True
    window.tick(lifting(Sets(done.spans[:2]), Phase.BOTTOM))
    assert window.flow.step is Step.DONE and texts(window)["result"].startswith("3 of 3 sets")


def test_a_blind_set_leaves_the_words_alone(bench: Bench) -> None:
    window = practising(bench, blind=True)
    said = texts(window)
    assert " ".join((said["headline"], said["headline 1"])) == "Do 10 raises, as you practised them."
    assert not {"share", "held", "load", "holds", "heel"} & said.keys()
    assert heard(window).pulses[-1] is None, "nor is the metronome heard"


def test_the_metronome_is_handed_to_the_loudspeaker_as_long_as_it_goes(bench: Bench) -> None:
    window = practising(bench)
    show(bench, window, lifting(UNDER_WAY, Phase.BOTTOM, time_s=40.0, phase_since_s=36.0))
    show(bench, window, lifting(UNDER_WAY, Phase.RISE, time_s=40.5, phase_since_s=40.4))
    pulse = heard(window).pulses[-1]
    assert pulse is not None and pulse.tempo == Tempo(1, 1, 2, 1)
    show(bench, window, lifting(RESTING, Phase.BOTTOM, time_s=41.0))
    assert heard(window).pulses[-1] is None


@pytest.mark.parametrize("page", ["none", "cautions", "more settings"])
def test_an_alarm_is_seen_and_heard_with_the_very_view_that_carries_it(bench: Bench, page: str) -> None:
    window = practising(bench)
    if page == "cautions":
        window.cautions.open_page()
    if page == "more settings":
        window.desk.sheet.open_page()
    heard(window).cues.clear()
    over = CeilingEvent(39.9, None, 950.0)
    screen = show(
        bench, window, lifting(UNDER_WAY, over_ceiling=True, ceiling_N=882.6, ceiling_events=(over,), injured_N=900.0)
    )
    assert screen.alarm is not None and not window.board.alarm.isHidden()
    assert heard(window).cues == [Cue.OVER]
    assert window.childAt(window.board.geometry().center()) is window.board.alarm
    assert "TOO MUCH LOAD" in texts(window).values()
    show(bench, window, lifting(UNDER_WAY, time_s=45.0, ceiling_N=882.6, ceiling_events=(replace(over, end_s=40.2),)))
    assert window.board.alarm.isHidden() and window.board.hasFocus()


def test_without_a_loudspeaker_the_alarms_silence_is_said(bench: Bench) -> None:
    window = practising(bench)
    assert not window.sound.is_open
    show(bench, window, lifting(UNDER_WAY))
    assert any("sound" in line.lower() for line in texts(window).values())
