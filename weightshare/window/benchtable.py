"""The figures of a calibration as rows of words: newtons, 95 % interval, percent of range, a plate beside the other."""

from __future__ import annotations

import math
from dataclasses import dataclass

from weightshare import tongue
from weightshare.metrology.found import CORNER, CURVE, SLOPE, Figure, Found
from weightshare.model import Side
from weightshare.tongue import mark, say

MOST_DECIMALS = 3
MINUS = "\u2212"
HEADS = (mark("value"), mark("95 % interval"), mark("% of range"))
"""Over the parts of a cell."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure of one plate in figures: value, 95 % interval, and the value in percent of range; "": it has none."""

    value: str
    interval: str
    percent: str


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of each plate, its unit in its name; None where a plate has none."""

    name: str
    cells: tuple[Cell | None, ...]


def rows_of(found: Found) -> tuple[Row, ...]:
    """Return the rows, in the order in which the figures come, for the plates that were calibrated."""
    sides = tuple(fit.side for fit in found.fits)
    ranges_N = {fit.side: fit.range_N for fit in found.fits}
    keyed: dict[str, dict[Side, Cell]] = {}
    for figure in found.figures:
        keyed.setdefault(_name(found, figure), {})[figure.side] = cell_of(figure, ranges_N[figure.side])
    return tuple(Row(name, tuple(cells.get(side) for side in sides)) for name, cells in keyed.items())


def _name(found: Found, figure: Figure) -> str:
    """Return what the row is called: cells under a plate are counted, quarters named."""
    if figure.name == CORNER and figure.spot is not None:
        return say("quarter {spot}, {unit}", spot=say(figure.spot), unit=say(figure.unit))
    if figure.name == SLOPE and figure.channel is not None:
        theirs = [f.channel for f in found.figures if f.name == SLOPE and f.side is figure.side]
        return say("slope, cell {index}, mN/count", index=theirs.index(figure.channel) + 1)
    return say("curve at full range, %") if figure.name == CURVE else f"{say(figure.name)}, {say(figure.unit)}"


def cell_of(figure: Figure, range_N: float) -> Cell:
    """Return `figure` in words; `range_N` is what the plate was calibrated up to."""
    if figure.name == SLOPE:
        return _cell(figure, 1000.0, None, decimals=4)
    if figure.name == CURVE:
        return _cell(figure, 100.0 * range_N, None)
    return _cell(figure, 1.0, 100.0 / range_N if range_N else None)


def _cell(figure: Figure, factor: float, to_percent: float | None, decimals: int | None = None) -> Cell:
    value, low, high = (factor * number for number in (figure.estimate.value, figure.low, figure.high))
    digits = decimals_of(high - low) if decimals is None else decimals
    percent = "" if to_percent is None else number(value * to_percent, MOST_DECIMALS)
    interval = (
        say("{low} to {high}", low=number(low, digits), high=number(high, digits))
        if math.isfinite(high - low)
        else say("not known")
    )
    return Cell(number(value, digits), interval, percent)


def decimals_of(width: float) -> int:
    """Return with how many decimals a figure is told whose interval is `width` wide: two digits of that, at most."""
    if not (math.isfinite(width) and width > 0.0):
        return MOST_DECIMALS
    return min(MOST_DECIMALS, max(0, 1 - math.floor(math.log10(width / 2))))


def number(value: float, decimals: int) -> str:
    """Return `value` in figures, with a true minus; a dash where it is none."""
    if not math.isfinite(value):
        return "\u2013"
    said = tongue.number(value, f".{decimals}f")
    return said.replace("-", MINUS) if value and round(value, decimals) else said.lstrip("-")
