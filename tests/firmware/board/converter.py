"""A two-wire 24-bit bridge converter, as seen from its two pins. Only small integers: it is asked in callbacks."""

import time

LEFT_OFF = 10
"""A reading that was not clocked on for so many conversions was left off."""


class Converter:
    """Converts at a rate of its own. `kind` is ok, never (ready), saturated (low), short (data tied to ground)."""

    def __init__(self, about: dict, log, irq_off: list) -> None:
        self.clock_pin, self.data_pin = about["clock"], about["data"]
        self._log = log
        self._irq_off = irq_off
        self._kind = about.get("kind", "ok")
        self._base, self._still = about.get("base", 0), about.get("still", False)
        self._interval_ns = int(1000000000 / about.get("rate_Hz", 80))
        self._loads = about.get("loads", [])
        """Pairs of ms since power on, and counts from then on."""
        self._until_ms, self._begun = about.get("silent_after_ms", 0), time.ticks_us()
        self._taken = -1
        self._pulses = 0
        self._chosen = 25
        self._word = 0
        self._level = 0
        self._up_us = 0

    def conversions(self) -> int:
        """How many conversions are done."""
        return time.ticks_diff(time.ticks_us(), self._begun) * 1000 // self._interval_ns

    def data(self) -> int:
        """The level of the data line."""
        if self._kind == "short":
            return 0
        if 0 < self._pulses <= 24 and self.conversions() <= self._taken + LEFT_OFF:
            return self._word >> (24 - self._pulses) & 1
        if self._pulses > 24 and self.conversions() <= self._taken:
            return 1
        self._end()
        return 0 if self._is_ready() else 1

    def clock(self, level: int) -> None:
        """The clock line is set."""
        if level == self._level or self._kind == "short":
            return
        self._level = level
        if not level:
            return
        if not self._irq_off[0]:
            self._log("clock high while an interrupt may come")
        if not self._pulses:
            self._latch()
        self._pulses += 1
        if self._pulses > 27:
            self._log("too many pulses:", self._pulses)

    def _is_ready(self) -> bool:
        if self._kind == "never" or self.conversions() <= self._taken:
            return False
        return not self._until_ms or time.ticks_diff(time.ticks_us(), self._begun) < self._until_ms * 1000

    def _latch(self) -> None:
        """The first pulse of a reading: from here on it is shifted out."""
        if not self._is_ready():
            self._log("read while not ready")
        self._taken = self.conversions()
        value = self._base + self._taken % 1000 + 100000 * (self._chosen - 25)
        if self._still:
            value = self._base
        if self._loads:
            value = self._load()
        if self._kind == "saturated":
            value = 0x7FFFFF
        if self._kind == "saturated low":
            value = -0x800000
        self._word = value & 0xFFFFFF

    def _load(self) -> int:
        counts, now_ms = 0, time.ticks_diff(time.ticks_us(), self._begun) // 1000
        for i in range(len(self._loads)):
            if now_ms >= self._loads[i][0]:
                counts = self._loads[i][1]
        return counts

    def _end(self) -> None:
        """A reading is over; its number of pulses chooses what comes next."""
        if self._pulses:
            if not 25 <= self._pulses <= 27:
                self._log("pulses:", self._pulses)
            self._chosen = self._pulses
        self._pulses = 0
