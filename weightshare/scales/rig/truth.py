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
from weightshare.exercise import Exercise
from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, SIDE_COLUMNS, Trace
from weightshare.scales.rig.deed import tell_deeds
from weightshare.scales.rig.heel import is_away
from weightshare.scales.rig.oscillator import TICK_RATE_HZ, Boot
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Scene
from weightshare.scales.rig.tally import GRID_S, Course
from weightshare.scales.rig.uphold import tell_holds
from weightshare.task import DEFAULT_FILTER_HZ, Settings

SCHEMA = "weightshare.truth/1"
PRESENT_N, PRESENT_PART = 50.0, 0.2
"""Someone stands from this total on, and this part of body weight."""


def true_trace(scene: Scene) -> Trace | None:
    """Return the newest visit's true forces and heel heights at its sample times, 0 at the first.

    None with fewer than two samples. A heel that is not over its plate has no height: NaN.
    """
    if scene.person is None or scene.last_s is None:
        return None
    count = round(scene.last_s / scene.interval_s) + 1
    if count < 2:
        return None
    course = Course.of(scene.person, np.arange(count, dtype=np.float64) * scene.interval_s)
    force_N, height_mm = course.force_N, np.where(is_away(course.height_mm), np.nan, course.height_mm)
    columns = {
        "left_N": force_N[:, 0] + force_N[:, 1],
        "right_N": force_N[:, 2] + force_N[:, 3],
        **{name: force_N[:, column] for column, name in enumerate(PART_COLUMNS)},
        **{name: height_mm[:, column] for column, name in enumerate(HEIGHT_COLUMNS)},
    }
    return Trace(course.time_s, columns)


def tell_truth(scene: Scene) -> dict[str, Any] | None:
    """Return the truth of the newest visit as JSON values (schema weightshare.truth/1), None where there was none.

    Of holds while standing, held seconds and shares are the contract's, computed from the true forces through its live
    filter. Repetitions, and holds with the heels up, come from the plan and the true course, by no filter at all.
    """
    trace, person = true_trace(scene), scene.person
    if trace is None or person is None:
        return None
    cast, task = scene.cast, scene.cast.task
    return {
        "schema": SCHEMA,
        "person": cast.profile.name,
        "seed": cast.seed,
        "faults": cast.fault.name,
        "injured_side": str(task.injured),
        "hold_goal_s": task.hold_goal_s,
        "filter_Hz": DEFAULT_FILTER_HZ,
        "body_weight_N": cast.profile.body_weight_N,
        **_tell_standing(trace, task),
        "steps": [
            {"what": event.what, "time_s": round(event.time_s, 6)}
            for event in person.events
            if event.time_s <= trace.time_s[-1]
        ],
        "present": find_presence(trace, cast.profile.body_weight_N),
        "exercise": str(task.exercise or Exercise.HOLD),
        "tempo": None if task.tempo is None else str(task.tempo),
        "surface": str(task.surface),
        "heel_sensors": {"fitted": cast.heels.fitted, "placement_mm": cast.placement_mm},
        **_tell_moving(scene, person, float(trace.time_s[-1])),
        "start_ns": scene.start_ns,
        "clocks": [_tell_clock(boot) for boot in scene.boots],
    }


def _tell_clock(boot: Boot) -> dict[str, Any]:
    """Return by what a scale's ticks become true time: `tick` was at `host_ns`, and from there the drift tells."""
    return {
        "device_id": boot.device_id,
        "side": None if boot.side is None else str(boot.side),
        "boot_count": boot.boot_count,
        "tick_rate_Hz": TICK_RATE_HZ,
        "drift_ppm": boot.oscillator.drift_ppm,
        "tick": boot.oscillator.start_tick,
        "host_ns": boot.oscillator.power_on_ns,
    }


def _tell_standing(trace: Trace, task: Task) -> dict[str, Any]:
    """Return what the contract's measures make of the true forces."""
    from weightshare.pipeline.analysis import analyse_trace

    settings = Settings(task.injured, task.target_percent, task.tolerance_percent, task.grace_s, exercise=Exercise.HOLD)
    sides = Trace(trace.time_s, {name: trace.columns[name] for name in SIDE_COLUMNS})
    measured = analyse_trace(sides, settings).to_json()
    kept = ("duration_s", "samples", "rate_Hz", "share_percent", "band", "holds", "longest_hold_s", "total_held_s")
    return {"on_plates_percent": measured["on_plates_percent"], **{key: measured[key] for key in kept}}


def _tell_moving(scene: Scene, person: Person, last_s: float) -> dict[str, Any]:
    """Return what is told of repetitions and of holds with the heels up; it replaces what is told of standing."""
    task = person.task
    if not task.moves_body:
        return {"repetitions": [], "movements": [], "sets": []}
    course = Course.of(person, np.arange(round(last_s / GRID_S) + 1, dtype=np.float64) * GRID_S)
    told = tell_deeds(person, course)
    if task.exercise is Exercise.HEEL_HOLD:
        full_mm = task.reference_height_mm or person.profile.manner.heel_mm
        return told | tell_holds(course, task, person.profile.body_weight_N, full_mm)
    band = {
        "target_percent": task.target_percent,
        "tolerance_percent": task.tolerance_percent,
        "grace_s": task.grace_s,
        "time_in_band_s": None,
    }
    return told | {"band": band, "holds": None, "longest_hold_s": None, "total_held_s": None}


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
