"""What really happened on the virtual plates: true forces, without noise, by the contract's measures."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

import numpy as np

from weightshare.errors import InputError, OptionError
from weightshare.model import Floats, Trace
from weightshare.scales.rig.scene import Scene
from weightshare.task import Settings

SCHEMA = "weightshare.truth/1"
BLOCK = 8192
PRESENT_N, PRESENT_PART = 50.0, 0.2
"""Someone stands from this total on, and this part of body weight."""


def true_trace(scene: Scene) -> Trace | None:
    """Return the newest visit's true forces at its sample times, 0 at the first; None with fewer than two samples."""
    if scene.person is None or scene.last_s is None:
        return None
    count = round(scene.last_s / scene.interval_s) + 1
    if count < 2:
        return None
    time_s: Floats = np.arange(count, dtype=np.float64) * scene.interval_s
    parts = [scene.person.forces(time_s[begin : begin + BLOCK]) for begin in range(0, count, BLOCK)]
    force_N = np.concatenate(parts)
    return Trace(time_s, {"left_N": force_N[:, 0] + force_N[:, 1], "right_N": force_N[:, 2] + force_N[:, 3]})


def tell_truth(scene: Scene) -> dict[str, Any] | None:
    """Return the truth of the newest visit as JSON values (schema weightshare.truth/1), None where there was none.

    Held seconds, holds and shares are the contract's, computed from the true forces through its live filter.
    """
    from weightshare.pipeline.analysis import analyse_trace

    trace, person = true_trace(scene), scene.person
    if trace is None or person is None:
        return None
    cast, task = scene.cast, scene.cast.task
    settings = Settings(task.injured, task.target_percent, task.tolerance_percent, task.grace_s)
    measured = analyse_trace(trace, settings).to_json()
    kept = ("duration_s", "samples", "rate_Hz", "share_percent", "band", "holds", "longest_hold_s", "total_held_s")
    return {
        "schema": SCHEMA,
        "person": cast.profile.name,
        "seed": cast.seed,
        "faults": cast.fault.name,
        "injured_side": str(task.injured),
        "hold_goal_s": task.hold_goal_s,
        "filter_Hz": settings.filter_Hz,
        "body_weight_N": cast.profile.body_weight_N,
        "on_plates_percent": measured["on_plates_percent"],
        **{key: measured[key] for key in kept},
        "steps": [
            {"what": event.what, "time_s": round(event.time_s, 6)}
            for event in person.events
            if event.time_s <= trace.time_s[-1]
        ],
        "present": find_presence(trace, cast.profile.body_weight_N),
    }


def find_presence(trace: Trace, body_weight_N: float) -> list[dict[str, float]]:
    """Return when the total is at least 50 N and 20 % of body weight, as instants between samples (s)."""
    total_N = trace.columns["left_N"] + trace.columns["right_N"]
    over = total_N - max(PRESENT_N, PRESENT_PART * body_weight_N)
    turns = np.flatnonzero((over[:-1] >= 0) != (over[1:] >= 0))
    part = over[turns] / (over[turns] - over[turns + 1])
    instants = [float(instant) for instant in trace.time_s[turns] + part * np.diff(trace.time_s)[turns]]
    if over[0] >= 0:
        instants.insert(0, float(trace.time_s[0]))
    if over[-1] >= 0:
        instants.append(float(trace.time_s[-1]))
    return [{"from_s": round(a, 6), "to_s": round(b, 6)} for a, b in zip(instants[::2], instants[1::2], strict=True)]


def check_place(option: str, path: Path) -> None:
    """Raise OptionError, which names `option`, where no file can come to stand at `path`."""
    if path.is_dir() or not path.absolute().parent.is_dir():
        raise OptionError(f"{option} {path}: cannot be written; name a file in a folder that exists")


def write_truth(scene: Scene, path: Path, trace_path: Path | None = None) -> bool:
    """Write the truth as JSON, and the true forces as a trace in CSV where asked; whole or not at all.

    Returns whether there was anything to tell. Raises InputError where a file cannot be written.
    """
    truth, trace = tell_truth(scene), true_trace(scene)
    if truth is None or trace is None:
        return False
    _replace(path, lambda file: file.write(json.dumps(truth, indent=1) + "\n"))
    if trace_path is not None:
        _replace(trace_path, lambda file: _write_csv(trace, file))
    return True


def _write_csv(trace: Trace, file: IO[str]) -> None:
    rows = np.column_stack((trace.time_s, *trace.columns.values()))
    file.write(",".join(("time_s", *trace.columns)) + "\n")
    np.savetxt(file, rows, fmt="%.9g", delimiter=",")


def _replace(path: Path, fill: Callable[[IO[str]], object]) -> None:
    try:
        with _beside(path) as file:
            fill(file)
    except OSError as error:
        raise InputError(f"{path}: cannot be written ({error.strerror or error})") from error


@contextmanager
def _beside(path: Path) -> Iterator[IO[str]]:
    """Open a file beside `path` that takes its place when it is whole, and is gone when it is not."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            yield file
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
