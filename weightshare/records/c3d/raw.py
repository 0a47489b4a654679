"""What a C3D file holds of force platforms and markers, as it passes from the reading process to this one."""

from __future__ import annotations

import json
import zipfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from weightshare.errors import RecordError
from weightshare.model import Floats

MOST_PLATES = 16
FORCES = ("Fx", "Fy", "Fz", "Mx", "My", "Mz")
"""The channels of a platform of TYPE 2."""
FLAGS = "readings_there"
"""The analog channel of our own files that says which columns were read in each sample, bit by bit."""
MOST_VALUES = 50_000_000
"""Analog samples of all force channels, or coordinates of all markers: an hour of two plates at 2 kHz has 86 million
bytes, and what is larger was not meant for this."""


@dataclass(frozen=True, slots=True, eq=False)
class RawPlate:
    """One platform: its TYPE, CORNERS (3, 4) in m, CAL_MATRIX (6, 6) where there is one; channels in their order.

    analog: shape (channels, n), each in its unit (as the file writes it).
    """

    kind: int
    corners_m: Floats
    matrix: Floats | None
    units: tuple[str, ...]
    analog: Floats
    labels: tuple[str, ...] = ()
    """Of its channels."""


@dataclass(frozen=True, slots=True, eq=False)
class RawC3d:
    """The platforms in the file's order; markers_m: shape (3, markers, frames), NaN where a marker was not seen."""

    rate_Hz: float
    point_rate_Hz: float
    plates: tuple[RawPlate, ...]
    zero_frames: tuple[int, int] | None
    """First and last frame, from 0, in which nobody stood on them; None where the file names none."""
    right_axis: str
    up_axis: str
    """X_SCREEN and Y_SCREEN, as `+X`; empty where the file does not say."""
    labels: tuple[str, ...]
    markers_m: Floats
    own: dict[str, Floats] = field(default_factory=dict)
    """Analog channels that have the name of a trace's column, and FLAGS: of files that were exported here."""


def read_raw(path: Path, name: str) -> RawC3d:
    """Return what the reading process wrote to `path` of the file `name`. Raises RecordError where it is of no use."""
    try:
        with np.load(path, allow_pickle=False) as arrays:
            head = json.loads(arrays["head"].tobytes())
            return _build(head, {key: np.asarray(arrays[key]) for key in arrays.files if key != "head"})
    except (OSError, ValueError, KeyError, TypeError, IndexError, EOFError, zipfile.BadZipFile) as error:
        raise RecordError(f"{name}: its force platforms are not described as C3D describes them ({error})") from error


def _build(head: dict[str, Any], arrays: dict[str, Any]) -> RawC3d:
    count = int(head["plates"])
    rates = float(head["rate_Hz"]), float(head["point_rate_Hz"])
    if not all(np.isfinite(rate) and 0.0 < rate <= 1e6 for rate in rates):
        raise ValueError(f"sampling rates of {rates[0]:g} and {rates[1]:g} Hz cannot be")
    labels = tuple(str(label) for label in head["labels"])
    markers = np.asarray(arrays["markers"], dtype=np.float64)
    if markers.ndim != 3 or markers.shape[:2] != (3, len(labels)):
        raise ValueError("its markers do not fit their labels")
    zero = head["zero"]
    return RawC3d(
        *rates,
        tuple(_build_plate(head["each"][k], arrays, k) for k in range(count)),
        None if zero is None else (int(zero[0]), int(zero[1])),
        str(head["right_axis"]),
        str(head["up_axis"]),
        labels,
        markers * float(head["metres"]),
        {str(name): np.asarray(arrays[f"own{k}"], dtype=np.float64) for k, name in enumerate(head.get("own", ()))},
    )


def _build_plate(head: dict[str, Any], arrays: dict[str, Any], k: int) -> RawPlate:
    corners = np.asarray(arrays[f"corners{k}"], dtype=np.float64)
    analog = np.asarray(arrays[f"analog{k}"], dtype=np.float64)
    matrix = np.asarray(arrays[f"matrix{k}"], dtype=np.float64) if f"matrix{k}" in arrays else None
    units = tuple(str(unit) for unit in head["units"])
    if corners.shape != (3, 4) or analog.ndim != 2 or len(analog) != len(units):
        raise ValueError(f"platform {k + 1} has corners or channels of another shape")
    labels = tuple(str(label) for label in head.get("labels", ()))
    return RawPlate(int(head["kind"]), corners * float(head["metres"]), matrix, units, analog, labels)
