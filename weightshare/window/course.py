"""The course of the share over a finished session, with the band: what a clinician looks at afterwards."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtWidgets import QVBoxLayout, QWidget

from weightshare.practice.screen import Summary
from weightshare.tongue import say
from weightshare.window import lettering
from weightshare.window.theme import Theme


class CourseView(QWidget):
    """Plots `Summary.course_*`. The plotting library is loaded when there is a first course to show, not before."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.plot: Any = None
        self._summary: Summary | None = None
        self._curve: Any = None
        self._band: Any = None
        """The band where it stands at one place; where it goes up and down, `_area` between its `_edges`."""
        self._edges: tuple[Any, ...] = ()
        self._under: tuple[Any, ...] = ()
        self._area: Any = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)

    def show_summary(self, summary: Summary) -> None:
        """Plot the course of `summary`; the same one again changes nothing."""
        if summary is self._summary or len(summary.course_time_s) < 2:
            return
        self._summary = summary
        if self.plot is None:
            self._build()
        time_s = summary.course_time_s
        self._curve.setData(time_s, summary.course_percent, connect="finite")
        self.plot.setXRange(float(time_s[0]), float(time_s[-1]), padding=0.01)
        edges = summary.edges_percent
        stands = edges is None and summary.band_percent is not None
        self._band.setVisible(stands)
        if stands:
            self._band.setRegion(summary.band_percent)
        for drawn, under, edge in zip(self._edges, self._under, edges or (time_s[:0],) * 2, strict=True):
            drawn.setData(time_s[: edge.size], edge, connect="finite")
            # the area between has no gaps: where nothing was asked it has no height
            under.setData(time_s[: edge.size], np.nan_to_num(edge))
        self._area.setVisible(edges is not None)

    def set_theme(self, theme: Theme) -> None:
        """Change the colours."""
        self.theme = theme
        if self.plot is not None:
            self._colour()

    def _build(self) -> None:
        import pyqtgraph as pg

        self.plot = pg.PlotWidget()
        self.plot.setMenuEnabled(False)
        self.plot.setMouseEnabled(False, False)
        self.plot.hideButtons()
        self.plot.setYRange(0.0, 100.0, padding=0.02)
        self._band = pg.LinearRegionItem(orientation="horizontal", movable=False)
        self._band.setZValue(-10)
        self._curve = pg.PlotCurveItem()
        self._edges, self._under = ((pg.PlotCurveItem(), pg.PlotCurveItem()) for _ in range(2))
        self._area = pg.FillBetweenItem(*self._under)
        self._area.setZValue(-10)
        for item in (self._area, self._band, *self._edges):
            self.plot.addItem(item)
        self.plot.addItem(self._curve)
        self._colour()
        layout = self.layout()
        assert layout is not None
        layout.addWidget(self.plot)

    def _colour(self) -> None:
        import pyqtgraph as pg

        theme, size = self.theme, max(14, self.window().height() // 54)
        self.plot.setBackground(theme.ground)
        self._curve.setPen(pg.mkPen(theme.ink, width=1))
        for area in (self._band, self._area):
            area.setBrush(pg.mkBrush(theme.path))
        for line in (*self._band.lines, *self._edges):
            line.setPen(pg.mkPen(theme.edge, width=1))
        share = say("share on the injured side, %") if self.height() > 18 * size else say("share, %")
        for name, text in (("left", share), ("bottom", say("time, s"))):
            axis = self.plot.getAxis(name)
            axis.setPen(pg.mkPen(theme.edge))
            axis.setTextPen(pg.mkPen(theme.quiet))
            axis.setStyle(tickFont=lettering.font(size))
            axis.setLabel(text, color=theme.quiet, **{"font-size": f"{size}px"})
            axis.enableAutoSIPrefix(False)
