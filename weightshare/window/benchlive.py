"""A real calibration for the window. Loaded on the calibration's own thread: what it brings along takes a moment."""

from __future__ import annotations

from weightshare.practice.words import person_of
from weightshare.scales.rig.bench import BENCH
from weightshare.window.benchfeed import BenchFeed, BenchWish
from weightshare.workbench.engine import BenchEngine
from weightshare.workbench.order import Order


def bench_source(source: str) -> str:
    """Return `source`, but virtual hands in place of a virtual person: nobody stands on what is calibrated."""
    virtual = source.partition(":")[0] == "rig" and person_of(source) != BENCH
    return f"rig:{BENCH}" if virtual else source


def open_bench(wish: BenchWish) -> BenchFeed:
    """Return the calibration that is wished for, not yet begun. Raises WeightshareError where it cannot be done."""
    source = bench_source(wish.source)
    return BenchEngine(Order(source, wish.wanted, wish.latitude_deg, wish.height_m, wish.made_by))
