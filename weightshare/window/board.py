"""All that the patient sees: what to do on top, the path, the figures beside it, and one line below."""

from __future__ import annotations

from collections.abc import Hashable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QPushButton, QWidget

from weightshare.practice.screen import Screen
from weightshare.window import lettering
from weightshare.window.course import CourseView
from weightshare.window.figures import FiguresView
from weightshare.window.floor import FloorView
from weightshare.window.headline import HeadlineView
from weightshare.window.lettering import Line
from weightshare.window.path import PathView
from weightshare.window.plates import PlatesView
from weightshare.window.summary import SummaryView
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

PATH_PART = 0.575


class FootView(PaintedView):
    """The line below: warnings on the left, what the keyboard offers and who stands there on the right."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the words."""
        return screen.warnings, screen.hint, screen.source

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return two rows: source and hint, then warnings."""
        row, width, theme = self.height() / 2, float(self.width()), self.theme
        size = round(row * 0.64)
        upper, lower = QRectF(0, 0, width, row), QRectF(0, row, width, row)
        source = lettering.lay("source", screen.source, upper, size, theme.quiet)
        lines = [source] if screen.source else []
        if screen.hint:
            left = source.end + size if screen.source else 0.0
            room = QRectF(left, 0, width - left - 4, row)
            right = Qt.AlignmentFlag.AlignRight
            lines.append(lettering.lay("hint", screen.hint, room, size, theme.ink, align=right))
        if screen.warnings:
            said = "  \u00b7  ".join(screen.warnings)
            lines.append(lettering.lay("warnings", said, lower, size, theme.outside))
        return lines


class Board(QWidget):
    """Lays out the painted views and the one big key, and hands each screen on to them."""

    def __init__(self, theme: Theme, px_per_mm: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.headline = HeadlineView(theme, self)
        self.path = PathView(theme, self)
        self.floor = FloorView(theme, self)
        self.plates = PlatesView(theme, self)
        self.summary = SummaryView(theme, self)
        self.course = CourseView(theme, self)
        self.figures = FiguresView(theme, px_per_mm, self)
        self.foot = FootView(theme, self)
        self.key = QPushButton("", self)
        self.key.setObjectName("key")
        self.key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.key.hide()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    @property
    def views(self) -> tuple[PaintedView, ...]:
        """All painted views."""
        return self.headline, self.path, self.floor, self.plates, self.summary, self.figures, self.foot

    def show_screen(self, screen: Screen) -> None:
        """Show `screen` in all its parts."""
        self.path.setVisible(screen.path is not None)
        self.floor.setVisible(screen.path is not None)
        self.plates.setVisible(screen.soles is not None)
        self.summary.setVisible(screen.summary is not None)
        self.figures.setVisible(screen.path is not None)
        self.course.setVisible(screen.summary is not None)
        if screen.summary is not None:
            self.course.show_summary(screen.summary)
        self._show_key(screen.key)
        for view in self.views:
            if not view.isHidden():
                view.show_screen(screen)

    def set_theme(self, theme: Theme) -> None:
        """Change the colours."""
        self.theme = theme
        for view in self.views:
            view.set_theme(theme)
        self.course.set_theme(theme)
        self.update()

    def set_density(self, px_per_mm: float) -> None:
        """Take the screen's measured density (px/mm), which sets how high the figures may be."""
        self.figures.px_per_mm = px_per_mm
        self.figures.refresh()

    def lines(self) -> list[tuple[PaintedView, Line]]:
        """Return every line of text that is painted now, with the view that paints it."""
        return [(view, line) for view in self.views if not view.isHidden() for line in view.lines()]

    def _show_key(self, text: str) -> None:
        said = f"{text}\nSpace" if text else ""
        if self.key.text() != said:
            self.key.setText(said)
            self.key.setVisible(bool(text))
            self._arrange()

    def resizeEvent(self, event: object) -> None:
        """Lay everything out anew."""
        self._arrange()

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        margin = max(12, width // 64)
        top = round(height * 0.175)
        key = round(top * 1.75) if self.key.text() else 0
        foot = max(40, height // 13)
        self.headline.setGeometry(margin, margin // 2, width - 2 * margin - (key + margin if key else 0), top - margin)
        self.key.setGeometry(width - margin - key, margin, key, top - margin - margin // 2)
        middle = height - top - foot - margin // 2
        stage = round((width - 3 * margin) * PATH_PART)
        floor = max(44, middle // 9)
        self.path.setGeometry(margin, top, stage, middle - floor)
        self.floor.setGeometry(margin, top + middle - floor, stage, floor)
        self.plates.setGeometry(margin, top, width - 2 * margin, middle)
        self.summary.setGeometry(margin, top, stage, middle)
        self.course.setGeometry(stage + 2 * margin, top, width - stage - 3 * margin, middle)
        self.figures.setGeometry(
            stage + 2 * margin + margin // 2, top, width - stage - 3 * margin - margin // 2, middle
        )
        self.foot.setGeometry(margin, height - foot - margin // 4, width - 2 * margin, foot)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ground between the views."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(self.theme.ground))
        painter.end()
