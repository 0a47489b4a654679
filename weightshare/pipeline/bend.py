"""Repetitions with the heels down by the total force alone: what squats and rises from a chair have in common."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from weightshare.exercise import Basis, Rejected, Repetition, SetSpan
from weightshare.model import STANDARD_GRAVITY, Bools, Floats, Side
from weightshare.pipeline.band import Band
from weightshare.pipeline.block import GAP_INTERVALS
from weightshare.pipeline.figure import FIGURES, LiftFigures, Rows
from weightshare.pipeline.footing import ForceRows
from weightshare.pipeline.motion import BOTTOM, Ground, Motion, PhaseNumbers
from weightshare.pipeline.portion import is_supported
from weightshare.pipeline.repetition import Stretch
from weightshare.pipeline.tape import Tape

CHUNK = 4096
"""Samples that are looked through at once."""
KEEP_S = 30.0
"""So much of what was before is kept."""


class Bender:
    """Takes samples in, knows who is away, and keeps what was found; a Counter for those who say what to look for."""

    basis = Basis.FORCE

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        settings = ground.settings
        self._band = None if settings.target_percent is None else Band.of(settings)
        self._load = LiftFigures(ground)
        self._tape = Tape(len(ForceRows))
        self._away = True
        self.repetitions: list[Repetition] = []
        """Given out so far, in order."""
        self.rejected: list[Rejected] = []
        """What was not counted so far."""
        self.warnings: list[str] = []
        """Why a figure is None, once each."""

    def begin_set(self, span: SetSpan) -> None:
        """Note that a set begins: nothing depends on it here."""

    def push(self, motion: Motion) -> PhaseNumbers:
        """Take in samples, at least one; return each one's provisional phase, shape (n,)."""
        phases = np.empty(motion.time_s.size, dtype=np.int8)
        for start in range(0, motion.time_s.size, CHUNK):
            part = slice(start, start + CHUNK)
            phases[part] = self._take(motion.time_s[part], self._to_rows(motion, part))
        return phases

    def finish(self) -> None:
        """The stream ends here; what is under way is told as cut off."""
        raise NotImplementedError

    def _follow(self, time_s: Floats, rows: Floats) -> PhaseNumbers:
        """Take in samples of somebody who is there, times (n,) and rows (rows, n); return their phases."""
        raise NotImplementedError

    def _arrive(self, time_s: float) -> None:
        """Somebody is there with the sample at `time_s`."""
        raise NotImplementedError

    def _leave(self, time_s: float) -> None:
        """Nobody is there with the sample at `time_s` (s), and from there on."""
        raise NotImplementedError

    def _needed_s(self) -> float:
        """Return from when on samples are needed still, s."""
        raise NotImplementedError

    def _find_away(self, rows: Floats) -> Bools:
        """Return where nobody is there for sure, shape (n,)."""
        away: Bools = (rows[ForceRows.PRESENT] == 0.0) & (rows[ForceRows.MISSING] == 0.0)
        return away

    def _to_rows(self, motion: Motion, part: slice) -> Floats:
        """Return the tape's rows, shape (rows, n), the injured side first. The signal is the total in parts of what is
        weighed; NaN where either is not known."""
        left, right = motion.left_N[part], motion.right_N[part]
        sides = (left, right) if self._ground.settings.injured is Side.LEFT else (right, left)
        weight_N, total = motion.body_weight_N[part], left + right
        signal = total / (weight_N + self._ground.settings.added_weight_N)
        told = motion.on_plates_percent[part], weight_N, motion.present[part], motion.missing[part]
        rows = signal, total, *sides, *told, motion.share_percent[part]
        return np.stack([np.asarray(row, dtype=np.float64) for row in rows])

    def _take(self, time_s: Floats, rows: Floats) -> PhaseNumbers:
        phases = np.full(time_s.size, BOTTOM, dtype=np.int8)
        away = self._find_away(rows)
        edges = [0, *(np.flatnonzero(away[1:] != away[:-1]) + 1).tolist(), time_s.size]
        for start, stop in pairwise(edges):
            self._tape.push(time_s[start:stop], rows[:, start:stop])
            if away[start] and not self._away:
                self._leave(float(time_s[start]))
            elif self._away and not away[start]:
                self._arrive(float(time_s[start]))
            self._away = bool(away[start])
            if not self._away:
                phases[start:stop] = self._follow(time_s[start:stop], rows[:, start:stop])
        self._tape.let_go(min(self._needed_s(), float(time_s[-1])) - KEEP_S)
        return phases

    def _mass_kg(self) -> float:
        """Return the mass that is moved: the body's and what it carries, kg."""
        weight_N = float(self._tape.values[ForceRows.WEIGHT_N, -1]) + self._ground.settings.added_weight_N
        return weight_N / STANDARD_GRAVITY

    def _reject(self, start_s: float, end_s: float, reason: str) -> None:
        """Note what was not counted; times are those of samples."""
        delay_s = self._ground.delay_s
        self.rejected.append(Rejected(start_s - delay_s, end_s - delay_s, reason))

    def _is_read(self, start_s: float, end_s: float) -> bool:
        """Return whether readings came without a gap between two times of samples."""
        inside = (self._tape.time_s >= start_s) & (self._tape.time_s <= end_s)
        read_s = self._tape.time_s[inside & (self._tape.values[ForceRows.MISSING] == 0.0)]
        steps = np.diff(np.concatenate(([start_s], read_s, [end_s])))
        return bool(steps.max() <= GAP_INTERVALS * self._ground.interval_s)

    def _find_load_reason(self, start_s: float, end_s: float) -> str:
        """Return what in the load speaks against counting; nothing where all is well."""
        inside = (self._tape.time_s >= start_s) & (self._tape.time_s <= end_s)
        return self._load.find_load_reason(self._tape.values[:, inside], Rows.INJURED_MM)

    def _stretch(self, start_s: float, end_s: float) -> Stretch:
        return Stretch.of(self._tape, FIGURES, start_s, end_s)

    def _is_supported(self, start_s: float, end_s: float) -> bool | None:
        return is_supported(self._tape, start_s, end_s)

    def _in_band(self, stretch: Stretch) -> float | None:
        return None if self._band is None else stretch.in_band_percent(self._band)

    def _warn(self, words: str, holds: bool = True) -> None:
        if holds and words not in self.warnings:
            self.warnings.append(words)


def fill_forward(values: Floats, before: float) -> Floats:
    """Return values (n,) with the last known one in place of each NaN; `before` is that before the first."""
    known = np.maximum.accumulate(np.where(np.isnan(values), -1, np.arange(values.size)))
    filled: Floats = np.where(known < 0, before, values[np.maximum(known, 0)])
    return filled


def add_up(start: float, steps: Floats) -> Floats:
    """Return the running sums of `steps` (n,) from `start` on; added one by one, however they are grouped."""
    return np.cumsum(np.concatenate(([start], steps)))[1:]
