"""Whether what went from rest to rest was a repetition, and what of it can be told."""

from __future__ import annotations

from dataclasses import replace
from statistics import median

import numpy as np

from weightshare.exercise import LEAN, LOW, SHORT, UNREAD, Rejected, Repetition
from weightshare.model import STANDARD_GRAVITY, Floats
from weightshare.pipeline.ascent import Allowed, find_ascent, possible_lift_mm, sure_lift_mm
from weightshare.pipeline.block import GAP_INTERVALS
from weightshare.pipeline.figure import LiftFigures, Rows
from weightshare.pipeline.footing import ForceRows, Raised, find_course
from weightshare.pipeline.motion import Ground
from weightshare.pipeline.portion import Instants, Portions, is_supported
from weightshare.pipeline.shift import Shift
from weightshare.pipeline.tape import Tape
from weightshare.pipeline.travel import NOISE_M2_S3, Travel, tie

SHORTEST_S, LIFTED_MM = 0.5, 11.0
"""A lift is none that is up by so much, as with the heel up by 15 mm, for less time, or, where the force tells nothing,
whose load is on the forefoot for less."""
LOUD = 60.0
"""From noise of so many times that of standing the force tells nothing."""
LIFT_MM = 8.0
"""Whose centre of mass surely goes up by less leans."""
RISE_PART = 0.6
"""The centre of mass goes up by at least this part of the heel's way: by the foot's levers about three quarters; the
rest is left for those whose load is far back on the ball."""
FIRST_REFERENCE_MM = 60.0
"""A full raise, where neither the settings nor a raise so far tells; as by height."""
HALF_PART = 0.5
LEAN_BY = 0.2
"""A lean by less of the front share is no more than sway."""
ON_TOES = 0.78
"""Where the force tells nothing, the heels are up from this front share on: nobody leans so far with the heels down,
and on the balls of the feet it is 0.8 and more, for feet in the middle of the plates. Common geometry, no source."""
ON_TOES_PART = 0.85
"""Where raises were seen before: from this part of their way of the front share on."""
LEFT_S = 0.3
"""The heel has come a tenth of its way so long after the load went forward."""
LEARN_S = (0.3, 1.0)
"""What the shift of the load does is looked at from so long before the load is back until so long after."""

NO_HEIGHT = "heights and load x heel travel are not known: repetitions rest on the forces"
NO_FORCE = "instants of a repetition are not known: the force was too unsteady, as of one who holds on to something"
NO_TOP = "where the top of a repetition began is not known: its rise was too slow for the forces to tell"
NO_LOWERING = "where the lowering of a repetition began is not known: it was too slow for the forces to tell"
NO_END = "where a repetition ended is not known: its lowering was too slow for the forces to tell"
NO_SHARE = "a share of a repetition is not known: too little of its phase was read, or the load shifted at its ends"


