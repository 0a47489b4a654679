"""The figures of a repetition whose phases rest on the forces: shares phase by phase, where a phase can be told."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from weightshare.exercise import Basis, Repetition
from weightshare.model import Floats
from weightshare.pipeline.figure import FIGURES, Rows, find_band
from weightshare.pipeline.motion import Ground
from weightshare.pipeline.repetition import Stretch
from weightshare.pipeline.tape import Tape
from weightshare.pipeline.weight import SUPPORTED_BELOW_PERCENT

SHARE_ERROR_POINTS = 4.0
"""A share is told where the errors of its phase's ends are not expected to change it by more."""
LEAST_ERROR_S = 0.05
"""No end is better known."""


@dataclass(frozen=True, slots=True)
class Instants:
    """The instants of a repetition on samples' time, s; None where one cannot be told."""

    start_s: float | None = None
    top_s: float | None = None
    lowering_s: float | None = None
    end_s: float | None = None
    errors_s: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    """What nine errors in ten stay under."""


class Portions:
    """Makes repetitions whose tape has the figures in the rows that `Rows` names."""

    def __init__(self, ground: Ground) -> None:
        self._settings, self._delay_s = ground.settings, ground.delay_s

    def make(
        self, tape: Tape, at: Instants, height: tuple[Floats, Floats] | None, *, row: int, supported: bool | None
    ) -> Repetition:
        """Return the repetition of the working side's `row`.

        `height` are times (n,) and heights (n,) by which the lowering is cut into thirds.
        """
        instants = at.start_s, at.top_s, at.lowering_s, at.end_s
        rise, top, lowering = (
            None if begin is None or end is None else Stretch.of(tape, FIGURES, begin, end)
            for begin, end in pairwise(instants)
        )
        shares = [
            find_share(stretch, errors)
            for stretch, errors in zip((rise, top, lowering), pairwise(at.errors_s), strict=True)
        ]
        band = find_band(self._settings, row)
        start_s, top_s, lowering_s, end_s = (None if at is None else at - self._delay_s for at in instants)
        return Repetition(
            basis=Basis.FORCE,
            start_s=start_s,
            top_s=top_s,
            lowering_s=lowering_s,
            end_s=end_s,
            rise_duration_s=_duration(rise),
            top_duration_s=_duration(top),
            lowering_duration_s=_duration(lowering),
            share_rise_percent=shares[0],
            share_top_percent=shares[1],
            share_lowering_percent=shares[2],
            share_lowering_thirds_percent=find_thirds(lowering, height),
            lowering_in_band_percent=None if lowering is None or band is None else lowering.in_band_percent(band),
            lowering_least_N=None if lowering is None else lowering.least_N(),
            top_share_sd_points=None if top is None else top.unsteadiness_points(),
            supported=supported,
        )


def is_supported(tape: Tape, start_s: float, end_s: float) -> bool | None:
    """Return whether less than all of the body was on the plates at some time; None where that is not known."""
    inside = (tape.time_s >= start_s) & (tape.time_s <= end_s)
    plates = tape.values[Rows.PLATES_PERCENT, inside]
    known = plates[~np.isnan(plates)]
    return bool((known < SUPPORTED_BELOW_PERCENT).any()) if known.size else None


def find_share(stretch: Stretch | None, errors_s: tuple[float, float]) -> float | None:
    """Return the impulse share of a stretch whose ends are known to within `errors_s`, percent.

    None where there is no stretch, too little was read, or the errors may change it by too much.
    """
    share = None if stretch is None or stretch.duration_s <= 0.0 else stretch.share_percent()
    if stretch is None or share is None:
        return None
    ends = stretch.share_at_ends_percent()
    change = sum(abs(end - share) * max(error_s, LEAST_ERROR_S) for end, error_s in zip(ends, errors_s, strict=True))
    return share if change <= SHARE_ERROR_POINTS * stretch.duration_s else None


def find_thirds(
    lowering: Stretch | None, height: tuple[Floats, Floats] | None
) -> tuple[float | None, float | None, float | None] | None:
    """Return the shares by thirds of the way down, percent; None where there is no way to cut them by."""
    if lowering is None or height is None:
        return None
    course = np.interp(lowering.time_s, *height)
    return lowering.thirds_percent(course, float(course[0]), float(course[-1]))


def _duration(stretch: Stretch | None) -> float | None:
    return None if stretch is None else stretch.duration_s
