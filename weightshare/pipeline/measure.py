"""All that is measured on forces in newtons: the stages after calibration, as one object."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.band import Band
from weightshare.pipeline.block import LEFT, OVERLOAD, RIGHT, Block
from weightshare.pipeline.fill import Fill
from weightshare.pipeline.gap import Gaps
from weightshare.pipeline.hold import HoldStage, Samples
from weightshare.pipeline.lowpass import LowPass, can_filter, delay_s
from weightshare.pipeline.mean import Means
from weightshare.pipeline.share import find_share, injured_row
from weightshare.pipeline.summary import Extremes
from weightshare.pipeline.weight import FOOT_PART, SUPPORTED_BELOW_PERCENT, Standing, Weight
from weightshare.state import Hold, Results, Snapshot, State
from weightshare.task import Settings

NO_RESULTS = Results(*(np.empty(0),) * 5, np.empty(0, dtype=np.bool_), np.empty(0))


@dataclass(frozen=True, slots=True)
class Tally:
    """What the stages counted and averaged: times in s, forces in N, shares in percent; None without samples."""

    duration_s: float
    samples: int
    rate_Hz: float
    body_weight_N: float | None
    on_plates_percent: float | None
    share_mean: float | None
    share_sd: float | None
    share_min: float | None
    share_max: float | None
    injured_N: float | None
    uninjured_N: float | None
    holds: tuple[Hold, ...]
    time_in_band_s: float
    time_present_s: float
    gaps: tuple[tuple[float, float], ...]
    warnings: tuple[str, ...]


class Measure:
    """Blocks of unfiltered forces in, results out: fill, filter, weight, share, hold, summary.

    The same object serves live and later; how the stream is cut into blocks does not matter.
    """

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self.reset()

    def reset(self) -> None:
        """Forget all samples."""
        self.warnings: list[str] = []
        self._interval_s = 0.0
        self._fill, self._gaps, self._filter = Fill(), Gaps(), LowPass(None)
        self._weight: Weight | None = None
        self._begin_tally()
        self._newest: tuple[float, float, float, float, float, float, State] | None = None

    def _begin_tally(self) -> None:
        """Make anew what depends on side and band."""
        self._means, self._extremes = Means(), Extremes()
        self._hold: HoldStage | None = None

    def configure(self, settings: Settings) -> None:
        """Measure against other settings from the next sample on; holds and means begin anew."""
        self._settings = settings
        self._begin_tally()
        if self._interval_s:
            self._make_hold()

    def push(self, block: Block) -> Results:
        """Take in a block; return what could be decided. The newest rows may wait for the next one."""
        if not block.time_s.size:
            return NO_RESULTS
        if self._interval_s == 0.0 or abs(block.interval_s / self._interval_s - 1.0) > 0.02:
            self._set_rate(block.interval_s)
        filled = self._fill.push(block)
        self._gaps.push(filled)
        return self._measure(self._filter.push(filled))

    def finish(self) -> Results:
        """The stream ends here; return what was still waiting."""
        rest = self._filter.finish()
        results = self._measure(rest) if rest is not None else NO_RESULTS
        self._gaps.finish()
        self._extremes.finish()
        if self._hold:
            self._hold.finish()
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
        self._weight = Weight(self._settings.body_weight_N or known, self._settings.added_weight_N, interval_s)
        self._make_hold()

    def _make_hold(self) -> None:
        settings = self._settings
        if settings.target_percent is not None and self._hold is None:
            band = Band(settings.target_percent, settings.tolerance_percent)
            self._hold = HoldStage(band, settings.grace_s, delay_s(self._filter.cutoff_Hz))

    def _measure(self, block: Block) -> Results:
        if not block.time_s.size:
            return NO_RESULTS
        assert self._weight is not None
        standing = self._weight.push(block)
        share = find_share(block, standing, self._settings.injured)
        counts = self._hold_on(block, standing, share)
        injured_N = block.values[injured_row(self._settings.injured)]
        self._means.push(self._interval_s, block.time_s, share, injured_N, standing)
        self._extremes.push(block.time_s, share, standing.away)
        self._remember(block, standing, share, counts)
        left, right = block.values[LEFT], block.values[RIGHT]
        return Results(block.time_s, left, right, share, standing.on_plates_percent, counts, np.full(left.size, np.nan))

    def _hold_on(self, block: Block, standing: Standing, share: Floats) -> Bools:
        if self._hold is None:
            return np.zeros(block.time_s.size, dtype=np.bool_)
        eligible, missing = standing.two_legged, np.isnan(standing.total_N)
        if self._settings.counting_from_s is not None:
            early = block.time_s < self._settings.counting_from_s
            # what came earlier is as if it had not been read, as it is where practice begins live
            eligible, missing = eligible & ~early, missing | early
        plates = standing.on_plates_percent
        self._hold.push(Samples(block.time_s, share, eligible, standing.away, missing, plates))
        return self._hold.band.holds(share) & standing.two_legged

    def _remember(self, block: Block, standing: Standing, share: Floats, counts: Bools) -> None:
        left, right = float(block.values[LEFT, -1]), float(block.values[RIGHT, -1])
        if np.isnan(standing.total_N[-1]):
            state = State.OVERLOAD if block.flags[-1] & OVERLOAD else State.NO_READING
        else:
            state = self._say(standing, left, right, float(share[-1]), bool(counts[-1]))
        self._newest = (
            float(block.time_s[-1]),
            left,
            right,
            left if injured_row(self._settings.injured) == LEFT else right,
            float(share[-1]),
            float(standing.on_plates_percent[-1]),
            state,
        )

    def _say(self, standing: Standing, left: float, right: float, share: float, counts: bool) -> State:
        """Say in one word what the newest reading shows."""
        assert self._weight is not None
        weight_N, target = self._weight.body_weight_N, self._settings.target_percent
        if not standing.present[-1]:
            return State.NOBODY
        if weight_N is None:
            return State.WEIGHING
        if not standing.two_legged[-1]:
            return State.ONE_FOOT_OFF if min(left, right) < FOOT_PART * weight_N else State.ELSEWHERE
        if target is None:
            return State.STANDING
        return State.IN_BAND if counts else State.TOO_LITTLE if share < target else State.TOO_MUCH

    def tally(self) -> Tally:
        """Return what was counted and averaged so far; after `finish`, of all that came."""
        means = self._means.figures()
        weight_N = self._weight.body_weight_N if self._weight else None
        full_N = (weight_N or 0.0) + self._settings.added_weight_N
        span_s = (self._gaps.last_s or 0.0) - (self._gaps.first_s or 0.0)
        low, high = self._extremes.low, self._extremes.high
        return Tally(
            duration_s=span_s,
            samples=self._gaps.samples,
            rate_Hz=float(f"{1.0 / self._interval_s:.9g}") if self._interval_s else 0.0,
            body_weight_N=weight_N,
            on_plates_percent=None if means.weighed_N is None else 100.0 * means.weighed_N / full_N,
            share_mean=means.share,
            share_sd=means.share_sd,
            share_min=low if low <= high else None,
            share_max=high if low <= high else None,
            injured_N=means.injured_N,
            uninjured_N=means.uninjured_N,
            holds=tuple(self._hold.holds) if self._hold else (),
            time_in_band_s=self._hold.time_in_band_s if self._hold else 0.0,
            time_present_s=means.present_s,
            gaps=tuple(self._gaps.found),
            warnings=tuple(self.warnings),
        )

    def snapshot(self) -> Snapshot:
        """Return the state after the newest sample that is decided."""
        if self._newest is None or self._weight is None:
            return Snapshot(warnings=tuple(self.warnings))
        time_s, left, right, injured, share, plates, state = self._newest
        hold = self._hold
        return Snapshot(
            state=state,
            time_s=time_s,
            samples=self._gaps.samples,
            left_N=_known(left),
            right_N=_known(right),
            share_percent=_known(share),
            injured_N=_known(injured),
            body_weight_N=self._weight.body_weight_N,
            on_plates_percent=_known(plates),
            supported=plates < SUPPORTED_BELOW_PERCENT,
            in_band=state is State.IN_BAND,
            holding=hold is not None and hold.holding,
            held_s=hold.held_s if hold else 0.0,
            held_each_s=tuple(h.held_s for h in hold.holds) if hold else (),
            time_in_band_s=hold.time_in_band_s if hold else 0.0,
            warnings=tuple(self.warnings),
        )


def _known(number: float) -> float | None:
    return None if np.isnan(number) else number
