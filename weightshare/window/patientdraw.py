"""A picture of a report on the screen: the same lines and words, in the colours of the window's theme."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from weightshare.report.drawing import BLUE, HAIRLINE, INK, PAPER, QUIET, RED, SHADE, Drawing, Path, Words
from weightshare.window import lettering
from weightshare.window.theme import THEMES, Theme

LARGEST = 2.6
"""A picture is made at most so many times as large as it is on paper: beyond that its letters shout."""


def colours_of(theme: Theme) -> dict[str, str]:
    """Return the window's colour for each of a report's."""
    pairs = (INK, theme.ink), (QUIET, theme.quiet), (HAIRLINE, theme.hairline), (SHADE, theme.path), (BLUE, theme.edge)
    return dict((*pairs, (RED, theme.outside), (PAPER, theme.ground)))


class DrawingView(QWidget):
    """Paints one Drawing, as large as there is room; its words stand in for it where nobody sees it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.shown: Drawing | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_drawing(self, drawing: Drawing | None, theme: Theme) -> None:
        """Show `drawing`; None: nothing."""
        self.shown, self.theme = drawing, theme
        self.setAccessibleName("" if drawing is None else drawing.title)
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        """Take on the window's colours when they are changed: those of the theme that the letters here now have."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.StyleChange:
            ink = self.palette().windowText().color()
            self.theme = next((theme for theme in THEMES.values() if QColor(theme.ink) == ink), self.theme)
            self.update()

    @property
    def scale(self) -> float:
        """How many pixels one of its points takes."""
        if self.shown is None:
            return 1.0
        return max(0.1, min(self.width() / self.shown.width, self.height() / self.shown.height, LARGEST))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ground, then part after part."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(self.theme.ground))
        if self.shown is not None:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            scale, colours = self.scale, colours_of(self.theme)
            painter.translate((self.width() - scale * self.shown.width) / 2.0, 0.0)
            for part in self.shown.parts:
                if isinstance(part, Path):
                    _paint_path(painter, part, scale, colours)
                else:
                    _paint_words(painter, part, scale, colours)
        painter.end()


def _paint_path(painter: QPainter, part: Path, scale: float, colours: dict[str, str]) -> None:
    points = QPolygonF([QPointF(x * scale, y * scale) for x, y in part.points])
    style = Qt.PenStyle.DashLine if part.dashed else Qt.PenStyle.SolidLine
    painter.setPen(Qt.PenStyle.NoPen)
    if part.stroke is not None:
        painter.setPen(QPen(QColor(colours.get(part.stroke, part.stroke)), max(1.0, part.width * scale), style))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if part.fill is not None:
        painter.setBrush(QColor(colours.get(part.fill, part.fill)))
    if part.closed:
        painter.drawPolygon(points)
    else:
        painter.drawPolyline(points)


def _paint_words(painter: QPainter, part: Words, scale: float, colours: dict[str, str]) -> None:
    font = QFont(lettering.font(1, part.bold))
    font.setPixelSize(max(1, round(part.size * scale)))
    painter.setFont(font)
    painter.setPen(QColor(colours.get(part.colour, part.colour)))
    wide = QFontMetricsF(font).horizontalAdvance(part.text)
    back = {"middle": wide / 2.0, "end": wide}.get(part.anchor, 0.0)
    painter.save()
    painter.translate(part.x * scale, part.y * scale)
    if part.turned:
        painter.rotate(-90.0)
    painter.drawText(QPointF(-back, 0.0), part.text)
    painter.restore()
