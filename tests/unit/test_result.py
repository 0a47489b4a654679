"""The analysis as JSON: its keys are a promise, and what is null says why."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import weightshare
from tests.unit.plates import Stretch, analyse, drop, make_trace
from weightshare.model import Side
from weightshare.pipeline import Analysis
from weightshare.records.trace import trace_frame
from weightshare.state import Hold

KEYS = [
    "schema",
    "injured_side",
    "duration_s",
    "samples",
    "rate_Hz",
    "body_weight_N",
    "on_plates_percent",
    "share_percent",
    "symmetry",
    "band",
    "holds",
    "longest_hold_s",
    "total_held_s",
    "repetitions",
    "rejected",
    "gaps",
    "warnings",
    "exercise",
    "sets",
    "endurance",
    "ceiling",
    "alignment",
    "load",
    "stand",
]
NOT_ASKED = {"exercise", "endurance", "ceiling", "alignment", "load"}
"""Null where it was not chosen, not done, not set: no number is missing."""
SHARE = ["mean", "sd", "min", "max"]
SYMMETRY = ["limb_symmetry_index_percent", "symmetry_index_percent", "symmetry_angle_percent", "steered"]
BAND = ["target_percent", "tolerance_percent", "grace_s", "time_in_band_s", "time_present_s"]
HOLD = ["start_s", "end_s", "held_s", "supported"]


def test_the_keys_are_those_of_the_schema_in_its_order() -> None:
    found = analyse(drop(make_trace([(20.0, 525.0, 175.0)]), 12.0, 12.6), grace_s=0.3).to_json()
    assert list(found) == KEYS
    assert found["schema"] == "weightshare.analysis/1"
    assert found["injured_side"] == "left"
    assert list(found["share_percent"]) == SHARE
    assert list(found["symmetry"]) == SYMMETRY
    assert list(found["band"]) == BAND
    assert [list(hold) for hold in found["holds"]] == [HOLD, HOLD]
    assert found["gaps"] == [{"start_s": 11.99, "end_s": 12.6}]
    assert found["warnings"] == []
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_what_was_recorded_is_told() -> None:
    found = analyse(make_trace([(60.0, 525.0, 175.0)], rate_Hz=80.0)).to_json()
    assert (found["duration_s"], found["samples"], found["rate_Hz"]) == (59.9875, 4800, 80.0)
    assert found["body_weight_N"] == pytest.approx(700.0)
    assert found["on_plates_percent"] == pytest.approx(100.0)


def test_without_a_target_band_and_holds_are_null() -> None:
    found = analyse([(5.0, 350.0, 350.0)], target=None).to_json()
    assert [found[key] for key in ("band", "holds", "longest_hold_s", "total_held_s")] == [None] * 4
    assert found["symmetry"]["steered"] is False
    assert any("no target" in warning for warning in found["warnings"])


def test_with_a_target_and_no_hold_there_are_none_of_0_s() -> None:
    found = analyse([(5.0, 350.0, 350.0)]).to_json()
    assert (found["holds"], found["longest_hold_s"], found["total_held_s"]) == ([], 0.0, 0.0)


def test_the_longest_and_the_total_are_those_of_the_listed_holds() -> None:
    low = (3.0, 350.0, 350.0)
    found = analyse([(2.0, 525.0, 175.0), low, (4.0, 525.0, 175.0), low, (0.5, 525.0, 175.0), low])
    assert found.holds is not None
    lengths = [hold.held_s for hold in found.holds]
    assert len(lengths) == 2
    assert found.longest_hold_s == max(lengths)
    assert found.total_held_s == pytest.approx(sum(lengths))


def nulls(value: Any, path: str = "") -> Iterator[str]:
    """Yield the place of every null."""
    if value is None:
        yield path
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from nulls(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for inner in value:
            yield from nulls(inner, path)


WORDS = {
    "body_weight_N": "body weight",
    "on_plates_percent": "on the plates",
    "share_percent.mean": "share",
    "share_percent.sd": "share",
    "share_percent.min": "share",
    "share_percent.max": "share",
    "symmetry.limb_symmetry_index_percent": "symmetry",
    "symmetry.symmetry_index_percent": "symmetry",
    "symmetry.symmetry_angle_percent": "symmetry",
    "band": "band",
    "holds": "holds",
    "longest_hold_s": "holds",
    "total_held_s": "holds",
    "holds.supported": "supported",
    "stand": "body weight",
}
"""What a warning about each null has to speak of."""

STRETCHES = st.sampled_from(
    [(0.3, 0.0, 0.0), (2.0, 0.0, 0.0), (1.6, 525.0, 175.0), (4.0, 525.0, 175.0), (4.0, 700.0, 0.0), (1.5, 0.0, 600.0)]
)


@given(st.lists(STRETCHES, min_size=1, max_size=5), st.sampled_from([None, 75.0, 98.0]))
def test_every_null_has_a_warning_that_says_why(stretches: list[Stretch], target: float | None) -> None:
    found = analyse(stretches, target=target).to_json()
    told = " / ".join(found["warnings"])
    unsaid = [place for place in nulls(found) if place not in NOT_ASKED and WORDS[place] not in told]
    assert unsaid == [], told
    assert len(set(found["warnings"])) == len(found["warnings"])


def test_no_load_on_the_other_side_leaves_no_limb_symmetry_index_and_says_so() -> None:
    found = analyse([(5.0, 700.0, 0.0)], target=None).to_json()
    assert found["symmetry"]["limb_symmetry_index_percent"] is None
    assert found["symmetry"]["symmetry_index_percent"] == -200.0
    assert any("no load on the other side" in warning for warning in found["warnings"])


def test_a_hold_before_body_weight_was_known_says_that_support_is_not_known() -> None:
    """The hold is over after 2 s; body weight is found in the 3 s that follow."""
    found = analyse([(2.0, 525.0, 175.0), (5.0, 350.0, 350.0)]).to_json()
    assert found["body_weight_N"] == pytest.approx(700.0)
    assert [hold["supported"] for hold in found["holds"]] == [None]
    assert any("supported" in warning for warning in found["warnings"])


def test_the_typed_values_are_those_of_the_json() -> None:
    frame = trace_frame(make_trace([(5.0, 350.0, 350.0), (8.0, 525.0, 175.0)]))
    analysis = weightshare.analyse(frame, injured="left", target_percent=75.0, tolerance_percent=5.0, grace_s=1.0)
    assert isinstance(analysis, weightshare.Analysis)
    assert isinstance(analysis, Analysis)
    assert analysis.injured_side is Side.LEFT
    assert analysis.holds is not None
    assert isinstance(analysis.holds[0], Hold)
    found = analysis.to_json()
    assert found["holds"][0]["held_s"] == pytest.approx(analysis.holds[0].held_s, abs=1e-6)
    assert found["share_percent"]["mean"] == pytest.approx(analysis.share_percent.mean, abs=1e-6)
    assert found["total_held_s"] == pytest.approx(analysis.total_held_s, abs=1e-6)


def test_numbers_are_plain() -> None:
    """numpy's own numbers would not be JSON everywhere."""

    def check(value: Any) -> None:
        if isinstance(value, dict):
            for inner in value.values():
                check(inner)
        elif isinstance(value, list):
            for inner in value:
                check(inner)
        else:
            assert value is None or type(value) in (bool, int, float, str), type(value)

    check(analyse([(5.0, 350.0, 350.0), (8.0, 525.0, 175.0)]).to_json())
    typed = analyse([(5.0, 350.0, 350.0), (8.0, 525.0, 175.0)])
    numbers = [typed.duration_s, typed.body_weight_N, typed.on_plates_percent, typed.share_percent.mean]
    assert not any(isinstance(number, np.generic) for number in numbers)
