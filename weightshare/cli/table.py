"""The analysis as a table that a person reads."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean

from weightshare.cli.count import endurance_rows, repetition_lines, set_lines
from weightshare.cli.verdict import answer_rows
from weightshare.exercise import Basis, CeilingEvent, Rejected
from weightshare.metrology.build import say_assumed
from weightshare.metrology.heel import height_u_mm
from weightshare.metrology.share import COVERAGE_FACTOR
from weightshare.model import STANDARD_GRAVITY
from weightshare.pipeline.result import NO_HOLDS, Analysis
from weightshare.pipeline.symmetry import indices_u
from weightshare.records.answer import Answer
from weightshare.records.appraisal import NOT_GIVEN, Appraisal, Doubt
from weightshare.report.digit import in_plain, plus_minus, rounded_up
from weightshare.state import Hold

_WIDTH = 28
_BASES = {
    Basis.HEIGHT: "by the heel's height",
    Basis.FORCE: "by the forces alone",
    Basis.PACED: "by the metronome",
}


def _figure(value: float | None, unit: str, digits: int = 1) -> str:
    # a rounded figure has no minus zero
    return "not known" if value is None else f"{round(value, digits) + 0.0:.{digits}f} {unit}"


def appraisal_table(appraisal: Appraisal) -> str:
    """Return the analysis as that table, with what its numbers are worth."""
    missing = "" if appraisal.missing == NOT_GIVEN else appraisal.missing
    heel = _heel_rows(appraisal)
    return analysis_table(appraisal.analysis, appraisal.doubt, appraisal.answers, missing=missing, heel=heel)


def analysis_table(
    analysis: Analysis,
    doubt: Doubt | None = None,
    answers: Sequence[Answer] = (),
    *,
    missing: str = "",
    heel: Sequence[tuple[str, str]] = (),
) -> str:
    """Return the analysis as lines of a name and a figure; holds, repetitions and sets as tables; notes at the end."""
    rows = [
        ("injured side", str(analysis.injured_side)),
        *([] if analysis.exercise is None else [("stage", str(analysis.exercise))]),
        ("recorded", f"{analysis.duration_s:.1f} s, {analysis.samples} samples at {analysis.rate_Hz:g} Hz"),
        *([] if analysis.load is not None else _share_rows(analysis, doubt, missing)),
        *_band_rows(analysis),
        *_load_rows(analysis),
        *_count_rows(analysis),
        *heel,
        *endurance_rows(analysis.endurance),
        *answer_rows(answers),
        *_ceiling_rows(analysis.ceiling),
    ]
    lines = [f"{name:{_WIDTH}}{value}" for name, value in rows]
    lines += _hold_lines(analysis.holds or ())
    lines += repetition_lines(analysis)
    lines += set_lines(analysis)
    lines += [f"gap from {gap.start_s:.2f} to {gap.end_s:.2f} s" for gap in analysis.gaps]
    return "\n".join(lines + [f"note: {warning}" for warning in analysis.warnings if warning != NO_HOLDS])


def _share_rows(analysis: Analysis, doubt: Doubt | None, missing: str) -> list[tuple[str, str]]:
    """Return what is told of the whole weight: not in supported work, where a part of it is elsewhere."""
    share = analysis.share_percent
    return [
        ("body weight", _figure(analysis.body_weight_N, "N")),
        ("on the plates", _figure(analysis.on_plates_percent, "% of body weight")),
        ("share of the injured side", f"mean {_mean(share.mean, doubt)}, sd {_figure(share.sd, 'points')}"),
        ("", f"least {_figure(share.min, '%')}, greatest {_figure(share.max, '%')}, of all the time standing"),
        *_doubt_rows(doubt, missing),
        *_symmetry_rows(analysis, doubt),
        *_stand_rows(analysis),
    ]


def _stand_rows(analysis: Analysis) -> list[tuple[str, str]]:
    stand = analysis.stand
    if stand is None:
        return []
    lasted = f"{stand.to_s - stand.from_s:.0f} s, unsteered"
    return [("warm-up stand", f"{stand.share_percent:.2f} % on the injured side, {lasted}; no mark to pass")]


def _mean(percent: float | None, doubt: Doubt | None) -> str:
    """Return the mean share, with its expanded uncertainty (k = 2) where that is known."""
    if doubt is None or percent is None:
        return _figure(percent, "%")
    return f"{percent:.2f} +- {_up(doubt.share.expanded_points)} %"


def _up(points: float) -> str:
    """Return an uncertainty with two decimals, rounded up: it is never said to be smaller than it is."""
    return f"{rounded_up(points, 2):.2f}"


def _doubt_rows(doubt: Doubt | None, missing: str) -> list[tuple[str, str]]:
    """Say what the uncertainty rests on, or why there is none."""
    if doubt is None:
        return [("", f"its uncertainty is not known: {missing}")] if missing else []
    assumed = doubt.share.assumed
    rests = f"assumed, not measured: {say_assumed(assumed)}" if assumed else "measured on this scale"
    return [("", f"uncertainty with k = 2, {rests}")]


def _symmetry_rows(analysis: Analysis, doubt: Doubt | None) -> list[tuple[str, str]]:
    """Return the symmetry of standing; what is repeated, or held with rests between, has none in its mean force."""
    symmetry = analysis.symmetry
    if symmetry.steered:
        return [("symmetry", "none: the share was steered to a target")]
    if analysis.exercise is not None:
        return [("symmetry", "see weightshare symmetry: measure by measure, with what each can tell")]
    lsi = symmetry.limb_symmetry_index_percent
    halves = (None,) * 3 if doubt is None or lsi is None else indices_u(lsi, doubt.share.expanded_points)
    told = (
        ("limb symmetry index", lsi),
        ("symmetry index", symmetry.symmetry_index_percent),
        ("symmetry angle", symmetry.symmetry_angle_percent),
    )
    rows = [(name, _with(value, half)) for (name, value), half in zip(told, halves, strict=True)]
    return [*rows, ("", "no pass mark: healthy people differ by about 7 points of share between two stands")]


def _with(percent: float | None, half: float | None) -> str:
    if percent is None or half is None:
        return _figure(percent, "%")
    return f"{in_plain(plus_minus(percent, half))} %"


def _load_rows(analysis: Analysis) -> list[tuple[str, str]]:
    load = analysis.load
    if load is None:
        return []
    aim, spread = load.target_N / STANDARD_GRAVITY, load.tolerance_N / STANDARD_GRAVITY
    return [
        ("load asked for", f"{aim:.1f} kg +- {spread:.1f} kg on the injured side, grace {load.grace_s:g} s"),
        ("time in the band", f"{load.time_in_band_s:.1f} s of {load.time_present_s:.1f} s on the scales"),
        ("holds", f"{len(analysis.holds or ())}, held {_figure(analysis.total_held_s, 's')} in all"),
        ("longest hold", _figure(analysis.longest_hold_s, "s")),
    ]


def _band_rows(analysis: Analysis) -> list[tuple[str, str]]:
    band = analysis.band
    if band is None:
        return []
    if analysis.exercise is not None and analysis.exercise.is_single:
        # between its repetitions somebody stands on both feet: time there is not beside a band
        return [("asked", "the working leg alone")]
    turns = analysis.exercise is not None and analysis.exercise.turns
    way = "even on the way up, then " if turns else ""
    grace = "" if analysis.holds is None else f", grace {band.grace_s:g} s"
    rows = [
        ("band", f"{way}{band.target_percent:g} % +- {band.tolerance_percent:g} points{grace}"),
        ("time in the band", f"{band.time_in_band_s:.1f} s of {band.time_present_s:.1f} s on the scales"),
    ]
    if analysis.holds is None:
        return rows
    return [
        *rows,
        ("holds", f"{len(analysis.holds)}, held {_figure(analysis.total_held_s, 's')} in all"),
        ("longest hold", _figure(analysis.longest_hold_s, "s")),
    ]


def _count_rows(analysis: Analysis) -> list[tuple[str, str]]:
    """Return how many repetitions there were and on what they rest, and each lift that was not counted."""
    if analysis.basis is None:
        known = analysis.exercise is None or not analysis.exercise.is_repeated
        return [] if known else [("repetitions", "not known")]
    count = len(analysis.repetitions)
    rows = [("repetitions", f"{count or 'none'}, {_BASES[analysis.basis]}")]
    names = ["rejected", *[""] * len(analysis.rejected)]
    return rows + [(name, _say_rejected(one)) for name, one in zip(names, analysis.rejected, strict=False)]


def _heel_rows(appraisal: Appraisal) -> list[tuple[str, str]]:
    """Return what a height is worth, at the mean of each repetition's greater one; nothing where it is not known."""
    both = [(one.height_injured_mm, one.height_uninjured_mm) for one in appraisal.analysis.repetitions]
    heights = [max(known) for pair in both if (known := [mm for mm in pair if mm is not None])]
    if appraisal.heel is None or not heights:
        return []
    mean_mm = fmean(heights)
    half_mm = rounded_up(COVERAGE_FACTOR * height_u_mm(appraisal.heel, mean_mm), 1)
    rests = "assumed, not measured on this scale" if appraisal.heel_assumed else "measured on this scale"
    return [("heel height", f"+- {half_mm:.1f} mm at {mean_mm:.0f} mm, with k = 2, {rests}")]


