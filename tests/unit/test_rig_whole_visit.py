"""A visit measured in one call is the one that the link brings, and its truth the one that is written down."""

from __future__ import annotations

import struct

import numpy as np
import pytest

from tests.unit.visits import USUAL, cast_of, manner_of, task_of
from tests.unit.wire import PING, SECOND, bodies, command, start
from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import HEIGHT_COLUMNS, NO_READING, TRACE_COLUMNS, Floats, Side
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.rig.cell import rig_calibration
from weightshare.scales.rig.heel import HeelBuild
from weightshare.scales.rig.people import RAISING
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Cast, Scene
from weightshare.scales.rig.sets import Cue
from weightshare.scales.rig.visit import measured_visit

NAMES = [profile.name for profile in RAISING]
OTHER_WORK = [(name, exercise) for name in ("raiser", "stumbling") for exercise in Exercise if exercise.is_repeated]


def over_the_link(cast: Cast, seconds: int, rate_Hz: float) -> Floats:
    """Raw readings of a visit as the scale sends them, shape (n, channels)."""
    scale = VirtualScale(Scene(cast), rate_Hz=rate_Hz)
    scale.receive(start(rate_Hz), 0)
    frames = []
    for second in range(1, seconds + 1):
        frames += [body[12:] for body in bodies(scale, second * SECOND) if body[0] == 2]
        scale.receive(command(PING, 0, 0, 0, 0), second * SECOND)
    count = len(b"".join(frames)) // 4
    readings = np.array(struct.unpack(f"<{count}i", b"".join(frames)), dtype=np.float64)
    return np.where(readings == NO_READING, np.nan, readings).reshape(-1, len(scale.identity.channels))


@pytest.mark.parametrize("rate_Hz", [80.0, 100.0, 500.0])
def test_one_call_brings_what_the_link_would(rate_Hz: float) -> None:
    cast = cast_of(PEOPLE["raiser"], task_of())
    readings = over_the_link(cast, 30, rate_Hz)
    trace, _ = measured_visit(cast, 30.0, rate_Hz)
    rows = slice(0, len(readings))
    zero = readings[: round(rate_Hz), :4].mean(axis=0)
    scale = [channel.newton_per_count for channel in rig_calibration().channels]
    parts_N = (readings[:, :4] - zero) * scale
    for column, name in enumerate(TRACE_COLUMNS[2:6]):
        # drift and creep are looked at in other blocks
        assert trace.columns[name][rows] == pytest.approx(parts_N[:, column], abs=0.02)
    for column, name in enumerate(HEIGHT_COLUMNS):
        assert trace.columns[name][rows] == pytest.approx(readings[:, 4 + column] / 1000.0, abs=0.02, nan_ok=True)


def test_a_trace_has_sides_parts_and_heights_and_is_zeroed() -> None:
    trace, truth = measured_visit(cast_of(PEOPLE["raiser"], task_of()), 40.0, 80.0)
    columns = trace.columns
    assert tuple(columns) == TRACE_COLUMNS
    assert trace.time_s == pytest.approx(np.arange(3200) / 80.0)
    assert columns["left_N"] == pytest.approx(columns["left_front_N"] + columns["left_rear_N"])
    assert columns["right_N"] == pytest.approx(columns["right_front_N"] + columns["right_rear_N"])
    empty = trace.time_s < 2.9
    assert abs(columns["left_N"][empty].mean()) < 0.2
    assert np.isnan(columns["left_heel_height_mm"][empty]).all()
    assert not np.isnan(columns["left_heel_height_mm"][trace.time_s > 4.0]).any()
    assert (truth["samples"], truth["rate_Hz"]) == (3200, pytest.approx(80.0))


def test_a_cheap_build_has_no_heights() -> None:
    cast = cast_of(PEOPLE["raiser"], task_of(), heels=HeelBuild(fitted=False))
    trace, truth = measured_visit(cast, 30.0)
    assert tuple(trace.columns) == TRACE_COLUMNS[:6]
    assert truth["heel_sensors"]["fitted"] is False
    assert len(truth["repetitions"]) == 3
    assert over_the_link(cast, 5, 100.0).shape[1] == 4


def test_missing_readings_are_missing_in_the_trace() -> None:
    trace, _ = measured_visit(cast_of(PEOPLE["raiser"], task_of(), fault="missing"), 60.0)
    standing = trace.time_s > 5.0
    for name in TRACE_COLUMNS:
        assert 0 < np.isnan(trace.columns[name][standing]).sum() < 600
    over, _ = measured_visit(cast_of(PEOPLE["raiser"], task_of(), fault="overload"), 20.0)
    assert np.isnan(over.columns["left_N"][(over.time_s > 16.1) & (over.time_s < 17.1)]).all()


@pytest.mark.parametrize(("name", "exercise"), sorted({*((name, Exercise.LOWERING) for name in NAMES), *OTHER_WORK}))
def test_the_same_seed_does_the_same_at_any_rate_and_cut(name: str, exercise: Exercise) -> None:
    task, time_s = task_of(exercise, surface=Surface.STEP), np.arange(0.0, 40.0, 0.01)
    whole = np.concatenate(Person(PEOPLE[name], task, 3).look(time_s), axis=1)
    slow = np.concatenate(Person(PEOPLE[name], task, 3).look(time_s[::10]), axis=1)
    person = Person(PEOPLE[name], task, 3)
    pieces = [np.concatenate(person.look(time_s[k : k + 83]), axis=1) for k in range(0, len(time_s), 83)]
    assert slow == pytest.approx(whole[::10], abs=1e-6)
    assert np.concatenate(pieces) == pytest.approx(whole, abs=1e-6)
    other = np.concatenate(Person(PEOPLE[name], task, 4).look(time_s), axis=1)
    assert not np.allclose(other[1200:], whole[1200:], atol=5.0)


