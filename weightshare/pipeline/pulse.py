"""The phase of a raise while it is under way, by the speed of the centre of mass since it was last at rest.

The speed is the total force less the weight, over the mass, integrated; it drifts by some mm/s in as many seconds. What
is told from it is told late rather than wrongly, for the band follows it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, PhaseNumbers
from weightshare.pipeline.tape import Tape


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast and far the centre of mass goes: by default in a heel raise. Speeds in m/s, places in m, times in s."""

    rise_m_s: float = 0.015
    rise_m: float = 0.003
    """A rise has begun from this speed and place on. Who leans moves by some mm/s, a rise of 2 s reaches 50 mm/s."""
    top_part: float = 0.3
    """The top is reached where the speed is down to this part of the rise's ..."""
    expected_part: float = 0.7
    """... and the way up is at least this part of what is expected, ..."""
    least_m: float = 0.012
    """... or so much where nothing is."""
    fall_m_s: float = 0.012
    """The lowering has begun where the speed has fallen by so much within `recent_s` ..."""
    down_m_s: float = 0.006
    """... to at least so much downwards, ..."""
    fall_part: float = 0.1
    """... and the place by this part of the way up."""
    recent_s: float = 1.0
    again_m: float = 0.008
    """Who comes up so far again in the lowering is on the rise again."""
    down_part: float = 0.35
    """Who comes to rest under this part of the way is down."""
    linger_s: float = 1.5
    """Who is down for so long, with the load still on the forefoot, stands otherwise than before."""
    lean_s: float = 6.0
    """So does who has not gone up for so long."""
    most_m: float = 0.25
    """No centre of mass goes up by more, ..."""
    under_m: float = 0.1
    """... or so far under its rest."""
    longest_s: float = 90.0
    """Nobody takes so long for one repetition."""


DOWN = 4
"""At rest again, by what is only the speed."""


class Event(Enum):
    """What ends a raise although the load stays on the forefoot."""

    AGAIN = "the heels go up again"
    STAYS = "the heels stay down"
    LOST = "the total force tells nothing"
    ENDLESS = "whatever it was, it is none any more"


