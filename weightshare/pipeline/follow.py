"""Repetitions in the travel of the centre of mass, from rest to rest."""

from __future__ import annotations

from typing import Protocol

import numpy as np

from weightshare.exercise import CUT_OFF, FOOT_LEFT, LEAN, Basis, Rejected, Repetition
from weightshare.model import STANDARD_GRAVITY, Floats
from weightshare.pipeline.figure import Rows
from weightshare.pipeline.footing import (
    AROUND_S,
    CYCLES_S,
    HALF_PART,
    LEAD_S,
    PAUSE_S,
    ForceRows,
    Low,
    Raised,
    find_course,
    find_landed_s,
    find_level_N,
    find_low,
)
from weightshare.pipeline.forefoot import LOOK_BACK_S, Stay, Turn
from weightshare.pipeline.intake import Intake
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, UNKNOWN, Ground, PhaseNumbers
from weightshare.pipeline.pulse import Event, Pace, PulseTracker
from weightshare.pipeline.verdict import Verdicts

AFTER_S = 1.0
"""A repetition is given out so long after it was over."""
SETTLE_S = 0.7
"""After stepping on, nothing is told for so long."""
WAITED_S, RISING_S = 2.0, 1.2
"""Who is seen to rise so long after the load went forward waited before; a rise is seen so long after it began."""
_NAMES = np.array([BOTTOM, RISE, TOP, LOWERING, LOWERING], dtype=np.int8)
"""The tracker's phases as they are told. The heels are down when the load is back, not when the speed, which drifts,
says so: that might be too early."""


class Finder(Protocol):
    """Finds where a repetition may begin, and where it is over for sure."""

    def push(self, time_s: Floats, signal: Floats) -> list[Turn]:
        """Take in samples (n,), NaN where there is none; return what turned with them, in order."""


