"""Squats by the total force: the centre of mass goes down, stays there, and comes up again."""

from __future__ import annotations

from statistics import median

import numpy as np

from weightshare.exercise import CUT_OFF, FOOT_LEFT, HALF_WAY, LOW, SHORT, UNREAD, Basis, Repetition
from weightshare.model import STANDARD_GRAVITY, Floats
from weightshare.pipeline.ascent import find_ascent
from weightshare.pipeline.bend import Bender, fill_forward
from weightshare.pipeline.course import Shape
from weightshare.pipeline.dip import DipTracker, Event
from weightshare.pipeline.figure import UNREAD_SHARE
from weightshare.pipeline.footing import AROUND_S, HALF_PART, ForceRows, Raised, find_course, find_low
from weightshare.pipeline.forefoot import Stay
from weightshare.pipeline.lift import window_min
from weightshare.pipeline.motion import BOTTOM, LOWERING, UNKNOWN, Ground, PhaseNumbers
from weightshare.pipeline.onset import Onset, OnsetFinder
from weightshare.pipeline.tape import integrate
from weightshare.pipeline.travel import LIKELY, Travel, integrate_twice, misfit, tie

SETTLE_S = 0.7
"""After stepping on, nothing is told for so long."""
LOW_MM, DIP_MM = 50.0, 30.0
"""A squat goes deeper than the first; less than the second is not worth telling."""
DEEP_PART = 0.5
"""A squat goes at least this part as deep as those before: common practice, no source."""
SHORTEST_S = 0.5
STANDS_S = 0.6
"""Who has stood again for so long is at rest."""
PAUSE_S, PAUSE_M_S, NO_PAUSE = 0.3, 0.01, 1.3
"""In a pause between two squats the speed changes by hardly more than the second within the first; by so many times
that, and there is none."""
STILL_S, STILL_M_S, LOOK_BACK_S = 0.5, 0.006, 3.0
"""Before a squat somebody was still whose speed changed by no more for so long; that is looked for so far back."""
GAINED_M_S = 0.03
"""Since then the speed has grown by so much."""
STEADY_S = 0.3
"""The force of standing is looked at from so long after standing again."""
CYCLES_S, LEAST_S = 25.0, 0.4
"""The force that carries the weight is the mean since an instant of rest so long ago, or less: between two of them it
is that. It takes the second at least."""
KNOWN_S = 5.0
"""What it was before has the weight of so long a time, ..."""
CHANGED_PART = 0.01
"""... unless the mean over that time is another by this part."""

HELD_M_S2 = 0.15
"""A hand that holds on to something pulls with a part of this acceleration, standard deviation; a squat has more."""

UNSTEADY = "some squats are not known: the force was too unsteady, as of one who holds on to something"
NO_DEPTH = "heights, load x heel travel and figures of the stay at the bottom are not known: squats rest on the forces"


