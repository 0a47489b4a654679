"""What the newest sample says, in figures and in one word."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from weightshare.exercise import Exercise, Phase
from weightshare.model import Bools, Floats, Side
from weightshare.pipeline.block import LEFT, OVERLOAD, RIGHT, Block
from weightshare.pipeline.movement import Asked, Movement
from weightshare.pipeline.weight import FOOT_PART, SUPPORTED_BELOW_PERCENT, Standing
from weightshare.state import Snapshot, State
from weightshare.task import Settings


@dataclass(frozen=True, slots=True)
class Newest:
    """The figures of the newest sample; None where one cannot be had."""

    time_s: float
    left_N: float | None
    right_N: float | None
    injured_N: float | None
    share_percent: float | None
    on_plates_percent: float | None
    left_height_mm: float | None
    right_height_mm: float | None
    state: State

    def fill(self) -> Snapshot:
        """Return a snapshot of these figures alone."""
        plates = self.on_plates_percent
        return Snapshot(
            state=self.state,
            time_s=self.time_s,
            left_N=self.left_N,
            right_N=self.right_N,
            share_percent=self.share_percent,
            injured_N=self.injured_N,
            on_plates_percent=plates,
            supported=plates is not None and plates < SUPPORTED_BELOW_PERCENT,
            in_band=self.state is State.IN_BAND,
            left_height_mm=self.left_height_mm,
            right_height_mm=self.right_height_mm,
        )


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """Samples as they went through the stages, and what the newest of them is judged by."""

    settings: Settings
    body_weight_N: float | None
    movement: Movement
    block: Block
    standing: Standing
    share_percent: Floats
    asked: Asked
    counts: Bools

    def newest(self) -> Newest:
        """Return what the last sample says."""
        left, right = self._read("left_N"), self._read("right_N")
        if np.isnan(self.standing.total_N[-1]):
            state = State.OVERLOAD if self.block.flags[-1] & OVERLOAD else State.NO_READING
        else:
            state = self._say_load() or self._say_movement()
        return Newest(
            float(self.block.time_s[-1]),
            left,
            right,
            left if self.settings.injured is Side.LEFT else right,
            known(float(self.share_percent[-1])),
            known(float(self.standing.on_plates_percent[-1])),
            self._read("left_heel_height_mm"),
            self._read("right_heel_height_mm"),
            state,
        )

    def _read(self, column: str) -> float | None:
        columns = self.block.columns
        return known(float(self.block.values[columns.index(column), -1])) if column in columns else None

    def _say_load(self) -> State | None:
        """Say what keeps the load from being judged; None where nothing does."""
        standing, alone = self.standing, bool(self.asked.on_one_leg[-1])
        if not standing.present[-1]:
            return State.NOBODY
        if self.settings.is_supported:
            return None
        if self.body_weight_N is None:
            return State.WEIGHING
        if (standing.loaded if alone else standing.two_legged)[-1]:
            return None
        foot_N = float(self.block.values[[LEFT, RIGHT], -1].min())
        return State.ONE_FOOT_OFF if not alone and foot_N < FOOT_PART * self.body_weight_N else State.ELSEWHERE

    def _say_movement(self) -> State:
        settings, movement = self.settings, self.movement
        if settings.exercise is Exercise.HEEL_HOLD and not self.asked.may_count[-1]:
            return State.HEELS_DOWN
        if movement.repeats and movement.phase is Phase.BOTTOM:
            return State.AT_BOTTOM
        load_N = settings.load_N
        if settings.target_percent is None and load_N is None:
            return State.STANDING
        little = self.share_percent[-1] < self.asked.aim_percent[-1]
        if load_N is not None:
            row = LEFT if settings.injured is Side.LEFT else RIGHT
            little = self.block.values[row, -1] < load_N
        return State.IN_BAND if self.counts[-1] else State.TOO_LITTLE if little else State.TOO_MUCH


def known(number: float) -> float | None:
    """Return `number`, or None for NaN."""
    return None if np.isnan(number) else number
