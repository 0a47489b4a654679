"""What links do to time: how long each way takes, by the name of the link; the seed settles all that is chance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.errors import OptionError
from weightshare.model import Side

WRAP = 2**32


@dataclass(frozen=True, slots=True)
class Carrier:
    """One kind of link between a scale and its host, and the clocks at the scales' ends of it. Times are in s."""

    name: str
    words: str
    delay_s: float = 0.0
    """What each way takes at least."""
    jitter_s: float = 0.0
    """The mean of what each packet takes longer, exponentially distributed, drawn for each way by itself."""
    interval_s: float = 0.0
    """Between the instants at which the radio sends at all, in both directions; 0: at any time."""
    missed: float = 0.0
    """The part of those instants at which nothing gets through, so that the next is waited for."""
    burst_every_s: float = 0.0
    """From the end of one burst to the beginning of the next, in the mean; 0: there are none."""
    burst_s: tuple[float, float] = (0.0, 0.0)
    """How long a burst holds everything up, from and to."""
    loss: float = 0.0
    """The part of the packets that never arrives, in both directions."""
    slow_side: Side | None = None
    slow_s: float = 0.0
    """How much longer what this side sends takes; not what is sent to it."""
    drift_ppm: float = 0.0
    """An oscillator is off by up to so much, drawn for each scale."""
    wrap_s: tuple[float, float] | None = None
    """When the left scale's ticks wrap after it is switched on, from and to; the right one's begin anywhere."""


DIRECT = Carrier("direct", "everything arrives at once; two scales' oscillators are off by 18 and -23 ppm")
DIRECT_DRIFTS_PPM = {None: 0.0, Side.LEFT: 18.0, Side.RIGHT: -23.0}
"""How far oscillators are off where nothing is drawn; crystals are good to about 30."""
DIRECT_START_TICKS = {None: 0, Side.LEFT: 0, Side.RIGHT: 3_000_000_000}
_SOON_S = (15.0, 45.0)

CARRIERS: dict[str, Carrier] = {
    carrier.name: carrier
    for carrier in (
        DIRECT,
        Carrier(
            "cable",
            "a cable for each scale: half a millisecond, hardly more",
            delay_s=0.0003,
            jitter_s=0.0002,
            drift_ppm=50.0,
            wrap_s=_SOON_S,
        ),
        Carrier(
            "air",
            "a good radio link for each: every 15 ms something may pass, one time in twenty nothing does",
            delay_s=0.001,
            jitter_s=0.0005,
            interval_s=0.015,
            missed=0.05,
            drift_ppm=100.0,
            wrap_s=_SOON_S,
        ),
        Carrier(
            "bursts",
            "a poor radio link: one packet in two hundred is lost, and all is held up for up to 60 ms at a time",
            delay_s=0.001,
            jitter_s=0.002,
            interval_s=0.015,
            missed=0.15,
            burst_every_s=0.5,
            burst_s=(0.02, 0.06),
            loss=0.005,
            drift_ppm=100.0,
            wrap_s=_SOON_S,
        ),
        Carrier(
            "uneven",
            "as air, but what the right scale sends takes 20 ms longer: no method can see that",
            delay_s=0.001,
            jitter_s=0.0005,
            interval_s=0.015,
            missed=0.05,
            slow_side=Side.RIGHT,
            slow_s=0.02,
            drift_ppm=100.0,
            wrap_s=_SOON_S,
        ),
    )
}


def find_carrier(name: str) -> Carrier:
    """Return the link called `name`. Raises OptionError, which lists what there is."""
    if name not in CARRIERS:
        raise OptionError(f"--link {name}: the rig has no such link; it has {', '.join(CARRIERS)}")
    return CARRIERS[name]


def draw_drift(carrier: Carrier, seed: int, side: Side | None) -> tuple[float, int]:
    """Return how far off the oscillator of the scale of `side` (None: of both) is, ppm, and the tick it begins with."""
    if not carrier.drift_ppm:
        return DIRECT_DRIFTS_PPM[side], DIRECT_START_TICKS[side]
    rng = np.random.default_rng([seed, 21, _number(side)])
    drift_ppm = float(rng.uniform(-carrier.drift_ppm, carrier.drift_ppm))
    if carrier.wrap_s is None or side is Side.RIGHT:
        return drift_ppm, int(rng.integers(WRAP))
    return drift_ppm, WRAP - round(1e6 * float(rng.uniform(*carrier.wrap_s)))


class Roads:
    """Both ways of one scale's link: `up` to the host, `down` to the scale. Times are ns of true time."""

    def __init__(self, carrier: Carrier, seed: int, side: Side | None) -> None:
        slow_s = carrier.slow_s if side is carrier.slow_side else 0.0
        place = _number(side)
        phase = float(np.random.default_rng([seed, 22, place]).random())
        self.up = Road(carrier, [seed, 23, place], slow_s, phase)
        self.down = Road(carrier, [seed, 24, place], 0.0, phase)


class Road:
    """One way of one link; packets keep their order. `phase` is where in true time's intervals the radio sends."""

    def __init__(self, carrier: Carrier, seed: Sequence[int], slow_s: float, phase: float) -> None:
        self._carrier = carrier
        self._rng = np.random.default_rng(seed)
        self._slow_ns = round(slow_s * 1e9)
        self._interval_ns = round(carrier.interval_s * 1e9)
        self._phase_ns = round(phase * self._interval_ns)
        self._newest_ns = 0
        self._burst: tuple[int, int] | None = None
        """From when to when the newest burst holds up what comes into it."""

    def arrive(self, sent_ns: int) -> int | None:
        """Return when what is sent at `sent_ns` arrives, None for never."""
        carrier = self._carrier
        if carrier is DIRECT:
            return sent_ns
        if self._rng.random() < carrier.loss:
            return None
        jitter_s = carrier.jitter_s * float(self._rng.exponential())
        ready_ns = sent_ns + round((carrier.delay_s + jitter_s) * 1e9)
        # the slow stretch lies behind the radio
        passed_ns = self._hold_up(self._wait(ready_ns)) + self._slow_ns
        self._newest_ns = max(self._newest_ns, passed_ns)
        return self._newest_ns

    def _wait(self, ready_ns: int) -> int:
        """Return when the radio sends what is ready at `ready_ns`."""
        interval_ns = self._interval_ns
        if not interval_ns:
            return ready_ns
        missed = int(self._rng.geometric(1.0 - self._carrier.missed)) - 1
        waits = -((self._phase_ns - ready_ns) // interval_ns)
        return self._phase_ns + (waits + missed) * interval_ns

    def _hold_up(self, at_ns: int) -> int:
        if not self._carrier.burst_every_s:
            return at_ns
        if self._burst is None:
            self._burst = self._draw_burst(at_ns)
        while self._burst[1] <= at_ns:
            self._burst = self._draw_burst(self._burst[1])
        begin_ns, end_ns = self._burst
        return end_ns if at_ns >= begin_ns else at_ns

    def _draw_burst(self, after_ns: int) -> tuple[int, int]:
        begin_ns = after_ns + round(self._carrier.burst_every_s * float(self._rng.exponential()) * 1e9)
        return begin_ns, begin_ns + round(float(self._rng.uniform(*self._carrier.burst_s)) * 1e9)


def _number(side: Side | None) -> int:
    return 0 if side is None else 1 + list(Side).index(side)
