"""What a scale says is wrong with itself is told, live and later: it was recorded and passed over."""

from __future__ import annotations

import pytest

from tests.unit.counts import make_calibration, make_chunk, make_identity
from weightshare.model import Condition, Side
from weightshare.pipeline import Pipeline
from weightshare.pipeline.fault import fault_words
from weightshare.task import Settings


@pytest.mark.parametrize(
    ("bit", "words"), [(1, "a cell does not answer"), (2, "overloaded"), (4, "battery is low"), (8, "lost samples")]
)
def test_each_fault_has_its_words(bit: int, words: str) -> None:
    """Bits 0 to 3 of CONDITION's faults, as the wire protocol numbers them."""
    (told,) = fault_words(bit)
    assert words in told


def test_no_fault_and_unknown_ones_are_nothing() -> None:
    assert fault_words(0) == () == fault_words(0xFFF0)
    assert len(fault_words(0xFFFF)) == 4


def condition(faults: int) -> Condition:
    return Condition(0, 0, None, 0, faults)


def test_a_fault_is_told_live_and_in_the_analysis() -> None:
    pipeline = Pipeline(Settings(Side.LEFT, 75.0), [make_calibration()])
    pipeline.push(make_identity())
    pipeline.push(make_chunk([0]))
    pipeline.push(condition(0))
    assert pipeline.snapshot().warnings == ()
    pipeline.push(condition(Condition.CELL_SILENT))
    assert pipeline.snapshot().warnings == fault_words(Condition.CELL_SILENT)
    pipeline.push(make_chunk([k * 4 * 12_500 for k in range(1, 40)]))
    pipeline.push(condition(Condition.BATTERY_LOW))
    pipeline.finish()
    told = fault_words(Condition.CELL_SILENT | Condition.BATTERY_LOW)
    assert [warning for warning in pipeline.snapshot().warnings if warning in told] == list(told)
    assert [warning for warning in pipeline.analysis().warnings if warning in told] == list(told)


def test_a_reset_forgets_the_faults() -> None:
    pipeline = Pipeline(Settings(Side.LEFT), [make_calibration()])
    pipeline.push(make_identity())
    pipeline.push(condition(Condition.OVERLOAD))
    assert pipeline.snapshot().warnings == fault_words(Condition.OVERLOAD)
    pipeline.reset()
    pipeline.push(make_identity())
    assert pipeline.snapshot().warnings == ()
