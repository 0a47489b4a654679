"""A fit of points as a table that a person reads, and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from weightshare.metrology.figure import PointFigure, class_limit
from weightshare.metrology.fitted import Fitted
from weightshare.metrology.standard import (
    ScaleClass,
    lower_limit_factor,
    lowest_load,
    number_of_intervals,
    usual_interval,
)
from weightshare.metrology.transfer import WORDS

SCHEMA = "weightshare.fit/1"
_POWERS = ("", "x", "x^2", "x^3")
_LEVEL = "95 %"


def fit_json(fitted: Sequence[Fitted], degree: int) -> dict[str, Any]:
    """Return the JSON object of the fits; with several the top-level numbers are null, and `channels` has each."""
    if len(fitted) == 1:
        return {"schema": SCHEMA, **_one_json(fitted[0])}
    empty = dict.fromkeys(("coefficients", "standard_errors", "residual_sd", "covariance", "advice", "n"))
    return {"schema": SCHEMA, "degree": degree, **empty, "channels": [_one_json(one) for one in fitted]}


def _one_json(one: Fitted) -> dict[str, Any]:
    fit, points = one.fit, one.points
    return {
        "degree": fit.degree,
        "coefficients": list(fit.coefficients),
        "standard_errors": list(fit.standard_errors),
        "residual_sd": fit.residual_sd,
        "covariance": fit.covariance.tolist(),
        "advice": one.advice,
        "n": fit.n,
        "dof": fit.dof,
        "channel": points.channel,
        "x": points.x_name,
        "y": points.y_name,
        "left_out": one.left_out,
        "bands": _bands_json(one),
        "force": _force_json(one),
        "figures": [_figure_json(figure, one.range_N or 0.0) for figure in one.figures],
        "warnings": [*one.doubts, *one.remarks],
    }


def _bands_json(one: Fitted) -> list[dict[str, float]]:
    said = one.fit.predict(one.steps())
    rows = zip(one.steps(), said.value, said.confidence, said.prediction, strict=True)
    return [dict(zip(("x", "y", "confidence", "prediction"), map(float, row), strict=True)) for row in rows]


def _force_json(one: Fitted) -> dict[str, Any] | None:
    if one.transfer is None:
        return None
    return {
        "zero_counts": one.transfer.zero_counts,
        "newton_per_count": one.transfer.newton_per_count,
        "newton_per_count2": one.transfer.newton_per_count2,
        "residual_sd_N": one.transfer.fit.residual_sd,
        "lower_limit_factor_N": lower_limit_factor(one.transfer.fit.residual_sd),
        "range_N": one.range_N,
        "standard_uncertainty_N": one.uncertainty_N,
        "parts_N": one.parts_N,
    }


def _figure_json(figure: PointFigure, range_N: float) -> dict[str, Any]:
    return {
        "name": figure.name,
        "value_N": figure.estimate.value,
        "standard_uncertainty_N": figure.estimate.u,
        "low_N": figure.low,
        "high_N": figure.high,
        "percent_of_range": figure.percent_of(range_N),
        "load_N": figure.load_N,
        "about": figure.about,
    }


def fit_table(fitted: Sequence[Fitted]) -> str:
    """Return the fits as lines: coefficients, bands, forces, figures with what standards ask beside them, notes."""
    return "\n\n".join("\n".join(_one_lines(one)) for one in fitted)


def _one_lines(one: Fitted) -> list[str]:
    lines = [*_head_lines(one), *_band_lines(one)]
    if one.transfer is not None:
        lines += ["", *_force_lines(one)]
    if one.figures:
        lines += ["", *_figure_lines(one)]
    notes = [f"advice: {one.advice}"] if one.advice else []
    return lines + notes + [f"note: {words}" for words in (*one.doubts, *one.remarks)]


def _head_lines(one: Fitted) -> list[str]:
    fit, points = one.fit, one.points
    channel = "" if points.channel is None else f"channel {points.channel}: "
    apart = f"; {one.left_out} off the middle, not fitted" if one.left_out else ""
    terms = " + ".join(f"c{k} {power}".rstrip() for k, power in enumerate(_POWERS[: fit.degree + 1]))
    rows = zip(fit.coefficients, fit.standard_errors, strict=True)
    return [
        f"{channel}{fit.n} points{apart}; {points.y_name} = {terms}, with x = {points.x_name}",
        f"{'':8}{'coefficient':>22}{'standard error':>18}",
        *(f"{f'c{k}':8}{value:>22.12g}{error:>18.4g}" for k, (value, error) in enumerate(rows)),
        f"residual standard deviation {fit.residual_sd:.4g}, {fit.dof} degrees of freedom",
    ]


def _band_lines(one: Fitted) -> list[str]:
    said = one.fit.predict(one.steps())
    rows = zip(one.steps(), said.value, said.confidence, said.prediction, strict=True)
    head = f"{one.points.x_name:>12}{one.points.y_name:>16}{'curve +-':>14}{'reading +-':>14}   ({_LEVEL})"
    return [head, *(f"{x:>12.6g}{y:>16.8g}{curve:>14.3g}{reading:>14.3g}" for x, y, curve, reading in rows)]


def _force_lines(one: Fitted) -> list[str]:
    transfer, uncertainty_N = one.transfer, one.uncertainty_N
    assert transfer is not None and uncertainty_N is not None
    factor_N = lower_limit_factor(transfer.fit.residual_sd)
    curve = f" + {transfer.newton_per_count2:.6g} (counts - zero)^2" if transfer.newton_per_count2 else ""
    lines = [
        f"force in N = {transfer.newton_per_count:.9g} (counts - zero){curve}, zero = {transfer.zero_counts:.9g}",
        f"standard uncertainty of a force at {one.range_N:.0f} N: {uncertainty_N:.3g} N, of which",
    ]
    lines += [f"  {WORDS[name]:34}{part_N:9.3g} N" for name, part_N in one.parts_N.items()]
    return [
        *lines,
        f"lower limit factor (ASTM E74): {factor_N:.3g} N; class AA would begin at {lowest_load(factor_N, 'AA'):.0f} N,"
        f" class A at {lowest_load(factor_N, 'A'):.0f} N",
    ]


def _figure_lines(one: Fitted) -> list[str]:
    range_N = one.range_N or 0.0
    head = f"{'figure':18}{'N':>9}{'% of range':>12}{_LEVEL + ' interval, N':>22}{'class III':>12}{'class IIII':>12}"
    at = " and ".join(_interval_words(range_N, scale_class) for scale_class in ScaleClass)
    return [
        head,
        *(_figure_line(figure, range_N) for figure in one.figures),
        f"class limits up to {range_N:.0f} N: OIML R 76-1 at {at}, when verified; in service twice",
        "these. Each e is assumed. As information: this is no approval.",
    ]


def _interval_words(range_N: float, scale_class: ScaleClass) -> str:
    interval_N = usual_interval(range_N, scale_class)
    return f"e = {interval_N:g} N (class {scale_class}, {number_of_intervals(range_N, interval_N):.0f} e)"


def _figure_line(figure: PointFigure, range_N: float) -> str:
    limits = "".join(
        f"{_limit(figure, usual_interval(range_N, scale_class), scale_class):>12}" for scale_class in ScaleClass
    )
    span = f"{figure.low:.3f} to {figure.high:.3f}"
    values = f"{figure.estimate.value:>9.3f}{figure.percent_of(range_N):>12.3f}{span:>22}"
    return f"{figure.name:18}{values}{limits}   {figure.about}"


def _limit(figure: PointFigure, interval_N: float, scale_class: ScaleClass) -> str:
    from weightshare.errors import InputError

    try:
        return f"+-{class_limit(figure, interval_N, scale_class):g}"
    except InputError:
        return "none"
