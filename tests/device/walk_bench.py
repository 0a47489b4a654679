"""A calibration on the bench from beginning to end, by hands that do what the plan says: no link, no waiting."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from weightshare.metrology.reading import BenchRecord, Kind, Mass, Placement, PlateLayout, Window
from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.cell import Cells, hidden_cells
from weightshare.scales.rig.hidden import Hidden
from weightshare.workbench.plan import STEP_S, Ask, Wanted, make_plan

SCATTER_N = 0.25
"""Standard deviation of what each placement adds to its load."""
GRAVITY = 9.81
MASSES = tuple(Mass(f"{kg} kg", kg, 3e-5 * kg) for kg in (10.0, 10.0, 20.0, 20.0))
RATE_HZ = 10.0
BLOCK = 5
HANDS_S, SETTLED_S, LEFT_S = 0.75, 1.0, 2.0
"""Taking off, and putting on; until it is still; from the last reading to the next load."""


@dataclass
class Walk:
    """What was gathered, and what was hidden in it."""

    hidden: Hidden
    record: BenchRecord
    greatest_N: float
    corner_N: float
    returned_N: dict[Side, float]
    """How much more than before each plate shows with nothing on, after the load that was left on: creep and drift."""


@dataclass
class Bench:
    """Cells on which loads are put, second by second."""

    seed: int
    hidden: Hidden
    time_s: float = 0.0
    load_N: Floats = field(default_factory=lambda: np.zeros(4))
    x_part: Floats = field(default_factory=lambda: np.zeros(2))
    crept_N: Floats = field(default_factory=lambda: np.zeros(4))

    def __post_init__(self) -> None:
        self._cells = Cells((0, 1, 2, 3), self.seed, FAULTS["clean"], hidden=True)

    def go(self, seconds: float, load_N: Floats, x_part: Floats) -> tuple[Floats, Floats]:
        """Go over to a load within `seconds`; return instants, shape (n,), and counts, shape (n, 4)."""
        rows = max(round(seconds * RATE_HZ), 1)
        way = (np.arange(1.0, rows + 1.0) / rows)[:, None]
        loads, places = self.load_N + way * (load_N - self.load_N), self.x_part + way * (x_part - self.x_part)
        time_s = self.time_s + np.arange(1.0, rows + 1.0) / RATE_HZ
        blocks = [slice(begin, begin + BLOCK) for begin in range(0, rows, BLOCK)]
        counts = [self._cells.read(time_s[b], loads[b], 1.0 / RATE_HZ, places[b]) for b in blocks]
        for b in blocks:
            left = np.exp(-len(time_s[b]) / RATE_HZ / self.hidden.creep_s)
            self.crept_N = left * self.crept_N + (1.0 - left) * self.hidden.creep * loads[b].mean(axis=0)
        self.time_s, self.load_N, self.x_part = float(time_s[-1]), load_N, x_part
        return time_s, np.concatenate(counts).astype(np.float64)


def walk(seed: int) -> Walk:
    """Return a whole calibration of both plates with cells, masses and scatter that the seed draws."""
    rng = np.random.default_rng([seed, 77])
    true_kg = [mass.kg + mass.u_kg * rng.standard_normal() for mass in MASSES]
    bench = Bench(seed, hidden_cells(seed))
    asks = make_plan(Wanted(MASSES))
    windows: list[Window] = []
    changed_s: list[float] = []
    zeros: dict[int, Floats] = {}
    for ask in asks:
        load_N = sum(true_kg[i] for i in ask.placement.masses) * GRAVITY + SCATTER_N * rng.standard_normal()
        changed_s.append(_place(bench, ask.placement, load_N))
        zeros[ask.placement.number] = _slow_N(bench)
        windows += _watch(bench, ask)
    layout = tuple(PlateLayout(side, (2 * s, 2 * s + 1), ((0.0, 120.0), (0.0, -120.0))) for s, side in enumerate(Side))
    placements = tuple(ask.placement for ask in asks)
    record = BenchRecord(
        "5053000000000001", layout, MASSES, placements, tuple(changed_s), tuple(windows), RATE_HZ, GRAVITY
    )
    corner = next(ask for ask in asks if ask.placement.kind is Kind.CORNER)
    returned = {side: _returned_N(placements, zeros, side) for side in Side}
    return Walk(bench.hidden, record, max(a.load_kg for a in asks) * GRAVITY, corner.load_kg * GRAVITY, returned)


def _place(bench: Bench, placement: Placement, load_N: float) -> float:
    """Take off what lies there where it goes elsewhere, put on what is asked for; return when it came (s)."""
    side = 0 if placement.side is Side.LEFT else 1
    front = 0.5 + 0.25 * placement.spot.y_sign
    new_N, x_part = np.zeros(4), np.zeros(2)
    new_N[2 * side : 2 * side + 2] = load_N * front, load_N * (1.0 - front)
    x_part[side] = 0.5 * placement.spot.x_sign
    if placement.kind is Kind.CORNER:
        bench.go(HANDS_S, np.zeros(4), bench.x_part)
    bench.go(HANDS_S, new_N, x_part)
    came_s = bench.time_s - 0.5 * HANDS_S
    bench.go(SETTLED_S, new_N, x_part)
    return came_s


def _watch(bench: Bench, ask: Ask) -> list[Window]:
    time_s, counts = bench.go(ask.measure_s, bench.load_N, bench.x_part)
    own = counts[:, :2] if ask.placement.side is Side.LEFT else counts[:, 2:]
    rows = round(RATE_HZ) if ask.measure_s > STEP_S else len(time_s)
    found = []
    for begin in range(0, len(time_s) - rows + 1, rows):
        part = slice(begin, begin + rows)
        mean, sd = own[part].mean(axis=0), own[part].std(axis=0, ddof=1)
        middle_s = float(time_s[part].mean())
        found.append(Window(ask.placement.number, middle_s, rows, tuple(mean.tolist()), tuple(sd.tolist())))
    bench.go(LEFT_S, bench.load_N, bench.x_part)
    return found


def _slow_N(bench: Bench) -> Floats:
    """Return what creep and drift add now, N, of each cell; half a step's measuring on, as it is read."""
    later_s = bench.time_s + 0.5 * STEP_S
    left = np.exp(-0.5 * STEP_S / bench.hidden.creep_s)
    followed = left * bench.crept_N + (1.0 - left) * bench.hidden.creep * bench.load_N
    slow: Floats = followed + bench.hidden.drift_N_per_s * later_s
    return slow


def _returned_N(placements: tuple[Placement, ...], slow_N: dict[int, Floats], side: Side) -> float:
    own = [p for p in placements if p.side is side]
    creep = next(i for i, p in enumerate(own) if p.kind is Kind.CREEP)
    cells = slice(0, 2) if side is Side.LEFT else slice(2, 4)
    return float((slow_N[own[creep + 1].number] - slow_N[own[creep - 1].number])[cells].sum())
