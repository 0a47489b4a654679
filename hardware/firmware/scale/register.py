"""A sensor on an I2C bus that is read through registers: a bridge converter, or a distance sensor under the heel.

Which registers these are stands in the settings, so that a part of another make needs no new code.
"""

from scale.body import NO_READING, NOTHING_NEW


class RegisterSensor:
    """One such sensor, read without taking memory."""

    def __init__(self, place: dict, bus) -> None:
        self._bus = bus
        self._address = place["address"]
        self._bits = place["register_bits"]
        self._start = [(register, bytes([value])) for register, value in place["setup"]]
        self._ready, self._mask = place["ready"] or (0, 0)
        self._register, size = place["reading"]
        self._clear = [(register, bytes([value])) for register, value in place["clear"]]
        self._factor, self._offset = place["factor"], place["offset"]
        self._least, self._most = place["least"], place["most"]
        self._sign = 1 << 8 * size - 1 if place["signed"] else 0
        self._away = True
        self._state, self._data = bytearray(1), bytearray(size)
        self.full = ((1 << 8 * size - 1) - 1) * abs(self._factor) - abs(self._offset) if self._sign else 0x3FFFFFFF
        """Where it stops, either way."""

    def set_up(self) -> None:
        """Write the registers that it needs at the start. One that does not answer is asked again later."""
        try:
            self._write(self._start)
            self._away = False
        except OSError:
            self._away = True

    def wake(self) -> None:
        """Set it up again where it was away; one that only sees nothing is left alone."""
        if self._away:
            self.set_up()

    def read(self) -> int:
        """Return the newest reading; NOTHING_NEW where it was read already, NO_READING where it is of no use."""
        try:
            if self._mask and not self._look():
                return NOTHING_NEW
            self._bus.readfrom_mem_into(self._address, self._register, self._data, addrsize=self._bits)
            self._write(self._clear)
        except OSError:  # nobody answers at that address
            self._away = True
            return NO_READING
        value = self._value()
        return value * self._factor + self._offset if self._least <= value <= self._most else NO_READING

    def _value(self) -> int:
        value = 0
        for i in range(len(self._data)):
            value = value << 8 | self._data[i]
        return (value ^ self._sign) - self._sign

    def _look(self) -> int:
        self._bus.readfrom_mem_into(self._address, self._ready, self._state, addrsize=self._bits)
        return self._state[0] & self._mask

    def _write(self, pairs) -> None:
        for register, value in pairs:
            self._bus.writeto_mem(self._address, register, value, addrsize=self._bits)
