"""A session as a C3D recording of two force platforms: what stands in it, before a library writes it.

C3D: the user guide of c3d.org, whose groups and parameters keep their names here. Each platform is of TYPE 2: three
forces and three moments in its own axes, x forward, y to the right, z down, as the push of the plate on the foot: a
load is a negative Fz. Only Fz is measured; where front and rear supports are read apart, My tells how far forward the
load is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from weightshare.errors import RecordError
from weightshare.model import TRACE_COLUMNS, Channel, Floats, Quantity, Side, Trace
from weightshare.records.c3d.raw import FLAGS, FORCES
from weightshare.records.export.row import numbers_of, phases_of

FRAME_SAMPLES, MOST_FRAMES = 10, 65_000
"""Analog samples a frame, and how many frames: a C3D header counts them with two bytes. A longer session has more
samples a frame."""
MOST_EVENTS = 255
"""A dimension of a parameter is one byte (C3D user guide, parameter format)."""
OFF_GRID_PART = 0.5
_RANK = {"set": 0, "hold": 1, "repetition": 2, "not counted": 3, "gap": 4, "over the ceiling": 0}
"""What is kept first where there are more events than fit."""
_LAST = 9


@dataclass(frozen=True, slots=True)
class Size:
    """How large each plate is, and how far they lie apart, mm."""

    width: float
    depth: float
    gap: float


@dataclass(frozen=True, slots=True)
class Event:
    """Something at one instant, s from the first sample; `context` is Left, Right or General."""

    time_s: float
    label: str
    context: str = "General"
    rank: int = _LAST


@dataclass(frozen=True, slots=True, eq=False)
class Recording:
    """What is written: analog channels (channels, n) with label, unit and meaning each; corners (3, 4, 2), mm."""

    rate_Hz: float
    labels: tuple[str, ...]
    units: tuple[str, ...]
    meanings: tuple[str, ...]
    analog: Floats
    corners_mm: Floats
    frame_samples: int
    """Analog samples a frame."""
    events: tuple[Event, ...]
    left_out: int
    """So many events had no room."""
    off_ms: float
    """How far a sample's own time is from where the even rate puts it, at most."""
    is_virtual: bool = False
    """Virtual scales were stood on."""


