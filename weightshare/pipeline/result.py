"""The analysis of a trace or a session, as typed values; `to_json` gives the object that the commands print."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from weightshare.exercise import Basis, CeilingEvent, Exercise, Rejected, Repetition
from weightshare.model import Side
from weightshare.pipeline.endurance import Endurance, EnduranceSymmetry, LegEndurance
from weightshare.pipeline.fatigue import Fatigue
from weightshare.pipeline.sets import SetResult
from weightshare.state import Alignment, Hold, ScaleClock

SCHEMA = "weightshare.analysis/1"
_DIGITS = 6

NO_HOLDS = "holds are not listed: the exercise is made of repetitions"
"""Why there are none, for whoever reads the values; a person who reads of repetitions sees it."""


@dataclass(frozen=True, slots=True)
class ShareSummary:
    """Share of the injured side over all standing time, percent. Least and greatest leave out 0.5 s at each end."""

    mean: float | None
    sd: float | None
    min: float | None
    max: float | None


@dataclass(frozen=True, slots=True)
class SymmetrySummary:
    """Symmetry of mean force in percent; no symmetry at all where the share was steered: to a target other than 50, or
    by work on one leg."""

    limb_symmetry_index_percent: float | None
    symmetry_index_percent: float | None
    symmetry_angle_percent: float | None
    steered: bool


@dataclass(frozen=True, slots=True)
class BandSummary:
    """The band and the time in it, s."""

    target_percent: float
    tolerance_percent: float
    grace_s: float
    time_in_band_s: float
    time_present_s: float


@dataclass(frozen=True, slots=True)
class LoadSummary:
    """The load that was asked for in supported work, N, and the time in its band, s."""

    target_N: float
    tolerance_N: float
    grace_s: float
    time_in_band_s: float
    time_present_s: float


@dataclass(frozen=True, slots=True)
class StandSummary:
    """The warm-up stand: unsteered, so its share is how the person stands by themselves, and no mark to pass."""

    from_s: float
    to_s: float
    share_percent: float
    """Impulse share of the injured side."""


@dataclass(frozen=True, slots=True)
class Gap:
    """From the last reading to the first one after it, s."""

    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Analysis:
    """What was measured on a trace or a session. Times are in its own `time_s`; None is a number that cannot be had,
    and `warnings` says why."""

    injured_side: Side
    duration_s: float
    samples: int
    rate_Hz: float
    body_weight_N: float | None
    on_plates_percent: float | None
    share_percent: ShareSummary
    symmetry: SymmetrySummary
    band: BandSummary | None
    holds: tuple[Hold, ...] | None
    gaps: tuple[Gap, ...]
    warnings: tuple[str, ...]
    exercise: Exercise | None = None
    basis: Basis | None = None
    """What the repetitions rest on; None where none were looked for."""
    repetitions: tuple[Repetition, ...] = ()
    rejected: tuple[Rejected, ...] = ()
    sets: tuple[SetResult, ...] = ()
    endurance: Endurance | None = None
    """How the legs compare; None where there was no single-leg set on each."""
    ceiling: tuple[CeilingEvent, ...] | None = None
    """Crossings of the ceiling; None where none was set."""
    injured_N: float | None = None
    """Mean force of the injured side while somebody stood; of the other side; None where nobody did."""
    uninjured_N: float | None = None
    load: LoadSummary | None = None
    """Of supported work; None where a share was asked for, or nothing."""
    alignment: Alignment | None = None
    """How well two separate scales agree in time; None where one scale read both sides."""
    stand: StandSummary | None = None
    """The warm-up stand; None where there was none."""
    struck: tuple[int, ...] = ()
    """The numbers that repetitions had which were struck by hand since."""

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of the repetitions, from 1 on: those that they had before any was struck."""
        return numbers_beside(self.struck, len(self.repetitions))

    @property
    def longest_hold_s(self) -> float | None:
        """Held seconds of the longest hold; 0 where there is none, None without a target."""
        return None if self.holds is None else max((hold.held_s for hold in self.holds), default=0.0)

    @property
    def total_held_s(self) -> float | None:
        """Held seconds of all listed holds; None without a target."""
        return None if self.holds is None else sum(hold.held_s for hold in self.holds)

    def to_json(self) -> dict[str, Any]:
        """Return the analysis as plain values of schema weightshare.analysis/1, rounded to six decimals."""
        content = {
            "schema": SCHEMA,
            "injured_side": str(self.injured_side),
            "duration_s": self.duration_s,
            "samples": self.samples,
            "rate_Hz": self.rate_Hz,
            "body_weight_N": self.body_weight_N,
            "on_plates_percent": self.on_plates_percent,
            "share_percent": _plain(self.share_percent),
            "symmetry": _plain(self.symmetry),
            "band": None if self.band is None else _plain(self.band),
            "holds": None if self.holds is None else [_plain(hold) for hold in self.holds],
            "longest_hold_s": self.longest_hold_s,
            "total_held_s": self.total_held_s,
            "repetitions": [_plain(repetition) for repetition in self.repetitions],
            "rejected": [_plain(rejected) for rejected in self.rejected],
            "gaps": [_plain(gap) for gap in self.gaps],
            "warnings": list(self.warnings),
            "exercise": None if self.exercise is None else str(self.exercise),
            "sets": [_plain(one) for one in self.sets],
            "endurance": None if self.endurance is None else _plain(self.endurance),
            "ceiling": None if self.ceiling is None else [_plain(event) for event in self.ceiling],
            "alignment": None if self.alignment is None else _plain(self.alignment),
            "load": None if self.load is None else _plain(self.load),
            "stand": None if self.stand is None else _plain(self.stand),
        }
        return {key: rounded(value) for key, value in content.items()}


def numbers_beside(struck: Collection[int], count: int) -> tuple[int, ...]:
    """Return the first `count` numbers, from 1 on, that are not among `struck`."""
    return tuple(k for k in range(1, count + len(struck) + 1) if k not in struck)[:count]


def _plain(value: Any) -> dict[str, Any]:
    figures = {name: getattr(value, name) for name in value.__slots__}
    return {name: _plain_figure(figure) for name, figure in figures.items()}


def _plain_figure(figure: Any) -> Any:
    if isinstance(figure, Fatigue | LegEndurance | EnduranceSymmetry | ScaleClock):
        return _plain(figure)
    return [_plain_figure(one) for one in figure] if isinstance(figure, tuple) else figure


def rounded(value: Any) -> Any:
    """Return `value` with every number in it rounded to six decimals."""
    if isinstance(value, float):
        return round(value, _DIGITS)
    if isinstance(value, dict):
        return {key: rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [rounded(inner) for inner in value]
    return value
