"""All that is measured on forces in newtons: the stages after calibration, as one object."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from weightshare.exercise import SetSpan
from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, Bools, Floats
from weightshare.pipeline.band import Band
from weightshare.pipeline.block import LEFT, RIGHT, Block
from weightshare.pipeline.ceiling import CeilingStage
from weightshare.pipeline.fill import Fill
from weightshare.pipeline.gap import Gaps
from weightshare.pipeline.hold import HoldStage, Samples
from weightshare.pipeline.lowpass import LowPass, can_filter, delay_s
from weightshare.pipeline.mean import Means
from weightshare.pipeline.motion import Ground, Motion
from weightshare.pipeline.movement import Asked, Movement
from weightshare.pipeline.newest import Newest, Sight
from weightshare.pipeline.share import find_share, injured_row
from weightshare.pipeline.stand import Stand, StandAsked
from weightshare.pipeline.summary import Extremes
from weightshare.pipeline.tally import Tally
from weightshare.pipeline.weight import Standing, Weight
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

NO_RESULTS = Results(*(np.empty(0),) * 5, np.empty(0, dtype=np.bool_), np.empty(0))


class Measure:
    """Blocks of unfiltered forces in, results out: fill, filter, weight, share, movement, hold, summary.

    The same object serves live and later; how the stream is cut into blocks does not matter.
    """

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self.reset()

    def reset(self) -> None:
        """Forget all samples."""
        self.warnings: list[str] = []
        self.watch: Callable[[Motion, Ground], None] | None = None
        """Whoever wants to see what repetitions are looked for in."""
        self._interval_s = 0.0
        self._fill, self._gaps, self._filter = Fill(), Gaps(), LowPass(None)
        self._weight: Weight | None = None
        self.spans: list[SetSpan] = []
        self.faults_s: list[float] = []
        """Sample times at which a fault was marked; whoever marks one adds it."""
        self._ceiling = self._make_ceiling()
        self._means, self._extremes = Means(), Extremes()
        self._stand = Stand()
        self._begin_counts()
        self._newest: Newest | None = None

    def _begin_counts(self) -> None:
        """Make anew what depends on band and exercise."""
        self._hold: HoldStage | None = None
        self._movement: Movement | None = None

    def configure(self, settings: Settings) -> None:
        """Measure against other settings from the next sample on; what is counted begins anew.

        Means are of all samples, as they are later, but for another side.
        """
        watched = self._settings.ceiling, self._settings.injured
        if self._settings.injured is not settings.injured:
            self._means, self._extremes = Means(), Extremes()
        self._settings = settings
        if watched != (settings.ceiling, settings.injured):
            self._ceiling = self._make_ceiling()
        self._begin_counts()
        if self._interval_s:
            self._make_stages()

    def push(self, block: Block) -> Results:
        """Take in a block; return what could be decided. The newest rows may wait for the next one."""
        if not block.time_s.size:
            return NO_RESULTS
        self._columns = block.columns
        if self._interval_s == 0.0 or abs(block.interval_s / self._interval_s - 1.0) > 0.02:
            self._set_rate(block.interval_s)
        filled = self._fill.push(block)
        self._gaps.push(filled)
        results = self._measure(self._filter.push(filled))
        if self._ceiling:
            self._ceiling.push(filled)
        return results

    def finish(self) -> Results:
        """The stream ends here; return what was still waiting."""
        rest = self._filter.finish()
        results = self._measure(rest) if rest is not None else NO_RESULTS
        self._gaps.finish()
        if self._ceiling:
            self._ceiling.finish()
        self._extremes.finish()
        if self._hold:
            self._hold.finish()
        if self._movement:
            self._movement.finish()
        return results

    def _set_rate(self, interval_s: float) -> None:
        """Take up a sampling rate: the first, or another one after the scale was started anew."""
        rest = self._filter.finish()
        if rest is not None:
            self._measure(rest)
        self._interval_s = interval_s
        cutoff = self._settings.filter_Hz
        if cutoff is not None and not can_filter(cutoff, interval_s):
            need = f"a low-pass at {cutoff:g} Hz needs over {2 * cutoff:g} samples a second"
            self.warnings.append(f"not filtered: {need}, there are {1.0 / interval_s:g}")
            cutoff = None
        self._filter = LowPass(cutoff)
        known = self._weight.body_weight_N if self._weight else None
        settings = self._settings
        given_N = settings.body_weight_N or (None if settings.is_supported else known)
        self._weight = Weight(given_N, settings.added_weight_N, interval_s, supported=settings.is_supported)
        self._make_stages()

    def _make_ceiling(self) -> CeilingStage | None:
        ceiling = self._settings.ceiling
        stage = None if ceiling is None else CeilingStage(ceiling, injured_row(self._settings.injured))
        if stage and self._weight and self._weight.body_weight_N is not None:
            stage.weigh(self._weight.body_weight_N)
        return stage

    def _make_stages(self) -> None:
        """Make what depends on side, band and exercise, where it is not there yet."""
        settings, filter_s = self._settings, delay_s(self._filter.cutoff_Hz)
        if self._movement is None:
            self._ground = Ground(settings, self._interval_s, filter_s)
            self._movement = Movement(self._ground, self._columns)
            for span in self.spans:
                self._movement.begin_set(span)
        self._ground.interval_s, self._ground.delay_s = self._interval_s, filter_s
        if settings.has_band and self._hold is None:
            self._hold = HoldStage(Band.of(settings), settings.grace_s, filter_s, supported=settings.is_supported)

    def begin_set(self, span: SetSpan) -> None:
        """A set begins, at a time that has not come yet or is the newest."""
        self.spans.append(span)
        if self._movement:
            self._movement.begin_set(span)

    def end_set(self, to_s: float) -> None:
        """The newest set ends; a repetition that begins from `to_s` on belongs to none."""
        self.spans[-1] = replace(self.spans[-1], to_s=to_s)
        if self._movement:
            self._movement.end_set(to_s)

    def _measure(self, block: Block) -> Results:
        if not block.time_s.size:
            return NO_RESULTS
        assert self._weight is not None and self._movement is not None
        standing = self._weight.push(block)
        weight_N, weight_from = self._weight.body_weight_N, standing.weight_from
        if self._ceiling and weight_N is not None and weight_from < block.time_s.size:
            known_s = float(block.time_s[weight_from]) if self._settings.body_weight_N is None else -math.inf
            self._ceiling.weigh(weight_N, known_s)
        if not self._settings.is_supported:
            self._stand.push(block.time_s, block.values[LEFT], standing, self._interval_s, **self._stand_asked)
        share = find_share(block, standing, self._settings.injured)
        motion = _motion(block, standing, share, weight_N)
        if self.watch is not None:
            self.watch(motion, self._ground)
        asked = self._movement.push(motion)
        injured_N = block.values[injured_row(self._settings.injured)]
        held = injured_N if self._settings.is_supported else share
        counts = self._hold_on(block, standing, held, asked)
        self._means.push(self._interval_s, block.time_s, share, injured_N, standing)
        self._extremes.push(block.time_s, share, standing.away)
        if self._settings.is_supported:
            # with a part elsewhere it tells nothing
            share = np.full(share.shape, np.nan)
        sight = Sight(self._settings, weight_N, self._movement, block, standing, share, asked, counts)
        self._newest = sight.newest()
        left, right = block.values[LEFT], block.values[RIGHT]
        return Results(block.time_s, left, right, share, standing.on_plates_percent, counts, asked.aim_percent)

    @property
    def _stand_asked(self) -> StandAsked:
        return {"stand_s": self._settings.stand_s, "given": self._settings.body_weight_N is not None}

    def _hold_on(self, block: Block, standing: Standing, held: Floats, asked: Asked) -> Bools:
        """Feed what is held: a share, percent, or in supported work a load, N; return whether it counts."""
        if self._hold is None:
            return np.zeros(block.time_s.size, dtype=np.bool_)
        where = np.where(asked.on_one_leg, standing.loaded, standing.two_legged) & asked.may_count
        if not self._settings.is_supported:
            # the band follows the phase; seen from its middle, it stands still
            held = held - (asked.aim_percent - self._hold.band.target_percent)
        eligible, missing = where, np.isnan(standing.total_N)
        if self._settings.counting_from_s is not None:
            early = block.time_s < self._settings.counting_from_s
            # what came earlier is as if it had not been read, as it is where practice begins live
            eligible, missing = eligible & ~early, missing | early
        plates = standing.on_plates_percent
        self._hold.push(Samples(block.time_s, held, eligible, standing.away, missing, plates))
        return self._hold.band.holds(held) & where

    def tally(self) -> Tally:
        """Return what was counted and averaged so far; after `finish`, of all that came."""
        means = self._means.figures()
        weight_N = self._weight.body_weight_N if self._weight else None
        full_N = (weight_N or 0.0) + self._settings.added_weight_N
        span_s = (self._gaps.last_s or 0.0) - (self._gaps.first_s or 0.0)
        low, high = self._extremes.low, self._extremes.high
        movement, supported = self._movement, self._settings.is_supported
        return Tally(
            duration_s=span_s,
            samples=self._gaps.samples,
            rate_Hz=float(f"{1.0 / self._interval_s:.9g}") if self._interval_s else 0.0,
            body_weight_N=weight_N,
            on_plates_percent=None if means.weighed_N is None or not full_N else 100.0 * means.weighed_N / full_N,
            share_mean=None if supported else means.share,
            share_sd=None if supported else means.share_sd,
            share_min=low if low <= high and not supported else None,
            share_max=high if low <= high and not supported else None,
            stood=self._stand.stood,
            injured_N=means.injured_N,
            uninjured_N=means.uninjured_N,
            holds=tuple(self._hold.holds) if self._hold else (),
            basis=movement.basis if movement else None,
            repetitions=movement.repetitions if movement else (),
            rejected=movement.rejected if movement else (),
            spans=tuple(self.spans),
            faults_s=tuple(self.faults_s),
            heels_seen=movement is not None and movement.heels_seen,
            ceiling_events=self._ceiling.events if self._ceiling else None,
            time_in_band_s=self._hold.time_in_band_s if self._hold else 0.0,
            time_present_s=means.present_s,
            gaps=tuple(self._gaps.found),
            warnings=(*self.warnings, *(movement.warnings if movement else ())),
        )

    def snapshot(self) -> Snapshot:
        """Return the state after the newest sample that is decided."""
        if self._newest is None or self._weight is None or self._movement is None:
            return Snapshot(warnings=tuple(self.warnings))
        hold, movement, ceiling, stood = self._hold, self._movement, self._ceiling, self._stand.stood
        return replace(
            self._newest.fill(),
            samples=self._gaps.samples,
            body_weight_N=self._weight.body_weight_N,
            stand_left_s=0.0 if self._settings.is_supported else self._stand.left_s(**self._stand_asked),
            stand_percent=None if stood is None else stood.share_percent(self._settings.injured),
            holding=hold is not None and hold.holding,
            held_s=hold.held_s if hold else 0.0,
            held_each_s=tuple(h.held_s for h in hold.holds) if hold else (),
            time_in_band_s=hold.time_in_band_s if hold else 0.0,
            aim_percent=movement.aim_percent,
            phase=movement.phase,
            phase_since_s=movement.phase_since_s,
            basis=movement.basis,
            heels_seen=movement.heels_seen,
            repetitions=movement.repetitions,
            rejected=movement.rejected,
            ceiling_N=ceiling.limit_N if ceiling else None,
            over_ceiling=ceiling is not None and ceiling.over,
            ceiling_unread=ceiling is not None and ceiling.unread,
            ceiling_events=ceiling.events if ceiling else (),
            warnings=tuple(self.warnings),
        )


def _motion(block: Block, standing: Standing, share: Floats, body_weight_N: float | None) -> Motion:
    """Return the block as those see it who look for repetitions."""
    weight_N = np.full(share.size, np.nan)
    weight_N[standing.weight_from :] = np.nan if body_weight_N is None else body_weight_N
    columns = block.columns
    parts = block.values[2:6] if columns[2:6] == PART_COLUMNS else None
    heights = None
    if any(name in columns for name in HEIGHT_COLUMNS):
        nothing = np.full(share.size, np.nan)
        found = (block.values[columns.index(name)] if name in columns else nothing for name in HEIGHT_COLUMNS)
        heights = np.stack(list(found))
    missing = np.isnan(standing.total_N)
    sides = block.values[LEFT], block.values[RIGHT]
    plates = standing.on_plates_percent
    return Motion(block.time_s, *sides, share, plates, weight_N, standing.present, missing, parts, heights)
