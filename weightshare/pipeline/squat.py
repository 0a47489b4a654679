"""Squats by the total force: the centre of mass goes down, stays there, and comes up again."""

from __future__ import annotations

from statistics import median

import numpy as np

from weightshare.exercise import CUT_OFF, FOOT_LEFT, HALF_WAY, LOW, SHORT, UNREAD, Basis, Repetition
from weightshare.model import STANDARD_GRAVITY, Floats
from weightshare.pipeline.ascent import find_ascent
from weightshare.pipeline.bend import UNREAD_SHARE, Bender
from weightshare.pipeline.course import Shape
from weightshare.pipeline.dip import OVER_S, DipTracker, Event
from weightshare.pipeline.footing import AROUND_S, HALF_PART, ForceRows, Low, Raised, find_course, find_low
from weightshare.pipeline.forefoot import Stay
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.motion import BOTTOM, LOWERING, UNKNOWN, Ground, PhaseNumbers
from weightshare.pipeline.onset import OnsetFinder
from weightshare.pipeline.tape import integrate
from weightshare.pipeline.travel import Travel, integrate_twice, tie

SETTLE_S = 0.7
"""After stepping on, nothing is told for so long."""
LOW_MM, DIP_MM = 50.0, 30.0
"""A squat goes deeper than the first; less than the second is not worth telling."""
DEEP_PART = 0.5
"""A squat goes at least this part as deep as those before: common practice, no source."""
SHORTEST_S = 0.5
STANDS_S = 0.6
"""Who has stood again for so long is at rest."""
PAUSE_S, PAUSE_M_S = 0.3, 0.007
"""Between two squats there is a pause where the speed changes by no more for so long, ..."""
DRIFT_M_S = 0.02
"""... and is nearly what it is where the body turns."""
STILL_S, STILL_M_S, LOOK_BACK_S = 0.5, 0.012, 3.0
"""Before a squat somebody was still whose speed changed by no more for so long; that is looked for so far back."""
STEADY_S = 0.3
"""The force of standing is looked at from so long after standing again."""
CYCLES_S = (0.4, 12.0)
"""The force that carries the weight is the mean since an instant of rest so long ago: between two of them it is that."""

NO_DEPTH = "heights and load x heel travel are not known: squats rest on the forces"