class SquatCounter(Bender):
    """Finds squats in the travel of the centre of mass, from rest to rest; a Counter.

    The lowering comes first: `start_s` is `lowering_s`, where the way down has a tenth of its depth; `top_s` is
    `end_s`, where a tenth is left of the way up. The stay down there has no figures. Phases: LOWERING on the way down,
    TOP while down there, RISE on the way up, BOTTOM while standing.
    """

    def __init__(self, ground: Ground) -> None:
        super().__init__(ground)
        self._tracker = DipTracker()
        self._onset = OnsetFinder(np.inf)
        self._dip: Raised | None = None
        """The squat under way."""
        self._rests_s: list[float] = []
        self._level_N: float | None = None
        """The force that carried the weight last."""
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
        self._rests_s, self._level_N = [time_s + SETTLE_S], None
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
                self._go_down(onset, float(time_s[place]))
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
            rest_s = self._find_rest_s(dip, now_s)
            self._judge(dip, self._tracker.since_s, rest_s)
            level_N = self._find_level_N(rest_s)
            self._rests_s.append(rest_s)
        elif event is Event.NONE:
            level_N = dip.level_N
            self._rests_s.remove(dip.rest_s)
        else:
            self._rests_s.clear()
            level_N = self._level_N = self._level_N if self._keeps_level(now_s) else None
        if event is Event.STUCK:
            self._reject(dip.first_s, now_s, HALF_WAY)
        self._rest(rest_s, now_s, level_N)

    def _rest(self, from_s: float, now_s: float, level_N: float | None) -> None:
        """Look for the next way down; who stands has done so since `from_s`, with this force where it is known."""
        level = None if level_N is None else STANDARD_GRAVITY - level_N / self._mass_kg()
        self._onset = OnsetFinder(from_s, level)
        seen = slice(*self._tape.time_s.searchsorted((from_s, np.nextafter(now_s, np.inf))).tolist())
        signal = self._tape.values[ForceRows.SIGNAL, seen]
        onset = self._onset.push(self._tape.time_s[seen], STANDARD_GRAVITY * (1.0 - signal)) if signal.size else None
        if onset is not None:
            self._go_down(onset, now_s)

    def _go_down(self, onset: Onset, now_s: float) -> None:
        if self._level_N is None:
            self._level_N = (STANDARD_GRAVITY - onset.level_m_s2) * self._mass_kg()
        self._begin(onset.rest_s, now_s)

    def _begin(self, rest_s: float, now_s: float, *, continues: bool = False) -> None:
        """Take up a squat that had not begun at `rest_s`."""
        rest_s = rest_s if continues else self._find_still_s(rest_s, now_s)
        level_N = self._level_N = self._find_level_N(rest_s)
        self._rests_s.append(rest_s)
        self._dip = Raised(now_s, rest_s, level_N, Stay(now_s, 0.0, 0.0), continues, upwards=-1.0)
        time_s, speed, place = find_course(self._tape, self._dip, self._mass_kg(), now_s)
        self._tracker.usual_m = median(self._depths_mm[-5:]) / 1000.0 if self._depths_mm else 0.0
        self._tracker.begin(rest_s, time_s, np.stack((speed, place)))

    def _find_still_s(self, rest_s: float, now_s: float) -> float:
        """Return when who goes down now was still for the last time; `rest_s` where nothing tells."""
        from_s = max(rest_s - LOOK_BACK_S, max(self._rests_s, default=-np.inf), float(self._tape.time_s[0]))
        time_s, values = self._tape.between(from_s, now_s)
        level_N = self._find_level_N(rest_s)
        downwards = (level_N - fill_forward(values[ForceRows.TOTAL_N], level_N)) / self._mass_kg()
        speed, _ = integrate_twice(time_s, downwards)
        first = time_s.searchsorted(time_s - STILL_S)
        low, high = window_min(speed, first, 0), -window_min(-speed, first, 0)
        still = (high - low <= STILL_M_S) & (time_s - time_s[0] >= STILL_S) & (speed[-1] - high >= GAINED_M_S)
        return float(time_s[still][-1]) - STILL_S / 2.0 if still.any() else rest_s

    def _find_level_N(self, rest_s: float) -> float:
        """Return the force that carries the weight up to `rest_s`, by its mean between rests and what it was before."""
        self._rests_s = [earlier for earlier in self._rests_s if earlier >= rest_s - CYCLES_S]
        from_s = max(min(self._rests_s, default=rest_s), float(self._tape.time_s[0]))
        before_N, before_s = (0.0, 0.0) if self._level_N is None else (self._level_N, KNOWN_S)
        sum_Ns, read_s = before_N * before_s, before_s
        if rest_s > from_s:
            time_s, values = self._tape.between(from_s, rest_s)
            sums, seen_s = integrate(time_s, values[ForceRows.TOTAL_N : ForceRows.TOTAL_N + 1])
            sum_Ns, read_s = sum_Ns + float(sums[0]), read_s + seen_s
        return sum_Ns / read_s if read_s >= LEAST_S else STANDARD_GRAVITY * self._mass_kg()

    def _keeps_level(self, now_s: float) -> bool:
        """Return whether the force is about what it was before, so that nobody has begun or ceased to hold on."""
        _, values = self._tape.between(now_s - KNOWN_S, now_s)
        mean_N = float(np.nanmean(values[ForceRows.TOTAL_N]))
        return self._level_N is not None and abs(mean_N - self._level_N) <= CHANGED_PART * self._level_N

    def _go_again(self, dip: Raised, now_s: float) -> None:
        """It goes down without a rest: another squat, if it was up before."""
        low = find_low(self._tape, dip, self._mass_kg(), (self._tracker.low_s - AROUND_S, now_s))
        if self._tracker.phase != BOTTOM and low.part >= HALF_PART:
            self._tracker.go_on()
            return
        turn_s = self._find_rest_s(dip, now_s)
        self._judge(dip, min(self._tracker.since_s, turn_s), turn_s)
        self._begin(turn_s, now_s, continues=True)

    def _find_rest_s(self, dip: Raised, now_s: float) -> float:
        """Return when who stands again was at rest.

        That is where the course since the rest before is the likeliest to have come back, and the speed hardly changes,
        if there was a pause at all.
        """
        if self._tracker.rest_s is not None:
            return self._tracker.rest_s
        time_s, speed, place = find_course(self._tape, dip, self._mass_kg(), now_s)
        first = time_s.searchsorted(time_s - PAUSE_S / 2.0)
        last = time_s.searchsorted(time_s + PAUSE_S / 2.0, side="right") - 1
        late = time_s >= min(self._tracker.low_s - AROUND_S, now_s - PAUSE_S)
        late &= time_s <= now_s - PAUSE_S / 2.0
        spread = np.abs(speed[last] - speed[first])[late]
        course = time_s[late] - dip.rest_s, speed[late], place[late]
        unlikely = np.array([misfit(*at) for at in zip(*(row.tolist() for row in course), strict=True)]) / LIKELY
        cost = unlikely + np.minimum(spread / PAUSE_M_S, NO_PAUSE) ** 2
        return float(time_s[late][np.argmin(cost)])

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
        if not self._is_sure(dip, rest_s):
            return self._warn(UNSTEADY)
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

    def _is_sure(self, dip: Raised, until_s: float) -> bool:
        """Return whether a hand that holds on to something can not have made it seem so."""
        if not self._is_supported(dip.rest_s, until_s):
            return True
        _, values = self._tape.between(dip.rest_s, until_s)
        return bool(np.nanstd(values[ForceRows.TOTAL_N]) >= HELD_M_S2 * self._mass_kg())

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
