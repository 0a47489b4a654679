"""The warm-up stand: where it lies, what its share is, and that cutting and gaps change nothing of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.shown import snapshot
from tests.unit.plates import drop, make_trace
from weightshare.cli.table import appraisal_table
from weightshare.errors import OptionError
from weightshare.exercise import Ceiling
from weightshare.model import Side, Trace
from weightshare.pipeline.analysis import analyse_trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.result import StandSummary
from weightshare.practice.flow import Flow
from weightshare.practice.frame import Frame
from weightshare.practice.rehearsal import rehearse
from weightshare.practice.screen import Step
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.terminal import state_text
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.programme.shelf import find_programme
from weightshare.records.appraisal import appraise
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings

ACHILLES = find_programme("achilles")

RIGHT = Settings(Side.RIGHT)
EVEN_THEN_STEERED = [(2.0, 0.0, 0.0), (4.0, 360.0, 340.0), (20.0, 200.0, 500.0)]
"""2 s nobody, 4 s 700 N with 340 on the right, then 500 on the right."""


def fresh(shot: Snapshot) -> LiveView:
    return LiveView(shot, (LinkView("tcp://scale:1", LinkState.SAMPLING, "sampling"),), 0.01)


def stand_of(segments: list[tuple[float, float, float]], settings: Settings = RIGHT) -> StandSummary | None:
    return analyse_trace(make_trace(segments), settings).stand


def test_the_seconds_in_which_body_weight_is_taken_are_the_stand_and_its_share_is_by_hand() -> None:
    found = stand_of(EVEN_THEN_STEERED)
    assert found is not None
    assert found.to_s - found.from_s == pytest.approx(3.0, abs=0.02)
    assert found.from_s == pytest.approx(2.0, abs=0.3)
    # 340 of 700 N
    assert found.share_percent == pytest.approx(100.0 * 340.0 / 700.0, abs=0.01)
    left = stand_of(EVEN_THEN_STEERED, replace(RIGHT, injured=Side.LEFT))
    assert left is not None and left.share_percent == pytest.approx(100.0 - found.share_percent)


def test_a_longer_one_takes_in_what_comes_after_the_weighing() -> None:
    found = stand_of([(2.0, 0.0, 0.0), (30.0, 350.0, 350.0)], replace(RIGHT, stand_s=10.0))
    assert found is not None and found.to_s - found.from_s == pytest.approx(10.0, abs=0.02)
    assert stand_of([(2.0, 0.0, 0.0), (8.0, 350.0, 350.0)], replace(RIGHT, stand_s=10.0)) is None, "it was not over"


def test_who_lifts_a_foot_begins_anew() -> None:
    lifted = [(1.0, 0.0, 0.0), (6.0, 350.0, 350.0), (2.0, 700.0, 0.0), (14.0, 330.0, 370.0)]
    found = stand_of(lifted, replace(RIGHT, stand_s=10.0))
    assert found is not None and found.from_s == pytest.approx(9.0, abs=0.2)
    assert found.share_percent == pytest.approx(100.0 * 370.0 / 700.0, abs=0.5)


def test_with_a_body_weight_that_is_given_there_is_one_only_where_it_is_asked_for() -> None:
    given = replace(RIGHT, body_weight_N=700.0)
    assert stand_of(EVEN_THEN_STEERED, given) is None
    found = stand_of([(2.0, 0.0, 0.0), (12.0, 350.0, 350.0)], replace(given, stand_s=5.0))
    assert found is not None and found.to_s - found.from_s == pytest.approx(5.0, abs=0.02)


def test_missing_readings_break_nothing_and_count_as_nothing() -> None:
    trace = drop(make_trace([(2.0, 0.0, 0.0), (20.0, 350.0, 350.0)]), 5.0, 5.05)
    found = analyse_trace(trace, replace(RIGHT, stand_s=6.0)).stand
    assert found is not None and found.share_percent == pytest.approx(50.0, abs=0.01)


@pytest.mark.parametrize("width", [3, 70, 10_000])
def test_how_the_stream_is_cut_does_not_matter(width: int) -> None:
    trace = make_trace([(1.0, 0.0, 0.0), (6.0, 350.0, 350.0), (1.0, 700.0, 0.0), (9.0, 330.0, 370.0)])
    settings = replace(RIGHT, stand_s=7.0)
    whole, cut = (run(trace, settings, each) for each in (len(trace.time_s), width))
    assert cut.tally().stood == whole.tally().stood is not None
    assert cut.snapshot().stand_left_s == 0.0


def run(trace: Trace, settings: Settings, width: int) -> Measure:
    measure = Measure(settings)
    values = np.stack([trace.columns["left_N"], trace.columns["right_N"]])
    interval_s = float(np.median(np.diff(trace.time_s)))
    flags = np.zeros(trace.time_s.size, dtype=np.uint8)
    whole = Block(interval_s, ("left_N", "right_N"), trace.time_s, values, flags)
    for first in range(0, len(trace.time_s), width):
        measure.push(whole.cut(first, first + width))
    measure.finish()
    return measure


def test_how_long_it_still_takes_is_told_and_only_asked_of_both_feet() -> None:
    trace = make_trace([(1.0, 0.0, 0.0), (5.0, 350.0, 350.0)])
    asked = replace(RIGHT, stand_s=10.0)
    left_s = run(trace, asked, 50).snapshot().stand_left_s
    assert left_s == pytest.approx(5.0, abs=0.2)
    assert run(trace, replace(RIGHT, body_weight_N=700.0), 50).snapshot().stand_left_s == 0.0
    assert run(make_trace([(3.0, 0.0, 0.0)]), asked, 50).snapshot().stand_left_s == 10.0


@pytest.mark.parametrize("seconds", [2.9, 121.0])
def test_it_is_from_3_s_to_two_minutes_long(seconds: float) -> None:
    with pytest.raises(OptionError, match="--stand"):
        Settings(Side.LEFT, stand_s=seconds)


def test_the_screen_names_it_and_waits_for_its_end() -> None:
    flow = Flow(Settings(Side.RIGHT, 75.0, stand_s=10.0), Goal(), ("tcp://scale:1",))
    flow.step = Step.WEIGH
    weighing = snapshot(State.WEIGHING, 50.0, body_weight_N=None, stand_left_s=10.0, zero_taken=True)
    screen, _ = flow.update(fresh(weighing))
    assert (screen.step, screen.state) == (Step.WEIGH, "weighing")
    assert screen.note == "The warm-up stand: on both feet, as you stand by yourself."
    on, _ = flow.update(fresh(snapshot(State.TOO_LITTLE, 50.0, stand_left_s=6.2, zero_taken=True)))
    assert (on.step, on.state, on.headline) == (Step.WEIGH, "warm-up stand", "Stand evenly on both feet, 7 s more.")
    over, _ = flow.update(fresh(snapshot(State.TOO_LITTLE, 50.0, stand_left_s=0.0, zero_taken=True)))
    assert over.step is Step.CHECK


def test_under_a_limit_of_load_nobody_is_asked_to_stand_evenly() -> None:
    flow = Flow(Settings(Side.RIGHT, ceiling=Ceiling(kg=20.0), stand_s=10.0), Goal(), ("tcp://scale:1",))
    flow.step = Step.WEIGH
    screen, _ = flow.update(fresh(snapshot(State.TOO_LITTLE, 10.0, stand_left_s=4.0, ceiling_N=196.0)))
    assert screen.headline == "Stand still as you are, 4 s more." and "20 kg" in screen.note


def test_the_terminal_and_the_summary_name_it() -> None:
    assert state_text(fresh(snapshot(State.WEIGHING, 50.0, body_weight_N=None))) == "warm-up stand: weighing"
    assert state_text(fresh(snapshot(State.TOO_LITTLE, 50.0, stand_left_s=4.0))) == "warm-up stand"
    assert state_text(fresh(snapshot(State.NOBODY, None, stand_left_s=4.0))) == "nobody on the scales"
    done = Practised(snapshot(State.IN_BAND, 75.0, stand_percent=47.6))
    summary = summary_screen(done, Frame(Settings(Side.RIGHT, 75.0), Goal())).summary
    assert summary is not None
    assert "In the warm-up stand, by yourself: 48 % on the right foot." in summary.lines


def test_the_table_tells_it_as_unsteered() -> None:
    analysis = analyse_trace(make_trace(EVEN_THEN_STEERED), replace(RIGHT, target_percent=75.0))
    told = appraisal_table(appraise(analysis, replace(RIGHT, target_percent=75.0), None))
    assert "warm-up stand               48.57 % on the injured side, 3 s, unsteered; no mark to pass" in told


def test_practice_without_a_key_waits_for_it() -> None:
    stage = replace(ACHILLES.find("lowering-75"), sets=1, repetitions=1, stand_s=8.0)
    done = rehearse(ACHILLES, stage, Side.RIGHT, "raiser,rate=20")
    assert done.agrees and done.finished.analysis is not None and done.finished.analysis.stand is not None
    stand, (first,) = done.finished.analysis.stand, done.finished.analysis.sets
    assert stand.to_s - stand.from_s == pytest.approx(8.0, abs=0.1) and first.from_s >= stand.to_s
    assert 40.0 < stand.share_percent < 60.0
