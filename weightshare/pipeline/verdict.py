"""Whether a stay of the load on the forefoot was a raise, and what of it can be told."""

from __future__ import annotations

from statistics import median

import numpy as np

from weightshare.exercise import LEAN, LOW, SHORT, UNREAD, Rejected, Repetition
from weightshare.model import Floats
from weightshare.pipeline.ascent import Ascent, find_ascent, sure_lift_mm
from weightshare.pipeline.block import GAP_INTERVALS
from weightshare.pipeline.figure import LiftFigures, Rows
from weightshare.pipeline.footing import ForceRows, Raised
from weightshare.pipeline.motion import Ground
from weightshare.pipeline.portion import Instants, Portions, is_supported
from weightshare.pipeline.tape import Tape
from weightshare.pipeline.travel import Travel, find_travel

SHORTEST_S = 0.5
"""A lift whose load is on the forefoot for less is none."""
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

NO_HEIGHT = "heights and load x heel travel are not known: repetitions rest on the forces"
NO_TOP = "where the top of a repetition began is not known: its rise was too slow for the forces to tell"
NO_LOWERING = "where the lowering of a repetition began is not known: it was too slow for the forces to tell"
UNREAD_SHARE = "a share of a repetition is not known: too little of its phase was read"


class Verdicts:
    """Gives out raises as repetitions, or as rejected."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self.repetitions: list[Repetition] = []
        self.rejected: list[Rejected] = []
        self.warnings: list[str] = []
        self._load, self._portions = LiftFigures(ground), Portions(ground)
        self._travels_mm: list[float] = []

    def forget(self) -> None:
        """Another leg works from here on: what was reached so far is no measure for it."""
        self._travels_mm.clear()

    @property
    def expected_mm(self) -> float | None:
        """How far the centre of mass should go up, mm; None where nothing tells yet."""
        return median(self._travels_mm) if self._travels_mm else None

    def reject(self, start_s: float, end_s: float, reason: str) -> None:
        """Note what was not counted; times are those of samples."""
        delay_s = self._ground.delay_s
        self.rejected.append(Rejected(start_s - delay_s, end_s - delay_s, reason))

    def give(self, tape: Tape, raised: Raised, down_s: float, row: int) -> None:
        """Judge a raise whose heels were down at `down_s`; `row` is that of the working side in `Rows`."""
        last_s = down_s if raised.last_s is None else raised.last_s
        inside = (tape.time_s >= raised.rest_s) & (tape.time_s <= down_s)
        time_s, rows = tape.time_s[inside], tape.values[:, inside]
        read_s = time_s[rows[Rows.MISSING] == 0.0]
        if read_s.size < 5 or np.diff(read_s).max() > GAP_INTERVALS * self._ground.interval_s:
            return self.reject(raised.first_s, last_s, UNREAD)
        travel = self._travel(tape, raised.rest_s, down_s)
        ascent = find_ascent(travel)
        reason = self._find_reason(raised, travel, ascent, rows, row)
        if reason == LEAN and not self._is_notable(raised):
            return None
        if reason or ascent is None:
            return self.reject(raised.first_s, last_s, reason or LEAN)
        self._travels_mm.append(ascent.shape.height_mm)
        return self.repetitions.append(self._make(tape, travel, ascent))

    @staticmethod
    def _is_notable(raised: Raised) -> bool:
        """Return whether a lean is worth telling: not every sway is."""
        long = raised.last_s is None or raised.last_s - raised.first_s >= SHORTEST_S
        return long and not raised.continues and raised.stay.peak - raised.stay.level >= LEAN_BY

    def _travel(self, tape: Tape, rest_s: float, down_s: float) -> Travel:
        time_s, values = tape.between(rest_s, down_s)
        weight_N = float(values[Rows.WEIGHT_N, -1]) + self._ground.settings.added_weight_N
        return find_travel(time_s, values[ForceRows.TOTAL_N], weight_N)

    def _find_reason(self, raised: Raised, travel: Travel, ascent: Ascent | None, rows: Floats, row: int) -> str:
        load = self._load.find_load_reason(rows, row)
        if load:
            return load
        sure_mm = sure_lift_mm(travel)
        if sure_mm < LIFT_MM or ascent is None:
            return LEAN
        if raised.last_s is not None and raised.last_s - raised.first_s < SHORTEST_S:
            return SHORT
        return LOW if max(sure_mm, ascent.shape.height_mm) < self._least_mm() else ""

    def _least_mm(self) -> float:
        if self._travels_mm:
            return HALF_PART * median(self._travels_mm)
        reference_mm = self._ground.settings.reference_height_mm or FIRST_REFERENCE_MM
        return HALF_PART * RISE_PART * reference_mm

    def _make(self, tape: Tape, travel: Travel, ascent: Ascent) -> Repetition:
        shape = ascent.shape
        at = Instants(shape.start_s, ascent.top_s, ascent.lowering_s, shape.end_s)
        course = travel.time_s, travel.height_mm
        supported = is_supported(tape, shape.start_s, shape.end_s)
        made = self._portions.make(tape, at, course, supported)
        self._warn(at, made)
        return made

    def _warn(self, at: Instants, made: Repetition) -> None:
        shares = (at.top_s, made.share_rise_percent), (at.lowering_s, made.share_lowering_percent)
        for words, holds in (
            (NO_HEIGHT, True),
            (NO_TOP, at.top_s is None),
            (NO_LOWERING, at.lowering_s is None),
            (UNREAD_SHARE, any(known is not None and share is None for known, share in shares)),
        ):
            if holds and words not in self.warnings:
                self.warnings.append(words)
