"""What the stages that look for repetitions are fed with, and what they have in common."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from weightshare.exercise import PHASES, Basis, Phase, Rejected, Repetition, SetSpan
from weightshare.model import Bools, Floats
from weightshare.task import Settings

PhaseNumbers: TypeAlias = NDArray[np.int8]
"""The phase of each sample as its place in PHASES; UNKNOWN where it cannot be told."""

UNKNOWN = -1
BOTTOM, RISE, TOP, LOWERING = (PHASES.index(phase) for phase in (Phase.BOTTOM, Phase.RISE, Phase.TOP, Phase.LOWERING))


@dataclass(frozen=True, slots=True, eq=False)
class Motion:
    """Filtered samples of the stream; shape (n,) each but for the last two. NaN is a missing reading.

    Times are the samples' own: whoever reports an instant found on filtered signals takes `Ground.delay_s` off.
    """

    time_s: Floats
    left_N: Floats
    right_N: Floats
    share_percent: Floats
    on_plates_percent: Floats
    body_weight_N: Floats
    """NaN while it is not known."""
    present: Bools
    """Someone stands."""
    missing: Bools
    """There is no reading of force."""
    parts_N: Floats | None = None
    """As in PART_COLUMNS, shape (4, n); None where they are not measured."""
    heights_mm: Floats | None = None
    """The left and the right heel, shape (2, n); None where neither is measured, NaN where one is not."""

    @property
    def total_N(self) -> Floats:
        """The load on both plates, shape (n,)."""
        return self.left_N + self.right_N

    def cut(self, start: int, stop: int | None = None) -> Motion:
        """Return the samples from `start` up to `stop`, as views."""
        window = slice(start, stop)
        return Motion(
            self.time_s[window],
            self.left_N[window],
            self.right_N[window],
            self.share_percent[window],
            self.on_plates_percent[window],
            self.body_weight_N[window],
            self.present[window],
            self.missing[window],
            None if self.parts_N is None else self.parts_N[:, window],
            None if self.heights_mm is None else self.heights_mm[:, window],
        )


@dataclass(slots=True)
class Ground:
    """What is the same for all samples: settings, the sample interval (s), the filter's delay (s).

    The two latter change with a scale that was started anew at another rate, and only there.
    """

    settings: Settings
    interval_s: float
    delay_s: float


class Counter(Protocol):
    """Finds repetitions. Results do not depend on how the stream is cut into pushes."""

    basis: Basis

    @property
    def repetitions(self) -> Sequence[Repetition]:
        """Given out so far, in order."""

    @property
    def rejected(self) -> Sequence[Rejected]:
        """What was not counted so far."""

    @property
    def warnings(self) -> Sequence[str]:
        """Why a figure is None, once each."""

    def push(self, motion: Motion) -> PhaseNumbers:
        """Take in samples, at least one; return each one's provisional phase, shape (n,): by what came up to it."""

    def begin_set(self, span: SetSpan) -> None:
        """Note that a set begins, at a time that has not come yet or is the newest."""

    def finish(self) -> None:
        """The stream ends here; give out what can still be told."""
