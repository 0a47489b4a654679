"""What a store-bought scale says by Bluetooth: the Weight Measurement, and in which steps the scale tells loads.

Source: Bluetooth SIG, GATT Specification Supplement, Weight Measurement (0x2A9D), Weight Scale Feature (0x2A9E) and
Date Time (0x2A08); Weight Scale Service 1.0. Numbers are little-endian.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from weightshare.errors import ProtocolError

FAILED = 0xFFFF
UNKNOWN_USER = 0xFF
KG_PER_LB = 0.45359237
"""Kilograms in a pound, exactly. Source: international yard and pound agreement of 1959; NIST SP 811, appendix B.8."""
M_PER_INCH = 0.0254
"""Metres in an inch, exactly. Source: as for the pound."""

_IMPERIAL, _STAMPED, _OF_USER, _WITH_BODY = 0x01, 0x02, 0x04, 0x08
_KNOWN = _IMPERIAL | _STAMPED | _OF_USER | _WITH_BODY
_FEATURE_BYTES = 4
_STEPS = {
    1: (0.5, 1.0),
    2: (0.2, 0.5),
    3: (0.1, 0.2),
    4: (0.05, 0.1),
    5: (0.02, 0.05),
    6: (0.01, 0.02),
    7: (0.005, 0.01),
}
"""The step in kg and in lb, by the number that stands for it."""


class MassUnit(StrEnum):
    """The unit in which a scale tells its readings."""

    KG = "kg"
    LB = "lb"


@dataclass(frozen=True, slots=True)
class Weighing:
    """One settled reading. `count` is in steps of 0.005 kg or 0.01 lb; None: the scale says that weighing failed."""

    count: int | None
    unit: MassUnit = MassUnit.KG
    stamp: datetime | None = None
    """When it was taken, by the scale's own clock, which nobody may have set; None where it does not say."""
    user: int | None = None
    """Which of its users the scale takes it for; None: unknown, or not said."""
    bmi_kg_m2: float | None = None
    """Body mass index as the scale reckons it, kg/m2."""
    height_m: float | None = None
    """The user's height as it was entered in the scale, m."""

    @property
    def has_failed(self) -> bool:
        """Whether there is no load to show: the scale could not weigh."""
        return self.count is None

    @property
    def value(self) -> float | None:
        """The reading in its own unit; None where weighing failed."""
        return None if self.count is None else self.count / (100 if self.unit is MassUnit.LB else 200)

    @property
    def load_kg(self) -> float | None:
        """The reading in kg; None where weighing failed."""
        if self.value is None or self.unit is MassUnit.KG:
            return self.value
        return self.value * KG_PER_LB


def decode_weighing(data: bytes) -> Weighing:
    """Return the reading in `data`, one value of Weight Measurement (0x2A9D).

    Raises ProtocolError where it is cut short or too long, where its time cannot be, and where it carries a flag that
    the standard has not given a meaning yet: what such a flag does to the load is not for us to guess.
    """
    if not data:
        raise ProtocolError("the scale sent an empty reading; weigh again")
    flags = data[0]
    if flags & ~_KNOWN:
        bits = ", ".join(str(bit) for bit in range(8) if flags & ~_KNOWN & 1 << bit)
        raise ProtocolError(f"the scale marks its reading in a way that no standard explains (flag {bits}): not shown")
    wanted = 3 + 7 * bool(flags & _STAMPED) + bool(flags & _OF_USER) + 4 * bool(flags & _WITH_BODY)
    if len(data) != wanted:
        raise ProtocolError(f"the scale sent a reading of {len(data)} bytes, which has to have {wanted}; weigh again")
    return _read(flags, data)


def _read(flags: int, data: bytes) -> Weighing:
    count, at = int.from_bytes(data[1:3], "little"), 3
    unit = MassUnit.LB if flags & _IMPERIAL else MassUnit.KG
    stamp, user, bmi, height = None, None, None, None
    if flags & _STAMPED:
        stamp, at = _read_stamp(data[at : at + 7]), at + 7
    if flags & _OF_USER:
        user, at = None if data[at] == UNKNOWN_USER else data[at], at + 1
    if count == FAILED:
        # a body mass index beside it would rest on a load that there is not
        return Weighing(None, unit, stamp, user)
    if flags & _WITH_BODY:
        tenths, tall = struct.unpack_from("<HH", data, at)
        bmi, height = tenths / 10, tall / 10 * M_PER_INCH if flags & _IMPERIAL else tall / 1000
    return Weighing(count, unit, stamp, user, bmi, height)


def _read_stamp(data: bytes) -> datetime | None:
    """Return a Date Time; None where its year, month or day is 0, which stands for not known."""
    year, month, day, hour, minute, second = struct.unpack("<H5B", data)
    if not (year and month and day):
        return None
    try:
        return datetime(year, month, day, hour, minute, second)
    except ValueError:
        words = f"{year}-{month}-{day} {hour}:{minute}:{second}"
        raise ProtocolError(f"the scale says that its reading was taken at {words}, which is no time") from None


def decode_step(data: bytes, unit: MassUnit) -> float | None:
    """Return in which steps a scale tells loads in `unit`, from its Weight Scale Feature (0x2A9E).

    None where it does not say, and where it says it in a way that the standard has not given a meaning yet. Raises
    ProtocolError where `data` is not four bytes long.
    """
    if len(data) != _FEATURE_BYTES:
        raise ProtocolError(f"the scale describes itself in {len(data)} bytes, where {_FEATURE_BYTES} belong")
    step = _STEPS.get(int.from_bytes(data, "little") >> 3 & 0x0F)
    return None if step is None else step[unit is MassUnit.LB]
