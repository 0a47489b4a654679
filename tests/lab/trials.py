"""C3D recordings for the tests, written by two independent libraries: `ezc3d`, and the package `c3d`."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from weightshare.model import Floats

RATIO = 10
"""Analog samples a frame."""
POINT_RATE_HZ = 100.0
RATE_HZ = POINT_RATE_HZ * RATIO


def loads(frames: int = 100) -> Floats:
    """Return the load under left and right, N, shape (2, n): somebody who leans from one to the other."""
    time_s = np.arange(frames * RATIO) / RATE_HZ
    right = 0.6 + 0.2 * np.sin(2.0 * np.pi * time_s)
    return np.stack([700.0 * (1.0 - right), 700.0 * right])


@dataclass
class Trial:
    """What is written: platform 1 is the left one (or not), `kind` its type, `sign` how the load is counted."""

    loads_N: Floats = field(default_factory=loads)
    kind: int = 2
    sign: float = -1.0
    unit: str = "N"
    factor: float = 1.0
    """Of what is written to newtons: 0.001 for kN."""
    zero: tuple[int, int] = (1, 0)
    offset: float = 0.0
    labels: tuple[str, ...] = ("LHEE", "RHEE")
    swapped: bool = False
    """Whether the left foot stands on platform 2."""
    matrix_gain: float = 250.0
    normal: str = "z"
    plates: int = 2

    @property
    def frames(self) -> int:
        return int(self.loads_N.shape[1]) // RATIO

    def corners(self) -> Floats:
        """(3, 4, plates), mm: platform 2 lies 500 mm to the right of platform 1."""
        each = []
        for k in range(self.plates):
            # x forward, y to the left; ordered so that x cross y points down
            y = -600.0 * k
            corner = np.array([[0, 0, 500, 500], [y, y - 500, y - 500, y], [0, 0, 0, 0]], dtype=np.float64)
            each.append(corner[[0, 2, 1]] if self.normal == "y" else corner)
        return np.stack(each, axis=2)

    def channels(self) -> Floats:
        """Every analog channel, (plates * per plate, n)."""
        order = self.loads_N[::-1] if self.swapped else self.loads_N
        each = []
        for load in order[: self.plates]:
            force = self.sign * load * self.factor + self.offset
            rows = np.zeros((8 if self.kind == 3 else 6, force.size))
            if self.kind == 3:
                rows[4:] = force * np.array([[0.1], [0.2], [0.3], [0.4]])
            elif self.kind == 4:
                rows[2] = force / self.matrix_gain
            else:
                rows[2] = force
            each.append(rows)
        return np.concatenate(each)

    def units(self) -> tuple[str, ...]:
        return tuple(self.unit for _ in range(len(self.channels())))

    def channel_table(self) -> Floats:
        count = len(self.channels()) // self.plates
        return np.arange(1.0, self.plates * count + 1).reshape(self.plates, count).T

    def matrix(self) -> Floats:
        matrix = np.zeros((6, 6, self.plates))
        for row in range(6):
            matrix[row, row] = self.matrix_gain
        matrix[2, 0] = 7.0
        return matrix

    def points(self) -> Floats:
        """(3, markers, frames), mm: heels 40 mm over the middles of the platforms, the left one rising by 60 mm."""
        place = np.zeros((3, 2, self.frames))
        for k in range(2):
            place[0, k] = 250.0
            place[1, k] = -250.0 - 600.0 * (1 - k if self.swapped else k)
            place[2, k] = 40.0
        place[2, 0] += 60.0 * np.linspace(0.0, 1.0, self.frames)
        return place[[0, 2, 1]] if self.normal == "y" else place


def write_with_ezc3d(trial: Trial, path: Path) -> Path:
    """Write a trial with the library `ezc3d`."""
    import ezc3d

    file: Any = ezc3d.c3d()
    parameters = file["parameters"]
    parameters["POINT"]["RATE"]["value"] = [POINT_RATE_HZ]
    parameters["POINT"]["UNITS"]["value"] = ("mm",)
    parameters["POINT"]["LABELS"]["value"] = trial.labels
    parameters["ANALOG"]["RATE"]["value"] = [RATE_HZ]
    parameters["ANALOG"]["LABELS"]["value"] = tuple(f"ch{k}" for k in range(len(trial.channels())))
    parameters["ANALOG"]["UNITS"]["value"] = trial.units()
    points = trial.points()[:, : len(trial.labels)]
    file["data"]["points"] = np.concatenate([points, np.ones((1, *points.shape[1:]))])
    file["data"]["analogs"] = trial.channels()[None]
    group = "FORCE_PLATFORM"
    file.add_parameter(group, "USED", [trial.plates])
    file.add_parameter(group, "TYPE", [trial.kind] * trial.plates)
    file.add_parameter(group, "ZERO", list(trial.zero))
    file.add_parameter(group, "CORNERS", trial.corners())
    file.add_parameter(group, "ORIGIN", np.zeros((3, trial.plates)))
    file.add_parameter(group, "CHANNEL", trial.channel_table())
    if trial.kind == 4:
        file.add_parameter(group, "CAL_MATRIX", trial.matrix())
    file.write(str(path))
    return path


def write_with_c3d(trial: Trial, path: Path) -> Path:
    """Write a trial with the package `c3d`."""
    import c3d

    writer: Any = c3d.Writer(point_rate=POINT_RATE_HZ, analog_rate=RATE_HZ, point_units="mm")
    points, channels = trial.points(), trial.channels()
    for frame in range(trial.frames):
        five = np.zeros((len(trial.labels), 5), dtype=np.float32)
        five[:, :3] = points[:, : len(trial.labels), frame].T
        writer.add_frames([(five, channels[:, frame * RATIO : (frame + 1) * RATIO])])
    writer.set_point_labels(list(trial.labels))
    writer.set_analog_labels([f"ch{k}" for k in range(len(channels))])
    writer.set_screen_axis("+X", "+Z")
    width = max(len(unit) for unit in trial.units()) or 1
    units = "".join(unit.ljust(width) for unit in trial.units())
    writer.analog_group.add_str("UNITS", "", units, width, len(channels))
    group = writer.add_group(100, "FORCE_PLATFORM", "")
    whole = {"USED": [trial.plates], "TYPE": [trial.kind] * trial.plates, "ZERO": trial.zero}
    for name, values in whole.items():
        group.add_array(name, "", np.array(values, dtype=np.int16))
    tables = {"CORNERS": trial.corners(), "CHANNEL": trial.channel_table()}
    if trial.kind == 4:
        tables["CAL_MATRIX"] = trial.matrix()
    for name, table in tables.items():
        data = table.ravel(order="F").astype("<f4").tobytes()
        group.add_param(name, desc="", bytes_per_element=4, bytes=data, dimensions=list(table.shape))
    with path.open("wb") as handle:
        writer.write(handle)
    return path
