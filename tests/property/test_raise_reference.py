"""Heel raises: the stages against an independent walk from sample to sample."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import fields

import pytest
from hypothesis import assume, event, given, settings

from tests.property.heels import Raising, raisings
from tests.property.walk import repetition
from weightshare.exercise import Basis, Repetition
from weightshare.pipeline.analysis import analyse_trace


def scipy_low_pass(values: Sequence[float], cutoff_Hz: float, rate_Hz: float) -> Sequence[float]:
    """Filter one gap-free stretch with scipy alone."""
    from scipy.signal import butter, sosfilt, sosfilt_zi

    sections = butter(2, cutoff_Hz, fs=rate_Hz, output="sos")
    filtered, _ = sosfilt(sections, values, zi=sosfilt_zi(sections) * values[0])
    return [float(value) for value in filtered]


@settings(max_examples=80)
@given(raisings())
def test_the_stages_find_what_a_walk_from_sample_to_sample_finds(raising: Raising) -> None:
    compare(raising)


@pytest.mark.soak
@settings(max_examples=3000)
@given(raisings(most_moves=12))
def test_they_do_so_in_long_and_many_streams(raising: Raising) -> None:
    compare(raising)


def compare(raising: Raising) -> None:
    expected = repetition.find_repetitions(raising.table, raising.effort, scipy_low_pass)
    assume(expected.weight_margin > 1e-7)  # three seconds just still enough: rounding decides
    found = analyse_trace(raising.trace, raising.settings)
    rejected = [(lift.start_s, lift.end_s, lift.reason) for lift in found.rejected]
    assert [reason for *_, reason in rejected] == [reason for *_, reason in expected.rejected]
    for mine, theirs in zip(rejected, expected.rejected, strict=True):
        assert mine[:2] == pytest.approx(theirs[:2], abs=1e-6)
        event(mine[2])
    assert len(found.repetitions) == len(expected.repetitions)
    for one, other in zip(found.repetitions, expected.repetitions, strict=True):
        event("counted")
        same(one, other)
    if any(value is None for one in found.repetitions for value in flat(one)):
        assert found.warnings


def flat(one: Repetition | repetition.Raised) -> list[object]:
    """Return the figures of a repetition, with its thirds as figures of their own."""
    values = [getattr(one, name.name) for name in fields(repetition.Raised)]
    return [inner for value in values for inner in (value if isinstance(value, tuple) else (value,))]


def same(one: Repetition, other: repetition.Raised) -> None:
    """Hold two repetitions to be equal but for rounding; None is only None."""
    assert one.basis is Basis.HEIGHT
    names = [name.name for name in fields(other)]
    for name in names:
        mine, theirs = getattr(one, name), getattr(other, name)
        if isinstance(theirs, bool) or theirs is None:
            assert mine is theirs, name
        elif isinstance(theirs, tuple):
            assert mine is not None, name
            assert len(mine) == len(theirs) == 3
            for a, b in zip(mine, theirs, strict=True):
                close(a, b, name)
        else:
            close(mine, theirs, name)


def close(mine: float | None, theirs: float | None, name: str) -> None:
    if mine is None or theirs is None:
        assert mine is theirs, name
    else:
        assert not math.isnan(mine)
        assert mine == pytest.approx(theirs, rel=1e-9, abs=1e-6), name
