"""The truth is right by a plain loop of this test's own, and it is written whole or not at all."""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from weightshare.errors import InputError, OptionError
from weightshare.model import TRACE_COLUMNS, Floats, Side
from weightshare.scales.rig.catalog import FAULTS, PEOPLE
from weightshare.scales.rig.people import STANDING
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.scene import Cast, Scene
from weightshare.scales.rig.truth import check_place, find_presence, tell_truth, true_trace, write_truth

DELAY_S = math.sqrt(2.0) / (2.0 * math.pi * 6.0)
"""Of a second-order Butterworth low-pass at 6 Hz, for slow signals."""


def play(name: str, task: Task, seconds: float = 70.0, rate_Hz: float = 100.0, seed: int = 1) -> Scene:
    """A visit that was sampled for `seconds`."""
    scene = Scene(Cast(PEOPLE[name], FAULTS["clean"], task, seed))
    scene.begin("scale", 0, 1.0 / rate_Hz)
    count = round(seconds * rate_Hz)
    scene.look(np.arange(count) / rate_Hz)
    scene.note_sample((count - 1) / rate_Hz)
    scene.end("scale")
    return scene


def smooth(values: Floats, rate_Hz: float) -> list[float]:
    """Second-order Butterworth low-pass at 6 Hz by the bilinear transform with the edge prewarped, sample by sample.

    Started in its steady state (Oppenheim and Schafer, Discrete-Time Signal Processing, section 7.1).
    """
    k = math.tan(math.pi * 6.0 / rate_Hz)
    norm = 1.0 + math.sqrt(2.0) * k + k * k
    b0, a1, a2 = k * k / norm, 2.0 * (k * k - 1.0) / norm, (1.0 - math.sqrt(2.0) * k + k * k) / norm
    x1 = x2 = y1 = y2 = float(values[0])
    out = []
    for x in values.tolist():
        y = b0 * (x + 2.0 * x1 + x2) - a1 * y1 - a2 * y2
        x1, x2, y1, y2 = x, x1, y, y1
        out.append(y)
    return out


def weigh(total: list[float], rate_Hz: float) -> tuple[int, float]:
    """The sample at which body weight is known, and what it is."""
    window = round(3.0 * rate_Hz)
    for end in range(window, len(total)):
        part = np.array(total[end - window : end])
        if part.min() > 50.0 and part.std() < 0.01 * part.mean():
            return end, float(np.median(part))
    raise AssertionError("nobody stood still")


def measure_plainly(scene: Scene) -> tuple[float, list[float]]:
    """Time in the band and held seconds of each listed hold, one sample after the other."""
    trace, task = true_trace(scene), scene.cast.task
    assert trace is not None
    rate_Hz = 1.0 / scene.interval_s
    left, right = (smooth(trace.columns[name], rate_Hz) for name in ("left_N", "right_N"))
    total = [a + b for a, b in zip(left, right, strict=True)]
    known_from, weight = weigh(total, rate_Hz)
    low, high = task.target_percent - task.tolerance_percent, task.target_percent + task.tolerance_percent
    in_band_s, held, out_s, holds = 0.0, 0.0, math.inf, []
    before: float | None = None
    for k in range(len(total)):
        known = k >= known_from
        stands = total[k] >= max(50.0, 0.2 * weight if known else 0.0)
        two_legs = not known or (total[k] >= 0.8 * weight and min(left[k], right[k]) >= 0.03 * weight)
        injured = left[k] if task.injured is Side.LEFT else right[k]
        share = 100.0 * injured / total[k] if stands and two_legs else None
        inside = 0.0
        if share is not None and before is not None:
            inside = scene.interval_s * part_inside(before, share, low, high)
        in_band_s += inside
        if inside > 0.0:
            held += inside
            out_s = scene.interval_s - inside
        else:
            out_s += scene.interval_s
        if (out_s > task.grace_s or not stands) and held:
            holds.append(held)
            held = 0.0
        before = share
    if before is not None and low <= before <= high:
        # what comes out of the filter is 37.5 ms old: a hold under way goes on to the last sample itself
        in_band_s, held = in_band_s + DELAY_S, held + DELAY_S
    return in_band_s, [hold for hold in [*holds, held] if hold >= 1.0]


def part_inside(begin: float, end: float, low: float, high: float) -> float:
    """The part of a straight line from `begin` to `end` that lies between `low` and `high`."""
    if begin == end:
        return 1.0 if low <= begin <= high else 0.0
    cuts = sorted(min(max((edge - begin) / (end - begin), 0.0), 1.0) for edge in (low, high))
    return cuts[1] - cuts[0]


