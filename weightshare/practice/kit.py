"""What a session needs at hand: loaded before samples come, for whatever is loaded later holds them up."""

from __future__ import annotations

from importlib import import_module

from weightshare.pipeline.lowpass import the_kernel

PARTS = (
    # numpy itself loads these at the first `unique` and at the first polynomial
    "numpy.ma",
    "numpy.polynomial",
    # another exercise may be chosen, and another basis found, while samples come
    "weightshare.pipeline.force",
    "weightshare.pipeline.seat",
    "weightshare.pipeline.squat",
)


def lay_out() -> None:
    """Load what every session may come to need."""
    for name in PARTS:
        import_module(name)
    the_kernel()
