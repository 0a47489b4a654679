"""The step in which the load is shifted: as it is painted, and from its asking to its end by the keys."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.shown import snapshot
from tests.window.conftest import GOAL, SETTINGS, SOURCE, Bench, fresh
from tests.window.picture import is_colour, look_for_faults, pixels
from weightshare.metrology.balance import Balance, Verdict
from weightshare.metrology.estimate import Estimate
from weightshare.model import Side
from weightshare.practice.balance import NOT_ALIKE, NOT_COMPARED
from weightshare.practice.checkup import CheckupView
from weightshare.practice.frame import Frame
from weightshare.practice.prepare import prepare_screen
from weightshare.practice.screen import Screen, Step
from weightshare.state import State
from weightshare.window.board import Board

FRAME = Frame(SETTINGS, GOAL, SOURCE)
WAY = CheckupView("never compared", (35.0, 65.0), under_way=True, toward=Side.LEFT, progress=0.4, share_percent=56.0)
REASONS = (
    "it is known to 1.2 % only: the total was not steady, or the way too short",
    "the total changed with the way the load went: somebody leaned on something at the ends",
)


def screen_of(checkup: CheckupView, balance: Balance | None = None) -> Screen:
    return prepare_screen(
        fresh(snapshot(State.STANDING, zero_taken=False), checkup=checkup), FRAME, Step.BALANCE, None, balance
    )


def columns_of(board: Board, colour: str) -> tuple[float, float, int]:
    """First, last and number of columns of `colour` on the line below the plates."""
    place = board.plates.geometry()
    picture = pixels(board)[place.top() + int(0.9 * place.height()) : place.bottom(), place.left() : place.right()]
    columns = np.flatnonzero(is_colour(picture, colour).any(axis=0))
    assert columns.size, "the line is painted"
    return float(columns[0]), float(columns[-1]), int(columns.size)


def test_the_line_shows_how_far_to_go_and_where_the_load_is(board: Board) -> None:
    board.show_screen(screen_of(replace(WAY, share_percent=50.0)))
    first, last, _ = columns_of(board, board.theme.inside)
    middle = 0.5 * (first + last)
    at = [columns_of(board, board.theme.ink)[:2]]
    assert sum(at[0]) / 2 == pytest.approx(middle, abs=3), "an even split stands in the middle"
    board.show_screen(screen_of(replace(WAY, share_percent=60.0)))
    at.append(columns_of(board, board.theme.ink)[:2])
    assert sum(at[1]) / 2 == pytest.approx(middle - (last - first) / 3, abs=4), "more on the left is left of it"
    board.show_screen(screen_of(replace(WAY, asked_percent=(35.0, 54.0))))
    assert columns_of(board, board.theme.inside)[0] > first + 10, "nearer to the middle under a limit"


@pytest.mark.parametrize("reason", REASONS)
def test_no_text_of_it_is_cut_or_overlaps(board: Board, reason: str) -> None:
    screens = {"way": screen_of(WAY), "untold": screen_of(WAY, Balance(Verdict.UNTOLD, reason=reason))}
    for verdict in (Verdict.UNEVEN, Verdict.UNDECIDED):
        screens[verdict] = screen_of(WAY, Balance(verdict, Estimate(-11.4, 0.29)))
    for name, screen in screens.items():
        board.show_screen(screen)
        look_for_faults(board, f"balance {name}")


def test_it_is_asked_of_the_session_told_and_gone_past_by_the_key(bench: Bench) -> None:
    window = bench.open()

    def show(checkup: CheckupView) -> Screen:
        bench.feed.shown = fresh(snapshot(State.STANDING, zero_taken=True), checkup=checkup)
        window.tick()
        assert window.screen_shown is not None
        return window.screen_shown

    due = CheckupView("never compared", (35.0, 65.0))
    assert show(due).step is Step.CHECK
    QTest.keyClick(window.board, Qt.Key.Key_S)
    assert show(due).step is Step.BALANCE and bench.feed.asked.count("compare") == 1
    assert show(WAY).headline == "Shift your weight slowly to the left, to 65 %."
    assert bench.feed.asked.count("compare") == 1
    shown = show(replace(due, balance=Balance(Verdict.UNEVEN, Estimate(2.0, 0.1))))
    assert shown.headline == "The left plate reads 2.0 \u00b1 0.2 % more than the other."
    QTest.keyClick(window.board, Qt.Key.Key_Space)
    ready = show(due)
    assert ready.step is Step.READY and NOT_ALIKE in ready.warnings


def test_key_s_passes_over_it_and_that_is_said(bench: Bench) -> None:
    window = bench.open()
    due = CheckupView("never compared", (35.0, 65.0))
    bench.feed.shown = fresh(snapshot(State.STANDING, zero_taken=True), checkup=due)
    window.tick()
    for step in (Step.BALANCE, Step.READY):
        QTest.keyClick(window.board, Qt.Key.Key_S)
        window.tick()
        shown = window.screen_shown
        assert shown is not None and shown.step is step
    assert shown is not None and NOT_COMPARED in shown.warnings
