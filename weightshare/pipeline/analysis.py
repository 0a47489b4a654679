"""From what the stages hold to the analysis, and the analysis of a whole trace."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from weightshare.exercise import Basis, Exercise, Repetition, SetSpan
from weightshare.model import TRACE_COLUMNS, Trace
from weightshare.pipeline.aim import EVEN_PERCENT
from weightshare.pipeline.block import Block
from weightshare.pipeline.endurance import Session
from weightshare.pipeline.fatigue import AT_LEAST
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.result import (
    NO_HOLDS,
    Analysis,
    BandSummary,
    Gap,
    LoadSummary,
    ShareSummary,
    StandSummary,
    SymmetrySummary,
)
from weightshare.pipeline.sets import SetResult, sum_up
from weightshare.pipeline.symmetry import limb_symmetry_index, symmetry_angle, symmetry_index
from weightshare.pipeline.tally import Tally
from weightshare.task import Settings

_SUPPORTED = "share, symmetry and body weight are not told: a part of the weight is elsewhere in supported work"
_NOT_STOOD = "the warm-up stand is not known: it was not over, on both feet, once body weight was known"
_BLOCK = 32_768
"""Samples a push when a whole trace is analysed: large enough to be fast, small enough to stay in the cache."""


def summarise(settings: Settings, tally: Tally, more_warnings: tuple[str, ...] = ()) -> Analysis:
    """Return the analysis of what was tallied. Call it after the stream's end was told to the stages."""
    sets = sum_up(tally.repetitions, tally.spans, settings)
    warnings = [*more_warnings, *tally.warnings, *_say_what_is_missing(settings, tally), *_say_of_sets(sets)]
    return Analysis(
        injured_side=settings.injured,
        duration_s=tally.duration_s,
        samples=tally.samples,
        rate_Hz=tally.rate_Hz,
        body_weight_N=tally.body_weight_N,
        on_plates_percent=tally.on_plates_percent,
        share_percent=ShareSummary(tally.share_mean, tally.share_sd, tally.share_min, tally.share_max),
        symmetry=_symmetry(settings, tally),
        band=_band(settings, tally),
        holds=None if not settings.has_band or settings.is_repeated else tally.holds,
        gaps=tuple(Gap(start, end) for start, end in tally.gaps),
        warnings=tuple(warnings),
        exercise=settings.exercise,
        basis=tally.basis,
        repetitions=tally.repetitions,
        rejected=tally.rejected,
        sets=sets,
        endurance=Session(settings, tally.repetitions, tally.rejected, tally.spans, tally.faults_s).compare_legs(),
        ceiling=tally.ceiling_events,
        injured_N=tally.injured_N,
        uninjured_N=tally.uninjured_N,
        load=_load(settings, tally),
        stand=_stand(settings, tally),
    )


def _stand(settings: Settings, tally: Tally) -> StandSummary | None:
    stood = tally.stood
    if stood is None:
        return None
    return StandSummary(stood.from_s, stood.to_s, stood.share_percent(settings.injured))


def _symmetry(settings: Settings, tally: Tally) -> SymmetrySummary:
    # on one leg the share is the exercise's, whether or not a target was given
    steered = settings.is_single or settings.is_supported or settings.target_percent not in (None, EVEN_PERCENT)
    injured, uninjured = tally.injured_N, tally.uninjured_N
    if injured is None or uninjured is None or settings.is_supported:
        return SymmetrySummary(None, None, None, steered)
    return SymmetrySummary(
        limb_symmetry_index(injured, uninjured),
        symmetry_index(injured, uninjured),
        symmetry_angle(injured, uninjured),
        steered,
    )


def _band(settings: Settings, tally: Tally) -> BandSummary | None:
    if settings.target_percent is None:
        return None
    return BandSummary(
        settings.target_percent,
        settings.tolerance_percent,
        settings.grace_s,
        tally.time_in_band_s,
        tally.time_present_s,
    )


