"""The drawing beside the setting-up: the plates from above, with the feet on them, and a person at the screen."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from weightshare import tongue
from weightshare.model import Side
from weightshare.practice.startview import StartStep
from weightshare.tongue import say
from weightshare.window import lettering, mark
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

GAP = tongue.mark("30 mm or more")
ABOVE, BESIDE = tongue.mark("From above"), tongue.mark("From the side")
STOP, SENSOR = tongue.mark("toe stop"), tongue.mark("height sensor")
EYES, RAIL, CHAIR, FLOOR = (
    tongue.mark("screen at eye height"),
    tongue.mark("rail"),
    tongue.mark("chair"),
    tongue.mark("hard, level floor"),
)
PRESS = tongue.mark("press here")
LETTER_PART = 0.046
"""The size of letters, as part of the drawing's height; larger in the small drawing, which is less high."""


class Drawing:
    """One drawing in `room` (px). For the step of placement it shows all that has to stand somewhere."""

    def __init__(self, room: QRectF, theme: Theme, step: StartStep, *, pressing: bool = False) -> None:
        self.room, self.theme = room, theme
        self.whole, self.pressing = step is StartStep.PLACE, pressing
        self._px = max(12, round(room.height() * (0.034 if self.whole else LETTER_PART)))

    # -- where things are ------------------------------------------------------------------------------------------

    def _above(self) -> QRectF:
        """Return the room of the view from above, without its title."""
        high = self.room.height() * (0.52 if self.whole else 1.0)
        return QRectF(self.room.left(), self.room.top() + self._px * 1.6, self.room.width(), high - self._px * 1.6)

    def _side_view(self) -> QRectF:
        top = self.room.top() + self.room.height() * 0.55 + self._px * 1.6
        return QRectF(self.room.left(), top, self.room.width(), self.room.bottom() - top)

    def _plate(self, side: Side) -> QRectF:
        above = self._above()
        high = above.height() - self._px * (3.4 if self.whole else 3.6)
        wide = min(high * 0.62, above.width() * 0.26)
        gap = wide * 0.42
        middle = above.center().x()
        left = middle - gap / 2 - wide if side is Side.LEFT else middle + gap / 2
        return QRectF(left, above.top() + self._px * 1.4, wide, high)

    def _stop(self, side: Side) -> QRectF:
        plate = self._plate(side)
        return QRectF(plate.left(), plate.top() + plate.height() * 0.02, plate.width(), plate.height() * 0.05)

    def _sensor(self, side: Side) -> QRectF:
        plate = self._plate(side)
        wide = plate.width() * 0.34
        return QRectF(plate.center().x() - wide / 2, plate.top() + plate.height() * 0.85, wide, plate.height() * 0.07)

    # -- words -----------------------------------------------------------------------------------------------------

    def lines(self) -> list[Line]:
        """Return the words in the drawing."""
        said = [self._say("draw above", say(ABOVE), self._title(self.room.top()), bold=True)]
        for side in Side:
            plate = self._plate(side)
            room = QRectF(plate.left() - self._px * 2, plate.bottom() + self._px * 0.2, plate.width() + self._px * 4, 0)
            room.setHeight(self._px * 1.4)
            text = f"{say(side)}: {say(PRESS)}" if self.pressing and side is Side.LEFT else say(side)
            said.append(self._say(f"draw {side}", text, room, centre=True, bold=True))
        return [*said, *self._whole_lines()] if self.whole else said

    def _whole_lines(self) -> list[Line]:
        left, right, above = self._plate(Side.LEFT), self._plate(Side.RIGHT), self._above()
        row = self._px * 1.4
        wide = above.right() - right.right() - self._px
        beside = QRectF(right.right() + self._px, 0, wide, row)
        gap = QRectF(above.left(), left.top() - row, above.width(), row)
        stop = beside.translated(0, self._stop(Side.RIGHT).center().y() - row / 2)
        sensor = beside.translated(0, self._sensor(Side.RIGHT).center().y() - row / 2)
        view, floor = self._side_view(), self._floor()
        return [
            self._say("draw gap", say(GAP), gap, centre=True),
            self._say("draw stop", say(STOP), stop),
            self._say("draw sensor", say(SENSOR), sensor),
            self._say("draw beside", say(BESIDE), self._title(view.top() - self._px * 1.6), bold=True),
            self._say("draw eyes", say(EYES), self._around(0.70, self._eyes() - row * 1.25, 0.58), centre=True),
            self._say("draw rail", say(RAIL), self._around(0.57, self._y(0.50) - row, 0.14), centre=True),
            self._say("draw chair", say(CHAIR), self._around(0.16, self._y(0.42) - row, 0.2), centre=True),
            self._say(
                "draw floor", say(FLOOR), QRectF(view.left(), floor + self._px * 0.2, view.width(), row), centre=True
            ),
        ]

    def _title(self, top: float) -> QRectF:
        return QRectF(self.room.left(), top, self.room.width(), self._px * 1.4)

    def _around(self, x_part: float, top: float, wide_part: float) -> QRectF:
        view = self._side_view()
        wide = view.width() * wide_part
        return QRectF(self._x(x_part) - wide / 2, top, wide, self._px * 1.4)

    def _say(self, name: str, text: str, room: QRectF, *, centre: bool = False, bold: bool = False) -> Line:
        align = Qt.AlignmentFlag.AlignHCenter if centre else Qt.AlignmentFlag.AlignLeft
        return lettering.lay(name, text, room, self._px, self.theme.ink, bold=bold, align=align)

    # -- the view from the side ------------------------------------------------------------------------------------

    def _x(self, part: float) -> float:
        view = self._side_view()
        return view.left() + part * view.width()

    def _y(self, part: float) -> float:
        """Return the height `part` of a person's, px down the page: 0 is the floor, 1 the top of the head."""
        view = self._side_view()
        return self._floor() - part * (self._floor() - view.top() - self._px * 0.6) * 0.94

    def _floor(self) -> float:
        return self._side_view().bottom() - self._px * 1.8

    def _eyes(self) -> float:
        return self._y(0.93)

    # -- painting --------------------------------------------------------------------------------------------------

    def paint(self, painter: QPainter) -> None:
        """Paint the drawing without its words."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for side in Side:
            self._paint_plate(painter, side)
        if self.whole:
            self._paint_gap(painter)
            self._paint_floor(painter)
            self._paint_person(painter)
            self._paint_things(painter)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _ink(self, wide: float = 2.0) -> QPen:
        return QPen(QColor(self.theme.ink), wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)

    def _paint_plate(self, painter: QPainter, side: Side) -> None:
        theme, plate = self.theme, self._plate(side)
        painter.setPen(QPen(QColor(theme.edge), 2.5))
        painter.setBrush(QColor(theme.raised))
        painter.drawRoundedRect(plate, 6, 6)
        if self.whole:
            painter.fillRect(self._stop(side), QColor(theme.edge))
        pressed = self.pressing and side is Side.LEFT
        foot = mark.sole(side).map_to(plate.center(), plate.height() * 0.84)
        style = Qt.PenStyle.SolidLine if pressed or self.whole else Qt.PenStyle.DashLine
        painter.setPen(QPen(QColor(theme.ink), 3 if pressed else 1.5, style))
        painter.setBrush(QColor(theme.laid) if pressed else Qt.BrushStyle.NoBrush)
        painter.drawPath(foot)
        if self.whole:
            painter.setPen(QPen(QColor(theme.outside), 2.5))
            painter.setBrush(QColor(theme.ground))
            painter.drawRect(self._sensor(side))
            self._paint_leads(painter, side)

    def _paint_leads(self, painter: QPainter, side: Side) -> None:
        """Lead from the words to what they name, on the right plate."""
        if side is Side.LEFT:
            return
        painter.setPen(self._ink(1.0))
        for thing in (self._stop(side), self._sensor(side)):
            painter.drawLine(
                QLineF(
                    thing.right(), thing.center().y(), self._plate(side).right() + self._px * 0.8, thing.center().y()
                )
            )

    def _paint_gap(self, painter: QPainter) -> None:
        """Paint the measure of the gap between the plates: two ends, and a line with heads between them."""
        left, right = self._plate(Side.LEFT).right(), self._plate(Side.RIGHT).left()
        y = self._plate(Side.LEFT).top() + self._px * 0.4
        head = min(self._px * 0.4, (right - left) * 0.2)
        painter.setPen(QPen(QColor(self.theme.outside), 2.0))
        painter.drawLine(QLineF(left, y, right, y))
        for x, way in ((left, 1), (right, -1)):
            painter.drawLine(QLineF(x, y, x + way * head, y - head * 0.7))
            painter.drawLine(QLineF(x, y, x + way * head, y + head * 0.7))

    def _paint_floor(self, painter: QPainter) -> None:
        view, floor = self._side_view(), self._floor()
        painter.setPen(self._ink(3.0))
        painter.drawLine(QLineF(view.left(), floor, view.right(), floor))
        plate = QRectF(self._x(0.33), self._y(0.035), self._x(0.50) - self._x(0.33), floor - self._y(0.035))
        painter.setPen(QPen(QColor(self.theme.edge), 2.0))
        painter.setBrush(QColor(self.theme.raised))
        painter.drawRect(plate)

    def _paint_person(self, painter: QPainter) -> None:
        """Paint somebody who stands on the plates and looks ahead, to the right."""
        x, head = self._x(0.40), (self._y(0.0) - self._y(1.0)) * 0.062
        painter.setPen(self._ink(2.5))
        painter.setBrush(QColor(self.theme.raised))
        painter.drawEllipse(QPointF(x, self._y(0.93)), head, head * 1.1)
        hip, shoulder = QPointF(x, self._y(0.52)), QPointF(x, self._y(0.80))
        painter.drawLine(QLineF(QPointF(x, self._y(0.93) + head * 1.1), hip))
        painter.drawLine(QLineF(hip, QPointF(x, self._y(0.055))))
        painter.drawLine(QLineF(x, self._y(0.055), self._x(0.46), self._y(0.055)))
        painter.drawLine(QLineF(shoulder, QPointF(self._x(0.54), self._y(0.50))))
        painter.setPen(QPen(QColor(self.theme.edge), 1.5, Qt.PenStyle.DashLine))
        painter.drawLine(QLineF(x + head, self._eyes(), self._x(0.90), self._eyes()))

    def _paint_things(self, painter: QPainter) -> None:
        """Paint the rail before the person, the chair behind, and the screen."""
        painter.setPen(self._ink(3.0))
        painter.drawLine(QLineF(self._x(0.54), self._y(0.50), self._x(0.60), self._y(0.50)))
        painter.drawLine(QLineF(self._x(0.57), self._y(0.50), self._x(0.57), self._floor()))
        seat, back = self._y(0.26), self._x(0.08)
        painter.drawLine(QLineF(back, self._y(0.42), back, self._floor()))
        painter.drawLine(QLineF(back, seat, self._x(0.24), seat))
        painter.drawLine(QLineF(self._x(0.24), seat, self._x(0.24), self._floor()))
        high = self._y(0.0) - self._y(0.17)
        screen = QRectF(self._x(0.90), self._eyes() - high / 2, self._x(0.93) - self._x(0.90), high)
        painter.setBrush(QColor(self.theme.laid))
        painter.setPen(self._ink(2.0))
        painter.drawRect(screen)
        painter.drawLine(QLineF(screen.center().x(), screen.bottom(), screen.center().x(), self._floor()))
