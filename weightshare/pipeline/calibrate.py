"""From raw readings to newtons and millimetres, side by side."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from weightshare.errors import CalibrationError, ProtocolError
from weightshare.model import (
    HEIGHT_COLUMNS,
    PART_COLUMNS,
    SIDE_COLUMNS,
    Calibration,
    ChannelCalibration,
    Floats,
    Identity,
    Quantity,
    Side,
)
from weightshare.pipeline.block import OVERLOAD, Block
from weightshare.pipeline.clock import Timed

_SIDES = (Side.LEFT, Side.RIGHT)


def find_calibration(identity: Identity, calibrations: Sequence[Calibration]) -> Calibration:
    """Return the calibration of this scale.

    Raises CalibrationError where none has the scale's device id, or where it leaves a force channel out.
    """
    for calibration in calibrations:
        if calibration.device_id == identity.device_id:
            _require_channels(identity, calibration)
            return calibration
    others = ", ".join(calibration.device_id for calibration in calibrations)
    has = f"the calibration given is that of {others}" if others else "it has no calibration"
    raise CalibrationError(
        f"scale {identity.device_id} cannot be used: {has}; make one with `weightshare calibrate run`"
    )


def _require_channels(identity: Identity, calibration: Calibration) -> None:
    calibrated = {channel.index for channel in calibration.channels}
    for index, channel in enumerate(identity.channels):
        if channel.quantity is Quantity.FORCE and index not in calibrated:
            raise CalibrationError(f"the calibration of scale {identity.device_id} leaves out force channel {index}")


def require_sides(identity: Identity) -> None:
    """Raise ProtocolError where the scale does not have a force channel under each foot."""
    for side in _SIDES:
        if not _indices(identity, Quantity.FORCE, side):
            raise ProtocolError(f"scale {identity.device_id} has no force channel for the {side} foot")


class Calibrator:
    """Force = a (counts - zero) + b (counts - zero)^2 for each force channel; sides and parts are sums of channels.

    A force beyond its channel's range counts as missing and is flagged as overload.
    """

    def __init__(self, identity: Identity, calibration: Calibration) -> None:
        require_sides(identity)
        by_index = {channel.index: channel for channel in calibration.channels}
        self.force_rows = [i for i, c in enumerate(identity.channels) if c.quantity is Quantity.FORCE]
        channels = [by_index[row] for row in self.force_rows]
        self._set_channels(channels)
        self._sums = _force_sums(identity, self.force_rows)
        self._heights = _height_rows(identity)
        self.columns = tuple(name for name, _ in self._sums) + tuple(name for name, _ in self._heights)

    def _set_channels(self, channels: Sequence[ChannelCalibration]) -> None:
        self.zero_counts = _column([c.zero_counts for c in channels])
        self._linear = _column([c.newton_per_count for c in channels])
        self._square = _column([c.newton_per_count2 for c in channels])
        self._range_N = _column([np.inf if c.range_N is None else c.range_N for c in channels])

    def forces_N(self, readings: Floats, zero_counts: Floats) -> Floats:
        """Return each force channel's newtons, shape (force channels, n), with the given zero (force channels, 1)."""
        net = readings[self.force_rows] - zero_counts
        return self._linear * net + self._square * net * net if self._square.any() else self._linear * net

    def sides_N(self, forces_N: Floats) -> Floats:
        """Return the left and the right force, shape (2, n), from those of the channels."""
        return np.stack([forces_N[rows].sum(axis=0) for _, rows in self._sums[:2]])

    def push(self, timed: Timed) -> Block:
        """Return the readings in N and mm."""
        forces = self.forces_N(timed.readings, self.zero_counts)
        flags = np.zeros(timed.time_s.size, dtype=np.uint8)
        over = np.abs(forces) > self._range_N
        if over.any():
            forces = np.where(over, np.nan, forces)
            flags[over.any(axis=0)] |= OVERLOAD
        values = np.empty((len(self.columns), timed.time_s.size))
        for row, (_, rows) in enumerate(self._sums):
            np.sum(forces[rows], axis=0, out=values[row])
        for row, (_, rows) in enumerate(self._heights, start=len(self._sums)):
            np.mean(timed.readings[rows], axis=0, out=values[row])
            values[row] /= 1000.0
        return Block(timed.interval_s, self.columns, timed.time_s, values, flags)


def _column(numbers: Sequence[float]) -> Floats:
    return np.array(numbers, dtype=np.float64)[:, None]


def _indices(identity: Identity, quantity: Quantity, side: Side) -> list[int]:
    return [i for i, c in enumerate(identity.channels) if c.quantity is quantity and c.side is side]


def _force_sums(identity: Identity, force_rows: list[int]) -> list[tuple[str, list[int]]]:
    """Which force channels make up each side and, where every side has both, its front and its rear."""
    place = {index: row for row, index in enumerate(force_rows)}
    sides = [[place[i] for i in _indices(identity, Quantity.FORCE, side)] for side in _SIDES]
    parts = [
        [row for row in rows if np.sign(identity.channels[force_rows[row]].y_mm) == sign]
        for rows in sides
        for sign in (1, -1)
    ]
    whole = all(parts) and sum(map(len, parts)) == sum(map(len, sides))
    named = list(zip(SIDE_COLUMNS, sides, strict=True))
    return named + (list(zip(PART_COLUMNS, parts, strict=True)) if whole else [])


def _height_rows(identity: Identity) -> list[tuple[str, list[int]]]:
    named = zip(HEIGHT_COLUMNS, _SIDES, strict=True)
    found = ((name, _indices(identity, Quantity.HEEL_HEIGHT, side)) for name, side in named)
    return [(name, rows) for name, rows in found if rows]