def make_recording(
    trace: Trace, channels: Iterable[Channel], content: Mapping[str, Any], size: Size | None, name: str
) -> Recording:
    """Return the session `name` as a recording; channels: those of its scale; content: its analysis, as in JSON.

    Raises RecordError where its samples are not evenly spaced.
    """
    rows, interval_s, off_s = _grid(trace, name)
    frame_samples = FRAME_SAMPLES * -(-(int(rows[-1]) + 1) // (FRAME_SAMPLES * MOST_FRAMES))
    count = -(-(int(rows[-1]) + 1) // frame_samples) * frame_samples
    laid = {column: _lay(values, rows, count) for column, values in trace.columns.items()}
    shown = [column for column in TRACE_COLUMNS if column in laid]
    flags = sum((np.isfinite(laid[column]) * 2**k for k, column in enumerate(TRACE_COLUMNS) if column in laid))
    analog, labels, units, meanings = [], [], [], []
    for side in Side:
        for label, unit, words, values in _plate(side, laid, forward_mm(channels, side)):
            analog.append(values)
            labels.append(f"{side.capitalize()}{label}")
            units.append(unit)
            meanings.append(words)
    for column in shown[2:]:
        analog.append(laid[column])
        labels.append(column)
        units.append(column.rpartition("_")[2])
        meanings.append("as in the session's trace")
    analog.append(np.asarray(flags, dtype=np.float64))
    labels.append(FLAGS)
    units.append("")
    meanings.append("which were read: sum of 2^k, k the place in left, right, parts, heels")
    kept, left_out = _fit(list(_events(content, float(trace.time_s[0]))))
    return Recording(
        1.0 / interval_s,
        tuple(labels),
        tuple(units),
        tuple(meanings),
        np.nan_to_num(np.stack(analog)),
        corners_of(size),
        frame_samples,
        kept,
        left_out,
        1000.0 * off_s,
    )


def _grid(trace: Trace, name: str) -> tuple[NDArray[np.int64], float, float]:
    """Return the place of each sample at an even rate, the interval, and the greatest error (s)."""
    time_s = trace.time_s - trace.time_s[0]
    interval_s = float(np.median(np.diff(time_s)))
    rows = np.rint(time_s / interval_s).astype(np.int64)
    off_s = float(np.abs(time_s - rows * interval_s).max())
    if off_s > OFF_GRID_PART * interval_s or (np.diff(rows) < 1).any():
        raise RecordError(f"{name}: its samples are not evenly spaced, which C3D cannot hold; export it --as csv")
    return rows, interval_s, off_s


def _lay(values: Floats, rows: NDArray[np.int64], count: int) -> Floats:
    laid = np.full(count, np.nan)
    laid[rows] = values
    return laid


def _plate(
    side: Side, laid: Mapping[str, Floats], forward: tuple[float, float] | None
) -> Iterator[tuple[str, str, str, Floats]]:
    """Yield label, unit, meaning and values of the six channels of one platform."""
    load_N = laid[f"{side}_N"]
    moment, told = np.zeros_like(load_N), "not measured"
    parts = [laid.get(f"{side}_{part}_N") for part in ("front", "rear")]
    if forward is not None and parts[0] is not None and parts[1] is not None:
        moment = parts[0] * forward[0] + parts[1] * forward[1]
        told = "from the front and rear supports"
    for label in FORCES:
        if label == "Fz":
            yield label, "N", "vertical force; a load is negative", -load_N
        elif label == "My":
            yield label, "Nmm", told, moment
        else:
            yield label, "Nmm" if label[0] == "M" else "N", "not measured", np.zeros_like(load_N)


def forward_mm(channels: Iterable[Channel], side: Side) -> tuple[float, float] | None:
    """Return how far forward the front and the rear supports of one plate are, mm; None where that is not known."""
    found = [one.y_mm for one in channels if one.quantity is Quantity.FORCE and one.side is side]
    front, rear = [y for y in found if y > 0], [y for y in found if y < 0]
    return (sum(front) / len(front), sum(rear) / len(rear)) if front and rear else None


def corners_of(size: Size | None) -> Floats:
    """Return the corners of both plates, mm, shape (3, 4, 2): left and right, x to the right, y forward, z up.

    By quadrants of the plate's own axes (C3D user guide, FORCE_PLATFORM:CORNERS). All are 0 where no size is known.
    """
    if size is None:
        return np.zeros((3, 4, 2))
    plates = []
    for middle in (-0.5 * (size.gap + size.width), 0.5 * (size.gap + size.width)):
        left, right, front = middle - 0.5 * size.width, middle + 0.5 * size.width, 0.5 * size.depth
        plates.append(np.array([[right, right, left, left], [front, -front, -front, front], [0.0] * 4]))
    return np.stack(plates, axis=2)


def _events(content: Mapping[str, Any], first_s: float) -> Iterator[Event]:
    injured = str(content["injured_side"]).capitalize()
    for kind, label, start_s, end_s in _spans(content):
        for time_s, edge in ((start_s, "start"), (end_s, "end")):
            if time_s is not None:
                yield Event(time_s - first_s, f"{label} {edge}", rank=_RANK[kind])
    for number, row in zip(numbers_of(content), content["repetitions"], strict=True):
        for phase, (start_s, _end_s) in phases_of(row).items():
            if start_s != row["start_s"]:
                yield Event(start_s - first_s, f"repetition {number} {phase}", injured)


def _spans(content: Mapping[str, Any]) -> Iterator[tuple[str, str, float | None, float | None]]:
    for one in content.get("sets") or ():
        yield "set", f"set {one['number']}", one["from_s"], one["to_s"]
    lists = {
        "hold": content["holds"],
        "not counted": content["rejected"],
        "gap": content["gaps"],
        "over the ceiling": content.get("ceiling"),
    }
    for number, row in zip(numbers_of(content), content["repetitions"], strict=True):
        yield "repetition", f"repetition {number}", row["start_s"], row["end_s"]
    for kind, rows in lists.items():
        for place, row in enumerate(rows or (), 1):
            yield kind, f"{kind} {place}", row["start_s"], row["end_s"]


def _fit(events: list[Event]) -> tuple[tuple[Event, ...], int]:
    """Return as many events as there is room for, the coarser ones first, in order of time; and how many went."""
    kept = sorted(events, key=lambda one: (one.rank, one.time_s))[:MOST_EVENTS]
    return tuple(sorted(kept, key=lambda one: one.time_s)), len(events) - len(kept)
