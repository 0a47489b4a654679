"""How a saved session's curves, bands and marks are drawn. Lines are a pixel wide: wider ones cost far more."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygonF

from weightshare.exercise import Phase
from weightshare.model import Floats
from weightshare.practice.past.lane import Lane
from weightshare.practice.past.moment import Kind, Moment
from weightshare.practice.past.pyramid import Envelope
from weightshare.window.mark import polygon
from weightshare.window.pastplace import Places, y_of
from weightshare.window.pastspan import Spans, band_spans
from weightshare.window.theme import Theme

LEAST_PX = 2.0
"""No mark is narrower."""
PHASE_PX = 30.0
"""A repetition that is narrower shows no phases."""
LINES_FROM_PX = 90.0
"""One that is so wide has lines down through the lanes."""
BAND_PX = 3.0
"""A stretch of the band that is narrower is not drawn: its edges would be all that is seen of it."""
SIGN_PART = 0.55
"""How large the sign of a phase is, as part of the letters' size."""
SIGNS = {
    Phase.RISE: ((-0.5, 0.4), (0.5, 0.4), (0.0, -0.45)),
    Phase.TOP: ((-0.5, -0.12), (0.5, -0.12), (0.5, 0.12), (-0.5, 0.12)),
    Phase.LOWERING: ((-0.5, -0.4), (0.5, -0.4), (0.0, 0.45)),
}
"""A phase's sign, of size 1 about the origin: up, level, down."""


def draw_curve(
    painter: QPainter,
    found: Envelope,
    colour: str,
    to_x: Callable[[Floats], Floats],
    to_y: Callable[[Floats], Floats],
) -> None:
    """Draw an envelope as a line that breaks where readings are missing: from least to greatest, block by block."""
    painter.setPen(QPen(QColor(colour), 1))
    x, y = to_x(found.time_s), to_y(found.low)
    if found.rows > 1:
        x, y = np.repeat(x, 2), np.stack((y, to_y(found.high)), axis=1).ravel()
    known = np.isfinite(y)
    if known.size > 1 and known.all():
        painter.drawPolyline(polygon(x, y))
        return
    edges = np.flatnonzero(np.diff(known, prepend=False, append=False))
    for begin, end in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        if end - begin == 1:
            painter.drawPoint(QPointF(float(x[begin]), float(y[begin])))
        else:
            painter.drawPolyline(polygon(x[begin:end], y[begin:end]))


