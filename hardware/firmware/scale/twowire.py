"""A 24-bit bridge converter on two wires, clocked by hand.

It pulls its data line low when a reading is ready. Each clock pulse then brings one bit, highest first; one to three
pulses more choose what it converts next: 25 pulses in all input A with the high gain, 26 input B, 27 input A with half
that gain. A clock that stays high for over 60 microseconds puts it to sleep, so no interrupt may come in between.
"""

from machine import Pin, disable_irq, enable_irq
from scale.body import NO_READING, NOTHING_NEW

SIGN = 0x800000


class TwoWire:
    """One such converter, read without taking memory."""

    full = 0x7FFFFF
    """Where it stops, either way."""

    def __init__(self, place: dict) -> None:
        self._clock = Pin(place["clock"], Pin.OUT, value=0)
        self._data = Pin(place["data"], Pin.IN, Pin.PULL_UP)  # one that is not there is never ready
        self._pulses = place["pulses"]
        self._reverse = place["reverse"]
        self._chosen = False

    def set_up(self) -> None:
        """Throw the next reading away: it may be an old one, or of another input or gain."""
        self._chosen = False

    def wake(self) -> None:
        """It has been silent, perhaps without power: then it begins with another input or gain."""
        self._chosen = False

    def read(self) -> int:
        """Return the newest reading; NOTHING_NEW where it was read already, NO_READING where it is of no use."""
        clock, data = self._clock, self._data
        if data():
            return NOTHING_NEW
        value = 0
        for _ in range(24):
            self._pulse(clock)
            value = value << 1 | data()
        for _ in range(self._pulses - 24):
            self._pulse(clock)
        chosen, self._chosen = self._chosen, True
        if not chosen or (value == 0 and not data()):  # a line that is low from bit to bit and after them is a short
            return NO_READING
        value = (value ^ SIGN) - SIGN
        return -value if self._reverse else value

    def _pulse(self, clock) -> None:
        state = disable_irq()
        clock(1)
        clock(0)
        enable_irq(state)
