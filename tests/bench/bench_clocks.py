"""Two clocks on one grid, against a plain least-squares fit of arrivals: ratios taken within one run.

Run by `make bench`, or by itself: python tests/bench/run.py clocks
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.unit.links import MODELS, LinkModel, Played, merge, play_two
from weightshare.model import Chunk, Floats, Sourced
from weightshare.pipeline.clock import Clock
from weightshare.pipeline.pairing import Pairing

PAIRS = (
    ("cable", "cable", 5.0),
    ("radio", "radio", 5.0),
    ("bursts", "bursts", 1.0),
    ("radio, bursts", "radio, bursts", 1.0),
    ("cable", "radio, bursts", 1.0),
)
"""Kinds of link, and how many times the error of least squares is allowed. Where both links are alike and steady the
line's lag is the same for both, and it averages over all that came, later samples among them."""
SEEDS = range(1, 7)
SECONDS, LATE_S, BEGIN_S = 120.0, 60.0, 1000.0
HOUR_S, SPEED_S = 3600.0, 600.0


def opposite(model: LinkModel) -> LinkModel:
    """The same kind of link, whose crystal is off the other way."""
    return replace(model, drift_ppm=-model.drift_ppm)


def ours_ms(items: list[Sourced]) -> float:
    """The 95th percentile of left against right after a minute, as the pipeline has it: it looks back only."""
    pairing = Pairing()
    for source, item in items:
        pairing.push(source, item)
    found = pairing.finish()
    time_s = np.concatenate([timed.time_s for timed, _ in found])
    readings = np.concatenate([timed.readings for timed, _ in found], axis=1)
    return _worst_ms(1e-2 * (readings[0] - readings[2])[time_s > LATE_S])


def plain_ms(first_model: LinkModel, second_model: LinkModel, seed: int) -> float:
    """The same by a straight line through all arrivals of each scale, with the whole recording seen."""
    (first_s, first), (second_s, second) = (
        _plain_errors(one, seed, device) for device, one in enumerate((first_model, second_model), start=1)
    )
    late = first_s > LATE_S
    return _worst_ms((first - np.interp(first_s, second_s, second))[late])


def _plain_errors(model: LinkModel, seed: int, device: int) -> tuple[Floats, Floats]:
    """True times, s, and by how much the line's are over them, ms."""
    clock = Clock()
    timed = [
        (one.time_s[-1], one.arrival_ns[-1] / 1e9 - BEGIN_S, 1e-5 * one.readings[0, -1])
        for _, item in Played(model, seed, SECONDS, BEGIN_S, device).items()
        for one in clock.push(item)
        if isinstance(item, Chunk)
    ]
    scale_s, arrival_s, true_s = np.array(timed).T
    return true_s, 1e3 * (np.polyval(np.polyfit(scale_s, arrival_s, 1), scale_s) - true_s)


def _worst_ms(errors: Floats) -> float:
    return float(np.percentile(np.abs(errors[np.isfinite(errors)]), 95.0))


def speed() -> float:
    """Seconds of processor time that an hour of two scales at 100 Hz takes to be aligned and paired from a record."""
    items = merge(play_two(MODELS["radio"], opposite(MODELS["radio"]), 1, SPEED_S))
    began = time.process_time()
    ours_ms(items)
    return (time.process_time() - began) * HOUR_S / SPEED_S


def _compare(first_name: str, second_name: str, limit: float) -> dict[str, str | float]:
    first, second = MODELS[first_name], opposite(MODELS[second_name])
    ours = float(np.mean([ours_ms(play_two(first, second, seed, SECONDS)) for seed in SEEDS]))
    plain = float(np.mean([plain_ms(first, second, seed) for seed in SEEDS]))
    return {
        "name": f"{first_name} beside {second_name}: left against right, to that of least squares",
        "value": ours / plain,
        "limit": limit,
        "direction": "at most",
        "note": f"after 60 s, 95th percentile, mean of {len(SEEDS)} seeds: {ours:.2f} ms to {plain:.2f} ms",
    }


def measure() -> list[dict[str, str | float]]:
    """Return the figures."""
    hour_s = speed()
    return [_compare(*pair) for pair in PAIRS] + [
        {
            "name": "an hour of two scales from a record, to the hour",
            "value": hour_s / HOUR_S,
            "limit": 0.003,
            "direction": "at most",
            "note": f"{hour_s:.1f} s of processor time to put both on one grid",
        }
    ]
