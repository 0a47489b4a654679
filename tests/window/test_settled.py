"""The page of settled readings: what is painted, what keys do, and how the window comes to it and leaves it."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from itertools import combinations
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from tests.unit.settling import ToldListener, book_of, clock, heard, of_kg, show
from weightshare.exercise import Ceiling, Exercise
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.settledview import LIMIT, SettledView
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.scales.air.connection import OTHER_KIND
from weightshare.scales.air.settled import Heard, SettledPhase, SettledStatus
from weightshare.scales.air.trouble import words_for
from weightshare.scales.air.weighing import MassUnit, Weighing
from weightshare.task import Settings
from weightshare.window.main import PracticeWindow
from weightshare.window.settled import SettledPage
from weightshare.window.settledpaint import SettledPaint
from weightshare.window.theme import LIGHT, Theme

if TYPE_CHECKING:
    from .conftest import Bench

LEFT, RIGHT = Side
ASKED = Settings(LEFT, target_percent=45.0, exercise=Exercise.HOLD)
NAMED = SettledStatus(SettledPhase.LISTENING, "connected", "A bathroom scale with a long name", 100)
NO_SERVICE = SettledStatus(SettledPhase.REFUSED, words_for(FileNotFoundError()))
ONE, TWO = ("ble:00:00:5E:00:53:21",), ("ble:00:00:5E:00:53:21", "ble:00:00:5E:00:53:22")


def readings(left: Heard, right: Heard) -> tuple[tuple[Side, Heard], tuple[Side, Heard]]:
    return (LEFT, left), (RIGHT, right)


VIEWS: dict[str, Callable[[], SettledView]] = {
    "nothing yet": lambda: show(book_of(sides=(LEFT,)), 1, ASKED),
    "one": lambda: show(book_of((LEFT, of_kg(131.5, 5)), sides=(LEFT,)), 9, ASKED, body_kg=170, links={LEFT: NAMED}),
    "pounds": lambda: show(
        book_of((LEFT, heard(Weighing(16940, MassUnit.LB), 5)), sides=(LEFT,)), 9, ASKED, body_kg=99
    ),
    "two": lambda: show(
        book_of(*readings(of_kg(131.5, 5), of_kg(138.5, 8))), 9, ASKED, body_kg=250, links=dict.fromkeys(Side, NAMED)
    ),
    "two old": lambda: show(
        book_of(*readings(of_kg(131.5, 5), heard(Weighing(16940, MassUnit.LB), 8))),
        120,
        ASKED,
        body_kg=150,
        links=dict.fromkeys(Side, NAMED),
    ),
    "apart": lambda: show(book_of(*readings(of_kg(31.5, 5), of_kg(38.5, 48))), 50, ASKED, body_kg=70),
    "failed": lambda: show(book_of(*readings(of_kg(31.5, 5), heard(Weighing(None), 8))), 9, ASKED),
    "refused and kept": lambda: show(
        book_of((LEFT, of_kg(30, 5, clock(-86_400)))), 9, ASKED, body_kg=70, links={LEFT: NAMED, RIGHT: NO_SERVICE}
    ),
    "over": lambda: show(
        book_of(*readings(of_kg(31.5, 5), of_kg(38.5, 8))), 9, Settings(LEFT, ceiling=Ceiling(kg=20)), body_kg=70
    ),
}


@pytest.fixture
def paint(theme: Theme) -> Iterator[SettledPaint]:
    made = SettledPaint(theme)
    yield made
    made.deleteLater()


@pytest.mark.parametrize("name", VIEWS)
@pytest.mark.parametrize("whole", [(1366, 768), (1920, 1080)], ids=lambda size: f"{size[0]}")
def test_no_line_is_cut_or_lies_over_another(paint: SettledPaint, whole: tuple[int, int], name: str) -> None:
    paint.resize(*whole)
    paint.show_view(VIEWS[name]())
    paint.grab()
    lines = [line for line in paint.lines() if line.text]
    assert any(line.text == LIMIT for line in lines)
    for line in lines:
        assert "\u2026" not in line.text, f"{line.name} is cut: {line.text}"
        assert paint.rect().toRectF().contains(line.bounds()), f"{line.name} leaves the page"
        assert line.room.adjusted(-2, -1000, 2, 1000).contains(line.bounds()), f"{line.name} is too wide"
    for one, other in combinations(lines, 2):
        assert not one.bounds().intersects(other.bounds()), f"{one.name} lies over {other.name}"


def test_words_stay_within_their_panels(paint: SettledPaint) -> None:
    paint.resize(1366, 768)
    for name, view in VIEWS.items():
        paint.show_view(view())
        panels = [*paint._side_rooms(), paint._middle_room()]
        inside = [line for line in paint.lines() if line.name.startswith(("left", "right", "share", "asked", "age"))]
        assert inside
        for line in inside:
            assert any(panel.contains(line.bounds()) for panel in panels), f"{name}: {line.name} leaves its panel"


class Scales:
    """Told scales behind a page."""

    def __init__(self) -> None:
        self.made: list[ToldListener] = []

    def listen(self, source: str, deliver: Callable[[Heard], None]) -> ToldListener:
        self.made.append(ToldListener(source, deliver))
        return self.made[-1]


def just_now(load_kg: float) -> Heard:
    return heard(Weighing(round(load_kg * 200)), time.monotonic())


def test_a_page_shows_readings_takes_body_weight_and_lets_go(bench: Bench) -> None:
    scales, window, board = Scales(), QWidget(), QWidget()
    window.resize(1366, 768)
    window.show()
    page = SettledPage(window, board, (), LIGHT, scales.listen)
    page.open_page(PractiseOptions(ASKED, sources=ONE, record=False), LIGHT, lambda: None)
    bench.until(lambda: page.runner.session is not None)
    scales.made[0].deliver(just_now(70))
    bench.until(lambda: page.paint.shown.may_take_weight)
    assert not page.whole.isHidden() and page.paint.shown.sides[0].load == "70.0 kg"
    QTest.keyClick(page, Qt.Key.Key_W)
    assert page.paint.shown.body == "body weight 70.0 kg" and page.whole.isHidden()
    scales.made[0].deliver(just_now(28))
    bench.until(lambda: page.paint.shown.share is not None)
    gone: list[bool] = []
    page.closed.connect(lambda: gone.append(True))
    QTest.keyClick(page, Qt.Key.Key_Escape)
    bench.until(lambda: bool(gone))
    assert not page.is_open and scales.made[0].asked == ["start", "stop"]
    window.close()
    window.deleteLater()
    board.deleteLater()


@pytest.fixture
def scales(monkeypatch: pytest.MonkeyPatch) -> Scales:
    """Put told scales where the window would listen by Bluetooth."""
    told = Scales()

    def build(
        window: QWidget, board: QWidget, others: tuple[QWidget, ...], theme: Theme, _listen: object
    ) -> SettledPage:
        return SettledPage(window, board, others, theme, told.listen)

    monkeypatch.setattr("weightshare.window.settled.SettledPage", build)
    return told


def is_store_bought(window: PracticeWindow, bench: Bench) -> None:
    """Have the session say that its scale is a store-bought one."""
    link = LinkView(window.flow.source, LinkState.LOST, f"{window.flow.source}: {OTHER_KIND}")
    bench.feed.shown = LiveView(links=(link,))


def test_the_window_opens_the_page_where_the_scale_is_a_store_bought_one(bench: Bench, scales: Scales) -> None:
    window = bench.open(source=ONE[0])
    is_store_bought(window, bench)
    bench.until(lambda: bool(scales.made))
    assert scales.made[0].source == ONE[0]
    bench.until(lambda: "stop" in bench.feeds[0].asked)
    QTest.keyClick(window._annex.settled, Qt.Key.Key_Escape)
    bench.until(lambda: not window._annex.is_open and len(bench.feeds) == 2)
    is_store_bought(window, bench)
    bench.until(lambda: OTHER_KIND in window.trouble.words.text())
    assert not window._annex.is_open, "whoever left the page is not led back to it"


def test_a_window_that_is_closed_lets_go_of_the_scales(bench: Bench, scales: Scales) -> None:
    window = bench.open(source=ONE[0])
    window.open_settled()
    bench.until(lambda: bool(scales.made) and "start" in scales.made[0].asked)
    window.close()
    assert scales.made[0].asked == ["start", "stop"]
