"""What the document of a calibration says where it was made of points that were taken elsewhere."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from weightshare.errors import InputError
from weightshare.metrology.build import say_assumed, worth_of
from weightshare.metrology.estimate import coverage_factor
from weightshare.metrology.figure import PointFigure, class_limit
from weightshare.metrology.found import REPEATABILITY
from weightshare.metrology.standard import ScaleClass, usual_interval
from weightshare.metrology.taken import TakenFit, TakenPoint
from weightshare.metrology.transfer import WORDS
from weightshare.model import Calibration
from weightshare.report.chart import Panel, Series, draw_panels
from weightshare.report.digit import MOST_DECIMALS, decimals_of, fixed, span, with_digits
from weightshare.report.document import Picture, Section, Table
from weightshare.report.drawing import Drawing, Mark

METHOD = (
    "The points were taken elsewhere and given as a file. For each channel the load was fitted at the counts by least"
    " squares, with the points in the middle of the plate alone; those elsewhere tell the error of the corners.",
    "Standard uncertainties are joined after the GUM (JCGM 100:2008). Intervals cover the true value with a probability"
    " of 95 %, by Student's t for the degrees of freedom behind each.",
)


def place_of(low: float, high: float, limit_N: float) -> str:
    """Return where an interval lies, seen from what is allowed to either side."""
    if -limit_N <= low and high <= limit_N:
        return "within"
    return "beyond" if low > limit_N or high < -limit_N else "undecided"


def taken_cautions(taken: Sequence[TakenFit]) -> tuple[Section, ...]:
    """Return what spoke against the points and was written all the same."""
    doubts = tuple(dict.fromkeys(words for one in taken for words in one.doubts))
    return (Section("Be careful", ("Written all the same:",), points=doubts),) if doubts else ()


def taken_sections(taken: Sequence[TakenFit], calibration: Calibration) -> Iterator[Section]:
    """Yield what the points of each channel tell, and what stands in for what they do not."""
    for one in taken:
        yield _figures(one)
        yield _parts(one)
    yield Section("What is assumed", (_assumed_words(calibration),))


def _assumed_words(calibration: Calibration) -> str:
    assumed = say_assumed(worth_of(calibration).assumed)
    whence = (
        "The points do not say under which plate a channel is (column side). In the uncertainty of a share each"
        " channel's standard uncertainty is taken"
        if calibration.worth is None
        else "In the uncertainty of a share slope, repeatability and what else the points tell of a plate is taken"
    )
    return f"{whence}, and of the standard build, assumed and not measured here: {assumed}."


def _figures(one: TakenFit) -> Section:
    interval_N = usual_interval(one.range_N)
    decimals = decimals_of(1000.0 * one.slope.u, 7) if one.slope.u > 0.0 else 6
    low, high = (1000.0 * end for end in one.slope.interval())
    slope = ("slope", fixed(1000.0 * one.slope.value, decimals), span(low, high, decimals), "mN/count", "", "")
    rows = (slope, *(_row(figure, one.range_N, interval_N) for figure in one.figures))
    heads = ("figure", "value", "95 % interval", "unit", "% of range", "R 76 III, N")
    said = (
        f"From 0 to {one.range_N:.0f} N; {_counted(one)}; {_curve(one)}, residual standard deviation"
        f" {with_digits(one.residual_sd_N)} N with {one.dof} degrees of freedom. R 76 limits: for a scale interval e of"
        f" {interval_N:g} N, assumed."
    )
    advice = () if one.advice is None else (f"Advice: {one.advice}.",)
    notes = tuple(f"{words[:1].upper()}{words[1:]}." for words in one.remarks)
    plate = "" if one.side is None else f", the {one.side} plate"
    picture = Picture(_plot(one), "Reading minus load, of every point.", f"residuals-channel-{one.channel}")
    table = Table(heads, rows, (0.33, 0.09, 0.18, 0.11, 0.11, 0.18))
    return Section(f"Channel {one.channel}{plate}", (said, *advice), table=table, pictures=(picture,), notes=notes)


def _counted(one: TakenFit) -> str:
    apart = sum(not point.in_middle for point in one.points)
    words = f"{len(one.points)} points, loads by {one.load_name}"
    return f"{words}, {apart} of them off the middle and not fitted" if apart else words


def _curve(one: TakenFit) -> str:
    return "a straight line" if one.degree == 1 else f"a curve of degree {one.degree}"


def _row(figure: PointFigure, range_N: float, interval_N: float) -> tuple[str, ...]:
    decimals = decimals_of(figure.estimate.u, MOST_DECIMALS)
    to_percent = 100.0 / range_N
    percent = fixed(figure.percent_of(range_N), decimals_of(figure.estimate.u * to_percent))
    values = fixed(figure.estimate.value, decimals), span(figure.low, figure.high, decimals), "N", percent
    return f"{figure.name}: {figure.about}", *values, _limit(figure, interval_N)


def _limit(figure: PointFigure, interval_N: float) -> str:
    try:
        limit_N = class_limit(figure, interval_N, ScaleClass.III)
    except InputError:
        return ""
    # there the standard looks at the greatest difference, not at a standard deviation
    verdict = "" if figure.name == REPEATABILITY else f": {place_of(figure.low, figure.high, limit_N)}"
    return f"\u00b1{limit_N:g}{verdict}"


def _parts(one: TakenFit) -> Section:
    whole_N = math.hypot(*(part.newton for part in one.parts))
    rows = tuple((WORDS.get(part.name, part.name), with_digits(part.newton)) for part in one.parts)
    table = Table(("part", "N"), (*rows, ("all of them", with_digits(whole_N))), (0.7, 0.3))
    return Section(f"Standard uncertainty of a force at {one.range_N:.0f} N, channel {one.channel}", table=table)


def _plot(one: TakenFit) -> Drawing:
    """Return the picture of reading minus load against the load, as for a plate of the guided calibration."""
    middle = [point for point in one.points if point.in_middle]
    groups = (
        ("laid on", Mark.UP, [point for point in middle if point.going >= 0]),
        ("taken off", Mark.DOWN, [point for point in middle if point.going < 0]),
        ("off the middle", Mark.DIAMOND, [point for point in one.points if not point.in_middle]),
    )
    band_N = coverage_factor(one.dof) * one.residual_sd_N
    known = math.isfinite(band_N)
    reach = max([abs(point.residual_N) for point in one.points] + [band_N if known else 0.0, 1e-6]) * 1.15
    panel = Panel(
        f"Channel {one.channel}: what the fit leaves over",
        "load, N",
        "reading minus load, N",
        tuple(Series(name, mark, _dots(group)) for name, mark, group in groups if group),
        (-0.02 * one.range_N, 1.04 * one.range_N),
        (-reach, reach),
        band=(-band_N, band_N) if known else None,
    )
    return draw_panels([panel], f"Residuals of channel {one.channel} against the load", height=200.0)


def _dots(points: Sequence[TakenPoint]) -> tuple[tuple[float, float], ...]:
    return tuple((point.load_N, point.residual_N) for point in points)
