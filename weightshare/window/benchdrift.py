"""The drift log of a scale as pictures, by date: the zeros, and what one plate reads more than the other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from weightshare.model import Floats
from weightshare.records.drift import MISMATCH_LIMIT_PERCENT, SECONDS_PER_DAY, ZERO_LIMIT_N, Drift
from weightshare.tongue import mark, number, say
from weightshare.window import lettering
from weightshare.window.benchaxis import Axes
from weightshare.window.lettering import Line
from weightshare.window.theme import Theme

ZERO_TITLE, MISMATCH_TITLE = mark("Zero since the calibration, N"), mark("The left plate reads more than the right, %")
KEYS = (
    mark("\u25b2 left   \u25bd right   dashed: beyond it, have the scale calibrated"),
    mark("\u25c7 with its 95 % interval"),
)
LEAST_DAYS = 1.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """Where a picture is painted, in which colours and with letters of which size (px)."""

    room: QRectF
    theme: Theme
    text_px: int


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Values over days, shape (n,) each, with the half width of their bars; `shape` is `up`, `down` or `diamond`."""

    name: str
    day: Floats
    value: Floats
    half: Floats
    shape: str


def zero_series(drift: Drift) -> tuple[Series, ...]:
    """Return the zeros of both plates, N."""
    none = np.zeros_like(drift.day)
    return (
        Series("left", drift.day, drift.left_zero_N, none, "up"),
        Series("right", drift.day, drift.right_zero_N, none, "down"),
    )


def mismatch_series(drift: Drift) -> tuple[Series, ...]:
    """Return how much more the left plate reads, percent."""
    return (Series("mismatch", drift.day, drift.mismatch_percent, 1.96 * drift.u_mismatch_percent, "diamond"),)


class DriftPlot:
    """Series over their dates, and the limits at which something is to be done."""

    def __init__(self, title: str, series: tuple[Series, ...], limit: float, sheet: Sheet) -> None:
        self._title, self._series, self._limit = title, series, limit
        size = sheet.text_px
        plane = sheet.room.adjusted(lettering.width_of("+20 ", size) + size, size * 2.0, -size * 0.6, -size * 1.9)
        self.axes = Axes(series[0].name, sheet.room, plane, sheet.theme, size)
        known = [one.day[np.isfinite(one.value)] for one in series]
        days = np.concatenate(known) if known else np.empty(0)
        self.count = int(days.size)
        self._first = float(days.min()) if days.size else 0.0
        self._last = max(float(days.max()) if days.size else 0.0, self._first + LEAST_DAYS)
        values = np.concatenate([np.abs(one.value) + np.nan_to_num(one.half) for one in series])
        values = values[np.isfinite(values)]
        self.reach = max(1.15 * limit, 1.1 * float(values.max()) if values.size else 0.0)

    def lines(self) -> list[Line]:
        """Return the title, the limits and the first and the last date."""
        axes, right, quiet = self.axes, Qt.AlignmentFlag.AlignRight, self.axes.theme.quiet
        name, size, plane = axes.name, axes.text_px, axes.plane
        told = (
            (f"+{number(self._limit, 'g')}", self._limit),
            ("0", 0.0),
            (f"\u2212{number(self._limit, 'g')}", -self._limit),
        )
        heights = axes.heights((text, self._row(value)) for text, value in told)
        lines = [axes.title(f"{name} title", self._title), *heights]
        below = QRectF(plane.left(), plane.bottom() + size * 0.4, plane.width(), size * 1.3)
        if not self.count:
            return [*lines, lettering.lay(f"{name} none", say("nothing is logged yet"), below, size, quiet)]
        lines.append(lettering.lay(f"{name} first", _date(self._first), below, size, quiet))
        if self._last > self._first + LEAST_DAYS:
            lines.append(lettering.lay(f"{name} last", _date(self._last), below, size, quiet, align=right))
        return lines

    def _row(self, value: float) -> float:
        plane = self.axes.plane
        return plane.center().y() - plane.height() / 2 * max(-1.0, min(1.0, value / self.reach))

    def place_of(self, day: float, value: float) -> QPointF:
        """Return where a value is painted."""
        plane = self.axes.plane
        return QPointF(
            plane.left() + plane.width() * (day - self._first) / (self._last - self._first), self._row(value)
        )

    def paint(self, painter: QPainter) -> None:
        """Paint the plane, the limits and every value."""
        limits = self._row(-self._limit), self._row(self._limit)
        self.axes.paint(painter, self._row(0.0), limits, self.axes.theme.outside)
        self.axes.begin_marks(painter)
        for one in self._series:
            self._paint_series(painter, one)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_series(self, painter: QPainter, one: Series) -> None:
        for day, value, half in zip(one.day, one.value, one.half, strict=True):
            if not math.isfinite(value):
                continue
            centre = self.place_of(float(day), float(value))
            if math.isfinite(half) and half > 0.0:
                low, high = (self.place_of(float(day), float(value + way * half)) for way in (-1, 1))
                painter.drawLine(low, high)
            self.axes.paint_mark(painter, one.shape, centre, is_full=one.shape == "up")


def zero_plot(drift: Drift, sheet: Sheet) -> DriftPlot:
    """Return the picture of the zeros."""
    return DriftPlot(say(ZERO_TITLE), zero_series(drift), ZERO_LIMIT_N, sheet)


def mismatch_plot(drift: Drift, sheet: Sheet) -> DriftPlot:
    """Return the picture of the mismatch of the two plates."""
    return DriftPlot(say(MISMATCH_TITLE), mismatch_series(drift), MISMATCH_LIMIT_PERCENT, sheet)


def _date(day: float) -> str:
    return datetime.fromtimestamp(day * SECONDS_PER_DAY, UTC).date().isoformat()
