"""A picture of a report on the screen: in the colours of the window, also when they change while it is shown."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from tests.window.conftest import settle
from tests.window.picture import is_colour, pixels
from weightshare.report.chart import Panel, Series, draw_panels
from weightshare.report.drawing import Mark
from weightshare.window.app import application
from weightshare.window.patientdraw import DrawingView
from weightshare.window.style import style_sheet
from weightshare.window.theme import DARK, LIGHT


def test_the_picture_takes_on_the_theme_that_is_chosen_while_it_is_shown() -> None:
    app = application()
    window = QWidget()
    view = DrawingView(LIGHT)
    view.setParent(window)
    series = Series("a day", Mark.SQUARE, ((1.0, 2.0), (2.0, 3.0)))
    view.show_drawing(draw_panels([Panel("p", "x", "y", (series,), (0.0, 3.0), (0.0, 4.0))], "t"), LIGHT)
    window.resize(600, 400)
    view.resize(600, 400)
    window.show()
    for theme, other in ((DARK, LIGHT), (LIGHT, DARK), (DARK, LIGHT)):
        window.setStyleSheet(style_sheet(theme, 14))
        settle(app)
        painted = pixels(view)
        assert is_colour(painted, theme.ground).mean() > 0.5 and is_colour(painted, theme.edge).any()
        assert not is_colour(painted, other.ground).any()
    window.close()
    window.deleteLater()
    settle(app)
