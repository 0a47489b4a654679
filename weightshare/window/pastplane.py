"""The picture of a saved session: what happened, share against the band, forces, heels; the whole of it below."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from weightshare.practice.past.lane import Curve, Ink, Lane, round_step
from weightshare.practice.past.moment import Kind, Moment, Table
from weightshare.practice.past.view import PastView
from weightshare.tongue import number, say
from weightshare.window import lettering
from weightshare.window.lettering import Line
from weightshare.window.pastdraw import Sketch, draw_curve
from weightshare.window.pastplace import Places, make_places, y_of, ys_of
from weightshare.window.pastspan import Spans, spans_of
from weightshare.window.pastwhole import WholeCourse
from weightshare.window.theme import Theme
from weightshare.window.view import Painted

RIGHT, CENTRE = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignHCenter
WHEEL_ZOOM = 1.2
"""How much longer a stretch is shown for one notch of the wheel."""
NOTCH = 120
CLICK_PX = 4
"""Who moved less between press and release meant to click."""
MOST_TIMES = 8
BLOCKS_PER_PX = 0.6
"""So many blocks of a curve, hardly more than twice as many, are drawn on a pixel: more cannot be seen."""


class PastPlane(Painted):
    """Paints the stretch that `view` shows. Wheel: zoom; drag: move; click: choose what is there."""

    changed = Signal()
    """Another stretch is shown, another moment chosen, or the cursor is elsewhere."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.view: PastView | None = None
        self.text_px = 14
        self.setMouseTracking(True)
        self._sorted: tuple[Table, dict[Kind, tuple[list[Moment], Spans]]] | None = None
        """What happened, kind by kind, of the table beside it."""
        self._whole = WholeCourse()
        self._pressed: tuple[float, float] | None = None
        """Where the button went down (px), and where the stretch began then (s)."""

    def show_view(self, view: PastView) -> None:
        """Show another session, or the same one anew."""
        self.view = view
        self.refresh()

    def places(self) -> Places:
        """Return where everything lies at this size."""
        lanes = 3 if self.view is None else len(self.view.lanes)
        return make_places(self.rect().toRectF().adjusted(0, 0, -1, -1), self.text_px, lanes)

    def lay_out(self) -> list[Line]:
        """Return titles, numbers of the axes, names of curves, numbers of what happened."""
        view = self.view
        if view is None:
            return []
        places = self.places()
        lines = [line for room, lane in zip(places.lanes, view.lanes, strict=True) for line in self._axis(room, lane)]
        return [*lines, *self._times(places, view), *self._numbers(places, view), *self._sets(places, view)]

    def _axis(self, room: QRectF, lane: Lane) -> list[Line]:
        """Return the lane's title over it, its numbers left and the names of its curves above right."""
        size, theme = self.text_px, self.theme
        above = QRectF(room.left(), room.top() - size * 1.45, room.width(), size * 1.3)
        lines = [lettering.lay(f"title {lane.short}", lane.title, above, size, theme.ink, bold=True)]
        for value in lane.ticks():
            y = y_of(room, lane, value)
            left = QRectF(0, y - size * 0.6, room.left() - size * 0.4, size * 1.2)
            lines.append(
                lettering.lay(f"{lane.short} {value:g}", number(value, "g"), left, size, theme.quiet, align=RIGHT)
            )
        if lane.rule is not None:
            beside = QRectF(room.right() + 3, y_of(room, lane, lane.rule) - size * 0.6, size * 3, size * 1.2)
            lines.append(lettering.lay(f"limit {lane.short}", say("limit"), beside, size, theme.outside))
        if len(lane.curves) > 1:
            lines += self._legend(above, lane)
        return lines

    def _legend(self, above: QRectF, lane: Lane) -> list[Line]:
        """Return each side's name, from the right; its stroke is painted before it."""
        lines, right = [], above.right()
        for curve in lane.curves:
            wide = lettering.width_of(curve.name, self.text_px) + 2
            place = QRectF(right - wide, above.top(), wide, above.height())
            lines.append(lettering.lay(f"{lane.short} {curve.name}", curve.name, place, self.text_px, self.theme.ink))
            right -= wide + self.text_px * 3
        return lines

    def _times(self, places: Places, view: PastView) -> list[Line]:
        (from_s, to_s), size = view.span_s, self.text_px
        step = round_step(to_s - from_s, MOST_TIMES)
        lines = [lettering.lay("s", "s", QRectF(0, places.axis.top(), size, size * 1.5), size, self.theme.quiet)]
        for index in range(-int(-from_s // step), int(to_s // step) + 1):
            x = places.x_of(index * step, view.span_s)
            room = QRectF(x - size * 4, places.axis.top(), size * 8, places.axis.height())
            if room.center().x() > places.plane.left() + size:
                text = f"{index * step:.10g}"
                lines.append(lettering.lay(f"time {text}", text, room, size, self.theme.quiet, align=CENTRE))
        return lines

    def _numbers(self, places: Places, view: PastView) -> list[Line]:
        """Return the number of each repetition and the seconds of each hold, where they have room."""
        size, lines = round(self.text_px * 0.9), []
        sketch = Sketch(QPainter(), places, view.span_s, self.theme)
        # a figure takes about half of its size; for two of them there is no need to measure
        least_s = size * (view.span_s[1] - view.span_s[0]) / places.plane.width()
        alike = self._alike(view)
        told = [alike[kind] for kind in (Kind.REPETITION, Kind.HOLD) if kind in alike]
        for one in (moments[place] for moments, spans in told for place in spans.seen(view.span_s, least_s)):
            room = sketch.room_of(places.ribbon, one.from_s, one.to_s)
            text = str(one.number) if one.kind is Kind.REPETITION else f"{one.cells[-1]} s"
            if room.width() > lettering.width_of(text, size) + size * 0.6:
                upper = QRectF(room.left(), room.top(), room.width(), size * (1.15 if one.parts else 2.0))
                colour = self.theme.ground if one.kind is Kind.HOLD else self.theme.ink
                name = f"{one.kind} {one.number}"
                lines.append(lettering.lay(name, text, upper, size, colour, align=CENTRE))
        return lines

    def _alike(self, view: PastView) -> dict[Kind, tuple[list[Moment], Spans]]:
        """Return what happened, kind by kind, with the times of each; found once for a table."""
        if self._sorted is None or self._sorted[0] is not view.table:
            kinds = {kind: [one for one in view.table.moments if one.kind is kind] for kind in Kind}
            self._sorted = view.table, {kind: (ones, spans_of(ones)) for kind, ones in kinds.items() if ones}
        return self._sorted[1]

    def _sets(self, places: Places, view: PastView) -> list[Line]:
        """Return the number of each set at its beginning, one after the other where they would lie over each other."""
        lines: list[Line] = []
        for span in view.past.head.sets:
            x = places.x_of(span.from_s, view.span_s)
            wide = lettering.width_of(say("set {number}", number=span.number), self.text_px) + 4
            free = not lines or x > lines[-1].end + self.text_px
            if free and places.plane.left() <= x <= places.plane.right() - wide:
                room = QRectF(x + 3, places.sets.top(), wide, places.sets.height())
                name = say("set {number}", number=span.number)
                lines.append(lettering.lay(name, name, room, self.text_px, self.theme.quiet))
        return lines

    def paint_shapes(self, painter: QPainter) -> None:
        """Paint lanes, bands, curves, marks, and the whole session below."""
        view = self.view
        if view is None:
            return
        places = self.places()
        sketch = Sketch(painter, places, view.span_s, self.theme)
        for room, lane in zip(places.lanes, view.lanes, strict=True):
            self._paint_lane(sketch, room, lane)
        self._paint_marks(sketch, view)
        self._paint_whole(painter, places, view)

    def _paint_lane(self, sketch: Sketch, room: QRectF, lane: Lane) -> None:
        painter, theme = sketch.painter, self.theme
        painter.setPen(QPen(QColor(theme.hairline), 1))
        for value in lane.ticks():
            at = round(y_of(room, lane, value))
            painter.drawLine(QLineF(room.left(), at, room.right(), at))
        painter.setClipRect(room.adjusted(0, -2, 1, 2))
        sketch.bands(room, lane)
        for curve in lane.curves:
            self._paint_curve(sketch, room, lane, curve)
        if lane.rule is not None:
            painter.setPen(QPen(QColor(theme.outside), 1, Qt.PenStyle.DashLine))
            y = y_of(room, lane, lane.rule)
            painter.drawLine(QLineF(room.left(), y, room.right(), y))
        painter.setClipping(False)
        if len(lane.curves) > 1:
            self._paint_strokes(painter, lane)

    def _paint_curve(self, sketch: Sketch, room: QRectF, lane: Lane, curve: Curve) -> None:
        found = curve.pyramid.envelope(*sketch.span_s, round(BLOCKS_PER_PX * room.width()))
        to_x = partial(sketch.places.xs_of, span_s=sketch.span_s)
        draw_curve(sketch.painter, found, self._colour(curve), to_x, partial(ys_of, room, lane))

    def _colour(self, curve: Curve) -> str:
        return self.theme.ink if curve.ink is Ink.INJURED else self.theme.edge

    def _paint_strokes(self, painter: QPainter, lane: Lane) -> None:
        """Paint before each side's name what its curve looks like."""
        named = {line.name: line for line in self.lines()}
        for curve in lane.curves:
            line = named[f"{lane.short} {curve.name}"]
            painter.setPen(QPen(QColor(self._colour(curve)), 3 if curve.ink is Ink.INJURED else 1))
            y = line.room.center().y()
            painter.drawLine(QLineF(line.x - self.text_px * 1.7, y, line.x - self.text_px * 0.4, y))

    def _paint_marks(self, sketch: Sketch, view: PastView) -> None:
        painter, places = sketch.painter, sketch.places
        for gap in view.past.digest.gaps:
            if _is_seen(gap.start_s, gap.end_s, view.span_s):
                sketch.gap(gap.start_s, gap.end_s)
        for kind, (moments, spans) in self._alike(view).items():
            sketch.moments(kind, moments, spans)
        if view.moment is not None:
            sketch.frame(view.moment)
        if view.edit is not None:
            sketch.edge(view.edit.time_s)
        if view.cursor_s is not None and view.span_s[0] <= view.cursor_s <= view.span_s[1]:
            painter.setPen(QPen(QColor(self.theme.outside), 1))
            x = places.x_of(view.cursor_s, view.span_s)
            painter.drawLine(QLineF(x, places.lanes[0].top(), x, places.lanes[-1].bottom()))

    def _paint_whole(self, painter: QPainter, places: Places, view: PastView) -> None:
        """Paint the course of the whole session, and a frame about what is shown of it."""
        room = places.whole
        self._whole.paint(painter, places, view.lanes[0], view.whole_s, self.theme)
        left, right = (places.x_of(time_s, view.whole_s) for time_s in view.span_s)
        painter.setPen(QPen(QColor(self.theme.outside), 2))
        painter.setBrush(QBrush())
        painter.drawRect(QRectF(left, room.top() + 1, max(3.0, right - left), room.height() - 2))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer; a wheel that goes sideways moves."""
        if self.view is None:
            return
        turn = event.angleDelta()
        if abs(turn.x()) > abs(turn.y()):
            self.view.move(-0.1 * turn.x() / NOTCH)
        else:
            about_s = self.places().time_at(event.position().x(), self.view.span_s)
            self.view.zoom(WHEEL_ZOOM ** (-turn.y() / NOTCH), about_s)
        event.accept()
        self.changed.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the stretch; below, go to what is pointed at in the whole."""
        if self.view is None or event.button() is not Qt.MouseButton.LeftButton:
            return
        if self.places().whole.contains(event.position()):
            self._go_to(event.position())
        else:
            self._pressed = event.position().x(), self.view.span_s[0]

    def _go_to(self, place: QPointF) -> None:
        assert self.view is not None
        about_s, (from_s, to_s) = self.places().time_at(place.x(), self.view.whole_s), self.view.span_s
        self.view.show(about_s - 0.5 * (to_s - from_s), about_s + 0.5 * (to_s - from_s))
        self.changed.emit()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the stretch while it is held; else the cursor follows the pointer."""
        view, places = self.view, self.places()
        if view is None:
            return
        held = bool(event.buttons() & Qt.MouseButton.LeftButton)
        if held and self._pressed is None and places.whole.contains(event.position()):
            self._go_to(event.position())
        elif held and self._pressed is not None:
            length_s = view.span_s[1] - view.span_s[0]
            from_s = self._pressed[1] - (event.position().x() - self._pressed[0]) / places.plane.width() * length_s
            view.show(from_s, from_s + length_s)
            self.changed.emit()
        elif not held and places.plane.contains(event.position()):
            view.cursor_s = places.time_at(event.position().x(), view.span_s)
            self.changed.emit()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go; where nothing was moved, choose what happened there."""
        pressed, self._pressed = self._pressed, None
        if self.view is None or pressed is None or abs(event.position().x() - pressed[0]) > CLICK_PX:
            return
        place = self.view.table.at(self.places().time_at(event.position().x(), self.view.span_s))
        if place is not None and self.view.edit is None:
            self.view.choose(place)
            self.changed.emit()


def _is_seen(from_s: float, to_s: float, span_s: tuple[float, float]) -> bool:
    return to_s >= span_s[0] and from_s <= span_s[1]
