"""The figures of one lift by height, and what its load says against counting it."""

from __future__ import annotations

from enum import IntEnum

import numpy as np

from weightshare.exercise import FOOT_LEFT, TOO_LITTLE_LOAD, Basis, Repetition
from weightshare.model import Floats, Side
from weightshare.pipeline.band import Band
from weightshare.pipeline.block import GAP_INTERVALS
from weightshare.pipeline.course import LEAVES, REACHES, Course, Shape, rise_of
from weightshare.pipeline.lift import Lift
from weightshare.pipeline.motion import Ground, Motion
from weightshare.pipeline.repetition import Stretch, find_unsteadiness
from weightshare.pipeline.tape import Tape
from weightshare.pipeline.weight import FOOT_PART, SUPPORTED_BELOW_PERCENT, TWO_LEG_PART
from weightshare.task import Settings

UNREAD_SHARE = "a share of a repetition is not known: too little of its phase was read"
UNREAD_HEEL = "the other heel's height is not known: it was not measured, or not read"


class Rows(IntEnum):
    """What the tape holds, row by row."""

    INJURED_MM = 0
    UNINJURED_MM = 1
    INJURED_N = 2
    UNINJURED_N = 3
    PLATES_PERCENT = 4
    WEIGHT_N = 5
    PRESENT = 6
    MISSING = 7
    SHARE_PERCENT = 8


FORCES = (Rows.INJURED_N, Rows.UNINJURED_N)
FIGURES = (*FORCES, Rows.SHARE_PERCENT)


def to_rows(motion: Motion, injured: Side) -> Floats:
    """Return the samples as rows of the tape, shape (rows, n); heights that are not measured are NaN."""
    on_left = injured is Side.LEFT
    sides = (motion.left_N, motion.right_N) if on_left else (motion.right_N, motion.left_N)
    heights = np.full((2, motion.time_s.size), np.nan) if motion.heights_mm is None else motion.heights_mm
    others = motion.on_plates_percent, motion.body_weight_N, motion.present, motion.missing, motion.share_percent
    rows = (*(heights if on_left else heights[::-1]), *sides, *others)
    return np.stack([np.asarray(row, dtype=np.float64) for row in rows])


def find_band(settings: Settings, row: int) -> Band | None:
    """Return the band of the injured side's share; where the other leg works, by `row`, its share is asked for."""
    if settings.target_percent is None:
        return None
    asked = Rows.INJURED_MM if settings.working_side is settings.injured else Rows.UNINJURED_MM
    target = settings.target_percent if row == asked else 100.0 - settings.target_percent
    return Band(target, settings.tolerance_percent, settings.one_sided)


def is_supported(plates_percent: Floats) -> bool | None:
    """Return whether part of the body was not on the plates (percent, shape (n,)) at some time; None: not known."""
    known = plates_percent[~np.isnan(plates_percent)]
    return bool((known < SUPPORTED_BELOW_PERCENT).any()) if known.size else None


