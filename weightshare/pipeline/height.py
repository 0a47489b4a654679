"""Repetitions by the heel's height."""

from __future__ import annotations

from dataclasses import replace
from statistics import median

import numpy as np

from weightshare.exercise import CUT_OFF, HALF_WAY, LOW, SHORT, UNREAD, Basis, Rejected, Repetition, SetSpan
from weightshare.model import Floats, Side
from weightshare.pipeline.block import GAP_INTERVALS
from weightshare.pipeline.course import HALF_PART, Course, Shape, find_shape
from weightshare.pipeline.figure import LiftFigures, Rows, to_rows
from weightshare.pipeline.lift import CLOSED_S, LIFT_MM, LOOK_BACK_S, Lift, LiftFinder
from weightshare.pipeline.motion import BOTTOM, Ground, Motion, PhaseNumbers
from weightshare.pipeline.phase import PhaseTracker
from weightshare.pipeline.tape import Tape

AFTER_S = 1.0 + CLOSED_S
"""The level after a lift is looked for so long; then the repetition is given out."""
SHORTEST_S = 0.5
FIRST_REFERENCE_MM = 60.0
"""A full raise, where neither the stage nor a raise so far tells."""
HALF_WAY_PART = 0.4
"""Who comes up so far, pauses there and goes back paused half-way."""
LEVEL_S = 0.5
"""For so long before a rise the heel has to be read without a gap: its level is that of then."""
UNSEEN = "repetitions on one leg are not known: the height of its heel was not measured, or not read"
_PIECE = 1024


