"""Heel-raise repetitions, lift by lift, and what was measured in each. Part of the walk."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TypeAlias

from tests.property.walk.impulse import in_band, least_force, mean_force, share, thirds
from tests.property.walk.lift import (
    LOOK_BACK_S,
    SLACK_S,
    Instants,
    Lift,
    Reading,
    before,
    find_instants,
    find_lifts,
    plateau_over,
    readings_of,
)
from tests.property.walk.row import GAP, LowPass, Sample, Task, filter_rows, judge, weigh

SHORT_S = 0.5
STILL_S = 0.5
"""So long before a rise the heel has to be read: else it may have been on its way up already."""
NO_REFERENCE_MM = 60.0


@dataclass
class Effort(Task):
    """What is asked of somebody who raises the heels: besides, whose heel is followed, and whether on one leg."""

    working: str = "left"
    single: bool = False
    reference_mm: float | None = None
    one_sided: bool = False

    @property
    def delay_s(self) -> float:
        return 0.0 if self.filter_Hz is None else math.sqrt(2.0) / (2.0 * math.pi * self.filter_Hz)


@dataclass
class Raised:
    """One repetition, with the names and units of the analysis."""

    start_s: float
    top_s: float
    lowering_s: float
    end_s: float
    rise_duration_s: float
    top_duration_s: float
    lowering_duration_s: float
    share_rise_percent: float | None
    share_top_percent: float | None
    share_lowering_percent: float | None
    share_lowering_thirds_percent: tuple[float | None, ...]
    lowering_in_band_percent: float | None
    lowering_least_N: float | None
    height_injured_mm: float | None
    height_uninjured_mm: float | None
    load_travel_injured_J: float | None
    load_travel_uninjured_J: float | None
    top_height_sd_mm: float | None
    top_share_sd_points: float | None
    supported: bool | None
    incomplete_return: bool


@dataclass
class Walk:
    """Everything that was found."""

    repetitions: list[Raised] = field(default_factory=list)
    rejected: list[tuple[float, float, str]] = field(default_factory=list)
    weight_margin: float = math.inf
    """How far any three seconds were from just being still enough; small is undecided."""


Row: TypeAlias = tuple[float, float, float, float, float]
"""Time, left and right force, left and right heel's height; NaN is a missing reading."""


def find_repetitions(table: Sequence[Row], task: Effort, low_pass: LowPass) -> Walk:
    """Return what a walk over a trace finds. A heel without any reading is not measured."""
    interval_s = statistics.median(b[0] - a[0] for a, b in pairwise(table))
    samples = filter_rows([row[:3] for row in table], interval_s, task, low_pass)
    heels = filter_rows([(row[0], *row[3:]) for row in table], interval_s, task, low_pass)
    weight_N, margin = weigh(samples, interval_s, task)
    judge(samples, interval_s, weight_N, task)
    courses = {"left": [heel.left for heel in heels], "right": [heel.right for heel in heels]}
    found = Walker(samples, courses, interval_s, weight_N, task).walk()
    found.weight_margin = margin
    return found