class Verdicts:
    """Gives out heel raises as repetitions, or as rejected."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self.repetitions: list[Repetition] = []
        """Given out so far, in order."""
        self.rejected: list[Rejected] = []
        self.warnings: list[str] = []
        """Why a figure is None, once each."""
        self._load, self._portions, self._shift = LiftFigures(ground), Portions(ground), Shift()
        self._travels_mm: list[float] = []
        self._ways: list[float] = []
        """How far the front share went in those that count."""

    def forget(self) -> None:
        """Another leg works from here on: what was reached so far is no measure for it."""
        self._travels_mm.clear()
        self._ways.clear()

    @property
    def expected_mm(self) -> float | None:
        """How far the centre of mass should go up, mm; None where nothing tells yet."""
        return median(self._travels_mm) if self._travels_mm else None

    def reject(self, start_s: float, end_s: float, reason: str) -> None:
        """Note what was not counted; times are those of samples."""
        delay_s = self._ground.delay_s
        self.rejected.append(Rejected(start_s - delay_s, end_s - delay_s, reason))

    def give(self, tape: Tape, raised: Raised, seen_s: float, row: int) -> None:
        """Judge what is over, by samples up to `seen_s`; `row` is that of the working side in `Rows`."""
        assert raised.last_s is not None and raised.down_s is not None
        inside = (tape.time_s >= raised.rest_s) & (tape.time_s <= raised.down_s)
        time_s, rows = tape.time_s[inside], tape.values[:, inside]
        read_s = time_s[rows[Rows.MISSING] == 0.0]
        gap_s = GAP_INTERVALS * self._ground.interval_s
        if read_s.size < 5 or np.diff(read_s, prepend=raised.rest_s, append=raised.down_s).max() > gap_s:
            return self.reject(raised.first_s, raised.last_s, UNREAD)
        reason = self._load.find_load_reason(rows, row)
        if reason:
            return self.reject(raised.first_s, raised.last_s, reason)
        self._learn(tape, raised, seen_s)
        return self._judge(tape, raised, self._find_travel(tape, raised, seen_s), row)

    def _judge(self, tape: Tape, raised: Raised, travel: Travel, row: int) -> None:
        """Give out what is read and loaded as it should be."""
        ascent, front = find_ascent(travel), self._find_front(tape, raised)
        if not self._is_lift(raised, travel, front):
            return self._lean(raised)
        assert raised.last_s is not None
        at = Instants()
        told = ascent is not None and sure_lift_mm(travel) >= LIFT_MM and travel.noise <= LOUD * NOISE_M2_S3
        up_s = travel.time_s[travel.height_mm >= LIFTED_MM] if told else np.array([raised.first_s, raised.last_s])
        if up_s.size and up_s[-1] - up_s[0] < SHORTEST_S:
            return self.reject(raised.first_s, raised.last_s, SHORT)
        if ascent is not None and told:
            if possible_lift_mm(travel, errors=1.0) < self.least_mm:
                return self.reject(raised.first_s, raised.last_s, LOW)
            self._travels_mm.append(ascent.shape.height_mm)
            self._ways.append(front - raised.stay.level)
            at = ascent.tell(Allowed())
        if at.start_s is None:
            at = Instants(raised.first_s + LEFT_S)
        supported = is_supported(tape, raised.first_s, raised.last_s)
        course = (travel.time_s, travel.height_mm) if told else None
        made = self._portions.make(tape, at, course, row=row, supported=supported)
        if ascent is not None and told:
            made = replace(made, incomplete_return=ascent.shape.incomplete_return)
        return self._count(at, made, unsteady=travel.noise > NOISE_M2_S3 and at.end_s is None)

    def _is_lift(self, raised: Raised, travel: Travel, front: float) -> bool:
        """Return whether the heels went up: by the travel, or by the front share where the travel cannot tell."""
        sure = sure_lift_mm(travel) >= LIFT_MM or possible_lift_mm(travel) < self.least_mm
        if sure and travel.noise <= LOUD * NOISE_M2_S3:
            return sure_lift_mm(travel) >= LIFT_MM
        level = raised.stay.level
        return front >= (level + ON_TOES_PART * median(self._ways) if self._ways else ON_TOES)

    def _lean(self, raised: Raised) -> None:
        """Tell a lean that is worth it: not every sway is."""
        assert raised.last_s is not None
        far = raised.stay.peak - raised.stay.level >= LEAN_BY
        if far and not raised.continues and raised.last_s - raised.first_s >= SHORTEST_S:
            self.reject(raised.first_s, raised.last_s, LEAN)

    @staticmethod
    def _find_front(tape: Tape, raised: Raised) -> float:
        """Return the median front share while the load is on the forefoot."""
        assert raised.last_s is not None
        front = tape.values[ForceRows.SIGNAL, (tape.time_s >= raised.first_s) & (tape.time_s <= raised.last_s)]
        known = front[~np.isnan(front)]
        return float(np.median(known)) if known.size else 0.0

    def _mass_kg(self, tape: Tape) -> float:
        weight_N = float(tape.values[Rows.WEIGHT_N, -1]) + self._ground.settings.added_weight_N
        return weight_N / STANDARD_GRAVITY

    def _learn(self, tape: Tape, raised: Raised, seen_s: float) -> None:
        """Look at what a shift of the load does while the heels are down."""
        assert raised.last_s is not None
        before_s, after_s = LEARN_S
        from_s, to_s = max(raised.last_s - before_s, raised.rest_s), min(raised.last_s + after_s, seen_s)
        if to_s <= from_s:
            return
        time_s, values = tape.between(from_s, to_s)
        acceleration = raised.upwards * (values[ForceRows.TOTAL_N] - raised.level_N) / self._mass_kg(tape)
        self._shift.learn(time_s, acceleration, _share(values))

    def shift_speed_m_s(self, tape: Tape, at_s: float, seen_s: float) -> float:
        """Return the speed (m/s) that a shift of the load makes at an instant, by samples up to `seen_s`."""
        around_s, values = tape.between(at_s - 0.1, min(at_s + 0.1, seen_s))
        share = _share(values)
        known = ~np.isnan(share)
        return self._shift.speed_m_s(around_s[known], share[known], at_s)

    def _find_travel(self, tape: Tape, raised: Raised, seen_s: float) -> Travel:
        assert raised.down_s is not None
        time_s, speed, place = find_course(tape, raised, self._mass_kg(tape), raised.down_s)
        around_s, values = tape.between(raised.rest_s - 0.1, min(raised.down_s + 0.1, seen_s))
        share = _share(values)
        known = ~np.isnan(share)
        by_shift = self._shift.course(time_s, around_s[known], share[known])
        return tie(time_s, speed - by_shift[0], place - by_shift[1])

    @property
    def least_mm(self) -> float:
        """What the centre of mass has to go up for a raise to count, mm."""
        if self._travels_mm:
            return HALF_PART * median(self._travels_mm)
        reference_mm = self._ground.settings.reference_height_mm or FIRST_REFERENCE_MM
        return HALF_PART * RISE_PART * reference_mm

    def _count(self, at: Instants, made: Repetition, *, unsteady: bool) -> None:
        """Give out a repetition, and say why of its figures some are None."""
        self.repetitions.append(made)
        shares = made.share_rise_percent, made.share_top_percent, made.share_lowering_percent
        phases = made.rise_duration_s, made.top_duration_s, made.lowering_duration_s
        self.warn(NO_HEIGHT)
        if unsteady:
            self.warn(NO_FORCE)
        else:
            self.warn(NO_TOP, at.top_s is None)
            self.warn(NO_LOWERING, at.lowering_s is None)
            self.warn(NO_END, at.end_s is None)
        unsure = (share is None for share, phase_s in zip(shares, phases, strict=True) if phase_s is not None)
        self.warn(NO_SHARE, any(unsure))

    def warn(self, words: str, holds: bool = True) -> None:
        """Note why a figure is None, where that holds."""
        if holds and words not in self.warnings:
            self.warnings.append(words)


def _share(values: Floats) -> Floats:
    """Return the injured side's share (0 to 1) of rows (rows, n), shape (n,); NaN where there is no load."""
    total_N = values[ForceRows.TOTAL_N]
    share = np.full(total_N.shape, np.nan)
    np.divide(values[ForceRows.INJURED_N], total_N, out=share, where=total_N > 0.0)
    return share
