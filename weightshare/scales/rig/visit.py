"""A whole visit at once: what the scales measure of it, and what really happened. No link, no waiting."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise
from operator import itemgetter
from typing import Any

import numpy as np

from weightshare.model import HEIGHT_COLUMNS, NO_READING, PART_COLUMNS, Floats, Trace
from weightshare.scales.rig.cell import COLUMNS, PAIR_ID, RANGE_N, Cells, rig_calibration
from weightshare.scales.rig.heel import HEELS_OF, HeelSensors
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.scene import Cast, Scene
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.shift import Shift
from weightshare.scales.rig.truth import tell_truth

BLOCK_S = 0.5
"""The sensors are read in blocks of this length: drift and creep are looked at once a block."""
ZERO_S = 1.0


def measured_visit(
    cast: Cast,
    seconds: float,
    rate_Hz: float = 100.0,
    cues: Sequence[Cue] = (),
    shifts: Sequence[tuple[float, Shift]] = (),
) -> tuple[Trace, dict[str, Any]]:
    """Return the trace that the virtual pair measures of `cast` in `seconds` (s), zeroed, and the truth of it.

    The trace has the noise of cells and sensors, at `rate_Hz`, and misses what the cast's fault takes away in the scale
    (not on the link). The truth is that of `weightshare rig --truth`. `cues` begin sets, in time order; `shifts`
    are asked for at their times (s).
    """
    interval_s = 1.0 / rate_Hz
    scene = Scene(cast)
    scene.begin(PAIR_ID, 0, interval_s)
    assert scene.person is not None
    time_s = np.arange(max(round(seconds * rate_Hz), 2), dtype=np.float64) * interval_s
    force_N, height_mm = _act(scene.person, time_s, cues, shifts)
    scene.note_sample(float(time_s[-1]))
    scene.end(PAIR_ID)
    truth = tell_truth(scene)
    assert truth is not None, "two samples are enough"
    return _measure(cast, time_s, force_N, height_mm), truth


def _act(
    person: Person, time_s: Floats, cues: Sequence[Cue], shifts: Sequence[tuple[float, Shift]]
) -> tuple[Floats, Floats]:
    """Return the true forces and heights, each cue and each shift asked for when its time has come."""
    asked: list[tuple[float, Callable[[], None]]] = [(cue.time_s, partial(person.cue, cue)) for cue in cues]
    asked = sorted([*asked, *((at_s, partial(person.shift, wish)) for at_s, wish in shifts)], key=itemgetter(0))
    edges = [0, *np.searchsorted(time_s, [at_s for at_s, _ in asked]).tolist(), len(time_s)]
    parts = []
    for number, (begin, end) in enumerate(pairwise(edges)):
        if number:
            asked[number - 1][1]()
        if end > begin:
            parts.append(person.look(time_s[begin:end]))
    force_N, height_mm = (np.concatenate(rows) for rows in zip(*parts, strict=True))
    return force_N, height_mm


def _measure(cast: Cast, time_s: Floats, force_N: Floats, height_mm: Floats) -> Trace:
    interval_s = float(time_s[1])
    block = max(1, round(BLOCK_S / interval_s))
    cells = Cells(COLUMNS[PAIR_ID], cast.seed, cast.fault)
    sensors = HeelSensors(HEELS_OF[PAIR_ID], cast.seed, cast.fault, cast.placement_mm, cast.profile.stature_m)
    counts, heights = [], []
    for begin in range(0, len(time_s), block):
        rows = slice(begin, begin + block)
        counts.append(cells.read(time_s[rows], force_N[rows], interval_s))
        if cast.heels.fitted:
            heights.append(sensors.read(time_s[rows], height_mm[rows], interval_s))
    parts_N = _newtons(np.concatenate(counts).astype(np.float64), round(ZERO_S / interval_s))
    columns = {"left_N": parts_N[:, 0] + parts_N[:, 1], "right_N": parts_N[:, 2] + parts_N[:, 3]}
    columns |= {name: parts_N[:, column] for column, name in enumerate(PART_COLUMNS)}
    if heights:
        seen_mm = _present(np.concatenate(heights).astype(np.float64)) / 1000.0
        columns |= {name: seen_mm[:, column] for column, name in enumerate(HEIGHT_COLUMNS)}
    return Trace(time_s, columns)


def _newtons(counts: Floats, zero_rows: int) -> Floats:
    """Return newtons, zeroed by the first rows, in which nobody is on the plates."""
    scale = np.array([channel.newton_per_count for channel in rig_calibration().channels])
    counts = _present(counts)
    force_N: Floats = (counts - np.nanmean(counts[: max(zero_rows, 1)], axis=0)) * scale
    force_N[np.abs(force_N) > RANGE_N] = np.nan
    return force_N


def _present(readings: Floats) -> Floats:
    """Return readings with NaN where there was none."""
    return np.where(readings == NO_READING, np.nan, readings)
