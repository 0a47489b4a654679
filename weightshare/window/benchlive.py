"""A real calibration for the window. Loaded on the calibration's own thread: what it brings along takes a moment."""

from __future__ import annotations

from weightshare.window.benchfeed import BenchFeed, BenchWish
from weightshare.workbench.engine import BenchEngine
from weightshare.workbench.order import Order


def open_bench(wish: BenchWish) -> BenchFeed:
    """Return the calibration that is wished for, not yet begun. Raises WeightshareError where it cannot be done."""
    return BenchEngine(Order(wish.source, wish.wanted, wish.latitude_deg, wish.height_m, wish.made_by))
