"""The calibration of a laboratory's stream: its forces come in newtons, so only what a count means is to be said."""

from __future__ import annotations

from datetime import date

from weightshare.model import Calibration, ChannelCalibration, Worth

LAB_ID_PREFIX = "6c736c"
"""How the device id of a stream begins: `lsl` as ASCII; the rest is made of what the stream says of its source."""
NEWTON_PER_COUNT = 0.001
CHANNELS = 2
_DEFINED_ON = date(2026, 11, 1)
"""The day from which a count of a stream is a millinewton; the laboratory's own calibration has a day of its own."""


def is_laboratory(device_id: str) -> bool:
    """Return whether the scale with this id is a laboratory's stream."""
    return device_id.startswith(LAB_ID_PREFIX)


def lab_calibration(device_id: str) -> Calibration | None:
    """Return the calibration of the stream with this id; None for any other scale.

    The forces are the laboratory's, and so is what they are worth: `worth` names no side, since nothing is known.
    """
    if not is_laboratory(device_id):
        return None
    channels = tuple(ChannelCalibration(index, 0.0, NEWTON_PER_COUNT) for index in range(CHANNELS))
    return Calibration(device_id, _DEFINED_ON, channels, worth=Worth(()))
