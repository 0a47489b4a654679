"""Supported work on the screen: the load where else the share is, on the path and in figures; nobody is weighed."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.exercise import Exercise, Load
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.compose import practise_screen
from weightshare.practice.flow import Flow
from weightshare.practice.frame import Frame
from weightshare.practice.history import Course
from weightshare.practice.screen import Screen, Shape, Step
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.support import load_figure, place_percent, trail_of
from weightshare.practice.terminal import live_text
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import Results, Snapshot, State
from weightshare.task import Goal, Settings

KG = STANDARD_GRAVITY
GOAL = Goal(hold_s=10.0, holds=2)
LINK = LinkView("serial:x", LinkState.SAMPLING, "")


def asked(side: Side = Side.LEFT) -> Settings:
    return Settings(side, load=Load(kg=20.0), exercise=Exercise.HOLD)


def view_of(kg: float, state: State = State.IN_BAND, side: Side = Side.LEFT) -> LiveView:
    loads = (kg * KG, 500.0) if side is Side.LEFT else (500.0, kg * KG)
    snapshot = Snapshot(
        state=state, time_s=12.0, left_N=loads[0], right_N=loads[1], injured_N=kg * KG, zero_taken=True,
        in_band=state is State.IN_BAND,
    )  # fmt: skip
    return LiveView(snapshot, (LINK,), 0.05)


def screen_of(kg: float, state: State = State.IN_BAND, side: Side = Side.LEFT) -> Screen:
    return practise_screen(view_of(kg, state, side), Frame(asked(side), GOAL))


@pytest.mark.parametrize(
    ("side", "kg", "place"), [(Side.RIGHT, 20.0, 50.0), (Side.RIGHT, 12.0, 30.0), (Side.LEFT, 12.0, 70.0)]
)
def test_the_load_that_is_asked_for_lies_in_the_middle(side: Side, kg: float, place: float) -> None:
    path = screen_of(kg, side=side).path
    assert path is not None and path.middle == "20.0 kg"
    assert path.place == pytest.approx(place)
    # 15 to 25 of 20 kg
    assert path.low == pytest.approx(37.5) and path.high == pytest.approx(62.5)
    assert path.inside is (kg == 20.0)


def test_a_load_far_beyond_stays_at_the_edge() -> None:
    path = screen_of(75.0, State.TOO_MUCH).path
    assert path is not None and path.place == 0.0
    assert place_percent(np.array([0.0, 392.266, 1e4]), asked()).tolist() == pytest.approx([0.0, 100.0, 100.0])


def test_the_figure_is_the_load_and_no_share_is_shown() -> None:
    figures = screen_of(20.44).figures
    assert (figures.share, figures.share_unit, figures.load_kg) == ("20.4", "kg", "")
    assert figures.aim == "aim 20.0, from 15.0 to 25.0 kg"


@pytest.mark.parametrize(("kg", "said"), [(14.96, "14.9"), (15.0, "15.0"), (25.04, "25.1"), (20.04, "20.0")])
def test_figure_and_band_never_contradict_each_other(kg: float, said: str) -> None:
    assert load_figure(kg * KG, asked()) == said


def test_arrow_and_words_lead_to_the_injured_foot() -> None:
    screen = screen_of(12.0, State.TOO_LITTLE)
    assert (screen.headline, screen.shape) == ("Put more weight on your left foot.", Shape.TO_LEFT)
    assert "elsewhere" not in screen.note, "that a part is elsewhere is what was asked for"


def test_nobody_is_weighed_or_asked_to_lean() -> None:
    flow = Flow(asked(), GOAL, ("serial:x",))
    for _ in range(3):
        screen, _ = flow.update(view_of(0.0, State.NOBODY))
    assert flow.step is Step.READY
    assert "Left and right were not checked." in screen.warnings


def test_the_trail_is_that_of_the_load() -> None:
    one = np.array([20.0 * KG])
    results = Results(one, one, 2 * one, one * np.nan, one, one > 0.0, one * np.nan)
    assert trail_of(results, asked()).tolist() == [50.0]
    assert trail_of(results, asked(Side.RIGHT)).tolist() == [100.0]
    assert np.isnan(trail_of(results, Settings(Side.LEFT, 75.0))).all()


def test_the_summary_draws_no_share() -> None:
    course = Course(np.array([1.0, 2.0]), np.array([50.0, 50.0]), np.array([50.0, 50.0]))
    summary = summary_screen(Practised(course=course), Frame(asked(), GOAL)).summary
    assert summary is not None and summary.course_time_s.size == 0
    assert summary.lines[0] == "0 of 2 holds of 10 s"


def test_the_line_in_the_terminal_has_no_share() -> None:
    said = live_text(view_of(20.0), GOAL, asked())
    assert "share" not in said and "20.0 kg" in said