@pytest.mark.parametrize("name", [profile.name for profile in STANDING])
@pytest.mark.parametrize(("side", "target"), [(Side.LEFT, 50.0), (Side.RIGHT, 75.0), (Side.LEFT, 90.0)])
def test_held_seconds_agree_with_a_plain_loop(name: str, side: Side, target: float) -> None:
    scene = play(name, Task(side, target, hold_goal_s=12.0), seed=4)
    truth = tell_truth(scene)
    assert truth is not None
    in_band_s, holds = measure_plainly(scene)
    assert truth["band"]["time_in_band_s"] == pytest.approx(in_band_s, abs=0.03)
    assert [hold["held_s"] for hold in truth["holds"]] == pytest.approx(holds, abs=0.03)
    assert truth["total_held_s"] == pytest.approx(sum(holds), abs=0.05)
    assert truth["longest_hold_s"] == pytest.approx(max(holds, default=0.0), abs=0.03)


@pytest.mark.parametrize("rate_Hz", [80.0, 1000.0])
def test_the_rate_does_not_change_the_truth(rate_Hz: float) -> None:
    task = Task(hold_goal_s=10.0)
    at_100, other = (tell_truth(play("shaky", task, 30.0, rate)) for rate in (100.0, rate_Hz))
    assert at_100 is not None
    assert other is not None
    assert other["rate_Hz"] == pytest.approx(rate_Hz)
    assert other["band"]["time_in_band_s"] == pytest.approx(at_100["band"]["time_in_band_s"], abs=0.05)


def test_the_truth_names_all_that_settled_it() -> None:
    scene = play("leaver", Task(Side.RIGHT, 60.0, 4.0, 0.5, 20.0), seed=7)
    truth = tell_truth(scene)
    assert truth is not None
    head = {key: truth[key] for key in ("schema", "person", "seed", "faults", "injured_side", "hold_goal_s")}
    assert head == {
        "schema": "weightshare.truth/1",
        "person": "leaver",
        "seed": 7,
        "faults": "clean",
        "injured_side": "right",
        "hold_goal_s": 20.0,
    }
    assert truth["body_weight_N"] == 671.0
    assert (truth["band"]["target_percent"], truth["band"]["tolerance_percent"], truth["band"]["grace_s"]) == (
        60,
        4,
        0.5,
    )
    assert [step["what"] for step in truth["steps"][:3]] == ["on", "off", "on"]
    assert truth["steps"][1]["time_s"] == 20.0
    assert len(truth["present"]) == len([step for step in truth["steps"] if step["what"] == "on"])
    assert truth["present"][0]["to_s"] == pytest.approx(20.3, abs=0.15)
    assert json.loads(json.dumps(truth)) == truth


def test_presence_is_interpolated_and_may_reach_the_ends() -> None:
    scene = play("quiet", Task(), 10.0)
    trace = true_trace(scene)
    assert trace is not None
    (one,) = find_presence(trace, 688.0)
    assert one["to_s"] == pytest.approx(9.99)
    total = trace.columns["left_N"] + trace.columns["right_N"]
    k = int(np.argmax(total >= 0.2 * 688.0))
    assert trace.time_s[k - 1] < one["from_s"] <= trace.time_s[k]
    assert find_presence(trace, 5000.0) == []


def test_nothing_is_told_of_nobody(tmp_path: Path) -> None:
    scene = Scene(Cast(PEOPLE["quiet"], FAULTS["clean"], Task()))
    assert tell_truth(scene) is None
    assert not write_truth(scene, tmp_path / "truth.json")
    scene.begin("scale", 0, 0.01)
    scene.look(np.zeros(1))
    scene.note_sample(0.0)
    assert tell_truth(scene) is None
    assert list(tmp_path.iterdir()) == []


def test_files_hold_the_truth_and_the_forces(tmp_path: Path) -> None:
    scene = play("steady", Task(hold_goal_s=10.0), 20.0)
    assert write_truth(scene, tmp_path / "truth.json", tmp_path / "forces.csv")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["forces.csv", "truth.json"]
    told: dict[str, Any] = json.loads((tmp_path / "truth.json").read_text())
    assert told == tell_truth(scene)
    with (tmp_path / "forces.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert tuple(rows[0]) == ("time_s", *TRACE_COLUMNS)
    assert len(rows) == 2000 == told["samples"]
    trace = true_trace(scene)
    assert trace is not None
    assert [float(row["left_N"]) for row in rows] == pytest.approx(trace.columns["left_N"], rel=1e-8, abs=1e-9)


def test_a_place_that_takes_nothing_leaves_the_old_truth(tmp_path: Path) -> None:
    scene = play("steady", Task(), 6.0)
    path = tmp_path / "truth.json"
    path.write_text("old")
    gone = tmp_path / "gone"
    with pytest.raises(InputError, match="cannot be written"):
        write_truth(scene, gone / "truth.json")
    with pytest.raises(OptionError, match="--truth"):
        check_place("--truth", gone / "truth.json")
    with pytest.raises(OptionError, match="--truth"):
        check_place("--truth", tmp_path)
    path.unlink()
    path.mkdir()
    with pytest.raises(InputError, match="cannot be written"):
        write_truth(scene, path)
    assert [left.name for left in tmp_path.iterdir()] == ["truth.json"]
    check_place("--truth", tmp_path / "new.json")
