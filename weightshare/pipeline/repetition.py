"""Figures of one stretch of a repetition: impulse shares, thirds of the way down, time in the band, least load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.band import Band, find_visits
from weightshare.pipeline.tape import Tape, integrate

READ_PART = 0.9
"""A share is told of a stretch of which at least this part was read."""
THIRDS = 3
STEADY_SAMPLES = 10
MOST_DEGREES = 20


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """Both sides' forces (N) over times (s), shape (n,) each; the ends are put in between samples."""

    time_s: Floats
    injured_N: Floats
    uninjured_N: Floats
    course_percent: Floats | None = None
    """The injured side's share, by straight lines from sample to sample; None: it is made of the forces."""

    @classmethod
    def of(cls, tape: Tape, rows: Sequence[int], start_s: float, end_s: float) -> Stretch:
        """Return the stretch of `tape` from `start_s` to `end_s`; `rows` are those of the two forces, and of share."""
        time_s, values = tape.between(start_s, end_s)
        return cls(time_s, *values[list(rows)])

    @property
    def duration_s(self) -> float:
        """How long it is, s."""
        return float(self.time_s[-1] - self.time_s[0])

    def impulses(self) -> tuple[Floats, float]:
        """Return both sides' impulses (N s), shape (2,), and the time read, s."""
        return integrate(self.time_s, np.stack((self.injured_N, self.uninjured_N)))

    def share_percent(self) -> float | None:
        """Return the impulse share; None where too little was read, or there is no load."""
        impulses, read_s = self.impulses()
        return None if read_s < READ_PART * self.duration_s else _share(impulses)

    def share_at_ends_percent(self) -> tuple[float, float]:
        """Return the share at the first and at the last instant at which it is known; there has to be one."""
        course = self._course()
        known = course[~np.isnan(course)]
        return float(known[0]), float(known[-1])

    def mean_N(self) -> tuple[float, float] | None:
        """Return the mean force of both sides over the time read; None where too little was."""
        impulses, read_s = self.impulses()
        if read_s <= 0.0 or read_s < READ_PART * self.duration_s:
            return None
        return float(impulses[0] / read_s), float(impulses[1] / read_s)

    def least_N(self) -> float | None:
        """Return the injured side's least force; None where too little was read."""
        _, read_s = self.impulses()
        known = self.injured_N[~np.isnan(self.injured_N)]
        return float(known.min()) if known.size and read_s >= READ_PART * self.duration_s else None

    def unsteadiness_points(self) -> float | None:
        """Return how unsteady the share was, in points; None where too little was read."""
        return find_unsteadiness(self.time_s[1:-1], self._course()[1:-1])

    def in_band_percent(self, band: Band) -> float | None:
        """Return the part of the stretch with the share in `band`, percent; None where too little was read."""
        _, read_s = self.impulses()
        if self.duration_s <= 0.0 or read_s < READ_PART * self.duration_s:
            return None
        share = self._course()
        visits = find_visits(band, self.time_s, share, ~np.isnan(share))
        return 100.0 * float((visits.leave_s - visits.enter_s).sum()) / self.duration_s

    def _course(self) -> Floats:
        if self.course_percent is not None:
            return self.course_percent
        total_N = self.injured_N + self.uninjured_N
        read = ~np.isnan(total_N) & (total_N > 0.0)
        share: Floats = np.divide(100.0 * self.injured_N, total_N, out=np.full(total_N.shape, np.nan), where=read)
        return share

    def thirds_percent(
        self, height: Floats, top: float, bottom: float
    ) -> tuple[float | None, float | None, float | None]:
        """Return the impulse share in each third of the way from `top` down to `bottom`, the upper one first.

        `height` (n,) is where the heel is at each time, by straight lines between; what lies above the top counts to
        the upper third, below the bottom to the lower one.
        """
        edges = np.linspace(top, bottom, THIRDS + 1)
        edges[0], edges[-1] = np.inf, -np.inf
        forces = np.stack((self.injured_N, self.uninjured_N))
        inner = edges[1:-1]
        time_s, course = _put_in(self.time_s, np.concatenate((height[None], forces)), inner)
        middle = 0.5 * (course[0, 1:] + course[0, :-1])
        shares = []
        for high, low in pairwise(edges):
            mine = (middle < high) & (middle >= low)
            steps = np.where(mine, np.diff(time_s), 0.0)
            means = 0.5 * (course[1:, 1:] + course[1:, :-1])
            read = mine & ~np.isnan(means).any(axis=0)
            enough = steps[read].sum() >= READ_PART * steps.sum() and bool(read.any())
            shares.append(_share((means[:, read] * steps[read]).sum(axis=1)) if enough else None)
        return shares[0], shares[1], shares[2]