class Follower(Intake):
    """Follows the centre of mass up and down, from rest to rest; a Counter for those who say what to look for."""

    basis = Basis.FORCE

    def __init__(self, ground: Ground, verdicts: Verdicts, pace: Pace) -> None:
        super().__init__(ground)
        self._verdicts, self._pace = verdicts, pace
        self._finder: Finder | None = None
        self._tracker = PulseTracker(pace)
        self._raised: Raised | None = None
        """The one under way."""
        self._waiting: Raised | None = None
        """The one that is over, and not yet given out."""
        self._rests_s: list[float] = []
        self._settled_s = -np.inf

    @property
    def repetitions(self) -> list[Repetition]:
        """Given out so far, in order."""
        return self._verdicts.repetitions

    @property
    def rejected(self) -> list[Rejected]:
        """What was not counted so far."""
        return self._verdicts.rejected

    @property
    def warnings(self) -> list[str]:
        """Why a figure is None, once each."""
        return self._verdicts.warnings

    def finish(self) -> None:
        """The stream ends here; what is under way is told as cut off."""
        self._give_out()
        self._cut_off()

    def _make_finder(self, from_s: float) -> Finder:
        """Return a finder that looks from `from_s` (s) on."""
        raise NotImplementedError

    def _change_leg(self, time_s: float) -> None:
        self._give_out()
        self._cut_off()
        self._verdicts.forget()
        self._start_anew(time_s)

    def _cut_off(self) -> None:
        if self._raised is not None:
            self._verdicts.reject(self._raised.first_s, float(self._tape.time_s[-1]), CUT_OFF)
            self._raised = None

    def _start_anew(self, time_s: float) -> None:
        """Nothing that was before `time_s` tells of what comes."""
        self._finder = None
        self._rests_s.clear()
        self._settled_s = time_s

    def _step_off(self, time_s: float) -> None:
        self._give_out(time_s)
        if self._raised is not None:
            self._verdicts.reject(self._raised.first_s, time_s, FOOT_LEFT)
        self._raised = None

    def _step_on(self, time_s: float) -> None:
        self._start_anew(time_s + SETTLE_S)

    def _follow(self, time_s: Floats, signal: Floats) -> PhaseNumbers:
        signal = np.where(time_s < self._settled_s, np.nan, signal)
        phases = np.zeros(time_s.size, dtype=np.int8)
        start = 0
        while start < time_s.size:
            start = self._run(time_s, signal, phases, start)
        waiting = self._waiting
        if waiting is not None and waiting.last_s is not None and time_s[-1] >= waiting.last_s + AFTER_S:
            self._give_out(waiting.last_s + AFTER_S)
        return np.where(np.isnan(signal) | (phases == UNKNOWN), UNKNOWN, _NAMES[phases]).astype(np.int8)

    def _run(self, time_s: Floats, signal: Floats, phases: PhaseNumbers, start: int) -> int:
        """Follow the samples from `start` on; return up to where, for what began may end without the finder's word."""
        if self._finder is None:
            known = np.flatnonzero(~np.isnan(signal[start:]))
            if not known.size:
                return time_s.size
            start += int(known[0])
            self._finder = self._make_finder(float(time_s[start]))
        cursor = start
        turns = [(start + turn.place, turn) for turn in self._finder.push(time_s[start:], signal[start:])]
        for place, turn in [*turns, (time_s.size, None)]:
            ended = self._track(time_s, phases, slice(cursor, place))
            if ended is not None:
                return ended
            cursor = place
            if turn is not None and turn.begins:
                self._begin(turn.stay, float(time_s[place]))
                cursor = place + 1
                phases[place] = self._tracker.told
            elif turn is not None and self._raised is not None:
                assert turn.stay.last_s is not None
                self._close(self._raised, turn.stay.last_s)
        return time_s.size

    def _track(self, time_s: Floats, phases: PhaseNumbers, span: slice) -> int | None:
        """Tell the phases of what is under way; return from where on it is over without the finder's word."""
        start: int = span.start
        while self._raised is not None and start < span.stop:
            if self._raised.lost:
                phases[start : span.stop] = UNKNOWN
                if time_s[span.stop - 1] - self._raised.rest_s >= self._pace.longest_s:
                    self._raised = None
                return None
            acceleration = self._accelerate(self._raised, float(time_s[start]), float(time_s[span.stop - 1]))
            told, event = self._tracker.push(time_s[start : span.stop], acceleration)
            phases[start : start + told.size] = told
            start += told.size
            if event is not None and self._heed(event, self._raised, float(time_s[start - 1])):
                return start
            phases[start - 1] = self._tracker.told
        return None

    def _heed(self, event: Event, raised: Raised, now_s: float) -> bool:
        """Act on what the tracker saw; return whether the finder has to look anew."""
        if event is Event.AGAIN:
            self._go_again(raised, now_s)
            return False
        if event is Event.LOST:
            raised.lost = True
            return False
        if event is Event.ENDLESS:
            self._verdicts.reject(raised.first_s, now_s, LEAN)
            self._raised = None
            return False
        if not self._may_stay(raised, now_s):
            self._tracker.wait(now_s)
            return False
        raised.down_s = min(self._tracker.since_s + LEAD_S, now_s) if self._tracker.rose else now_s
        self._close(raised, self._tracker.since_s if self._tracker.rose else now_s)
        self._give_out(now_s)
        self._finder = self._make_finder(now_s)
        return True

    def _close(self, raised: Raised, last_s: float) -> None:
        """What is under way is over at `last_s`; if it rested long before it rose, the rest is that before the rise."""
        rise_s = self._tracker.rise_s
        waited = not raised.continues and np.isfinite(rise_s) and rise_s - raised.rest_s > WAITED_S
        if waited and self._may_rest(raised, rise_s - RISING_S):
            raised.rest_s = rise_s - RISING_S
        raised.last_s = last_s
        self._waiting, self._raised = raised, None

    def _may_rest(self, raised: Raised, until_s: float) -> bool:
        """Return whether the centre of mass can have been at rest until `until_s`, after it was taken to go up."""
        return True

    def _may_stay(self, raised: Raised, now_s: float) -> bool:
        """Return whether what is under way can be over without the finder's word."""
        return True

    def _accelerate(self, raised: Raised, from_s: float, to_s: float) -> Floats:
        """Return the acceleration (m/s^2) of the samples between two times of samples, both in."""
        first, last = self._tape.time_s.searchsorted((from_s, to_s))
        total_N = self._tape.values[ForceRows.TOTAL_N, first : last + 1]
        return np.asarray((total_N - raised.level_N) / self._mass_kg(), dtype=np.float64)

    def _mass_kg(self) -> float:
        """Return the mass that is moved: the body's and what it carries, kg."""
        weights_N = self._tape.values[ForceRows.WEIGHT_N]
        return (float(weights_N[-1]) + self._ground.settings.added_weight_N) / STANDARD_GRAVITY

    def _begin(self, stay: Stay, now_s: float) -> None:
        """Take up what the finder found."""
        before, rest_s = self._waiting, max(stay.first_s - LEAD_S, self._settled_s)
        if before is not None and before.last_s is not None and stay.first_s - before.last_s < PAUSE_S:
            rest_s = find_low(self._tape, before, self._mass_kg(), (before.last_s, now_s)).turn_s
        self._give_out(rest_s, now_s)
        self._raise(Raised(stay.first_s, rest_s, self._find_level_N(rest_s), stay), now_s)

    def _raise(self, raised: Raised, now_s: float) -> None:
        least_s = raised.rest_s - CYCLES_S[1]
        self._rests_s = [earlier for earlier in self._rests_s if earlier > least_s] + [raised.rest_s]
        self._raised = raised
        expected_mm = self._verdicts.expected_mm
        time_s, speed, place = find_course(self._tape, raised, self._mass_kg(), now_s)
        # what still moves as the load is shifted will come to rest with it
        first = self._verdicts.shift_speed_m_s(self._tape, raised.rest_s, now_s)
        course = time_s, speed + first, place + first * (time_s - time_s[0])
        self._tracker.begin(course, None if expected_mm is None else expected_mm / 1000.0, rising=raised.continues)

    def _find_level_N(self, rest_s: float) -> float:
        weight_N = STANDARD_GRAVITY * self._mass_kg()
        return find_level_N(self._tape, self._rests_s, rest_s, self._settled_s, weight_N)

    def _go_again(self, raised: Raised, now_s: float) -> None:
        """It goes on without a rest: another repetition, if it was back before."""
        low = find_low(self._tape, raised, self._mass_kg(), (self._tracker.low_s - AROUND_S, now_s))
        if not self._is_back(raised, low, now_s):
            self._tracker.rise_again()
            return
        turn_s = low.turn_s
        raised.down_s = turn_s
        self._close(raised, turn_s)
        self._give_out(turn_s, now_s)
        level_N = self._find_level_N(turn_s)
        self._raise(Raised(turn_s, turn_s, level_N, raised.stay, continues=True), now_s)

    def _is_back(self, raised: Raised, low: Low, now_s: float) -> bool:
        """Return whether the centre of mass was back at its rest at its low, or only on its way there."""
        return low.part < HALF_PART

    def _give_out(self, until_s: float = np.inf, seen_s: float | None = None) -> None:
        """Give out what waits; it was back at `until_s` at the latest, and samples up to `seen_s` tell of it."""
        raised, self._waiting = self._waiting, None
        if raised is None or raised.last_s is None:
            return
        # no more than what is there when it is given out for want of another one
        last_s = min(raised.last_s + AFTER_S, float(self._tape.time_s[-1]))
        seen_s = min(until_s if seen_s is None else seen_s, last_s)
        if raised.down_s is None:
            raised.down_s = find_landed_s(self._tape, raised.last_s, min(until_s, seen_s))
        row = Rows.INJURED_MM if self._working is self._ground.settings.injured else Rows.UNINJURED_MM
        self._verdicts.give(self._tape, raised, seen_s, row)

    def _let_go(self, newest_s: float) -> None:
        raised = self._waiting or self._raised
        needed_s = newest_s if raised is None else min(raised.rest_s, newest_s)
        self._tape.let_go(needed_s - CYCLES_S[1] - LOOK_BACK_S)
