"""Squats and standing up: true phases by the body's height, the seat's part of the load, momentum, heels down."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.visits import Seen, cast_of, manner_of, task_of, watch
from weightshare.exercise import Exercise, Tempo
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.rig.plan import Lane
from weightshare.scales.rig.visit import measured_visit

TEMPO = Tempo(1.2, 1.5, 2.0, 2.0)
BOTH = (Exercise.SQUAT, Exercise.SIT_TO_STAND)
NAMES = ("raiser", "steady", "shaky", "tall", "small", "pausing", "weak")


def squat(name: str = "raiser") -> Seen:
    return watch(name, task_of(Exercise.SQUAT, TEMPO), 55.0)


@pytest.mark.parametrize("exercise", BOTH)
@pytest.mark.parametrize("name", NAMES)
def test_the_heels_stay_down_and_the_share_is_about_the_target(exercise: Exercise, name: str) -> None:
    seen = watch(name, task_of(exercise, TEMPO), 60.0)
    manner = PEOPLE[name].manner
    for deed in seen.repetitions:
        rows = seen.within(deed.from_s, deed.to_s)
        assert np.abs(seen.height_mm[rows]).max() < 1e-9
        short = manner.short_points + 0.7 * manner.rise_points + manner.tired_points
        assert seen.share_percent[rows].mean() == pytest.approx(75.0 - short / 2, abs=short / 2 + 2.5)


def test_the_body_goes_down_as_far_as_its_stature_allows() -> None:
    depths = {}
    for name in ("tall", "small"):
        seen = squat(name)
        depths[name] = -seen.person.value(Lane.BODY, seen.time_s).min()
        assert depths[name] == pytest.approx(130.0 * PEOPLE[name].stature_m, rel=0.1)
    assert depths["tall"] > depths["small"] + 30.0


def test_a_squats_total_falls_first_and_then_rises() -> None:
    seen = squat()
    (deed, *_) = seen.deeds("repetition")
    rows = seen.within(deed.from_s, deed.to_s)
    total = seen.total[rows]
    assert total[:80].min() < 0.98
    assert total.max() > 1.03
    assert int(np.argmin(total[:100])) < int(np.argmax(total[:260]))
    assert total.mean() == pytest.approx(1.0, abs=0.004), "from still to still, body weight times duration"


def test_true_phases_of_a_squat_begin_with_the_lowering() -> None:
    truth = measured_visit(cast_of(PEOPLE["raiser"], task_of(Exercise.SQUAT, TEMPO)), 60.0)[1]
    assert len(truth["repetitions"]) == 4
    for one in truth["repetitions"]:
        assert one["lowering_s"] == one["start_s"] < one["bottom_s"] < one["rise_s"] < one["top_s"] == one["end_s"]
        assert one["lowering_duration_s"] == pytest.approx(one["bottom_s"] - one["start_s"], abs=1e-5)
        assert one["rise_duration_s"] == pytest.approx(one["top_s"] - one["rise_s"], abs=1e-5)
        assert one["lowering_duration_s"] == pytest.approx(2.0, rel=0.15)
        assert one["rise_duration_s"] == pytest.approx(1.2, rel=0.15)
        assert one["travel_mm"] == pytest.approx(0.13 * 1720.0, rel=0.1)
        for part in ("lowering", "bottom", "rise"):
            assert 70.0 < one[f"share_{part}_percent"] < 78.0


def test_seated_the_feet_bear_their_part_and_standing_all() -> None:
    seen = watch("raiser", task_of(Exercise.SIT_TO_STAND, TEMPO), 60.0)
    manner = PEOPLE["raiser"].manner
    (sitting,) = seen.deeds("sitting down")
    seated = seen.total[seen.within(sitting.to_s - 0.5, sitting.to_s)]
    assert seated.mean() == pytest.approx(manner.seat_part, abs=0.02)
    for deed in seen.repetitions:
        total = seen.total[seen.within(deed.from_s, deed.to_s)]
        assert total[0] == pytest.approx(manner.seat_part, abs=0.03)
        assert total[-1] == pytest.approx(manner.seat_part, abs=0.03)
        assert 1.03 < total.max() < 1.25, "momentum: more than body weight as the body is thrown up"
        assert np.median(total[(total > 0.9)]) == pytest.approx(1.0, abs=0.02)


def test_true_instants_of_standing_up_are_in_order() -> None:
    truth = measured_visit(cast_of(manner_of("raiser"), task_of(Exercise.SIT_TO_STAND, TEMPO)), 60.0)[1]
    assert [one["what"] for one in truth["movements"]] == ["sitting down"]
    assert len(truth["repetitions"]) == 4
    for one in truth["repetitions"]:
        keys = ("moves_from_s", "start_s", "top_s", "lowering_s", "end_s")
        instants = [one[key] for key in keys]
        assert instants == sorted(instants)
        assert one["moves_from_s"] < one["seat_off_s"] < one["top_s"]
        assert one["lowering_s"] < one["seat_on_s"] < one["end_s"] + 0.3
        assert one["travel_mm"] == pytest.approx(0.16 * 1720.0, rel=0.02)


def test_between_sets_one_stays_seated() -> None:
    task = task_of(Exercise.SIT_TO_STAND, TEMPO, sets=2, repetitions=2, rest_s=5.0)
    seen = watch("raiser", task, 80.0)
    assert len(seen.deeds("sitting down")) == 1
    first = [deed for deed in seen.repetitions if deed.number == 1]
    second = [deed for deed in seen.repetitions if deed.number == 2]
    rest = seen.total[seen.within(first[-1].to_s + 0.5, second[0].from_s - 0.5)]
    assert rest.max() < 0.3


@pytest.mark.parametrize("exercise", BOTH)
def test_a_steered_persons_share_is_the_keys_alone(exercise: Exercise) -> None:
    seen = watch("steered", task_of(exercise, TEMPO), 55.0)
    standing = seen.within(12.0, 55.0)
    assert seen.share_percent[standing].mean() == pytest.approx(50.0, abs=1.0)
    assert len(seen.deeds("repetition")) == 4


def test_the_leaver_leaves_between_squats_too() -> None:
    seen = watch("leaver", task_of(Exercise.SQUAT, TEMPO), 60.0)
    (gone,) = seen.deeds("stepping off")
    assert (seen.total[seen.within(gone.from_s, gone.to_s)] < 0.01).sum() > 200
    assert len(seen.deeds("repetition")) == 4
