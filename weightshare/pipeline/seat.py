"""Rises from a chair by the total force: the feet carry a part, the body comes up, stands, and sits down again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.exercise import CUT_OFF, FOOT_LEFT, HALF_WAY, TOO_LITTLE_LOAD, UNREAD
from weightshare.model import Bools, Floats
from weightshare.pipeline.bend import Bender
from weightshare.pipeline.chair import ChairTracker, Posture
from weightshare.pipeline.figure import UNREAD_SHARE, Rows
from weightshare.pipeline.footing import ForceRows
from weightshare.pipeline.motion import UNKNOWN, Ground, PhaseNumbers
from weightshare.pipeline.portion import Instants, Portions
from weightshare.pipeline.sitting import Bout, find_bout, find_climb_s
from weightshare.pipeline.weight import FOOT_PART, PRESENT_N, SUPPORTED_BELOW_PERCENT, TWO_LEG_PART

LOOK_BACK_S = 1.5
"""The climb of the load is looked for so long before the seat is left."""
GIVE_OUT_S = 1.0
"""A repetition is given out so long after its end."""
LOW_MM = 80.0
"""Whose centre of mass comes up by less does not stand."""
HELD_S = 4.0
"""Of a longer stand a hand that holds on to something leaves nothing to be told, and none can be called too low."""

NO_TOP = "when the body was up is not known of some rises: the force was too unsteady, or the rise too slow"
NO_HEIGHT = "heights and load x heel travel are not known: rises from the chair rest on the forces"


@dataclass(slots=True)
class Cycle:
    """From sitting to sitting, by the times of samples, s."""

    climbs_s: float
    """Where the load begins to climb."""
    off_s: float
    """Where there is more on the feet than while sitting."""
    stood: bool = False
    on_s: float | None = None
    """Where there is as little again; None while there is not."""


class SitStandCounter(Bender):
    """Finds rises from a chair by the part of the weight that is on the feet; a Counter.

    `start_s` is where the load begins to climb, as the trunk swings forward; `top_s` where the body has come nine
    tenths of its way up; `lowering_s` where it has left a tenth of it; `end_s` where the feet carry as little as while
    sitting.
    Phases: BOTTOM while sitting, RISE, TOP while standing, LOWERING until that load.
    """

    def __init__(self, ground: Ground) -> None:
        super().__init__(ground)
        self._portions = Portions(ground)
        self._chair = ChairTracker()
        self._cycle: Cycle | None = None
        """The one under way."""
        self._waiting: Cycle | None = None
        """The one that is over, and not yet given out."""
        self._sits_s = -np.inf
        """Since when somebody sits."""

    def finish(self) -> None:
        """The stream ends here; what is under way is told as cut off."""
        self._give_out()
        cycle, self._cycle = self._cycle, None
        if cycle is None:
            return
        last_s = float(self._tape.time_s[-1])
        if self._chair.under_s is not None and cycle.stood and self._chair.under_s < last_s:
            cycle.on_s = self._chair.under_s
            self._judge(cycle, last_s)
        else:
            self._reject(cycle.climbs_s, last_s, CUT_OFF)

    def _find_away(self, rows: Floats) -> Bools:
        away: Bools = (rows[ForceRows.TOTAL_N] < PRESENT_N) & (rows[ForceRows.MISSING] == 0.0)
        return away

    def _arrive(self, time_s: float) -> None:
        self._chair.begin(time_s)
        self._sits_s = time_s

    def _leave(self, time_s: float) -> None:
        self._give_out()
        cycle, self._cycle = self._cycle, None
        if cycle is not None:
            self._reject(cycle.climbs_s, time_s, FOOT_LEFT)

    def _needed_s(self) -> float:
        cycle = self._waiting or self._cycle
        return np.inf if cycle is None else cycle.climbs_s

    def _follow(self, time_s: Floats, rows: Floats) -> PhaseNumbers:
        load = rows[ForceRows.SIGNAL]
        phases = np.full(time_s.size, UNKNOWN, dtype=np.int8)
        known = np.flatnonzero(~np.isnan(load))
        start = time_s.size
        if known.size:
            start = 0 if self._chair.is_under_way else int(known[0])
        while start < time_s.size:
            before = self._told
            count, posture = self._chair.push(time_s[start:], load[start:])
            start += count
            phases[start - count : start] = before
            now_s = float(time_s[start - 1])
            if posture is not None:
                self._heed(posture, now_s)
                phases[start - 1] = self._told
            self._give_what_is_due(now_s)
        return np.where(np.isnan(load), UNKNOWN, phases).astype(np.int8)

    @property
    def _told(self) -> int:
        posture = self._chair.posture
        return UNKNOWN if posture is None else int(posture)

    def _give_what_is_due(self, now_s: float) -> None:
        waiting = self._waiting
        if waiting is not None and waiting.on_s is not None and now_s >= waiting.on_s + GIVE_OUT_S:
            self._give_out(waiting.on_s + GIVE_OUT_S)

    def _heed(self, posture: Posture, now_s: float) -> None:
        """Act on what the tracker saw: another posture."""
        cycle = self._cycle
        if posture is Posture.RISES:
            self._give_out(now_s)
        elif posture is Posture.STANDS and cycle is None and self._chair.off_s is not None:
            self._cycle = self._begin(self._chair.off_s)
            self._cycle.stood = True
        elif posture is Posture.SITS:
            if cycle is None and self._chair.off_s is not None and self._chair.off_s > self._sits_s:
                cycle = self._begin(self._chair.off_s)
            self._sits_s = now_s if self._chair.under_s is None else self._chair.under_s
            if cycle is not None:
                cycle.on_s = self._sits_s
                self._waiting, self._cycle = cycle, None

    def _begin(self, off_s: float) -> Cycle:
        time_s, values = self._tape.between(max(off_s - LOOK_BACK_S, self._sits_s), off_s)
        return Cycle(find_climb_s(time_s, values[ForceRows.SIGNAL]), off_s)

    def _give_out(self, until_s: float = np.inf) -> None:
        cycle, self._waiting = self._waiting, None
        if cycle is not None:
            self._judge(cycle, until_s)

    def _judge(self, cycle: Cycle, until_s: float) -> None:
        """Give out what went from sitting to sitting."""
        assert cycle.on_s is not None
        start_s, end_s = cycle.climbs_s, cycle.on_s
        if not self._is_read(start_s, end_s):
            return self._reject(start_s, end_s, UNREAD)
        time_s, values = self._tape.between(cycle.off_s, end_s)
        bout = find_bout(time_s, values[ForceRows.SIGNAL])
        reason = self._find_reason(values, bout)
        long = end_s - cycle.off_s > HELD_S
        is_sure = bout.travel_mm >= LOW_MM and not (long and 100.0 * bout.level < SUPPORTED_BELOW_PERCENT)
        if not reason and not is_sure and not (cycle.stood and long):
            reason = HALF_WAY
        if reason:
            return self._reject(start_s, end_s, reason)
        return self._count(cycle, bout, is_sure=is_sure)

    def _find_reason(self, values: Floats, bout: Bout) -> str:
        feet = values[[ForceRows.INJURED_N, ForceRows.UNINJURED_N]]
        least_N = FOOT_PART * float(np.nanmax(values[ForceRows.WEIGHT_N]))
        if (feet < least_N).any():
            return FOOT_LEFT
        return TOO_LITTLE_LOAD if bout.level < TWO_LEG_PART else ""

    def _count(self, cycle: Cycle, bout: Bout, *, is_sure: bool) -> None:
        """Give out a repetition; where it is not sure when the body was up, only its ends are told."""
        at = Instants(cycle.climbs_s, None, None, cycle.on_s)
        if is_sure:
            at = Instants(cycle.climbs_s, bout.top_s, bout.lowering_s, cycle.on_s)
        course = (bout.time_s, bout.height_mm) if is_sure else None
        supported = 100.0 * bout.level < SUPPORTED_BELOW_PERCENT
        made = self._portions.make(self._tape, at, course, row=Rows.INJURED_MM, supported=supported)
        self.repetitions.append(made)
        self._warn(NO_HEIGHT)
        self._warn(NO_TOP, not is_sure)
        self._warn(UNREAD_SHARE, is_sure and None in (made.share_rise_percent, made.share_lowering_percent))
