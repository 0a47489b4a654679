"""What a session needs at hand: loaded before samples come, for whatever is loaded later holds them up."""

from __future__ import annotations

from importlib import import_module

from weightshare.exercise import Exercise
from weightshare.pipeline.lowpass import the_kernel
from weightshare.task import Settings

PARTS = "numpy.ma", "numpy.polynomial"
"""Numpy itself loads these at the first `unique` and at the first polynomial."""
COUNTERS = {Exercise.SQUAT: "squat", Exercise.SIT_TO_STAND: "seat"}
"""Modules of the pipeline; any other repetition may have to be found by `force`, where heels are not measured."""


def lay_out(settings: Settings) -> None:
    """Load what a session with these settings may come to need."""
    for name in PARTS:
        import_module(name)
    the_kernel()
    exercise = settings.exercise
    if exercise is not None and exercise.is_repeated:
        import_module(f"weightshare.pipeline.{COUNTERS.get(exercise, 'force')}")
