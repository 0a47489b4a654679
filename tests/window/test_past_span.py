"""Which of the things that happened are drawn, found at once, against one after the other; what is painted once."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap

from tests.unit.pasts import past_of
from weightshare.practice.past.view import PastView
from weightshare.window.app import application
from weightshare.window.lettering import metrics_of, width_of
from weightshare.window.pastplace import make_places
from weightshare.window.pastspan import spans_of
from weightshare.window.pastwhole import WholeCourse
from weightshare.window.theme import DARK, LIGHT, Theme

SPAN_S, WIDE_PX = (20.0, 60.0), 80.0


@dataclass(frozen=True)
class Lasting:
    from_s: float
    to_s: float


lasting = st.builds(lambda at, long: Lasting(at, at + long), st.floats(0.0, 90.0), st.floats(0.0, 8.0))


@given(st.lists(lasting, max_size=60), st.floats(0.0, 5.0))
def test_what_is_seen_and_told_apart_is_what_a_loop_finds(things: list[Lasting], least_s: float) -> None:
    each = sorted(things, key=lambda one: one.from_s)
    from_s, to_s = SPAN_S
    seen = [place for place, one in enumerate(each) if one.to_s >= from_s and one.from_s <= to_s]
    scale, last, apart = WIDE_PX / (to_s - from_s), -1, []
    for place in seen:
        column = int(scale * (each[place].from_s - from_s))
        if column != last or scale * (each[place].to_s - each[place].from_s) >= 1.0:
            last = column
            apart.append(place)
    spans = spans_of(each)
    assert spans.apart(SPAN_S, WIDE_PX).tolist() == apart
    assert spans.seen(SPAN_S, least_s) == [k for k in seen if each[k].to_s - each[k].from_s >= least_s]


def test_the_whole_course_is_painted_once_until_something_of_it_changes(tmp_path: Path) -> None:
    application()
    view, course, on = PastView(past_of(tmp_path / "s")), WholeCourse(), QPixmap(640, 400)

    def paint(wide: float, theme: Theme) -> QImage:
        painter = QPainter(on)
        places = make_places(QRectF(0, 0, wide, 400), 14, len(view.lanes))
        course.paint(painter, places, view.lanes[0], view.whole_s, theme)
        painter.end()
        return on.toImage().copy(places.whole.toRect())

    light = paint(600.0, LIGHT)
    before = course._painted
    assert paint(600.0, LIGHT) == light and course._painted is before
    assert paint(500.0, LIGHT).width() < light.width() and course._painted is not before
    for image, theme in ((light, LIGHT), (paint(600.0, DARK), DARK)):
        colours = {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}
        assert {QColor(theme.raised).name(), QColor(theme.quiet).name()} <= colours


def test_widths_that_are_kept_are_those_of_the_font() -> None:
    application()
    for text in ("set 3", "1234.5", ""):
        assert width_of(text, 14) == metrics_of(14).horizontalAdvance(text)