@dataclass(frozen=True, slots=True)
class Sketch:
    """Draws what lies at times, while `span_s` is shown."""

    painter: QPainter
    places: Places
    span_s: tuple[float, float]
    theme: Theme

    def room_of(self, row: QRectF, from_s: float, to_s: float) -> QRectF:
        """Return where in `row` a stretch lies, cut at the plane's edges; empty where it is not seen."""
        plane = self.places.plane
        left, right = (self.places.x_of(time_s, self.span_s) for time_s in (from_s, to_s))
        if right < plane.left() or left > plane.right():
            return QRectF()
        left = max(left, plane.left())
        return QRectF(left, row.top(), min(max(right, left + LEAST_PX), plane.right()) - left, row.height())

    def bands(self, room: QRectF, lane: Lane) -> None:
        """Draw the lane's band, as far as it is seen and has room: filled, with its edges over all of it."""
        least_s = BAND_PX * (self.span_s[1] - self.span_s[0]) / self.places.plane.width()
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(QColor(self.theme.path))
        edges = [
            edge for place in band_spans(lane).seen(self.span_s, least_s) for edge in self._fill(room, lane, place)
        ]
        self.painter.setPen(QPen(QColor(self.theme.edge), 1))
        self.painter.drawLines(edges)

    def _fill(self, room: QRectF, lane: Lane, place: int) -> Iterator[QLineF]:
        """Fill one stretch of the band, and yield its edges."""
        band = lane.bands[place]
        left, right = (self.places.x_of(time_s, self.span_s) for time_s in (band.from_s, band.to_s))
        lows, highs = ([y_of(room, lane, value) for value in ends] for ends in (band.low, band.high))
        corners = (left, highs[0]), (right, highs[1]), (right, lows[1]), (left, lows[0])
        self.painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
        yield from (QLineF(left, ends[0], right, ends[1]) for ends in (lows, highs))

    def moments(self, kind: Kind, moments: Sequence[Moment], spans: Spans) -> None:
        """Draw what happened, all of one kind: a repetition with the signs of its phases, a hold, what did not count, a
        passed limit. `spans` are theirs."""
        theme, plane = self.theme, self.places.plane
        row = self.places.limits if kind is Kind.CEILING else self.places.ribbon
        found = spans.apart(self.span_s, plane.width())
        left = np.maximum(self.places.xs_of(spans.from_s[found], self.span_s), plane.left())
        right = np.maximum(self.places.xs_of(spans.to_s[found], self.span_s), left + LEAST_PX)
        wide = np.minimum(right, plane.right()) - left
        fills = {Kind.CEILING: theme.over, Kind.HOLD: theme.laid, Kind.REPETITION: theme.raised}
        counts_not = kind in (Kind.REJECTED, Kind.STRUCK)
        stroke = Qt.PenStyle.DashLine if counts_not else Qt.PenStyle.SolidLine
        self.painter.setPen(QPen(QColor(theme.outside if counts_not else theme.edge), 1, stroke))
        self.painter.setBrush(QColor(fills[kind]) if kind in fills else QBrush())
        top, high = row.top(), row.height() - 1.0
        sides = zip(left.tolist(), wide.tolist(), strict=True)
        self.painter.drawRects([QRectF(x, top, width - 1.0, high) for x, width in sides if width > 0.0])
        for place in found[wide >= PHASE_PX].tolist():
            self._phases(moments[place])
        for place in found[wide >= LINES_FROM_PX].tolist():
            self.phase_lines(moments[place])

    def _box(self, one: Moment) -> QRectF:
        row = self.places.limits if one.kind is Kind.CEILING else self.places.ribbon
        return self.room_of(row, one.from_s, one.to_s)

    def frame(self, one: Moment) -> None:
        """Frame the moment that is chosen."""
        room = self._box(one)
        if not room.isEmpty():
            self.painter.setPen(QPen(QColor(self.theme.outside), 3))
            self.painter.setBrush(QBrush())
            self.painter.drawRect(room.adjusted(1, 1, -2, -2))

    def _phases(self, one: Moment) -> None:
        """Draw where each phase begins, and its sign in its middle where it has room."""
        size = self.places.text_px * SIGN_PART
        for part in one.parts:
            room = self.room_of(self.places.ribbon, part.from_s, part.to_s)
            if room.isEmpty():
                continue
            self.painter.setPen(QPen(QColor(self.theme.edge), 1))
            self.painter.drawLine(QLineF(room.left(), room.top(), room.left(), room.bottom()))
            if room.width() >= size * 1.6:
                x, y = room.center().x(), room.bottom() - size * 0.9
                self.painter.setPen(Qt.PenStyle.NoPen)
                self.painter.setBrush(QColor(self.theme.inside))
                points = [QPointF(x + size * dx, y + size * dy) for dx, dy in SIGNS[part.phase]]
                self.painter.drawPolygon(QPolygonF(points))

    def phase_lines(self, one: Moment) -> None:
        """Draw down through all lanes where the phases of a repetition begin, and where it ends."""
        times = [part.from_s for part in one.parts] + ([one.parts[-1].to_s] if one.parts else [])
        lanes = self.places.lanes
        self.painter.setPen(QPen(QColor(self.theme.quiet), 1, Qt.PenStyle.DotLine))
        for x in (self.places.x_of(time_s, self.span_s) for time_s in times if self._is_seen(time_s)):
            self.painter.drawLine(QLineF(x, lanes[0].top(), x, lanes[-1].bottom()))

    def edge(self, time_s: float) -> None:
        """Draw the edge that is being moved, down through all lanes."""
        x, lanes = self.places.x_of(time_s, self.span_s), self.places.lanes
        if self._is_seen(time_s):
            self.painter.setPen(QPen(QColor(self.theme.outside), 3))
            self.painter.drawLine(QLineF(x, self.places.ribbon.top(), x, lanes[-1].bottom()))

    def _is_seen(self, time_s: float) -> bool:
        return self.span_s[0] <= time_s <= self.span_s[1]

    def gap(self, from_s: float, to_s: float) -> None:
        """Hatch a stretch without a reading over all lanes."""
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(QBrush(QColor(self.theme.quiet), Qt.BrushStyle.BDiagPattern))
        for row in (self.places.limits, *self.places.lanes):
            self.painter.drawRect(self.room_of(row, from_s, to_s))
