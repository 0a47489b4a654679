"""Supported work: a load is asked for, in newtons, and no share is told."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.plates import Stretch, make_trace
from weightshare.errors import OptionError
from weightshare.exercise import Ceiling, Exercise, Load
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.pipeline import Analysis, Pipeline, analyse_trace
from weightshare.pipeline.analysis import nominal_interval_s
from weightshare.pipeline.block import Block
from weightshare.pipeline.measure import Measure
from weightshare.practice.words import band_words
from weightshare.state import State
from weightshare.task import Settings, check_together

TWENTY = Settings(Side.LEFT, load=Load(kg=20.0), exercise=Exercise.HOLD, filter_Hz=None)
KG = STANDARD_GRAVITY


def analyse(*stretches: Stretch, settings: Settings = TWENTY) -> Analysis:
    return analyse_trace(make_trace(stretches), settings)


def test_a_load_in_its_band_is_held_whatever_the_other_foot_carries() -> None:
    found = analyse((1.0, 0.0, 0.0), (4.0, 20.0 * KG, 0.0), (4.0, 20.0 * KG, 500.0), (2.0, 0.0, 0.0))
    assert found.holds is not None
    (hold,) = found.holds
    assert hold.held_s == pytest.approx(8.0, abs=0.03)
    assert hold.supported is True
    assert found.load is not None and found.load.target_N == pytest.approx(20.0 * KG)


@pytest.mark.parametrize(("kg", "counts"), [(14.9, False), (15.0, True), (25.0, True), (25.1, False)])
def test_the_edges_of_the_band_are_inside(kg: float, counts: bool) -> None:
    found = analyse((1.0, 0.0, 0.0), (4.0, kg * KG, 300.0), (1.0, 0.0, 0.0))
    assert bool(found.holds) is counts


def test_ten_kilograms_of_eighty_are_somebody() -> None:
    """Under a fifth of body weight nobody stands there, unless the work is supported."""
    settings = Settings(Side.LEFT, load=Load(kg=10.0), body_weight_N=80.0 * KG, filter_Hz=None)
    assert analyse((1.0, 0.0, 0.0), (4.0, 10.0 * KG, 0.0), (1.0, 0.0, 0.0), settings=settings).holds


def test_no_share_no_symmetry_and_no_body_weight_are_told() -> None:
    found = analyse((1.0, 0.0, 0.0), (6.0, 20.0 * KG, 300.0), (1.0, 0.0, 0.0))
    share, symmetry = found.share_percent, found.symmetry
    assert (share.mean, share.min, found.body_weight_N, found.on_plates_percent) == (None, None, None, None)
    assert symmetry.limb_symmetry_index_percent is None and found.band is None
    assert any("supported work" in warning for warning in found.warnings)
    assert found.to_json()["load"]["target_N"] == pytest.approx(196.133)


@pytest.mark.parametrize(("kg", "state"), [(10.0, State.TOO_LITTLE), (20.0, State.IN_BAND), (30.0, State.TOO_MUCH)])
def test_the_state_says_which_way(kg: float, state: State) -> None:
    trace = make_trace([(1.0, 0.0, 0.0), (4.0, kg * KG, 300.0)])
    measure = Measure(TWENTY)
    values = [trace.columns["left_N"], trace.columns["right_N"]]
    measure.push(
        Block(
            nominal_interval_s(trace.time_s), ("left_N", "right_N"), trace.time_s, np.stack(values), np.zeros(500, "u1")
        )
    )
    snapshot = measure.snapshot()
    assert (snapshot.state, snapshot.share_percent, snapshot.body_weight_N) == (state, None, None)


def test_percent_of_body_weight_needs_it_by_hand() -> None:
    quarter = Settings(Side.LEFT, load=Load(percent=25.0))
    with pytest.raises(OptionError, match=r"--load 25%: give --body-weight-N too"):
        check_together(quarter)
    weighed = check_together(Settings(Side.LEFT, load=Load(percent=25.0), body_weight_N=800.0))
    assert weighed.load_N == 200.0 and weighed.has_band and weighed.is_supported


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"exercise": Exercise.RAISE}, "goes with hold and heel-hold"),
        ({"ceiling": Ceiling(kg=15.0)}, "--load 20kg is over --ceiling 15kg"),
        ({"ceiling": Ceiling(percent=50.0)}, "--ceiling 50%: give --body-weight-N"),
    ],
)
def test_what_does_not_go_with_support(more: dict[str, Exercise | Ceiling], said: str) -> None:
    with pytest.raises(OptionError, match=said):
        check_together(Settings(Side.LEFT, load=Load(kg=20.0), **more))  # type: ignore[arg-type]
    with pytest.raises(OptionError, match="goes without --target"):
        Settings(Side.LEFT, 50.0, load=Load(kg=20.0))


def test_the_band_is_said_in_kilograms() -> None:
    assert band_words(TWENTY) == "aim 20.0, from 15.0 to 25.0 kg"


def test_a_pipeline_takes_it() -> None:
    assert Pipeline(TWENTY, ()).snapshot().state is State.WAITING
