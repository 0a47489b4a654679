"""Holds and held seconds, from sample time alone."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from weightshare.model import Bools, Floats
from weightshare.pipeline.band import Band, Visits, find_visits
from weightshare.pipeline.block import Integers
from weightshare.pipeline.weight import SUPPORTED_BELOW_PERCENT
from weightshare.state import Hold

LISTED_FROM_S = 1.0
"""Holds with less held time are not listed."""
_PLATES_S = 1.0
"""On the plates is a mean over one second: only full seconds within the hold tell whether it was supported."""


@dataclass(frozen=True, slots=True, eq=False)
class Samples:
    """What the stage needs of each sample; shape (n,) each."""

    time_s: Floats
    share_percent: Floats
    eligible: Bools
    """Share may count: both feet carry, enough is on the plates."""
    away: Bools
    """There is a reading, and nobody stands."""
    missing: Bools
    """There is no reading."""
    on_plates_percent: Floats

    def after(self, last: Samples | None) -> Samples:
        """Return these samples with the last one of those before them put in front."""
        if last is None:
            return self
        pairs = ((getattr(last, name), getattr(self, name)) for name in self.__slots__)
        return Samples(*(np.concatenate(pair) for pair in pairs))

    def newest(self) -> Samples:
        """Return the last sample alone."""
        return Samples(*(getattr(self, name)[-1:].copy() for name in self.__slots__))


@dataclass(slots=True)
class _Open:
    """A hold under way. `since_s` is where its stretch in the band began; None while share is outside."""

    start_s: float
    since_s: float | None
    leave_s: float = 0.0
    held_s: float = 0.0
    low: bool = False
    weighed: bool = False

    def leave(self, leave_s: float) -> float:
        """End the stretch in the band; return its length."""
        assert self.since_s is not None
        self.leave_s = max(leave_s, self.since_s)
        length_s, self.since_s = self.leave_s - self.since_s, None
        self.held_s += length_s
        return length_s

    def close(self) -> Hold:
        supported = self.low if self.weighed or self.low else None
        return Hold(self.start_s, self.leave_s, self.held_s, supported)


class HoldStage:
    """Strings stretches in the band together to holds.

    A hold starts when share enters the band and ends when it has been outside, or unknown, for longer than the grace
    time, at once when the person steps off, and at the stream's end. Instants that come from the filtered signal are
    given without the filter's delay, but never before the person was seen to stand; those that come from the stream
    (its ends, missing readings) have none.
    """

    def __init__(self, band: Band, grace_s: float, delay_s: float, *, supported: bool = False) -> None:
        """`supported`: a part of the weight is known to be elsewhere, and the band is one of a load."""
        self.band, self._grace_s, self._delay_s, self._supported = band, grace_s, delay_s, supported
        self.reset()

    def reset(self) -> None:
        """Forget every hold."""
        self.holds: list[Hold] = []
        self._closed_s = 0.0
        self._open: _Open | None = None
        self._last: Samples | None = None
        self._stood_from_s: float | None = None

    @property
    def holding(self) -> bool:
        """Whether a hold is under way, grace time included."""
        return self._open is not None

    @property
    def held_s(self) -> float:
        """Held seconds of the hold under way."""
        return self._open.held_s + self._stretch_s() if self._open else 0.0

    @property
    def time_in_band_s(self) -> float:
        """All time in the band so far, s."""
        return self._closed_s + self._stretch_s()

    def _stretch_s(self) -> float:
        if self._open is None or self._open.since_s is None or self._last is None:
            return 0.0
        return max(float(self._last.time_s[-1]) - self._delay_s - self._open.since_s, 0.0)

    def push(self, new: Samples) -> None:
        """Take in samples, at least one."""
        data = new.after(self._last)
        visits = find_visits(self.band, data.time_s, data.share_percent, data.eligible)
        stepped_off = _stepped_off(data, visits)
        *stood_s, self._stood_from_s = _stood_from(data, self._stood_from_s, visits)
        ends_s = self._ends(data, visits.leave_s, visits.last).tolist()
        low_s = data.time_s[data.on_plates_percent < SUPPORTED_BELOW_PERCENT]
        goes_on = bool(visits.first.size and visits.first[0] == 0 and visits.enter_s[0] == data.time_s[0])
        if self._open and self._open.since_s is not None and not goes_on:
            self._closed_s += self._open.leave(float(self._ends(data, data.time_s[:1], np.zeros(1, np.int64))[0]))
        spans = zip(visits.enter_s.tolist(), visits.leave_s.tolist(), visits.last.tolist(), strict=True)
        for k, (enter_s, leave_s, last) in enumerate(spans):
            if self._open is None or self._open.since_s is None:
                self._enter(max(enter_s - self._delay_s, stood_s[k]), stepped_off=stepped_off[k])
            inside = last if leave_s >= data.time_s[last] else last - 1
            self._note_support(enter_s, leave_s, low_s, float(data.on_plates_percent[inside]))
            if last < data.time_s.size - 1 or not self.band.holds(data.share_percent[last:])[0]:
                assert self._open is not None
                self._closed_s += self._open.leave(ends_s[k])
        self._settle(float(data.time_s[-1]), stepped_off=stepped_off[-1])
        self._last = data.newest()

    def finish(self) -> None:
        """The stream ends here."""
        if self._open and self._open.since_s is not None and self._last is not None:
            self._closed_s += self._open.leave(float(self._last.time_s[-1]))
        self._end_hold()

    def _enter(self, enter_s: float, *, stepped_off: bool) -> None:
        if self._open and (stepped_off or enter_s - self._open.leave_s > self._grace_s):
            self._end_hold()
        if self._open:
            self._open.since_s = enter_s
        else:
            self._open = _Open(enter_s, enter_s)

    def _ends(self, data: Samples, leave_s: Floats, last: Integers) -> Floats:
        """Return when stretches ended. Where readings end with one, that instant is the stream's own, without delay."""
        beyond = np.minimum(last + 1, data.time_s.size - 1)
        cut = (leave_s == data.time_s[last]) & (beyond > last) & data.missing[beyond]
        return np.where(cut, leave_s, leave_s - self._delay_s)

    def _note_support(self, enter_s: float, leave_s: float, low_s: Floats, plates_percent: float) -> None:
        assert self._open is not None
        if low_s.size:
            full_s = self._open.start_s + self._delay_s + _PLATES_S
            low = low_s.searchsorted([max(enter_s, full_s), leave_s], side="left")
            self._open.low |= bool(low[1] > low[0])
        self._open.weighed |= not math.isnan(plates_percent)

    def _settle(self, now_s: float, *, stepped_off: bool) -> None:
        if self._open and self._open.since_s is None:
            over = now_s - self._delay_s - self._open.leave_s > self._grace_s
            if stepped_off or over:
                self._end_hold()

    def _end_hold(self) -> None:
        if self._open and self._open.held_s >= LISTED_FROM_S:
            hold = self._open.close()
            self.holds.append(replace(hold, supported=True) if self._supported else hold)
        self._open = None


def _stood_from(data: Samples, carried_s: float | None, visits: Visits) -> list[float]:
    """Return for each visit, and for the last sample, from when on someone was seen to stand, no reading missing.

    With `carried_s` sample 0 was seen before, and this is what was found for it.
    """
    absent = data.missing | data.away
    begins = np.append(0, np.flatnonzero(absent[:-1] & ~absent[1:]) + 1)
    times = data.time_s[begins]
    times[0] = times[0] if carried_s is None else carried_s
    asked = np.append(visits.first, data.time_s.size - 1)
    stood_s: list[float] = times[begins.searchsorted(asked, side="right") - 1].tolist()
    return stood_s


def _stepped_off(data: Samples, visits: Visits) -> list[bool]:
    """Return whether the person stepped off before each visit, since the one before it, and after the last."""
    offs = np.flatnonzero(data.away)
    before = offs.searchsorted(np.append(0, visits.last), side="right")
    after = offs.searchsorted(np.append(visits.first, data.time_s.size - 1), side="right")
    stepped_off: list[bool] = (after > before).tolist()
    return stepped_off
