"""How samples come in where the forces tell repetitions: row by row, with who is there and which leg works."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from weightshare.exercise import SetSpan
from weightshare.model import Bools, Floats
from weightshare.pipeline.figure import to_rows
from weightshare.pipeline.footing import ForceRows
from weightshare.pipeline.motion import BOTTOM, UNKNOWN, Ground, Motion, PhaseNumbers
from weightshare.pipeline.tape import Tape

CHUNK = 4096
"""Samples that are looked through at once."""


class Intake:
    """Puts samples on a tape, and hands them on by stretches in which somebody is there."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        exercise = ground.settings.exercise
        self._single = exercise is not None and exercise.is_single
        self._working = ground.settings.working_side
        self._spans: list[SetSpan] = []
        self._tape = Tape(len(ForceRows))
        self._away = True

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
        for start, stop in pairwise(sorted(edges)):
            while self._spans and self._spans[0].from_s <= motion.time_s[start]:
                self._begin_span(self._spans.pop(0))
            phases[start:stop] = self._take(motion.cut(start, stop))
        return phases

    def _begin_span(self, span: SetSpan) -> None:
        assert span.working is not None
        if span.working is not self._working:
            self._change_leg(span.from_s)
            self._working = span.working

    def _change_leg(self, time_s: float) -> None:
        """Act on it that another leg works from `time_s` (s) on."""
        raise NotImplementedError

    def _step_off(self, time_s: float) -> None:
        """Act on it that nobody is there from `time_s` (s) on."""
        raise NotImplementedError

    def _step_on(self, time_s: float) -> None:
        """Act on it that somebody is there from `time_s` (s) on."""
        raise NotImplementedError

    def _follow(self, time_s: Floats, signal: Floats) -> PhaseNumbers:
        """Take in the newest samples on the tape, times (n,) and signal (n,); return their phases, shape (n,)."""
        raise NotImplementedError

    def _let_go(self, newest_s: float) -> None:
        """Let go of what is no longer needed of the tape."""
        raise NotImplementedError

    def _find_signal(self, motion: Motion) -> Floats:
        """Return the tape's first row, shape (n,): what the finder looks at; NaN where nothing can be told."""
        raise NotImplementedError

    def _to_rows(self, motion: Motion) -> Floats:
        """Return the tape's rows, shape (rows, n), the injured side first; signal and total stand for the heights."""
        rows = to_rows(motion, self._ground.settings.injured)
        rows[ForceRows.SIGNAL], rows[ForceRows.TOTAL_N] = self._find_signal(motion), motion.total_N
        return rows

    def _take(self, motion: Motion) -> PhaseNumbers:
        time_s, rows = motion.time_s, self._to_rows(motion)
        phases = np.full(time_s.size, UNKNOWN, dtype=np.int8)
        away: Bools = (rows[ForceRows.PRESENT] == 0.0) & (rows[ForceRows.MISSING] == 0.0)
        edges = [0, *(np.flatnonzero(away[1:] != away[:-1]) + 1).tolist(), time_s.size]
        for start, stop in pairwise(edges):
            self._tape.push(time_s[start:stop], rows[:, start:stop])
            if away[start]:
                self._step_off(float(time_s[start]))
                self._away, phases[start:stop] = True, BOTTOM
                continue
            if self._away:
                self._away = False
                self._step_on(float(time_s[start]))
            phases[start:stop] = self._follow(time_s[start:stop], rows[ForceRows.SIGNAL, start:stop])
        self._let_go(float(time_s[-1]))
        return phases