class PulseTracker:
    """Parts a raise into rise, top and lowering, sample by sample. Times in s, speeds in m/s, places in m."""

    def __init__(self, pace: Pace) -> None:
        self._pace = pace
        self._recent = Tape(2)
        self.phase = BOTTOM
        self.rose = False
        """Whether there was a rise."""
        self.rise_s = np.inf
        """When the first rise was seen."""
        self.low_s = self.since_s = -np.inf
        """When the centre of mass was lowest since the lowering began; since when the phase lasts."""

    @property
    def told(self) -> int:
        """The phase of the newest sample; DOWN where it is the bottom that comes after a rise."""
        return DOWN if self.phase == BOTTOM and self.rose else self.phase

    def begin(self, course: tuple[Floats, Floats, Floats], expected_m: float | None, *, rising: bool) -> None:
        """Take up a raise, with times, speed and place (n,) from the rest before it up to the newest sample.

        `expected_m` is how far the centre of mass should go up, None where nothing tells.
        """
        time_s, speed, place = course
        self._recent = Tape(2)
        self._recent.push(time_s, np.stack((speed, place)))
        self.since_s, self._begun_s, self._acceleration = float(time_s[-1]), float(time_s[0]), 0.0
        self._expected_m = self._pace.least_m if expected_m is None else self._pace.expected_part * expected_m
        self.phase, self.rose = (RISE, True) if rising else (BOTTOM, False)
        self.rise_s = self.since_s if rising else np.inf
        self._fastest, self._high, self._low = float(speed[-1]), float(place[-1]), float(place.min())

    def push(self, time_s: Floats, acceleration: Floats) -> tuple[PhaseNumbers, Event | None]:
        """Return the phase of each sample (n,), n at least 1, up to the one with which something else ends the raise,
        and what that is; None where nothing does. A missing acceleration (m/s^2) leaves the speed as it is."""
        speed, place, recent = self._move(time_s, acceleration)
        phases = np.empty(time_s.size, dtype=np.int8)
        start, event = 0, None
        while start < time_s.size and event is None:
            turn, what = self._turn(time_s[start:], speed[start:], place[start:], recent[:, start:])
            phases[start : start + turn] = self.told
            start += turn
            if what is not None:
                event = what if isinstance(what, Event) else None
                if not isinstance(what, Event):
                    self._enter(what, float(time_s[start]), float(speed[start]), float(place[start]))
                phases[start] = self.told
                start += 1
        self._keep_recent(time_s[:start], np.stack((speed, place))[:, :start])
        self._acceleration = 0.0 if np.isnan(acceleration[start - 1]) else float(acceleration[start - 1])
        return phases[:start], event

    def rise_again(self) -> None:
        """The heels were not down before they went up again: the raise goes on."""
        speed, place = self._recent.values[:, -1]
        self._enter(RISE, float(self._recent.time_s[-1]), float(speed), float(place))

    def wait(self, time_s: float) -> None:
        """The heels are not known to be down for good: look again after a while."""
        self.since_s = time_s

    def _move(self, time_s: Floats, acceleration: Floats) -> tuple[Floats, Floats, Floats]:
        """Integrate on; return speed, place, and the most of both over the last moments, (n,), (n,), (2, n)."""
        known = np.where(np.isnan(acceleration), 0.0, acceleration)
        times, (speeds, places) = self._recent.time_s, self._recent.values
        steps = 0.5 * np.diff(time_s, prepend=times[-1])
        speed = _add(speeds[-1], steps * (known + np.concatenate(([self._acceleration], known[:-1]))))
        place = _add(places[-1], steps * (speed + np.concatenate((speeds[-1:], speed[:-1]))))
        first = np.concatenate((times, time_s)).searchsorted(time_s - self._pace.recent_s)
        start, old = int(first[0]), times.size
        rows = np.concatenate((speeds, speed))[start:], np.concatenate((places, place))[start:]
        most = np.stack([-window_min(-row, first - start, old - start) for row in rows])
        return speed, place, most

    def _keep_recent(self, time_s: Floats, course: Floats) -> None:
        self._recent.push(time_s, course)
        self._recent.let_go(float(time_s[-1]) - self._pace.recent_s - 0.1)

    def _enter(self, phase: int, time_s: float, speed: float, place: float) -> None:
        if phase == RISE:
            self._fastest, self.rose, self.rise_s = speed, True, min(self.rise_s, time_s)
        if phase in (LOWERING, BOTTOM):
            self._low = place if phase == LOWERING else min(self._low, place)
            self.low_s = time_s
        self.phase, self.since_s = phase, time_s

    def _turn(self, time_s: Floats, speed: Floats, place: Floats, recent: Floats) -> tuple[int, int | Event | None]:
        """Return how many samples the phase still lasts, and what comes then; None where it lasts to the end."""
        low = np.minimum(np.minimum.accumulate(place), self._low)
        high = np.maximum(np.maximum.accumulate(place), self._high)
        fastest = np.maximum(np.maximum.accumulate(speed), self._fastest)
        pace = self._pace
        turns: dict[int | Event, Bools]
        if self.phase == BOTTOM:
            turns = self._leave_rest(time_s, (speed >= pace.rise_m_s) & (place - low >= pace.rise_m))
        elif self.phase == LOWERING:
            up = (speed >= pace.rise_m_s) & (place - low >= pace.again_m)
            turns = {Event.AGAIN: up, BOTTOM: (speed >= -pace.down_m_s) & (place < pace.down_part * high)}
        else:
            fallen = (recent[0] - speed >= pace.fall_m_s) & (recent[1] - place >= pace.fall_part * high)
            turns = {LOWERING: fallen & (speed <= -pace.down_m_s)}
            if self.phase == RISE:
                turns[TOP] = (speed <= pace.top_part * fastest) & (high >= self._expected_m)
        turns[Event.ENDLESS] = time_s - self._begun_s >= pace.longest_s
        turns[Event.LOST] = (place > pace.most_m) | (place < -pace.under_m)
        places = {what: int(np.argmax(found)) for what, found in turns.items() if found.any()}
        what = min(places, key=lambda key: places[key]) if places else None
        stop = time_s.size if what is None else places[what]
        self._keep(time_s[:stop], low[:stop], place[:stop])
        if stop:
            self._high, self._fastest = float(high[stop - 1]), float(fastest[stop - 1])
        return stop, what

    def _leave_rest(self, time_s: Floats, up: Bools) -> dict[int | Event, Bools]:
        late_s = self._pace.linger_s if self.rose else self._pace.lean_s
        return {Event.AGAIN if self.rose else RISE: up, Event.STAYS: time_s - self.since_s >= late_s}

    def _keep(self, time_s: Floats, low: Floats, place: Floats) -> None:
        """Note the lowest place so far, and when that was."""
        if time_s.size and low[-1] < self._low:
            self._low = float(low[-1])
            self.low_s = float(time_s[np.argmin(place)])


def _add(start: float, steps: Floats) -> Floats:
    """Return the running sums of `steps` (n,) from `start` on; added one by one, however they are grouped."""
    return np.cumsum(np.concatenate(([start], steps)))[1:]
