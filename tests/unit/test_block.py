"""Blocks of a fifth of a second: the same however the stream is cut, and together what they are one by one."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Floats
from weightshare.workbench.block import BLOCK_S, Block, Blocks, pool, to_window

RATE_HZ = 50.0


def samples(count: int) -> tuple[Floats, Floats]:
    """Return times, shape (count,), and readings of two channels."""
    rng = np.random.default_rng(2)
    return np.arange(count) / RATE_HZ, rng.normal(1000.0, 20.0, (2, count))


def cut(sizes: list[int]) -> list[Block]:
    """Return the blocks of 100 samples, pushed in pieces."""
    time_s, readings = samples(100)
    blocks, found = Blocks(), []
    for begin, end in zip(np.cumsum([0, *sizes])[:-1], np.cumsum(sizes), strict=True):
        found += list(blocks.push(time_s[begin:end], readings[:, begin:end]))
    return found


def test_blocks_do_not_depend_on_the_cut() -> None:
    whole, pieces = cut([100]), cut([1, 0, 9, 30, 11, 49])
    assert [block.number for block in whole] == list(range(9))
    for one, other in zip(whole, pieces, strict=True):
        assert (one.number, one.time_s, one.samples) == (other.number, other.time_s, other.samples)
        assert np.array_equal(one.mean, other.mean)
        assert np.array_equal(one.sd, other.sd)


def test_a_block_is_the_mean_of_its_samples() -> None:
    _time_s, readings = samples(100)
    first = cut([100])[0]
    assert first.mean == pytest.approx(readings[:, :10].mean(axis=1))
    assert first.sd == pytest.approx(readings[:, :10].std(axis=1, ddof=1))
    assert first.end_s == pytest.approx(BLOCK_S)


def test_pooled_blocks_are_as_one() -> None:
    _time_s, readings = samples(100)
    blocks = pool(cut([100])[:5])
    assert blocks.samples == 50
    assert blocks.mean == pytest.approx(readings[:, :50].mean(axis=1))
    assert blocks.sd == pytest.approx(readings[:, :50].std(axis=1, ddof=1))


def test_single_readings_that_are_lacking_leave_a_mean_and_many_leave_none() -> None:
    time_s, readings = samples(11)
    readings[0, 3] = np.nan
    readings[1, :6] = np.nan
    (block,) = Blocks().push(time_s, readings)
    assert block.mean[0] == pytest.approx(np.nanmean(readings[0, :10]))
    assert block.sd[0] == pytest.approx(np.nanstd(readings[0, :10], ddof=1))
    assert np.isnan(block.mean[1])


def test_a_gap_ends_a_block() -> None:
    time_s, readings = samples(20)
    time_s[10:] += 5.0
    blocks = Blocks()
    assert [block.number for block in blocks.push(time_s, readings)] == [0]
    assert [block.number for block in blocks.push(time_s[-1:] + 1.0, readings[:, :1])] == [26]


def test_a_converter_at_its_end_is_marked() -> None:
    time_s, readings = samples(11)
    readings[1, 2] = 2**23 - 1
    (block,) = Blocks().push(time_s, readings)
    assert block.clipped.tolist() == [False, True]


def test_a_window_has_the_channels_of_one_plate() -> None:
    block = cut([100])[2]
    window = to_window(7, block, [1])
    assert (window.placement, window.samples, window.counts) == (7, 10, (block.mean[1],))
