"""Panels of a report drawn with matplotlib, in the report's colours and marks.

Figures are made without pyplot: nothing is global, no display is looked for.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from weightshare.errors import InputError
from weightshare.report.chart import Panel, Ribbon, Series
from weightshare.report.drawing import BLUE, HAIRLINE, INK, PAPER, QUIET, SHADE, Mark

try:
    from matplotlib.figure import Figure
except ImportError as error:
    raise InputError(
        'pictures need a package that is not installed: python -m pip install "matplotlib>=3.8"'
    ) from error

if TYPE_CHECKING:
    from matplotlib.axes import Axes

WIDTH_IN, PANEL_IN = 7.0, 2.4
_MARKS = {Mark.UP: "^", Mark.DOWN: "v", Mark.DIAMOND: "D", Mark.SQUARE: "s", Mark.DISC: "o"}
_FILLED = (Mark.UP, Mark.SQUARE)
_SMALL = 7.5
SPAN_ROOM = 0.14
"""Room over what was measured for the bars along the top, as a part of the range."""


class Picture(Figure):
    """A matplotlib figure that shows itself in a notebook, whatever backend is chosen there."""

    def _repr_svg_(self) -> str:
        out = io.StringIO()
        self.savefig(out, format="svg")
        return out.getvalue()


def draw(panels: Sequence[Panel], title: str) -> Picture:
    """Return `panels` one under the other as a picture; `title` is for who does not see it."""
    picture = Picture(figsize=(WIDTH_IN, PANEL_IN * len(panels)), layout="constrained", facecolor=PAPER)
    picture.set_label(title)
    for place, panel in enumerate(panels):
        draw_panel(picture.add_subplot(len(panels), 1, place + 1), panel)
    return picture


def draw_panel(axes: Axes, panel: Panel) -> None:
    """Draw one panel on `axes`, as the report does: band, curves, spans, rules, marks, points."""
    _frame(axes, panel)
    if panel.band is not None:
        axes.axhspan(*panel.band, color=SHADE, zorder=0)
    for ribbon in panel.ribbons:
        _ribbon(axes, ribbon)
    for curve in panel.curves:
        axes.plot(*zip(*curve, strict=True), color=BLUE, linewidth=0.8)
    top = axes.get_ylim()[1]
    for span in panel.spans:
        axes.plot((span.from_x, span.to_x), (top, top), color=INK, linewidth=4.0, solid_capstyle="butt", clip_on=False)
        middle = 0.5 * (span.from_x + span.to_x)
        axes.annotate(span.words, (middle, top), (0, -10), textcoords="offset points", ha="center", fontsize=_SMALL)
    for value, words in panel.rules:
        axes.axhline(value, color=QUIET, linewidth=0.8, linestyle="--")
        axes.annotate(words, (panel.x_range[1], value), (-3, -9), textcoords="offset points", ha="right", fontsize=7.0)
    for x, words in panel.marks_at:
        axes.axvline(x, color=QUIET, linewidth=0.8, linestyle="--")
        axes.annotate(words, (x, top), (3, -20), textcoords="offset points", fontsize=7.0, color=QUIET)
    for series in panel.series:
        _points(axes, series)
    if any(series.name for series in panel.series):
        axes.legend(loc="best", fontsize=_SMALL, frameon=False)


def _frame(axes: Axes, panel: Panel) -> None:
    axes.set_title(panel.title, loc="left", fontsize=9.0, fontweight="bold", color=INK, pad=9.0)
    axes.set_xlabel(panel.x_name, fontsize=8.0, color=INK)
    axes.set_ylabel(panel.y_name, fontsize=8.0, color=INK)
    axes.set_xlim(*panel.x_range)
    low, high = panel.y_range
    axes.set_ylim(low, high + (SPAN_ROOM * (high - low) if panel.spans else 0.0))
    if panel.x_ticks is not None:
        axes.set_xticks([x for x, _words in panel.x_ticks], [words for _x, words in panel.x_ticks])
    axes.grid(visible=True, axis="y", color=HAIRLINE, linewidth=0.6)
    axes.set_axisbelow(True)
    axes.tick_params(labelsize=_SMALL, colors=QUIET)
    for edge in axes.spines.values():
        edge.set_color(QUIET)


def _ribbon(axes: Axes, ribbon: Ribbon) -> None:
    x, low, high = zip(*ribbon.points, strict=True)
    axes.fill_between(x, low, high, color=SHADE, zorder=0, linewidth=0.0)
    for edge in (low, high):
        axes.plot(x, edge, color=QUIET, linewidth=0.7, linestyle="--")


def _points(axes: Axes, series: Series) -> None:
    known = [(x, y, half) for (x, y), half in zip(series.points, _bars(series), strict=True) if math.isfinite(y)]
    if not known:
        return
    x, y, half = zip(*known, strict=True)
    style: dict[str, Any] = {"color": series.colour, "linewidth": 0.8, "linestyle": "-" if series.joined else "none"}
    style |= {"marker": _MARKS[series.mark], "markersize": 5.0}
    style["markerfacecolor"] = series.colour if series.mark in _FILLED else PAPER
    if any(math.isfinite(one) for one in half):
        axes.errorbar(x, y, yerr=half, capsize=2.5, label=series.name, **style)
    else:
        axes.plot(x, y, label=series.name, **style)


def _bars(series: Series) -> list[float]:
    return [*series.bars, *[math.nan] * (len(series.points) - len(series.bars))]