class Walker:
    """Goes from lift to lift of a filtered, judged stream of samples and both heels' courses."""

    def __init__(
        self,
        samples: list[Sample],
        heels: dict[str, list[float]],
        interval_s: float,
        weight_N: float | None,
        task: Effort,
    ) -> None:
        self.samples, self.interval_s, self.task = samples, interval_s, task
        self.weight_N = math.nan if weight_N is None else weight_N
        times = [sample.time_s for sample in samples]
        self.courses = {side: readings_of(times, heights, interval_s) for side, heights in heels.items()}
        self.course = self.courses[task.working]
        self.heights: list[float] = []

    def walk(self) -> Walk:
        found = Walk()
        parted = 0
        for lift in find_lifts(self.course):
            instants = None if lift.cut_off else find_instants(self.course, lift, parted)
            reason = self.refusal(lift, instants, parted)
            if instants is None or reason is not None:
                delay_s = self.task.delay_s
                end_s = self.samples[-1].time_s if lift.cut_off else lift.end_s - delay_s
                found.rejected.append((lift.start_s - delay_s, end_s, reason or ""))
            else:
                found.repetitions.append(self.measure(lift, instants, parted))
                self.heights.append(instants.height)
            parted = lift.last
        return found

    def refusal(self, lift: Lift, instants: Instants | None, parted: int) -> str | None:
        """Return why a lift does not count."""
        readings = self.course[lift.first : lift.last + 1]
        rows = [sample for sample in self.samples if readings[0].time_s <= sample.time_s <= readings[-1].time_s]
        low = min(self.course[k].height for k in before(self.course, lift, parted))
        height = plateau_over(self.course, range(lift.first, lift.last + 1), low) - low
        reasons = {
            "a foot left the plates": any(self.steps_off(row) for row in rows),
            "too little on the plates": not self.task.single and any(row.plates < 80.0 for row in rows),
            "readings were missing": any(reading.after_gap for reading in readings[1:]) or self.hidden(lift, instants),
            "cut off at the end": lift.cut_off,
            "short": lift.end_s - lift.start_s < SHORT_S,
            "a half-way pause and return": 0.4 * self.reference_mm <= height < 0.5 * self.reference_mm
            and pauses(readings, low + 0.4 * self.reference_mm),
            "low": height < 0.5 * self.reference_mm,
        }
        return next((reason for reason, holds in reasons.items() if holds), None)

    def hidden(self, lift: Lift, instants: Instants | None) -> bool:
        """Whether a gap lies between half a second before the start and the end of what would be a repetition."""
        if lift.cut_off:
            return False
        start_s, end_s = self.course[lift.first].time_s, self.course[lift.last].time_s
        if instants is not None:
            start_s, end_s = instants.start_s, instants.end_s
        start_s -= STILL_S
        gap = any(b.after_gap and b.time_s > start_s and a.time_s <= end_s for a, b in pairwise(self.course))
        return gap or self.course[0].time_s > start_s

    def steps_off(self, row: Sample) -> bool:
        if row.missing or row.away or not row.weighed:
            return row.away
        feet = [row.left if self.task.working == "left" else row.right] if self.task.single else [row.left, row.right]
        return min(feet) < 0.03 * self.weight_N

    @property
    def reference_mm(self) -> float:
        if self.task.reference_mm is not None:
            return self.task.reference_mm
        return statistics.median(self.heights) if self.heights else NO_REFERENCE_MM

    def measure(self, lift: Lift, instants: Instants, parted: int) -> Raised:
        samples, task, delay_s = self.samples, self.task, self.task.delay_s
        start_s, top_s, lowering_s, end_s = instants.start_s, instants.top_s, instants.lowering_s, instants.end_s
        way = instants.plateau - instants.after
        levels = instants.plateau - 0.1 * way, instants.plateau - 0.9 * way
        other = "right" if task.injured == "left" else "left"
        resting = "right" if task.working == "left" else "left"
        heights = {task.working: instants.height, resting: self.height(resting, lift, parted)}
        at_top = [one for one in samples if top_s < one.time_s < lowering_s and not math.isnan(one.share)]
        tops = [reading for reading in self.course if top_s <= reading.time_s <= lowering_s]
        whole = [sample for sample in samples if start_s <= sample.time_s <= end_s]
        return Raised(
            start_s=start_s - delay_s,
            top_s=top_s - delay_s,
            lowering_s=lowering_s - delay_s,
            end_s=end_s - delay_s,
            rise_duration_s=top_s - start_s,
            top_duration_s=lowering_s - top_s,
            lowering_duration_s=end_s - lowering_s,
            share_rise_percent=share(samples, start_s, top_s, task.injured),
            share_top_percent=share(samples, top_s, lowering_s, task.injured),
            share_lowering_percent=share(samples, lowering_s, end_s, task.injured),
            share_lowering_thirds_percent=thirds(samples, self.course, (lowering_s, end_s), levels, task.injured),
            lowering_in_band_percent=self.time_in_band(lowering_s, end_s),
            lowering_least_N=least_force(samples, lowering_s, end_s, task.injured),
            height_injured_mm=heights[task.injured],
            height_uninjured_mm=heights[other],
            load_travel_injured_J=self.load_travel(task.injured, heights, start_s, top_s),
            load_travel_uninjured_J=self.load_travel(other, heights, start_s, top_s),
            top_height_sd_mm=unsteadiness([one.time_s for one in tops], [one.height for one in tops]),
            top_share_sd_points=unsteadiness([one.time_s for one in at_top], [one.share for one in at_top]),
            supported=self.supported(whole),
            incomplete_return=comes_again(self.course[lift.first : lift.last + 1], instants),
        )

    def time_in_band(self, begin_s: float, end_s: float) -> float | None:
        task = self.task
        if task.target is None:
            return None
        high = math.inf if task.one_sided else task.target + task.tolerance
        return in_band(self.samples, begin_s, end_s, task.target - task.tolerance, high)

    def height(self, side: str, lift: Lift, parted: int) -> float | None:
        """Return how far a heel went up in a lift of the working one; None where its readings do not tell."""
        begin_s, end_s = self.course[lift.first].time_s, self.course[lift.last].time_s
        since_s = max(begin_s - LOOK_BACK_S - SLACK_S, self.course[parted].time_s if parted else -math.inf)
        course = self.courses.get(side, [])
        window = [k for k in range(len(course)) if since_s <= course[k].time_s < begin_s]
        within = [k for k in range(len(course)) if begin_s <= course[k].time_s <= end_s]
        marks = [self.samples[0].time_s, *(reading.time_s for reading in course), self.samples[-1].time_s]
        longest_s = max((b - a for a, b in pairwise(marks) if a < end_s and b > since_s), default=0.0)
        if not window or not within or longest_s > GAP * self.interval_s:
            return None
        low = min(course[k].height for k in window)
        return plateau_over(course, within, low) - low

    def load_travel(self, side: str, heights: dict[str, float | None], start_s: float, top_s: float) -> float | None:
        force_N, height = mean_force(self.samples, start_s, top_s, side), heights[side]
        return None if force_N is None or height is None else force_N * height / 1000.0

    def supported(self, whole: Sequence[Sample]) -> bool | None:
        known = [row.plates for row in whole if not math.isnan(row.plates)]
        return min(known) < 95.0 if known else None


