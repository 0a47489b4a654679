"""`weightshare.analyse` as Python programs call it: every setting of the command line, as words or as values."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

import weightshare
from tests.unit.heels import heeled
from tests.unit.raises import raises
from weightshare.errors import OptionError
from weightshare.exercise import Basis, Ceiling, Exercise, SetSpan, Surface, Tempo
from weightshare.model import Side
from weightshare.records.trace import trace_frame


@pytest.fixture(scope="module")
def frame() -> pd.DataFrame:
    """Four raises of both heels by 75 mm, with three quarters of the load on the left side on the way down."""
    return trace_frame(heeled(raises((1.0, 1.0, 2.0), 4, turn=0.25)))


def test_repetitions_and_sets_come_as_values(frame: pd.DataFrame) -> None:
    sets = [SetSpan(1, 0.0, 13.0), SetSpan(2, 13.0)]
    found = weightshare.analyse(frame, "left", 75.0, exercise="lowering", tempo="1-1-2", sets=sets)
    assert found.exercise is Exercise.LOWERING
    assert [one.basis for one in found.repetitions] == [Basis.HEIGHT] * 4
    assert [one.repetitions for one in found.sets] == [(0, 1), (2, 3)]


def test_words_and_values_are_the_same(frame: pd.DataFrame) -> None:
    words: dict[str, Any] = {
        "exercise": "single-lowering",
        "tempo": "1-1-2-1",
        "surface": "step",
        "basis": "height",
        "working": "left",
        "ceiling": "50kg",
    }
    values: dict[str, Any] = {
        "exercise": Exercise.SINGLE_LOWERING,
        "tempo": Tempo(1.0, 1.0, 2.0, 1.0),
        "surface": Surface.STEP,
        "basis": Basis.HEIGHT,
        "working": Side.LEFT,
        "ceiling": Ceiling(kg=50.0),
    }
    more: dict[str, Any] = {"added_weight_N": 10.0, "reference_height_mm": 70.0, "one_sided": True}
    assert weightshare.analyse(frame, "left", 90.0, **words, **more) == weightshare.analyse(
        frame, Side.LEFT, 90.0, **values, **more
    )


@pytest.mark.parametrize(
    ("argument", "option"),
    [
        ({"exercise": "jump"}, "--stage jump"),
        ({"surface": "stair"}, "--surface stair"),
        ({"basis": "video"}, "--basis video"),
        ({"working": "both"}, "--working both"),
        ({"working": "left"}, "--working"),
        ({"tempo": "1-1"}, "--tempo 1-1"),
        ({"ceiling": "20"}, "--ceiling 20"),
        ({"reference_height_mm": 1.0}, "--reference-height-mm 1"),
        ({"added_weight_N": float("nan")}, "--added-weight-N nan"),
        ({"exercise": "squat", "basis": "height"}, "--basis height"),
        ({"exercise": "single-raise", "working": "right", "one_sided": True}, "--one-sided"),
    ],
)
def test_what_cannot_be_is_refused_by_its_name(frame: pd.DataFrame, argument: dict[str, Any], option: str) -> None:
    with pytest.raises(OptionError, match=option):
        weightshare.analyse(frame, "left", **argument)


def test_what_it_refuses_says_what_there_is(frame: pd.DataFrame) -> None:
    with pytest.raises(OptionError, match="it may be floor, step"):
        weightshare.analyse(frame, "left", surface="stair")
