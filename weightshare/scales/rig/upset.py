"""What is wrong with the plates themselves: one reads too high, they touch each other, one rocks."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats
from weightshare.scales.rig.catalog import Fault

DRAG, DRAG_N = 0.08, 28.0
"""What a plate that touches takes of a change of load, and how much before it slips (invented)."""
TIP, TIP_N = 0.09, 40.0
"""The part of its load by which a plate that tips moves it from front to rear; under so much load it lies still."""
TIP_FRONT = 0.42
"""The part on the front supports at which it tips, and how far past it."""
TIP_PAST = 0.004


class Upset:
    """Changes true forces as plates do that are not set up well. `apply` takes block after block, in time order."""

    def __init__(self, fault: Fault) -> None:
        self._fault = fault
        self._gain = np.array([1.0 + fault.left_high_percent / 100.0] * 2 + [1.0] * 2)
        self._dragged_N = 0.0
        self._difference_N = 0.0
        self._tipped = False

    def apply(self, force_N: Floats) -> Floats:
        """Return what the plates pass on of `force_N`, shape (n, 4): left front, left rear, right front, right rear."""
        if self._fault.touching:
            force_N = self._touch(force_N)
        if self._fault.rocking:
            force_N = self._rock(force_N)
        return force_N * self._gain if self._fault.left_high_percent else force_N

    def _touch(self, force_N: Floats) -> Floats:
        """Friction between the plates: it sticks, then slips (Jenkin's element), and stays when the load is gone."""
        difference_N = force_N[:, :2].sum(axis=1) - force_N[:, 2:].sum(axis=1)
        steps_N = np.diff(difference_N, prepend=self._difference_N)
        dragged_N = np.empty(len(force_N))
        for k, step_N in enumerate(steps_N.tolist()):
            self._dragged_N = min(max(self._dragged_N + DRAG * step_N, -DRAG_N), DRAG_N)
            dragged_N[k] = self._dragged_N
        self._difference_N = float(difference_N[-1])
        return force_N + np.multiply.outer(dragged_N, (-0.5, -0.5, 0.5, 0.5))

    def _rock(self, force_N: Floats) -> Floats:
        """The plate lies on one of two sets of feet; it goes over as the load moves past the edge between them."""
        load_N = force_N[:, :2].sum(axis=1)
        off = np.where(load_N > TIP_N, force_N[:, 0] / np.maximum(load_N, 1.0) - TIP_FRONT, 0.0)
        turns = np.where(off > TIP_PAST, 1, np.where(off < -TIP_PAST, -1, 0))
        turned = np.maximum.accumulate(np.where(turns != 0, np.arange(len(turns)), -1))
        tipped = np.where(turned >= 0, turns[turned] > 0, self._tipped)
        self._tipped = bool(tipped[-1])
        moved_N = TIP * load_N * (load_N > TIP_N) * np.where(tipped, 1.0, -1.0)
        rocked_N: Floats = force_N + np.multiply.outer(moved_N, (1.0, -1.0, 0.0, 0.0))
        return rocked_N
