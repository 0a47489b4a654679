"""Saved sessions to look back at, made at once: a virtual person's forces, the real analysis, real files and seals."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from tests.unit.visits import cast_of, task_of
from weightshare.exercise import Exercise, SetSpan
from weightshare.model import Calibration, Side, Trace
from weightshare.pipeline import analyse_trace
from weightshare.pipeline.result import Analysis
from weightshare.practice.past.opening import Past, open_past
from weightshare.records.appraisal import appraise
from weightshare.records.calibration import write_calibration
from weightshare.records.manifest import Ending, seal
from weightshare.records.setting import SessionHead, write_head
from weightshare.records.trace import write_parquet
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.rig.cell import rig_calibration
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.visit import measured_visit
from weightshare.task import Goal, Settings

LOWERING = Settings(Side.LEFT, target_percent=75.0, exercise=Exercise.LOWERING)
GOAL = Goal(sets=2, repetitions=4, rest_s=8.0)
STARTED = "2026-11-24T14:30:00+01:00"
SETS = (SetSpan(1, 8.0, 34.0), SetSpan(2, 44.0))
SECONDS = 70.0


@cache
def raised() -> Trace:
    """Two sets of heel raises, lowered to 75 % on the left, with heel heights."""
    task = task_of(sets=2, repetitions=4, rest_s=8.0)
    trace, _ = measured_visit(cast_of(PEOPLE["raiser"], task), SECONDS, cues=[Cue(span.from_s) for span in SETS])
    return trace


@cache
def counted() -> Analysis:
    return analyse_trace(raised(), LOWERING, SETS)


def held(seconds: float = 40.0, rate_Hz: float = 100.0) -> Trace:
    """Somebody who holds 75 % on the left from 6 s to 20 s, and steps off at 30 s; no heights."""
    time_s = np.arange(0.0, seconds, 1.0 / rate_Hz)
    share = np.where((time_s > 6.0) & (time_s < 20.0), 0.75, 0.5) + 0.001 * np.sin(40.0 * time_s)
    total = np.where(time_s < 30.0, 700.0, 1.0)
    return Trace(time_s, {"left_N": total * share, "right_N": total * (1.0 - share)})


def save(
    folder: Path,
    trace: Trace | None = None,
    settings: Settings = LOWERING,
    *,
    ending: Ending = Ending.COMPLETE,
    changes: dict[str, Any] | None = None,
    calibrations: tuple[Calibration, ...] = (),
    analysis: Analysis | None = None,
    **of_head: Any,
) -> Path:
    """Make a finished session's folder; `changes` replace keys of its analysis, `of_head` of its head.

    `analysis`: none is made of the trace, this one is kept.
    """
    folder.mkdir(parents=True)
    made = analysis or (counted() if trace is None else analyse_trace(trace, settings, of_head.get("sets", ())))
    trace = raised() if trace is None else trace
    spans = SETS if settings is LOWERING else ()
    head: dict[str, Any] = {
        "goal": GOAL,
        "sources": ("tcp://127.0.0.1:7000",),
        "started_at": STARTED,
        "sets": spans,
    } | of_head
    write_head(folder, SessionHead(settings, **head))
    content = appraise(made, settings, rig_calibration(), trace=trace).to_json()
    (folder / "analysis.json").write_text(json.dumps(content | (changes or {})))
    write_parquet(trace, folder / "trace.parquet")
    (folder / "raw.wsr").write_bytes(b"no bytes of a scale")
    names = ("calibration.json", "calibration-2.json")
    for name, one in zip(names, calibrations or (rig_calibration(),), strict=False):
        write_calibration(folder / name, one)
    seal(folder, [path.name for path in folder.iterdir()], ending, "weightshare 0")
    return folder


def past_of(folder: Path, *asked: Any, **more: Any) -> Past:
    """Save a session and open it."""
    return open_past(save(folder, *asked, **more))


def dated(until: date | None) -> Calibration:
    """A calibration of 1 March 2026 that holds until that day."""
    usual = rig_calibration()
    return Calibration(usual.device_id, date(2026, 3, 1), usual.channels, until)
