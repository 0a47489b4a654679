"""The battery's voltage, through a divider on an analogue pin."""

from machine import ADC, Pin


class Battery:
    """What the battery has; 0 mV where there is none."""

    def __init__(self, place: "dict | None") -> None:
        self._pin = None if place is None else ADC(Pin(place["pin"]))
        self._full_mV = 0 if place is None else place["full_mV"]
        self._low_mV = 0 if place is None else place["low_mV"]

    def read_mV(self) -> int:
        """Return its voltage now."""
        return 0 if self._pin is None else self._pin.read_u16() * self._full_mV // 65535

    def is_low(self, now_mV: int) -> bool:
        """Return whether `now_mV` is so little that somebody should be told."""
        return now_mV < self._low_mV
