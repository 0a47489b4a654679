"""Takes a row of readings at each beat of a timer. Nothing here takes memory while it samples."""

from array import array

from machine import Timer
from scale.body import CELL_SILENT, NO_READING, NOTHING_NEW, OVERLOAD
from scale.clock import SHORT, short_tick
from scale.ring import Ring

RING_S = 1
"""How long the link may stand still before rows are lost, s."""
SILENT_PART_S = 4
"""A cell is silent when it gave no reading for this part of a second, ..."""
SILENT_ROWS = 4
"""... and at least so many rows."""


class Sampler:
    """Reads all sensors, in the order of the channels.

    Converters keep a beat of their own, which is not quite the timer's. So a row for which a sensor has nothing new
    takes its last reading once more; the row after that has none. No reading is older than two intervals.
    """

    def __init__(self, sensors: list, is_force: list, timer: int, fastest_Hz: float) -> None:
        self._sensors = sensors
        self._is_force = is_force
        self._timer = Timer(timer)
        self.ring = Ring(max(int(fastest_Hz * RING_S), 16), len(sensors))
        self._last = [NO_READING] * len(sensors)  # a list: to read so large a number from an array takes memory
        self._silent = array("H", [0] * len(sensors))
        self._silent_rows = 0
        self._number = 0
        self.faults = 0
        """Bits of CONDITION that came up since they were last taken back."""
        self._beat = self._take  # a bound method made once: making one takes memory

    def start(self, rate_Hz: float) -> None:
        """Take rows from now on, `rate_Hz` a second."""
        self.stop()
        self.ring.clear()
        self._number = 0
        self._silent_rows = max(int(rate_Hz / SILENT_PART_S), SILENT_ROWS)
        for sensor in self._sensors:
            sensor.set_up()
        for i in range(len(self._silent)):
            self._silent[i], self._last[i] = 0, NO_READING
        self._timer.init(mode=Timer.PERIODIC, freq=rate_Hz, callback=self._beat)

    def stop(self) -> None:
        """Take no more rows."""
        self._timer.deinit()

    def wake(self) -> None:
        """Set up again what has been silent: it may have been plugged in only now."""
        for i, sensor in enumerate(self._sensors):
            if self._silent[i] >= self._silent_rows:
                sensor.wake()

    def take_faults(self) -> int:
        """Return the faults since the last time."""
        faults, self.faults = self.faults, 0
        return faults

    def _take(self, _timer) -> None:
        tick = short_tick()
        number = self._number
        self._number = (number + 1) & SHORT
        ring = self.ring
        at = ring.place()
        for i in range(len(self._sensors)):
            value = self._read(i)  # also where the ring is full: an old reading must not wait in a converter
            if at >= 0:
                ring.values[at + i] = value
        if at >= 0:
            ring.put(number, tick)

    def _read(self, i: int) -> int:
        value = self._sensors[i].read()
        self._watch(i, value)
        if value == NOTHING_NEW:
            value, self._last[i] = self._last[i], NO_READING
        else:
            self._last[i] = value
        return value

    def _watch(self, i: int, value: int) -> None:
        full = self._sensors[i].full
        if value <= NOTHING_NEW:
            self._silent[i] = min(self._silent[i] + 1, self._silent_rows)
            if self._is_force[i] and self._silent[i] >= self._silent_rows:
                self.faults |= CELL_SILENT
            return
        self._silent[i] = 0
        if self._is_force[i] and (value >= full or value <= -full):
            self.faults |= OVERLOAD
