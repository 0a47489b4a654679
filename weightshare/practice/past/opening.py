"""A saved session opened to be looked at: what was kept of it, and its curves as they were measured live."""

from __future__ import annotations

from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path

import numpy as np

from weightshare.errors import RecordError
from weightshare.model import HEIGHT_COLUMNS, SIDE_COLUMNS, Calibration, Floats, Trace
from weightshare.pipeline.analysis import nominal_interval_s
from weightshare.pipeline.block import LEFT, RIGHT, Block
from weightshare.pipeline.fill import Fill
from weightshare.pipeline.lowpass import LowPass, can_filter, delay_s, the_kernel
from weightshare.pipeline.share import find_share, injured_row
from weightshare.pipeline.weight import Weight
from weightshare.practice.past.pyramid import Pyramid
from weightshare.records.calibration import CALIBRATION_NAME, CALIBRATION_NAMES, read_calibration
from weightshare.records.correction import CORRECTIONS_NAME, Corrections, Kept, read_kept
from weightshare.records.digest import Digest, digest_of, parse_digest, read_digest
from weightshare.records.manifest import MANIFEST_NAME, Ending, is_sealed, verify
from weightshare.records.session import ANALYSIS_NAME, PARQUET_NAME, appraise_session, find_session
from weightshare.records.setting import SETTINGS_NAME, SessionHead, read_head
from weightshare.records.trace import read_trace
from weightshare.task import Settings

_BLOCK = 32_768
"""Rows a push: few enough to stay in the cache."""


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """What is drawn. Times (s) have the filter's delay taken off, as the instants of the analysis have.

    `lead` is the injured side's share, percent; in supported work its load, N. Heights (mm) are there where they were
    measured.
    """

    lead: Pyramid
    left_N: Pyramid
    right_N: Pyramid
    left_mm: Pyramid | None
    right_mm: Pyramid | None

    @property
    def span_s(self) -> tuple[float, float]:
        """From the first sample to the last, s."""
        return float(self.lead.time_s[0]), float(self.lead.time_s[-1])


@dataclass(frozen=True, slots=True, eq=False)
class Past:
    """A finished session as it is looked at. `computed`: its analysis was made anew, for what was kept did not do."""

    folder: Path
    head: SessionHead
    digest: Digest
    ending: Ending
    calibrations: tuple[Calibration, ...]
    curves: Curves
    computed: bool = False
    corrections: Corrections = field(default_factory=Corrections)
    """What the clinician corrected of it: it is in the digest."""

    @property
    def settings(self) -> Settings:
        """What it was measured against."""
        return self.head.settings


def open_past(path: Path) -> Past:
    """Open the finished session at `path`: its folder, or the one session's folder in it.

    The files that are read are held against the session's seal; the raw record is not read. Where the analysis that was
    kept is of another version, it is made anew from the raw record, which takes longer. Raises RecordError,
    CalibrationError or TraceError, which names the file.
    """
    folder = find_session(path)
    ending = check_past(folder)
    head = read_head(folder)
    kept = read_kept(folder)
    digest, computed = _find_digest(folder, kept)
    calibrations = tuple(read_calibration(folder / name) for name in _calibrations_in(folder))
    curves = make_curves(read_trace(folder / PARQUET_NAME), head.settings)
    return Past(folder, head, digest, ending, calibrations, curves, computed, kept.corrections)


def prepare() -> None:
    """Load what opening a session needs: while somebody chooses one, there is time for it."""
    import_module("pyarrow.parquet")
    the_kernel()


def check_past(folder: Path) -> Ending:
    """Return how the session in `folder` ended, once the files that are looked at were found as they were sealed.

    Raises RecordError, which names the file, where one was altered or is missing, or the session is not finished.
    """
    if not is_sealed(folder):
        raise RecordError(
            f"{folder}: was not brought to its end; finish it with: weightshare analyse --recover {folder}"
        )
    return verify(folder, (PARQUET_NAME, ANALYSIS_NAME, SETTINGS_NAME, *_calibrations_in(folder))).ending


def _calibrations_in(folder: Path) -> list[str]:
    return [name for name in CALIBRATION_NAMES if (folder / name).is_file()] or [CALIBRATION_NAME]


def _find_digest(folder: Path, kept: Kept) -> tuple[Digest, bool]:
    """Return the digest of the analysis that counts now, and whether it had to be made anew."""
    try:
        if kept.analysis is not None:
            return parse_digest(kept.analysis, folder / CORRECTIONS_NAME), False
        return read_digest(folder / ANALYSIS_NAME), False
    except RecordError:
        appraisal = appraise_session(folder)
        doubt = appraisal.doubt
        return digest_of(appraisal.analysis, None if doubt is None else doubt.share.expanded_points), True


def make_curves(trace: Trace, settings: Settings) -> Curves:
    """Return the curves of `trace`, by the stages that also ran live: fill, low-pass, weight, share."""
    interval_s = nominal_interval_s(trace.time_s)
    cutoff_Hz = settings.filter_Hz
    if cutoff_Hz is not None and not can_filter(cutoff_Hz, interval_s):
        cutoff_Hz = None
    columns = tuple(name for name in (*SIDE_COLUMNS, *HEIGHT_COLUMNS) if name in trace.columns)
    filtered, lead = _run(trace, settings, columns, interval_s, cutoff_Hz)
    time_s = filtered.time_s - delay_s(cutoff_Hz)

    def pyramid(values: Floats) -> Pyramid:
        return Pyramid(time_s, values, interval_s)

    heights = [pyramid(filtered.values[columns.index(name)]) if name in columns else None for name in HEIGHT_COLUMNS]
    return Curves(pyramid(lead), pyramid(filtered.values[LEFT]), pyramid(filtered.values[RIGHT]), *heights)


def _run(
    trace: Trace, settings: Settings, columns: tuple[str, ...], interval_s: float, cutoff_Hz: float | None
) -> tuple[Block, Floats]:
    """Return the filtered rows, and of each the share (percent) or in supported work the load (N)."""
    fill, low_pass = Fill(), LowPass(cutoff_Hz)
    supported = settings.is_supported
    weight = Weight(settings.body_weight_N, settings.added_weight_N, interval_s, supported=supported)
    values = np.stack([trace.columns[name] for name in columns])
    whole = Block(interval_s, columns, trace.time_s, values, np.zeros(trace.time_s.size, dtype=np.uint8))
    blocks, leads = [], []

    def take(block: Block) -> None:
        if block.time_s.size:
            standing, row = weight.push(block), injured_row(settings.injured)
            # where nobody stands there is no heel to be seen
            block.values[2:, ~standing.present] = np.nan
            blocks.append(block)
            leads.append(block.values[row] if supported else find_share(block, standing, settings.injured))

    for start in range(0, trace.time_s.size, _BLOCK):
        take(low_pass.push(fill.push(whole.cut(start, start + _BLOCK))))
    if (rest := low_pass.finish()) is not None:
        take(rest)
    time_s, flags = (np.concatenate(parts) for parts in zip(*((b.time_s, b.flags) for b in blocks), strict=True))
    rows = np.concatenate([block.values for block in blocks], axis=1)
    return Block(interval_s, columns, time_s, rows, flags), np.concatenate(leads)


def is_finished(folder: Path) -> bool:
    """Return whether `folder` is a session that was brought to its end."""
    return (folder / MANIFEST_NAME).is_file()
