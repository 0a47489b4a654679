"""Screens of coached repetitions as they are painted: a corridor that bends, heels, rest, blind sets, alarms."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.window import lowering
from tests.window.picture import corridor_columns, is_colour, look_for_faults, needle_column, path_picture, pixels
from weightshare.exercise import Tempo
from weightshare.model import Side
from weightshare.practice.screen import Alarm, AlarmKind, Figure, Heels, Screen, SetRow
from weightshare.window.board import Board
from weightshare.window.plane import AHEAD_S, MOUTH_PX, course

QUICK, SLOW = Tempo(0.8, 0.4, 1.0, 0.5), Tempo(2.0, 2.0, 4.0, 2.0)


def all_screens() -> dict[str, Screen]:
    """Return one screen of each kind, at instants all along a repetition."""
    screens = {}
    for name, tempo in (("usual", lowering.TEMPO), ("quick", QUICK), ("slow", SLOW)):
        for at_s in np.arange(0.0, tempo.cycle_s, 0.13).tolist():
            screens[f"{name} {at_s:.2f}"] = lowering.screen(lowering.path(at_s, tempo=tempo))
        waiting = lowering.path(0.0, waits=True, tempo=tempo, beat=None)
        screens[f"{name} waiting"] = lowering.screen(waiting, "Go up when you are ready.")
    screens["left"] = lowering.screen(lowering.path(1.2, mirrored=True), injured=Side.LEFT)
    screens["no heels"] = lowering.screen(lowering.path(1.2, heels=None))
    screens["a heel unseen"] = lowering.screen(lowering.path(1.2, heels=Heels(None, 0.2)))
    screens["on a step"] = lowering.screen(lowering.path(1.2, heels=Heels(-0.3, -0.25, 0.5)))
    screens["blind"] = lowering.screen(lowering.path(1.2, hidden=True), "Ten times, without help: up, and slowly down.")
    screens["rest"], screens["over"] = lowering.rest_screen(), lowering.rest_screen(over=True)
    for alarm in (lowering.OVER, lowering.UNREAD):
        screens[f"alarm {alarm.kind}"] = replace(screens["left"], alarm=alarm)
    screens["summary"] = lowering.summary_screen()
    summary = screens["summary"].summary
    assert summary is not None
    notes = "without the screen; 12 with a hand on the rail; not counted: 31 were too low, 2 a foot left the plates"
    long = tuple(SetRow((f"{n}", "100", "100 %", "100 %", "12.1 s", "104 mm", notes)) for n in range(1, 21))
    screens["twenty sets"] = replace(screens["summary"], summary=replace(summary, rows=long))
    rest = screens["rest"].rest
    assert rest is not None
    long_ones = (Figure("repetitions that counted", "100", "", "of 100, the most so far"),) * 3
    lines = (
        "Height fell by 18 % from the first to the last repetitions.",
        "12 were not counted: low, a foot left the plates.",
    )
    screens["long rest"] = replace(
        screens["over"], rest=replace(rest, left="30:00", over=True, figures=long_ones, lines=lines)
    )
    return screens


SCREENS = all_screens()


def test_no_text_is_cut_or_overlaps(board: Board) -> None:
    for name, screen in SCREENS.items():
        board.show_screen(screen)
        assert any(line.name == "headline" for _view, line in board.lines()), name
        look_for_faults(board, name)


def test_parts_lie_side_by_side(board: Board) -> None:
    for name in ("left", "no heels", "blind", "rest"):
        board.show_screen(SCREENS[name])
        shown = [view.geometry() for view in board.views if not view.isHidden()]
        shown += [] if board.key.isHidden() else [board.key.geometry()]
        assert all(board.rect().contains(place) for place in shown), name
        crossing = [(a, b) for n, a in enumerate(shown) for b in shown[n + 1 :] if a.intersects(b)]
        assert not crossing, name


def test_the_course_of_the_share_lies_under_no_text_of_the_summary(board: Board) -> None:
    for name in ("summary", "twenty sets"):
        board.show_screen(SCREENS[name])
        place = board.course.geometry().translated(-board.summary.pos())
        assert board.summary.rect().contains(place) and place.height() > board.height() * 0.15
        assert not [
            line.name for view, line in board.lines() if view is board.summary and line.bounds().intersects(place)
        ]


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_needle_stands_in_the_corridors_mouth_exactly_where_the_share_is_in_the_band(
    board: Board, mirrored: bool
) -> None:
    """Along the whole repetition, also while the band moves; the mouth is the band that is measured now."""
    for at_s in np.arange(0.02, 5.0, 0.53).tolist():
        middle = float(lowering.aim(np.array([at_s]))[0])
        for off in (-5.5, -5.0, 0.3, 5.0, 5.01):
            share = middle + off
            inside = middle - 5.0 <= share <= middle + 5.0
            seen = lowering.path(at_s, place=share, inside=inside, trail_time_s=np.empty(0), trail_place=np.empty(0),
                                 trail_inside=np.empty(0, dtype=bool), trail_low=np.empty(0), trail_high=np.empty(0),
                                 mirrored=mirrored)  # fmt: skip
            assert seen.ahead is not None
            seen = replace(seen, ahead=replace(seen.ahead, marks=()))
            screen = lowering.screen(seen, injured=Side.LEFT if mirrored else Side.RIGHT)
            # the puck may lie over an edge of the mouth
            board.show_screen(replace(screen, path=replace(seen, place=None)))
            plane = board.path.plane(seen)
            first, last = corridor_columns(board, path_picture(board), plane.now_row - MOUTH_PX + 1)
            assert seen.low is not None and seen.high is not None
            assert (first, last) == plane.corridor(seen.low, seen.high)
            board.show_screen(screen)
            picture = path_picture(board)
            column = needle_column(board, picture, screen)
            assert (first <= column <= last) == inside, f"{at_s:.2f} s, share {share!r}: {column} in {first} to {last}"


def test_four_seconds_lie_ahead_and_the_corridor_is_where_it_will_be_asked_for(board: Board) -> None:
    seen = lowering.path(0.5)
    board.show_screen(lowering.screen(seen))
    picture, plane = path_picture(board), board.path.plane(seen)
    assert plane.now_row / plane.px_per_s >= AHEAD_S
    for from_now_s in (0.3, 1.85, 2.9):
        row = plane.now_row - round(from_now_s * plane.px_per_s)
        surface = np.flatnonzero(is_colour(picture[row : row + 1], board.theme.path)[0])
        middle = float(lowering.aim(np.array([0.5 + from_now_s]))[0])
        assert surface[0] == pytest.approx(plane.x(middle - 5.0), abs=5)
        assert surface[-1] == pytest.approx(plane.x(middle + 5.0), abs=5)


def test_behind_the_now_line_the_band_stays_as_it_was(board: Board) -> None:
    seen = lowering.path(0.5)
    plane = board.path.plane(seen)
    drawn = course(seen, plane)
    assert drawn is not None
    for since_s in (1.0, 2.0, 3.0):
        row = plane.now_row + since_s * plane.px_per_s
        middle = float(lowering.aim(np.array([0.5 - since_s]))[0])
        assert np.interp(row, drawn.row, drawn.left) == pytest.approx(plane.x(middle - 5.0), abs=3)


def test_while_it_waits_a_gate_lies_across_it_and_nothing_ahead_moves(board: Board) -> None:
    pictures = []
    for now_s in (40.0, 40.3, 40.7):
        seen = lowering.path(0.0, waits=True, beat=None)
        board.show_screen(lowering.screen(replace(seen, now_s=now_s, trail_time_s=seen.trail_time_s + now_s - 40.0)))
        pictures.append(path_picture(board)[: board.path.plane(seen).now_row])
        assert "when ready: up" in [line.text for _view, line in board.lines()]
    assert all(np.array_equal(pictures[0], other) for other in pictures[1:])
    seen = lowering.path(0.0)
    board.show_screen(lowering.screen(replace(seen, beat=None)))
    going = path_picture(board)[: len(pictures[0])]
    assert is_colour(pictures[0], board.theme.ink).sum() > is_colour(going, board.theme.ink).sum() + 300


def test_words_come_down_with_their_phases_and_the_one_under_way_stands_below_the_now_line(board: Board) -> None:
    places = {}
    for at_s in (0.2, 0.6):
        seen = lowering.path(at_s)
        board.show_screen(lowering.screen(seen))
        places[at_s] = {line.text: line for view, line in board.lines() if view is board.path}
        assert set(places[at_s]) >= {"up", "hold", "down"}
        assert places[at_s]["up"].room.top() > board.path.plane(seen).now_row
    pace = board.path.plane(seen).px_per_s
    for word in ("hold", "down"):
        assert places[0.6][word].baseline - places[0.2][word].baseline == pytest.approx(0.4 * pace, abs=2)


def test_words_stand_away_from_where_the_corridor_goes(board: Board) -> None:
    for name, side in (("usual 0.26", -1), ("left", 1)):
        board.show_screen(SCREENS[name])
        middle = board.path.width() / 2
        words = [line for view, line in board.lines() if view is board.path]
        assert words and all((line.bounds().center().x() - middle) * side > 0 for line in words)


def test_the_beat_swells_and_fades(board: Board) -> None:
    painted = []
    for beat in (1.0, 0.5, 0.0, None):
        board.show_screen(lowering.screen(lowering.path(0.5, beat=beat, heels=None)))
        picture = path_picture(board)
        rim = picture[:, : picture.shape[1] // 4]
        painted.append(int(is_colour(rim, board.theme.inside).sum()))
    assert painted[0] > 2 * painted[1] > 4 * painted[2] > 0 == painted[3]
    assert painted[0] > (board.height() * 0.1) ** 2 * 0.7, "as large as a figure that is read at three metres"


def test_a_heel_rises_in_its_own_column_and_passes_the_goal(board: Board) -> None:
    rows = []
    for height in (0.0, 0.3, 0.6, 1.0):
        board.show_screen(lowering.screen(lowering.path(0.5, heels=Heels(0.0, height, 0.5))))
        place = board.heels[Side.RIGHT].geometry()
        picture = pixels(board)[place.top() : place.bottom(), place.left() : place.right()]
        filled = is_colour(picture, board.theme.laid), is_colour(picture, board.theme.inside)
        rows.append((int(filled[0].any(axis=1).sum()), int(filled[1].any(axis=1).sum())))
    assert rows[0][1] == rows[1][1] == 0 and rows[2][0] == rows[3][0] == 0
    assert rows[0][0] < rows[1][0] < rows[2][1] < rows[3][1]


def test_the_injured_heel_is_told_without_colour(board: Board) -> None:
    for injured in Side:
        board.show_screen(replace(lowering.screen(lowering.path(0.5)), injured=injured))
        bold = {side: line.bold for side, view in board.heels.items() for line in view.lines() if line.name == "heel"}
        assert bold == {injured: True, injured.other: False}


def test_a_heel_that_is_not_measured_is_said(board: Board) -> None:
    board.show_screen(SCREENS["a heel unseen"])
    assert [line.text for line in board.heels[Side.LEFT].lines()] == ["heel", "not", "seen"]
    assert [line.text for line in board.heels[Side.RIGHT].lines()] == ["heel"]


def test_a_blind_set_gives_nothing_to_steer_by(board: Board) -> None:
    """Whatever the share, the heels and the figures: the same pixels."""
    seen = lowering.path(1.2, hidden=True)
    other = replace(lowering.path(3.0, hidden=True, place=20.0, heels=Heels(0.0, 0.0)), inside=False)
    board.show_screen(lowering.screen(seen))
    one = pixels(board)
    board.show_screen(replace(lowering.screen(other), figures=replace(lowering.FIGURES, share="20", held="9")))
    assert np.array_equal(one, pixels(board))
    shown = {line.name for _view, line in board.lines()}
    assert shown <= {"headline", "headline 1", "headline 2", "state", "note", "hint", "source", "warnings"}


def test_the_clock_of_a_rest_runs_out(board: Board) -> None:
    laid = []
    for left in (1.0, 0.5, 0.0):
        rest = replace(lowering.REST, left_fraction=left)
        board.show_screen(replace(lowering.rest_screen(), rest=rest))
        laid.append(int(is_colour(pixels(board), board.theme.laid).sum()))
    assert laid[0] > 0 == laid[2] and laid[1] / laid[0] == pytest.approx(0.5, abs=0.02)
    board.show_screen(lowering.rest_screen(over=True))
    said = " ".join(line.text for _view, line in board.lines())
    assert "rest is over" in said and "The next set begins as you start." in said


def test_the_figures_of_a_rest_are_read_at_three_metres(board: Board) -> None:
    """18 mm is 20 arc minutes at three metres."""
    board.show_screen(SCREENS["rest"])
    high = {line.name: line.bounds().height() for _view, line in board.lines()}
    for name in ("clock", "figure 0", "figure 1", "figure 2"):
        assert high[name] / (96 / 25.4) >= 18.0, name


@pytest.mark.parametrize("alarm", [lowering.OVER, lowering.UNREAD], ids=lambda alarm: alarm.kind)
def test_an_alarm_is_over_everything_in_the_paint_that_follows(board: Board, alarm: Alarm) -> None:
    for name in ("left", "rest", "blind", "summary"):
        board.show_screen(SCREENS[name])
        pixels(board)
        board.show_screen(replace(SCREENS[name], alarm=alarm))
        picture = pixels(board)
        ground = board.theme.over if alarm.kind is AlarmKind.OVER else board.theme.unread
        assert is_colour(picture, ground).mean() > 0.5 and not is_colour(picture, board.theme.ground).any()
        said = " ".join(line.text for view, line in board.lines() if view is board.alarm)
        assert alarm.headline in said and alarm.words in said
        board.show_screen(SCREENS[name])
        assert not is_colour(pixels(board), ground).any()


def test_alarms_differ_in_shape_and_words_too(board: Board) -> None:
    outlines, words = [], []
    for alarm, ink in ((lowering.OVER, board.theme.over_ink), (lowering.UNREAD, board.theme.unread_ink)):
        board.show_screen(replace(SCREENS["left"], alarm=replace(alarm, headline="same", words="same")))
        picture = pixels(board)
        high, wide = picture.shape[:2]
        outlines.append(is_colour(picture[high // 5 : high // 2, wide // 3 : 2 * wide // 3], ink))
        words.append(next(line.text for view, line in board.lines() if view is board.alarm))
    assert (outlines[0] != outlines[1]).mean() > 0.1 and words[0] != words[1]


def test_repetitions_are_counted_without_a_unit_of_time(board: Board) -> None:
    board.show_screen(SCREENS["left"])
    texts = {line.name: line.text for view, line in board.lines() if view is board.figures}
    assert texts["held"] == "3" and texts["held beside"] == "of 10" and "held unit" not in texts
    assert texts["held label"] == "repetitions" and texts["holds label"] == "sets"


def test_the_table_of_sets_shows_every_cell(board: Board) -> None:
    board.show_screen(SCREENS["summary"])
    texts = [line.text for line in board.summary.lines() if line.name.startswith("cell")]
    cells = [cell for row in (lowering.HEADS, *(row.cells for row in lowering.ROWS)) for cell in row]
    assert " ".join(texts).split() == " ".join(cells).split()


def test_a_column_with_nothing_in_it_is_left_out(board: Board) -> None:
    summary = SCREENS["summary"].summary
    assert summary is not None
    bare = tuple(SetRow((*row.cells[:-1], "")) for row in summary.rows)
    board.show_screen(replace(SCREENS["summary"], summary=replace(summary, rows=bare)))
    assert "notes" not in [line.text for line in board.summary.lines()]


def test_the_band_of_the_course_bends_where_what_is_asked_does(board: Board) -> None:
    board.show_screen(SCREENS["summary"])
    summary = SCREENS["summary"].summary
    assert summary is not None and summary.edges_percent is not None
    course = board.course
    assert course._area.isVisible() and not course._band.isVisible()
    for curve, edge in zip(course._edges, summary.edges_percent, strict=True):
        np.testing.assert_array_equal(curve.getData()[1], edge)
    course.show_summary(replace(summary, edges_percent=None))
    assert course._band.isVisible() and not course._area.isVisible()
    assert course._band.getRegion() == summary.band_percent
    assert all(curve.getData()[0] is None or not len(curve.getData()[0]) for curve in course._edges)
