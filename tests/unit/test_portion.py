"""Shares phase by phase, where the phase's ends are known well enough."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.model import Floats, Side
from weightshare.pipeline.figure import Rows
from weightshare.pipeline.motion import Ground
from weightshare.pipeline.portion import Instants, Portions, find_share, is_supported
from weightshare.pipeline.repetition import Stretch
from weightshare.pipeline.tape import Tape
from weightshare.task import Settings

TIME_S = np.arange(1001) / 100.0
SHARE = np.interp(TIME_S, [3.0, 4.0], [50.0, 80.0])
GROUND = Ground(Settings(Side.LEFT, 75.0), 0.01, 0.04)


def taped(plates_percent: Floats | float = 100.0) -> Tape:
    rows = np.zeros((len(Rows), TIME_S.size))
    rows[Rows.INJURED_N], rows[Rows.UNINJURED_N] = 7.0 * SHARE, 700.0 - 7.0 * SHARE
    rows[Rows.PLATES_PERCENT], rows[Rows.SHARE_PERCENT] = plates_percent, SHARE
    tape = Tape(len(Rows))
    tape.push(TIME_S, rows)
    return tape


def stretch(start_s: float, end_s: float) -> Stretch:
    return Stretch.of(taped(), (Rows.INJURED_N, Rows.UNINJURED_N), start_s, end_s)


def test_a_share_is_that_of_the_impulses() -> None:
    assert find_share(stretch(1.0, 3.0), (0.2, 0.2)) == pytest.approx(50.0)
    assert find_share(None, (0.2, 0.2)) is None


def test_where_the_load_shifts_at_the_ends_they_have_to_be_known() -> None:
    assert find_share(stretch(3.0, 4.0), (0.1, 0.1)) == pytest.approx(65.0)
    assert find_share(stretch(3.0, 4.0), (0.2, 0.2)) is None
    assert find_share(stretch(3.0, 9.0), (0.2, 0.2)) is not None


def test_figures_are_those_of_the_phases_with_the_filter_s_delay_off() -> None:
    at = Instants(1.0, 3.0, 4.0, 6.0)
    made = Portions(GROUND).make(taped(), at, (TIME_S, 10.0 - TIME_S), row=Rows.INJURED_MM, supported=False)
    assert (made.start_s, made.top_s, made.lowering_s, made.end_s) == pytest.approx((0.96, 2.96, 3.96, 5.96))
    assert (made.rise_duration_s, made.top_duration_s, made.lowering_duration_s) == pytest.approx((2.0, 1.0, 2.0))
    assert made.share_rise_percent == pytest.approx(50.0)
    assert made.share_top_percent == pytest.approx(65.0)
    assert made.share_lowering_percent == pytest.approx(80.0)
    assert made.share_lowering_thirds_percent == pytest.approx((80.0, 80.0, 80.0))
    assert made.lowering_in_band_percent == pytest.approx(100.0)
    assert made.lowering_least_N == pytest.approx(560.0)
    assert made.height_injured_mm is None
    assert made.supported is False


def test_thirds_are_those_of_the_way_down() -> None:
    height = np.interp(TIME_S, [3.0, 3.5, 4.0], [60.0, 20.0, 0.0])
    made = Portions(GROUND).make(
        taped(), Instants(None, None, 3.0, 4.0), (TIME_S, height), row=Rows.INJURED_MM, supported=None
    )
    upper, middle, lower = made.share_lowering_thirds_percent or (None, None, None)
    assert upper == pytest.approx(50.0 + 30.0 * 0.125, abs=0.1)
    assert middle == pytest.approx(50.0 + 30.0 * 0.375, abs=0.1)
    assert lower == pytest.approx(50.0 + 30.0 * 0.75, abs=0.1)


def test_where_an_instant_is_not_known_neither_are_the_phases_at_it() -> None:
    made = Portions(GROUND).make(taped(), Instants(1.0, 3.0), None, row=Rows.INJURED_MM, supported=None)
    assert made.share_rise_percent == pytest.approx(50.0)
    others = made.top_duration_s, made.share_top_percent, made.share_lowering_percent, made.lowering_least_N
    assert others == (None, None, None, None)
    assert (made.share_lowering_thirds_percent, made.lowering_in_band_percent, made.end_s) == (None, None, None)


def test_where_the_other_leg_works_its_share_is_asked_for() -> None:
    made = Portions(GROUND).make(taped(), Instants(1.0, 3.0, 4.0, 6.0), None, row=Rows.UNINJURED_MM, supported=None)
    assert made.lowering_in_band_percent == 0.0


def test_supported_is_who_has_less_than_all_of_the_body_on_the_plates() -> None:
    plates = np.where(np.abs(TIME_S - 5.0) < 0.1, 94.0, 100.0)
    assert is_supported(taped(plates), 4.0, 6.0) is True
    assert is_supported(taped(plates), 6.0, 8.0) is False
    assert is_supported(taped(np.nan), 4.0, 6.0) is None
