"""Looking back in the window: what is painted, at both sizes and in both themes; by keys and mouse; the way there."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tests.unit.pasts import LOWERING, held, past_of, save
from tests.window.picture import is_colour
from weightshare.exercise import Ceiling, Exercise
from weightshare.model import Side
from weightshare.pipeline.result import Gap
from weightshare.practice.past.moment import Kind
from weightshare.practice.past.opening import Past
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.past.view import PastView
from weightshare.task import Settings
from weightshare.window.app import application
from weightshare.window.door import Door
from weightshare.window.main import PracticeWindow
from weightshare.window.pastlist import NONE
from weightshare.window.pastpage import PastPage
from weightshare.window.theme import LIGHT, Theme
from weightshare.window.view import Painted

if TYPE_CHECKING:
    from .conftest import Bench

HOLD = Settings(Side.LEFT, target_percent=75.0, exercise=Exercise.HOLD)
WHOLE = [(1366, 768), (1920, 1080)]


def raises(folder: Path) -> Past:
    return past_of(folder, sources=("rig:raiser",))


def holds(folder: Path) -> Past:
    return past_of(folder, held(), HOLD)


def limited(folder: Path) -> Past:
    past = past_of(folder, held(), replace(HOLD, target_percent=45.0, ceiling=Ceiling(kg=40.0)))
    return replace(past, digest=replace(past.digest, gaps=(Gap(12.0, 14.0),)))


def much_to_say(folder: Path) -> Past:
    past = past_of(folder, uneven=True, sources=("rig:raiser",))
    warnings = tuple(f"warning number {k}, which is about as long as warnings of this program are" for k in range(30))
    return replace(past, digest=replace(past.digest, warnings=warnings))


def hundreds(folder: Path) -> Past:
    past = raises(folder)
    first = past.digest.repetitions[0]
    assert first.start_s is not None and first.end_s is not None and first.lowering_s is not None
    many = tuple(
        replace(first, start_s=8.0 + 0.1 * k, top_s=8.03 + 0.1 * k, lowering_s=8.05 + 0.1 * k, end_s=8.09 + 0.1 * k)
        for k in range(600)
    )
    return replace(past, digest=replace(past.digest, repetitions=many))


PASTS: dict[str, Callable[[Path], Past]] = {
    "raises": raises,
    "holds": holds,
    "limited": limited,
    "much to say": much_to_say,
    "hundreds": hundreds,
}


@pytest.fixture
def parent() -> Iterator[QWidget]:
    made = QWidget()
    yield made
    made.close()
    made.deleteLater()


@pytest.fixture
def page(parent: QWidget, tmp_path: Path) -> Iterator[PastPage]:
    """A page that shows the raises of a saved session."""
    made = page_on(parent, LIGHT)
    made.open_page(Wanted(tmp_path, save(tmp_path / "session-1")), LIGHT)
    wait(lambda: made.view is not None)
    yield made
    made.leave()


def page_on(parent: QWidget, theme: Theme, size: tuple[int, int] = WHOLE[0]) -> PastPage:
    board = QWidget(parent)
    parent.resize(*size)
    parent.show()
    return PastPage(parent, board, (), theme)


def wait(holds: Callable[[], bool]) -> None:
    """Let Qt work until `holds`, for ten seconds at most."""
    end_s = time.monotonic() + 10.0
    while not holds():
        assert time.monotonic() < end_s, "waited in vain"
        application().processEvents()
        time.sleep(0.002)


def look(page: PastPage, past: Past) -> PastView:
    page.view = PastView(past)
    page._cover()
    page._fit_parts()
    page._show()
    return page.view


def picture(widget: QWidget) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    image = widget.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).copy()


def faults(part: Painted) -> list[str]:
    """Return what is cut, leaves its place, or lies over another text."""
    lines = [line for line in part.lines() if line.text]
    inside = part.rect().toRectF().adjusted(-1, -1, 1, 1)
    found = [f"{line.name} is cut: {line.text}" for line in lines if "\u2026" in line.text]
    found += [f"{line.name} leaves its part" for line in lines if not inside.contains(line.bounds())]
    for line, other in combinations(lines, 2):
        if line.bounds().intersects(other.bounds()):
            found.append(f"{line.name} lies over {other.name}")
    return found


@pytest.mark.parametrize("name", PASTS)
@pytest.mark.parametrize("whole", WHOLE, ids=lambda size: f"{size[0]}")
def test_nothing_is_cut_or_lies_over_another(
    name: str, whole: tuple[int, int], theme: Theme, parent: QWidget, tmp_path: Path
) -> None:
    page = page_on(parent, theme, whole)
    view = look(page, PASTS[name](tmp_path / "session-1"))
    for zoom, chosen in ((1.0, None), (0.2, 0), (0.05, 2)):
        view.show_whole()
        view.choose(None if chosen is None else min(chosen, len(view.table.moments) - 1))
        view.zoom(zoom)
        view.move_cursor(0.0)
        page._show()
        for part in page._painted():
            if not part.isHidden():
                assert faults(part) == [], f"{name}, {type(part).__name__}"
    page._uncover()


def test_the_curve_is_painted_where_the_share_is(page: PastPage) -> None:
    view, plane = page.view, page.plane
    assert view is not None
    view.choose(2)
    page._show()
    places, lane = plane.places(), view.lanes[0]
    moment = view.moment
    assert moment is not None and moment.anchor_s is not None
    at_s = moment.anchor_s + 0.7
    share = lane.curves[0].pyramid.value_at(at_s)
    x = round(places.x_of(at_s, view.span_s))
    column = is_colour(picture(plane), LIGHT.ink)[:, x]
    room = places.lanes[0]
    rows = np.flatnonzero(column[round(room.top()) : round(room.bottom())]) + round(room.top())
    shown = lane.low + (room.bottom() - rows.mean()) / room.height() * (lane.high - lane.low)
    assert shown == pytest.approx(share, abs=1.0)
    assert 70.0 < share < 80.0


def test_gap_and_limit_are_seen_without_their_colour(parent: QWidget, tmp_path: Path) -> None:
    page = page_on(parent, LIGHT)
    view = look(page, limited(tmp_path / "session-1"))
    said = [line.text for line in page.table.lines()]
    assert any("limit passed for" in text for text in said)
    assert "!" in said
    assert any("1 gap without a reading" in line.text for line in page.facts.lines())
    places = page.plane.places()
    left, right = (round(places.x_of(time_s, view.span_s)) for time_s in (12.2, 13.8))
    room = places.lanes[1].toRect()
    hatched = picture(page.plane)[room.top() : room.bottom(), left:right]
    plain = is_colour(hatched, LIGHT.ground).mean()
    assert 0.3 < plain < 0.95, "lines over the ground, not a fill"
    page._uncover()


def test_keys_zoom_move_and_choose(page: PastPage) -> None:
    view = page.view
    assert view is not None
    QTest.keyClicks(page, "++")
    length_s = view.span_s[1] - view.span_s[0]
    assert length_s == pytest.approx((view.whole_s[1] - view.whole_s[0]) / 1.5**2)
    before = view.span_s
    QTest.keyClick(page, Qt.Key.Key_Left)
    assert view.span_s[0] == pytest.approx(before[0] - 0.2 * length_s)
    QTest.keyClick(page, Qt.Key.Key_Down)
    QTest.keyClick(page, Qt.Key.Key_Down)
    assert view.chosen == 1
    moment = view.moment
    assert moment is not None
    assert view.span_s[0] < moment.from_s and moment.to_s < view.span_s[1]
    assert page.table.view is view
    QTest.keyClick(page, Qt.Key.Key_Up)
    assert view.chosen == 0
    QTest.keyClicks(page, ".")
    first_s = view.cursor_s
    QTest.keyClicks(page, ".")
    assert first_s is not None and view.cursor_s is not None and view.cursor_s > first_s
    assert f"at {view.cursor_s:.2f} s" in page.head.reading
    QTest.keyClicks(page, "0")
    assert view.span_s == view.whole_s
    QTest.keyClick(page, Qt.Key.Key_End)
    QTest.keyClicks(page, "-")
    assert view.span_s == pytest.approx(view.whole_s)


def test_the_mouse_zooms_moves_and_chooses(page: PastPage) -> None:
    view, plane = page.view, page.plane
    assert view is not None
    places = plane.places()
    middle = places.lanes[0].center()
    at_s = places.time_at(middle.x(), view.span_s)
    turn = QWheelEvent(
        middle,
        QPointF(plane.mapToGlobal(middle.toPoint())),
        QPoint(),
        QPoint(0, 360),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(plane, turn)
    assert places.time_at(middle.x(), view.span_s) == pytest.approx(at_s)
    assert view.span_s[1] - view.span_s[0] < 0.6 * (view.whole_s[1] - view.whole_s[0])
    before, place = view.span_s, middle.toPoint()
    QTest.mousePress(plane, Qt.MouseButton.LeftButton, pos=place)
    QTest.mouseMove(plane, place + QPoint(-100, 0))
    QTest.mouseRelease(plane, Qt.MouseButton.LeftButton, pos=place + QPoint(-100, 0))
    moved_s = 100 / places.plane.width() * (before[1] - before[0])
    assert view.span_s[0] == pytest.approx(before[0] + moved_s, rel=1e-3)
    third = [k for k, one in enumerate(view.table.moments) if one.kind is Kind.REPETITION][2]
    view.show_whole()
    x = round(places.x_of(view.table.moments[third].middle_s, view.span_s))
    QTest.mouseClick(plane, Qt.MouseButton.LeftButton, pos=QPoint(x, round(places.ribbon.center().y())))
    assert view.chosen == third
    QTest.mouseClick(page.table, Qt.MouseButton.LeftButton, pos=page.table.row_room(0).center().toPoint())
    assert view.chosen == 0
    view.show_whole()
    view.zoom(0.1)
    QTest.mouseClick(
        plane,
        Qt.MouseButton.LeftButton,
        pos=QPoint(round(places.whole.right()) - 3, 0) + QPoint(0, round(places.whole.center().y())),
    )
    assert view.span_s[1] == pytest.approx(view.whole_s[1])


def test_the_table_rolls_to_what_is_chosen(parent: QWidget, tmp_path: Path) -> None:
    page = page_on(parent, LIGHT)
    view = look(page, hundreds(tmp_path / "session-1"))
    view.choose(500)
    page._show()
    assert page.table.first <= 500 < page.table.first + page.table.count
    assert any(line.name == "row 500" for line in page.table.lines())
    assert len(page.pile.overlays[0].pieces) <= 20
    page._uncover()


def test_a_session_is_chosen_from_the_list_by_keys(bench: Bench, tmp_path: Path) -> None:
    save(tmp_path / "session-1", held(), HOLD, started_at="2026-11-20T09:00:00+01:00")
    save(tmp_path / "session-2", started_at="2026-11-24T09:00:00+01:00")
    (tmp_path / "session-2" / "manifest.json").unlink()
    window = bench.open()
    door(window).look_back(Wanted(tmp_path))
    page = window._annex.past
    bench.until(lambda: len(page.list.entries) == 2)
    QTest.keyClick(page, Qt.Key.Key_Return)
    assert "not finished" in page.list.said, "the first one cannot be opened, and it is said why"
    QTest.keyClick(page, Qt.Key.Key_Down)
    QTest.keyClick(page, Qt.Key.Key_Return)
    bench.until(lambda: page.view is not None)
    assert page.plane.isVisible() and not page.list.isVisible()
    QTest.keyClick(page, Qt.Key.Key_Escape)
    assert page.list.isVisible() and page.is_open
    feeds = len(bench.feeds)
    QTest.keyClick(page, Qt.Key.Key_Escape)
    assert not page.is_open
    bench.until(lambda: len(bench.feeds) > feeds)
    assert window.board.hasFocus() or window.board.focusProxy() is None


def door(window: PracticeWindow) -> Door:
    return window.door


def test_the_bar_leads_there_and_the_session_is_let_go(bench: Bench) -> None:
    window = bench.open()
    bench.until(lambda: bool(bench.feeds))
    feed = bench.feed
    QTest.keyClick(window.board, Qt.Key.Key_L, Qt.KeyboardModifier.AltModifier)
    # a key presses a button for a tenth of a second
    bench.until(lambda: window._annex.is_open)
    page = window._annex.past
    bench.until(lambda: "stop" in feed.asked)
    bench.until(lambda: not page.list.said)
    assert any(line.text == NONE for line in page.list.lines())
    QTest.keyClick(page, Qt.Key.Key_Escape)


def test_one_that_was_altered_is_told_and_the_list_is_shown(bench: Bench, tmp_path: Path) -> None:
    folder = save(tmp_path / "session-1")
    (folder / "analysis.json").write_text("{}")
    window = bench.open()
    door(window).look_back(Wanted(tmp_path, folder))
    page = window._annex.past
    bench.until(lambda: "cut short" in page.list.said and bool(page.list.entries))
    assert page.view is None
    QTest.keyClick(page, Qt.Key.Key_Escape)


def test_while_practising_nobody_is_led_away(bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    window = bench.open()
    monkeypatch.setattr(type(window.flow), "locked", property(lambda _flow: True))
    door(window).look_back(Wanted(tmp_path))
    assert not window._annex.is_open


def test_the_cautions_come_first(bench: Bench, tmp_path: Path) -> None:
    """The page lay over them: they were met when it was left, and no key closed them any more."""
    folder = save(tmp_path / "session-1")
    window = bench.open(cautions_read=False)
    door(window).look_back(Wanted(tmp_path, folder))
    assert not window._annex.is_open
    assert not window.cautions.isHidden()
    QTest.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Space)
    bench.until(lambda: window._annex.is_open and window._annex.past.view is not None)
    QTest.keyClick(window._annex.past, Qt.Key.Key_Escape)
    assert window.cautions.isHidden() and window.bar.isEnabled()


def test_the_theme_is_that_of_the_window(parent: QWidget, tmp_path: Path, theme: Theme) -> None:
    page = page_on(parent, LIGHT)
    page.open_page(Wanted(tmp_path, save(tmp_path / "session-1")), theme)
    wait(lambda: page.view is not None)
    assert {part.theme for part in page._painted()} == {theme}
    painted = picture(page.plane)
    assert is_colour(painted, theme.ink).any() and is_colour(painted, theme.path).any()
    page._uncover()
    page.leave()


def test_settings_of_the_raises_are_told(page: PastPage) -> None:
    assert page.view is not None
    assert page.view.past.settings == LOWERING
    assert page.head.title.startswith("2026-11-24 14:30")
    assert "75 \u00b1 5 %" in page.head.title
