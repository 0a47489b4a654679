"""What is drawn of a calibration and of a scale over the years: residuals, zeros, mismatch, slopes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from weightshare.metrology.estimate import coverage_factor
from weightshare.metrology.found import Found, PlateFit
from weightshare.metrology.reading import Going, Spot
from weightshare.model import Side
from weightshare.records.bench import Kept
from weightshare.records.change import slope_part
from weightshare.records.drift import MISMATCH_LIMIT_PERCENT, Drift
from weightshare.report.chart import Panel, Series, day_ticks, draw_panels, number_of, padded
from weightshare.report.drawing import BLUE, INK, QUIET, RED, Drawing, Mark

_LINES = (Mark.SQUARE, Mark.DISC, Mark.UP, Mark.DOWN, Mark.DIAMOND)
_COLOURS = (BLUE, RED, INK, QUIET)
_DAY = "date"


def spread_N(fit: PlateFit) -> float:
    """Return within how many newtons of the curve 95 % of single readings are expected, by the residuals alone."""
    return coverage_factor(fit.dof) * fit.residual_sd_N


def residual_plot(found: Found, fit: PlateFit) -> Drawing:
    """Return the picture of what the fit of one plate leaves over: reading minus load against the load."""
    points = [point for point in found.residuals if point.side is fit.side]
    middle = [point for point in points if point.spot is Spot.MIDDLE]
    groups = (
        ("laid on", Mark.UP, [point for point in middle if point.going is Going.UP]),
        ("taken off", Mark.DOWN, [point for point in middle if point.going is Going.DOWN]),
        ("in a quarter", Mark.DIAMOND, [point for point in points if point.spot is not Spot.MIDDLE]),
    )
    band_N = spread_N(fit)
    reach = max([abs(point.residual_N) for point in points] + [band_N if math.isfinite(band_N) else 0.0, 1e-6]) * 1.15
    panel = Panel(
        f"The {fit.side} plate: what the fit leaves over",
        "load, N",
        "reading minus load, N",
        tuple(
            Series(name, mark, tuple((point.load_N, point.residual_N) for point in group))
            for name, mark, group in groups
            if group
        ),
        (-0.02 * fit.range_N, 1.04 * fit.range_N),
        (-reach, reach),
        band=(-band_N, band_N) if math.isfinite(band_N) else None,
    )
    return draw_panels([panel], f"Residuals of the {fit.side} plate against the load", height=200.0)


def drift_plot(drift: Drift, kept: Sequence[Kept] = ()) -> Drawing | None:
    """Return the pictures of a scale over time, one under the other; None where there is nothing to show.

    Zeros of both sides against the calibration's, how much more the left side reads than the right, and the slopes of
    all calibrations against the first. drift: its log. kept: its calibrations, by date.
    """
    days = [*drift.day.tolist(), *(number_of(one.calibration.made_on) for one in kept)]
    if not days:
        return None
    low, high = padded(days, 10.0, 0.04)
    panels = [_zeros(drift), _mismatch(drift), _slopes(kept)]
    made = tuple((number_of(one.calibration.made_on), "calibrated") for one in kept)
    chosen = [_with_days(panel, (low, high), made) for panel in panels if panel is not None]
    return draw_panels(chosen, f"Scale {drift.device_id} over time") if chosen else None


def _with_days(panel: Panel, span: tuple[float, float], made: tuple[tuple[float, str], ...]) -> Panel:
    marks = () if panel.title.startswith("Slope") else made
    return replace(panel, x_range=span, marks_at=marks, x_ticks=day_ticks(*span))


def _zeros(drift: Drift) -> Panel | None:
    sides = ((Side.LEFT, Mark.SQUARE, BLUE, drift.left_zero_N), (Side.RIGHT, Mark.DISC, RED, drift.right_zero_N))
    series = tuple(
        Series(f"{side} plate", mark, _dated(drift.day, zero_N), joined=True, colour=colour)
        for side, mark, colour, zero_N in sides
    )
    values = [y for one in series for _x, y in one.points]
    if not any(map(math.isfinite, values)):
        return None
    return Panel("Zero, against the calibration's", _DAY, "zero, N", series, (0, 1), padded([*values, 0.0], 1.0))


def _mismatch(drift: Drift) -> Panel | None:
    if not any(map(math.isfinite, drift.mismatch_percent)):
        return None
    halves = tuple(2.0 * float(u) for u in drift.u_mismatch_percent)
    points = _dated(drift.day, drift.mismatch_percent)
    name = "left more than right; bars: two standard uncertainties"
    limit = MISMATCH_LIMIT_PERCENT
    rules = ((limit, f"told from {limit:g} % on"), (-limit, ""))
    series = Series(name, Mark.SQUARE, points, halves)
    span = padded([*_ends(series), limit, -limit], 1.0)
    return Panel("Mismatch of the two sides", _DAY, "%", (series,), (0, 1), span, rules=rules)


def _ends(series: Series) -> list[float]:
    """Return both ends of each point's bar."""
    pairs = zip(series.points, series.bars, strict=True)
    halves = [(y, half if math.isfinite(half) else 0.0) for (_x, y), half in pairs]
    return [y + way * half for y, half in halves for way in (-1, 1)]


def _slopes(kept: Sequence[Kept]) -> Panel | None:
    if len(kept) < 2:
        return None
    first = {one.index: one.newton_per_count for one in kept[0].calibration.channels}
    series = tuple(
        _slope_series(kept, index, slope, _LINES[place % len(_LINES)], _COLOURS[place % len(_COLOURS)])
        for place, (index, slope) in enumerate(first.items())
    )
    span = padded([*(end for one in series for end in _ends(one)), 0.0], 0.1)
    return Panel("Slope, against the first calibration's; bars: 95 %", _DAY, "%", series, (0, 1), span)


def _slope_series(kept: Sequence[Kept], index: int, slope: float, mark: Mark, colour: str) -> Series:
    points, bars = [], []
    for one in kept:
        for channel in one.calibration.channels:
            if channel.index == index:
                points.append((number_of(one.calibration.made_on), 100.0 * (channel.newton_per_count / slope - 1.0)))
                bars.append(100.0 * slope_part(one, channel).expanded())
    return Series(f"channel {index}", mark, tuple(points), tuple(bars), joined=True, colour=colour)


def _dated(day: Iterable[float], value: Iterable[float]) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in zip(day, value, strict=True))
