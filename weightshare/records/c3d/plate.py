"""From a platform's channels to newtons of load: by its type, units and zero, and the sign that a plate can have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.errors import RecordError
from weightshare.model import Floats
from weightshare.records.c3d.raw import RawC3d, RawPlate
from weightshare.scales.lab.unit import newtons_per, unit_of

VERTICAL = {1: (2,), 2: (2,), 3: (4, 5, 6, 7)}
"""Which channels sum to the vertical force (C3D user guide, FORCE_PLATFORM:TYPE): Fz, or the four of type 3."""
MATRIX_KIND = 4
LOADED_N = 20.0
"""A plate whose force never goes beyond this had nobody on it."""
ONE_WAY = 0.1
"""A plate can only be pressed: what pulls is less than this part of what presses, or the sign is not to be told."""
UPRIGHT = 0.985
"""The cosine of 10 degrees: a plate that is tilted by more does not measure what somebody weighs."""


@dataclass(frozen=True, slots=True, eq=False)
class Load:
    """The load on one platform: load_N, shape (n,). The rest says where it came from, for a person to confirm."""

    number: int
    """As the file counts, from 1."""
    kind: int
    unit: str
    load_N: Floats
    negative: bool
    """Whether the file counts load negative."""
    zero_N: float
    """What was subtracted: the mean over the frames that the file says nobody stood in; 0 where there are none."""
    centre_m: Floats
    """Of its corners, shape (3,)."""
    axis: int | None
    """Which axis of the laboratory is vertical by the corners: 0, 1 or 2; None where the file has no corners."""


def make_loads(
    raw: RawC3d, numbers: Sequence[int], name: str, *, unit: str = "", negative: bool | None = None, zero: bool = True
) -> list[Load]:
    """Return the loads on the platforms `numbers` (from 1).

    unit, negative: instead of what the file says. zero: whether the file's zero frames are subtracted.
    Raises RecordError, with `name`, where a unit, an axis or a sign cannot be told.
    """
    found = [_force(raw, number, name, unit, zero) for number in numbers]
    signs = [_sign(force_N, name) for _, force_N, _ in found] if negative is None else [negative] * len(found)
    told = [sign for sign in signs if sign is not None]
    if not told:
        raise RecordError(f"{name}: nobody stands on the platforms {' and '.join(map(str, numbers))}")
    loads = []
    for number, sign, (said, force_N, zero_N) in zip(numbers, signs, found, strict=True):
        plate = raw.plates[number - 1]
        # an empty plate has no sign of its own
        down = told[0] if sign is None else sign
        centre_m, axis = plate.corners_m.mean(axis=1), vertical_axis(plate, number, name)
        loads.append(Load(number, plate.kind, said, -force_N if down else force_N, down, zero_N, centre_m, axis))
    if len({load.axis for load in loads}) > 1:
        raise RecordError(f"{name}: by their corners the platforms do not lie in one plane; read them one by one")
    return loads


def _force(raw: RawC3d, number: int, name: str, unit: str, zero: bool) -> tuple[str, Floats, float]:
    """Return the unit, the vertical force as the file counts it (N, zeroed), and what the zero took off (N)."""
    plate = raw.plates[number - 1]
    if plate.kind == MATRIX_KIND:
        # its matrix makes newtons of volts (C3D user guide, FORCE_PLATFORM:CAL_MATRIX)
        assert plate.matrix is not None
        said, force_N = "N by its matrix", (plate.matrix @ plate.analog)[2]
    else:
        rows = VERTICAL[plate.kind]
        said = unit_of(unit) or _unit(plate, rows, number, name)
        force_N = plate.analog[list(rows)].sum(axis=0) * (newtons_per(said) or 1.0)
    zero_N = _zero(raw, force_N) if zero else 0.0
    return said, force_N - zero_N, zero_N


def _unit(plate: RawPlate, rows: Sequence[int], number: int, name: str) -> str:
    said = {plate.units[row] for row in rows}
    unit = unit_of(next(iter(said))) if len(said) == 1 else None
    if unit is None:
        what = ", ".join(sorted(said)).strip() or "nothing"
        raise RecordError(f"{name}: platform {number}'s unit is {what}, which is no force; say which: --unit N")
    return unit


def _zero(raw: RawC3d, force_N: Floats) -> float:
    if raw.zero_frames is None:
        return 0.0
    first, last = raw.zero_frames
    ratio = raw.rate_Hz / raw.point_rate_Hz
    rows = force_N[round(first * ratio) : round((last + 1) * ratio)]
    return float(rows.mean()) if rows.size else 0.0


def _sign(force_N: Floats, name: str) -> bool | None:
    """Return whether load is counted negative; None for a plate that nobody stands on. Raises RecordError."""
    up, down = (float(np.maximum(way * force_N, 0.0).mean()) for way in (1.0, -1.0))
    if np.percentile(np.abs(force_N), 99.0) < LOADED_N:
        return None
    if min(up, down) > ONE_WAY * max(up, down):
        raise RecordError(
            f"{name}: a platform is pressed and pulled by turns, so its zero is off or its sign is not to be told; "
            "say which way is load: --load positive or --load negative, and --no-zero to leave the file's zero out"
        )
    return down > up


def vertical_axis(plate: RawPlate, number: int, name: str) -> int | None:
    """Return the axis that the plate's normal lies along; None where its corners say nothing.

    The normal is x cross y of the corners' order (C3D user guide, FORCE_PLATFORM:CORNERS).
    Raises RecordError where the plate is tilted by over 10 degrees.
    """
    corner = plate.corners_m.T
    along_x = corner[0] - corner[1] + corner[3] - corner[2]
    along_y = corner[0] - corner[3] + corner[1] - corner[2]
    normal = np.cross(along_x, along_y)
    size = float(np.linalg.norm(normal))
    if not np.isfinite(size) or size < 1e-4:
        return None
    axis = int(np.argmax(np.abs(normal)))
    if abs(normal[axis]) < UPRIGHT * size:
        raise RecordError(f"{name}: platform {number} is tilted; its force is not the load of somebody who stands")
    return axis


def points_down(plate: RawPlate, axis: int, up: int) -> bool:
    """Return whether the plate's own z axis points down, where the laboratory's `axis` points up for up = 1."""
    corner = plate.corners_m.T
    along_x = corner[0] - corner[1] + corner[3] - corner[2]
    along_y = corner[0] - corner[3] + corner[1] - corner[2]
    return bool(np.cross(along_x, along_y)[axis] * up < 0.0)
