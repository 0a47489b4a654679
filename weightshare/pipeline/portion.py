"""The figures of a repetition whose phases rest on the forces: shares phase by phase, where a phase can be told."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.exercise import Basis, Repetition
from weightshare.model import Floats
from weightshare.pipeline.band import Band
from weightshare.pipeline.figure import FORCES, Rows
from weightshare.pipeline.motion import Ground
from weightshare.pipeline.repetition import Stretch
from weightshare.pipeline.tape import Tape
from weightshare.pipeline.weight import SUPPORTED_BELOW_PERCENT


@dataclass(frozen=True, slots=True)
class Instants:
    """The instants of a repetition on samples' time, s; None where one cannot be told."""

    start_s: float | None
    top_s: float | None
    lowering_s: float | None
    end_s: float | None


class Portions:
    """Makes repetitions whose tape has the forces in the rows that `Rows` names."""

    def __init__(self, ground: Ground) -> None:
        self._delay_s = ground.delay_s
        settings = ground.settings
        self._band = None if settings.target_percent is None else Band.of(settings)

    def make(
        self, tape: Tape, at: Instants, height: tuple[Floats, Floats] | None, supported: bool | None
    ) -> Repetition:
        """Return the repetition; `height`: times (n,) and heights (n,) by which the lowering is cut into thirds."""
        rise, top, lowering = (
            None if begin is None or end is None else Stretch.of(tape, FORCES, begin, end)
            for begin, end in pairwise((at.start_s, at.top_s, at.lowering_s, at.end_s))
        )
        banded = None if lowering is None or self._band is None else lowering.in_band_percent(self._band)
        return Repetition(
            basis=Basis.FORCE,
            start_s=self._earlier(at.start_s),
            top_s=self._earlier(at.top_s),
            lowering_s=self._earlier(at.lowering_s),
            end_s=self._earlier(at.end_s),
            rise_duration_s=_duration(rise),
            top_duration_s=_duration(top),
            lowering_duration_s=_duration(lowering),
            share_rise_percent=_share(rise),
            share_top_percent=_share(top),
            share_lowering_percent=_share(lowering),
            share_lowering_thirds_percent=_thirds(lowering, height),
            lowering_in_band_percent=banded,
            lowering_least_N=None if lowering is None else lowering.least_N(),
            top_share_sd_points=None if top is None else top.unsteadiness_points(),
            supported=supported,
        )

    def _earlier(self, at_s: float | None) -> float | None:
        return None if at_s is None else at_s - self._delay_s


def is_supported(tape: Tape, start_s: float, end_s: float) -> bool | None:
    """Return whether less than all of the body was on the plates at some time; None where that is not known."""
    inside = (tape.time_s >= start_s) & (tape.time_s <= end_s)
    plates = tape.values[Rows.PLATES_PERCENT, inside]
    known = plates[~np.isnan(plates)]
    return bool((known < SUPPORTED_BELOW_PERCENT).any()) if known.size else None


def _duration(stretch: Stretch | None) -> float | None:
    return None if stretch is None else stretch.duration_s


def _share(stretch: Stretch | None) -> float | None:
    return None if stretch is None or stretch.duration_s <= 0.0 else stretch.share_percent()


def _thirds(
    lowering: Stretch | None, height: tuple[Floats, Floats] | None
) -> tuple[float | None, float | None, float | None] | None:
    """Return the shares by thirds of the way down; None where there is no way to cut them by."""
    if lowering is None or height is None:
        return None
    course = np.interp(lowering.time_s, *height)
    return lowering.thirds_percent(course, float(course[0]), float(course[-1]))
