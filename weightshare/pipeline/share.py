"""Share: the injured side's part of the load on the plates."""

from __future__ import annotations

import numpy as np

from weightshare.model import Floats, Side
from weightshare.pipeline.block import LEFT, RIGHT, Block
from weightshare.pipeline.weight import Standing


def injured_row(injured: Side) -> int:
    """Return the row of a block that carries the injured side's force."""
    return LEFT if injured is Side.LEFT else RIGHT


def find_share(block: Block, standing: Standing, injured: Side) -> Floats:
    """Return 100 F_injured / (F_left + F_right) in percent, shape (n,), while someone stands; NaN elsewhere."""
    with np.errstate(divide="ignore", invalid="ignore"):
        share: Floats = block.values[injured_row(injured)] / standing.total_N
    share[~standing.present] = np.nan
    share *= 100.0
    return share
