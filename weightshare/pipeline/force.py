"""Heel raises by the forces alone: the load stands on the forefoot, and the centre of mass goes up and comes down."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from weightshare.exercise import CUT_OFF, FOOT_LEFT, Basis, Rejected, Repetition, SetSpan
from weightshare.model import STANDARD_GRAVITY, Floats, Side
from weightshare.pipeline.figure import Rows
from weightshare.pipeline.footing import (
    AROUND_S,
    CYCLES_S,
    LEAD_S,
    PAUSE_S,
    ForceRows,
    Raised,
    find_course,
    find_landed_s,
    find_level_N,
    find_turn_s,
)
from weightshare.pipeline.forefoot import LOOK_BACK_S, Stay, StayFinder
from weightshare.pipeline.motion import BOTTOM, UNKNOWN, Ground, Motion, PhaseNumbers
from weightshare.pipeline.pulse import Event, PulseTracker
from weightshare.pipeline.tape import Tape
from weightshare.pipeline.verdict import Verdicts

AFTER_S = 1.0
"""The repetition is given out so long after the heels came down."""
SETTLE_S = 0.7
"""After stepping on, nothing is told for so long."""
CHUNK = 4096
"""Samples that are looked through at once."""


class ForceCounter:
    """Finds heel raises in the front share of the load and the total force; a Counter.

    The heels are up somewhere in a stay of the load on the forefoot, and the centre of mass rests at one level before
    and after it. Certifies no height: the centre of mass goes up by some three quarters of the heel's way.
    """

    basis = Basis.FORCE

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self._verdicts = Verdicts(ground)
        exercise = ground.settings.exercise
        self._single = exercise is not None and exercise.is_single
        self._working = ground.settings.working_side
        self._spans: list[SetSpan] = []
        self._tape = Tape(len(ForceRows))
        self._finder, self._tracker = StayFinder(), PulseTracker()
        self._raised: Raised | None = None
        """That of the stay under way."""
        self._waiting: Raised | None = None
        """That of the stay that is over, and not yet given out."""
        self._rests_s: list[float] = []
        self._away, self._settled_s = True, -np.inf

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

    def begin_set(self, span: SetSpan) -> None:
        """Note that a set begins; in single-leg work another leg may work from then on."""
        if self._single and span.working is not None:
            self._spans.append(span)

    def push(self, motion: Motion) -> PhaseNumbers:
        """Take in samples, at least one; return each one's provisional phase, shape (n,)."""
        phases = np.empty(motion.time_s.size, dtype=np.int8)
        edges = {*range(0, motion.time_s.size, CHUNK), motion.time_s.size}
        due = [span for span in self._spans if span.from_s <= motion.time_s[-1]]
        edges |= {int(motion.time_s.searchsorted(span.from_s)) for span in due}
        places = sorted(edges)
        for start, stop in pairwise(places):
            while self._spans and self._spans[0].from_s <= motion.time_s[start]:
                self._change_leg(self._spans.pop(0))
            phases[start:stop] = self._take(motion, slice(start, stop))
        return phases

    def finish(self) -> None:
        """The stream ends here; a stay that is under way is told as cut off."""
        self._give_out()
        self._cut_off()

    def _change_leg(self, span: SetSpan) -> None:
        assert span.working is not None
        if span.working is not self._working:
            self._give_out()
            self._cut_off()
            self._working = span.working
            self._verdicts.forget()
            self._leave(span.from_s)

    def _cut_off(self) -> None:
        if self._raised is not None:
            self._verdicts.reject(self._raised.first_s, float(self._tape.time_s[-1]), CUT_OFF)
            self._raised = None

    def _leave(self, time_s: float) -> None:
        """Nothing that was before `time_s` tells of what comes."""
        self._finder = StayFinder(time_s)
        self._rests_s.clear()
        self._settled_s = time_s

    def _to_rows(self, motion: Motion, part: slice) -> Floats:
        """Return the tape's rows, shape (rows, n), the injured side first."""
        left, right = motion.left_N[part], motion.right_N[part]
        sides = (left, right) if self._ground.settings.injured is Side.LEFT else (right, left)
        others = motion.on_plates_percent, motion.body_weight_N, motion.present, motion.missing
        rows = self._find_front(motion, part), left + right, *sides, *(row[part] for row in others)
        return np.stack([np.asarray(row, dtype=np.float64) for row in rows])

    def _find_front(self, motion: Motion, part: slice) -> Floats:
        """Return the front part of the load (0 to 1), (n,); NaN where nobody stands, or the weight is not known."""
        assert motion.parts_N is not None, "whoever has no parts has another counter"
        parts = motion.parts_N[:, part]
        if self._single:
            parts = parts[:2] if self._working is Side.LEFT else parts[2:]
        whole = parts.sum(axis=0)
        weight_N = motion.body_weight_N[part]
        told = motion.present[part] & (whole > 0.05 * weight_N)
        front = np.full(whole.size, np.nan)
        np.divide(parts[::2].sum(axis=0), whole, out=front, where=told)
        return front

    def _take(self, motion: Motion, part: slice) -> PhaseNumbers:
        time_s, rows = motion.time_s[part], self._to_rows(motion, part)
        phases = np.full(time_s.size, UNKNOWN, dtype=np.int8)
        away = (rows[ForceRows.PRESENT] == 0.0) & (rows[ForceRows.MISSING] == 0.0)
        edges = [0, *(np.flatnonzero(away[1:] != away[:-1]) + 1).tolist(), time_s.size]
        for start, stop in pairwise(edges):
            self._tape.push(time_s[start:stop], rows[:, start:stop])
            if away[start]:
                self._step_off(float(time_s[start]))
                phases[start:stop] = BOTTOM
                continue
            if self._away:
                self._away = False
                self._leave(float(time_s[start]) + SETTLE_S)
            phases[start:stop] = self._follow(time_s[start:stop], rows[:, start:stop])
        self._let_go(float(time_s[-1]))
        return phases

    def _step_off(self, time_s: float) -> None:
        self._give_out(time_s)
        if self._raised is not None:
            self._verdicts.reject(self._raised.first_s, time_s, FOOT_LEFT)
        self._raised, self._away = None, True
        self._finder = StayFinder(time_s)

    def _follow(self, time_s: Floats, rows: Floats) -> PhaseNumbers:
        front = np.where(time_s < self._settled_s, np.nan, rows[ForceRows.FRONT])
        phases = np.full(time_s.size, BOTTOM, dtype=np.int8)
        start = 0
        while start < time_s.size:
            start = self._run(time_s, front, phases, start)
        phases[np.isnan(front)] = UNKNOWN
        waiting = self._waiting
        if waiting is not None and waiting.last_s is not None and time_s[-1] >= waiting.last_s + AFTER_S:
            self._give_out(waiting.last_s + AFTER_S)
        return phases

    def _run(self, time_s: Floats, front: Floats, phases: PhaseNumbers, start: int) -> int:
        """Follow the samples from `start` on; return up to where, for the load may stay on the forefoot for good."""
        cursor = start
        turns = [(start + turn.place, turn) for turn in self._finder.push(time_s[start:], front[start:])]
        for place, turn in [*turns, (time_s.size, None)]:
            stays = self._track(time_s, phases, slice(cursor, place))
            if stays is not None:
                return stays
            cursor = place
            if turn is not None and turn.begins:
                self._begin(turn.stay, float(time_s[place]))
                cursor = place + 1
            elif turn is not None and self._raised is not None:
                self._raised.last_s = turn.stay.last_s
                self._waiting, self._raised = self._raised, None
        return time_s.size

    def _track(self, time_s: Floats, phases: PhaseNumbers, span: slice) -> int | None:
        """Tell the phases of the raise under way; return from where on the load stays on the forefoot, if it does."""
        start: int = span.start
        while self._raised is not None and start < span.stop:
            acceleration = self._acceleration(self._raised, time_s[start], time_s[span.stop - 1])
            told, event = self._tracker.push(time_s[start : span.stop], acceleration)
            phases[start : start + told.size] = told
            start += told.size
            now_s = float(time_s[start - 1])
            if event is Event.AGAIN:
                self._go_again(self._raised, now_s)
                phases[start - 1] = self._tracker.phase
            elif event is Event.STAYS:
                self._stay_down(self._raised, now_s)
                return start
        return None

    def _acceleration(self, raised: Raised, from_s: float, to_s: float) -> Floats:
        """Return the acceleration (m/s^2) of the samples between two times of samples, both in."""
        first, last = self._tape.time_s.searchsorted((from_s, to_s))
        total_N = self._tape.values[ForceRows.TOTAL_N, first : last + 1]
        return np.asarray((total_N - raised.level_N) / self._mass_kg(), dtype=np.float64)

    def _mass_kg(self) -> float:
        weight_N = float(self._tape.values[ForceRows.WEIGHT_N, -1]) + self._ground.settings.added_weight_N
        return weight_N / STANDARD_GRAVITY

    def _begin(self, stay: Stay, now_s: float) -> None:
        """Take up a stay on the forefoot."""
        before, rest_s = self._waiting, max(stay.first_s - LEAD_S, self._settled_s)
        if before is not None and before.last_s is not None and stay.first_s - before.last_s < PAUSE_S:
            rest_s, _ = find_turn_s(self._tape, before, self._mass_kg(), (before.last_s, now_s))
        self._give_out(rest_s)
        self._raise(Raised(stay.first_s, rest_s, self._find_level_N(rest_s), stay), now_s)

    def _raise(self, raised: Raised, now_s: float) -> None:
        least_s = raised.rest_s - CYCLES_S[1]
        self._rests_s = [earlier for earlier in self._rests_s if earlier > least_s] + [raised.rest_s]
        self._raised = raised
        expected_mm = self._verdicts.expected_mm
        course = find_course(self._tape, raised, self._mass_kg(), now_s)
        self._tracker.begin(course, None if expected_mm is None else expected_mm / 1000.0, rising=raised.continues)

    def _find_level_N(self, rest_s: float) -> float:
        return find_level_N(self._tape, self._rests_s, rest_s, self._settled_s)

    def _go_again(self, raised: Raised, now_s: float) -> None:
        """The heels go up with the load still on the forefoot: another raise, if they were down before."""
        window = self._tracker.low_s - AROUND_S, now_s
        turn_s, down = find_turn_s(self._tape, raised, self._mass_kg(), window)
        if not down:
            self._tracker.rise_again()
            return
        raised.last_s, raised.turned = turn_s, True
        self._waiting = raised
        self._give_out(turn_s)
        self._raise(Raised(turn_s, turn_s, self._find_level_N(turn_s), raised.stay, continues=True), now_s)

    def _stay_down(self, raised: Raised, now_s: float) -> None:
        """The load stays on the forefoot with the heels down: that is how this person stands from here on."""
        raised.last_s = self._tracker.low_s if self._tracker.rose else now_s
        self._waiting, self._raised = raised, None
        self._finder = StayFinder(now_s)
        self._give_out(now_s)

    def _give_out(self, until_s: float = np.inf) -> None:
        """Give out the raise that waits; its heels were down at `until_s` at the latest."""
        raised, self._waiting = self._waiting, None
        if raised is None or raised.last_s is None:
            return
        down_s = raised.last_s if raised.turned else find_landed_s(self._tape, raised.last_s, until_s)
        row = Rows.INJURED_MM if self._working is self._ground.settings.injured else Rows.UNINJURED_MM
        self._verdicts.give(self._tape, raised, min(down_s, until_s), row)

    def _let_go(self, newest_s: float) -> None:
        raised = self._waiting or self._raised
        needed_s = newest_s if raised is None else min(raised.rest_s, newest_s)
        self._tape.let_go(needed_s - CYCLES_S[1] - LOOK_BACK_S)
