"""What a scale counts time by: ticks since it was switched on, a little too fast or too slow."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.model import Side

TICK_RATE_HZ = 1_000_000
"""What a scale says that its rate is; how far its oscillator is off it, nobody knows."""


@dataclass(frozen=True, slots=True)
class Oscillator:
    """Ticks from `power_on_ns` on, where `start_tick` is counted; times are ns of true time, ticks here do not wrap.

    `drift_ppm` is how much too fast it runs.
    """

    power_on_ns: int = 0
    start_tick: int = 0
    drift_ppm: float = 0.0

    @property
    def micro_ticks(self) -> int:
        """Millionths of a tick in a true second."""
        return round(TICK_RATE_HZ * (1_000_000 + self.drift_ppm))

    def tick_at(self, now_ns: int) -> int:
        """Return the tick at `now_ns`."""
        return self.start_tick + (now_ns - self.power_on_ns) * self.micro_ticks // 10**15

    def instant_at(self, tick: int) -> int:
        """Return the first ns at which `tick` has come."""
        return self.power_on_ns - (self.start_tick - tick) * 10**15 // self.micro_ticks


@dataclass(frozen=True, slots=True)
class Boot:
    """One time that a scale was switched on or restarted, and its ticks since; side is None for both."""

    device_id: str
    side: Side | None
    boot_count: int
    oscillator: Oscillator
