"""All that the patient sees: what to do on top, the path, the figures beside it, and one line below."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QPushButton, QWidget

from weightshare.model import Side
from weightshare.practice.screen import Path, Screen, Summary
from weightshare.tongue import say
from weightshare.window import lettering
from weightshare.window.alarm import AlarmView
from weightshare.window.blind import BlindView
from weightshare.window.course import CourseView
from weightshare.window.figures import FiguresView
from weightshare.window.floor import FloorView
from weightshare.window.headline import BAND_PART, BELOW_PART, HeadlineView, note_is_below
from weightshare.window.heel import HeelView
from weightshare.window.lettering import Line
from weightshare.window.path import PathView
from weightshare.window.plates import PlatesView
from weightshare.window.rest import RestView
from weightshare.window.summary import SummaryView
from weightshare.window.theme import Theme
from weightshare.window.view import PaintedView

PATH_PART = 0.56
HEEL_PART = 0.052
"""The width of a heel's column, as part of the window's."""
KEY_PART, KEY_HIGH = 0.18, 0.16
"""The big key's width and height, as parts of the board's."""
FOOT_ROW_PART = 0.035
"""The height of one row below."""
FOOT_SIZE = 0.74
"""The size of its letters, as part of the row's height."""
WARNING_ROWS = 2
"""Warnings that do not fit into one row take so many, and get smaller only then."""


class FootView(PaintedView):
    """The rows below: what the keyboard offers and who stands there, then warnings."""

    warning_rows = 1
    """How many rows the warnings have."""

    def key_of(self, screen: Screen) -> Hashable:
        """Return the words."""
        return screen.warnings, screen.hint, screen.source

    def lines_of(self, screen: Screen) -> list[Line]:
        """Return source and hint in one row, then warnings."""
        row, width, theme = self.height() / (1 + self.warning_rows), float(self.width()), self.theme
        size = round(row * FOOT_SIZE)
        upper = QRectF(0, 0, width, row)
        source = lettering.lay("source", screen.source, upper, size, theme.quiet)
        lines = [source] if screen.source else []
        if screen.hint:
            left = source.end + size if screen.source else 0.0
            room = QRectF(left, 0, width - left - 4, row)
            right = Qt.AlignmentFlag.AlignRight
            lines.append(lettering.lay("hint", screen.hint, room, size, theme.ink, align=right))
        for index, said in enumerate(_break(screen.warnings, self.warning_rows, size, width)):
            room = QRectF(0, (1 + index) * row, width, row)
            name = "warnings" if index == 0 else f"warnings {index}"
            lines.append(lettering.lay(name, said, room, size, theme.outside))
        return lines

    def take_room(self, warnings: Sequence[str], row_px: int, width_px: int) -> bool:
        """Take as many rows of that size as `warnings` need; return whether that is another number than before."""
        before = self.warning_rows
        fits = lettering.width_of(_JOINT.join(warnings), round(row_px * FOOT_SIZE)) <= width_px
        self.warning_rows = 1 if fits else WARNING_ROWS
        return self.warning_rows != before


_JOINT = " \u00b7 "


def _break(warnings: Sequence[str], rows: int, size: int, width: float) -> list[str]:
    """Return `warnings` in at most so many rows, each as full as it can be; the last takes what is left."""
    lines = lettering.wrap(_JOINT.join(warnings), size, width)
    return [*lines[: rows - 1], *filter(None, (" ".join(lines[rows - 1 :]),))]


