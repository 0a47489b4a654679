"""What weightshare offers to Python programs."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import TYPE_CHECKING, Literal, TypeVar

from weightshare.errors import OptionError
from weightshare.exercise import Basis, Ceiling, Exercise, SetSpan, Surface, Tempo, parse_ceiling, parse_tempo
from weightshare.model import Side, Trace
from weightshare.pipeline.analysis import analyse_trace, nominal_interval_s
from weightshare.pipeline.lowpass import can_filter
from weightshare.pipeline.result import Analysis
from weightshare.records.trace import frame_trace
from weightshare.task import DEFAULT_FILTER_HZ, Settings, check_together

if TYPE_CHECKING:
    import pandas as pd

_Word = TypeVar("_Word", bound=StrEnum)


def analyse(  # noqa: PLR0917 - the documented face: positional use stays possible
    frame: pd.DataFrame,
    injured: Literal["left", "right"] | Side,
    target_percent: float | None = None,
    tolerance_percent: float = 5.0,
    grace_s: float = 1.0,
    filter_Hz: float | None = DEFAULT_FILTER_HZ,
    body_weight_N: float | None = None,
    *,
    added_weight_N: float = 0.0,
    exercise: str | Exercise | None = None,
    tempo: str | Tempo | None = None,
    surface: str | Surface = Surface.FLOOR,
    basis: str | Basis | None = None,
    reference_height_mm: float | None = None,
    working: Literal["left", "right"] | Side | None = None,
    one_sided: bool = False,
    ceiling: str | Ceiling | None = None,
    sets: Sequence[SetSpan] = (),
) -> Analysis:
    """Analyse a trace: share, symmetry, time in the band, holds, repetitions, sets, gaps.

    frame: a pandas DataFrame with the columns `time_s` (s, strictly increasing), `left_N` and `right_N` (N, vertical
        force under each foot; NaN is a missing reading), and optionally the parts and heel heights of a trace file.
    injured: the injured side, "left" or "right". target_percent, tolerance_percent: the band, in percent of the load on
        the plates and percentage points; without a target band and holds are None. grace_s: how long share may be
        outside within a hold, s. filter_Hz: the live filter's cut-off, Hz, or None. body_weight_N: where it is known;
        added_weight_N: what is carried.
    exercise: what was done, by the names of `--stage`; None: not known, and repetitions are looked for as well as can
        be. tempo: as "1-1-3-1". surface: "floor" or "step". basis: "height", "force" or "paced"; None: the best that is
        measured. reference_height_mm: a full raise. working: the leg that works in single-leg work. one_sided: the band
        has no upper edge. ceiling: as "20kg" or "25%". sets: which stretches of time are sets.

    Returns the content of the `weightshare.analysis/1` object as typed values; `to_json()` gives the object itself.
    Raises TraceError where the frame is no trace, OptionError where another argument is out of its range.
    """
    settings = Settings(
        _read(Side, "--injured", injured),
        target_percent,
        tolerance_percent,
        grace_s,
        filter_Hz,
        body_weight_N,
        added_weight_N,
        exercise=None if exercise is None else _read(Exercise, "--stage", exercise),
        surface=_read(Surface, "--surface", surface),
        basis=None if basis is None else _read(Basis, "--basis", basis),
        reference_height_mm=reference_height_mm,
        tempo=parse_tempo(tempo) if isinstance(tempo, str) else tempo,
        working=None if working is None else _read(Side, "--working", working),
        one_sided=one_sided,
        ceiling=parse_ceiling(ceiling) if isinstance(ceiling, str) else ceiling,
    )
    return analyse_checked(frame_trace(frame), check_together(settings), sets)


def analyse_checked(trace: Trace, settings: Settings, sets: Sequence[SetSpan] = ()) -> Analysis:
    """Analyse a trace; a filter that its rate does not allow raises OptionError, unless it is the default one."""
    cutoff_Hz, interval_s = settings.filter_Hz, nominal_interval_s(trace.time_s)
    if cutoff_Hz not in (None, DEFAULT_FILTER_HZ) and not can_filter(cutoff_Hz, interval_s):
        rate_Hz = 1.0 / interval_s
        raise OptionError(
            f"--filter {cutoff_Hz:g} is out of range: {rate_Hz:g} samples a second allow under {rate_Hz / 2:g} Hz"
        )
    return analyse_trace(trace, settings, sets)


def _read(kind: type[_Word], option: str, word: str) -> _Word:
    try:
        return kind(word)
    except ValueError:
        raise OptionError(f"{option} {word} is out of range: it may be {', '.join(kind)}") from None
