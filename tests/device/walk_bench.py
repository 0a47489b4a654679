"""A calibration on the bench from beginning to end, guided, by virtual hands: no link, no waiting."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.reading import BenchRecord, Kind, Mass
from weightshare.model import Floats, Identity, Side
from weightshare.scales.rig.bench import BENCH_PROFILE, BenchScene
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.cell import CHANNELS, PAIR_ID, Cells, hidden_cells, rig_calibration
from weightshare.scales.rig.hidden import Hidden
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast
from weightshare.workbench.guide import Guide
from weightshare.workbench.plan import Ask, Wanted

GRAVITY = 9.81
MASSES = tuple(Mass(f"{kg} kg", kg, 3e-5 * kg) for kg in (10.0, 10.0, 20.0, 20.0))
INTERVAL_S = 0.1
ROWS, MANY_ROWS = 4, 40
"""Samples a piece: where hands may come, and where a load is left on."""


@dataclass(frozen=True)
class Walk:
    """What was gathered, and what was hidden in it."""

    hidden: Hidden
    record: BenchRecord
    greatest_N: float
    corner_N: float
    returned_N: dict[Side, float]
    """How much more than before each plate shows with nothing on, after the load that was left on: creep and drift."""


class Ledger:
    """What creep and drift add to each cell, by the hidden figures: kept beside the cells, not by them."""

    def __init__(self, hidden: Hidden) -> None:
        self._hidden = hidden
        self._crept_N = np.zeros(4)
        self._courses: list[tuple[Floats, Floats]] = []

    def take(self, time_s: Floats, force_N: Floats) -> None:
        """Follow the loads of one piece, shape (n, 4), sample by sample."""
        left = np.exp(-INTERVAL_S / self._hidden.creep_s)
        course = np.empty_like(force_N)
        for row, load_N in enumerate(force_N):
            self._crept_N = left * self._crept_N + (1.0 - left) * self._hidden.creep * load_N
            course[row] = self._crept_N
        self._courses.append((time_s, course + np.multiply.outer(time_s, self._hidden.drift_N_per_s)))

    def added_N(self, time_s: float) -> Floats:
        """Return what is added at `time_s`, shape (4,)."""
        times = np.concatenate([times for times, _course in self._courses])
        course = np.concatenate([course for _times, course in self._courses])
        at: Floats = course[int(np.searchsorted(times, time_s))]
        return at


@cache
def walk(seed: int) -> Walk:
    """Return a whole calibration of both plates, with cells, masses and scatter that the seed draws; made once."""
    scene = BenchScene(Cast(BENCH_PROFILE, FAULTS["clean"], Task(), seed))
    scene.begin(PAIR_ID, 0, INTERVAL_S)
    cells, ledger = Cells((0, 1, 2, 3), seed, FAULTS["clean"], hidden=True), Ledger(hidden_cells(seed))
    guide = Guide(Wanted(MASSES), rig_calibration(PAIR_ID))
    guide.meet(Identity(PAIR_ID, (1, 0, 0), 1, 1_000_000, 1.0 / INTERVAL_S, CHANNELS))
    asked: Ask | None = None
    sample = 0
    while not guide.is_done:
        if guide.ask is not asked and guide.ask is not None:
            asked = guide.ask
            scene.place(asked.placement, MASSES, GRAVITY)
        rows = MANY_ROWS if asked is not None and asked.is_long and guide.view().part else ROWS
        time_s: Floats = np.arange(float(sample), float(sample + rows)) * INTERVAL_S
        sample += rows
        force_N, x_part = scene.look(time_s)[0], scene.x_part(time_s)
        scene.note_sample(float(time_s[-1]))
        ledger.take(time_s, force_N)
        guide.push(time_s, cells.read(time_s, force_N, INTERVAL_S, x_part).T.astype(np.float64), INTERVAL_S)
        assert time_s[-1] < 3000.0, guide.view()
    record = guide.record(Estimate(GRAVITY, 0.0))
    corner = next(ask for ask in guide.asks if ask.placement.kind is Kind.CORNER)
    returned = {side: _returned_N(record, ledger, side) for side in Side}
    greatest_N = max(ask.load_kg for ask in guide.asks) * GRAVITY
    return Walk(hidden_cells(seed), record, greatest_N, corner.load_kg * GRAVITY, returned)


def _returned_N(record: BenchRecord, ledger: Ledger, side: Side) -> float:
    """Return the difference of what is added in the first four seconds with nothing on, after the creep and before."""
    own = [p for p in record.placements if p.side is side]
    creep = next(i for i, p in enumerate(own) if p.kind is Kind.CREEP)
    cells = slice(0, 2) if side is Side.LEFT else slice(2, 4)
    means = []
    for placement in (own[creep - 1], own[creep + 1]):
        first = [w.time_s for w in record.windows if w.placement == placement.number][:4]
        means.append(np.mean([ledger.added_N(time_s)[cells].sum() for time_s in first]))
    return float(means[1] - means[0])
