"""The drift log of a scale: what its zero and its two sides were worth, session by session. Nothing of any patient."""

from __future__ import annotations

import json
import math
import os
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import numpy as np

from weightshare.metrology.trend import Trend, fit_trend
from weightshare.model import Floats, Side
from weightshare.records.place import calibration_folder
from weightshare.records.whole import FILE_MODE, FOLDER_MODE, sync_file, write_all

SCHEMA = "weightshare.drift/1"
ZERO_LIMIT_N = 20.0
"""A zero this far from the calibration's is not believed; the same limit as when a session takes it."""
MISMATCH_LIMIT_PERCENT = 1.0
TREND_LIMIT_N = 2.0
"""A zero that wanders steadily, by this much a month or more, is told of (common practice, no source)."""
SECONDS_PER_DAY = 86_400.0


@dataclass(frozen=True, slots=True)
class Entry:
    """What one session or one check found. A figure that was not found is None.

    `calibrated_on` is the date of the calibration that the zeros are told against.
    """

    at: datetime
    """When, with its offset from UTC."""
    kind: str
    """`session` or `check`."""
    calibrated_on: date
    left_zero_N: float | None = None
    right_zero_N: float | None = None
    mismatch_percent: float | None = None
    """How much more the left side reads than the right, of the same load."""
    u_mismatch_percent: float | None = None
    temperature_degC: float | None = None
    remarks: tuple[str, ...] = ()
    """What else was seen of the plates: touching, rocking, a zero that did not come back."""


@dataclass(frozen=True, slots=True, eq=False)
class Drift:
    """A scale's whole log as arrays of shape (n,), oldest first; NaN where a figure was not found."""

    device_id: str
    entries: tuple[Entry, ...]
    day: Floats
    """Days since 1970-01-01 UTC."""
    left_zero_N: Floats
    right_zero_N: Floats
    mismatch_percent: Floats
    u_mismatch_percent: Floats
    temperature_degC: Floats
    damaged: int = 0
    """How many lines could not be read, and were passed over."""

    def since(self, calibrated_on: date) -> Drift:
        """Return what was found against the calibration of that day: what was before says nothing of it."""
        kept = tuple(entry for entry in self.entries if entry.calibrated_on == calibrated_on)
        return make_drift(self.device_id, kept, damaged=self.damaged)

    def trend(self, side: Side) -> Trend | None:
        """Return how the side's zero wanders, N per month, since the newest calibration; None where nobody can tell."""
        if not self.entries:
            return None
        now = self.since(self.entries[-1].calibrated_on)
        return fit_trend(now.day, now.left_zero_N if side is Side.LEFT else now.right_zero_N)


def drift_path(device_id: str, folder: Path | None = None) -> Path:
    """Return where the log of scale `device_id` lies: beside its calibration. `folder` None: the user's own."""
    return (folder or calibration_folder()) / f"{device_id}.drift.jsonl"


def append_entry(device_id: str, entry: Entry, folder: Path | None = None, *, sync: bool = True) -> None:
    """Add `entry` to the scale's log, as one line at its end; what is there is never changed. Raises OSError.

    A line that was cut short, by a kill or a power cut, is closed first, so that it spoils itself alone. Without `sync`
    the line outlives the program, and a power cut only after `sync_drift`: nobody who is in a hurry waits for a disk.
    """
    path = drift_path(device_id, folder)
    path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    line = json.dumps(_to_json(entry)).encode() + b"\n"
    flags = os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(path, flags, FILE_MODE), "rb+", buffering=0) as file:
        size = file.seek(0, os.SEEK_END)
        if size:
            file.seek(size - 1)
            line = line if file.read(1) == b"\n" else b"\n" + line
        write_all(file, line)
        if sync:
            os.fsync(file.fileno())


def sync_drift(device_id: str, folder: Path | None = None) -> None:
    """Make what was added without `sync` last through a power cut. Raises OSError."""
    path = drift_path(device_id, folder)
    if path.exists():
        sync_file(path)


def drift_of(device_id: str, folder: Path | None = None) -> Drift:
    """Return the log of scale `device_id`; an empty one where there is none.

    Damaged lines are passed over, and counted. Raises OSError where the file is there and cannot be read.
    """
    path = drift_path(device_id, folder)
    lines = path.read_bytes().split(b"\n") if path.exists() else []
    found = [_read_line(line) for line in lines if line.strip()]
    entries = tuple(sorted((entry for entry in found if entry is not None), key=lambda entry: entry.at))
    return make_drift(device_id, entries, damaged=len(found) - len(entries))