class Board(QWidget):
    """Lays out the painted views and the one big key, and hands each screen on to them."""

    def __init__(self, theme: Theme, px_per_mm: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.headline = HeadlineView(theme, self)
        self.path = PathView(theme, self)
        self.heels = {side: HeelView(theme, side, self) for side in Side}
        self.floor = FloorView(theme, self)
        self.plates = PlatesView(theme, self)
        self.summary = SummaryView(theme, self)
        self.course = CourseView(theme, self)
        self.figures = FiguresView(theme, px_per_mm, self)
        self.foot = FootView(theme, self)
        self.rest, self.blind = RestView(theme, self), BlindView(theme, self)
        self._with_heels = self._with_note = False
        self._sets: Summary | None = None
        """The summary whose table of sets has the window's width; None: holds, beside their course."""
        self.key = QPushButton("", self)
        self.key.setObjectName("key")
        self.key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.key.hide()
        self.alarm = AlarmView(theme, self)
        self.alarm.hide()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    @property
    def views(self) -> tuple[PaintedView, ...]:
        """All painted views."""
        beside = *self.heels.values(), self.figures, self.floor, self.foot
        return self.headline, self.path, self.plates, self.rest, self.blind, self.summary, *beside, self.alarm

    def show_screen(self, screen: Screen) -> None:
        """Show `screen` in all its parts."""
        path = screen.path
        steered = path is not None and not path.hidden
        self._show_heels(path)
        self._show_note(note_is_below(screen))
        if self.foot.take_room(screen.warnings, self._row_px(), self.width() - 2 * self._margin_px()):
            self._arrange()
        self.path.setVisible(steered)
        self.floor.setVisible(steered)
        self.figures.setVisible(steered)
        self.blind.setVisible(path is not None and path.hidden)
        self.headline.setVisible(path is None or not path.hidden)
        self.plates.setVisible(screen.soles is not None)
        self.rest.setVisible(screen.rest is not None)
        self.summary.setVisible(screen.summary is not None)
        self.course.setVisible(screen.summary is not None)
        self.alarm.setVisible(screen.alarm is not None)
        if screen.summary is not None:
            self.course.show_summary(screen.summary)
            self._give_room(screen.summary)
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

    def _show_heels(self, path: Path | None) -> None:
        """Heels stand at the rims of the path, each over its own sole; the path gives way where they are measured."""
        if path is not None and not path.hidden and (path.heels is not None) is not self._with_heels:
            self._with_heels = path.heels is not None
            self._arrange()
        for view in self.heels.values():
            view.setVisible(self._with_heels and path is not None and not path.hidden)

    def _show_note(self, below: bool) -> None:
        if below is not self._with_note:
            self._with_note = below
            self._arrange()

    def _give_room(self, summary: Summary) -> None:
        sets = summary if summary.heads else None
        if sets is not self._sets:
            self._sets = sets
            self._arrange()

    def _show_key(self, text: str) -> None:
        said = f"{text}\n{say('Space')}" if text else ""
        if self.key.text() != said:
            self.key.setText(said)
            self.key.setVisible(bool(text))
            self._arrange()

    def resizeEvent(self, event: object) -> None:
        """Lay everything out anew."""
        self._arrange()

    def _margin_px(self) -> int:
        return max(12, self.width() // 64)

    def _row_px(self) -> int:
        return max(18, round(self.height() * FOOT_ROW_PART))

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        margin = self._margin_px()
        band = round(height * (BAND_PART + (BELOW_PART if self._with_note else 0.0)))
        top = band + margin // 2
        key = round(width * KEY_PART) if self.key.text() else 0
        foot = self._row_px() * (1 + self.foot.warning_rows)
        self.headline.setGeometry(margin, margin // 4, width - 2 * margin - (key + margin if key else 0), band)
        self.key.setGeometry(width - margin - key, margin, key, round(height * KEY_HIGH))
        middle = height - top - foot - margin // 2
        stage = round((width - 3 * margin) * PATH_PART)
        floor = max(44, middle // 8)
        heel = round(width * HEEL_PART) if self._with_heels else 0
        self.path.setGeometry(margin + heel, top, stage - 2 * heel, middle - floor)
        self.heels[Side.LEFT].setGeometry(margin, top, heel, middle - floor)
        self.heels[Side.RIGHT].setGeometry(margin + stage - heel, top, heel, middle - floor)
        for view in (self.rest, self.blind):
            view.setGeometry(margin, top, width - 2 * margin, middle)
        self.alarm.setGeometry(self.rect())
        self.floor.setGeometry(margin, top + middle - floor, stage, floor)
        self.plates.setGeometry(margin, top, width - 2 * margin, middle)
        if self._sets is None:
            self.summary.setGeometry(margin, top, stage, middle)
            self.course.setGeometry(stage + 2 * margin, top, width - stage - 3 * margin, middle)
        else:
            self.summary.setGeometry(margin, top, width - 2 * margin, middle)
            self.course.setGeometry(self.summary.course_room(self._sets).translated(margin, top).toRect())
        self.figures.setGeometry(
            stage + 2 * margin + margin // 2, top, width - stage - 3 * margin - margin // 2, middle
        )
        self.foot.setGeometry(margin, height - foot - margin // 4, width - 2 * margin, foot)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ground between the views."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(self.theme.ground))
        painter.end()