class SquatCounter(Bender):
    """Finds squats in the travel of the centre of mass, from rest to rest; a Counter.

    The lowering comes first: `start_s` is `lowering_s`, where the way down has a tenth of its depth; `top_s` is `end_s`,
    where a tenth is left of the way up. The stay down there has no figures. Phases: LOWERING on the way down, TOP while
    down there, RISE on the way up, BOTTOM while standing.
    """

    def __init__(self, ground: Ground) -> None:
        super().__init__(ground)
        self._tracker = DipTracker()
        self._onset = OnsetFinder(np.inf)
        self._dip: Raised | None = None
        """The squat under way."""
        self._rests_s: list[float] = []
        self._depths_mm: list[float] = []

    def finish(self) -> None:
        """The stream ends here. Who stands again is done; else what is under way is told as cut off."""
        dip, self._dip = self._dip, None
        if dip is None:
            return
        last_s = float(self._tape.time_s[-1])
        if self._tracker.phase == BOTTOM and last_s - self._tracker.since_s >= STEADY_S:
            self._judge(dip, self._tracker.since_s, min(last_s, self._tracker.since_s + STANDS_S))
        elif self._tracker.high >= LOW_MM / 1000.0:
            self._reject(dip.first_s, last_s, CUT_OFF)

    def _arrive(self, time_s: float) -> None:
        self._rests_s = [time_s + SETTLE_S]
        self._onset = OnsetFinder(time_s + SETTLE_S)

    def _leave(self, time_s: float) -> None:
        dip, self._dip = self._dip, None
        if dip is not None and self._tracker.phase == BOTTOM:
            self._judge(dip, self._tracker.since_s, min(time_s, self._tracker.since_s + STEADY_S))
        elif dip is not None and self._tracker.high >= DIP_MM / 1000.0:
            self._reject(dip.first_s, time_s, FOOT_LEFT)

    def _needed_s(self) -> float:
        return np.inf if self._dip is None else self._dip.rest_s

    def _follow(self, time_s: Floats, rows: Floats) -> PhaseNumbers:
        signal = rows[ForceRows.SIGNAL]
        phases = np.full(time_s.size, BOTTOM, dtype=np.int8)
        start = 0
        while start < time_s.size:
            if self._dip is None:
                onset = self._onset.push(time_s[start:], STANDARD_GRAVITY * (1.0 - signal[start:]))
                if onset is None:
                    break
                place = start + onset.place
                self._begin(onset.rest_s, float(time_s[place]))
                phases[place] = LOWERING
                start = place + 1
            else:
                downwards = (self._dip.level_N - rows[ForceRows.TOTAL_N, start:]) / self._mass_kg()
                told, event = self._tracker.push(time_s[start:], downwards)
                phases[start : start + told.size] = told
                start += told.size
                if event is not None:
                    self._heed(event, self._dip, float(time_s[start - 1]))
                    phases[start - 1] = BOTTOM if self._dip is None else self._tracker.phase
        return np.where(np.isnan(signal), UNKNOWN, phases).astype(np.int8)

    def _heed(self, event: Event, dip: Raised, now_s: float) -> None:
        """Act on what the tracker saw."""
        if event is Event.AGAIN:
            self._go_again(dip, now_s)
            return
        self._dip = None
        rest_s, level_N = now_s, None
        if event is Event.OVER:
            rest_s = self._find_pause_s(dip, now_s, self._tracker.since_s + STANDS_S)
            self._judge(dip, self._tracker.since_s, rest_s)
            level_N = self._find_level_N(rest_s)
        elif event is Event.NONE:
            level_N = dip.level_N
        elif event is Event.STUCK:
            self._reject(dip.first_s, now_s, HALF_WAY)
        self._rests_s = [rest_s] if level_N is None else [*self._rests_s, rest_s]
        self._rest(rest_s, now_s, level_N)

    def _rest(self, from_s: float, now_s: float, level_N: float | None) -> None:
        """Look for the next way down; who stands has done so since `from_s`, with this force where it is known."""
        level = None if level_N is None else STANDARD_GRAVITY - level_N / self._mass_kg()
        self._onset = OnsetFinder(from_s, level)
        seen = slice(*self._tape.time_s.searchsorted((from_s, np.nextafter(now_s, np.inf))).tolist())
        signal = self._tape.values[ForceRows.SIGNAL, seen]
        onset = self._onset.push(self._tape.time_s[seen], STANDARD_GRAVITY * (1.0 - signal)) if signal.size else None
        if onset is not None:
            self._begin(onset.rest_s, now_s)

    def _begin(self, rest_s: float, now_s: float, *, continues: bool = False) -> None:
        """Take up a squat that had not begun at `rest_s`."""
        rest_s = rest_s if continues else self._find_still_s(rest_s)
        level_N = self._find_level_N(rest_s)
        self._rests_s.append(rest_s)
        self._dip = Raised(now_s, rest_s, level_N, Stay(now_s, 0.0, 0.0), continues, upwards=-1.0)
        time_s, speed, place = find_course(self._tape, self._dip, self._mass_kg(), now_s)
        self._tracker.usual_m = median(self._depths_mm[-5:]) / 1000.0 if self._depths_mm else 0.0
        self._tracker.begin(rest_s, time_s, np.stack((speed, place)))

    def _find_still_s(self, until_s: float) -> float:
        """Return when who stands was still for the last time; `until_s` where nothing tells."""
        from_s = max(until_s - LOOK_BACK_S, self._rests_s[-1] if self._rests_s else -np.inf, float(self._tape.time_s[0]))
        if until_s - from_s <= STILL_S:
            return until_s
        time_s, values = self._tape.between(from_s, until_s)
        signal = values[ForceRows.SIGNAL]
        known = ~np.isnan(signal)
        time_s, speed = time_s[known], STANDARD_GRAVITY * integrate_twice(time_s[known], signal[known] - np.median(signal[known]))[0]
        first = time_s.searchsorted(time_s - STILL_S)
        spread = -window_min(-speed, first, 0) - window_min(speed, first, 0)
        still = np.flatnonzero((spread <= STILL_M_S) & (time_s - time_s[0] >= STILL_S))
        return float(time_s[still[-1]]) - STILL_S / 2.0 if still.size else until_s

    def _find_level_N(self, rest_s: float) -> float:
        least_s, most_s = CYCLES_S
        self._rests_s = [earlier for earlier in self._rests_s if earlier >= rest_s - most_s]
        from_s = max(min(self._rests_s, default=rest_s - most_s), rest_s - most_s, float(self._tape.time_s[0]))
        if rest_s - from_s >= least_s:
            time_s, values = self._tape.between(from_s, rest_s)
            sums, read_s = integrate(time_s, values[ForceRows.TOTAL_N : ForceRows.TOTAL_N + 1])
            if read_s >= least_s:
                return float(sums[0]) / read_s
        return STANDARD_GRAVITY * self._mass_kg()

    def _go_again(self, dip: Raised, now_s: float) -> None:
        """It goes down without a rest: another squat, if it was up before."""
        low = find_low(self._tape, dip, self._mass_kg(), (self._tracker.low_s - AROUND_S, now_s))
        stood = self._tracker.phase == BOTTOM
        if not stood and low.part >= HALF_PART:
            self._tracker.go_on()
            return
        turn_s = self._find_pause_s(dip, now_s, low.turn_s) if stood else low.turn_s
        self._judge(dip, min(self._tracker.since_s, turn_s), turn_s)
        self._begin(turn_s, now_s, continues=True)

    def _find_pause_s(self, dip: Raised, until_s: float, turn_s: float) -> float:
        """Return when who stands again was stillest, with the speed of `turn_s`; that itself where there was no pause."""
        time_s, speed, _ = find_course(self._tape, dip, self._mass_kg(), until_s)
        turn_m_s = float(np.interp(turn_s, time_s, speed))
        stood = time_s >= self._tracker.since_s
        time_s, speed = time_s[stood], speed[stood]
        first = time_s.searchsorted(time_s - PAUSE_S)
        low, high = window_min(speed, first, 0), -window_min(-speed, first, 0)
        whole = np.flatnonzero(time_s - time_s[0] >= PAUSE_S)
        if not whole.size:
            return turn_s
        at = int(whole[np.argmin((high - low)[whole])])
        rests = high[at] - low[at] <= PAUSE_M_S and abs(0.5 * (high[at] + low[at]) - turn_m_s) <= DRIFT_M_S
        return float(time_s[at]) - PAUSE_S / 2.0 if rests else turn_s

    def _judge(self, dip: Raised, back_s: float, rest_s: float) -> None:
        """Give out what went down and was back at rest at `rest_s`; from `back_s` on it was as good as up."""
        time_s, speed, place = find_course(self._tape, dip, self._mass_kg(), rest_s)
        if not self._is_read(dip.rest_s, rest_s):
            return self._reject(dip.first_s, back_s, UNREAD)
        travel = tie(time_s, speed, place)
        ascent = find_ascent(travel)
        depth_mm = float(travel.height_mm.max())
        if ascent is None or depth_mm < DIP_MM:
            return None
        shape = ascent.shape
        reason = self._find_load_reason(shape.start_s, shape.end_s)
        if not reason and depth_mm < max(LOW_MM, DEEP_PART * median(self._depths_mm) if self._depths_mm else 0.0):
            reason = LOW
        if not reason and shape.end_s - shape.start_s < SHORTEST_S:
            reason = SHORT
        if reason:
            return self._reject(shape.start_s, shape.end_s, reason)
        self._depths_mm.append(shape.height_mm)
        self.repetitions.append(self._make(shape, travel))
        return None

    def _make(self, shape: Shape, travel: Travel) -> Repetition:
        delay_s = self._ground.delay_s
        lowering = self._stretch(shape.start_s, shape.top_s)
        rise = self._stretch(shape.lowering_s, shape.end_s)
        height = -np.interp(lowering.time_s, travel.time_s, travel.height_mm)
        shares = lowering.share_percent(), rise.share_percent()
        self._warn(NO_DEPTH)
        self._warn(UNREAD_SHARE, None in shares)
        return Repetition(
            basis=Basis.FORCE,
            start_s=shape.start_s - delay_s,
            top_s=shape.end_s - delay_s,
            lowering_s=shape.start_s - delay_s,
            end_s=shape.end_s - delay_s,
            rise_duration_s=rise.duration_s,
            lowering_duration_s=lowering.duration_s,
            share_rise_percent=shares[1],
            share_lowering_percent=shares[0],
            share_lowering_thirds_percent=lowering.thirds_percent(height, float(height[0]), float(height[-1])),
            lowering_in_band_percent=self._in_band(lowering),
            lowering_least_N=lowering.least_N(),
            supported=self._is_supported(shape.start_s, shape.end_s),
            incomplete_return=shape.incomplete_return,
        )