def comes_again(readings: Sequence[Reading], instants: Instants) -> bool:
    """Whether the heel fell under half of its height and was nearly up again within one lift."""
    fell = False
    for reading in readings:
        if reading.time_s > instants.top_s:
            fell |= reading.height < instants.before + 0.5 * instants.height
            if fell and reading.height > instants.before + 0.75 * instants.height:
                return True
    return False


def pauses(readings: Sequence[Reading], level: float) -> bool:
    """Whether the heel stays within 5 mm for 0.4 s, at a level or above it."""
    for i, first in enumerate(readings):
        low = high = first.height
        for reading in readings[i:]:
            low, high = min(low, reading.height), max(high, reading.height)
            if low < level or high - low > 5.0:
                break
            if reading.time_s - first.time_s >= 0.4 - SLACK_S:
                return True
    return False


def unsteadiness(times: Sequence[float], values: Sequence[float]) -> float | None:
    """Return the root mean square about the best polynomial, of a degree that grows with the time; None for too few."""
    span_s = times[-1] - times[0] if times else 0.0
    degree = min(round(2.0 + 2.0 * span_s), 20)
    if len(times) < max(10, 2 * degree):
        return None
    places = [2.0 * (time_s - times[0]) / span_s - 1.0 for time_s in times]
    rest, basis = list(values), [[1.0] * len(times)]
    for _ in range(degree + 1):
        new = basis[-1]
        for _ in range(2):  # twice is enough
            for old in basis[:-1]:
                new = _without(new, old)
        basis[-1] = new
        rest = _without(rest, new)
        basis.append([x * y for x, y in zip(places, new, strict=True)])
    return math.sqrt(math.fsum(x * x for x in rest) / len(rest))


def _without(values: Sequence[float], direction: Sequence[float]) -> list[float]:
    """Return `values` without their part along a direction."""
    along = math.fsum(x * y for x, y in zip(values, direction, strict=True)) / math.fsum(y * y for y in direction)
    return [x - along * y for x, y in zip(values, direction, strict=True)]
