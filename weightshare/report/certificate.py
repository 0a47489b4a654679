"""What a calibration's record says on paper: on what it rests, what was found, what standards ask of a scale."""

from __future__ import annotations

import math
from datetime import date

from weightshare.errors import InputError
from weightshare.metrology.found import (
    CORNER,
    CREEP,
    CURVE,
    DRIFT,
    HYSTERESIS,
    NON_LINEARITY,
    REPEATABILITY,
    RETURN,
    SLOPE,
    Figure,
    Found,
    PlateFit,
)
from weightshare.metrology.reading import BenchRecord, Kind
from weightshare.metrology.standard import (
    ScaleClass,
    creep_limits,
    lower_limit_factor,
    lowest_load,
    return_limit,
    scale_limit,
    usual_interval,
)
from weightshare.model import Calibration, ChannelCalibration
from weightshare.records.bench import Kept
from weightshare.report.digit import MOST_DECIMALS, UNKNOWN, decimals_of, fixed, span, with_digits
from weightshare.report.document import Document, Picture, Section, Table
from weightshare.report.plot import residual_plot, spread_N
from weightshare.report.taken import METHOD as TAKEN_METHOD
from weightshare.report.taken import place_of, taken_cautions, taken_sections

TITLE = "Calibration record"
STATEMENT = "This record is no approval and no certificate of an accredited laboratory."
MEDICAL = "weightshare is not a certified medical device."
METHOD = (
    "Each plate was read with nothing on, with known masses laid on and taken off in the middle, in its four quarters,"
    " and with the greatest load left on. A calibration curve was fitted to all readings at once by least squares; it"
    " gives the channels' slopes. Force is mass times gravity; that air lifts a mass of steel by 0.015 % is not"
    " corrected, but is in the uncertainty of the slopes. It is the same on both sides.",
    "Standard uncertainties are joined after the GUM (JCGM 100:2008). Intervals cover the true value with a probability"
    " of 95 %, by Student's t for the degrees of freedom behind each.",
)


def make_certificate(kept: Kept) -> Document:
    """Return what is to be said of a calibration. One that was not made on the bench says what its file knows."""
    found, record = kept.found, kept.record
    sections = [*(_cautions(found) if found is not None else taken_cautions(kept.taken)), _channels(kept)]
    if record is not None:
        sections.append(_masses(record))
    if found is not None:
        sections += [_plate(found, fit) for fit in found.fits]
        sections.append(_standards(found))
    elif kept.taken:
        sections += taken_sections(kept.taken, kept.calibration)
    else:
        words = (
            "This file holds no readings and no points, so there are no figures: make a new calibration to have them."
        )
        sections.append(Section("Figures", (words,)))
    method = METHOD if found is not None else TAKEN_METHOD if kept.taken else ()
    sections.append(Section("Method", method, notes=(STATEMENT, MEDICAL)))
    scale = kept.calibration.device_id
    return Document(
        TITLE,
        _facts(kept),
        tuple(sections),
        f"Scale {scale}, calibrated {kept.calibration.made_on}. {STATEMENT}",
        f"Calibration of the scale {scale} on {kept.calibration.made_on}",
        ("calibration", scale),
    )


def _facts(kept: Kept) -> tuple[tuple[str, str], ...]:
    calibration, record = kept.calibration, kept.record
    u_gravity = record.u_gravity_m_s2 if record is not None else 0.0
    digits = decimals_of(2.0 * u_gravity, 7) if u_gravity else 5
    gravity = fixed(calibration.gravity_m_s2, digits)
    spread = f" \u00b1 {fixed(2.0 * u_gravity, digits)} (k = 2)" if u_gravity else ""
    warm = record.temperature_degC if record is not None else None
    rows = [
        ("Scale", calibration.device_id),
        ("Calibrated on", _moment(kept)),
        ("Valid until", str(calibration.valid_until or "not limited")),
        ("Made by", kept.made_by),
        ("Made with", kept.made_with),
        ("Gravity taken", f"{gravity}{spread} m/s\u00b2"),
        ("Temperature", "" if warm is None else f"{warm:.1f} \u00b0C"),
        ("File", kept.path.name),
    ]
    return tuple((name, value) for name, value in rows if value)


