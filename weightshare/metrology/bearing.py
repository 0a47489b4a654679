"""The readings of one plate on the bench as numbers: what lay there, when, and what each channel said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.errors import CalibrationError
from weightshare.metrology.reading import BenchRecord, Kind, Placement, PlateLayout, Window
from weightshare.metrology.settling import Loading
from weightshare.model import Bools, Floats

POINT_S = 4.0
"""Of a placement that is left on, so much is one point of the fit, s."""


@dataclass(frozen=True, slots=True, eq=False)
class Bearing:
    """n placements on one plate of K channels, in the order of time. Loads are nominal masses times gravity."""

    layout: PlateLayout
    placements: tuple[Placement, ...]
    time_s: Floats
    """Shape (n,)."""
    last_s: Floats
    """The middle of each placement's last window, shape (n,)."""
    load_N: Floats
    net: Floats
    """Counts less those with nothing on at first, shape (n, K)."""
    zero_counts: Floats
    """Shape (K,)."""
    masses: Floats
    """Which masses lay there, 0 or 1, shape (n, masses)."""
    loading: Loading
    sd_counts: Floats
    """Of single readings, shape (K,)."""

    def where(self, *kinds: Kind) -> Bools:
        """Return which placements are of these kinds, shape (n,)."""
        return np.array([placement.kind in kinds for placement in self.placements])

    @property
    def greatest_N(self) -> float:
        """The greatest load."""
        return float(self.load_N.max())


def read_bearing(record: BenchRecord, layout: PlateLayout) -> Bearing:
    """Return what the record holds of one plate. Raises CalibrationError where it cannot make a calibration."""
    windows = _by_placement(record)
    placements = [p for p in record.placements if p.side is layout.side and windows.get(p.number)]
    lying = np.array([[float(i in p.masses) for i in range(len(record.masses))] for p in placements])
    _require(placements, lying, layout)
    load_N = lying @ np.array([mass.kg for mass in record.masses]) * record.gravity_m_s2
    taken = [_first(windows[p.number]) for p in placements]
    counts = np.array([_mean_counts(some) for some in taken])
    empty = np.array([not p.masses for p in placements])
    zero = counts[int(np.argmax(empty))]
    since_s = np.array([record.changed_s[p.number] for p in placements])
    return Bearing(
        layout,
        tuple(placements),
        np.array([np.mean([w.time_s for w in some]) for some in taken]),
        np.array([windows[p.number][-1].time_s for p in placements]),
        load_N,
        counts - zero,
        zero,
        lying,
        Loading(since_s, load_N),
        np.sqrt(np.mean([np.square(w.sd_counts) for some in taken for w in some], axis=0)),
    )


def left_alone(record: BenchRecord, bearing: Bearing, kind: Kind) -> Iterator[tuple[Floats, Floats]]:
    """Yield instants (s), shape (m,), and net counts, shape (m, K), of each placement of one kind that was watched."""
    found = _by_placement(record)
    for windows in (found[p.number] for p in bearing.placements if p.kind is kind):
        if len(windows) > 1:
            yield np.array([w.time_s for w in windows]), np.array([w.counts for w in windows]) - bearing.zero_counts


def _by_placement(record: BenchRecord) -> dict[int, list[Window]]:
    found: dict[int, list[Window]] = {}
    for window in record.windows:
        found.setdefault(window.placement, []).append(window)
    return found


def _first(windows: Sequence[Window]) -> list[Window]:
    """Return the windows of the first POINT_S."""
    return [w for w in windows if w.time_s < windows[0].time_s + POINT_S]


def _mean_counts(windows: Sequence[Window]) -> Floats:
    weights = np.array([w.samples for w in windows], dtype=np.float64)
    mean: Floats = weights @ np.array([w.counts for w in windows]) / weights.sum()
    return mean


def _require(placements: Sequence[Placement], lying: Floats, layout: PlateLayout) -> None:
    """Refuse what no line can be drawn through."""
    if not any(not p.masses for p in placements):
        raise CalibrationError(f"the {layout.side} plate was never read with nothing on: begin with that")
    loads = np.unique(lying, axis=0)
    if len(loads) < 3:
        raise CalibrationError(
            f"the {layout.side} plate was read at {len(loads)} different loads; nothing on and two masses are the least"
        )
