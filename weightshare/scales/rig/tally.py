"""True figures of movements: shares, thirds, time in the band, heights. Sums of this module's own making."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from weightshare.model import Floats, Side
from weightshare.scales.rig.instant import LEAVES, REACHES, Instants, Window, find_instants
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Lane

GRID_S = 0.005
"""The truth is looked at so finely, whatever the scale's rate."""
BLOCK = 8192
SUPPORTED_UNDER = 0.95


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """What really happened, on an even grid of times (s, shape (n,)): forces (N, (n, 4)), heights (mm, (n, 2))."""

    time_s: Floats
    force_N: Floats
    height_mm: Floats
    injured: Side

    @classmethod
    def of(cls, person: Person, time_s: Floats) -> Course:
        """Return the course at rising times (s, shape (n,)) of the past."""
        parts = [person.look(time_s[begin : begin + BLOCK]) for begin in range(0, len(time_s), BLOCK)]
        force_N, height_mm = (np.concatenate(rows) for rows in zip(*parts, strict=True))
        return cls(time_s, force_N, height_mm, person.task.injured)

    @property
    def injured_N(self) -> Floats:
        """The injured side's force, shape (n,)."""
        place = 0 if self.injured is Side.LEFT else 2
        return self.force_N[:, place] + self.force_N[:, place + 1]

    @property
    def total_N(self) -> Floats:
        """The force on both plates, shape (n,)."""
        total: Floats = self.force_N.sum(axis=1)
        return total

    def heel(self, side: Side) -> Floats:
        """Return one heel's height, mm, shape (n,)."""
        return self.height_mm[:, 0 if side is Side.LEFT else 1]

    def stretch(self, from_s: float, to_s: float) -> Course:
        """Return the rows from `from_s` to `to_s`, with one at each of these instants, by straight lines."""
        inner = (self.time_s > from_s) & (self.time_s < to_s)
        time_s = np.concatenate(([from_s], self.time_s[inner], [to_s]))
        ends = self._rows_at(np.array([from_s, to_s]))
        force_N, height_mm = (
            np.concatenate((end[:1], rows[inner], end[1:]))
            for end, rows in zip(ends, (self.force_N, self.height_mm), strict=True)
        )
        return Course(time_s, force_N, height_mm, self.injured)

    def _rows_at(self, at_s: Floats) -> tuple[Floats, Floats]:
        after = np.clip(np.searchsorted(self.time_s, at_s), 1, len(self.time_s) - 1)
        span_s = self.time_s[after] - self.time_s[after - 1]
        part = np.clip((at_s - self.time_s[after - 1]) / span_s, 0.0, 1.0)[:, None]
        force, height = (
            rows[after - 1] + part * (rows[after] - rows[after - 1]) for rows in (self.force_N, self.height_mm)
        )
        return force, height


def share_of(course: Course, chosen: Floats | None = None) -> float | None:
    """Return the injured side's impulse share (percent) of the whole stretch, or of its chosen steps (weights)."""
    steps = np.diff(course.time_s) * (1.0 if chosen is None else chosen)
    injured, total = (
        float((0.5 * (force[1:] + force[:-1]) * steps).sum()) for force in (course.injured_N, course.total_N)
    )
    return 100.0 * injured / total if total > 0.0 else None


def tell_figures(course: Course, instants: Instants, working: Side, band: tuple[float, float]) -> dict[str, Any]:
    """Return the true figures of one repetition as JSON values. `band`: target and tolerance, percent and points."""
    rise, top, lowering = (
        course.stretch(from_s, to_s)
        for from_s, to_s in (
            (instants.start_s, instants.top_s),
            (instants.top_s, instants.lowering_s),
            (instants.lowering_s, instants.end_s),
        )
    )
    return {
        "start_s": instants.start_s,
        "top_s": instants.top_s,
        "lowering_s": instants.lowering_s,
        "end_s": instants.end_s,
        "rise_duration_s": instants.top_s - instants.start_s,
        "top_duration_s": instants.lowering_s - instants.top_s,
        "lowering_duration_s": instants.end_s - instants.lowering_s,
        "share_rise_percent": share_of(rise),
        "share_top_percent": share_of(top),
        "share_lowering_percent": share_of(lowering),
        "share_lowering_thirds_percent": tell_thirds(lowering, lowering.heel(working), instants),
        "lowering_in_band_percent": 100.0 * in_band(lowering, *band),
        "lowering_least_N": float(lowering.injured_N.min()),
        "top_height_sd_mm": _spread(top.time_s, top.heel(working)),
    }


def _spread(time_s: Floats, values: Floats) -> float:
    """Return the standard deviation of values over time."""
    middle, steps = 0.5 * (values[1:] + values[:-1]), np.diff(time_s)
    mean = (middle * steps).sum() / steps.sum()
    return float(np.sqrt(((middle - mean) ** 2 * steps).sum() / steps.sum()))


def tell_thirds(lowering: Course, height_mm: Floats, instants: Instants) -> list[float | None]:
    """Return the share in each third of the way down, the upper one first."""
    edges = np.linspace(instants.level_mm(REACHES), instants.level_mm(LEAVES), 4)
    edges[0], edges[-1] = np.inf, -np.inf
    middle = 0.5 * (height_mm[1:] + height_mm[:-1])
    chosen = [((middle < edges[k]) & (middle >= edges[k + 1])).astype(np.float64) for k in range(3)]
    return [share_of(lowering, steps) for steps in chosen]


def in_band(course: Course, target: float, tolerance: float) -> float:
    """Return the part of a stretch's time with the share within the band."""
    share = 100.0 * course.injured_N / np.maximum(course.total_N, 1e-9)
    middle = 0.5 * (share[1:] + share[:-1])
    steps = np.diff(course.time_s)
    return float(steps[np.abs(middle - target) <= tolerance].sum() / steps.sum())


def is_supported(person: Person, from_s: float, to_s: float) -> bool:
    """Return whether less than 95 % of body weight was meant to be on the plates at some time."""
    presence = person.value(Lane.PRESENCE, np.linspace(from_s, to_s, 200))
    return bool(presence.min() < SUPPORTED_UNDER)


def tell_heights(course: Course, window: Window) -> dict[str, float | None]:
    """Return how high each heel went in a movement, mm; None where it did not go up and come back."""
    heights: dict[str, float | None] = {}
    for name, side in (("injured", course.injured), ("uninjured", course.injured.other)):
        found = find_instants(course.time_s, course.heel(side), window)
        heights[f"height_{name}_mm"] = None if found is None else found.height_mm
    return heights
