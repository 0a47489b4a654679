"""What stands under the keys of one JSON object, read with refusals that name them."""

from __future__ import annotations

import math
import sys
from collections.abc import Mapping
from datetime import date

from weightshare.errors import CalibrationError

_LARGEST = sys.float_info.max


class Fields:
    """One JSON object of a calibration file, and where in it that is. Raises CalibrationError where it is none."""

    def __init__(self, value: object, name: str, prefix: str = "") -> None:
        self.name = name
        self.prefix = prefix
        if not isinstance(value, Mapping):
            where = f" {prefix.rstrip('.')}" if prefix else ""
            raise CalibrationError(f"{name}:{where} is not a JSON object, as a calibration has it")
        self._value = value

    def get(self, key: str) -> object:
        """Return what stands under `key`, or None."""
        return self._value.get(key)

    def refusal(self, key: str, words: str) -> CalibrationError:
        """Return the error that names the file and `key`, to be raised."""
        return CalibrationError(f"{self.name}: {self.prefix}{key} {words}")

    def number(self, key: str, default: float | None = None, low: float = -math.inf, high: float = math.inf) -> float:
        """Return the number under `key`. Raises CalibrationError for none, or one beyond `low` to `high`."""
        value = self._value.get(key, default)
        if value is None:
            raise self.refusal(key, "is missing")
        if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= _LARGEST:
            raise self.refusal(key, "is no finite number")
        if not low <= value <= high:
            raise self.refusal(key, f"is {value:g}, out of its range")
        return float(value)

    def day(self, key: str) -> date:
        """Return the date under `key`. Raises CalibrationError where it is none."""
        value = self._value.get(key)
        try:
            return date.fromisoformat(value if isinstance(value, str) else "")
        except ValueError as error:
            raise self.refusal(key, "is no date like 2026-11-24") from error
