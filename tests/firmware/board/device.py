"""A sensor on an I2C bus, as seen from the bus. Only small integers: it is asked in callbacks."""

import time


class Device:
    """Registers of one byte each. A reading of `size` bytes comes up at `data` at a rate of its own.

    It measures only once all of `setup` was written, and a new one only after `clear` was, where that is asked for.
    """

    def __init__(self, about: dict, log) -> None:
        self.bus, self.address = about.get("bus", 0), about["address"]
        self._log = log
        self._bits = about.get("register_bits", 8)
        self._wanted = [tuple(pair) for pair in about.get("setup", [])]
        self._ready, self._mask = about.get("ready") or (-1, 0)
        self._data, self._size = about["data"]
        self._clear = about.get("clear", -1)
        self._value = about["value"]
        self._interval_us = int(1000000 / about.get("rate_Hz", 50))
        self._from_us, self._begun = about.get("there_after_ms", 0) * 1000, time.ticks_us()
        self._next = 0
        self._held = False
        self._strict = about.get("strict", False)

    def is_there(self) -> bool:
        """Whether it has power yet."""
        return time.ticks_diff(time.ticks_us(), self._begun) >= self._from_us

    def read_into(self, register: int, out: bytearray, bits: int) -> None:
        """Fill `out` from a register on."""
        self._check(bits)
        if register == self._ready:
            out[0] = self._mask if self._is_new() else 0
        elif register == self._data and len(out) == self._size:
            for i in range(self._size):
                out[i] = self._value >> 8 * (self._size - 1 - i) & 0xFF
            self._next = time.ticks_us() + self._interval_us
            self._held = self._clear >= 0
        else:
            self._log("read of an unknown register:", register)

    def write(self, register: int, value: int, bits: int) -> None:
        """Take one byte."""
        self._check(bits)
        if register == self._clear:
            self._held = False
            return
        for i in range(len(self._wanted)):
            if self._wanted[i][0] == register and self._wanted[i][1] == value:
                self._wanted.pop(i)
                return
        if self._strict:
            self._log("set up again: register", register)

    def _is_new(self) -> bool:
        return not self._wanted and not self._held and time.ticks_us() >= self._next

    def _check(self, bits: int) -> None:
        if bits != self._bits:
            self._log("registers are addressed with other bits than", self._bits)
