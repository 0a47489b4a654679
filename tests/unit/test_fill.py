"""Rows that are missing altogether."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.plates import make_block, seconds
from weightshare.model import Floats
from weightshare.pipeline.block import FILLED, Block
from weightshare.pipeline.fill import Fill


def without(*rows: int) -> Block:
    times = np.delete(seconds(0, 1), rows)
    return make_block(times, np.arange(times.size), 300.0)


def check_filled(block: Block, at_s: list[float]) -> None:
    filled = block.flags & FILLED != 0
    np.testing.assert_allclose(block.time_s[filled], at_s, atol=1e-12)
    assert np.isnan(block.values[:, filled]).all()
    assert not np.isnan(block.values[:, ~filled]).any()
    assert (np.diff(block.time_s) > 0).all()


def test_a_whole_block_passes_untouched() -> None:
    block = without()
    assert Fill().push(block) is block


def test_each_row_of_a_short_run_is_put_in() -> None:
    check_filled(Fill().push(without(40)), [0.40])
    check_filled(Fill().push(without(40, 41)), [0.40, 0.41])
    check_filled(Fill().push(without(40, 60, 61)), [0.40, 0.60, 0.61])


@pytest.mark.parametrize("last", [42, 50, 90])
def test_a_gap_is_marked_by_one_row_and_not_bridged(last: int) -> None:
    check_filled(Fill().push(without(*range(40, last + 1))), [0.40])


def test_jitter_of_the_times_loses_no_row() -> None:
    jitter: Floats = np.random.default_rng(3).uniform(-0.0035, 0.0035, 100)
    block = make_block(seconds(0, 1) + jitter, 400.0, 300.0)
    assert not (Fill().push(block).flags & FILLED).any()


@pytest.mark.parametrize("lost", [(50,), (50, 51), tuple(range(50, 60))])
def test_it_remembers_the_last_row_of_the_block_before(lost: tuple[int, ...]) -> None:
    block, stage = without(*lost), Fill()
    parts = [stage.push(block.cut(0, 50)), stage.push(block.cut(50))]
    whole = Fill().push(block)
    np.testing.assert_array_equal(np.concatenate([part.time_s for part in parts]), whole.time_s)
    stage.reset()
    assert not (stage.push(block.cut(50)).flags & FILLED).any()


def test_an_empty_block_is_nothing() -> None:
    assert Fill().push(without().cut(0, 0)).time_s.size == 0
