"""Frozen values as plain ones, and back."""

from __future__ import annotations

import pytest

from weightshare.exercise import Ceiling, SetSpan
from weightshare.model import Side
from weightshare.records.value import from_plain, to_plain
from weightshare.task import Goal, Settings


def test_enumerations_tuples_and_values_within_values_become_plain() -> None:
    plain = to_plain(Settings(Side.LEFT, ceiling=Ceiling(kg=20.0)))
    assert type(plain["injured"]) is str and plain["surface"] == "floor"
    assert plain["ceiling"] == {"kg": 20.0, "percent": None}
    assert to_plain(Goal(blind_sets=(2, 3)))["blind_sets"] == [2, 3]


def test_a_whole_number_is_taken_where_any_number_may_be() -> None:
    span = from_plain(SetSpan, {"number": 1, "from_s": 3})
    assert span == SetSpan(1, 3.0) and isinstance(span.from_s, float)


@pytest.mark.parametrize(
    ("plain", "error"),
    [
        ([], TypeError),
        ({"number": 1}, TypeError),
        ({"number": 1.0, "from_s": 3.0}, TypeError),
        ({"number": True, "from_s": 3.0}, TypeError),
        ({"number": 1, "from_s": "3"}, TypeError),
        ({"number": 1, "from_s": float("inf")}, ValueError),
        ({"number": 1, "from_s": 3.0, "working": "middle"}, ValueError),
        ({"number": 1, "from_s": 3.0, "colour": "red"}, TypeError),
    ],
)
def test_what_is_none_is_refused(plain: object, error: type[Exception]) -> None:
    with pytest.raises(error):
        from_plain(SetSpan, plain)
