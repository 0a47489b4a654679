"""Repetitions by the metronome: its phases, with the shares that were measured in them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from weightshare.exercise import CUT_OFF, UNREAD, Basis, Rejected, Repetition, SetSpan, Tempo
from weightshare.model import Bools, Floats
from weightshare.pipeline.band import Band
from weightshare.pipeline.block import GAP_INTERVALS
from weightshare.pipeline.figure import FIGURES, UNREAD_SHARE, LiftFigures, Rows, find_band, is_supported, to_rows
from weightshare.pipeline.motion import BOTTOM, LOWERING, RISE, TOP, Ground, Motion, PhaseNumbers
from weightshare.pipeline.repetition import READ_PART, Stretch
from weightshare.pipeline.tape import Tape

METRONOME = "phases of repetitions are the metronome's: whether and when anybody moved was not measured"
NO_HEIGHT = "heights and load x heel travel are not known: repetitions were counted by the metronome"
NO_BEAT = "repetitions of a set are not known: it had no metronome"
NO_SET = "repetitions are not known: no set with a metronome was begun"
NO_TOP = "shares at the top are not known: the tempo spends no time there"

_ORDER = np.array([RISE, TOP, LOWERING, BOTTOM], dtype=np.int8)


@dataclass(frozen=True, slots=True)
class Cycle:
    """One cycle of a metronome, by the instants (s) at which its phases begin, and where the lowering ends."""

    start_s: float
    top_s: float
    lowering_s: float
    end_s: float

    @classmethod
    def of(cls, tempo: Tempo, first_s: float, place: int) -> Cycle:
        """Return the cycle number `place`, from 0 on, of a metronome whose first beat is at `first_s`."""
        start_s = first_s + place * tempo.cycle_s
        top_s = start_s + tempo.rise_s
        lowering_s = top_s + tempo.top_s
        return cls(start_s, top_s, lowering_s, lowering_s + tempo.lowering_s)


class PacedCounter:
    """Counts the cycles of a set's metronome through which the person stood as the exercise asks; a Counter.

    A cycle goes from its rise to the end of its lowering; its pause is free. Instants are the metronome's; loads are
    read as much later as the filter makes them, and so are the phases of samples.
    """

    basis = Basis.PACED

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self.repetitions: list[Repetition] = []
        """Given out so far, in order."""
        self.rejected: list[Rejected] = []
        self.warnings: list[str] = []
        """Why a figure is None, once each."""
        self._load = LiftFigures(ground)
        self._tape = Tape(len(Rows))
        self._spans: list[SetSpan] = []
        """Those that still have cycles to come, in order."""
        self._place = 0
        """The next cycle's place in the first of them."""
        self._begun = False

    def begin_set(self, span: SetSpan) -> None:
        """Note that a set begins, at a time that has not come yet or is the newest; one under way ends with it."""
        self.end_set(span.from_s)
        self._begun = True
        if span.paced_from_s is None or self._ground.settings.tempo is None:
            self._warn(NO_BEAT)
        else:
            self._spans.append(span)

    def end_set(self, to_s: float) -> None:
        """Note that the newest set ends, at a time that has not come yet or is the newest, unless it ended before."""
        if self._spans:
            known_s = self._spans[-1].to_s
            self._spans[-1] = replace(self._spans[-1], to_s=to_s if known_s is None else min(known_s, to_s))

    def push(self, motion: Motion) -> PhaseNumbers:
        """Take in samples, at least one; return each one's phase, shape (n,), the metronome's."""
        self._tape.push(motion.time_s, to_rows(motion, self._ground.settings.injured))
        newest_s = float(motion.time_s[-1]) - self._ground.delay_s
        phases = self._find_phases(motion.time_s - self._ground.delay_s)
        while self._spans and self._step(newest_s):
            pass
        next_s = self._next().start_s + self._ground.delay_s if self._spans else math.inf
        self._tape.let_go(min(next_s, float(motion.time_s[-1])))
        return phases

    def finish(self) -> None:
        """The stream ends here; a lowering of which the filter keeps back no more than a tenth still counts."""
        tempo, delay_s = self._ground.settings.tempo, self._ground.delay_s
        if not self._begun:
            self._warn(NO_SET)
        if self._tape.time_s.size and tempo is not None:
            newest_s = float(self._tape.time_s[-1]) - max(delay_s - (1.0 - READ_PART) * tempo.lowering_s, 0.0)
            self.end_set(newest_s)
            while self._spans and self._step(newest_s):
                pass

    def _next(self) -> Cycle:
        """Return the next cycle of the first set."""
        span, tempo = self._spans[0], self._ground.settings.tempo
        assert span.paced_from_s is not None and tempo is not None
        return Cycle.of(tempo, span.paced_from_s, self._place)

    def _step(self, newest_s: float) -> bool:
        """Take the next cycle, or end the set, where the samples up to `newest_s` allow it; return whether they did."""
        cycle, span = self._next(), self._spans[0]
        if span.to_s is not None and cycle.end_s > span.to_s:
            return self._leave(cycle, span.to_s, newest_s)
        if cycle.end_s > newest_s:
            return False
        if cycle.start_s >= span.from_s:
            self._judge(cycle)
        self._place += 1
        return True

    def _leave(self, cycle: Cycle, to_s: float, newest_s: float) -> bool:
        """End the set; the cycle that its end cuts is told where the rise was over."""
        if to_s > newest_s:
            return False
        if cycle.start_s >= self._spans[0].from_s and cycle.top_s < to_s:
            self.rejected.append(Rejected(cycle.start_s, to_s, CUT_OFF))
        del self._spans[0]
        self._place = 0
        return True

    def _judge(self, cycle: Cycle) -> None:
        """Give out the cycle as a repetition, or as rejected."""
        delay_s, time_s = self._ground.delay_s, self._tape.time_s
        start_s, end_s = cycle.start_s + delay_s, cycle.end_s + delay_s
        inside = (time_s >= start_s) & (time_s <= end_s)
        rows = self._tape.values[:, inside]
        row = self._row()
        reason = UNREAD if self._has_gap(inside, start_s, end_s) else self._load.find_load_reason(rows, row)
        if reason:
            self.rejected.append(Rejected(cycle.start_s, cycle.end_s, reason))
        else:
            self.repetitions.append(self._make(cycle, rows, find_band(self._ground.settings, row)))

    def _has_gap(self, inside: Bools, start_s: float, end_s: float) -> bool:
        read_s = self._tape.time_s[inside & (self._tape.values[Rows.MISSING] == 0.0)]
        steps_s = np.diff(read_s, prepend=start_s, append=min(end_s, float(self._tape.time_s[-1])))
        return bool((steps_s > GAP_INTERVALS * self._ground.interval_s).any())

    def _row(self) -> int:
        """Return the row of the leg that works in the first set."""
        settings, leg = self._ground.settings, self._spans[0].working
        working = leg if settings.is_single and leg is not None else settings.working_side
        return Rows.INJURED_MM if working is settings.injured else Rows.UNINJURED_MM

    def _make(self, cycle: Cycle, rows: Floats, band: Band | None) -> Repetition:
        instants = cycle.start_s, cycle.top_s, cycle.lowering_s, cycle.end_s
        read = [instant + self._ground.delay_s for instant in instants]
        rise, top, lowering = (Stretch.of(self._tape, FIGURES, begin, end) for begin, end in pairwise(read))
        shares = rise.share_percent(), top.share_percent(), lowering.share_percent()
        self._warn_of(cycle, shares)
        still_s = lowering.time_s[-1] - lowering.time_s
        return Repetition(
            Basis.PACED,
            *instants,
            rise_duration_s=cycle.top_s - cycle.start_s,
            top_duration_s=cycle.lowering_s - cycle.top_s,
            lowering_duration_s=cycle.end_s - cycle.lowering_s,
            share_rise_percent=shares[0],
            share_top_percent=shares[1],
            share_lowering_percent=shares[2],
            share_lowering_thirds_percent=lowering.thirds_percent(still_s, float(still_s[0]), 0.0),
            lowering_in_band_percent=None if band is None else lowering.in_band_percent(band),
            lowering_least_N=lowering.least_N(),
            top_share_sd_points=top.unsteadiness_points(),
            supported=is_supported(rows[Rows.PLATES_PERCENT]),
        )

    def _find_phases(self, time_s: Floats) -> PhaseNumbers:
        """Return the metronome's phase at each time (n,); the bottom where it is silent."""
        phases = np.full(time_s.size, BOTTOM, dtype=np.int8)
        tempo = self._ground.settings.tempo
        for span in self._spans:
            assert span.paced_from_s is not None and tempo is not None
            since_s = time_s - max(span.paced_from_s, span.from_s)
            mine = (since_s >= 0.0) & (time_s < (math.inf if span.to_s is None else span.to_s))
            first = Cycle.of(tempo, 0.0, 0)
            into_s = np.mod(time_s[mine] - span.paced_from_s, tempo.cycle_s)
            phases[mine] = _ORDER[np.searchsorted([first.top_s, first.lowering_s, first.end_s], into_s, side="right")]
        return phases

    def _warn_of(self, cycle: Cycle, shares: tuple[float | None, ...]) -> None:
        self._warn(METRONOME)
        self._warn(NO_HEIGHT)
        if cycle.lowering_s <= cycle.top_s:
            self._warn(NO_TOP)
            shares = shares[0], shares[2]
        if None in shares:
            self._warn(UNREAD_SHARE)

    def _warn(self, words: str) -> None:
        if words not in self.warnings:
            self.warnings.append(words)