def _say_rejected(rejected: Rejected) -> str:
    return f"{rejected.start_s:.2f} to {rejected.end_s:.2f} s: {rejected.reason}"


def _ceiling_rows(events: tuple[CeilingEvent, ...] | None) -> list[tuple[str, str]]:
    if events is None:
        return []
    crossings = sum(not event.unread for event in events)
    rows = [("over the ceiling", f"{crossings} times" if crossings else "never")]
    return rows + [("", _say_event(event)) for event in events]


def _say_event(event: CeilingEvent) -> str:
    end_s, lasted_s = event.end_s, event.duration_s
    span = f"from {event.start_s:.2f} s" if end_s is None else f"{event.start_s:.2f} to {end_s:.2f} s"
    words = span if lasted_s is None else f"{span}, for {lasted_s:.2f} s"
    if event.unread:
        return f"{words}: not watched, the load could not be read"
    peak_N = event.peak_N
    return words if peak_N is None else f"{words}: up to {peak_N:.0f} N ({peak_N / STANDARD_GRAVITY:.1f} kg)"


def _hold_lines(holds: tuple[Hold, ...]) -> list[str]:
    if not holds:
        return []
    lines = [f"{'hold':>6}{'from':>10}{'to':>10}{'held':>10}"]
    for number, hold in enumerate(holds, start=1):
        mark = "  supported" if hold.supported else ""
        lines.append(f"{number:6}{hold.start_s:8.2f} s{hold.end_s:8.2f} s{hold.held_s:8.2f} s{mark}")
    return lines
