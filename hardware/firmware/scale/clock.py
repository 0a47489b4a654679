"""Microseconds since power-on as 32 bits, and the even grid of instants on which rows are told to the host."""

from time import ticks_us

SHORT = 0x3FFFFFFF
"""The board's own counter as far as it fits a small integer: an interrupt can read it without taking memory."""
LONG = 0xFFFFFFFF

PULL = 16
"""A row moves the grid by this part of how far off it came, ..."""
LEAST_PULL = 256
"""... and by no more than this part of an interval: a late interrupt is late, the next row is not. What pulls harder
would hide interrupts that went missing."""
LATE_ROWS = 8
"""So many rows in a row that all come most of an interval late: interrupts went missing in between."""


def short_tick() -> int:
    """Return the counter's lowest 30 bits; for the interrupt."""
    return ticks_us() & SHORT


class Clock:
    """The counter carried on to 32 bits. `now` has to be asked at least every 17 minutes."""

    def __init__(self) -> None:
        self._last = short_tick()
        self._now = 0

    def now(self) -> int:
        """Return the tick now."""
        short = short_tick()
        self._now = (self._now + ((short - self._last) & SHORT)) & LONG
        self._last = short
        return self._now

    def extend(self, short: int) -> int:
        """Return the tick of an instant of the last 17 minutes, from its 30 bits."""
        now = self.now()
        return (now - ((self._last - short) & SHORT)) & LONG


class Grid:
    """Puts numbered rows on even instants, `step` ticks apart, which follow the interrupts slowly."""

    def __init__(self, step: int) -> None:
        self.step = step
        self._number = self._due = None
        self._late = 0

    def missed(self, number: int, tick: int) -> int:
        """Return how many rows are missing before this one. Asking changes nothing."""
        if self._due is None:
            return 0
        gap = (number - self._number) & SHORT
        return gap + self._slip(self._error(gap, tick))

    def place(self, number: int, tick: int, missed: int) -> int:
        """Return the tick that the row is told with; `missed` is what was said of it."""
        due = tick if self._due is None else (self._due + missed * self.step) & LONG
        error = _signed(tick - due)
        self._late = self._late + 1 if 4 * error > 3 * self.step else 0
        most = self.step // LEAST_PULL
        due = (due + max(-most, min(error // PULL, most))) & LONG
        self._number = (number + 1) & SHORT
        self._due = (due + self.step) & LONG
        return due

    def _error(self, gap: int, tick: int) -> int:
        return _signed(tick - self._due - gap * self.step)

    def _slip(self, error: int) -> int:
        late = self._late >= LATE_ROWS and 4 * error > 3 * self.step
        return (error + self.step // 2) // self.step if late else 0


def _signed(difference: int) -> int:
    difference &= LONG
    return difference - LONG - 1 if difference > LONG >> 1 else difference