class LiftFigures:
    """Makes repetitions of lifts. `warnings` says why a figure is None, once each."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self.warnings: list[str] = []
        self._single = ground.settings.is_single

    def find_load_reason(self, lifted: Floats, row: int) -> str:
        """Return what in the load of a lift's samples (rows, n) speaks against counting it; nothing where all is well.

        `row` is that of the working heel.
        """
        known = (lifted[Rows.MISSING] == 0.0) & ~np.isnan(lifted[Rows.WEIGHT_N])
        feet = lifted[[FORCES[row]]] if self._single else lifted[list(FORCES)]
        light = known & (feet.min(axis=0) < FOOT_PART * lifted[Rows.WEIGHT_N])
        if light.any() or ((lifted[Rows.MISSING] == 0.0) & (lifted[Rows.PRESENT] == 0.0)).any():
            return FOOT_LEFT
        little = bool((lifted[Rows.PLATES_PERCENT] < 100.0 * TWO_LEG_PART).any())
        return TOO_LITTLE_LOAD if little and not self._single else ""

    def make(self, tape: Tape, around: tuple[Floats, Floats], lift: Lift, shape: Shape, row: int) -> Repetition:
        """Return the repetition. `around`: times (n,) and rows (rows, n) of the lift, what is before and after it."""
        rise, top, lowering = (
            Stretch.of(tape, FIGURES, *span)
            for span in (
                (shape.start_s, shape.top_s),
                (shape.top_s, shape.lowering_s),
                (shape.lowering_s, shape.end_s),
            )
        )
        time_s, rows = around
        heights = self._heights(around, lift, shape, row)
        shares = rise.share_percent(), top.share_percent(), lowering.share_percent()
        self._warn(shares, heights)
        travel = load_travel(rise, heights)
        delay_s, band = self._ground.delay_s, find_band(self._ground.settings, row)
        return Repetition(
            basis=Basis.HEIGHT,
            start_s=shape.start_s - delay_s,
            top_s=shape.top_s - delay_s,
            lowering_s=shape.lowering_s - delay_s,
            end_s=shape.end_s - delay_s,
            rise_duration_s=shape.top_s - shape.start_s,
            top_duration_s=shape.lowering_s - shape.top_s,
            lowering_duration_s=shape.end_s - shape.lowering_s,
            share_rise_percent=shares[0],
            share_top_percent=shares[1],
            share_lowering_percent=shares[2],
            share_lowering_thirds_percent=self._thirds(tape, lowering, shape, row),
            lowering_in_band_percent=None if band is None else lowering.in_band_percent(band),
            lowering_least_N=lowering.least_N(),
            height_injured_mm=heights[0],
            height_uninjured_mm=heights[1],
            load_travel_injured_J=travel[0],
            load_travel_uninjured_J=travel[1],
            top_height_sd_mm=_find_unsteadiness(around, shape, rows[row]),
            top_share_sd_points=top.unsteadiness_points(),
            supported=is_supported(rows[Rows.PLATES_PERCENT, (time_s >= shape.start_s) & (time_s <= shape.end_s)]),
            incomplete_return=shape.incomplete_return,
        )

    def _heights(
        self, around: tuple[Floats, Floats], lift: Lift, shape: Shape, row: int
    ) -> tuple[float | None, float | None]:
        """Return the injured and the uninjured heel's heights over the same lift, mm."""
        assert lift.last_s is not None
        time_s, rows = around
        other = Rows.UNINJURED_MM if row == Rows.INJURED_MM else Rows.INJURED_MM
        course = Course.cut(time_s, rows[other], lift.first_s, lift.last_s)
        height = None
        if course is not None:
            # a gap before the lift has hidden the level that it began from, one at its end the greatest height
            unread_s = max(float(course.time_s[0]) - lift.before_s, lift.last_s - float(course.time_s[-1]))
            longest_s = max(course.longest_step_s(lift.before_s, lift.last_s), unread_s)
            before, plateau = rise_of(course)
            height = plateau - before if longest_s <= GAP_INTERVALS * self._ground.interval_s else None
        return (shape.height_mm, height) if row == Rows.INJURED_MM else (height, shape.height_mm)

    def _thirds(
        self, tape: Tape, lowering: Stretch, shape: Shape, row: int
    ) -> tuple[float | None, float | None, float | None]:
        time_s, values = tape.between(float(lowering.time_s[0]), float(lowering.time_s[-1]))
        height, known = values[row], ~np.isnan(values[row])
        height = np.interp(time_s, time_s[known], height[known])
        return lowering.thirds_percent(height, shape.level_after(REACHES), shape.level_after(LEAVES))

    def _warn(self, shares: tuple[float | None, ...], heights: tuple[float | None, ...]) -> None:
        for figures, words in ((shares, UNREAD_SHARE), (heights, UNREAD_HEEL)):
            if None in figures and words not in self.warnings:
                self.warnings.append(words)


def load_travel(rise: Stretch, heights: tuple[float | None, float | None]) -> tuple[float | None, float | None]:
    """Return each side's mean force in the rise times its own heel's height (mm), J; None where that is not known."""
    means = rise.mean_N()
    if means is None:
        return None, None
    injured, uninjured = (None if mm is None else mean * mm / 1000.0 for mean, mm in zip(means, heights, strict=True))
    return injured, uninjured


def _find_unsteadiness(around: tuple[Floats, Floats], shape: Shape, values: Floats) -> float | None:
    """Return how unsteady values (n,) were in the top phase; None where too few were read."""
    time_s, _ = around
    top = (time_s >= shape.top_s) & (time_s <= shape.lowering_s)
    return find_unsteadiness(time_s[top], values[top])