def find_unsteadiness(time_s: Floats, values: Floats) -> float | None:
    """Return the standard deviation of values (n,) about a smooth course through them; NaN is passed over.

    The course is a polynomial with two degrees for each second, and two more: so that coming to rest, going on, and
    shifting the load on purpose are hardly any unsteadiness, but trembling and bouncing are. None with few readings.
    """
    known = ~np.isnan(values)
    time_s, values = time_s[known], values[known]
    span_s = float(time_s[-1] - time_s[0]) if time_s.size else 0.0
    degree = min(round(2.0 + 2.0 * span_s), MOST_DEGREES)
    if values.size < max(STEADY_SAMPLES, 2 * degree):
        return None
    basis = np.polynomial.legendre.legvander(2.0 * (time_s - time_s[0]) / span_s - 1.0, degree)
    course = basis @ np.linalg.lstsq(basis, values, rcond=None)[0]
    return float(np.sqrt(np.mean((values - course) ** 2)))


def _put_in(time_s: Floats, course: Floats, levels: Floats) -> tuple[Floats, Floats]:
    """Return times (m,) and course (rows, m) with the instants put in at which row 0 crosses a level."""
    height = course[0]
    instants = [time_s]
    for level in levels:
        below = height < level
        places = np.flatnonzero(below[1:] != below[:-1])
        part = (level - height[places]) / (height[places + 1] - height[places])
        instants.append(time_s[places] + part * (time_s[places + 1] - time_s[places]))
    times = np.unique(np.concatenate(instants))
    after = np.clip(time_s.searchsorted(times), 1, time_s.size - 1)
    part = (times - time_s[after - 1]) / (time_s[after] - time_s[after - 1])
    left, right = course[:, after - 1], course[:, after]
    return times, np.where(part == 1.0, right, left + part * (right - left))


def _share(impulses: Floats) -> float | None:
    total = float(impulses.sum())
    return 100.0 * float(impulses[0]) / total if total > 0.0 else None


def last_up(time_s: Floats, height: Floats, level: float, before: int) -> float | None:
    """Return the last instant before sample `before` at which `height` comes up through `level`, None where none is."""
    under = np.flatnonzero(height[:before] < level)
    return _cross(time_s, height, level, int(under[-1])) if under.size and under[-1] + 1 < height.size else None


def first_up(height: Floats, level: float, start: int) -> int | None:
    """Return the first sample from `start` on at or over `level`; None where there is none."""
    over = np.flatnonzero(height[start:] >= level)
    return start + int(over[0]) if over.size else None


def cross_before(time_s: Floats, height: Floats, level: float, place: int) -> float:
    """Return the instant between sample `place` - 1 and `place` at which `height` crosses `level`."""
    return _cross(time_s, height, level, place - 1) if place else float(time_s[0])


def _cross(time_s: Floats, height: Floats, level: float, place: int) -> float:
    """Return when the line from sample `place` to the next one is at `level`."""
    part = (level - height[place]) / (height[place + 1] - height[place])
    return float(time_s[place] + part * (time_s[place + 1] - time_s[place]))
