"""What is really painted: pixels and places of text, at both sizes and in both themes."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path as FilePath

import numpy as np
import pytest
from PySide6.QtGui import QImage

from tests.shown import AGREED_WORDS, snapshot
from tests.window.conftest import GOAL, SETTINGS, SOURCE, fresh
from tests.window.picture import corridor_columns, is_colour, look_for_faults, needle_column, path_picture, pixels
from weightshare.model import Side
from weightshare.practice.check import SideCheck, Verdict
from weightshare.practice.compose import practise_screen
from weightshare.practice.frame import Frame
from weightshare.practice.path import Aids
from weightshare.practice.prepare import prepare_screen
from weightshare.practice.screen import Screen, Step
from weightshare.practice.summary import Practised, summary_screen
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings
from weightshare.window.app import render_png
from weightshare.window.board import Board
from weightshare.window.theme import Theme

FRAME = Frame(SETTINGS, GOAL, SOURCE)
LOST = LiveView(links=(LinkView(SOURCE, LinkState.LOST, "the scale at port seven is away; plug it in"),))


def with_check(verdict: Verdict, named: Side) -> SideCheck:
    check = SideCheck(named, 700.0)
    check.verdict = verdict
    return check


def all_screens() -> dict[str, Screen]:
    """Return one screen of each kind, with the longest words that it can have."""
    steered = replace(FRAME, source="rig:steered", unchecked=True)
    far = Frame(Settings(Side.RIGHT, 97.5, 12.5), Goal(3600.0, 100), "rig:favouring", unchecked=True)
    screens = {f"practise {state.value}": practise_screen(fresh(snapshot(state)), steered) for state in State}
    screens["all figures long"] = practise_screen(
        fresh(snapshot(State.TOO_MUCH, 100.0, holding=True, held_s=3599.0, supported=True)), far
    )
    screens["asking"] = practise_screen(fresh(snapshot()), replace(FRAME, asking=True))
    screens["ready"] = practise_screen(fresh(snapshot(supported=True)), steered, Step.READY)
    screens["hold done"] = practise_screen(fresh(snapshot(holding=True, held_s=30.5)), FRAME)
    screens["lost"] = practise_screen(LOST, FRAME)
    for step in (Step.CONNECT, Step.ZERO, Step.WEIGH):
        screens[f"prepare {step}"] = prepare_screen(fresh(snapshot(State.WEIGHING)), FRAME, step)
    for verdict in Verdict:
        for side in Side:
            check = with_check(verdict, side)
            view = fresh(snapshot(zero_taken=False))
            screens[f"check {verdict} {side}"] = prepare_screen(view, steered, Step.CHECK, check)
    screens["unreached"] = prepare_screen(LOST, FRAME, Step.CONNECT)
    shot = Snapshot(held_each_s=tuple(float(s) for s in range(5, 45, 4)), time_in_band_s=300.0)
    found = ("70 to 80 % while held: met in this session; of this patient: not known yet, 1 session.",)
    screens["done"] = summary_screen(
        Practised(shot, findings=found), FRAME, ("the disk is full: nothing is kept",), "sessions/2026-11-24-101500"
    )
    return screens


SCREENS = all_screens()


@pytest.mark.parametrize("injured", list(Side))
def test_the_needle_stands_in_the_painted_corridor_exactly_where_the_share_is_in_the_band(
    board: Board, injured: Side
) -> None:
    frame = replace(FRAME, settings=Settings(injured, 75.0, 5.0))
    for share in (66.0, 69.9, np.nextafter(70.0, 0), 70.0, 70.05, 75.0, 79.95, 80.0, np.nextafter(80.0, 100), 84.0):
        inside = 70.0 <= share <= 80.0
        state = State.IN_BAND if inside else State.TOO_LITTLE if share < 75 else State.TOO_MUCH
        view = replace(fresh(snapshot(state, float(share))), trail_time_s=np.empty(0), trail_share_percent=np.empty(0))
        screen = practise_screen(view, frame)
        board.show_screen(screen)
        picture = path_picture(board)
        first, last = corridor_columns(board, picture)
        column = needle_column(board, picture, screen)
        assert (first <= column <= last) == inside, f"share {share!r}: column {column}, corridor {first} to {last}"
        right_of_middle = column > picture.shape[1] / 2
        assert right_of_middle == (injured is Side.RIGHT)


def test_no_number_is_painted_without_fresh_data(board: Board) -> None:
    """The same pixels as on a board that never saw a number, and no digit in any line of it."""
    lost = practise_screen(LOST, FRAME)
    board.show_screen(practise_screen(fresh(snapshot(holding=True, held_s=12.0)), FRAME))
    with_numbers = pixels(board)
    board.show_screen(lost)
    after = pixels(board)
    assert not np.array_equal(with_numbers, after)
    assert not [line.text for _view, line in board.lines() if any(letter.isdigit() for letter in line.text)]
    never = Board(board.theme, 96 / 25.4)
    never.resize(board.size())
    never.show_screen(lost)
    never.show()
    assert np.array_equal(after, pixels(never))
    never.close()
    never.deleteLater()


def test_the_digits_of_the_share_are_ink_and_gone_when_stale(board: Board) -> None:
    board.show_screen(practise_screen(fresh(snapshot()), FRAME))
    room = next(line.bounds() for view, line in board.lines() if line.name == "share")
    spot = room.translated(board.figures.geometry().topLeft()).toRect()
    inked = is_colour(pixels(board)[spot.top() : spot.bottom(), spot.left() : spot.right()], board.theme.ink)
    assert inked.mean() > 0.1
    board.show_screen(practise_screen(LOST, FRAME))
    inked = is_colour(pixels(board)[spot.top() : spot.bottom(), spot.left() : spot.right()], board.theme.ink)
    assert not inked.any()


def test_in_and_out_differ_in_shape_and_in_words_too(board: Board) -> None:
    """In grey, too, the pucks differ: the disc's outline is not the arrowhead's."""
    outlines, words = [], []
    for state, share in (
        (State.IN_BAND, 75.0),
        (State.TOO_LITTLE, 75.0),
        (State.TOO_MUCH, 75.0),
        (State.ELSEWHERE, 75.0),
    ):
        screen = practise_screen(fresh(snapshot(state, share)), FRAME)
        board.show_screen(screen)
        picture = path_picture(board)
        marks = is_colour(picture, board.theme.inside) | is_colour(picture, board.theme.outside)
        outlines.append(marks)
        words.append(screen.state)
    for (one, said), (other, also) in combinations(zip(outlines, words, strict=True), 2):
        assert (one ^ other).sum() > 60 and said != also


def test_no_text_is_cut_or_overlaps(board: Board) -> None:
    for name, screen in SCREENS.items():
        board.show_screen(screen)
        assert {line.name for _view, line in board.lines()} >= {"headline", "state"}
        look_for_faults(board, name)


def test_stones_lie_under_no_text(board: Board) -> None:
    for name, screen in SCREENS.items():
        board.show_screen(screen)
        stones = board.figures.stones_room()
        if screen.figures.stones:
            for view, line in board.lines():
                over = view is board.figures and line.bounds().intersects(stones)
                assert not over, f"{name}: {line.name} lies over the stones"


def test_what_stands_beside_the_two_figures_is_one_column(board: Board) -> None:
    for share, held_s in ((9.0, 0.0), (51.0, 9.0), (76.4, 12.0), (100.0, 25.0)):
        board.show_screen(practise_screen(fresh(snapshot(State.IN_BAND, share, holding=True, held_s=held_s)), FRAME))
        lines = {line.name: line for view, line in board.lines() if view is board.figures}
        first, second = lines["share label"], lines["held label"]
        assert first.room.left() == second.room.left() and first.pixel_size == second.pixel_size
        assert max(lines["share unit"].end, lines["held unit"].end) <= first.room.left()


def test_every_state_is_said(board: Board) -> None:
    said = set()
    for screen in SCREENS.values():
        board.show_screen(screen)
        said |= {line.text for _view, line in board.lines() if line.name in ("state", "note")}
    assert said >= AGREED_WORDS


def test_views_lie_side_by_side(board: Board) -> None:
    for name in ("ready", "done", "check asking left"):
        board.show_screen(SCREENS[name])
        shown = [view.geometry() for view in board.views if not view.isHidden()]
        shown += [board.key.geometry()] if not board.key.isHidden() else []
        for one, other in combinations(shown, 2):
            assert not one.intersects(other)
        assert all(board.rect().contains(place) for place in shown)


def test_stones_fill_as_seconds_are_held(board: Board) -> None:
    laid = []
    for held_s in (0.0, 7.5, 15.0, 30.0):
        board.show_screen(practise_screen(fresh(snapshot(holding=True, held_s=held_s)), FRAME))
        place, room = board.figures.geometry(), board.figures.stones_room().toRect()
        top, left = place.top() + room.top(), place.left() + room.left()
        picture = pixels(board)[top : top + room.height(), left : left + room.width()]
        laid.append(int(is_colour(picture, board.theme.laid).sum()))
    assert laid[0] == 0
    assert laid[1] / laid[3] == pytest.approx(0.25, abs=0.02) and laid[2] / laid[3] == pytest.approx(0.5, abs=0.02)


def test_what_counted_is_laid_behind_the_now_line_only(board: Board) -> None:
    screen = practise_screen(fresh(snapshot()), FRAME, aids=Aids(paved=((36.0, 40.0),)))
    board.show_screen(screen)
    assert screen.path is not None
    plane = board.path.plane(screen.path)
    rows = np.flatnonzero(is_colour(path_picture(board), board.theme.laid).any(axis=1))
    assert rows[0] >= plane.now_row and rows[-1] == pytest.approx(plane.y(36.0, 40.01), abs=2)


def test_figures_are_forty_millimetres_high_where_the_screen_has_the_room(board: Board) -> None:
    board.show_screen(SCREENS["ready"])
    for density in (96 / 25.4, 3.0):
        board.set_density(density)
        high = next(line.bounds().height() for _view, line in board.lines() if line.name == "share")
        assert high == pytest.approx(board.figures.figure_px, rel=0.04)
        if density == 3.0 or board.width() > 1900:
            assert high / density >= 40.0
        assert high / density <= 62.0


def test_the_picture_of_the_window_is_written_as_asked(tmp_path: FilePath, theme: Theme) -> None:
    target = tmp_path / "seen.png"
    render_png(SCREENS["ready"], target, (1366, 768), theme.name)
    image = QImage(str(target))
    assert (image.width(), image.height()) == (1366, 768)
    assert image.pixelColor(2, 760).name() == theme.ground


def test_a_picture_that_cannot_be_written_is_an_error(tmp_path: FilePath) -> None:
    with pytest.raises(OSError, match="could not be written"):
        render_png(SCREENS["ready"], tmp_path / "no folder" / "seen.png")