def _moment(kept: Kept) -> str:
    day = str(kept.calibration.made_on)
    return f"{day} (written {kept.made_at:%Y-%m-%d %H:%M %Z})" if kept.made_at is not None else day


def _channels(kept: Kept) -> Section:
    table = Table(
        ("channel", "plate", "zero, counts", "slope, mN/count", "curve, 1/MN", "u of a force, N", "up to, N"),
        tuple(_channel(kept, channel) for channel in kept.calibration.channels),
        (0.11, 0.11, 0.16, 0.2, 0.14, 0.16, 0.12),
        2,
    )
    note = (
        "Force = slope \u00d7 c \u00d7 (1 + curve \u00d7 slope \u00d7 c), with c = counts \u2212 zero."
        " u: standard uncertainty."
    )
    return Section("Channels", table=table, notes=(note, *earlier_words(kept.calibration)))


def earlier_words(calibration: Calibration) -> tuple[str, ...]:
    """Return which channels are of an earlier calibration, and of which day; a line for each day."""
    days = sorted({one.made_on for one in calibration.channels if one.made_on is not None})
    return tuple(_earlier(calibration, day) for day in days)


def _earlier(calibration: Calibration, day: date) -> str:
    mine = [str(one.index) for one in calibration.channels if one.made_on == day]
    named = f"channel{'s' if len(mine) > 1 else ''} {' and '.join(mine)}"
    return f"Not calibrated this time: {named}, as found by the earlier calibration of {day}."


def _channel(kept: Kept, channel: ChannelCalibration) -> tuple[str, ...]:
    slope = channel.newton_per_count
    figures = kept.found.figures if kept.found is not None else ()
    own = [f.estimate.u for f in figures if f.name == SLOPE and f.channel == channel.index]
    own += [one.slope.u for one in kept.taken if one.channel == channel.index]
    u = own[0] if own else math.nan
    digits = decimals_of(1000.0 * u, 7) if u > 0.0 else 6
    sides = [p.side for p in kept.record.plates if channel.index in p.channels] if kept.record else []
    side = next(iter([*sides, *(one.side for one in kept.taken if one.channel == channel.index and one.side)]), "")
    u_N, range_N = channel.standard_uncertainty_N, channel.range_N
    return (
        str(channel.index),
        str(side) or (UNKNOWN if channel.made_on is None else "earlier"),
        fixed(channel.zero_counts, 0),
        fixed(1000.0 * slope, digits),
        with_digits(1e6 * channel.newton_per_count2 / slope**2),
        UNKNOWN if u_N is None else with_digits(u_N),
        UNKNOWN if range_N is None else fixed(range_N, 0),
    )


def _masses(record: BenchRecord) -> Section:
    rows = tuple(
        (m.name, fixed(m.kg, decimals_of(m.u_kg, 7)), with_digits(1000.0 * m.u_kg), with_digits(2000.0 * m.u_kg))
        for m in record.masses
    )
    table = Table(("mass", "kg", "standard uncertainty, g", "k = 2, g"), rows, (0.4, 0.2, 0.25, 0.15))
    steps = sum(one.kind in (Kind.SERIES, Kind.CORNER) for one in record.placements)
    read = f"{steps} placements were read at {record.rate_Hz:g} readings a second."
    return Section("Masses", (read,), table=table)


def _plate(found: Found, fit: PlateFit) -> Section:
    interval_N = usual_interval(fit.range_N)
    rows = tuple(_row(figure, fit, interval_N) for figure in found.figures if figure.side is fit.side)
    heads = ("figure", "value", "95 % interval", "unit", "% of range", "R 76 III, N")
    table = Table(heads, rows, (0.33, 0.09, 0.18, 0.11, 0.11, 0.18))
    curve = "a straight line" if fit.degree == 1 else f"a curve of degree {fit.degree}"
    words = f"From 0 to {fit.range_N:.0f} N; {curve}, residual standard deviation {with_digits(fit.residual_sd_N)} N"
    advice = () if fit.advice is None else (f"Advice: {fit.advice}.",)
    band_N = spread_N(fit)
    caption = (
        f"Reading minus load. Shaded: \u00b1{with_digits(band_N)} N, where 95 % of single readings are expected by"
        f" these residuals (t \u00d7 residual standard deviation, {fit.dof} degrees of freedom)."
    )
    picture = Picture(residual_plot(found, fit), caption, f"residuals-{fit.side}")
    said = (
        f"{words} with {fit.dof} degrees of freedom. R 76 limits: for a scale interval e of {interval_N:g} N, assumed."
    )
    return Section(f"The {fit.side} plate", (said, *advice), table=table, pictures=(picture,))


