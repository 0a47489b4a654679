"""Sets: which repetitions belong to which, and what came of each."""

from __future__ import annotations

import json
from dataclasses import asdict

import pytest

from tests.unit.series import make_raise, make_series
from weightshare.exercise import Exercise, SetSpan
from weightshare.model import Side
from weightshare.pipeline.sets import SetResult, add_up, group, sum_up
from weightshare.task import Settings

SETTINGS = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING)
SINGLE = Settings(Side.LEFT, exercise=Exercise.SINGLE_RAISE)


def test_a_repetition_belongs_to_the_set_in_which_it_starts() -> None:
    repetitions = [make_raise(start_s) for start_s in (5.0, 10.0, 28.0, 30.0, 45.0, 50.0)]
    spans = [SetSpan(1, 10.0, 30.0), SetSpan(2, 40.0, 50.0)]
    # that from 28 s ends in no set; that from 30 s starts as the set ends
    assert group(repetitions, spans) == ((1, 2), (4,))


def test_a_set_under_way_has_all_that_starts_from_its_beginning() -> None:
    repetitions = [make_raise(start_s) for start_s in (5.0, 10.0, 1000.0)]
    assert group(repetitions, [SetSpan(1, 10.0)]) == ((1, 2),)


def test_a_start_that_is_not_known_gives_way_to_the_first_instant_that_is() -> None:
    repetitions = [
        make_raise(9.5, start_s=None),
        make_raise(9.5, start_s=None, top_s=None, lowering_s=None, end_s=None),
    ]
    assert group(repetitions, [SetSpan(1, 10.0, 30.0)]) == ((0,),)


def one(result: tuple[SetResult, ...]) -> SetResult:
    (only,) = result
    return only


def test_figures_of_a_set_are_means_and_sums_of_its_own_repetitions() -> None:
    rows = [(70.0, 80.0, 3.0, 80.0, 20.0), (80.0, 100.0, 5.0, 90.0, 30.0), (0.0, 0.0, 99.0, 0.0, 999.0)]
    repetitions = [
        make_raise(
            10.0 * place,
            share_lowering_percent=share,
            lowering_in_band_percent=part,
            lowering_duration_s=lasts_s,
            height_injured_mm=height,
            load_travel_injured_J=work,
            load_travel_uninjured_J=2.0 * work,
        )
        for place, (share, part, lasts_s, height, work) in enumerate(rows)
    ]
    result = one(sum_up(repetitions, [SetSpan(3, 0.0, 19.0, blind=True)], SETTINGS))
    assert result == SetResult(3, 0.0, 19.0, Side.LEFT, True, (0, 1), 75.0, 90.0, 4.0, 85.0, 50.0, 100.0, None)


def test_means_are_over_what_is_known_and_sums_only_of_all() -> None:
    repetitions = [make_raise(0.0, share_lowering_percent=None, load_travel_injured_J=None), make_raise(5.0)]
    result = one(sum_up(repetitions, [SetSpan(1, 0.0)], SETTINGS))
    assert result.share_lowering_percent == 75.0
    assert result.load_travel_injured_J is None
    assert result.load_travel_uninjured_J == 64.0


def test_a_set_without_repetitions_has_no_figures() -> None:
    result = one(sum_up([], [SetSpan(1, 0.0, 10.0)], SETTINGS))
    assert result.repetitions == ()
    assert (result.height_mm, result.load_travel_injured_J, result.fatigue) == (None, None, None)


def test_in_single_leg_work_a_set_is_its_own_leg_s() -> None:
    repetitions = make_series([0.0] * 4, height_uninjured_mm=90.0)
    spans = [SetSpan(1, 0.0, 100.0, working=Side.RIGHT)]
    single, two_legged = one(sum_up(repetitions, spans, SINGLE)), one(sum_up(repetitions, spans, SETTINGS))
    assert (single.working, single.height_mm) == (Side.RIGHT, 90.0)
    assert (two_legged.working, two_legged.height_mm) == (Side.LEFT, 0.0)
    assert single.fatigue is not None and single.fatigue.height_fall_percent == 0.0


def test_a_result_is_plain_enough_to_be_kept() -> None:
    result = one(sum_up(make_series([100.0, 90.0, 80.0, 80.0]), [SetSpan(1, 0.0)], SETTINGS))
    kept = json.loads(json.dumps(asdict(result)))
    assert kept["working"] == "left" and kept["repetitions"] == [0, 1, 2, 3]
    assert kept["fatigue"]["height_fall_percent"] == pytest.approx(100.0 * 15.0 / 95.0)


@pytest.mark.parametrize(("figures", "total"), [([], None), ([1.0, None], None), ([0.1] * 10, 1.0)])
def test_a_sum_is_only_told_of_all_its_terms(figures: list[float | None], total: float | None) -> None:
    assert add_up(figures) == total
