"""The analysis as a table that a person reads."""

from __future__ import annotations

from weightshare.pipeline.result import Analysis
from weightshare.state import Hold

_WIDTH = 28


def _figure(value: float | None, unit: str, digits: int = 1) -> str:
    return "not known" if value is None else f"{value:.{digits}f} {unit}"


def analysis_table(analysis: Analysis) -> str:
    """Return the analysis as lines of a name and a figure, the holds as a table, warnings at the end."""
    share = analysis.share_percent
    rows = [
        ("injured side", str(analysis.injured_side)),
        ("recorded", f"{analysis.duration_s:.1f} s, {analysis.samples} samples at {analysis.rate_Hz:g} Hz"),
        ("body weight", _figure(analysis.body_weight_N, "N")),
        ("on the plates", _figure(analysis.on_plates_percent, "% of body weight")),
        ("share of the injured side", f"mean {_figure(share.mean, '%')}, sd {_figure(share.sd, 'points')}"),
        ("", f"least {_figure(share.min, '%')}, greatest {_figure(share.max, '%')}"),
        *_symmetry_rows(analysis),
        *_band_rows(analysis),
    ]
    lines = [f"{name:{_WIDTH}}{value}" for name, value in rows]
    lines += _hold_lines(analysis.holds or ())
    lines += [f"gap from {gap.start_s:.2f} to {gap.end_s:.2f} s" for gap in analysis.gaps]
    return "\n".join(lines + [f"note: {warning}" for warning in analysis.warnings])


def _symmetry_rows(analysis: Analysis) -> list[tuple[str, str]]:
    symmetry = analysis.symmetry
    if symmetry.steered:
        return [("symmetry", "none: the share was steered to a target")]
    return [
        ("limb symmetry index", _figure(symmetry.limb_symmetry_index_percent, "%")),
        ("symmetry index", _figure(symmetry.symmetry_index_percent, "%")),
        ("symmetry angle", _figure(symmetry.symmetry_angle_percent, "%")),
    ]


def _band_rows(analysis: Analysis) -> list[tuple[str, str]]:
    band = analysis.band
    if band is None:
        return []
    return [
        ("band", f"{band.target_percent:g} % +- {band.tolerance_percent:g} points, grace {band.grace_s:g} s"),
        ("time in the band", f"{band.time_in_band_s:.1f} s of {band.time_present_s:.1f} s on the scales"),
        ("holds", f"{len(analysis.holds or ())}, held {_figure(analysis.total_held_s, 's')} in all"),
        ("longest hold", _figure(analysis.longest_hold_s, "s")),
    ]


def _hold_lines(holds: tuple[Hold, ...]) -> list[str]:
    if not holds:
        return []
    lines = [f"{'hold':>6}{'from':>10}{'to':>10}{'held':>10}"]
    for number, hold in enumerate(holds, start=1):
        mark = "  supported" if hold.supported else ""
        lines.append(f"{number:6}{hold.start_s:8.2f} s{hold.end_s:8.2f} s{hold.held_s:8.2f} s{mark}")
    return lines