def _row(figure: Figure, fit: PlateFit, interval_N: float) -> tuple[str, ...]:
    factor, unit = _shown(figure, fit)
    value, low, high = (factor * one for one in (figure.estimate.value, figure.low, figure.high))
    decimals = decimals_of(factor * figure.estimate.u, 7 if figure.name == SLOPE else MOST_DECIMALS)
    to_percent = 100.0 / fit.range_N
    percent = fixed(value * to_percent, decimals_of(figure.estimate.u * to_percent)) if unit == "N" else ""
    limit = _limit(figure, fit, interval_N)
    # there the standard looks at the greatest difference, not at a standard deviation
    verdict = "" if limit is None or figure.name == REPEATABILITY else f": {place_of(figure.low, figure.high, limit)}"
    said = "" if limit is None else f"\u00b1{limit:g}{verdict}"
    return _name(figure), fixed(value, decimals), span(low, high, decimals), unit, percent, said


def _name(figure: Figure) -> str:
    channel = "" if figure.channel is None else f" of channel {figure.channel}"
    about = figure.about or ("part of the load, at the end of the range" if figure.name == CURVE else "")
    at = f": {about}" if about else ""
    return f"{figure.name}{channel}{at}"


def _shown(figure: Figure, fit: PlateFit) -> tuple[float, str]:
    """Return by what a figure is multiplied to be read well, and its unit then."""
    if figure.name == SLOPE:
        return 1000.0, "mN/count"
    return (100.0 * fit.range_N, "%") if figure.name == CURVE else (1.0, figure.unit)


def _limit(figure: Figure, fit: PlateFit, interval_N: float) -> float | None:
    """Return what OIML R 76 allows a scale of class III there, N; None where it has no such limit."""
    if figure.name in (SLOPE, CURVE, DRIFT):
        return None
    if figure.name == CREEP:
        return creep_limits(interval_N)[0]
    if figure.name == RETURN:
        return return_limit(interval_N)
    # where each of them is found: the curve and the loop half-way, quarters with a third of the load
    parts = {CORNER: 1.0 / 3.0, NON_LINEARITY: 0.5, HYSTERESIS: 0.5}
    load_N = fit.range_N * parts.get(figure.name, 1.0)
    try:
        return scale_limit(load_N, interval_N, ScaleClass.III)
    except InputError:
        return None


def _standards(found: Found) -> Section:
    rows = []
    for fit in found.fits:
        factor_N = lower_limit_factor(fit.residual_sd_N)
        loads = (fixed(lowest_load(factor_N, name), 0) for name in ("AA", "A"))
        rows.append((str(fit.side), with_digits(factor_N), *loads))
    table = Table(
        ("plate", "lower limit factor, N", "class AA from, N", "class A from, N"), tuple(rows), (0.25, 0.25, 0.25, 0.25)
    )
    notes = (
        "Lower limit factor: 2.4 times the residual standard deviation (ASTM E74). The standard asks for more runs and"
        " another order of loads than the guided calibration takes.",
        "R 76 III: maximum permissible errors on initial verification of a class III scale (OIML R 76-1:2006);"
        " its creep is over 30 minutes. In service they are twice that. The curve and the loop are compared with the"
        " limit half-way, quarters with the one at a third of the range.",
        "Within, beyond: all of the 95 % interval lies there. Undecided: a part of it does. Of repeated readings the"
        " standard asks for the greatest difference, not for a standard deviation: no verdict there.",
        "Both stand here to compare with. Neither says that this scale has a class.",
    )
    return Section("Beside it, for information", table=table, notes=notes)


def _cautions(found: Found) -> tuple[Section, ...]:
    return (Section("Be careful", points=found.cautions),) if found.cautions else ()
