"""How high the heels are, in parts of a full raise, and from where on a raise counts."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean, median

from weightshare.exercise import Basis, Exercise, Repetition, Surface
from weightshare.model import Side
from weightshare.pipeline.course import HALF_PART
from weightshare.pipeline.height import FIRST_REFERENCE_MM
from weightshare.pipeline.movement import HEELS_UP_PART
from weightshare.practice.screen import Heels
from weightshare.state import Snapshot, State
from weightshare.task import Settings

FULL_MM = 80.0
"""A full raise, where neither the stage nor a raise of this session tells: common practice, no source."""
_ABSENT = (State.WAITING, State.ZEROING, State.NOBODY, State.NO_READING)


class HeelGauge:
    """Follows the level of standing, view by view, and measures both heels from it."""

    def __init__(self) -> None:
        self._lowest_mm: dict[Side, float] = {}

    def push(self, snapshot: Snapshot, settings: Settings) -> Heels | None:
        """Take the newest snapshot; return the heels, or None where the exercise or the scales know of none."""
        if settings.exercise is None or not settings.exercise.lifts_heels or not snapshot.heels_seen:
            return None
        heights = [repetition_height_mm(one, settings) for one in snapshot.repetitions]
        known = [height for height in heights if height is not None]
        full_mm = settings.reference_height_mm or (fmean(known) if known else FULL_MM)
        left = right = None
        if snapshot.state not in _ABSENT:
            left = self._rise_mm(Side.LEFT, snapshot.left_height_mm, settings.surface)
            right = self._rise_mm(Side.RIGHT, snapshot.right_height_mm, settings.surface)
        if settings.exercise is Exercise.SINGLE_RAISE:
            # the other foot hangs: how high it does says nothing
            left, right = (left, None) if settings.working_side is Side.LEFT else (None, right)
        goal_mm = _goal_mm(snapshot, settings, known)
        return Heels(
            None if left is None else left / full_mm,
            None if right is None else right / full_mm,
            None if goal_mm is None else goal_mm / full_mm,
        )

    def _rise_mm(self, side: Side, height_mm: float | None, surface: Surface) -> float | None:
        """Return the height over the level of standing, mm: on a step that is the plate's own."""
        if height_mm is None:
            return None
        if surface is Surface.STEP:
            return height_mm
        self._lowest_mm[side] = min(height_mm, self._lowest_mm.get(side, height_mm))
        return height_mm - self._lowest_mm[side]


def repetition_height_mm(repetition: Repetition, settings: Settings) -> float | None:
    """Return the height of the heel that is followed, mm; None where it was not measured."""
    followed = settings.working_side is settings.injured
    return repetition.height_injured_mm if followed else repetition.height_uninjured_mm


def _goal_mm(snapshot: Snapshot, settings: Settings, heights: Sequence[float]) -> float | None:
    """Return from which height on it counts, mm, as the pipeline judges it."""
    given_mm = settings.reference_height_mm
    if settings.exercise is Exercise.HEEL_HOLD:
        return HEELS_UP_PART * (given_mm or FIRST_REFERENCE_MM)
    if snapshot.basis is not Basis.HEIGHT:
        return None
    return HALF_PART * (given_mm or (median(heights) if heights else FIRST_REFERENCE_MM))