def _load(settings: Settings, tally: Tally) -> LoadSummary | None:
    if settings.load_N is None:
        return None
    told = settings.load_N, settings.load_tolerance_N, settings.grace_s
    return LoadSummary(*told, tally.time_in_band_s, tally.time_present_s)


def _say_what_is_missing(settings: Settings, tally: Tally) -> list[str]:
    warnings = [_SUPPORTED] if settings.is_supported else _say_of_load(tally)
    if settings.is_repeated and settings.target_percent is not None:
        warnings.append(NO_HOLDS)
    if settings.exercise is Exercise.HEEL_HOLD and not tally.heels_seen:
        warnings.append("whether the heels were up is not known: load only, heel not seen")
    for name, done in (("hold", () if settings.is_repeated else tally.holds), ("repetition", tally.repetitions)):
        if any(one.supported is None for one in done):
            warnings.append(f"whether every {name} was supported is not known: body weight was not known then")
    if any(_is_unsteadiness_missing(one) for one in tally.repetitions):
        warnings.append("how steady the top of a repetition was is not known: too few readings came there")
    if any(None in (one.share_lowering_thirds_percent or ()) for one in tally.repetitions):
        warnings.append("the share in a third of a lowering is not known: too little of it was read")
    asked = settings.stand_s is not None or settings.body_weight_N is None
    if tally.stood is None and tally.body_weight_N is not None and asked:
        warnings.append(_NOT_STOOD)
    if not settings.has_band:
        warnings.append("band and holds are not known: no target was given")
    return warnings


def _is_unsteadiness_missing(one: Repetition) -> bool:
    """Return whether the share at the top could be told, but not how steady share or heel were there."""
    heel = one.basis is Basis.HEIGHT and one.top_height_sd_mm is None
    return heel or (one.top_share_sd_points is None and one.share_top_percent is not None)


def _say_of_load(tally: Tally) -> list[str]:
    """Say why figures of load and share are missing."""
    if tally.share_mean is None:
        weight = "" if tally.body_weight_N else "body weight, "
        return [f"{weight}share, symmetry and the part on the plates are not known: nobody stood on the scales"]
    warnings = []
    if tally.share_min is None:
        warnings.append("least and greatest share are not known: nobody stood for longer than a second")
    if tally.uninjured_N == 0.0:
        warnings.append("the limb symmetry index is not known: there was no load on the other side")
    if tally.body_weight_N is None:
        warnings.append("body weight and the part on the plates are not known: there were no three still seconds")
    elif tally.on_plates_percent is None:
        warnings.append("the part on the plates is not known: nobody stood after body weight was known")
    return warnings


def _say_of_sets(sets: Sequence[SetResult]) -> list[str]:
    """Say why figures of sets are missing that are missing of none of their repetitions."""
    empty = [one for one in sets if not one.repetitions]
    warnings = ["figures of a set are not known: no repetition counted in it"] if empty else []
    if any(one.fatigue is None for one in sets if one not in empty):
        warnings.append(f"fatigue in a set is not known: it takes {AT_LEAST} repetitions or more")
    return warnings


def nominal_interval_s(time_s: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
    """Return a trace's nominal sample interval, s: the median step of its times (n,), n of two or more."""
    return float(np.median(np.diff(time_s)))


def analyse_trace(trace: Trace, settings: Settings, spans: Sequence[SetSpan] = ()) -> Analysis:
    """Return the analysis of a trace of two or more samples, by the stages that also run live; `spans`: its sets."""
    measure = Measure(settings)
    interval_s = nominal_interval_s(trace.time_s)
    columns = tuple(name for name in TRACE_COLUMNS if name in trace.columns)
    values = np.stack([trace.columns[name] for name in columns])
    flags = np.zeros(trace.time_s.size, dtype=np.uint8)
    whole = Block(interval_s, columns, trace.time_s, values, flags)
    for span in spans:
        measure.begin_set(span)
    for start in range(0, trace.time_s.size, _BLOCK):
        measure.push(whole.cut(start, start + _BLOCK))
    measure.finish()
    return summarise(settings, measure.tally())
