"""The error tree. Each branch carries the exit status of the command that meets it."""

import math

INTERRUPTED = 130
"""The exit status of a command that Ctrl-C ended: 128 and the number of SIGINT, as shells say it."""


class WeightshareError(Exception):
    """Anything that went wrong and can be told to the user in one line."""

    exit_status = 2


class InputError(WeightshareError):
    """A file or a value given by the user cannot be used."""


class OptionError(InputError):
    """An option is out of its range; the message names it."""


class TraceError(InputError):
    """A trace was refused; the message names the file, the line and the column."""


class CalibrationError(InputError):
    """A calibration is missing, malformed, or belongs to another scale."""


class RecordError(InputError):
    """A recorded session or capture was cut short, altered, or is none."""


class StoreError(InputError):
    """The store of patients cannot be used, or does not hold what was asked for."""


class DeviceError(WeightshareError):
    """A scale, a port or a link failed."""

    exit_status = 3


class ProtocolError(DeviceError):
    """What came over the link cannot be a scale of protocol version 1."""


def check_range(option: str, value: float | None, low: float, high: float, unit: str) -> None:
    """Raise OptionError where `value` is given and is not a finite number from `low` to `high`."""
    if value is not None and not (math.isfinite(value) and low <= value <= high):
        raise OptionError(f"{option} {value:g} is out of range: it may be {low:g} to {high:g} {unit}")
