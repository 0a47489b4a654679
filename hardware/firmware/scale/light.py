"""The status light: on for as long as BLINK asked."""

from time import ticks_add, ticks_diff, ticks_ms

from machine import Pin


class Light:
    """A light on a pin, or none."""

    def __init__(self, pin: "int | None") -> None:
        self._pin = None if pin is None else Pin(pin, Pin.OUT, value=0)
        self._until = None

    def shine(self, duration_ms: int) -> None:
        """Be on for so long from now; a new wish takes the place of the old."""
        self._until = ticks_add(ticks_ms(), duration_ms)
        self._set(duration_ms > 0)

    def pump(self) -> None:
        """Go out when it is time."""
        if self._until is not None and ticks_diff(self._until, ticks_ms()) <= 0:
            self._until = None
            self._set(False)

    def _set(self, on: bool) -> None:
        if self._pin is not None:
            self._pin(int(on))
