"""What weightshare offers to Python programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from weightshare.errors import OptionError
from weightshare.model import Side, Trace
from weightshare.pipeline.analysis import analyse_trace, nominal_interval_s
from weightshare.pipeline.lowpass import can_filter
from weightshare.pipeline.result import Analysis
from weightshare.records.trace import frame_trace
from weightshare.task import DEFAULT_FILTER_HZ, Settings

if TYPE_CHECKING:
    import pandas as pd


def analyse(  # noqa: PLR0917 - the documented face: positional use stays possible
    frame: pd.DataFrame,
    injured: Literal["left", "right"] | Side,
    target_percent: float | None = None,
    tolerance_percent: float = 5.0,
    grace_s: float = 1.0,
    filter_Hz: float | None = DEFAULT_FILTER_HZ,
    body_weight_N: float | None = None,
) -> Analysis:
    """Analyse a trace: share, symmetry, time in the band, holds, gaps.

    frame: a pandas DataFrame with the columns `time_s` (s, strictly increasing), `left_N` and `right_N` (N, vertical
        force under each foot; NaN is a missing reading), and optionally the parts and heel heights of a trace file.
    injured: the injured side, "left" or "right". target_percent, tolerance_percent: the band, in percent of the load on
        the plates and percentage points; without a target band and holds are None. grace_s: how long share may be
        outside within a hold, s. filter_Hz: the live filter's cut-off, Hz, or None. body_weight_N: where it is known.

    Returns the content of the `weightshare.analysis/1` object as typed values; `to_json()` gives the object itself.
    Raises TraceError where the frame is no trace, OptionError where another argument is out of its range.
    """
    settings = Settings(_side(injured), target_percent, tolerance_percent, grace_s, filter_Hz, body_weight_N)
    return analyse_checked(frame_trace(frame), settings)


def analyse_checked(trace: Trace, settings: Settings) -> Analysis:
    """Analyse a trace; a filter that its rate does not allow raises OptionError, unless it is the default one."""
    cutoff_Hz, interval_s = settings.filter_Hz, nominal_interval_s(trace.time_s)
    if cutoff_Hz not in (None, DEFAULT_FILTER_HZ) and not can_filter(cutoff_Hz, interval_s):
        rate_Hz = 1.0 / interval_s
        raise OptionError(
            f"--filter {cutoff_Hz:g} is out of range: {rate_Hz:g} samples a second allow under {rate_Hz / 2:g} Hz"
        )
    return analyse_trace(trace, settings)


def _side(word: str) -> Side:
    try:
        return Side(word)
    except ValueError:
        raise OptionError(f"--injured {word} is out of range: it may be left or right") from None
