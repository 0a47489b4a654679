"""One hour at 100 Hz analysed, against a plain loop over its samples and against the low-pass of its columns alone."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scipy.signal import butter, sosfilt, sosfilt_zi

from tests.property.walk import report, row
from weightshare.model import Floats, Side, Trace
from weightshare.pipeline import analyse_trace
from weightshare.pipeline.lowpass import load_kernel
from weightshare.task import Settings

RATE_HZ, HOUR_S = 100.0, 3600
ROUNDS = 9
SETTINGS = Settings(Side.LEFT, 75.0)


def make_hour() -> Trace:
    """An hour of practice: share wanders about the target, the person steps off now and then, readings go missing."""
    rng = np.random.default_rng(20)
    count = round(HOUR_S * RATE_HZ)
    time_s: Floats = np.arange(count, dtype=np.float64) / RATE_HZ
    knots = np.arange(0.0, HOUR_S + 1.0, 1.0)
    share = 75.0 + np.interp(time_s, knots, rng.normal(0.0, 4.0, knots.size)) + rng.normal(0.0, 0.15, count)
    total = 700.0 + rng.normal(0.0, 1.2, count)
    total[time_s % 300.0 > 295.0] = 0.5
    left: Floats = total * share / 100.0
    right: Floats = total - left
    lost = rng.integers(0, count, 100)
    left[lost] = right[lost] = np.nan
    return Trace(time_s, {"left_N": left, "right_N": right})


def measure() -> list[dict[str, Any]]:
    """Return both ratios; what is compared takes turns, so that a busy moment meets all of it."""
    trace = make_hour()
    columns = np.nan_to_num(np.stack([trace.columns["left_N"], trace.columns["right_N"]]))
    section = butter(2, 6.0, fs=RATE_HZ, output="sos")
    state = sosfilt_zi(section)[:, None, :] * columns[:, 0][None, :, None]
    kernel = load_kernel()
    ours, low_pass, bare = _alternate(
        lambda: analyse_trace(trace, SETTINGS),
        lambda: sosfilt(section, columns, axis=1, zi=state),
        lambda: kernel(section, columns.copy(), np.ascontiguousarray(np.swapaxes(state, 0, 1))),
    )
    plain = _plain(trace)
    note = f"{ours * 1e3:.0f} ms, the plain loop {plain:.1f} s"
    beside = f"{ours * 1e3:.0f} ms against {low_pass * 1e3:.1f} ms; {ours / bare:.1f} times the bare compiled kernel"
    return [
        {
            "name": "a plain loop / our analysis, 1 h at 100 Hz",
            "value": plain / ours,
            "limit": 20.0,
            "direction": "at least",
            "note": note,
        },
        {
            "name": "our analysis / sosfilt of the two columns",
            "value": ours / low_pass,
            "limit": 8.0,
            "direction": "at most",
            "note": beside,
        },
    ]


def _plain(trace: Trace) -> float:
    """Return the seconds that the walk from sample to sample takes, its filter a loop too; it must find the same."""
    columns = (trace.time_s.tolist(), trace.columns["left_N"].tolist(), trace.columns["right_N"].tolist())
    table = list(zip(*columns, strict=True))
    begin = time.perf_counter()
    found = report.analyse(table, row.Task("left", 75.0), row.loop_low_pass)
    taken = time.perf_counter() - begin
    band = analyse_trace(trace, SETTINGS).band
    if band is None or abs(band.time_in_band_s - found.time_in_band_s) > 1e-6:
        raise RuntimeError("the plain loop and the analysis do not agree")
    return taken


def _alternate(*works: Callable[[], object]) -> list[float]:
    """Return the least seconds that each work took."""
    taken = [[_seconds(work) for work in works] for _ in range(ROUNDS)]
    return [min(times) for times in zip(*taken, strict=True)]


def _seconds(work: Callable[[], object]) -> float:
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin
