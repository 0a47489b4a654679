"""An analysis together with what its numbers are worth: what the commands print and a session's folder keeps.

`appraise(analysis, settings, calibration, ...)` makes an `Appraisal`; its `to_json` is the analysis's own object with
more keys after it. Whatever else is judged from an analysis and its uncertainty goes on from an `Appraisal`: `analysis`
has the numbers, `settings` what was asked for, `doubt` what they are worth (None, and `missing` says why), `answers`
what was reached of what was asked for.
Uncertainties of shares are in points, of forces in N; `doubt.share` has the standard uncertainty of the mean share,
everything else is expanded.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from weightshare.exercise import Repetition
from weightshare.metrology.build import worth_of
from weightshare.metrology.heel import heel_of, travel_u_J
from weightshare.metrology.share import (
    APART,
    COVERAGE_FACTOR,
    UNEVEN,
    LoadDoubt,
    ShareDoubt,
    live_bandwidth_Hz,
    mean_bandwidth_Hz,
    share_doubt,
    side_doubt,
)
from weightshare.model import Calibration, Channel, HeelWorth, Side, Trace, Worth
from weightshare.pipeline.result import Analysis, rounded
from weightshare.records.answer import Answer, answer
from weightshare.records.correction import Corrections
from weightshare.records.support import HeldLoad, held_load
from weightshare.task import Settings

NOT_GIVEN = "no calibration was given, so nothing is known of what the forces are worth: give --calibration FILE"
ZERO_NOT_TAKEN = "the zero was not taken, and how far the calibration's own is off is not known"
SUPPORTED = "no share is told of supported work: a part of the weight is elsewhere"
NOBODY = "nobody stood on the scales"


@dataclass(frozen=True, slots=True)
class RepetitionDoubt:
    """The expanded uncertainty (k = 2) of one repetition's shares, points; None where there is no share."""

    share_rise_points: float | None
    share_top_points: float | None
    share_lowering_points: float | None
    load_travel_injured_J: float | None = None
    load_travel_uninjured_J: float | None = None
    """Of load x heel travel, J; None where there is none, or what the height is worth is not known."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """What the numbers of one analysis are worth; expanded uncertainties (k = 2) but for `share`."""

    share: ShareDoubt
    """Of the mean share, with its parts."""
    holds: tuple[float, ...]
    """Of the share within each hold, at the middle of the band, points."""
    repetitions: tuple[RepetitionDoubt, ...]
    body_weight_N: float | None
    ceiling_N: float | None
    """Of the injured side's unfiltered force at the ceiling; None where none was set."""

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values; `parts` are standard uncertainties of the mean share, in points."""
        return {
            "coverage_factor": COVERAGE_FACTOR,
            "share_mean_points": self.share.expanded_points,
            "assumed": list(self.share.assumed),
            "parts": dict(self.share.parts),
            "correlation": self.share.correlation,
            "holds": list(self.holds),
            "repetitions": [{name: getattr(one, name) for name in one.__slots__} for one in self.repetitions],
            "body_weight_N": self.body_weight_N,
            "ceiling_N": self.ceiling_N,
        }


@dataclass(frozen=True, slots=True)
class Appraisal:
    """An analysis and what it is worth. `missing` says why `doubt` is None; else it is empty."""

    analysis: Analysis
    settings: Settings
    doubt: Doubt | None = None
    missing: str = ""
    answers: tuple[Answer, ...] = ()
    """What was asked of the share, and whether it was reached."""
    load: HeldLoad | None = None
    """Of supported work; None where a share was asked for, or nothing was held."""
    corrections: Corrections = field(default_factory=Corrections)
    """What the clinician corrected: it is in the analysis."""
    heel: HeelWorth | None = None
    """What heights are worth; None where none were measured, or it is not known."""
    heel_assumed: bool = False
    """Whether that is the standard build's, because nobody measured it on this scale."""

    def to_json(self) -> dict[str, Any]:
        """Return the analysis's object, after it `uncertainty` and `uncertainty_missing`, one of them null,
        `height_worth`, `held_load` and `decisions`; `corrections` where there are any."""
        uncertainty = None if self.doubt is None else rounded(self.doubt.to_json())
        corrections = {"corrections": rounded(self.corrections.to_json())} if self.corrections.entries else {}
        return {
            **self.analysis.to_json(),
            "uncertainty": uncertainty,
            "uncertainty_missing": self.missing or None,
            "height_worth": None if self.heel is None else rounded(self._heel_to_json(self.heel)),
            "held_load": None if self.load is None else rounded(self.load.to_json()),
            "decisions": [rounded(one.to_json()) for one in self.answers],
            **corrections,
        }

    def _heel_to_json(self, heel: HeelWorth) -> dict[str, Any]:
        """Return what makes a height's standard uncertainty: that of the sensor, and a part of the height."""
        return {"height_mm": heel.height_mm, "place_part": heel.place_part, "assumed": self.heel_assumed}