@pytest.mark.parametrize("rate_Hz", [60.0, 110.0, 1000.0])
def test_the_truth_of_repetitions_is_the_same_at_any_rate(rate_Hz: float) -> None:
    cast = cast_of(PEOPLE["jerky"], task_of())
    usual, other = (measured_visit(cast, 40.0, rate)[1] for rate in (100.0, rate_Hz))
    assert len(usual["repetitions"]) == len(other["repetitions"]) == 4
    for one, same in zip(usual["repetitions"], other["repetitions"], strict=True):
        for key in ("start_s", "top_s", "lowering_s", "end_s", "height_injured_mm", "share_lowering_percent"):
            assert same[key] == pytest.approx(one[key], abs=1e-3)


@pytest.mark.parametrize("tempo", [Tempo(0.8, 0.4, 1.0, 1.0), USUAL, Tempo(2.0, 2.0, 4.0, 2.0)])
def test_the_true_phases_of_who_follows_last_as_asked(tempo: Tempo) -> None:
    _, truth = measured_visit(cast_of(PEOPLE["raiser"], task_of(tempo=tempo, repetitions=10)), 120.0)
    told = truth["repetitions"]
    assert len(told) == 10
    for key, asked in (("rise", tempo.rise_s), ("lowering", tempo.lowering_s)):
        assert np.mean([one[f"{key}_duration_s"] for one in told]) == pytest.approx(asked, rel=0.15)
    # nobody gets over the last and the first tenth of the way in less than half a second together
    longest_s = max(tempo.top_s, 0.5) + 0.2
    assert tempo.top_s - 0.1 < np.mean([one["top_duration_s"] for one in told]) < longest_s


def test_what_is_cut_off_at_the_end_is_no_repetition() -> None:
    cast = cast_of(PEOPLE["raiser"], task_of(tempo=Tempo(1.0, 1.0, 2.0, 2.0)))
    whole = measured_visit(cast, 60.0)[1]["repetitions"]
    second = whole[1]
    cut, cut_truth = measured_visit(cast, second["lowering_s"] + 0.3)
    assert [one["start_s"] for one in cut_truth["repetitions"]] == [whole[0]["start_s"]]
    (movement,) = cut_truth["movements"]
    assert (movement["what"], movement["to_s"]) == ("cut off", pytest.approx(cut.time_s[-1]))
    late_truth = measured_visit(cast, second["end_s"] + 0.8)[1]
    assert len(late_truth["repetitions"]) == 2
    assert late_truth["movements"] == []


def test_the_truth_tells_movements_and_sets() -> None:
    task = task_of(sets=2, repetitions=6, rest_s=5.0)
    truth = measured_visit(cast_of(PEOPLE["half-way"], task), 120.0)[1]
    assert [one["set"] for one in truth["repetitions"]] == [1] * 6 + [2] * 6
    assert [(one["what"], one["set"]) for one in truth["movements"]] == [("half-way return", 1), ("half-way return", 2)]
    first, last = truth["sets"]
    assert (first["number"], last["number"]) == (1, 2)
    assert first["from_s"] < truth["repetitions"][0]["start_s"] < truth["repetitions"][5]["end_s"] < first["to_s"]
    assert last["from_s"] > first["to_s"] + 5.0
    assert not any(one["supported"] for one in truth["repetitions"])


def test_a_hand_on_the_rail_is_told_as_support() -> None:
    for name in ("leaning-on", "rail"):
        truth = measured_visit(cast_of(PEOPLE[name], task_of()), 50.0)[1]
        assert all(one["supported"] for one in truth["repetitions"])


def test_from_25_mm_under_a_step_to_70_mm_over_it_is_a_height_of_95_mm() -> None:
    task = task_of(tempo=Tempo(1.0, 3.0, 2.0, 1.0), surface=Surface.STEP, reference_height_mm=95.0, repetitions=10)
    truth = measured_visit(cast_of(manner_of("raiser", tired_height=0.0), task), 100.0)[1]
    assert np.mean([one["height_injured_mm"] for one in truth["repetitions"]]) == pytest.approx(95.0, abs=2.0)


def test_a_visit_of_holds_is_told_as_ever() -> None:
    trace, truth = measured_visit(cast_of(PEOPLE["steady"], task_of(Exercise.HOLD)), 40.0)
    assert len(truth["holds"]) >= 3
    assert truth["repetitions"] == truth["movements"] == truth["sets"] == []
    assert np.abs(trace.columns["left_heel_height_mm"][trace.time_s > 4.0]).max() < 4.0


def test_cues_begin_sets() -> None:
    cast = Cast(PEOPLE["raiser"], cast_of(PEOPLE["raiser"], task_of()).fault, task_of(), patience_s=30.0)
    truth = measured_visit(cast, 80.0, cues=[Cue(12.0), Cue(45.0, Side.LEFT)])[1]
    begins = [one["from_s"] for one in truth["sets"]]
    # after a reaction of 0.9 to 1.4 s, and a moment to get ready
    assert begins == pytest.approx([13.45, 46.45], abs=0.26)
