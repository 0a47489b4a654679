"""What the painted parts of the window have in common: a theme, lines of text, no flicker; the newest screen."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from weightshare.practice.screen import Screen
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme


class Painted(QWidget):
    """Paints over the theme's ground. Its text is laid out once, until `refresh` or another size asks for more."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._lines: list[Line] | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def set_theme(self, theme: Theme) -> None:
        """Change the colours."""
        self.theme = theme
        self.refresh()

    def refresh(self) -> None:
        """Lay out and paint anew at the next turn."""
        self._lines = None
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew for another size."""
        self._lines = None

    def lay_out(self) -> list[Line]:
        """Return the lines of text for what is shown now, each within its room."""
        raise NotImplementedError

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint what is no text."""

    def lines(self) -> list[Line]:
        """Return the lines of text that are painted now."""
        if self._lines is None:
            self._lines = self.lay_out()
        return self._lines

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, shapes, text."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(self.theme.ground))
        self.paint_shapes(painter)
        lettering.paint(painter, self.lines())
        painter.end()


class PaintedView(Painted):
    """Paints the newest screen, and only when something that it shows has changed."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.screen_shown: Screen | None = None
        self._key: Hashable = None

    def show_screen(self, screen: Screen) -> None:
        """Show `screen`; repaint where it differs in what is painted here."""
        self.screen_shown = screen
        key = self.key_of(screen)
        if key != self._key:
            self._key = key
            self.refresh()

    def key_of(self, screen: Screen) -> Hashable:
        """Return what of `screen` is painted here, to be compared."""
        raise NotImplementedError

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return the lines of text for `screen`, each within its room."""
        raise NotImplementedError

    def paint_marks(self, painter: QPainter, screen: Screen) -> None:
        """Paint what is no text of `screen`."""

    def lay_out(self) -> list[Line]:
        """Return the lines of text for the newest screen; none before there is one."""
        return [] if self.screen_shown is None else self.lines_of(self.screen_shown)

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint what is no text of the newest screen."""
        if self.screen_shown is not None:
            self.paint_marks(painter, self.screen_shown)
