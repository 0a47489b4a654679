"""Supported work as the path and the figures show it: a load against its target, where else a share is."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from weightshare.model import STANDARD_GRAVITY, Floats, Side
from weightshare.practice import words
from weightshare.state import Results
from weightshare.task import Settings
from weightshare.tongue import number, say

HALF_PERCENT = 50.0
"""Where the load that is asked for lies across the path: none at one edge, twice as much at the other."""
MOST_KG = 100.0
"""Up to this load the band can be told in kilograms as a share's is in percent."""


def across(settings: Settings) -> Settings:
    """Return settings whose band of a share lies where that of the load lies across the path.

    With the load that is asked for in the middle, and twice of it at the edge.
    """
    load_N = settings.load_N
    assert load_N is not None
    spread = min(HALF_PERCENT, max(0.1, HALF_PERCENT * settings.load_tolerance_N / load_N))
    return replace(settings, load=None, target_percent=HALF_PERCENT, tolerance_percent=spread)


def place_percent(load_N: Floats, settings: Settings) -> Floats:
    """Return where each load (N, shape (n,)) lies there, percent; beyond twice of what is asked for, at the edge."""
    asked_N = settings.load_N
    assert asked_N is not None
    place: Floats = np.clip(HALF_PERCENT * load_N / asked_N, 0.0, 100.0)
    return place


def trail_of(results: Results, settings: Settings) -> Floats:
    """Return what the trail is made of, percent, shape (n,): the share, or in supported work the load's place."""
    if settings.load_N is None:
        return results.share_percent
    return place_percent(results.left_N if settings.injured is Side.LEFT else results.right_N, settings)


def load_figure(load_N: float, settings: Settings) -> str:
    """Return a load in kg to the nearest tenth, but never rounded over an edge of its band."""
    asked_N, load_kg = settings.load_N, load_N / STANDARD_GRAVITY
    assert asked_N is not None
    asked_kg, spread_kg = asked_N / STANDARD_GRAVITY, settings.load_tolerance_N / STANDARD_GRAVITY
    if asked_kg > MOST_KG or spread_kg > HALF_PERCENT:
        return number(load_kg, ".1f")
    return words.fine_percent(
        load_kg, replace(settings, load=None, target_percent=asked_kg, tolerance_percent=spread_kg)
    )


def middle_words(settings: Settings) -> str:
    """Return what lies in the middle of the path: even, or the load that is asked for."""
    if settings.load_N is None:
        return say("even")
    return f"{number(settings.load_N / STANDARD_GRAVITY, '.1f')} kg"