class HeightCounter:
    """Finds repetitions in the working side's heel height; a Counter."""

    basis = Basis.HEIGHT

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self.repetitions: list[Repetition] = []
        """Given out so far, in order."""
        self.rejected: list[Rejected] = []
        self._figures = LiftFigures(ground)
        self._heights: list[float] = []
        self._tape = Tape(len(Rows))
        self._from_s = np.inf
        """Where the stream begins."""
        self._finder, self._tracker = LiftFinder(ground.interval_s), PhaseTracker()
        self._waiting: Lift | None = None
        """The lift that is over, and not yet given out."""
        self._row = self._row_of(ground.settings.working_side)
        self._spans: list[SetSpan] = []
        self._worked, self._seen = {self._row}, set[int]()
        """Rows of the heels that were to be followed so far, and of those that were read."""

    @property
    def warnings(self) -> list[str]:
        """Why a figure is None, or there are no repetitions, once each."""
        return self._figures.warnings + ([] if self._worked <= self._seen else [UNSEEN])

    def begin_set(self, span: SetSpan) -> None:
        """Note that a set begins; in single-leg work another leg may work from then on."""
        if span.working is not None and self._ground.settings.is_single:
            self._spans.append(span)

    def push(self, motion: Motion) -> PhaseNumbers:
        """Take in samples, at least one; return each one's provisional phase, shape (n,)."""
        rows = to_rows(motion, self._ground.settings.injured)
        self._finder.interval_s = self._ground.interval_s
        self._from_s = min(self._from_s, float(motion.time_s[0]))
        phases = np.empty(motion.time_s.size, dtype=np.int8)
        start = 0
        while self._spans and self._spans[0].from_s <= motion.time_s[-1]:
            span = self._spans.pop(0)
            stop = max(int(motion.time_s.searchsorted(span.from_s)), start)
            self._take_pieces(motion.time_s, rows, phases, slice(start, stop))
            self._change_leg(span)
            start = stop
        self._take_pieces(motion.time_s, rows, phases, slice(start, motion.time_s.size))
        return phases

    def _take_pieces(self, time_s: Floats, rows: Floats, phases: PhaseNumbers, span: slice) -> None:
        """Take samples in pieces of some lifts each: what is looked through anew with each lift stays short."""
        for start in range(span.start, span.stop, _PIECE):
            piece = slice(start, min(start + _PIECE, span.stop))
            phases[piece] = self._take(time_s[piece], rows[:, piece])

    def finish(self) -> None:
        """The stream ends here; a lift that is under way is told as cut off."""
        self._give_out()
        self._cut_off()

    def _row_of(self, side: Side) -> int:
        return Rows.INJURED_MM if side is self._ground.settings.injured else Rows.UNINJURED_MM

    def _change_leg(self, span: SetSpan) -> None:
        assert span.working is not None
        row = self._row_of(span.working)
        if row != self._row:
            self._give_out()
            self._cut_off()
            self._row = row
            self._worked.add(row)
            self._heights.clear()
            self._finder.start_anew(span.from_s)
            self._tracker = PhaseTracker()

    def _take(self, time_s: Floats, rows: Floats) -> PhaseNumbers:
        self._tape.push(time_s, rows)
        height = rows[self._row]
        self._seen |= {self._row} if not np.isnan(height).all() else set()
        phases = np.full(time_s.size, BOTTOM, dtype=np.int8)
        under_way, start = self._finder.lift is not None, 0
        for turn in self._finder.push(time_s, height):
            self._track(phases, time_s, height, slice(start, turn.place), under_way)
            if turn.begins:
                self._give_out(float(time_s[turn.place]))
                self._tracker.begin(turn.lift.base_mm, self._expected_mm())
            else:
                self._waiting = turn.lift
            under_way, start = turn.begins, turn.place
        self._track(phases, time_s, height, slice(start, time_s.size), under_way)
        waiting_s = None if self._waiting is None else self._waiting.last_s
        if waiting_s is not None and time_s[-1] >= waiting_s + AFTER_S:
            self._give_out()
        self._let_go(float(time_s[-1]))
        return phases

    def _track(self, phases: PhaseNumbers, time_s: Floats, height: Floats, span: slice, under_way: bool) -> None:
        if span.start == span.stop:
            return
        if under_way:
            phases[span] = self._tracker.push(time_s[span], height[span])
        else:
            self._tracker.watch(time_s[span], height[span])

    def _expected_mm(self) -> float | None:
        return median(self._heights) if self._heights else self._ground.settings.reference_height_mm

    def _reference_mm(self) -> float:
        given = self._ground.settings.reference_height_mm
        return given if given is not None else median(self._heights) if self._heights else FIRST_REFERENCE_MM

    def _let_go(self, newest_s: float) -> None:
        lift = self._waiting or self._finder.lift
        needed_s = newest_s - LOOK_BACK_S if lift is None else max(lift.before_s, lift.first_s - LOOK_BACK_S)
        self._tape.let_go(needed_s - 0.5)

    def _cut_off(self) -> None:
        lift = self._finder.lift
        if lift is not None:
            time_s, rows = self._tape.time_s, self._tape.values
            start, newest_s = int(time_s.searchsorted(lift.first_s)), float(time_s[-1])
            course = Course.cut(time_s, rows[self._row], lift.first_s, newest_s)
            reason = self._find_reading_reason(course, lift.first_s, newest_s, rows[:, start:]) or CUT_OFF
            self.rejected.append(Rejected(self._begin_s(lift) - self._ground.delay_s, newest_s, reason))

    def _give_out(self, next_s: float | None = None) -> None:
        """Give out the lift that waits; what is before `next_s`, where the next one begins, belongs to it."""
        lift, self._waiting = self._waiting, None
        if lift is None or lift.last_s is None:
            return
        until_s = lift.last_s + AFTER_S
        stop = int(self._tape.time_s.searchsorted(until_s, side="right"))
        if next_s is not None:
            stop = min(stop, int(self._tape.time_s.searchsorted(next_s)))
        start = int(self._tape.time_s.searchsorted(lift.before_s))
        time_s, rows = self._tape.time_s[start:stop], self._tape.values[:, start:stop]
        course = Course.cut(time_s, rows[self._row], lift.first_s, lift.last_s)
        shape = None if course is None else find_shape(course)
        inside = (time_s >= lift.first_s) & (time_s <= lift.last_s)
        reason = self._find_reason(lift, course, shape, rows[:, inside])
        delay_s = self._ground.delay_s
        if reason or shape is None:
            self.rejected.append(Rejected(self._begin_s(lift) - delay_s, self._end_s(lift) - delay_s, reason))
            return
        self._heights.append(shape.height_mm)
        lift = replace(lift, before_s=max(lift.before_s, self._from_s))
        self.repetitions.append(self._figures.make(self._tape, (time_s, rows), lift, shape, self._row))

    def _find_reason(self, lift: Lift, course: Course | None, shape: Shape | None, lifted: Floats) -> str:
        """Return why the lift does not count; nothing where it does."""
        span = (lift.first_s, lift.last_s or lift.first_s) if shape is None else (shape.start_s, shape.end_s)
        reason = self._find_reading_reason(course, *span, lifted)
        if reason:
            return reason
        if not self._saw_level(span[0]):
            return UNREAD
        if self._end_s(lift) - self._begin_s(lift) < SHORTEST_S:
            return SHORT
        reference_mm = self._reference_mm()
        if shape is not None and shape.height_mm >= HALF_PART * reference_mm:
            return ""
        half_way_mm = HALF_WAY_PART * reference_mm
        paused = course is not None and course.pauses_above(lift.base_mm + half_way_mm)
        return HALF_WAY if paused and shape is not None and shape.height_mm >= half_way_mm else LOW

    def _saw_level(self, start_s: float) -> bool:
        """Return whether the heel was read without a gap for a while before a rise began at `start_s`.

        Whoever was already on the way up when readings came back would be given too small a height, too late a start.
        """
        read_s = self._tape.time_s[~np.isnan(self._tape.values[self._row])]
        first = int(read_s.searchsorted(start_s - LEVEL_S, side="right")) - 1
        last = int(read_s.searchsorted(start_s, side="right"))
        steps_s = np.diff(read_s[max(first, 0) : last])
        return first >= 0 and bool((steps_s <= GAP_INTERVALS * self._ground.interval_s).all())

    def _find_reading_reason(self, course: Course | None, start_s: float, end_s: float, lifted: Floats) -> str:
        """Return what in the readings from `start_s` to `end_s` speaks against a lift; nothing where all is well."""
        # where somebody stepped off nothing was missing, though no heel was there to be read
        load = self._figures.find_load_reason(lifted, self._row)
        if load:
            return load
        longest_s = GAP_INTERVALS * self._ground.interval_s
        return UNREAD if course is None or course.longest_step_s(start_s, end_s) > longest_s else ""

    def _begin_s(self, lift: Lift) -> float:
        """Return when the heel came through the lift's level, s."""
        return self._cross(lift.first_s, lift.base_mm + LIFT_MM)

    def _end_s(self, lift: Lift) -> float:
        """Return when the heel was back at the lift's level, s."""
        assert lift.last_s is not None
        return self._cross(lift.last_s, lift.base_mm + LIFT_MM)

    def _cross(self, sample_s: float, level_mm: float) -> float:
        """Return when the height crossed `level_mm` before the sample at `sample_s`; that sample where it did not."""
        time_s, height = self._tape.time_s, self._tape.values[self._row]
        place = int(time_s.searchsorted(sample_s))
        before = place - 1
        while before >= 0 and np.isnan(height[before]):
            before -= 1
        if before < 0:
            return sample_s
        low, high = sorted((height[before], height[place]))
        if not low <= level_mm <= high or low == high:
            return sample_s
        part = (level_mm - height[before]) / (height[place] - height[before])
        return float(time_s[before] + part * (sample_s - time_s[before]))
