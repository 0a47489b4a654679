"""The steps of a guided calibration, in the order in which they are asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count
from typing import Any

from weightshare.errors import CalibrationError
from weightshare.metrology.reading import QUARTERS, Going, Kind, Mass, Placement, Spot
from weightshare.model import Side

LEAST_MASSES = 2
STEP_S = 4.0
"""How long an ordinary step is measured, s, after it has become still."""
HANDS_S = 16.0
"""About how long it takes until somebody has laid a load of kilograms there and it is still, s (no source)."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One step: what is to lie on the plate, and for how long it is measured, s."""

    placement: Placement
    load_kg: float
    measure_s: float = STEP_S

    @property
    def is_long(self) -> bool:
        """Whether it is watched, second by second, rather than measured once."""
        return self.placement.kind in (Kind.DRIFT, Kind.CREEP) or self.measure_s > STEP_S


@dataclass(frozen=True, slots=True)
class Wanted:
    """How thorough the calibration is to be."""

    masses: tuple[Mass, ...]
    sides: tuple[Side, ...] = (Side.LEFT, Side.RIGHT)
    runs: int = 2
    drift_s: float = 60.0
    creep_s: float = 300.0
    corner_masses: tuple[int, ...] | None = None
    """Places of the masses that go from quarter to quarter; None: as many as make up a third of all, at least one."""
    corner_rounds: int = 2


def make_plan(wanted: Wanted) -> tuple[Ask, ...]:
    """Return every step, plate after plate: nothing on, all left on, runs up and down, quarters and middle."""
    numbers = count()
    return tuple(
        replace(ask, placement=replace(ask.placement, number=next(numbers)))
        for side in wanted.sides
        for ask in _plate(wanted, side)
    )


def _plate(wanted: Wanted, side: Side) -> Iterator[Ask]:
    """Yield the steps of one plate, not yet numbered."""
    everything = tuple(range(len(wanted.masses)))

    def ask(kind: Kind, masses: Sequence[int] = (), *, measure_s: float = STEP_S, **how: Any) -> Ask:
        placement = Placement(0, side, kind, tuple(masses), **how)
        return Ask(placement, sum(wanted.masses[i].kg for i in masses), measure_s)

    yield ask(Kind.DRIFT, measure_s=wanted.drift_s)
    if wanted.creep_s:
        # while the cells are rested; and a cell that was loaded once in full repeats better
        yield ask(Kind.CREEP, everything, measure_s=wanted.creep_s)
        yield ask(Kind.RETURN, measure_s=wanted.drift_s)
    for run in range(1, wanted.runs + 1):
        for height in range(1, len(everything) + 1):
            yield ask(Kind.SERIES, everything[:height], run=run)
        for height in range(len(everything) - 1, -1, -1):
            yield ask(Kind.SERIES, everything[:height], going=Going.DOWN, run=run)
    corner = wanted.corner_masses if wanted.corner_masses is not None else _third(wanted.masses)
    for run in range(1, wanted.corner_rounds + 1):
        for spot in (Spot.MIDDLE, *QUARTERS):
            yield ask(Kind.CORNER, corner, spot=spot, run=run)
    if wanted.corner_rounds:
        yield ask(Kind.RETURN)


def _third(masses: Sequence[Mass]) -> tuple[int, ...]:
    """Return the first masses that together make a third of all: what OIML R 76-1 (2006), 3.6.2.1 puts on a quarter."""
    third, on = sum(mass.kg for mass in masses) / 3.0, 0.0
    chosen: list[int] = []
    for index, mass in enumerate(masses):
        if chosen and on >= third:
            break
        chosen.append(index)
        on += mass.kg
    return tuple(chosen)


def check_masses(masses: Sequence[Mass]) -> None:
    """Raise CalibrationError where `masses` cannot make a calibration."""
    if len(masses) < LEAST_MASSES:
        raise CalibrationError(
            f"--masses: {len(masses) or 'no'} mass is too few: with two at least, loads can be told from one another"
        )
    for mass in masses:
        if not mass.kg > 0.0 or mass.u_kg < 0.0:
            raise CalibrationError(f"--masses: {mass.name} is no mass: it is over 0 kg")


def placed_before(asks: Sequence[Ask], step: int) -> Placement | None:
    """Return what was asked for on the plate of `step` before that; None at its first step."""
    side = asks[step].placement.side
    earlier = [ask.placement for ask in asks[:step] if ask.placement.side is side]
    return earlier[-1] if earlier else None


def moved_kg(asks: Sequence[Ask], step: int, masses: Sequence[Mass]) -> float:
    """Return how much is to be put on, taken off or moved for a step, kg."""
    placement, before = asks[step].placement, placed_before(asks, step)
    now, then = set(placement.masses), set(before.masses) if before else set()
    moved = now if before and now == then and before.spot is not placement.spot else now ^ then
    return sum(masses[place].kg for place in moved)
