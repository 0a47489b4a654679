"""Pictures of sessions for notebooks, as the report draws them, with matplotlib (the extra `plot`).

`course`, `repetitions`, `trend` and `symmetry` return a `Picture`, which is a matplotlib figure: it shows itself in a
notebook, can be saved with `savefig`, and its axes can be changed. No window is opened, and nothing is kept of it.
"""

from __future__ import annotations

from weightshare.plot.canvas import Picture
from weightshare.plot.picture import course, repetitions, symmetry, trend

__all__ = ["Picture", "course", "repetitions", "symmetry", "trend"]