def make_drift(device_id: str, entries: tuple[Entry, ...], *, damaged: int = 0) -> Drift:
    """Return `entries`, oldest first, as arrays."""
    names = ("left_zero_N", "right_zero_N", "mismatch_percent", "u_mismatch_percent", "temperature_degC")
    day = np.array([entry.at.timestamp() / SECONDS_PER_DAY for entry in entries], dtype=np.float64)
    columns = {name: np.array([_or_nan(getattr(entry, name)) for entry in entries]) for name in names}
    return Drift(device_id, entries, day, damaged=damaged, **columns)


def drift_words(drift: Drift) -> tuple[str, ...]:
    """Return what is worth saying of the log, one line each; nothing where all is as it should be.

    Only what was found since the newest calibration counts.
    """
    if drift.entries:
        drift = drift.since(drift.entries[-1].calibrated_on)
    said = [_zero_words(drift, side) for side in Side] + [_trend_words(drift, side) for side in Side]
    return tuple(line for line in (*said, _mismatch_words(drift)) if line)


def _zero_words(drift: Drift, side: Side) -> str:
    zero_N = _newest(drift.left_zero_N if side is Side.LEFT else drift.right_zero_N)
    if not abs(zero_N) > ZERO_LIMIT_N:
        return ""
    return f"the {side} plate's zero is {zero_N:+.0f} N from its calibration's: have the scale calibrated"


def _trend_words(drift: Drift, side: Side) -> str:
    trend = drift.trend(side)
    if trend is None or not trend.is_steady or abs(trend.per_month.value) < TREND_LIMIT_N:
        return ""
    half, days = trend.per_month.expanded(), round(trend.days)
    by = f"{trend.per_month.value:+.1f} \u00b1 {half:.1f} N a month"
    return f"the {side} plate's zero wanders by {by}, seen over {days} days"


def is_uneven(drift: Drift) -> bool:
    """Return whether the two plates did not read alike when they were compared last."""
    return abs(_newest(drift.mismatch_percent)) > MISMATCH_LIMIT_PERCENT


def _mismatch_words(drift: Drift) -> str:
    percent = _newest(drift.mismatch_percent)
    if not is_uneven(drift):
        return ""
    side = Side.LEFT if percent > 0 else Side.RIGHT
    return f"the {side} plate reads {abs(percent):.1f} % more than the other: have the scale calibrated"


def _newest(values: Floats) -> float:
    known = values[np.isfinite(values)]
    return float(known[-1]) if known.size else math.nan


def _or_nan(value: float | None) -> float:
    return math.nan if value is None else value


def _to_json(entry: Entry) -> dict[str, object]:
    values: dict[str, object] = {
        "schema": SCHEMA,
        "at": entry.at.astimezone(UTC).isoformat(timespec="seconds"),
        "kind": entry.kind,
        "calibrated_on": entry.calibrated_on.isoformat(),
        "left_zero_N": _rounded(entry.left_zero_N),
        "right_zero_N": _rounded(entry.right_zero_N),
        "mismatch_percent": _rounded(entry.mismatch_percent),
        "u_mismatch_percent": _rounded(entry.u_mismatch_percent),
        "temperature_degC": _rounded(entry.temperature_degC),
        "remarks": list(entry.remarks),
    }
    return values | {"crc": _crc(values)}


def _rounded(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else round(value, 4)


def _crc(values: Mapping[str, object]) -> str:
    """Return a checksum: a line in which only a digit was changed looks whole."""
    return f"{zlib.crc32(json.dumps(values, sort_keys=True).encode()):08x}"


def _read_line(line: bytes) -> Entry | None:
    try:
        values: dict[str, Any] = json.loads(line)
        if values.pop("crc") != _crc(values) or values.pop("schema") != SCHEMA:
            return None
        values["at"] = datetime.fromisoformat(values["at"])
        values["calibrated_on"] = date.fromisoformat(values["calibrated_on"])
        values["remarks"] = tuple(values["remarks"])
        return Entry(**values)
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
