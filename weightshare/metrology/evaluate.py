"""From what was gathered on the bench to a calibration, with every figure that can be told."""

from __future__ import annotations

import numpy as np

from weightshare.metrology.bearing import read_bearing
from weightshare.metrology.characteristic import cautions, figures, side_worth
from weightshare.metrology.found import Found, PlateFit, Residual
from weightshare.metrology.reading import BenchRecord
from weightshare.metrology.solve import Solved, common_part, solve_plate, top_gradient
from weightshare.model import ChannelCalibration, Worth

SURE_T = 2.0


def evaluate(record: BenchRecord, range_N: float = 2000.0) -> Found:
    """Return the calibration that `record` gives, with every figure that it can tell.

    range_N: up to where each channel is to be trusted at all; beyond it is overload. Loads over the greatest mass are
    reckoned on by the same curve, which is told as a caution. Raises CalibrationError where the record does not make a
    calibration: too few loads, a channel that reads the less the more lies on it.
    """
    solved = [solve_plate(record, read_bearing(record, layout)) for layout in record.plates]
    sides = tuple(side_worth(one, record.rate_Hz) for one in solved)
    common = max(common_part(one) for one in solved)
    channels = tuple(channel for one in solved for channel in _channels(one, range_N))
    return Found(
        tuple(sorted(channels, key=lambda channel: channel.index)),
        tuple(_plate_fit(one) for one in solved),
        tuple(figure for one in solved for figure in figures(one)),
        tuple(residual for one in solved for residual in _residuals(one)),
        Worth(sides, common),
        tuple(words for one in solved for words in cautions(one)),
    )


def _channels(solved: Solved, range_N: float) -> list[ChannelCalibration]:
    layout, curve = solved.bearing.layout, solved.value("b")
    gradient = top_gradient(solved)
    u_N = np.sqrt(gradient @ (solved.scatter + solved.common) @ gradient + solved.sd_N**2)
    each_N = float(u_N) / np.sqrt(len(layout.channels))
    return [
        ChannelCalibration(index, float(zero), float(slope), curve * float(slope) ** 2, each_N, range_N)
        for index, zero, slope in zip(layout.channels, solved.bearing.zero_counts, solved.slopes, strict=True)
    ]


def _plate_fit(solved: Solved) -> PlateFit:
    bearing = solved.bearing
    return PlateFit(
        bearing.layout.side,
        bearing.greatest_N,
        2 if "b" in solved.names else 1,
        solved.sd_N,
        solved.dof,
        _advice(solved),
    )


def _advice(solved: Solved) -> str | None:
    if "b" not in solved.names:
        return "a straight line, for want of loads: with three masses or more a curve can be told"
    place = solved.names.index("b")
    u = np.sqrt((solved.scatter + solved.common)[place, place])
    if abs(solved.values[place]) < SURE_T * u:
        return "a straight line would do as well: the curve does not stand out from the scatter"
    return None


def _residuals(solved: Solved) -> list[Residual]:
    bearing = solved.bearing
    return [
        Residual(p.side, float(load_N), float(left_N), p.spot, p.going, p.run)
        for p, load_N, left_N in zip(bearing.placements, bearing.load_N, solved.residual_N, strict=True)
    ]
