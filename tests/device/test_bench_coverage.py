"""A scale of which nobody knows anything is calibrated over and over: each 95 % interval covers what is hidden in it.

The cells' slope, curve, hysteresis, creep, unequal pairs and drift are drawn by the seed, and so are the errors of the
masses; each placement adds its own scatter. What is found is held against what was drawn, never against the program.
"""

from __future__ import annotations

import math
import os
from collections import Counter
from collections.abc import Callable, Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

import pytest

from tests.device.walk_bench import Walk, walk
from weightshare.metrology import found
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.found import Figure
from weightshare.model import Side
from weightshare.scales.rig.bench import SCATTER_N

FEW, SOME, MANY = 4, 60, 400
FEW_COVER, SOME_COVER = (2, 4), (51, 60)
"""Of 4 with a chance of 0.95 each fewer than 2, of 60 fewer than 51, are covered once in 1000 times (binomial)."""
MANY_COVER = (365, 392)


def _slope(figure: Figure, made: Walk, _cells: list[int]) -> float:
    return float(made.hidden.newton_per_count[figure.channel])


def _curve(_figure: Figure, made: Walk, cells: list[int]) -> float:
    return float(made.hidden.curve_per_N[cells[0]])


def _non_linearity(figure: Figure, made: Walk, cells: list[int]) -> float:
    return _curve(figure, made, cells) * made.greatest_N**2 / 4.0


def _hysteresis(_figure: Figure, made: Walk, cells: list[int]) -> float:
    """Two cells bear half each: 4 h (l / 2) (m / 2 - l / 2) from each, half-way up to the greatest load."""
    return float(made.hidden.hysteresis_per_N[cells[0]]) * made.greatest_N**2 / 2.0


def _corner(figure: Figure, made: Walk, cells: list[int]) -> float:
    assert figure.spot is not None
    front = 0.5 + 0.25 * figure.spot.y_sign
    tilt = made.hidden.tilt[cells]
    return float(0.5 * figure.spot.x_sign * made.corner_N * (front * tilt[0] + (1.0 - front) * tilt[1]))


def _creep(figure: Figure, made: Walk, cells: list[int]) -> float:
    constant_s, until_s = float(made.hidden.creep_s[cells[0]]), float(figure.about.split(" to ")[1].split(" ")[0])
    left = math.exp(-10.0 / constant_s) - math.exp(-until_s / constant_s)
    return float(made.hidden.creep[cells[0]]) * made.greatest_N * left


def _return(figure: Figure, made: Walk, _cells: list[int]) -> float:
    return made.returned_N[figure.side]


def _drift(_figure: Figure, made: Walk, cells: list[int]) -> float:
    return float(60.0 * made.hidden.drift_N_per_s[cells].sum())


TRUTH: dict[str, Callable[[Figure, Walk, list[int]], float]] = {
    found.SLOPE: _slope,
    found.CURVE: _curve,
    found.NON_LINEARITY: _non_linearity,
    found.HYSTERESIS: _hysteresis,
    found.REPEATABILITY: lambda _figure, _made, _cells: SCATTER_N,
    found.CORNER: _corner,
    found.CREEP: _creep,
    found.RETURN: _return,
    found.DRIFT: _drift,
}


@dataclass(frozen=True)
class Case:
    """One figure of one scale, and what is hidden."""

    name: str
    figure: Figure
    true: float

    def is_covered(self, wide: float = 1.0) -> bool:
        """Return whether the interval, `wide` times as wide, covers the truth."""
        figure, middle = self.figure, self.figure.estimate.value
        return middle - wide * (middle - figure.low) <= self.true <= middle + wide * (figure.high - middle)


def cases(seed: int) -> list[Case]:
    """Return every figure of both plates of the scale that the seed draws."""
    made = walk(seed)
    found_ = []
    for figure in evaluate(made.record).figures:
        cells = [0, 1] if figure.side is Side.LEFT else [2, 3]
        place = figure.spot or ("" if figure.channel is None else f"channel {figure.channel}")
        name = f"{figure.side} {figure.name} {place}".strip()
        found_.append(Case(name, figure, TRUTH[figure.name](figure, made, cells)))
    return found_


def count(every: Iterable[Case], wide: float = 1.0) -> Counter[str]:
    """Return how often each figure was covered."""
    hits = Counter[str]()
    for case in every:
        hits[case.name] += case.is_covered(wide)
    return hits


def cases_of(seeds: range) -> list[Case]:
    """Return the figures of many scales, made by as many processes as there are processors."""
    with pytest.MonkeyPatch.context() as patch:
        # the processes find the tests as this one does
        patch.syspath_prepend(Path(__file__).parents[2])
        with ProcessPoolExecutor(os.cpu_count(), mp_context=get_context("spawn")) as pool:
            return [case for some in pool.map(cases, seeds, chunksize=2) for case in some]


@pytest.fixture(scope="module")
def few() -> list[Case]:
    """Return the figures of FEW scales."""
    return cases_of(range(FEW))


def report(hits: Counter[str], seeds: int, low: int, high: int) -> str:
    """Return the report of all figures."""
    rows = [f"{name:44} {n:4} of {seeds}{'' if low <= n <= high else '   OUT'}" for name, n in sorted(hits.items())]
    return "\n".join([f"95 % intervals that cover what is hidden, wanted {low} to {high}:", *rows])


def test_intervals_cover_what_is_hidden(few: list[Case]) -> None:
    hits = count(few)
    said = report(hits, FEW, *FEW_COVER)
    assert {case.figure.name for case in few} == set(TRUTH)
    assert all(FEW_COVER[0] <= n <= FEW_COVER[1] for n in hits.values()), said


@pytest.mark.soak
@pytest.mark.timeout(3600)
def test_intervals_half_as_wide_are_found_out() -> None:
    """Their chance is 0.67 (a little less with few degrees of freedom): 40 of 60."""
    hits = count(cases_of(range(SOME)), 0.5)
    assert sum(n < SOME_COVER[0] for n in hits.values()) > 0.9 * len(hits)


@pytest.mark.soak
@pytest.mark.timeout(3600)
def test_intervals_cover_what_is_hidden_over_400_scales(capsys: pytest.CaptureFixture[str]) -> None:
    hits = count(cases_of(range(MANY)))
    said = report(hits, MANY, *MANY_COVER)
    with capsys.disabled():
        print(f"\n{said}")
    assert all(MANY_COVER[0] <= n <= MANY_COVER[1] for n in hits.values()), said