def appraise(
    analysis: Analysis,
    settings: Settings,
    calibration: Calibration | None,
    channels: Sequence[Channel] | None = None,
    *,
    zero_taken: bool | None = True,
    uneven: bool = False,
    trace: Trace | None = None,
) -> Appraisal:
    """Return `analysis` with what it is worth.

    calibration: that of the forces; None: not known. channels: the scale's. zero_taken: whether the session's zero was.
    uneven: whether the two plates were found not to read alike, which the calibration knows nothing of.
    trace: unfiltered, for the share while held, which is not known without it.
    """
    worth = None if calibration is None else worth_of(calibration, channels)
    missing = UNEVEN if uneven else _find_missing(analysis, worth, zero_taken, supported=settings.is_supported)
    if settings.is_supported:
        known = None if missing else worth
        load = None if trace is None else held_load(trace, analysis.holds or (), settings.injured, known)
        return Appraisal(analysis, settings, None, missing or SUPPORTED, load=load)
    high = any(one.height_injured_mm is not None for one in analysis.repetitions)
    heel, assumed = (None, False) if calibration is None or not high else heel_of(calibration)
    doubt = None if missing or worth is None else _Appraiser(analysis, settings, worth, heel).judge()
    answers = answer(analysis, settings, doubt, missing, trace)
    return Appraisal(analysis, settings, doubt, missing, answers, heel=heel, heel_assumed=assumed)


def _find_missing(analysis: Analysis, worth: Worth | None, zero_taken: bool | None, *, supported: bool = False) -> str:
    if worth is None:
        return NOT_GIVEN
    if not zero_taken:
        return ZERO_NOT_TAKEN
    lacking = [str(side) for side in Side if side not in {one.side for one in worth.sides}]
    if lacking:
        return f"the calibration does not say what the {' and the '.join(lacking)} side is worth"
    share = analysis.share_percent.mean
    if supported:
        return ""
    if share is None or analysis.injured_N is None or analysis.uninjured_N is None:
        return NOBODY
    return APART if _clock_points(analysis) is None else ""


def _clock_points(analysis: Analysis) -> float | None:
    """Return what two scales' clocks do to the share, points (standard uncertainty): 0 with one scale, None unknown."""
    return 0.0 if analysis.alignment is None else analysis.alignment.share_doubt_points


class _Appraiser:
    """Judges shares at the mean total of one analysis, averaged over what they are means of."""

    def __init__(self, analysis: Analysis, settings: Settings, worth: Worth, heel: HeelWorth | None) -> None:
        assert analysis.injured_N is not None and analysis.uninjured_N is not None
        self._analysis, self._settings, self._worth, self._heel = analysis, settings, worth, heel
        self._total_N = analysis.injured_N + analysis.uninjured_N

    def judge(self) -> Doubt:
        analysis = self._analysis
        assert analysis.share_percent.mean is not None
        present_s = analysis.duration_s if analysis.band is None else analysis.band.time_present_s
        share = self._share(analysis.share_percent.mean, present_s)
        assert share is not None
        return Doubt(
            share,
            self._holds(),
            tuple(self._repetition(one, share) for one in analysis.repetitions),
            self._body_weight(),
            self._ceiling(),
        )

    def _share(self, percent: float | None, seconds: float | None) -> ShareDoubt | None:
        if percent is None or seconds is None:
            return None
        injured_N = 0.01 * percent * self._total_N
        forces = injured_N, self._total_N - injured_N
        left_N, right_N = forces if self._analysis.injured_side is Side.LEFT else forces[::-1]
        newest_Hz = live_bandwidth_Hz(self._settings.filter_Hz, self._analysis.rate_Hz)
        bandwidth_Hz = min(newest_Hz, mean_bandwidth_Hz(seconds))
        clock_points = _clock_points(self._analysis) or 0.0
        return share_doubt(self._worth, left_N, right_N, bandwidth_Hz, clock_points=clock_points)

    def _points(self, percent: float | None, seconds: float | None) -> float | None:
        doubt = self._share(percent, seconds)
        return None if doubt is None else doubt.expanded_points

    def _holds(self) -> tuple[float, ...]:
        target = self._settings.target_percent
        found = (self._points(target, hold.held_s) for hold in self._analysis.holds or ())
        return tuple(points for points in found if points is not None)

    def _repetition(self, one: Repetition, mean: ShareDoubt) -> RepetitionDoubt:
        injured = self._analysis.injured_side
        return RepetitionDoubt(
            self._points(one.share_rise_percent, one.rise_duration_s),
            self._points(one.share_top_percent, one.top_duration_s),
            self._points(one.share_lowering_percent, one.lowering_duration_s),
            self._travel_J(one.load_travel_injured_J, one.height_injured_mm, mean.load(injured)),
            self._travel_J(one.load_travel_uninjured_J, one.height_uninjured_mm, mean.load(injured.other)),
        )

    def _travel_J(self, travel_J: float | None, height_mm: float | None, load: LoadDoubt) -> float | None:
        if self._heel is None or travel_J is None or height_mm is None or load.part is None:
            return None
        return COVERAGE_FACTOR * travel_u_J(self._heel, travel_J, height_mm, load.part)

    def _body_weight(self) -> float | None:
        """Return U of body weight, a median over 3 s; None where it was not measured."""
        weight_N = self._analysis.body_weight_N
        if weight_N is None or self._settings.body_weight_N is not None:
            return None
        half, bandwidth_Hz = 0.5 * weight_N, mean_bandwidth_Hz(3.0)
        doubt = share_doubt(self._worth, half, half, bandwidth_Hz)
        assert doubt is not None
        left, right = doubt.left.u_N, doubt.right.u_N
        return COVERAGE_FACTOR * math.sqrt(left**2 + right**2 + 2.0 * doubt.correlation * left * right)

    def _ceiling(self) -> float | None:
        ceiling, weight_N = self._settings.ceiling, self._analysis.body_weight_N
        limit_N = None if ceiling is None else ceiling.limit_N(weight_N)
        if limit_N is None:
            return None
        unfiltered_Hz = live_bandwidth_Hz(None, self._analysis.rate_Hz)
        return side_doubt(self._worth, self._settings.injured, limit_N, unfiltered_Hz).expanded_N
